"""A question with verbs as answers; it never blocks the program."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget


@dataclass(frozen=True, slots=True)
class Verb:
    """One answer: its key, the word on the button, and whether it is the one that Enter gives."""

    key: str
    text: str
    is_default: bool = False


class Question(QDialog):
    """Asks once; ``answered`` carries the key of the verb, "cancel" when the dialog is closed."""

    answered = Signal(str)

    def __init__(
        self, title: str, text: str, verbs: Sequence[Verb], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._key = "cancel"
        self.text = text
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setMinimumWidth(440)
        box = QVBoxLayout(self)
        box.setContentsMargins(26, 24, 26, 20)
        box.setSpacing(10)
        for words, role in ((title, "title"), (text, "")):
            line = QLabel(words)
            line.setProperty("role", role)
            line.setWordWrap(True)
            line.setTextFormat(Qt.TextFormat.PlainText)
            line.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            box.addWidget(line)
        self._middle = QVBoxLayout()
        box.addLayout(self._middle)
        box.addSpacing(10)
        self._row = QHBoxLayout()
        self._row.addStretch(1)
        self.buttons: dict[str, QPushButton] = {}
        for verb in verbs:
            self._row.addWidget(self._make_button(verb))
        box.addLayout(self._row)
        for verb in verbs:
            if verb.is_default:  # else Space would press the first one, whatever it does
                self.buttons[verb.key].setFocus()
        self.finished.connect(lambda: self.answered.emit(self._key))

    def add(self, part: QWidget) -> None:
        """Put a part between the text and the buttons."""
        self._middle.addWidget(part)

    def add_aside(self, text: str, slot: Callable[[], object]) -> QPushButton:
        """Add a button, left of the answers, that does something and leaves the dialog open."""
        button = QPushButton(text)
        button.clicked.connect(lambda _on: slot())
        self._row.insertWidget(0, button)
        return button

    def answer(self, key: str) -> None:
        """Answer as if the button had been pressed."""
        self._key = key
        self.accept()

    def _make_button(self, verb: Verb) -> QPushButton:
        button = QPushButton(verb.text)
        button.setDefault(verb.is_default)
        button.setProperty("role", "primary" if verb.is_default else "")
        button.clicked.connect(lambda: self.answer(verb.key))
        self.buttons[verb.key] = button
        return button
