"""What the pointer does between press and release, one object a gesture.

A gesture gets places in bed coordinates and always starts from the project that was current when
it began: nothing is repaired, nothing drifts, and cancelling is forgetting.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final, Protocol

import numpy as np
from PySide6.QtCore import QRectF

from geometry.errors import GeometryError
from geometry.model.guide_line import GuideLine
from geometry.model.measure import Gauge
from geometry.model.project import Project
from geometry.plan import PlacedRaft
from geometry.tongue import tr, tr_n
from geometry.units import Unit, format_length
from layout_gui.canvas.places import Places, Spot, to_raft
from layout_gui.canvas.snapping import Grid, Guide, Snapper, make_snapper
from layout_gui.canvas.typed import TypedSizes
from layout_gui.document.aids import Aids
from layout_gui.document.document import Document
from layout_gui.document.selection import HoleName, Selection
from layout_gui.project import edits
from layout_gui.project.arrange import has_hole
from layout_gui.project.edits_guide_lines import guide_lines_of

THRESHOLD_PX: Final = 4
"""A drag begins when the pointer has moved so far."""

STRAIGHT: Final = 0.05
"""A drag that leaves an axis by no more than this share of its length is meant to follow it."""

MOST_LIVE: Final = 10_000
"""Of so many holes a band selects while it is opened; more are taken when it is let go."""

REACH_PX: Final = 7
"""A line within so many pixels is snapped to…"""

REACH_SHARE: Final = 0.08
"""…but only within this share of the spacing: from far away too there is room between lines."""


@dataclass(frozen=True, slots=True)
class Touch:
    """Where the pointer is in the bed (mm), what a pixel is there, and which keys are held."""

    x: float
    y: float
    pixel_mm: float
    shift: bool = False
    ctrl: bool = False
    alt: bool = False


class Surface(Protocol):
    """What a gesture shows while it runs."""

    def show_band(self, box: QRectF | None) -> None:
        """Show the rubber band."""

    def show_moving(
        self, circles: Sequence[tuple[float, float, float]], guides: tuple[Guide, ...]
    ) -> None:
        """Show where holes go (x, y, radius) and the lines they snap to."""

    def show_place(self, x: float, y: float) -> None:
        """Say where the thing on the move is now, instead of the pointer (bed coordinates)."""

    def say(self, hint: str) -> None:
        """Say what goes on and what can be done."""

    def show_snapped(self, words: str) -> None:
        """Say what the thing on the move snapped to; empty when it is free."""

    def follow(self, project: Project, targets: Sequence[tuple[str, float, float]]) -> None:
        """Select what lies at these places (raft, bed coordinates) once the plan is there."""


@dataclass(frozen=True, slots=True)
class Table:
    """What every gesture works on: the document, what is selected, where things are."""

    document: Document
    selection: Selection
    places: Places
    surface: Surface
    aids: Aids

    @property
    def unit(self) -> Unit:
        """The unit that lengths are shown in."""
        return self.document.project.units

    def snapper(
        self,
        placed: PlacedRaft,
        without: frozenset[HoleName],
        *,
        leave_out: GuideLine | None = None,
    ) -> Snapper:
        """Return what is snapped to on a raft; what moves, holes or a guide line, is left out."""
        project, bed = self.document.project, self.places.bed_plan.bed.name
        x, y = self.aids.zero(bed)
        step = self.aids.grid_step(self.unit).mm
        return make_snapper(
            self.places,
            placed,
            without=without,
            unit=self.unit,
            guide_lines=[line for line in guide_lines_of(project, bed) if line != leave_out],
            grid=Grid(step, (x.mm, y.mm)) if self.aids.has_grid else None,
        )

    def reach_mm(self, touch: Touch) -> float:
        """Return how near a line must be to be snapped to."""
        planting = self.places.bed_plan.bed.planting
        most = planting.spacing.mm * REACH_SHARE if planting else 0
        return min(REACH_PX * touch.pixel_mm, most)


class Gesture(Protocol):
    """One thing being done with the pointer."""

    def move(self, touch: Touch) -> None:
        """Follow the pointer."""

    def release(self, touch: Touch) -> None:
        """Finish: make what was shown real."""

    def cancel(self) -> None:
        """Forget it: everything is as before."""


class RubberBand:
    """Press beside the holes: a click selects the raft or nothing, a drag all holes within."""

    def __init__(self, table: Table, touch: Touch) -> None:
        self._table = table
        self._start = touch
        self._picked = table.selection.picked
        self._before = table.selection.holes if touch.shift or touch.ctrl else frozenset()
        self._is_dragged = False

    def move(self, touch: Touch) -> None:
        """Open the band and select what it holds."""
        self._open(touch)

    def _open(self, touch: Touch, *, is_last: bool = False) -> None:
        start = self._start
        if not self._is_dragged and not _has_moved(start, touch):
            return
        self._is_dragged = True
        left, right = sorted((start.x, touch.x))
        bottom, top = sorted((start.y, touch.y))
        self._table.surface.show_band(QRectF(left, bottom, right - left, top - bottom))
        count = self._table.places.count_in(left, bottom, right, top)
        if count > MOST_LIVE and not is_last:
            words = tr_n("Let go to take {n} hole", "Let go to take {n} holes", count)
            self._table.surface.say(words)
            return
        inside = frozenset(self._table.places.holes_in(left, bottom, right, top))
        chosen = self._before ^ inside if start.ctrl else self._before | inside
        self._table.selection.set_holes(chosen)
        self._table.surface.say(tr_n("{n} hole selected", "{n} holes selected", len(chosen)))

    def release(self, touch: Touch) -> None:
        """Close the band; without a drag select the raft under the pointer."""
        self._table.surface.show_band(None)
        if self._is_dragged:
            self._open(touch, is_last=True)
            self._table.surface.show_band(None)
            return
        placed = self._table.places.raft_at(touch.x, touch.y)
        selection = self._table.selection
        if placed is None:
            if not (touch.shift or touch.ctrl):
                selection.clear()
        elif touch.ctrl:
            selection.set_rafts(selection.rafts ^ {placed.name})
        elif touch.shift:
            selection.set_rafts(selection.rafts | {placed.name})
        else:
            selection.set_rafts([placed.name])

    def cancel(self) -> None:
        """Close the band and select what was selected before."""
        self._table.surface.show_band(None)
        self._table.selection.bring_back(self._picked)


class MoveHoles:
    """Press on a hole: a click selects, a drag moves what is selected, or with Ctrl copies it.

    A number typed meanwhile is how far it goes along the drag; with a second one they are how far
    along and across the bed.
    """

    def __init__(self, table: Table, grabbed: Spot, touch: Touch) -> None:
        self._table = table
        self._grabbed = grabbed
        self._start = self._last = touch
        self._project = table.document.project
        self._was_selected = grabbed.name in table.selection.holes
        self._select_on_press()
        self._moving: list[Spot] = []
        self._snappers: dict[bool, Snapper] = {}
        self._candidate: Project | None = None
        self._targets: list[tuple[str, float, float]] = []
        self.typed = TypedSizes(2, table.unit, signed=True)
        self.refused = ""
        """Why the holes cannot be where they are dragged; empty while they can."""

    @property
    def is_dragged(self) -> bool:
        """Whether the pointer has moved so far that this is no click."""
        return bool(self._moving)

    def move(self, touch: Touch) -> None:
        """Show the plan with the holes moved or copied, as long as that can be done."""
        if not self.is_dragged and not (_has_moved(self._start, touch) and self._begin(touch)):
            return
        self._last = touch
        x, y, guides = self._snapped(touch)
        dx, dy = self._typed_way(x - self._grabbed.x, y - self._grabbed.y)
        if self.typed.is_begun:
            guides = ()
        surface = self._table.surface
        surface.show_moving([(s.x + dx, s.y + dy, s.radius) for s in self._moving], guides)
        surface.show_place(self._grabbed.x + dx, self._grabbed.y + dy)
        self._candidate, self.refused = None, ""
        try:
            if touch.ctrl:
                self._candidate, self._targets = self._copied(dx, dy)
            else:
                self._candidate = moved_by(self._table, self._project, self._moving, dx, dy)
                self._targets = [(spot.raft, spot.x + dx, spot.y + dy) for spot in self._moving]
        except GeometryError as error:
            self._table.document.preview(None)
            self.refused = str(error)
            surface.say(self.refused)
            return
        self._table.document.preview(self._candidate)
        surface.say(self._hint(self._grabbed.x + dx, self._grabbed.y + dy))

    def release(self, touch: Touch) -> None:
        """Make the move an undo step; without a drag finish the click."""
        if not self.is_dragged:
            self._select_on_click(touch)
            return
        self.move(touch)
        self._table.surface.show_moving([], ())
        if self._candidate is None:
            self._table.document.preview(None)
            return
        self._table.surface.follow(self._candidate, self._targets)
        text = copy_text(self._moving) if touch.ctrl else move_text(self._moving)
        self._table.document.apply(text, self._candidate)

    def cancel(self) -> None:
        """Show the holes where they were."""
        self._table.surface.show_moving([], ())
        self._table.document.preview(None)

    def type(self, text: str) -> bool:
        """Take a typed sign; tell whether it was one of a number."""
        return self._after_typing(self.typed.takes(text))

    def take_back(self) -> None:
        """Take the last typed sign back."""
        self._after_typing(self.typed.takes_back())

    def next_size(self) -> None:
        """Type the next number."""
        self.typed.next()
        self._after_typing(done=True)

    def finish(self) -> None:
        """Make real what is shown, wherever the pointer is."""
        self.release(self._last)

    def _after_typing(self, done: bool) -> bool:  # noqa: FBT001  what typing tells
        if done:
            self.move(self._last)
        return done

    def _begin(self, touch: Touch) -> bool:
        selection = self._table.selection
        if self._grabbed.name not in selection.holes:
            if not touch.ctrl:
                return False
            selection.set_holes(selection.holes | {self._grabbed.name})
        self._moving = self._table.places.spots(selection.holes)
        return self.is_dragged

    def _snapper(self, *, copying: bool) -> Snapper:
        """What is copied stays behind and is there to snap to; what is moved is not."""
        if copying not in self._snappers:
            table = self._table
            without = frozenset() if copying else table.selection.holes
            placed = table.places.rafts[self._grabbed.raft]
            self._snappers[copying] = table.snapper(placed, without)
        return self._snappers[copying]

    def _snapped(self, touch: Touch) -> tuple[float, float, tuple[Guide, ...]]:
        """Return where the grabbed hole's centre goes."""
        x = self._grabbed.x + touch.x - self._start.x
        y = self._grabbed.y + touch.y - self._start.y
        guides: tuple[Guide, ...] = ()
        if not touch.alt:
            snapper = self._snapper(copying=touch.ctrl)
            (x, y), guides = snapper.snap(x, y, self._table.reach_mm(touch))
        if touch.shift:
            if abs(touch.x - self._start.x) >= abs(touch.y - self._start.y):
                y, axis = self._grabbed.y, "x"
            else:
                x, axis = self._grabbed.x, "y"
            guides = tuple(guide for guide in guides if guide.axis == axis)
        return x, y, guides

    def _typed_way(self, dx: float, dy: float) -> tuple[float, float]:
        """Return how far the holes go, as far as that is typed."""
        along, across = self.typed.exact(0), self.typed.exact(1)
        if across is not None or (self.typed.is_begun and self.typed.is_second):
            return (
                dx if along is None else float(along),
                dy if across is None else float(across),
            )
        far = hypot(dx, dy)
        if along is None or far == 0:
            return dx, dy
        # Nearly straight is meant to be straight: then what is typed is exact.
        if abs(dy) <= STRAIGHT * abs(dx):
            return float(along) * (1 if dx > 0 else -1), 0.0
        if abs(dx) <= STRAIGHT * abs(dy):
            return 0.0, float(along) * (1 if dy > 0 else -1)
        return float(along) * dx / far, float(along) * dy / far

    def _copied(self, dx: float, dy: float) -> tuple[Project, list[tuple[str, float, float]]]:
        """Return the project with copies so far away, each on the raft it comes to lie on."""
        places = self._table.places
        more: list[tuple[str, float, float]] = []
        targets: list[tuple[str, float, float]] = []
        for spot in self._moving:
            x, y = spot.x + dx, spot.y + dy
            placed = places.raft_at(x, y) or places.rafts[spot.raft]
            targets.append((placed.name, x, y))
            at = to_raft(placed, x, y)
            if not has_hole(placed, *at):
                more.append((placed.name, *at))
        if not more:
            raise GeometryError(tr("There is a hole already wherever a copy would go."))
        return edits.place_holes(self._project, places.bed_plan, {}, more), targets

    def _select_on_press(self) -> None:
        selection, touch = self._table.selection, self._start
        if not self._was_selected and not touch.ctrl:
            before = selection.holes if touch.shift else frozenset()
            selection.set_holes(before | {self._grabbed.name})

    def _select_on_click(self, touch: Touch) -> None:
        selection = self._table.selection
        if touch.ctrl:
            selection.toggle(*self._grabbed.name)
        elif self._was_selected and not touch.shift:
            selection.set_holes([self._grabbed.name])

    def _hint(self, x: float, y: float) -> str:
        table = self._table
        if self.typed.is_begun:
            way = x - self._grabbed.x, y - self._grabbed.y
            words = [self.typed.words(number, abs(by)) for number, by in enumerate(way)]
            if self.typed.value(1) is None and not self.typed.is_second:
                return self.typed.reason or tr(
                    "{size} along the drag · Enter: put it there, Tab: across, Esc: back",
                    size=words[0],
                )
            return self.typed.reason or tr(
                "{along} along, {across} across · Enter: put it there, Esc: back",
                along=words[0],
                across=words[1],
            )
        placed = table.places.raft_at(x, y) or table.places.rafts[self._grabbed.raft]
        without = frozenset() if self._last.ctrl else frozenset(s.name for s in self._moving)
        room = room_text(table.places, placed, (x, y), without, table.unit)
        return tr("{room} · type · Ctrl copy · Alt free · Shift straight · Esc back", room=room)


