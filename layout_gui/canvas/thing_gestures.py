"""Obstacles, zones, corners and joints taken hold of with the pointer.

As in all gestures every step starts from the project that was current when it began. What cannot
be is refused with its reason; what is shown stays the last that could be.
"""

from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from PySide6.QtGui import QPainterPath

from geometry.beds.outline import exact_box, outline_loop
from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.guide_line import Axis
from geometry.model.outlines import Disc, Polygon
from geometry.model.project import Project
from geometry.rafts.split import joint_lines, lay_rafts
from geometry.tongue import mark, tr
from geometry.units import format_length
from layout_gui.canvas.gestures import REACH_PX, THRESHOLD_PX, Table, Touch
from layout_gui.canvas.snapping import Guide
from layout_gui.canvas.thing_items import SizeLabel, ThingMarks
from layout_gui.canvas.thing_places import ThingPlaces
from layout_gui.canvas.thing_snapping import ThingSnapper, free_place, thing_snapper
from layout_gui.canvas.typed import TypedSizes
from layout_gui.project import edits, edits_things
from layout_gui.project.edits_guide_lines import guide_lines_of
from layout_gui.project.edits_things import Standing
from layout_gui.project.grips import Grip, Place, corner_grips
from layout_gui.project.things import Thing
from layout_gui.screen.painter import loop_path

_KEYS: Final = mark("type a number · Shift straight · Alt free · Esc back")


@dataclass(frozen=True, slots=True)
class ThingTable:
    """What gestures on things work on: the table of all gestures, and where things are shown."""

    table: Table
    things: ThingPlaces
    marks: ThingMarks

    @property
    def bed(self) -> Bed:
        """The bed they are in, as it was when the gesture began."""
        return self.table.places.bed_plan.bed

    @property
    def project(self) -> Project:
        """The current project."""
        return self.table.document.project

    def words(self, mm: Fraction | float) -> str:
        """Write a length in the grower's unit."""
        return format_length(mm, self.table.unit)

    def snapper(self, without: Thing | None) -> ThingSnapper:
        """Return what things snap to in this bed."""
        aids, unit, name = self.table.aids, self.table.unit, self.bed.name
        x, y = aids.zero(name)
        step = aids.grid_step(unit).exact
        return thing_snapper(
            self.table.places.bed_plan,
            unit,
            without=without,
            guide_lines=guide_lines_of(self.project, name),
            grid=(step, x.exact, y.exact) if aids.has_grid else None,
        )


@dataclass(frozen=True, slots=True)
class Look:
    """What is shown of a thing on the move: its line, its sizes, its grips."""

    path: QPainterPath
    labels: Sequence[SizeLabel]
    spots: Sequence[tuple[float, float]] = ()


