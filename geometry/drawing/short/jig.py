"""The plan of a jig board: plywood with guide holes for a row, a fence and an end stop."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from geometry.drawing.dimensions import Ruler, dimension_room, running_dimensions
from geometry.drawing.flow import (
    Column,
    Row,
    heading,
    row_room,
    row_width,
    side_by_side,
    table,
    words,
)
from geometry.drawing.lettering import line, name_list
from geometry.drawing.marks import Box, Circle, Mark, frame
from geometry.drawing.paper import PageSetup
from geometry.drawing.scales import best_scale
from geometry.drawing.short.document import (
    ShortDocument,
    ShortSet,
    error_words,
    short_document,
    spacer,
)
from geometry.drawing.short.job import Job, about, jobs
from geometry.drawing.short.rows import RowPlan, row_plan
from geometry.drawing.short.slips import (
    SET_MM,
    Error,
    First,
    Laying,
    Place,
    board_error,
    stepped_error,
    tape_mm,
)
from geometry.drawing.short.strip import pin_names
from geometry.drawing.short.strip_pages import hole_at, no_rows
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.plan import Plan
from geometry.tongue import tr
from geometry.units import MM_PER

_BEYOND_MM = 50.0
_FENCE_MM = 40.0
_DRAWINGS_MM = (105.0, 90.0, 75.0, 60.0)
"""How high the drawing may be: smaller where all then fits on one page."""
_NAME_MM = 2.8
_SETS = 2

_PILOT: Final = {"mm": "6 mm", "cm": "6 mm", "in": "1/4 in"}
"""The guide holes (common practice, no source)."""


@dataclass(frozen=True)
class Jig:
    """A board for one design, measured from the corner where fence and end stop meet.

    That corner lies on the raft's datum corner: along the fence is along the rows, away from it
    across them. ``guides`` are the holes to drill through, ``pins`` those for locating pins, with
    their names; ``board`` is the plywood without the fence.
    """

    job: Job
    plan: RowPlan
    guides: tuple[Place, ...]
    pins: tuple[tuple[str, Place], ...]
    board: Box

    @cached_property
    def error(self) -> Error:
        """The largest error where each row has its chalk line and start mark."""
        each = 2 * tape_mm(self.job.unit) + SET_MM + self.plan.off_mm
        return Error(each, each)

    @cached_property
    def stepped(self) -> Error | None:
        """The largest error by the fence for the first row and by pins for all others.

        None where no pins would do, or the last rows could be off by half a pitch.
        """
        plan = self.plan
        if not self.pins:
            return None
        first = plan.rows[0]
        named = {(pin, gap): place for (_, pin, gap), (_, place) in zip(
            pin_names(plan), self.pins, strict=True)}  # fmt: skip
        layings = []
        for number, (step, row) in enumerate(zip(plan.steps, plan.rows[1:], strict=True)):
            if step is None:
                return None
            marks = tuple(self._from_guide(named[pin, round(step.gap, 3)]) for pin in step.pins)
            onto = tuple(self._nearest(number, pin + step.shift) for pin in step.pins)
            at = (row.start - first.start, row.level - first.level)
            layings.append(Laying(at, number, (marks[0], marks[1]), (onto[0], onto[1])))
        places = [self._from_guide(place) for place in self.guides]
        pins = [self._from_guide(place) for _, place in self.pins]
        board = board_error([*places, *pins], tape_mm(self.job.unit))
        span = max(plan.strip[-1], 1.0)
        holes = [[places[mark] for mark in row.marks] for row in plan.rows]
        found = stepped_error(First(span, SET_MM, SET_MM), layings, holes, board)
        stepped = Error(found.along + plan.off_mm, found.across + plan.off_mm)
        return stepped if stepped.worst < plan.least_pitch / 2 else None

    def _from_guide(self, place: Place) -> Place:
        x, y = self.guides[0]
        return round(place[0] - x, 6), round(place[1] - y, 6)

    def _nearest(self, row: int, place: float) -> Place:
        marks = self.plan.rows[row].marks
        mark = min(marks, key=lambda each: abs(self.plan.strip[each] - place))
        return self._from_guide(self.guides[mark])


def lay_jig(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out the plan of a jig board for each raft design."""
    sets = (jig_set(job) for job in jobs(plan, setup))
    return short_document(tr("Jig board"), sets, setup, checks=False)