class AddHole:
    """Adding a hole: it hangs on the pointer, or on the arrow keys, until it is put down."""

    def __init__(self, table: Table, x: float, y: float, done: Callable[[], None]) -> None:
        self._table = table
        self._done = done
        self._x, self._y = x, y
        self._snappers: dict[str, Snapper] = {}
        self._show(())

    @property
    def at(self) -> tuple[float, float]:
        """Where the hole would be put now."""
        return self._x, self._y

    def move(self, touch: Touch) -> None:
        """Follow the pointer, snapping as a moved hole does."""
        guides: tuple[Guide, ...] = ()
        self._x, self._y = touch.x, touch.y
        placed = self._table.places.raft_at(touch.x, touch.y)
        if placed is not None and not touch.alt:
            (self._x, self._y), guides = self._snapper(placed).snap(
                touch.x, touch.y, self._table.reach_mm(touch)
            )
        self._show(guides)

    def nudge(self, dx: float, dy: float) -> None:
        """Move the hole by the keys, without snapping."""
        self._x, self._y = self._x + dx, self._y + dy
        self._show(())

    def release(self, touch: Touch) -> None:
        """Put the hole down where the pointer is."""
        self.move(touch)
        self.put_down()

    def put_down(self) -> None:
        """Put the hole down; on water nothing happens and the hole stays in hand."""
        table = self._table
        placed = table.places.raft_at(self._x, self._y)
        if placed is None:
            table.surface.say(tr("A hole needs foam under it · Esc: leave it"))
            return
        x, y = to_raft(placed, self._x, self._y)
        try:
            project = edits.add_hole(
                table.document.project, table.places.bed_plan, placed.name, x, y
            )
        except GeometryError as error:
            table.surface.say(str(error))
            return
        self.cancel()
        table.surface.follow(project, [(placed.name, self._x, self._y)])
        table.document.apply(tr("Add a hole"), project)

    def cancel(self) -> None:
        """Put the hole away."""
        self._table.surface.show_moving([], ())
        self._done()

    def _snapper(self, placed: PlacedRaft) -> Snapper:
        if placed.name not in self._snappers:
            self._snappers[placed.name] = self._table.snapper(placed, frozenset())
        return self._snappers[placed.name]

    def _show(self, guides: tuple[Guide, ...]) -> None:
        planting = self._table.places.bed_plan.bed.planting
        radius = planting.hole_diameter.mm / 2 if planting else 25.0
        self._table.surface.show_moving([(self._x, self._y, radius)], guides)
        placed = self._table.places.raft_at(self._x, self._y)
        self._table.surface.show_place(self._x, self._y)
        room = tr("over water")
        if placed is not None:
            at = self._x, self._y
            room = room_text(self._table.places, placed, at, frozenset(), self._table.unit)
        self._table.surface.say(
            tr("New hole, {room} · click or Enter puts it there · Esc leave it", room=room)
        )


