"""Every action of the menus, made from its row."""

from collections.abc import Sequence
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from geometry.tongue import mark, tr
from layout_gui.dialogs.keys_dialog import Command, Keyring
from layout_gui.windows.desk import Desk
from layout_gui.windows.menus import bed_menu, draw_menu, edit_menu, file_menu, help_menu, view_menu
from layout_gui.windows.menus.row import MENUS, SUBMENUS, Row
from layout_gui.windows.settings import Settings
from layout_gui.windows.shortcuts import Shortcuts

ROWS: Final = (
    *file_menu.ROWS,
    *edit_menu.ROWS,
    *draw_menu.ROWS,
    *bed_menu.ROWS,
    *view_menu.ROWS,
    *help_menu.ROWS,
)

_SUBMENU_WORDS: Final = tuple((name, words) for name, (_, words) in SUBMENUS.items())

TOOLS: Final = ("add-hole", "draw-zone", "draw-obstacle", "measure", "guide-line")
"""What stands on the strip above the canvas."""

ARMING: Final = (
    *(r.id for r in ROWS if r.menu == "Draw" and r.text.endswith("…") and r.id != "guide-line"),
    "zoom-frame",
)
"""What takes a tool in hand; a guide line is typed in a dialog or pulled out of a ruler."""

TABLE_MENU: Final = ("cut", "copy", "paste", "leave-out", "pin", "part-arrange")
"""What the right button offers in the table of holes."""

CANVAS_KEYS: Final[tuple[tuple[str, str, str], ...]] = (
    (mark("On the bed"), mark("Move the selected holes by 1 mm or 1/16 in"), mark("Arrow keys")),
    (mark("On the bed"), mark("Ten times as far, a tenth as far"), mark("Shift, Ctrl")),
    (
        mark("On the bed"),
        mark("Type a size while dragging or drawing, then the next"),
        mark("0 to 9, Tab or x"),
    ),
    (
        mark("On the bed"),
        mark("Copy a hole, obstacle or zone instead of moving it"),
        mark("Ctrl, drag"),
    ),
    (mark("On the bed"), mark("Keep a drag straight"), mark("Shift, once it has begun")),
    (mark("On the bed"), mark("Drag without snapping"), mark("Alt, once it has begun")),
    (mark("In the table"), mark("Type x or y, of all selected rows at once"), mark("Enter, F2")),
    (mark("In the table"), mark("Take all rows that are shown"), mark("Ctrl+A")),
    (mark("On the bed"), mark("Next obstacle, zone, corner, joint"), mark("O, Z, C, J")),
    (
        mark("On the bed"),
        mark("Take a move back while dragging, put a tool away"),
        mark("Esc"),
    ),
    (mark("On the bed"), mark("Move the view where nothing is selected"), mark("Arrow keys")),
    (mark("On the bed"), mark("Drag the view"), mark("Space, middle button, two fingers")),
    (mark("On the bed"), mark("Menu of what is selected"), mark("Menu key, Shift+F10")),
    (mark("On the bed"), mark("Measuring: the next hole, the other end"), mark("Tab, Enter")),
    (mark("In a field"), mark("Step by 1 mm or 1/16 in"), mark("Up, Down")),
    (mark("In a field"), mark("Ten times as far, a tenth as far"), mark("Shift, Ctrl")),
    (mark("In a field"), mark("Bring the old value back"), mark("Esc")),
)
"""Keys that belong to a place instead of a menu."""


