"""All commands with their keys, and a field that takes the next ones pressed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import tr

_ID: Final = Qt.ItemDataRole.UserRole
_PASSED: Final = frozenset(
    {Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter}
)
"""Without Ctrl or Alt these keep their work in the dialog: nobody is caught in the field."""
_MODIFIERS: Final = frozenset(
    {
        Qt.Key.Key_Control, Qt.Key.Key_Shift, Qt.Key.Key_Alt, Qt.Key.Key_Meta, Qt.Key.Key_AltGr,
        Qt.Key.Key_unknown, Qt.Key.Key_Dead_Acute, Qt.Key.Key_CapsLock,
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Command:
    """One command: its name in the program, where it stands, what it does, its keys in words."""

    name: str
    where: str
    what: str
    keys: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class Keyring:
    """What the dialog asks of the commands.

    ``refusal`` says why a command cannot have keys, ``owner`` which other one has them; both are
    empty if there is nothing to say. ``give`` takes keys from whichever had them; empty keys are
    none.
    """

    commands: Callable[[], Sequence[Command]]
    refusal: Callable[[str, QKeySequence], str]
    owner: Callable[[str, QKeySequence], str]
    give: Callable[[str, QKeySequence], None]
    give_back: Callable[[str], None]
    give_all_back: Callable[[], None]


class KeyField(QLineEdit):
    """Shows the keys that were pressed in it last; Tab and Escape lead out of it."""

    pressed = Signal(QKeySequence)

    def __init__(self) -> None:
        super().__init__()
        self.setReadOnly(True)
        self.setPlaceholderText(tr("Press the keys here"))
        self.setAccessibleName(tr("Keys for the command"))
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)

    def event(self, event: QEvent) -> bool:
        """Take keys before anything else could mean something by them."""
        if event.type() == QEvent.Type.ShortcutOverride:
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Show what was pressed."""
        strong = event.modifiers() & ~Qt.KeyboardModifier.ShiftModifier
        if event.key() in _MODIFIERS:
            return
        if event.key() in _PASSED and not strong:
            event.ignore()
            return
        keys = QKeySequence(event.keyCombination())
        self.setText(keys.toString(QKeySequence.SequenceFormat.NativeText))
        self.pressed.emit(keys)


