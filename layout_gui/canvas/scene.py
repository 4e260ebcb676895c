"""The scene: items that picture one bed plan. It knows no rule and is never asked for state."""

from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QGraphicsScene
from shiboken6 import isValid

from geometry.compare.crowding import LeafWidths
from geometry.drawing.bed import draw_bed
from geometry.plan import BedPlan
from geometry.units import Unit
from layout_gui.canvas.at_rest import AtRest
from layout_gui.canvas.bed_items import FindingMarks, Obstacles, Water
from layout_gui.canvas.canopies import Canopies
from layout_gui.canvas.dimensions import Dimensions
from layout_gui.canvas.grid import GridLines
from layout_gui.canvas.guide_lines import GuideLines
from layout_gui.canvas.overlay import Band, Flash, Frames, Guides, Overlay, Rings, united
from layout_gui.canvas.places import Places, keep_mm
from layout_gui.canvas.rafts import Rafts
from layout_gui.canvas.skew_item import Skew
from layout_gui.canvas.tape_item import TapeItem
from layout_gui.canvas.thing_items import ThingMarks
from layout_gui.canvas.tones import Tones
from layout_gui.canvas.zone_items import Zones
from layout_gui.document.selection import Selection, by_raft


class BedScene(QGraphicsScene):
    """Shows a bed plan; items whose raft did not change are left alone."""

    def __init__(self, tones: Tones) -> None:
        super().__init__()
        self._tones = tones
        self._bed_plan: BedPlan | None = None
        self._leaves: LeafWidths | None = None
        self._hidden: frozenset[str] = frozenset()
        self.water = Water(tones, 0)
        self.rafts = Rafts(tones, 1)
        self.canopies = Canopies(tones, 2)
        self.obstacles = Obstacles(tones, 3)
        self.zones = Zones(tones, 3.2)
        self.skew = Skew(tones, 2.5)
        self.frames = Frames(tones, 4)
        self.rings = Rings(tones, 5)
        self.thing_marks = ThingMarks(tones, 9.5)
        self.hover = Rings(tones, 5, width=1.2)
        self.moving = Rings(tones, 6, ghost=True)
        self.dimensions = Dimensions(tones, 3.5)
        self.finding_marks = FindingMarks(tones, 8)
        self.guides = Guides(tones, 9)
        self.at_rest = AtRest(tones, 3.4)
        self.grid = GridLines(tones, 2.5)
        self.guide_lines = GuideLines(tones, 7)
        self.tape = TapeItem(tones, 12)
        self.band = Band(tones, 10)
        self.flash = Flash(tones, 11)
        for item in self._overlays():
            self.addItem(item)

    @property
    def outline_box(self) -> QRectF:
        """The box of the water in bed coordinates; null without a bed."""
        return self.water.extent

    @property
    def selected_box(self) -> QRectF:
        """The box of what is selected in bed coordinates; null where nothing is."""
        return united(item.extent for item in (self.rings, self.frames) if not item.extent.isNull())

    def show_bed(self, bed_plan: BedPlan | None, hidden: frozenset[str] = frozenset()) -> None:
        """Show another plan of the same bed, or another bed, without the ``hidden`` rafts."""
        old, self._bed_plan = self._bed_plan, bed_plan
        if old is bed_plan and hidden == self._hidden:
            return
        self._hidden = hidden
        if old is None or bed_plan is None or old.layout.outline != bed_plan.layout.outline:
            self.water.show_bed(bed_plan)
            self.dimensions.show_bed(self.outline_box)
            self.skew.show_bed(bed_plan)
        if old is None or bed_plan is None or old.bed.obstacles != bed_plan.bed.obstacles:
            drawing = draw_bed(bed_plan) if bed_plan else None
            self.obstacles.show_drawing(drawing, self.outline_box)
        if any(plan is None or plan.bed.zones for plan in (old, bed_plan)):
            self.zones.show_bed(bed_plan)
        keep = keep_mm(bed_plan.bed.planting if bed_plan else None)
        placed = bed_plan.rafts if bed_plan else ()
        self.rafts.show_rafts([raft for raft in placed if raft.name not in hidden], keep)
        self.finding_marks.show_findings(bed_plan.findings if bed_plan else (), self.outline_box)
        if self._leaves is not None:
            self.set_canopy(self._leaves)

    def show_selection(self, selection: Selection, places: Places | None, unit: Unit) -> None:
        """Ring the selected holes, frame the selected rafts, measure the raft in question."""
        self.zones.show_selected(selection.zone)
        self.thing_marks.show_picked(places.things if places else None, selection.thing)
        if places is None:
            self.rings.show_spots([])
            self.frames.show_outlines([])
            self.dimensions.show_raft(None, unit, frozenset())
            return
        self.rings.show_circles(places.circles(selection.holes))
        self.frames.show_outlines(self.rafts.outlines(selection.rafts) if selection.rafts else ())
        chosen = by_raft(selection.holes)
        measured = selection.rafts or chosen.keys()
        name = next(iter(measured)) if len(measured) == 1 else ""
        self.dimensions.show_raft(
            places.rafts.get(name), unit, frozenset(chosen[name]) if name in chosen else frozenset()
        )

    def set_foam(self, *, is_shown: bool) -> None:
        """Show the rafts, or the water alone."""
        self.rafts.setVisible(is_shown)

    def set_canopy(self, leaves: LeafWidths | None) -> None:
        """Show leaves of these widths, one a planting; None shows none."""
        self._leaves = leaves
        self.canopies.show_canopies(self._bed_plan, leaves, self.outline_box)

    def set_low(self, x: float, y: float) -> None:
        """Show what a gesture shows as seen from a bed that begins here."""
        for item in (self.thing_marks, self.guides):
            item.setPos(-x, -y)

    def set_pixel(self, pixel_mm: float) -> None:
        """Take note of the zoom."""
        for item in self._overlays():
            item.set_pixel(pixel_mm)

    def show_view(self, seen: QRectF) -> None:
        """Take note of the part of the bed in sight."""
        # While the program ends, the view still scrolls after its scene has lost the items.
        if isValid(self.dimensions):
            self.dimensions.show_view(seen)

    def set_tones(self, tones: Tones) -> None:
        """Paint with other colours."""
        self._tones = tones
        for overlay in self._overlays():
            overlay.show_tones(tones)

    def _overlays(self) -> tuple[Overlay, ...]:
        return (
            self.water,
            self.rafts,
            self.canopies,
            self.obstacles,
            self.zones,
            self.skew,
            self.frames,
            self.rings,
            self.thing_marks,
            self.hover,
            self.moving,
            self.dimensions,
            self.finding_marks,
            self.guides,
            self.at_rest,
            self.grid,
            self.guide_lines,
            self.tape,
            self.band,
            self.flash,
        )