class Pull(ABC):
    """A thing pressed on: a click selects it, a drag moves or reshapes it.

    ``sizes`` is how many numbers can be typed meanwhile.
    """

    sizes = 2
    signed = False

    def __init__(self, desk: ThingTable, thing: Thing, touch: Touch) -> None:
        self.desk = desk
        self.thing = thing
        self._start = self._last = touch
        self._project = desk.project
        self.typed = TypedSizes(self.sizes, desk.table.unit, signed=self.signed)
        self._snapper: ThingSnapper | None = None
        self._candidate: Project | None = None
        self.refused = ""
        """Why the thing could not be pulled at all; empty once it could."""
        self.was_selected = desk.table.selection.thing == thing
        if not self.was_selected:
            desk.table.selection.set_thing(thing)

    @property
    def is_dragged(self) -> bool:
        """Whether the pointer has moved so far that this is no click."""
        return self._snapper is not None

    def move(self, touch: Touch) -> None:
        """Show the plan with the thing moved, as long as there is one."""
        away = max(abs(touch.x - self._start.x), abs(touch.y - self._start.y))
        if self._snapper is None:
            if away < THRESHOLD_PX * touch.pixel_mm:
                return
            self._snapper = self.desk.snapper(self.thing)
        self._last = touch
        self._follow()

    def type(self, text: str) -> bool:
        """Take a typed sign; tell whether it was one of a number."""
        return self._typed(self.typed.takes(text))

    def take_back(self) -> None:
        """Take the last typed sign back."""
        self._typed(self.typed.takes_back())

    def next_size(self) -> None:
        """Type the next number."""
        self.typed.next()
        self._typed(done=True)

    def finish(self) -> None:
        """Make real what is shown, wherever the pointer is."""
        self.release(self._last)

    def release(self, touch: Touch) -> None:
        """Make the move an undo step."""
        if not self.is_dragged:
            return
        self.move(touch)
        self._clear()
        document = self.desk.table.document
        if self._candidate is None or document.project is not self._project:
            # Undone or changed meanwhile: what was dragged is of a project that is no more.
            document.preview(None)
            return
        document.apply(self.text(), self._candidate)

    def cancel(self) -> None:
        """Show everything as it was."""
        self._clear()
        if self.is_dragged:
            self.desk.table.document.preview(None)

    @abstractmethod
    def made(self, dx: Fraction, dy: Fraction) -> Project:
        """Return the project with the thing pulled so far, typed numbers heeded."""

    @abstractmethod
    def snapped(self, touch: Touch, snapper: ThingSnapper) -> tuple[Place, tuple[Guide, ...]]:
        """Return how far the thing is pulled."""

    @abstractmethod
    def look(self, project: Project) -> Look:
        """Return what is shown of it in a project in which it can be."""

    def text(self) -> str:
        """Return what the undo step is called."""
        return tr("Move {thing}", thing=self.name())

    def name(self) -> str:
        """Return the name of the thing, for people."""
        return edits_things.thing_words(self.desk.bed, self.thing)

    def straight(self, way: Place, guides: tuple[Guide, ...]) -> tuple[Place, tuple[Guide, ...]]:
        """Return the way along one axis only, the longer one."""
        dx, dy = way
        if abs(self._last.x - self._start.x) >= abs(self._last.y - self._start.y):
            return (dx, Fraction(0)), tuple(guide for guide in guides if guide.axis == "x")
        return (Fraction(0), dy), tuple(guide for guide in guides if guide.axis == "y")

    def _typed(self, done: bool) -> bool:  # noqa: FBT001  what typing tells
        if done and self._snapper is not None:
            self._follow()
        return done

    def _follow(self) -> None:
        touch, snapper = self._last, self._snapper
        if snapper is None:
            return
        way, guides = self.snapped(touch, snapper)
        surface = self.desk.table.surface
        surface.show_moving([], tuple(guide.reaching(_beside(guide, touch)) for guide in guides))
        try:
            project = self.made(*way)
        except GeometryError as error:
            surface.say(str(error))
            self.refused = str(error) if self._candidate is None else ""
            return
        self._candidate, self.refused = project, ""
        look = self.look(project)
        self.desk.marks.show_moving(look.path, look.labels, look.spots)
        self.desk.table.document.preview(project)
        sizes = " · ".join(label.text for label in look.labels)
        surface.say(self.typed.reason or f"{sizes} · {tr(_KEYS)}")

    def _clear(self) -> None:
        self.desk.table.surface.show_moving([], ())
        self.desk.marks.show_moving(None)