class Actions:
    """The actions of the rows, in their menus."""

    def __init__(self, desk: Desk, window: QWidget, settings: Settings) -> None:
        self._desk = desk
        self._tips: dict[str, str] = {}
        self.by_id: dict[str, QAction] = {}
        self.recent_menu = QMenu(tr("Open &recent"), window)
        self.recent_menu.aboutToShow.connect(self._grey_what_is_gone)
        self.sample_menu = QMenu(tr("Look at a sa&mple"), window)
        self.on_canvas: list[QAction] = []
        """Actions whose keys work on the canvas only; it takes them when it is made."""

        for row in ROWS:
            self.by_id[row.id] = self._make(row, window)
        stack = desk.document.undo_stack
        for name, action, keys in (
            ("undo", stack.createUndoAction(window, tr("Undo")), "Ctrl+Z"),
            ("redo", stack.createRedoAction(window, tr("Redo")), "Ctrl+Y; Ctrl+Shift+Z"),
        ):
            action.setShortcuts(QKeySequence.listFromString(keys))
            window.addAction(action)
            action.setObjectName(name)
            self.by_id[name] = action
        self.shortcuts = Shortcuts(self.by_id, self._tips, self.on_canvas, settings, window)

    def refresh(self) -> None:
        """Say again which actions may be done and which are on."""
        for row in ROWS:
            action = self.by_id[row.id]
            action.setEnabled(row.enabled(self._desk))
            if row.checked is not None:
                action.setChecked(row.checked(self._desk))

    def fill(self, bar: QMenuBar) -> None:
        """Put every action into its menu."""
        menus = {name: bar.addMenu(tr(words)) for name, words in MENUS.items()}
        menus["Edit"].addAction(self.by_id["undo"])
        menus["Edit"].addAction(self.by_id["redo"])
        for row in ROWS:
            if row.menu in SUBMENUS and row.menu not in menus:
                parent, title = SUBMENUS[row.menu]
                menus[row.menu] = menus[parent].addMenu(tr(title))
            if row.line:
                menus[row.menu].addSeparator()
            menus[row.menu].addAction(self.by_id[row.id])
            if row.id == "open":
                menus[row.menu].addMenu(self.recent_menu)
                menus[row.menu].addMenu(self.sample_menu)

    def offer_samples(self, samples: Sequence[tuple[str, Path]]) -> None:
        """Offer the projects that came with the program."""
        for name, path in samples:
            action = self.sample_menu.addAction(name)
            action.triggered.connect(partial(self._open_sample, path))

    def _open_sample(self, path: Path) -> None:
        self._desk.files.open_sample(path)

    def show_recent(self, paths: Sequence[Path]) -> None:
        """Offer the files opened last; those that are gone are greyed."""
        self.recent_menu.clear()
        for path in paths:
            action = self.recent_menu.addAction(f"{path.name}   {path.parent}")
            action.setData(str(path))
            action.setEnabled(path.is_file())
            action.triggered.connect(lambda _on, path=path: self._desk.files.open_path(path))
        self.recent_menu.addSeparator()
        clear = self.recent_menu.addAction(tr("&Clear this list"))
        clear.triggered.connect(self._desk.files.forget_recent)
        self.recent_menu.setEnabled(bool(paths))

    def _grey_what_is_gone(self) -> None:
        for action in self.recent_menu.actions():
            path = action.data()
            if isinstance(path, str):
                action.setEnabled(Path(path).is_file())

    def key_rows(self) -> tuple[tuple[str, str, str], ...]:
        """Return the keys of all actions and places: where, what, keys."""
        ordered = [(each.where, each.what, each.keys) for each in self.commands() if each.keys]
        places = [(tr(where), tr(what), tr(keys)) for where, what, keys in CANVAS_KEYS]
        return (*ordered, *places)

    def commands(self) -> tuple[Command, ...]:
        """Return all commands in the order of the menus, with their present keys."""
        listed = [("Edit", tr("Undo"), "undo"), ("Edit", tr("Redo"), "redo")]
        listed += [(row.menu, _plain(tr(row.text)), row.id) for row in ROWS]
        keys = self.shortcuts
        return tuple(
            Command(name, _plain(tr(words)), what, keys.keys(name), keys.is_own(name))
            for menu, words in (*MENUS.items(), *_SUBMENU_WORDS)
            for place, what, name in listed
            if place == menu
        )

    def keyring(self) -> Keyring:
        """Return what the dialog of the keys asks for."""
        keys = self.shortcuts
        words = {each.name: each.what for each in self.commands()}
        return Keyring(
            self.commands,
            keys.refusal,
            lambda name, pressed: words.get(keys.owner(name, pressed), ""),
            keys.give,
            keys.give_back,
            keys.give_all_back,
        )

    def _make(self, row: Row, window: QWidget) -> QAction:
        action = QAction(tr(row.text), window)
        action.setObjectName(row.id)
        action.setCheckable(row.checked is not None)
        if row.keys:
            action.setShortcut(QKeySequence(row.keys))
        self._tips[row.id] = tr(row.tip) or _plain(tr(row.text))
        action.triggered.connect(lambda: self._do(row))
        if row.on_canvas:
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            self.on_canvas.append(action)
        else:
            window.addAction(action)
        return action

    def _do(self, row: Row) -> None:
        if row.menu == "File":  # what is saved, left or written out is all that stands there
            self._desk.take_typed()
        row.do(self._desk)
        self.refresh()


def _plain(text: str) -> str:
    return text.replace("&", "").rstrip("…")
