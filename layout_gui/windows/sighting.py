"""Which way each station is seen, and the views for it, made when they are first wanted."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Room
from layout_gui.panels.sight_view import SightView
from layout_gui.panels.sights import ABOVE, SightBar, sights_of
from layout_gui.panels.stations import StationName
from layout_gui.screen.theme import Theme


class Sighting(QObject):
    """Keeps the bar of sights above the places of the window, and what was chosen on it.

    ``changed`` says that another sight is wanted in the middle.
    """

    changed = Signal()
    went_to = Signal(str)
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        selection: Selection,
        theme: Callable[[], Theme],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self.bar = SightBar()
        self.bar.hide()
        self.bar.chosen.connect(self._on_chosen)
        self._document = document
        self._selection = selection
        self._theme = theme
        self._station: StationName = "Bed"
        self._shown: dict[StationName, str] = {}
        self._views: dict[str, SightView] = {}
        self._rooms: dict[str, Room] = {}

    @property
    def views(self) -> tuple[SightView, ...]:
        """Those that were made so far."""
        return tuple(self._views.values())

    @property
    def rooms(self) -> tuple[Room, ...]:
        """The places in which they stand."""
        return tuple(self._rooms.values())

    @property
    def has_more(self) -> bool:
        """Whether the present station can be seen in more ways than one."""
        return bool(sights_of(self._station))

    @property
    def is_open(self) -> bool:
        """Whether something else than the bed from above is wanted."""
        return bool(self._shown.get(self._station, ""))

    def above(self, places: QStackedWidget) -> QWidget:
        """Put the bar above the places of the window."""
        made = QWidget()
        box = QVBoxLayout(made)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.bar)
        box.addWidget(places, 1)
        return made

    def place(self, station: StationName, places: QStackedWidget) -> Room | None:
        """Return the place in which a station is to be seen; None is the bed from above."""
        self._station = station
        sights = sights_of(station)
        name = self._shown.get(station, "")
        if sights:
            self.bar.offer(ABOVE[station], sights, name)
        sight = next((each for each in sights if each.name == name), None)
        if sight is None:
            return None
        if name not in self._rooms:
            view = sight.make(self._document, self._selection)
            view.went_to.connect(self.went_to)
            view.said.connect(self.said)
            view.set_theme(self._theme())
            self._views[name], self._rooms[name] = view, Room(view)
            places.addWidget(self._rooms[name])
        return self._rooms[name]

    def show_bar(self, *, is_wanted: bool) -> None:
        """Show the bar where a station has more than one sight."""
        self.bar.setVisible(is_wanted and bool(sights_of(self._station)))

    def show_now(self, now: Now) -> None:
        """Let the sight of the present station show this moment."""
        view = self._views.get(self._shown.get(self._station, ""))
        if view is not None:
            view.show_now(now)

    def set_theme(self, theme: Theme) -> None:
        """Pass colours on."""
        for view in self.views:
            view.set_theme(theme)

    def choose(self, name: str) -> None:
        """See the present station in another way; an empty name is the bed from above."""
        self._shown[self._station] = name
        self.changed.emit()

    def next_sight(self) -> None:
        """See the present station in the next way, after the last one in the first."""
        names = ["", *(sight.name for sight in sights_of(self._station))]
        at = names.index(self._shown.get(self._station, ""))
        self.choose(names[(at + 1) % len(names)])

    def _on_chosen(self, name: str) -> None:
        self.choose(name)