class MoveStanding(Pull):
    """An obstacle or a zone moved as a whole, or with Ctrl copied.

    Typed numbers say how far along and across.
    """

    signed = True

    def __init__(self, desk: ThingTable, thing: Thing, touch: Touch) -> None:
        super().__init__(desk, thing, touch)
        self._standing: Standing = edits_things.find_standing(desk.bed, thing)
        self._box = edits_things.box_of(self._standing)
        self._made = thing

    def release(self, touch: Touch) -> None:
        """Make the move an undo step; a copy is selected."""
        super().release(touch)
        table = self.desk.table
        if self._made != self.thing and table.document.project is self._candidate:
            table.selection.set_thing(self._made)

    def text(self) -> str:
        """Return what the undo step is called."""
        return tr("Copy {thing}", thing=self.name()) if self._made != self.thing else super().text()

    def snapped(self, touch: Touch, snapper: ThingSnapper) -> tuple[Place, tuple[Guide, ...]]:
        """Let sides and middle snap; by itself the place that is typed keeps to the tape."""
        dx, dy = Fraction(touch.x - self._start.x), Fraction(touch.y - self._start.y)
        guides: tuple[Guide, ...] = ()
        if touch.alt:
            way = free_place(dx), free_place(dy)
        else:
            left, bottom, right, top = self._box
            reach = REACH_PX * touch.pixel_mm
            xs, ys = [left, (left + right) / 2, right], [bottom, (bottom + top) / 2, top]
            if self._standing.centre is not None:
                xs, ys = [xs[1], xs[0], xs[2]], [ys[1], ys[0], ys[2]]
            off_x, guides_x = snapper.snap("x", [x + dx for x in xs], reach)
            off_y, guides_y = snapper.snap("y", [y + dy for y in ys], reach)
            way, guides = (dx + off_x, dy + off_y), (*guides_x, *guides_y)
        return self.straight(way, guides) if touch.shift else (way, guides)

    def made(self, dx: Fraction, dy: Fraction) -> Project:
        """Return the project with the thing moved or copied."""
        bed, way = self.desk.bed.name, self._typed_way(dx, dy)
        if self._last.ctrl:
            project, self._made = edits_things.duplicate_standing(
                self._project, bed, self.thing, *way
            )
            return project
        self._made = self.thing
        return edits_things.move_standing(self._project, bed, self.thing, *way)

    def look(self, project: Project) -> Look:
        """Show the outline where it goes, and its place as the fields have it."""
        made = edits_things.find_standing(edits.find_bed(project, self.desk.bed.name), self._made)
        left, bottom, right, top = edits_things.box_of(made)
        x, y = (left + right) / 2, (bottom + top) / 2
        place = (x, y) if made.centre is not None else (left, bottom)
        if self.typed.is_begun:
            words = [
                tr("right {size}", size=self.typed.words(0, left - self._box[0])),
                tr("up {size}", size=self.typed.words(1, bottom - self._box[1])),
            ]
        else:
            words = [
                tr("x {size}", size=self.desk.words(place[0])),
                tr("y {size}", size=self.desk.words(place[1])),
            ]
        labels = [
            SizeLabel(float(x), float(bottom), words[0], "below"),
            SizeLabel(float(left), float(y), words[1], "left"),
        ]
        return Look(loop_path([edits_things.loop_of(made)]), labels)

    def _typed_way(self, dx: Fraction, dy: Fraction) -> Place:
        if not self.typed.is_begun:
            return dx, dy
        # One typed number alone is meant to be the whole way, along the drag.
        typed_x, typed_y = self.typed.exact(0), self.typed.exact(1)
        if typed_y is None and typed_x is not None:
            if abs(dy) > abs(dx):
                return Fraction(0), abs(typed_x) * (-1 if dy < 0 else 1)
            return typed_x if typed_x < 0 else typed_x * (-1 if dx < 0 else 1), Fraction(0)
        return (dx if typed_x is None else typed_x), (dy if typed_y is None else typed_y)


