"""The single cell: one repeat of the pattern at true size, stepped from hole to hole."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, partial
from itertools import pairwise, product
from math import dist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.flow import Column, Row, heading, table
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Circle, Group, Mark, Path, polyline, stroke
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.raft import pilot_mark
from geometry.drawing.short.document import (
    ShortDocument,
    ShortSet,
    error_words,
    plain_room,
    set_rows,
    short_document,
)
from geometry.drawing.short.job import Job, about, jobs
from geometry.drawing.short.picture import raft_picture
from geometry.drawing.short.rows import FIT_MM, RowPlan, row_plan
from geometry.drawing.short.slips import (
    JOIN_MM,
    PIN_MM,
    PRINT_SHARE,
    SET_MM,
    Error,
    First,
    Laying,
    Place,
    paper_error,
    stepped_error,
    tape_mm,
)
from geometry.drawing.short.strip_pages import no_rows
from geometry.drawing.short.true_page import cross_mark, true_page, true_room
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.model.curves import Point
from geometry.plan import Plan
from geometry.tongue import tr

_PAD_MM = 7.0
_JOIN_PAD_MM = 6.0
_CHECK_MM = 0.5
"""What the check of the cell's distances by tape lets pass."""

_NAMES: Final = ("a", "b", "c", "d")


@dataclass(frozen=True)
class Cell:
    """One repeat: ``marks`` a and b in a row, c (and d) in the next, from a along and across.

    ``row`` and ``first`` say where on the raft it is drawn: a row of the plan and a mark in it.
    ``off_mm`` is the most that a hole lies beside its place when the cell repeats exactly. A cell
    that is too large for a page is ``cut`` in two at that place along the row.
    """

    job: Job
    plan: RowPlan
    marks: tuple[Place, ...]
    row: int
    first: int
    off_mm: float
    turned: bool
    cut: float | None = None

    @property
    def printed(self) -> float:
        """What paper can put wrong from a to b: no more than the check by tape lets pass."""
        joined = 0.0 if self.cut is None else JOIN_MM
        return min(PRINT_SHARE * self.pitch + joined, _CHECK_MM)

    @property
    def radius(self) -> float:
        """The radius of the largest hole."""
        return float(self.job.design.holes.diameters.max() / 2)

    @property
    def pitch(self) -> float:
        """From mark a to mark b."""
        return self.marks[1][0]

    @property
    def steps(self) -> int:
        """How often the cell moves along the longest row."""
        return max(len(self.plan.strip) - 2, 0)

    @cached_property
    def error(self) -> Error:
        """The largest error where each row has its chalk line, a start mark, and is stepped."""
        line_error = SET_MM + tape_mm(self.job.unit)
        along = line_error + self.printed * (self.steps + 1) + PIN_MM * self.steps
        return Error(along + self.off_mm, line_error + self.off_mm)

    @property
    def _sizes(self) -> NDArray[np.float64]:
        """By what share paper can be wrong along the row and across it."""
        gap = abs(self.marks[2][1])
        return np.array([self.printed / self.pitch, min(PRINT_SHARE, _CHECK_MM / gap)])

    @cached_property
    def stepped(self) -> Error | None:
        """The largest error where only the first row has one.

        None for a cell of three, or where the last holes could be off by half a pitch.
        """
        if len(self.marks) < 4 or len(self.plan.rows) < 2:
            return None
        a, b, c, d = self.marks
        ups, alongs = len(self.plan.rows) - 2, self.steps
        layings: list[Laying] = []
        at = (0.0, 0.0)
        for number in range(ups + alongs):
            goes_up = number < ups
            move = c if goes_up else b
            at = (at[0] + move[0], at[1] + move[1])
            marks, onto = ((a, b), (c, d)) if goes_up else ((a, c), (b, d))
            layings.append(Laying(at, number, marks, onto))
        line_error = SET_MM + tape_mm(self.job.unit)
        found = stepped_error(
            First(self.pitch, line_error, line_error),
            layings,
            [list(self.marks)] * (len(layings) + 1),
            (self._sizes, paper_error(0.0, ())[1]),
        )
        stepped = Error(found.along + self.off_mm, found.across + self.off_mm)
        return stepped if stepped.worst < self.pitch / 2 else None


