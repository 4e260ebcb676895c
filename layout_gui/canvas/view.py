"""The canvas: the selected bed at scale. The only place where pixels become millimetres."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp2
from typing import Final

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QRectF, Qt, QVariantAnimation, Signal
from PySide6.QtGui import (
    QBrush,
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPen,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGestureEvent, QGraphicsView, QPinchGesture, QWidget

from geometry.compare.crowding import LeafWidths
from geometry.model.guide_line import Axis
from geometry.model.project import Project
from geometry.plan import BedPlan, Plan
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.canvas.at_rest import resting
from layout_gui.canvas.dimensions import room_px
from layout_gui.canvas.eyes import Eyes, Tool
from layout_gui.canvas.gestures import Table, Touch
from layout_gui.canvas.hands import ARROWS, Hands
from layout_gui.canvas.places import Places, to_raft
from layout_gui.canvas.rulers import Ruler, RulerCorner, ruler_px
from layout_gui.canvas.scene import BedScene
from layout_gui.canvas.small_bed import SmallBed
from layout_gui.canvas.snapping import Grid
from layout_gui.canvas.thing_tools import DrawnForm, DrawnKind
from layout_gui.canvas.tones import Tones, forget_fonts, small_font
from layout_gui.canvas.under import kind_at, selection_words
from layout_gui.canvas.zero import DragZero
from layout_gui.document.aids import CORNER, Aids
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.project.things import Thing
from layout_gui.screen.theme import Theme

STEP: Final = 1.25
"""One step of the zoom keys or of the wheel."""

NEAREST: Final = 60.0
"""Most pixels a millimetre takes."""

FIT_PX: Final = 24.0
"""Room above and right of a bed that is shown whole: for the wall and names at it.

Left of it and below stand the dimensions of the selected raft.
"""

CTRL: Final = Qt.KeyboardModifier.ControlModifier

SMALL_PX: Final = 12
"""From the corner of the view to the small picture of the bed."""

PLACE_PX: Final = 30.0
"""So large a hole is shown at least when a place is brought up."""

SLIP_PX: Final = 1.5
"""A place nearer than that to the pixel it was zoomed at is still meant to be under it."""

BOX_PX: Final = 32.0
"""Room around a part of the bed that is shown whole."""

NONE: Final[frozenset[str]] = frozenset()

_CURSORS: Final[dict[Axis | None, Qt.CursorShape]] = {
    None: Qt.CursorShape.ArrowCursor,
    "x": Qt.CursorShape.SizeHorCursor,
    "y": Qt.CursorShape.SizeVerCursor,
}
"""What the pointer looks like over nothing and over a guide line that can be dragged."""

_MOST_NAMED: Final = 4
"""So many selected holes are named to those who listen."""

PAGE: Final = 0.9
"""Share of what is seen that a page key moves on by."""

FADE_MS: Final = 1400
PAN_PX: Final = 60


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where the pointer is: in bed coordinates, and on which raft (empty over water).

    ``raft_x``, ``raft_y`` are measured from that raft's datum corner; over water they are None.
    """

    x: float
    y: float
    raft: str = ""
    raft_x: float | None = None
    raft_y: float | None = None