class PullGrip(Pull):
    """A corner or a side of an obstacle or a zone pulled; typed numbers are the new sizes.

    Shift keeps the proportions of a box, and a free corner on one line with where it was.
    """

    def __init__(self, desk: ThingTable, thing: Thing, number: int, touch: Touch) -> None:
        super().__init__(desk, thing, touch)
        self._standing: Standing = edits_things.find_standing(desk.bed, thing)
        self._number = number
        self._grip: Grip = edits_things.grips_of(self._standing)[number]

    def snapped(self, touch: Touch, snapper: ThingSnapper) -> tuple[Place, tuple[Guide, ...]]:
        """Let the grip snap."""
        grip = self._grip
        dx, dy = touch.x - self._start.x, touch.y - self._start.y
        way, guides = _snapped_place(grip, dx, dy, touch, snapper)
        if not touch.shift:
            return way, guides
        if grip.is_corner and not isinstance(self._standing.shape, Polygon):
            return self._in_proportion(way), guides
        return self.straight(way, guides)

    def made(self, dx: Fraction, dy: Fraction) -> Project:
        """Return the project with the grip pulled."""
        x, y = self._place(dx, dy)
        bed = self.desk.bed.name
        return edits_things.pull_grip(self._project, bed, self.thing, self._number, x, y)

    def look(self, project: Project) -> Look:
        """Show the outline with its sizes."""
        bed = edits.find_bed(project, self.desk.bed.name)
        made = edits_things.find_standing(bed, self.thing)
        path = loop_path([edits_things.loop_of(made)])
        grip = edits_things.grips_of(made)[self._number]
        at = float(grip.x), float(grip.y)
        if isinstance(made.shape, Polygon):
            return Look(path, place_labels(self.typed, grip, at), [at])
        return Look(path, box_labels(made, self.typed), [at])

    def text(self) -> str:
        """Return what the undo step is called."""
        return tr("Change the size of {thing}", thing=self.name())

    def _place(self, dx: Fraction, dy: Fraction) -> Place:
        """Where the grip goes; typed sizes are measured from what lies opposite."""
        grip, typed = self._grip, self.typed
        x, y = grip.x + dx, grip.y + dy
        first, second = typed.exact(0), typed.exact(1)
        if isinstance(self._standing.shape, Polygon):
            return (x if first is None else first), (y if second is None else second)
        left, bottom, right, top = edits_things.box_of(self._standing)
        if isinstance(self._standing.shape, Disc):
            half = None if first is None else first / 2
            middle = (left + right) / 2, (bottom + top) / 2
            if half is None:
                return x, y
            return (
                middle[0] + (half if grip.x > middle[0] else -half),
                middle[1] + (half if grip.y > middle[1] else -half),
            )
        if not grip.moves_x and second is None:
            second = first
        if first is not None and grip.moves_x:
            x = left + first if grip.x * 2 > left + right else right - first
        if second is not None and grip.moves_y:
            y = bottom + second if grip.y * 2 > bottom + top else top - second
        return x, y

    def _in_proportion(self, way: Place) -> Place:
        left, bottom, right, top = edits_things.box_of(self._standing)
        length, width = right - left, top - bottom
        sign_x = 1 if self._grip.x * 2 > left + right else -1
        sign_y = 1 if self._grip.y * 2 > bottom + top else -1
        share = max(way[0] * sign_x / length, way[1] * sign_y / width)
        return length * share * sign_x, width * share * sign_y