def jig_of(job: Job) -> Jig | None:
    """Find the board, its rows along the raft if it has such; None where there are no rows."""
    plans = [row_plan(job.design.holes, upright=upright) for upright in (False, True)]
    found = [plan for plan in plans if plan is not None]
    if not found:
        return None
    plan = min(found, key=lambda each: (len(each.strays), each.upright, len(each.rows)))
    first = plan.rows[0]
    guides = tuple((round(first.start + place, 6), first.level) for place in plan.strip)
    pins: tuple[tuple[str, Place], ...] = ()
    if None not in plan.steps:
        pins = tuple(
            (name, (round(first.start + place, 6), round(first.level - gap, 6)))
            for name, place, gap in pin_names(plan)
        )
    jig = Jig(job, plan, guides, pins, _board(guides, pins))
    if pins and jig.stepped is None:
        return replace(jig, pins=(), board=_board(guides, ()))
    return jig


def _board(guides: Sequence[Place], pins: Sequence[tuple[str, Place]]) -> Box:
    """The plywood that holds all holes, and reaches to fence and stop."""
    ys = [y for _, y in (*guides, *(place for _, place in pins))]
    return Box(
        min(0.0, guides[0][0] - _BEYOND_MM),
        min([0.0, *(y - _BEYOND_MM / 2 for y in ys)]),
        guides[-1][0] + _BEYOND_MM,
        max(ys) + _BEYOND_MM,
    )