class KeysDialog(QDialog):
    """Choose a command, press keys, use them; each change holds at once and in every window."""

    def __init__(self, keyring: Keyring, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keyring = keyring
        self._pressed = QKeySequence()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("Keys of your own"))
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Find a command or keys"))
        self.search.setAccessibleName(tr("Find a command or keys"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(lambda _text: self._list())
        self.commands = QTreeWidget()
        self.commands.setAccessibleName(tr("Commands"))
        self.commands.setHeaderLabels([tr("What it does"), tr("Menu"), tr("Keys")])
        self.commands.setRootIsDecorated(False)
        self.commands.setAllColumnsShowFocus(True)
        head = self.commands.header()
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in (1, 2):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        head.setStretchLastSection(False)
        self.commands.currentItemChanged.connect(lambda _now, _before: self._begin())
        self.chosen = QLabel()
        self.chosen.setProperty("role", "heading")
        self.chosen.setWordWrap(True)
        self.field = KeyField()
        self.field.pressed.connect(self._on_pressed)
        self.commands.itemActivated.connect(lambda _item, _column: self.field.setFocus())
        self.message = QLabel()
        self.message.setWordWrap(True)
        self.use = self._button(tr("Use these keys"), self._use)
        self.none = self._button(tr("No keys"), self._use_none)
        self.usual = self._button(tr("Its usual keys"), self._use_usual)
        self.all_usual = self._button(tr("All usual keys again"), self._use_all_usual)
        self.close_button = self._button(tr("Done"), self.accept)
        self._lay_out()
        self._list()
        self.search.setFocus()

    @property
    def picked(self) -> str:
        """The name of the command that is picked; empty for none."""
        item = self.commands.currentItem()
        return str(item.data(0, _ID)) if item is not None else ""

    def pick(self, name: str) -> None:
        """Pick a command."""
        for row in range(self.commands.topLevelItemCount()):
            item = self.commands.topLevelItem(row)
            if item is not None and item.data(0, _ID) == name:
                self.commands.setCurrentItem(item)

    def _list(self) -> None:
        before, words = self.picked, self.search.text().casefold().split()
        self.commands.blockSignals(True)
        self.commands.clear()
        for each in self._keyring.commands():
            if all(word in f"{each.what} {each.where} {each.keys}".casefold() for word in words):
                item = QTreeWidgetItem([each.what, each.where, each.keys])
                item.setData(0, _ID, each.name)
                if each.is_own:
                    font = item.font(2)
                    font.setBold(True)
                    item.setFont(2, font)
                    item.setText(2, tr("{keys} (your own)", keys=each.keys or tr("none")))
                self.commands.addTopLevelItem(item)
        first = self.commands.topLevelItem(0)
        if first is not None:
            self.commands.setCurrentItem(first)
        self.commands.blockSignals(False)
        self.pick(before)
        self._begin()

    def _begin(self) -> None:
        """Forget what was pressed: another command is meant, or none."""
        self._pressed = QKeySequence()
        self.field.clear()
        self._say("")
        self._show()

    def _show(self) -> None:
        found = {each.name: each for each in self._keyring.commands()}
        command = found.get(self.picked)
        self.chosen.setText(command.what if command else tr("No command has these words."))
        self.field.setEnabled(command is not None)
        self.none.setEnabled(command is not None and bool(command.keys))
        self.usual.setEnabled(command is not None and command.is_own)
        self.all_usual.setEnabled(any(each.is_own for each in found.values()))
        self.use.setEnabled(not self._pressed.isEmpty())

    def _on_pressed(self, keys: QKeySequence) -> None:
        refusal = self._keyring.refusal(self.picked, keys)
        self._pressed = QKeySequence() if refusal else keys
        other = self._keyring.owner(self.picked, keys)
        taken = tr("“{command}” has these keys; it would be left without.", command=other)
        self._say(refusal or (taken if other else tr("These keys are free.")), warns=bool(other))
        self._show()

    def _use(self) -> None:
        self._keyring.give(self.picked, self._pressed)
        self._list()
        self._say(tr("It has these keys from now on."))
        self.commands.setFocus()

    def _use_none(self) -> None:
        self._keyring.give(self.picked, QKeySequence())
        self._list()

    def _use_usual(self) -> None:
        self._keyring.give_back(self.picked)
        self._list()

    def _use_all_usual(self) -> None:
        self._keyring.give_all_back()
        self._list()

    def _say(self, words: str, *, warns: bool = False) -> None:
        self.message.setProperty("role", "warn" if warns else "")
        self.message.style().polish(self.message)
        self.message.setText(words)
        self.field.setAccessibleDescription(words)

    @staticmethod
    def _button(words: str, slot: Callable[[], object]) -> QPushButton:
        made = QPushButton(words)
        made.setAutoDefault(False)
        made.clicked.connect(lambda _on: slot())
        return made

    def _lay_out(self) -> None:
        letter = self.fontMetrics().averageCharWidth()
        self.resize(92 * letter, 74 * letter)
        row = QHBoxLayout()
        row.addWidget(self.field, 1)
        for press in (self.use, self.none, self.usual):
            row.addWidget(press)
        end = QHBoxLayout()
        end.addWidget(self.all_usual)
        end.addStretch(1)
        end.addWidget(self.close_button)
        box = QVBoxLayout(self)
        box.setContentsMargins(20, 18, 20, 16)
        box.setSpacing(8)
        box.addWidget(self.search)
        box.addWidget(self.commands, 1)
        box.addWidget(self.chosen)
        box.addLayout(row)
        box.addWidget(self.message)
        box.addLayout(end)