class PullCorner(Pull):
    """A corner of the bed's outline pulled; typed numbers are the bed's sizes or its place."""

    def __init__(self, desk: ThingTable, thing: Thing, touch: Touch) -> None:
        super().__init__(desk, thing, touch)
        self._grip = desk.things.corners[thing.number]
        self._is_free = isinstance(desk.bed.outline, Polygon)
        self._box = exact_box(desk.bed.outline)
        self._lows: deque[tuple[Project, Place]] = deque(maxlen=8)

    def low_of(self, project: Project) -> tuple[float, float]:
        """Return where the box of the bed begins in this project, in the coordinates of before."""
        low = next((low for made, low in self._lows if made is project), None)
        return (float(low[0]), float(low[1])) if low is not None else (0.0, 0.0)

    def snapped(self, touch: Touch, snapper: ThingSnapper) -> tuple[Place, tuple[Guide, ...]]:
        """Let the corner snap."""
        dx, dy = touch.x - self._start.x, touch.y - self._start.y
        way, guides = _snapped_place(self._grip, dx, dy, touch, snapper)
        return self.straight(way, guides) if touch.shift else (way, guides)

    def made(self, dx: Fraction, dy: Fraction) -> Project:
        """Return the project with the corner pulled."""
        x, y = self._place(dx, dy)
        bed, number = self.desk.bed, self.thing.number
        made = edits_things.pulled_outline(bed, number, x, y)
        project = edits_things.pull_corner(self._project, bed.name, number, x, y)
        self._lows.appendleft((project, (made.x, made.y)))
        return project

    def look(self, project: Project) -> Look:
        """Show the outline where it goes, in the coordinates of before."""
        outline = edits.find_bed(project, self.desk.bed.name).outline
        low_x, low_y = self.low_of(project)
        length, width = map(float, exact_box(outline))
        grip = corner_grips(outline)[self.thing.number]
        spot = float(grip.x) + low_x, float(grip.y) + low_y
        if self._is_free:
            labels = place_labels(self.typed, grip, spot)
        else:
            labels = [
                SizeLabel(
                    low_x + length / 2, low_y, self.typed.words(0, exact_box(outline)[0]), "below"
                ),
                SizeLabel(
                    low_x, low_y + width / 2, self.typed.words(1, exact_box(outline)[1]), "left"
                ),
            ]
        path = loop_path([outline_loop(outline)]).translated(low_x, low_y)
        return Look(path, labels, [spot])

    def _place(self, dx: Fraction, dy: Fraction) -> Place:
        grip, typed = self._grip, self.typed
        x, y = grip.x + dx, grip.y + dy
        first, second = typed.exact(0), typed.exact(1)
        if self._is_free:
            return (x if first is None else first), (y if second is None else second)
        length, width = self._box
        if isinstance(self.desk.bed.outline, Disc):
            half = length / 2 if first is None else first / 2
            if first is not None:
                x = length / 2 + (half if grip.x * 2 > length else -half)
                y = width / 2 + (half if grip.y * 2 > width else -half)
            return x, y
        if first is not None:
            x = first if grip.x > 0 else length - first
        if second is not None:
            y = second if grip.y > 0 else width - second
        return x, y


class MoveJoint(Pull):
    """A joint between rafts moved; the typed number is the size of the first raft."""

    sizes = 1

    def __init__(self, desk: ThingTable, thing: Thing, touch: Touch) -> None:
        super().__init__(desk, thing, touch)
        self._at = edits_things.joint_place(desk.bed, thing)
        self._is_along = thing.kind == "along"
        self._first, self._last_raft = _end_sizes(desk.bed, is_along=self._is_along)

    def snapped(self, touch: Touch, snapper: ThingSnapper) -> tuple[Place, tuple[Guide, ...]]:
        """Let the joint snap to lines, otherwise the size of the first raft to the tape."""
        by = Fraction(touch.x - self._start.x if self._is_along else touch.y - self._start.y)
        if touch.alt:
            return (free_place(by), Fraction(0)), ()
        axis: Axis = "x" if self._is_along else "y"
        off, guides = snapper.snap(axis, [self._at + by], REACH_PX * touch.pixel_mm)
        if not guides:
            off = snapper.whole(self._first + by) - self._first - by
        return (by + off, Fraction(0)), guides

    def made(self, dx: Fraction, _dy: Fraction) -> Project:
        """Return the project with the joint moved, and all of its kind."""
        to = self._at + self._by(dx)
        return edits_things.move_joint(self._project, self.desk.bed.name, self.thing, to)

    def look(self, project: Project) -> Look:
        """Show the joint where it goes, with the sizes of the first rafts and the last ones."""
        bed = edits.find_bed(project, self.desk.bed.name)
        by = edits_things.joint_place(bed, self.thing) - self._at
        path = self.desk.things.path(self.thing)
        left, bottom, right, top = self.desk.things.rafts_box
        first = self.typed.words(0, self._first + by)
        last = self.desk.words(self._last_raft - by)
        first_size, last_size = float(self._first + by), float(self._last_raft - by)
        if self._is_along:
            labels = [
                SizeLabel(left + first_size / 2, bottom, first, "below"),
                SizeLabel(right - last_size / 2, bottom, last, "below"),
            ]
            return Look(path.translated(float(by), 0), labels)
        labels = [
            SizeLabel(left, bottom + first_size / 2, first, "left"),
            SizeLabel(left, top - last_size / 2, last, "left"),
        ]
        return Look(path.translated(0, float(by)), labels)

    def text(self) -> str:
        """Return what the undo step is called; a rule that has become another is named."""
        after = self._candidate or self._project
        return joint_text(self.desk.bed, edits.find_bed(after, self.desk.bed.name), self.thing)

    def _by(self, dx: Fraction) -> Fraction:
        size = self.typed.exact(0)
        return dx if size is None else size - self._first