def lay_cell(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out the single cell of each raft design."""
    return short_document(tr("Cell"), (cell_set(job) for job in jobs(plan, setup)), setup)


def cell_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design."""
    found = cell_of(job)
    if isinstance(found, str):
        return ShortSet(job, found)
    room = plain_room(job.setup)
    below = tuple(_distance_table(found, room))
    how = tr(
        "So much comes from setting each row by tape, and then from every step along it, which "
        "adds the slip of a nail and what the printer is wrong by."
    )
    text = error_words(found.error, how)
    if found.stepped is not None:
        more = tr(
            "With a chalk line for the first row only, up to {error} at the last hole.",
            error=about(found.stepped.worst),
        )
        text = f"{text} {more}"
    sheets = tuple(partial(_page, found, piece) for piece in pieces(found))
    rows = set_rows(job, text, _steps(found), partial(_picture, found), below)
    return ShortSet(job, "", found.error, found.stepped, rows, sheets)


def cell_of(job: Job) -> Cell | str:
    """Find the cell of a design that fits on a page; else say why there is none."""
    plans = [row_plan(job.design.holes, upright=upright) for upright in (False, True)]
    if not any(plans):
        return no_rows(job)
    found = [cell for plan in plans if plan is not None and (cell := _repeat(job, plan))]
    if not found:
        return tr(
            "No cell repeats over the whole raft: rows, or the holes of a row, stand at unlike "
            "distances."
        )
    fitting = [fits for cell in found for fits in _fitted(cell)]
    if not fitting:
        cell = min(found, key=lambda each: max(map(abs, (each.pitch, each.marks[2][1]))))
        room = true_room(job.setup)
        return tr(
            "The cell, {pitch} by {gap}, is too large for the paper: about {width} by {height} mm "
            "would have room. Choose larger paper.",
            pitch=job.length(cell.pitch),
            gap=job.length(abs(cell.marks[2][1])),
            width=round(2 * (room.width - _PAD_MM - _JOIN_PAD_MM)),
            height=round(room.height - 2 * _PAD_MM),
        )
    return min(fitting, key=lambda cell: (-len(cell.marks), len(pieces(cell)), cell.error.worst))


def _repeat(job: Job, plan: RowPlan) -> Cell | None:
    """Tell what repeats; None where rows or the holes of a row are unlike."""
    count = len(plan.strip)
    if count < 2 or len(plan.rows) < 2 or plan.strays:
        return None
    pitch = plan.strip[-1] / (count - 1)
    off = float(np.abs(np.array(plan.strip) - pitch * np.arange(count)).max())
    levels = np.array([row.level for row in plan.rows])
    gap = float((levels[-1] - levels[0]) / (len(levels) - 1))
    off = max(off, float(np.abs(levels - levels[0] - gap * np.arange(len(levels))).max()))
    shifts = [(row.start - before.start) % pitch for before, row in pairwise(plan.rows)]
    aside = min(shifts[0], pitch - shifts[0])
    unlike = max(min(abs(shift - aside), abs(shift - pitch + aside), abs(shift - pitch - aside))
                 for shift in shifts)  # fmt: skip
    if max(off, unlike) > FIT_MM:
        return None
    # A row of the raft and a mark in it over which the next row leans the way it is drawn.
    lean = aside if shifts[0] <= pitch / 2 else -aside
    first = 0 if lean >= 0 else 1
    across = gap * -plan.side
    marks = ((0.0, 0.0), (pitch, 0.0), (lean, across), (lean + pitch, across))
    off += max(plan.off_mm, unlike)
    return Cell(job, plan, marks, 0, first, off, turned=False)


def _fitted(cell: Cell) -> Iterator[Cell]:
    """Give the cell of four, or else of three, each way round and whole or cut, that has room."""
    room = true_room(cell.job.setup)
    for count in (4, 3):
        marks = cell.marks[:count]
        far = (marks[1][0] + marks[2][0]) / 2
        cuts = (None, far) if count == 4 else (None,)
        for cut, turned in product(cuts, (False, True)):
            found = replace(cell, marks=marks, cut=cut, turned=turned)
            sizes = [_size(piece, found) for piece in pieces(found)]
            if all(width <= room.width and height <= room.height for width, height in sizes):
                yield found


def pieces(cell: Cell) -> tuple[tuple[Place, ...], ...]:
    """Return the marks of the cell's pages: all, or those before and beyond the cut."""
    if cell.cut is None:
        return (cell.marks,)
    a, b, c, *d = cell.marks
    return (a, c), (b, *d)


def _shown(piece: Sequence[Place], cell: Cell) -> Box:
    """The part of the cell that a page shows, some way beyond its marks and its join."""
    marks = np.array(piece)
    (left, bottom), (right, top) = marks.min(axis=0).tolist(), marks.max(axis=0).tolist()
    if cell.cut is None:
        return Box(left, bottom, right, top).grown(_PAD_MM)
    before = right < cell.cut
    box = Box(left, bottom, right, top).grown(_PAD_MM)
    if before:
        return box._replace(right=cell.cut + _JOIN_PAD_MM)
    return box._replace(left=cell.cut - _JOIN_PAD_MM)


def _size(piece: Sequence[Place], cell: Cell) -> tuple[float, float]:
    shown = _shown(piece, cell)
    return (shown.height, shown.width) if cell.turned else (shown.width, shown.height)


def on_page(piece: Sequence[Place], cell: Cell) -> Shift:
    """Return how places of the cell become places of the page of one of its pieces."""
    room, shown = true_room(cell.job.setup), _shown(piece, cell)
    middle_x, middle_y = (shown.left + shown.right) / 2, (shown.bottom + shown.top) / 2
    x, y = (room.left + room.right) / 2, (room.bottom + room.top) / 2
    if cell.turned:
        return Shift(x + middle_y, y - middle_x, quarters=1)
    return Shift(x - middle_x, y - middle_y)


def _page(cell: Cell, piece: Sequence[Place], number: int, total: int) -> Page:
    text = tr(
        "Marks a and b lie in one row, the others in the next. The heavy line is laid on the "
        "chalk line of the row."
    )
    if cell.cut is not None:
        joins = tr("Two pages: lay cross on cross along a straight edge and tape them together.")
        text = f"{text} {joins}"
    shift, room, shown = on_page(piece, cell), true_room(cell.job.setup), _shown(piece, cell)
    ends = stroke(Point(shown.left, 0), Point(shown.right, 0), Style.REFERENCE)
    groups = [Group("row line", (shift.mark(ends),))]
    for name, mark in zip(_NAMES, cell.marks, strict=False):
        if mark not in piece:
            continue
        centre = shift.point(*mark)
        marks: list[Mark] = [
            *pilot_mark(centre, cell.radius),
            line(centre.x + 2.4, centre.y + 2.4, name, 5.0, style=Style.TITLE),
        ]
        rim = Box(*centre, *centre).grown(cell.radius)
        if (
            rim.left >= room.left
            and rim.right <= room.right
            and rim.grown(1e-6).bottom >= room.bottom
        ):
            marks.insert(0, Circle(centre, cell.radius, Style.HOLE))
        groups.append(Group(f"mark {name}", tuple(marks)))
    if cell.cut is not None:
        places = [shown.bottom + shown.height * share for share in (0.25, 0.75)]
        crosses = [cross_mark(shift.point(cell.cut, y)) for y in places]
        groups += [Group(f"join {n + 1}", marks) for n, marks in enumerate(crosses)]
    return true_page(cell.job, tr("Cell"), text, groups, number, total)


def _steps(cell: Cell) -> tuple[tuple[str, str], ...]:
    plan = cell.plan
    lines = (
        tr("One for each row, level with the left edge, and mark where its first hole is.")
        if plan.upright
        else tr("One for each row, level with the lower edge, and mark where its first hole is.")
    )
    steps = [
        (tr("Check the cell"), tr("The distances of the table, by tape, to half a millimetre.")),
        (tr("Chalk the rows"), lines),
        (
            tr("Step along each row"),
            tr(
                "Heavy line on the chalk line, a on the first mark: punch b. Then a on the mark "
                "just made, and so on to the end of the row."
            ),
        ),
    ]
    if cell.stepped is not None:
        steps.append(
            (
                tr("Or step without lines"),
                tr(
                    "Only the first row has a line. Punch c and d as well, then lay a and b on "
                    "them for the next row, or a and c on b and d for the next cell: errors grow "
                    "fast."
                ),
            )
        )
    return tuple(steps)


def _distance_table(cell: Cell, room: float) -> Iterator[Row]:
    job, plan = cell.job, cell.plan
    names = dict(zip(_NAMES, cell.marks, strict=False))
    pairs = ("ab", "ac", "ad", "bc")
    cells = [
        ("\N{EN DASH}".join(pair),
         job.figure(dist(names[pair[0]], names[pair[1]])))
        for pair in pairs if pair[0] in names and pair[1] in names
    ]  # fmt: skip
    columns = (Column(tr("check"), 22), Column(f"({job.unit})", 22, "right"))
    holes = job.design.holes.names
    yield heading(tr("Distances to check, and the rows from the datum corner"), room)
    wide = (
        *columns,
        Column("", 8),
        Column(tr("row"), 12),
        Column(tr("first hole"), 20),
        Column(tr("line at {axis} ({unit})", axis="x" if plan.upright else "y", unit=job.unit), 36,
               "right"),
        Column(tr("first at {axis} ({unit})", axis="y" if plan.upright else "x", unit=job.unit),
               36, "right"),
        Column(tr("holes"), 16, "right"),
    )  # fmt: skip
    count = max(len(cells), len(plan.rows))
    rows = []
    for number in range(count):
        pair = cells[number] if number < len(cells) else ("", "")
        if number < len(plan.rows):
            row = plan.rows[number]
            start = row.start + plan.strip[row.marks[0]]
            rest = (f"{number + 1}", holes[row.holes[0]], job.figure(row.level),
                    job.figure(start), f"{len(row.holes)}")  # fmt: skip
        else:
            rest = ("",) * 5
        rows.append((*pair, "", *rest))
    yield from table(wide, rows)


def _picture(cell: Cell, size: tuple[float, float], left: float, top: float) -> Iterator[Mark]:
    """Draw the raft with its rows and the cell where it begins."""
    plan, shape = cell.plan, cell.job.design.shape
    shift, marks = raft_picture(cell.job, size, left, top)
    yield from marks
    far = float(shape.width if plan.upright else shape.length)
    for row in plan.rows:
        ends = (-row.start, far - row.start)
        start, end = (shift.point(*plan.place(row, (each, 0))) for each in ends)
        yield stroke(start, end, Style.HINT)
    row = plan.rows[cell.row]
    at = plan.strip[min(cell.first, len(plan.strip) - 2)]
    places = [shift.point(*plan.place(row, (at + x, y))) for x, y in cell.marks]
    order = (0, 1, 3, 2) if len(places) == 4 else (0, 1, 2)
    yield Path(
        polyline([places[number] for number in order], Style.SHEET, closed=True).curves,
        Style.SHEET,
        closed=True,
    )