def jig_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design."""
    jig = jig_of(job)
    if jig is None:
        return ShortSet(job, no_rows(job))
    room = row_width(job.setup.plain)
    how = tr(
        "So much comes from marking the board and the lines by tape, and from laying the board on "
        "them."
    )
    text = error_words(jig.error, how)
    if jig.stepped is not None:
        more = tr(
            "By the fence and the pins alone each row adds to it: up to {error} at the last.",
            error=about(jig.stepped.worst),
        )
        text = f"{text} {more}"
    above = (
        heading(tr("A board that drills one row after another"), room),
        words(f"{job.facts}; {job.stamp}.", room),
        words(_board_words(jig), room),
        words(text, room),
        spacer(),
    )
    below = (
        spacer(),
        *(words(f"{number}  {step}", room) for number, step in enumerate(_steps(jig), start=1)),
        spacer(),
        *_tables(jig, room),
    )
    left = row_room(job.setup.plain) - sum(row.height for row in (*above, *below))
    drawings = [_drawing(jig, room, high) for high in _DRAWINGS_MM]
    drawing = next((each for each in drawings if each.height <= left), drawings[0])
    return ShortSet(job, "", jig.error, jig.stepped, (*above, drawing, *below))


def _board_words(jig: Jig) -> str:
    job = jig.job
    return tr(
        "Plywood, {length} by {width}, 12 mm thick or so; guide holes {pilot} for the pilot drill. "
        "Below it, a batten along the fence line and one along the stop line, screwed from above "
        "so that they come off. All distances run from the corner of the two.",
        length=job.length(jig.board.width),
        width=job.length(jig.board.height),
        pilot=_PILOT[job.unit],
    )


def _steps(jig: Jig) -> Iterator[str]:
    plan = jig.plan
    if plan.upright:
        yield tr(
            "Mark the board out on its underside: it lies on the raft with the marked face down."
        )
    yield (
        tr(
            "First row: fence against the left edge of the raft, stop against its lower edge. "
            "Drill through the guide holes that the table names."
        )
        if plan.upright
        else tr(
            "First row: fence against the lower edge of the raft, stop against its left edge. "
            "Drill through the guide holes that the table names."
        )
    )
    if jig.stepped is not None:
        yield tr(
            "Next rows: take the battens off. Put pins through the locating holes into the holes "
            "of the row before, as the table says."
        )
    yield tr(
        "Or chalk a line for each row at the distances of the table, and lay the guide holes on "
        "it; that is truer, for errors do not add up."
    )


def _drawing(jig: Jig, room: float, high: float) -> Row:
    unit = jig.job.unit
    places = [*jig.guides, *(place for _, place in jig.pins)]
    xs = [0.0, *(x for x, _ in places)]
    ys = [0.0, *(y for _, y in places)]
    box = _whole(jig)
    beside, below = dimension_room(ys, unit) + 4, dimension_room(xs, unit) + 4
    scale = best_scale(box.width, box.height, room - beside - 4, high - below)
    height = box.height / scale + below + 8

    def draw(left: float, top: float) -> Iterator[Mark]:
        shift = Shift(left + beside - box.left / scale, top - 4 - box.top / scale, 1 / scale)
        yield from _marks(jig, shift)
        edge_x, edge_y = shift.point(box.left, box.bottom)
        for axis, ruler in (
            (xs, Ruler(shift.x, edge_y, 1 / scale, upright=False)),
            (ys, Ruler(shift.y, edge_x, 1 / scale, upright=True)),
        ):
            marks, _ = running_dimensions(axis, ruler, unit)
            yield from marks
        text = (
            tr("Scale 1 : {scale}. Seen from below.", scale=scale)
            if jig.plan.upright
            else tr("Scale 1 : {scale}. Seen from above.", scale=scale)
        )
        yield line(left, top - height + 1.2, text, 2.8)

    return Row(height, draw)


def _whole(jig: Jig) -> Box:
    """The board with its battens."""
    board = jig.board
    return Box(
        min(board.left, -_FENCE_MM), min(board.bottom, -_FENCE_MM), board.right, board.top
    )  # fmt: skip


def _marks(jig: Jig, shift: Shift) -> Iterator[Mark]:
    board, whole = jig.board, _whole(jig)
    for box, style in (
        (Box(0.0, -_FENCE_MM, board.right, 0.0), Style.HINT),
        (Box(-_FENCE_MM, 0.0, 0.0, board.top), Style.HINT),
        (Box(whole.left, whole.bottom, board.right, board.top), Style.SHEET),
    ):
        low, high = shift.point(box.left, box.bottom), shift.point(box.right, box.top)
        yield frame(Box(low.x, low.y, high.x, high.y), style)
    scale = shift.scale
    fence = shift.point(6 / scale, -_FENCE_MM / 2)
    yield line(fence.x, fence.y - 1, tr("fence"), _NAME_MM)
    stop = shift.point(-_FENCE_MM / 2, 4 / scale)
    yield line(stop.x + 1, stop.y, tr("stop"), _NAME_MM, angle=90)
    radius = max(float(MM_PER["in"]) / 8 * scale, 0.7)
    for number, place in enumerate(jig.guides, start=1):
        at = shift.point(*place)
        yield Circle(at, radius, Style.HOLE)
        yield line(at.x, at.y + radius + 0.8, f"{number}", _NAME_MM, style=Style.TITLE,
                   anchor="middle")  # fmt: skip
    for name, place in jig.pins:
        at = shift.point(*place)
        yield Circle(at, radius, Style.CENTRE)
        yield Circle(at, radius * 1.8, Style.CENTRE)
        yield line(at.x, at.y + radius * 1.8 + 0.8, name, _NAME_MM, anchor="middle")


def _tables(jig: Jig, room: float) -> Iterator[Row]:
    job, plan = jig.job, jig.plan
    names = job.design.holes.names
    cells = [
        (f"{number}", job.figure(x), job.figure(y))
        for number, (x, y) in enumerate(jig.guides, start=1)
    ] + [(name, job.figure(x), job.figure(y)) for name, (x, y) in jig.pins]
    columns = (
        Column(tr("guide"), 14),
        Column(tr("from stop ({unit})", unit=job.unit), 30, "right"),
        Column(tr("from fence"), 24, "right"),
    )
    yield heading(tr("Holes of the board; letters are locating holes"), room)
    yield from side_by_side(columns, cells, _SETS)
    yield spacer()
    yield heading(tr("The rows"), room)
    wide: list[Column] = [
        Column(tr("row"), 11),
        Column(tr("holes"), 34, keeps_end=True),
        Column(tr("guides"), 26),
        Column(tr("line at {axis} ({unit})", axis="x" if plan.upright else "y", unit=job.unit), 30,
               "right"),
        Column(tr("guide 1 at {axis} ({unit})", axis="y" if plan.upright else "x", unit=job.unit),
               36, "right"),
    ]  # fmt: skip
    if jig.stepped is not None:
        wide.append(Column(tr("pins"), room - sum(column.width for column in wide)))
    yield from table(wide, list(_row_cells(jig, len(wide))))
    if plan.strays:
        holes = name_list([names[hole] for hole in plan.strays])
        yield words(
            tr("Not with this board, to be marked by tape from the cut sheet: {holes}.",
               holes=holes),
            room,
        )  # fmt: skip


def _row_cells(jig: Jig, columns: int) -> Iterator[Sequence[str]]:
    job, plan = jig.job, jig.plan
    names = job.design.holes.names
    pins = {(pin, gap): name for name, pin, gap in pin_names(plan)}
    for number, row in enumerate(plan.rows):
        first, last = names[row.holes[0]], names[row.holes[-1]]
        cells = [
            f"{number + 1}",
            first if len(row.holes) == 1 else f"{first} … {last}",
            name_list([f"{mark + 1}" for mark in row.marks]),
            job.figure(row.level),
            job.figure(row.start),
        ]
        if columns > len(cells):
            step = plan.steps[number - 1] if number else None
            texts = (
                tr(
                    "{mark} in {hole}",
                    mark=pins[pin, round(step.gap, 3)],
                    hole=names[hole_at(plan, number - 1, pin + step.shift)],
                )
                for pin in (step.pins if step else ())
                if step is not None
            )
            cells.append(", ".join(texts) if number else tr("fence and stop"))
        yield cells
