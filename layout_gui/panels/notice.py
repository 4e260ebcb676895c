"""A line above the drawing that says what could not be done; it never stands in the way."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QSizePolicy, QWidget

from geometry.tongue import tr
from layout_gui.panels.aloud import say_aloud
from layout_gui.panels.parts import button, label

Way = tuple[str, Callable[[], object]]
"""The words of a button, and what it does."""


class Notice(QFrame):
    """Shows one sentence, and ways on, until it is closed or something else succeeds."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 7, 12, 7)
        self.text = label("")
        self.text.setObjectName("notice")
        row.addWidget(self.text, 1)
        self._ways = QHBoxLayout()
        self._ways.setSpacing(4)
        row.addLayout(self._ways)
        row.addWidget(button(tr("Close"), self.hide, "link"))
        self.buttons: dict[str, QPushButton] = {}
        self.hide()

    def say(self, sentence: str, ways: Sequence[Way] = ()) -> None:
        """Show a sentence, with a button for each way on; a way that is taken closes the line."""
        self.text.setText(f"!  {sentence}")
        self.setAccessibleName(sentence)
        self.offer(ways)
        self.show()
        say_aloud(self, sentence, at_once=True)

    def offer(self, ways: Sequence[Way]) -> None:
        """Put other ways on beside the sentence that is shown."""
        for old in self.buttons.values():
            self._ways.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.buttons = {}
        for text, do in ways:
            made = button(text, partial(self._take, do))
            self.buttons[text] = made
            self._ways.addWidget(made)

    def _take(self, do: Callable[[], object]) -> None:
        self.hide()
        do()
