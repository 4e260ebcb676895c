"""The fields of the stations, in one place; each panel is made when its station is first seen.

Only that of the bed, which is seen first, is loaded before.
"""

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.bed_panel import BedPanel
from layout_gui.panels.leaves import Leaves
from layout_gui.panels.make_asks import AsksForFolder, RemembersMaking
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column
from layout_gui.panels.stations import StationName
from layout_gui.project import edits_growth


class StationPanels(QStackedWidget):
    """One panel a station. ``exported`` is the project whose files were written last."""

    setup_chosen = Signal(object)
    pages_chosen = Signal(object)
    """Which pages of which documents are wanted: passed on to where they are written."""

    in_sight = Signal(object)
    """The pages that are looked at: passed on to where they are printed."""

    finished = Signal()
    squeeze_wanted = Signal()
    zone_wanted = Signal()
    obstacle_wanted = Signal()
    said = Signal(str)
    """A sentence for the last line."""

    def __init__(
        self,
        document: Document,
        cuts: CutSearch,
        selection: Selection,
        asks: AsksForFolder,
        memory: RemembersMaking,
        leaves: Leaves,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._cuts = cuts
        self._selection = selection
        self._asks = asks
        self._memory = memory
        self._leaves = leaves
        self._panels: dict[StationName, Column] = {}
        self.exported: Project | None = None

    @property
    def is_writing(self) -> bool:
        """Whether files are being written."""
        return bool(getattr(self._panels.get("Make"), "is_writing", False))

    def stop_writing(self) -> None:
        """Stop writing files, if any are being written."""
        if self.is_writing:
            self._panels["Make"].stop()  # type: ignore[attr-defined]  # its class is loaded late

    def print_pages(self) -> None:
        """Print the pages in sight, as soon as they are drawn."""
        self.panel("Make").outlet.print_pages()  # type: ignore[attr-defined]  # loaded late

    def panel(self, name: StationName) -> Column:
        """Return the panel of a station; it is made now if it was not seen before."""
        if name not in self._panels:
            self._panels[name] = self._make(name)
            self.addWidget(self._panels[name])
        return self._panels[name]

    def show_now(self, name: StationName, now: Now) -> None:
        """Bring a station's panel into sight and let it show this moment."""
        panel = self.panel(name)
        self.setCurrentWidget(panel)
        panel.show_now(now)

    def _make(self, name: StationName) -> Column:
        # Each is made within this stack: with a style sheet on, moving a whole panel is slow.
        match name:
            case "Bed":
                bed = BedPanel(self._document, self._selection, self)
                bed.draw_wanted.connect(self.obstacle_wanted)
                bed.said.connect(self.said)
                return bed
            case "Rafts":
                return self._make_rafts()
            case "Holes":
                return self._make_holes()
            case "Make":
                return self._make_make()
            case "Grow":
                return self._make_grow()

    def _make_rafts(self) -> Column:
        from layout_gui.panels.rafts_panel import RaftsPanel  # noqa: PLC0415  when first used

        return RaftsPanel(self._document, self._cuts, self, selection=self._selection)

    def _make_holes(self) -> Column:
        from layout_gui.panels.holes_panel import HolesPanel  # noqa: PLC0415  when first used

        holes = HolesPanel(self._document, self._selection, self)
        holes.zones.draw_wanted.connect(self.zone_wanted)
        holes.squeeze_wanted.connect(self.squeeze_wanted)
        return holes

    def _make_grow(self) -> Column:
        from layout_gui.panels.grow_panel import GrowPanel  # noqa: PLC0415  when first used
        from layout_gui.panels.runs_part import RunsPart  # noqa: PLC0415  the same

        grow = GrowPanel(self._leaves, RunsPart(self._document), self)
        grow.width_noted.connect(self._note_width)
        grow.width_dropped.connect(self._drop_width)
        return grow

    def _note_width(self, day: int, width: Length) -> None:
        self._record(
            tr("Note the width on day {day}", day=day),
            lambda crop: edits_growth.note_width(self._document.project, crop, day, width),
        )

    def _drop_width(self, day: int) -> None:
        self._record(
            tr("Forget the width on day {day}", day=day),
            lambda crop: edits_growth.drop_width(self._document.project, crop, day),
        )

    def _record(self, words: str, make: Callable[[str], Project]) -> None:
        """Change what was measured of the crop of the bed in sight."""
        beds = self._document.project.beds
        bed = next((each for each in beds if each.name == self._selection.bed), None)
        try:
            project = make(bed.planting.crop if bed and bed.planting else "")
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return
        self._document.apply(words, project)

    def _make_make(self) -> Column:
        from layout_gui.panels.make_panel import MakePanel  # noqa: PLC0415 - loaded when first used

        panel = MakePanel(self._document, self._cuts, self._asks, self._memory, self)
        panel.setup_chosen.connect(self.setup_chosen)
        self.pages_chosen.connect(panel.set_pages)
        self.in_sight.connect(panel.outlet.show_sight)
        panel.finished.connect(lambda: self._on_finished(panel.exported))
        return panel

    def _on_finished(self, exported: Project | None) -> None:
        self.exported = exported
        self.finished.emit()