def joint_text(before: Bed, after: Bed, thing: Thing) -> str:
    """Return what a step is called that moved joints."""
    split = edits_things.as_split(after)
    if type(before.rafts) is not type(after.rafts):
        return tr(
            "Move joints of an equal split, {along} by {across}",
            along=split.along,
            across=split.across,
        )
    return tr("Move joints along") if thing.kind == "along" else tr("Move joints across")


def place_labels(typed: TypedSizes, grip: Grip, at: tuple[float, float]) -> list[SizeLabel]:
    """Return the place of a free corner as labels beside where it is shown."""
    x, y = at
    words = (
        tr("x {size}", size=typed.words(0, grip.x)),
        tr("y {size}", size=typed.words(1, grip.y)),
    )
    return [SizeLabel(x, y, words[0], "below"), SizeLabel(x, y, words[1], "left")]


def box_labels(made: Standing, typed: TypedSizes) -> list[SizeLabel]:
    """Return the length and width of a thing as labels below it and at its left."""
    left, bottom, right, top = edits_things.box_of(made)
    along = SizeLabel(float(left + right) / 2, float(bottom), typed.words(0, right - left), "below")
    if isinstance(made.shape, Disc):
        return [along]
    middle = float(bottom + top) / 2
    return [along, SizeLabel(float(left), middle, typed.words(1, top - bottom), "left")]


def _snapped_place(
    grip: Grip, dx: float, dy: float, touch: Touch, snapper: ThingSnapper
) -> tuple[Place, tuple[Guide, ...]]:
    """How far a grip goes, in the ways it can be pulled."""
    axes: tuple[tuple[Axis, float, Fraction, bool], ...] = (
        ("x", dx, grip.x, grip.moves_x),
        ("y", dy, grip.y, grip.moves_y),
    )
    way = [Fraction(0), Fraction(0)]
    guides: tuple[Guide, ...] = ()
    for at, (axis, by, old, moves) in enumerate(axes):
        if moves and touch.alt:
            way[at] = free_place(by)
        elif moves:
            to = old + Fraction(by)
            off, found = snapper.snap(axis, [to], REACH_PX * touch.pixel_mm)
            way[at] = Fraction(by) + off
            guides += found
    return (way[0], way[1]), guides


def _end_sizes(bed: Bed, *, is_along: bool) -> tuple[Fraction, Fraction]:
    """How long the first column of rafts is, or how wide the first row, and the last one."""
    joints = joint_lines(bed)
    places = joints.along if is_along else joints.across
    half = bed.joint_gap.exact / 2
    rafts = lay_rafts(bed).rafts
    starts = [raft.x if is_along else raft.y for raft in rafts]
    ends = [raft.x + raft.shape.length if is_along else raft.y + raft.shape.width for raft in rafts]
    return places[0] - half - min(starts), max(ends) - places[-1] - half


def _beside(guide: Guide, touch: Touch) -> float:
    return touch.y if guide.axis == "x" else touch.x
