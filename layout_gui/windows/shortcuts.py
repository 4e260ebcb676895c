"""The keys of the commands: the usual ones, and those that a person has chosen instead."""

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from geometry.tongue import mark, tr
from layout_gui.windows.menus.row import MENUS
from layout_gui.windows.settings import Settings

_TEXT: Final = QKeySequence.SequenceFormat.PortableText
_SEEN: Final = QKeySequence.SequenceFormat.NativeText
_STRONG: Final = (
    Qt.KeyboardModifier.ControlModifier
    | Qt.KeyboardModifier.AltModifier
    | Qt.KeyboardModifier.MetaModifier
)
_ON_THE_BED: Final = frozenset("OZCJX0123456789")
"""Plain keys that have their own work on the canvas."""
_MOVES: Final = frozenset(
    {
        Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter,
        Qt.Key.Key_Space, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down,
        Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_Backspace,
    }
)  # fmt: skip
_PLAIN: Final = frozenset(
    {Qt.Key.Key_Insert, Qt.Key.Key_Delete, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown}
)
"""Keys besides F1 to F35 that may stand alone: they write nothing."""

MOVING: Final = mark("Tab, Enter, Escape, Space and the arrow keys move about; add Ctrl or Alt.")
WRITING: Final = mark("A letter alone would be written into fields; add Ctrl or Alt.")
BED_KEY: Final = mark("This key has a work of its own on the bed; choose another one.")


class Shortcuts:
    """Gives actions their keys. Own keys are kept by the names of the actions.

    ``tips`` says what each action does: a tool tip is that, with the present keys. Keys of those in
    ``on_canvas`` work on the canvas only.
    """

    def __init__(
        self,
        actions: Mapping[str, QAction],
        tips: Mapping[str, str],
        on_canvas: Sequence[QAction],
        settings: Settings,
        window: QWidget,
    ) -> None:
        self._actions = actions
        self._tips = tips
        self._on_canvas = {action.objectName() for action in on_canvas}
        self._settings = settings
        self._window = window
        self._usual = {name: tuple(each.shortcuts()) for name, each in actions.items()}
        self._own = {
            name: keys for name, keys in _read(settings.names("own-keys")) if name in actions
        }
        self._show()

    def keys(self, name: str) -> str:
        """Return the present keys of a command, as people read them; empty for none."""
        return ", ".join(each.toString(_SEEN) for each in self._actions[name].shortcuts())

    def is_own(self, name: str) -> bool:
        """Tell whether a command has other keys than usual."""
        return name in self._own

    def owner(self, name: str, keys: QKeySequence) -> str:
        """Return the name of another command that has these keys; empty for none."""
        others = (each for each in self._actions if each != name)
        return next((each for each in others if keys in self._actions[each].shortcuts()), "")

    def refusal(self, name: str, keys: QKeySequence) -> str:
        """Say why a command cannot have these keys at all; empty if it can."""
        pressed = keys[0]  # type: ignore[index]  # the stubs leave it out
        key, strong = pressed.key(), pressed.keyboardModifiers() & _STRONG
        if strong:
            return self._taken_by_a_menu(keys) or self._taken_elsewhere(keys)
        if key in _MOVES:
            return tr(MOVING)
        if key in _PLAIN or Qt.Key.Key_F1 <= key <= Qt.Key.Key_F35:
            return ""
        if name not in self._on_canvas:
            return tr(WRITING)
        return tr(BED_KEY) if keys.toString(_TEXT) in _ON_THE_BED else ""

    def give(self, name: str, keys: QKeySequence) -> None:
        """Give a command these keys, taking them from whichever had them; empty keys are none."""
        if not keys.isEmpty() and (owner := self.owner(name, keys)):
            self._own[owner] = ""
        self._own[name] = keys.toString(_TEXT)
        self._keep()

    def give_back(self, name: str) -> None:
        """Give a command its usual keys again, taking them from whichever has them now."""
        self._own.pop(name, None)
        usual = [keys.toString(_TEXT) for keys in self._usual[name]]
        self._own.update((each, "") for each, own in self._own.items() if own in usual)
        self._keep()

    def give_all_back(self) -> None:
        """Give all commands their usual keys again."""
        self._own.clear()
        self._keep()

    def _keep(self) -> None:
        # One that came back to what is usual is not an own choice.
        usual = {name: QKeySequence.listToString(keys, _TEXT) for name, keys in self._usual.items()}
        self._own = {name: keys for name, keys in self._own.items() if keys != usual[name]}
        self._settings.set_names("own-keys", [f"{name}={keys}" for name, keys in self._own.items()])
        self._show()

    def _show(self) -> None:
        taken = {keys for keys in self._own.values() if keys}
        for name, action in self._actions.items():
            usual = [keys for keys in self._usual[name] if keys.toString(_TEXT) not in taken]
            own = self._own.get(name)
            wanted = usual if own is None else [QKeySequence(own, _TEXT)] if own else []
            action.setShortcuts(wanted)
            if name in self._tips:
                seen = self.keys(name)
                action.setToolTip(f"{self._tips[name]} ({seen})" if seen else self._tips[name])

    def _taken_by_a_menu(self, keys: QKeySequence) -> str:
        for words in MENUS.values():
            letter = re.search("&(.)", tr(words))
            if letter and keys == QKeySequence(f"Alt+{letter[1].upper()}"):
                menu = tr(words).replace("&", "")
                return tr("These keys open the menu {menu}.", menu=menu)
        return ""

    def _taken_elsewhere(self, keys: QKeySequence) -> str:
        there: Callable[[type], list[QShortcut]] = self._window.findChildren
        if any(each.key() == keys for each in there(QShortcut)):
            return tr("Another part of the window uses these keys; choose others.")
        return ""


def _read(texts: Sequence[str]) -> list[tuple[str, str]]:
    parts = [text.partition("=") for text in texts]
    return [(name, keys) for name, sign, keys in parts if sign and _can_be_read(keys)]


def _can_be_read(keys: str) -> bool:
    return not keys or QKeySequence(keys, _TEXT).toString(_TEXT) == keys