class BedView(QGraphicsView):
    """Shows the bed named by the selection and lets its holes be picked, moved and added."""

    pointer_moved = Signal(object)
    """A ``Pointer``; None when the pointer has left."""

    hint_changed = Signal(str)
    """What can be done now, in a few words."""

    snapped = Signal(str)
    """What the thing on the move snapped to, in words; empty when it is free."""

    armed = Signal(bool)
    """Whether a tool is in hand."""

    zoom_changed = Signal(float)
    """The zoom as a share of true size."""

    menu_wanted = Signal(str, QPoint)
    """A menu for what lies under a place of the screen: the kind of thing."""

    def __init__(
        self,
        document: Document,
        selection: Selection,
        theme: Theme,
        parent: QWidget | None = None,
        aids: Aids | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._selection = selection
        self.aids = aids if aids is not None else Aids(self)
        self._tones = Tones(theme)
        self._scene = BedScene(self._tones)
        self._hands = Hands(document, selection, self._scene, self, self.aids)
        self._eyes = Eyes(document, selection, self._scene, self.aids, self, self)
        self._zero_drag: DragZero | None = None
        self._bed_plan: BedPlan | None = None
        self._is_fitted = True
        self._fit_is_due = False
        self._low = (0.0, 0.0)
        self._from_pixels: QTransform | None = None
        self._pan_from: QPoint | None = None
        self._pan_button = Qt.MouseButton.MiddleButton
        self._held_at: tuple[QPoint, QPointF] | None = None
        self._pointer_at: QPoint | None = None
        self._space_is_down = False
        self._is_armed = False
        self._axis_below: Axis | None = None
        self._flash_at = (0.0, 0.0)
        self._fading = QVariantAnimation(self)
        self._top = Ruler("top", self._tones, self)
        self._left = Ruler("left", self._tones, self)
        self._corner = RulerCorner(self._tones, self)
        self._bar_corner = QWidget(self)
        self._small = SmallBed(self._tones, self)
        self._head: QWidget | None = None
        self._prepare()
        self._hands.hint_changed.connect(self.hint_changed)
        self._hands.snapped.connect(self.snapped)
        self._hands.placed.connect(self._tell_place)
        self._eyes.hint_changed.connect(self.hint_changed)
        self._hands.armed.connect(self._on_armed)
        self._eyes.armed.connect(self._on_armed)
        self._eyes.rested.connect(self._say_what_can_be_done)
        self.aids.changed.connect(self._on_aids)
        self._top.handled.connect(lambda event: self._on_ruler("y", event))
        self._left.handled.connect(lambda event: self._on_ruler("x", event))
        self._corner.handled.connect(self._on_corner)
        self._small.wanted.connect(self._look_there)
        self._hands.ended.connect(self._on_ended)
        document.plan_changed.connect(self._on_plan)
        selection.changed.connect(self._on_selection)
        self._on_plan(document.plan)

    def _prepare(self) -> None:
        self.setScene(self._scene)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setResizeAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setOptimizationFlag(QGraphicsView.OptimizationFlag.DontSavePainterState)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.viewport().setMouseTracking(True)
        for part in (self, self.viewport()):
            # Files that are dropped here are the window's; a scene takes drags and refuses drops.
            part.setAcceptDrops(False)
        # Millimetres run to the right in every script.
        self.viewport().setLayoutDirection(Qt.LayoutDirection.LeftToRight)
        self.viewport().grabGesture(Qt.GestureType.PinchGesture)
        self._make_room()
        self.setCornerWidget(self._bar_corner)
        self.setAccessibleName(tr("The bed"))
        self._describe()
        for bar in (self.horizontalScrollBar(), self.verticalScrollBar()):
            bar.valueChanged.connect(self._show_rulers)
        self._fading.setDuration(FADE_MS)
        self._fading.setStartValue(1.0)
        self._fading.setEndValue(0.0)
        self._fading.valueChanged.connect(self._on_fading)
        self._dress()

    # -- what the window asks for ----------------------------------------------------------------

    @property
    def pixels_per_mm(self) -> float:
        """The zoom."""
        return self.transform().m11()

    @property
    def zoom(self) -> float:
        """The zoom as a share of true size, as far as the screen tells its own."""
        return self.pixels_per_mm / self._true_scale()

    @property
    def tool(self) -> str:
        """The tool for looking in hand; empty for none."""
        return self._eyes.tool

    @property
    def is_armed(self) -> bool:
        """Whether a tool is in hand: the next press is for it."""
        return self._is_armed

    def disarm(self) -> None:
        """Put the tool in hand away."""
        if not self._eyes.put_away():
            self._hands.cancel()

    def set_theme(self, theme: Theme) -> None:
        """Draw with other colours from now on."""
        self._tones = Tones(theme)
        self._scene.set_tones(self._tones)
        self._top.set_tones(self._tones)
        self._left.set_tones(self._tones)
        self._corner.set_tones(self._tones)
        self._small.set_tones(self._tones)
        self._dress()

    def _describe(self) -> None:
        """Tell those who listen what is selected and what can be done."""
        how = tr(
            "The bed at scale. Tab moves through the holes, arrow keys move the selected ones;"
            " the fields beside it take typed places."
        )
        holes = sorted(self._selection.holes)[:_MOST_NAMED]
        named = [tr("hole {hole} of raft {raft}", hole=hole, raft=raft) for raft, hole in holes]
        picked = ", ".join(filter(None, (*named, self.selection_words())))
        self.setAccessibleDescription(f"{picked}. {how}" if picked else how)

    def set_head(self, head: QWidget | None) -> None:
        """Put something along the upper edge of the canvas, above the ruler."""
        self._head = head
        if head is not None:
            head.setParent(self)
            head.show()
        self._make_room()

    def set_bed(self, name: str) -> None:
        """Show another bed, whole."""
        self._selection.set_bed(name)

    def set_skew(self, *, is_shown: bool) -> None:
        """Show, or not, how far a measured bed is out of square."""
        self._scene.skew.setVisible(is_shown)

    def set_foam(self, *, is_shown: bool) -> None:
        """Show the rafts, or the water alone."""
        self._scene.set_foam(is_shown=is_shown)

    def set_canopy(self, leaves: LeafWidths | None) -> None:
        """Show every plant's leaves as a circle, of one width a planting; None shows none."""
        self._scene.set_canopy(leaves)

    def fit(self) -> None:
        """Show the whole bed, and keep it whole when the window changes its size."""
        self._is_fitted = True
        self._show_bars(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        box = self._scene.outline_box
        size = self.viewport().size()
        if box.isEmpty() or size.width() < 1:
            return
        scale = min(self._fitting_scale(), NEAREST)
        aside = (room_px() - FIT_PX) / 2 / scale
        self._look_at(box.center() - QPointF(aside, aside), scale)

    def zoom_in(self) -> None:
        """Come nearer by one step, the middle of the view staying where it is."""
        self._zoom(STEP, self._middle())

    def zoom_out(self) -> None:
        """Step back by one step, the middle of the view staying where it is."""
        self._zoom(1 / STEP, self._middle())

    def zoom_100(self) -> None:
        """Show the bed at its true size, as far as the screen tells its own."""
        self.set_zoom(1.0)

    def set_zoom(self, share: float) -> None:
        """Show the bed at this share of its true size, as near to it as the canvas goes."""
        self._zoom(share / self.zoom, self._middle())

    def fit_selection(self) -> None:
        """Show what is selected as large as it goes."""
        box = self._selected_box()
        if not box.isEmpty():
            self.show_box(box)

    def _selected_box(self) -> QRectF:
        places, thing = self._hands.places, self._selection.thing
        if places is None or thing is None:
            return self._scene.selected_box
        if thing in places.things.bodies:
            left, bottom, right, top = places.things.bodies[thing].box
            return QRectF(left, bottom, right - left, top - bottom)
        spot = places.things.spot(thing)
        return QRectF(*spot, 0, 0) if spot is not None else places.things.path(thing).boundingRect()

    def show_box(self, box: QRectF) -> None:
        """Show this part of the bed as large as it goes."""
        if self._scene.outline_box.isEmpty():
            return
        size = self.viewport().size()
        room = 2 * BOX_PX
        scale = min(
            max(size.width() - room, 40) / max(box.width(), 1e-6),
            max(size.height() - room, 40) / max(box.height(), 1e-6),
        )
        self._leave_fit()
        self._look_at(box.center(), min(max(scale, self._least_scale()), NEAREST))

    def look_further(self, right: int, up: int) -> None:
        """Look further to one side, by nearly all that is seen."""
        size = self.viewport().size()
        self._pan(round(right * PAGE * size.width()), round(-up * PAGE * size.height()))

    def table(self) -> Table | None:
        """Return what gestures work on; None while the plan of the project is not there."""
        return self._hands.table()

    def seen(self) -> QRectF:
        """Return the part of the bed in sight."""
        return self.mapToScene(self.viewport().rect()).boundingRect()

    def measure(self) -> None:
        """Take the tape in hand, or put it away; Escape puts it away too."""
        self._take("" if self._eyes.tool == "measure" else "measure")

    def arm_frame(self) -> None:
        """Let the next drag frame what is to be seen; Escape takes it back."""
        self._take("" if self._eyes.tool == "frame" else "frame")

    def add_guide_line(self, axis: Axis, at: Length) -> str:
        """Draw a guide line across the bed as an undo step; return why it cannot be, if so."""
        return self._eyes.add_line(axis, at)

    def move_guide_line(self, at: Length) -> str:
        """Move the picked guide line as an undo step; return why it cannot be, if so."""
        return self._eyes.move_picked(at)

    def next_guide_line(self) -> None:
        """Let the keys work on the next guide line."""
        self.setFocus()
        self._eyes.pick_next()

    def lock_guide_line(self) -> None:
        """Lock the picked guide line where it is, or unlock it."""
        self._eyes.lock_picked()

    def selection_words(self) -> str:
        """Say how far apart two selected things are, or how large a selection is."""
        places = self._hands.places
        if places is None:
            return ""
        return selection_words(places, self._selection, self._document.project.units)

    def arm_add_hole(self) -> None:
        """Let the next click on foam add a hole there; Escape takes it back.

        The hole hangs on the arrow keys too; Enter puts it down.
        """
        middle = self._middle_place()
        self.setFocus()
        self._hands.arm(middle.x(), middle.y())

    def arm_draw(self, kind: DrawnKind, form: DrawnForm = "rectangle") -> None:
        """Let the next drag draw a zone or an obstacle; Escape takes it back.

        Typed sizes and Enter put it in the middle of the view.
        """
        middle = self._middle_place()
        self.setFocus()
        self._hands.arm_thing(kind, form, middle.x(), middle.y())

    def arm_draw_zone(self) -> None:
        """Let the next drag draw a zone; Escape takes it back."""
        self.arm_draw("zone")

    def arm_add_corner(self) -> None:
        """Let the next click give the outline one corner more there; Escape takes it back."""
        middle = self._middle_place()
        self.setFocus()
        self._hands.arm_corner(middle.x(), middle.y())

    def pointer_place(self) -> tuple[float, float]:
        """Return the place of the bed under the pointer, in the middle if it is elsewhere."""
        at = self._pointer_at
        place = self.mapToScene(at) if at is not None else self._middle_place()
        return place.x(), place.y()

    def follow(self, project: Project, targets: Sequence[tuple[str, float, float]]) -> None:
        """Select the holes at these places (raft, bed coordinates) once the plan is there."""
        self._hands.follow(project, targets)

    def delete_selected(self) -> None:
        """Leave out the selected holes, or remove the picked guide line."""
        if self.aids.picked is not None:
            self._eyes.remove_picked()
        else:
            self._hands.delete_selected()

    def toggle_pins(self) -> None:
        """Pin the selected holes; unpin them when all are pinned already."""
        self._hands.toggle_pins()

    def select_all(self) -> None:
        """Select every hole of the bed."""
        self._hands.select_all()

    def show_place(self, bed: str, point: tuple[float, float]) -> None:
        """Bring a place of a bed (bed coordinates, mm) to the middle and mark it softly, once."""
        self._selection.set_bed(bed)
        x, y = point
        planting = self._bed_plan.bed.planting if self._bed_plan else None
        hole = planting.hole_diameter.mm if planting else 50.0
        self._leave_fit()
        self._look_at(QPointF(x, y), max(self.pixels_per_mm, min(PLACE_PX / hole, NEAREST)))
        self._fading.stop()
        self._flash_at = point
        self._fading.start()

    # -- what changes ----------------------------------------------------------------------------

    def _on_plan(self, plan: Plan) -> None:
        beds = {bed.bed.name: bed for bed in plan.beds}
        if beds and self._selection.bed not in beds:
            self._selection.set_bed(next(iter(beds)))
        self._show_bed(beds.get(self._selection.bed))
        self._hands.settle(plan)
        self._eyes.settle()
        self._show_grid()
        self._show_selection()

    def _on_selection(self) -> None:
        self._describe()
        shown = self._bed_plan.bed.name if self._bed_plan else ""
        if self._selection.bed != shown:
            plan = self._document.plan
            self._show_bed(next((b for b in plan.beds if b.bed.name == self._selection.bed), None))
        self._show_selection()

    def _show_bed(self, bed_plan: BedPlan | None) -> None:
        before, self._bed_plan = self._bed_plan, bed_plan
        is_other = before is None or bed_plan is None or before.bed.name != bed_plan.bed.name
        old_box = self._scene.outline_box
        self._scene.show_bed(bed_plan, self.aids.hidden(bed_plan.bed.name) if bed_plan else NONE)
        self._hands.show_bed(bed_plan)
        self._show_at_rest()
        self._top.set_unit(self._document.project.units)
        self._left.set_unit(self._document.project.units)
        if is_other:
            self._hands.cancel()
            self._eyes.put_away()
            self._show_aids()
            self.viewport().update()
        self._keep_in_place(self._hands.low_of(self._document.plan.project))
        if is_other or (self._is_fitted and self._scene.outline_box != old_box):
            self._fit_is_due = self._hands.is_busy
            if not self._fit_is_due:
                self.fit()

    def _keep_in_place(self, low: tuple[float, float]) -> None:
        """Let what is shown stay where it is on the screen although the bed begins elsewhere."""
        if low == self._low:
            return
        if self._from_pixels is None:
            # Remembered, not asked again: a view scrolls in whole pixels and would creep.
            back, _ = self.viewportTransform().inverted()
            self._from_pixels = back * QTransform.fromTranslate(*self._low)
        self._set_low(low)
        centre = self._from_pixels.map(self._exact_middle())
        self._look_at(centre - QPointF(*low), self.pixels_per_mm)

    def _set_low(self, low: tuple[float, float]) -> None:
        self._low = low
        self._scene.set_low(*low)

    def _on_ended(self) -> None:
        self._from_pixels = None
        self._set_low((0.0, 0.0))
        if self._fit_is_due:
            self._fit_is_due = False
            self.fit()

    def _show_selection(self) -> None:
        self._scene.show_selection(
            self._selection, self._hands.places, self._document.project.units
        )

    def _dress(self) -> None:
        self.setBackgroundBrush(QBrush(self._tones.canvas))
        self._bar_corner.setStyleSheet(f"background: {self._tones.theme.background}")
        self.viewport().update()

    def _show_cursor(self, is_armed: bool) -> None:  # noqa: FBT001  a Qt slot
        if self._pan_from is not None:
            shape = Qt.CursorShape.ClosedHandCursor
        elif self._space_is_down:
            shape = Qt.CursorShape.OpenHandCursor
        else:
            is_armed = is_armed or self._is_armed
            shape = Qt.CursorShape.CrossCursor if is_armed else _CURSORS[self._axis_below]
        self.viewport().setCursor(shape)

    def _on_fading(self, strength: float) -> None:
        self._scene.flash.show_place(*self._flash_at, strength)

    # -- zoom and pan ----------------------------------------------------------------------------

    def _leave_fit(self) -> None:
        self._is_fitted = False
        self._show_bars(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)

    def _show_bars(self, policy: Qt.ScrollBarPolicy) -> None:
        self.setHorizontalScrollBarPolicy(policy)
        self.setVerticalScrollBarPolicy(policy)

    def _middle(self) -> QPoint:
        return self.viewport().rect().center()

    def _middle_place(self) -> QPointF:
        """Return the middle of what is in sight of the bed, else of the view."""
        inside = self._scene.outline_box & self.seen()
        return self.seen().center() if inside.isEmpty() else inside.center()

    def _fitting_scale(self) -> float:
        box, size = self._scene.outline_box, self.viewport().size()
        room = FIT_PX + room_px()
        return min(
            max(size.width() - room, 40) / box.width(),
            max(size.height() - room, 40) / box.height(),
        )

    def _least_scale(self) -> float:
        return min(self._fitting_scale() / 4, NEAREST)

    def _true_scale(self) -> float:
        """Pixels a millimetre at true size."""
        return self.screen().physicalDotsPerInch() / 25.4 / self.devicePixelRatioF()

    def _zoom(self, factor: float, at: QPoint) -> None:
        """Scale by a factor; what lies at this pixel stays there."""
        if self._scene.outline_box.isEmpty():
            return
        scale = min(max(self.pixels_per_mm * factor, self._least_scale()), NEAREST)
        place = self._held(at)
        self._from_pixels = None
        self._leave_fit()
        away = (self._exact_middle() - QPointF(at)) / scale
        self._look_at(QPointF(place.x() + away.x(), place.y() - away.y()), scale)

    def _held(self, at: QPoint) -> QPointF:
        """Return the place under a pixel; the same one as long as the zoom keeps it there.

        The view scrolls by whole pixels, so reading the place anew at each step would let it slip.
        """
        place = self.mapToScene(at)
        if self._held_at is not None and self._held_at[0] == at:
            slip = (self._held_at[1] - place) * self.pixels_per_mm
            if max(abs(slip.x()), abs(slip.y())) <= SLIP_PX:
                place = self._held_at[1]
        self._held_at = (at, place)
        return place

    def _exact_middle(self) -> QPointF:
        return QRectF(self.viewport().rect()).center()

    def _look_at(self, centre: QPointF, scale: float) -> None:
        """Show a place of the bed in the middle of the view, at so many pixels a millimetre."""
        box, size = self._scene.outline_box, self.viewport().size()
        # Enough room round the bed that any place of it can stand in the middle.
        room_x, room_y = size.width() / 2 / scale, size.height() / 2 / scale
        self.setSceneRect(box.adjusted(-room_x, -room_y, room_x, room_y))
        if scale != self.pixels_per_mm:
            self.setTransform(QTransform(scale, 0, 0, -scale, 0, 0))
            self._scene.set_pixel(1 / scale)
        self.centerOn(centre)
        self._show_rulers()
        self.zoom_changed.emit(self.zoom)

    def _show_rulers(self) -> None:
        corner = self.aids.zero(self._selection.bed)
        zero = self.viewportTransform().map(QPointF(corner[0].mm, corner[1].mm))
        is_moved = corner != CORNER
        self._top.set_view(zero.x(), self.pixels_per_mm, moved=is_moved)
        self._left.set_view(zero.y(), self.pixels_per_mm, moved=is_moved)
        self._scene.show_view(self.seen())
        self._eyes.show_lines()
        self._show_small()

    def _show_small(self) -> None:
        """Show the whole bed in the upper corner while that is wanted and worth it."""
        small = self._small
        small.show_bed(self._bed_plan, self._scene.outline_box)
        small.show_seen(self.seen())
        inside = self.viewport().geometry()
        small.move(inside.right() - small.width() - SMALL_PX, inside.top() + SMALL_PX)
        has_room = small.width() * 3 < inside.width() and small.height() * 2 < inside.height()
        small.setVisible(self.aids.has_small_bed and small.is_worth_it and has_room)

    def _look_there(self, place: QPointF) -> None:
        self._from_pixels = None
        self._leave_fit()
        self._look_at(place, self.pixels_per_mm)

    def _show_at_rest(self) -> None:
        places = self._hands.places
        self._scene.at_rest.show_words(
            resting(places, self._document.project) if places is not None else ()
        )

    def _on_aids(self) -> None:
        """Show what was hidden, or hide it; then the rest."""
        places, bed_plan = self._hands.places, self._bed_plan
        if places is not None and bed_plan is not None:
            hidden = self.aids.hidden(bed_plan.bed.name)
            if hidden != places.hidden:
                self._hands.cancel()
                self._scene.show_bed(bed_plan, hidden)
                self._hands.show_bed(bed_plan)
                self._show_at_rest()
                gone = [name for name in self._selection.holes if name[0] in hidden]
                if gone:
                    self._selection.set_holes(self._selection.holes.difference(gone))
                self._show_selection()
        self._show_aids()

    def _show_aids(self) -> None:
        """Show grid, guide lines and the rulers' zero as they are now."""
        self._show_grid()
        self._show_rulers()

    def _show_grid(self) -> None:
        unit = self._document.project.units
        x, y = self.aids.zero(self._selection.bed)
        grid = Grid(self.aids.grid_step(unit).mm, (x.mm, y.mm)) if self.aids.has_grid else None
        self._scene.grid.show_grid(grid, unit, self._scene.outline_box)

    def _pan(self, right: int, down: int) -> None:
        self._from_pixels = None
        self._leave_fit()
        for bar, by in ((self.horizontalScrollBar(), right), (self.verticalScrollBar(), down)):
            bar.setValue(bar.value() + by)

    # -- events ----------------------------------------------------------------------------------

    def event(self, event: QEvent) -> bool:
        """Keep the letters of a typed number from the window's keys."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and (self._hands.is_typing or self._eyes.is_typing)
            and event.text().isprintable()
        ):
            event.accept()
            return True
        return super().event(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep a bed that is shown whole whole; lay the rulers along the edges."""
        super().resizeEvent(event)
        self._lay_edges()
        if self._is_fitted:
            self.fit()
        else:
            self._show_rulers()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Come nearer or step back at the pointer; with Shift move sideways.

        Two fingers on a touch pad move the view, with Ctrl they come nearer.
        """
        turned = event.angleDelta().y() or event.angleDelta().x()
        moved, is_pad = event.pixelDelta(), event.phase() != Qt.ScrollPhase.NoScrollPhase
        if is_pad and not moved.isNull() and not event.modifiers() & CTRL:
            self._pan(-moved.x(), -moved.y())
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self._pan(-turned, 0)
        elif turned:
            self._zoom(STEP ** (turned / 120), event.position().toPoint())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        """Zoom by pinching; note when the pointer leaves."""
        if isinstance(event, QGestureEvent):
            return self._pinch(event)
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture:
                self._zoom(exp2(event.value()), event.position().toPoint())
                return True
            if event.gestureType() == Qt.NativeGestureType.PanNativeGesture:
                self._pan(round(-event.delta().x()), round(-event.delta().y()))
                return True
        elif event.type() == QEvent.Type.Leave:
            self._hands.leave()
            self._show_pointer(None)
        return super().viewportEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a gesture, or pan with the middle button or with Space held."""
        is_left = event.button() == Qt.MouseButton.LeftButton
        is_middle = event.button() == Qt.MouseButton.MiddleButton
        if is_middle or (is_left and self._space_is_down and not self._is_dragging):
            self._pan_from, self._pan_button = event.position().toPoint(), event.button()
            self._show_cursor(False)
        elif is_left:
            touch = self._touch(event)
            if self._hands.wants(touch) and not self._eyes.tool:
                self.aids.pick(None)
                self._hands.press(touch)
            elif not self._eyes.press(touch):
                self._hands.press(touch)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        here = event.position().toPoint()
        self._show_pointer(here)
        if not event.buttons():
            self._let_go()
        if self._pan_from is not None:
            moved = self._pan_from - here
            self._pan_from = here
            self._pan(moved.x(), moved.y())
        else:
            touch = self._touch(event)
            if not self._eyes.move(touch):
                self._hands.move(touch)
                self._show_line_below(touch)

    @property
    def _is_dragging(self) -> bool:
        return self._hands.is_busy or self._eyes.is_holding

    def _let_go(self) -> None:
        """Take back what is dragged by a button that was let go where nobody told us."""
        self._pan_from = None
        if self._hands.is_busy:
            self._hands.cancel()
        if self._eyes.is_holding:
            self._eyes.put_away()

    def _show_line_below(self, touch: Touch) -> None:
        """Let the pointer say that a guide line can be dragged from here."""
        line = self._eyes.line_at(touch)
        is_free = line is not None and not line.locked and not self._hands.wants(touch)
        axis = line.axis if line is not None and is_free else None
        if axis != self._axis_below:
            self._axis_below = axis
            self._show_cursor(self._is_armed)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Finish the gesture or the pan."""
        if self._pan_from is not None and event.button() == self._pan_button:
            self._pan_from = None
            self._show_cursor(False)
        elif event.button() == Qt.MouseButton.LeftButton:
            touch = self._touch(event)
            if not self._eyes.release(touch, over_ruler=self._is_over_ruler(event.position())):
                self._hands.release(touch)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Add a hole on foam."""
        if event.button() == Qt.MouseButton.LeftButton and not self._space_is_down:
            touch = self._touch(event)
            if self._eyes.tool or not (self._hands.wants(touch) or self._eyes.line_at(touch)):
                if not self._eyes.press(touch):
                    self._hands.double_click(touch)
            elif self._hands.wants(touch):
                self._hands.double_click(touch)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of what lies under the pointer, or of what is selected."""
        event.accept()
        if event.reason() != QContextMenuEvent.Reason.Mouse:
            self._open_menu_by_key()
            return
        places = self._hands.places
        if places is None or self._is_dragging:
            return
        touch = self._touch_at(QPointF(event.pos()), event.modifiers())
        self._hands.pick(touch)
        kind, thing = kind_at(places, self._selection, touch, self._eyes.line_at)
        self._pick_for_menu(kind, thing, places, touch)
        self.menu_wanted.emit(kind, event.globalPos())

    def _open_menu_by_key(self) -> None:
        """Ask for the menu of what is selected, beside it."""
        places = self._hands.places
        if places is None or self._is_dragging:
            return
        kind, _ = kind_at(places, self._selection, None, self._eyes.line_at)
        if self.aids.picked is not None:
            kind = "guide line"
        inside = self.viewport().rect()
        at = self.mapFromScene(self._selected_box().center())
        if kind in {"nothing", "guide line"} or not inside.contains(at):
            at = inside.center()
        self.menu_wanted.emit(kind, self.viewport().mapToGlobal(at))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, add, leave out and pin holes, or pan where nothing is selected."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Space and not self._hands.is_typing:
            self._space_is_down = True
            self._show_cursor(False)
        elif self._key(event):
            event.accept()
        elif key == Qt.Key.Key_F10 and event.modifiers() == Qt.KeyboardModifier.ShiftModifier:
            self._open_menu_by_key()
        elif key in ARROWS:
            right, up = ARROWS[key]
            self._pan(right * PAN_PX, -up * PAN_PX)
        else:
            event.ignore()

    def _pick_for_menu(self, kind: str, thing: Thing | None, places: Places, touch: Touch) -> None:
        """Let the menu that is about to open be about what lies under the pointer."""
        self.aids.pick(self._eyes.line_at(touch) if kind == "guide line" else None)
        if kind == "guide line":
            self._selection.clear()
        elif kind == "raft":
            placed = places.raft_at(touch.x, touch.y)
            if placed is not None and placed.name not in self._selection.rafts:
                self._selection.set_rafts([placed.name])
        elif thing is not None:
            self._selection.set_thing(thing)

    def _key(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape and self._leave_zero():
            return True
        step = self._hands.step(event.modifiers())
        return self._eyes.key(event, ARROWS.get(key), step) or self._hands.key(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of Space."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space_is_down = False
            self._show_cursor(False)
        else:
            event.ignore()

    def focusNextPrevChild(self, next: bool) -> bool:  # noqa: A002, FBT001  Qt's own name
        """Go to the next hole; beyond the last one, or after Escape, leave the canvas."""
        step = 1 if next else -1
        here = self.focusWidget()
        is_above = self._head is not None and self._head.isAncestorOf(here)
        if not is_above and (self._eyes.tab(step) or self._hands.tab(step)):
            return True
        return super().focusNextPrevChild(next)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keyboard works here."""
        super().focusInEvent(event)
        self._hands.say_what_can_be_done()
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the keyboard works elsewhere; what was begun is forgotten."""
        super().focusOutEvent(event)
        self._space_is_down = False
        self.viewport().update()

    def drawForeground(self, painter: QPainter, _rect: QRectF | QRect) -> None:
        """Paint the frame of the keyboard focus and, without a bed, what to do."""
        painter.save()
        painter.resetTransform()
        inside = QRectF(self.viewport().rect())
        if self._bed_plan is None:
            painter.setFont(small_font(14))
            painter.setPen(self._tones.quiet_text)
            is_coming = bool(self._document.project.beds)
            words = tr("Working it out …") if is_coming else tr("No bed yet")
            painter.drawText(inside, Qt.AlignmentFlag.AlignCenter, words)
        if self.hasFocus():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
            painter.setPen(QPen(self._tones.accent, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(inside.adjusted(1, 1, -1, -1))
        painter.restore()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger text."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.ApplicationFontChange}:
            forget_fonts()
            self._scene.rafts.forget_picture()
            self._make_room()

    def _make_room(self) -> None:
        """Leave room for the rulers and what stands above them."""
        head = self._head.sizeHint().height() if self._head is not None else 0
        self.setViewportMargins(ruler_px(), ruler_px() + head, 0, 0)
        self._lay_edges()

    def _lay_edges(self) -> None:
        inside, thick = self.viewport().geometry(), ruler_px()
        left, top = inside.left() - thick, inside.top() - thick
        self._top.setGeometry(inside.left(), top, inside.width(), thick)
        self._left.setGeometry(left, inside.top(), thick, inside.height())
        self._corner.setGeometry(left, top, thick, thick)
        if self._head is not None:
            self._head.setGeometry(0, 0, self.width(), top)

    def _take(self, tool: Tool) -> None:
        self._hands.cancel()
        self.setFocus()
        self._eyes.take(tool)

    def _on_armed(self, is_armed: bool) -> None:  # noqa: FBT001  a Qt slot
        if is_armed and self.sender() is self._hands:
            self._eyes.put_away()
        self._is_armed = is_armed
        self._show_cursor(is_armed)
        self.armed.emit(is_armed)

    def _say_what_can_be_done(self) -> None:
        if not (self._hands.is_armed or self._eyes.tool or self._is_dragging):
            self._hands.say_what_can_be_done()

    def _pinch(self, event: QGestureEvent) -> bool:
        pinch = event.gesture(Qt.GestureType.PinchGesture)
        if not isinstance(pinch, QPinchGesture):
            return False
        event.accept()
        middle = self.viewport().mapFromGlobal(pinch.centerPoint()).toPoint()
        if pinch.state() == Qt.GestureState.GestureStarted:
            self._let_go()  # the first finger came alone and took hold of what lies under it
        else:
            last = self.viewport().mapFromGlobal(pinch.lastCenterPoint()).toPoint()
            self._pan(last.x() - middle.x(), last.y() - middle.y())
        self._zoom(pinch.scaleFactor(), middle)
        return True

    def _is_over_ruler(self, at: QPointF) -> bool:
        return at.x() < 0 or at.y() < 0

    def _on_ruler(self, axis: Axis, event: QMouseEvent) -> None:
        """Pull a guide line out of a ruler: along x out of the left one, along y out of the top."""
        at = self.viewport().mapFromGlobal(event.globalPosition())
        touch = self._touch_at(at, event.modifiers())
        over = at.x() < 0 if axis == "x" else at.y() < 0
        if event.type() == QEvent.Type.MouseButtonPress:
            if event.button() == Qt.MouseButton.LeftButton:
                self._hands.cancel()
                self._eyes.put_away()
                self.setFocus()
                self._eyes.pull(axis)
        elif event.type() == QEvent.Type.MouseMove:
            self._show_pointer(at.toPoint())
            self._eyes.move(touch, over_ruler=over)
        elif event.type() == QEvent.Type.MouseButtonRelease:
            self._eyes.release(touch, over_ruler=over)

    def _on_corner(self, event: QMouseEvent) -> None:
        """Drag the zero of the rulers; a double click puts it back."""
        table = self._hands.table()
        at = self.viewport().mapFromGlobal(event.globalPosition())
        touch = self._touch_at(at, event.modifiers())
        kind = event.type()
        if kind == QEvent.Type.MouseButtonDblClick:
            self._zero_drag = None
            self.aids.set_zero(self._selection.bed, CORNER)
            self._scene.guides.show_guides(())
        elif kind == QEvent.Type.MouseButtonPress and table is not None:
            self.setFocus()
            self._zero_drag = DragZero(table, self._scene.guides.show_guides)
        elif self._zero_drag is not None and kind == QEvent.Type.MouseMove:
            if at.x() >= 0 and at.y() >= 0:
                self._zero_drag.move(touch)
        elif self._zero_drag is not None and kind == QEvent.Type.MouseButtonRelease:
            self._zero_drag.release()
            self._zero_drag = None

    def _leave_zero(self) -> bool:
        drag, self._zero_drag = self._zero_drag, None
        if drag is not None:
            drag.cancel()
        return drag is not None

    def _touch(self, event: QMouseEvent) -> Touch:
        return self._touch_at(event.position(), event.modifiers())

    def _touch_at(self, at: QPointF, held: Qt.KeyboardModifier) -> Touch:
        back = self._from_pixels
        if back is None:
            back = self.viewportTransform().inverted()[0] * QTransform.fromTranslate(*self._low)
        place = back.map(at)
        return Touch(
            place.x(),
            place.y(),
            1 / self.pixels_per_mm,
            shift=bool(held & Qt.KeyboardModifier.ShiftModifier),
            ctrl=bool(held & Qt.KeyboardModifier.ControlModifier),
            alt=not self.aids.snaps or bool(held & Qt.KeyboardModifier.AltModifier),
        )

    def _show_pointer(self, at: QPoint | None) -> None:
        self._pointer_at = at
        self._top.set_pointer(None if at is None else at.x())
        self._left.set_pointer(None if at is None else at.y())
        if at is None or self._hands.places is None:
            self.pointer_moved.emit(None)
        else:
            place = self.mapToScene(at)
            self._tell_place(place.x(), place.y())

    def _tell_place(self, x: float, y: float) -> None:
        places = self._hands.places
        placed = places.raft_at(x, y) if places is not None else None
        if placed is None:
            self.pointer_moved.emit(Pointer(x, y))
        else:
            self.pointer_moved.emit(Pointer(x, y, placed.name, *to_raft(placed, x, y)))
