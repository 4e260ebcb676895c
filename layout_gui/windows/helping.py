"""Which page of the help goes with what has the keyboard."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from layout_gui.dialogs.help_pages import Place
from layout_gui.dialogs.help_window import HelpWindow
from layout_gui.screen.theme import Theme

_FIELDS: Final = {
    "bed": {
        "clearance": "clearance", "obstacle": "obstacles", "project": "beds", "corner": "outline",
        "water-depth": "levels", "water-low": "levels", "water-high": "levels", "wall": "levels",
        "walls": "levels", "water-": "water",
    },
    "rafts": {"sheet": "sheets", "kerf": "cutting", "trim": "cutting", "turn": "cutting",
              "aim": "cutting", "keep_offcut": "cutting", "saw_depth": "cutting",
              "raft": "split", "joint": "split", "growth-": "room", "edge_seal": "light",
              "limit-gap": "light", "limit-open_water": "light"},
    "holes": {
        "crop": "spacing", "spacing": "spacing", "row_spacing": "spacing", "spread": "spacing",
        "pattern": "pattern", "rows": "pattern", "edge_margin": "margins", "web": "margins",
        "hole_diameter": "hole", "pot": "pot", "supplies": "pot", "joints": "joints",
        "in_use": "more", "round_to": "more",
        "wanted": "more", "zone": "zones", "hole-x": "hand", "hole-y": "hand",
    },
    "make": {"paper": "paper", "roll": "paper", "border": "paper", "overlap": "paper",
             "bar": "printer", "printer": "printer", "supplies": "shopping"},
}  # fmt: skip
"""Headings by page and by the beginning of a field's object name; the longest beginning wins."""

_PARTS: Final = {
    "Guide": Place("walk", "guide"),
    "StartPage": Place("walk", "measure"),
    "BedView": Place("drawing"),
    "ToolStrip": Place("drawing", "tools"),
    "MakeView": Place("make", "pages"),
    "HoleTable": Place("drawing", "table"),
    "ArrangeLeaf": Place("drawing", "arranging"),
    "WhatIf": Place("what-if"),
    "FindingsPanel": Place("findings"),
    "BedPanel": Place("bed"),
    "AfloatPart": Place("rafts", "afloat"),
    "SideSight": Place("rafts", "afloat"),
    "RaftsPanel": Place("rafts"),
    "HolesPanel": Place("holes"),
    "Outlet": Place("make", "print"),
    "MakePanel": Place("make"),
    "GrowPanel": Place("grow"),
    "CoverPart": Place("grow", "cover"),
    "RunsPart": Place("grow", "sown"),
    "CropsSight": Place("grow", "crops"),
    "WeekSight": Place("grow", "weeks"),
    "LeavesBar": Place("grow", "leaves"),
    "SqueezeDialog": Place("holes", "hand"),
    "RecoveryDialog": Place("files", "recovery"),
    "LengthDialog": Place("drawing", "guides"),
    "PrinterDialog": Place("make", "printer"),
    "KeysDialog": Place("keys", "own"),
}
"""Places by the name of a class: many of these parts are loaded when they are first used."""

_QUESTIONS: Final = Place("files", "saving")
"""What a dialog without a place of its own is about."""


def place_for(widget: QWidget | None, station: str) -> Place:
    """Return what the help says about a widget: its field, the part it is in, or the station."""
    names: list[str] = []
    at = widget
    while at is not None:
        names.append(at.objectName())
        for kind in type(at).__mro__:
            if kind.__name__ in _PARTS:
                place = _PARTS[kind.__name__]
                return Place(place.page, _heading(place.page, names) or place.name)
        if isinstance(at, QDialog):
            return _QUESTIONS
        at = at.parentWidget()
    return Place(station.lower())


def _heading(page: str, names: Sequence[str]) -> str:
    known = _FIELDS.get(page, {})
    found = [start for start in known for name in names if name and name.startswith(start)]
    return known[max(found, key=len)] if found else ""


class Helping(QObject):
    """Opens the help; one window of it at a time. In dialogs F1 opens it too."""

    def __init__(
        self,
        window: QWidget,
        keys: Callable[[], Sequence[tuple[str, str, str]]],
        theme: Callable[[], Theme],
    ) -> None:
        super().__init__(window)
        self._window = window
        self._theme = theme
        self._keys = keys
        app = QApplication.instance()
        if app is not None:
            app.installEventFilter(self)
        self._open: HelpWindow | None = None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take F1 where a dialog has the keyboard: the window's own keys rest meanwhile."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and event.key() == Qt.Key.Key_F1
            and isinstance(watched, QWidget)
            and isinstance(watched.window(), QDialog)
        ):
            self.show_for(watched, "")
            return True
        return super().eventFilter(watched, event)

    def show_for(self, widget: QWidget | None, station: str) -> None:
        """Show what the help says about a widget at a station."""
        self._show(place_for(widget, station))

    def show_page(self, page: str) -> None:
        """Show a page from its top."""
        self._show(Place(page))

    @property
    def window(self) -> HelpWindow | None:
        """The window of the help; None before it was first shown."""
        return self._open

    def _show(self, place: Place) -> None:
        if self._open is None:
            palette = "light" if self._theme().name == "light" else "dark"
            self._open = HelpWindow(palette, self._keys, self._window)
        self._open.go_to(place)
        self._open.show()
        self._open.raise_()
        self._open.activateWindow()