def moved_by(
    table: Table, project: Project, moving: Sequence[Spot], dx: float, dy: float
) -> Project:
    """Return the project with holes moved by so much in bed coordinates.

    Raises:
        GeometryError: the move cannot be made.
    """
    targets: dict[HoleName, tuple[float, float]] = {
        spot.name: to_raft(table.places.rafts[spot.raft], spot.x + dx, spot.y + dy)
        for spot in moving
    }
    return edits.move_holes(project, table.places.bed_plan, targets)


def move_text(moving: Sequence[Spot]) -> str:
    """Return what an undo step that moves these holes is called."""
    if len(moving) == 1:
        return tr("Move hole {hole}", hole=moving[0].hole)
    return tr_n("Move {n} hole", "Move {n} holes", len(moving))


def copy_text(copied: Sequence[Spot]) -> str:
    """Return what an undo step that copies these holes is called."""
    if len(copied) == 1:
        return tr("Copy hole {hole}", hole=copied[0].hole)
    return tr_n("Copy {n} hole", "Copy {n} holes", len(copied))


def room_text(
    places: Places,
    placed: PlacedRaft,
    at: tuple[float, float],
    without: frozenset[HoleName],
    unit: Unit,
) -> str:
    """Say how far a place is from the nearest hole, centre to centre, and from its raft's edge."""
    on_raft = np.array([to_raft(placed, *at)])
    edge = abs(float(Gauge.of(placed.design.shape.loop).signed_distance(on_raft)[0]))
    to_edge = tr("{edge} to the edge", edge=format_length(edge, unit))
    near = places.nearest(*at, without)
    if near is None:
        return to_edge
    gap = format_length(hypot(near.x - at[0], near.y - at[1]), unit)
    if near.raft == placed.name:
        return tr("{gap} to {hole}, {edge}", gap=gap, hole=near.hole, edge=to_edge)
    return tr(
        "{gap} to {hole} of {raft}, {edge}", gap=gap, hole=near.hole, raft=near.raft, edge=to_edge
    )


def _has_moved(start: Touch, touch: Touch) -> bool:
    return hypot(touch.x - start.x, touch.y - start.y) >= THRESHOLD_PX * touch.pixel_mm
