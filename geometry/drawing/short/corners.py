"""The corner set: pages on the corners of the raft, and chalk lines snapped between their marks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Final, Literal

import numpy as np

from geometry.drawing.flow import Column, Row, heading, side_by_side
from geometry.drawing.lettering import line, text_box
from geometry.drawing.marks import Anchor, Box, Circle, Group, Mark, Text, frame, stroke
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.raft import datum_corner
from geometry.drawing.short.document import (
    ShortDocument,
    ShortSet,
    error_words,
    plain_room,
    set_rows,
    short_document,
)
from geometry.drawing.short.job import Job, jobs
from geometry.drawing.short.picture import raft_picture
from geometry.drawing.short.slips import PRINT_SHARE, SET_MM, Error, tape_mm
from geometry.drawing.short.true_page import true_page, true_room
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.drawing.transforms import Shift
from geometry.model.curves import Point
from geometry.plan import Plan
from geometry.tongue import mark, tr

_BEYOND_MM = 6.0
_CROSS_MM = 4.0
_SAME_MM = 0.02
_LABEL_MM = 2.8
_NAME_MM = 4.0
_ASIDE_MM = 2.4
_DATUM_LEG_MM = 20.0
_SETS = 3

Axis = Literal[0, 1]

_NAMES: Final = {
    (0, 0): mark("lower left, the datum corner"),
    (1, 0): mark("lower right"),
    (0, 1): mark("upper left"),
    (1, 1): mark("upper right"),
}


@dataclass(frozen=True, slots=True)
class CornerPage:
    """One page: the corner it lies on (0 or 1 each way) and the part of the raft it shows."""

    corner: tuple[int, int]
    view: Box


@dataclass(frozen=True)
class CornerSet:
    """The pages of one design, and the lines on which its holes stand.

    ``lines`` are the places of the lines along x, then along y, from the datum corner; the pages
    lie ``turned`` on the raft where that shows more lines.
    """

    job: Job
    lines: tuple[tuple[float, ...], tuple[float, ...]]
    pages: tuple[CornerPage, ...]
    turned: bool

    def printed(self, axis: Axis) -> tuple[bool, ...]:
        """Tell of each line whether pages at both of its ends show it."""
        return tuple(self._reach(axis, place) is not None for place in self.lines[axis])

    def error_of(self, axis: Axis, place: float) -> float:
        """How far a line can be off: by its marks on two pages, or by tape along two edges."""
        reach = self._reach(axis, place)
        if reach is None:
            return tape_mm(self.job.unit) + SET_MM
        return 2 * SET_MM + PRINT_SHARE * reach

    @cached_property
    def error(self) -> Error:
        """The largest error: a hole is as far off as the two lines that cross in it."""
        along, across = (
            max(self.error_of(axis, place) for place in self.lines[axis]) for axis in _AXES
        )
        return Error(along, across)

    def _reach(self, axis: Axis, place: float) -> float | None:
        """How far a line lies from the edge that its pages are laid on; None without marks."""
        size = _sides(self.job)[axis]
        reach = [
            size - place if page.corner[axis] else place
            for page in self.pages
            if _span(page.view, axis)[0] <= place <= _span(page.view, axis)[1]
        ]
        return min(reach, default=None)


_AXES: Final[tuple[Axis, Axis]] = (0, 1)


def lay_corners(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out the corner pages of each raft design."""
    return short_document(tr("Corners"), (corner_set(job) for job in jobs(plan, setup)), setup)


def corners_of(job: Job) -> CornerSet | None:
    """Find the pages and lines of a design; None where lines would be more than holes."""
    holes = job.design.holes
    lines = (_lines(holes.xy[:, 0]), _lines(holes.xy[:, 1]))
    if len(holes) < 2 or len(lines[0]) + len(lines[1]) > len(holes) + 1:
        return None
    found = [_paged(job, lines, turned=turned) for turned in (False, True)]
    return max(found, key=lambda each: (-len(each.pages), sum(map(sum, map(each.printed, _AXES)))))


def corner_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design."""
    corners = corners_of(job)
    if corners is None:
        return ShortSet(
            job,
            tr(
                "The holes stand on more lines than there are holes: mark each by tape from the "
                "hole table of the cut sheet, or take the full template."
            ),
        )
    room = plain_room(job.setup)
    below = tuple(_line_table(corners, room))
    how = tr(
        "So much comes from laying the pages on the edges, from the printer over the length of a "
        "page, and from the string; or from the tape, for lines that no page shows."
    )
    text = error_words(corners.error, how)
    rows = set_rows(job, text, _steps(corners), partial(_picture, corners), below)
    sheets = tuple(partial(_page, corners, page) for page in corners.pages)
    return ShortSet(job, "", corners.error, None, rows, sheets)


def _sides(job: Job) -> tuple[float, float]:
    return float(job.design.shape.length), float(job.design.shape.width)


def _span(view: Box, axis: Axis) -> tuple[float, float]:
    return (view.left, view.right) if axis == 0 else (view.bottom, view.top)


def _lines(places: np.ndarray[tuple[int], np.dtype[np.float64]]) -> tuple[float, ...]:
    rising = np.sort(places)
    groups = np.split(rising, np.flatnonzero(np.diff(rising) > _SAME_MM) + 1)
    return tuple(float(group.mean()) for group in groups if len(group))


def _paged(
    job: Job, lines: tuple[tuple[float, ...], tuple[float, ...]], *, turned: bool
) -> CornerSet:
    """Lay a page on every corner; where one reaches over the whole raft it does for both ends."""
    room = true_room(job.setup)
    sizes = (room.height, room.width) if turned else (room.width, room.height)
    starts: list[list[tuple[int, float]]] = []
    for size, side in zip(sizes, _sides(job), strict=True):
        ends = [(0, -_BEYOND_MM)]
        if size < side + 2 * _BEYOND_MM:
            ends.append((1, side + _BEYOND_MM - size))
        starts.append(ends)
    pages = tuple(
        CornerPage((right, up), Box(left, bottom, left + sizes[0], bottom + sizes[1]))
        for up, bottom in starts[1]
        for right, left in starts[0]
    )
    return CornerSet(job, lines, pages, turned)


def _page(corners: CornerSet, page: CornerPage, number: int, total: int) -> Page:
    text = tr(
        "Corner: {name}. Lay the heavy lines on the edges of the raft. Snap a chalk line between "
        "each figure here and the same figure on the other page.",
        name=tr(_NAMES[page.corner]),
    )
    groups = tuple(_groups(corners, page))
    return true_page(corners.job, tr("Corners"), text, groups, number, total)


def _groups(corners: CornerSet, page: CornerPage) -> Iterator[Group]:
    job, room, view = corners.job, true_room(corners.job.setup), page.view
    shift = (
        Shift(room.left + view.top, room.bottom - view.left, quarters=1)
        if corners.turned
        else Shift(room.left - view.left, room.bottom - view.bottom)
    )
    yield Group("edges", tuple(_edges(corners, page, shift)))
    figures: list[Mark] = []
    for axis in _AXES:
        for place in corners.lines[axis]:
            low, high = _span(view, axis)
            if low <= place <= high:
                name = f"{'xy'[axis]} {place:.3f}"
                marks = tuple(_line(corners, page, axis, place, shift))
                figures += marks
                yield Group(f"line {name}", marks)
    inside = view.grown(-_CROSS_MM)
    holes = job.design.holes
    shown = [
        (name, shift.point(x, y), diameter / 2, view.grown(-diameter / 2).meets(_around(x, y)))
        for name, (x, y), diameter in zip(
            holes.names, holes.xy.tolist(), holes.diameters.tolist(), strict=True
        )
        if inside.left <= x <= inside.right and inside.bottom <= y <= inside.top
    ]
    start, end = shift.point(0, 0), shift.point(*(1 - 2 * side for side in page.corner))
    names = _hole_names(
        [(name, at) for name, at, _, _ in shown],
        (end.x - start.x, end.y - start.y),
        room,
        [box for box in map(text_box, figures) if box is not None],
    )
    for name, centre, radius, is_whole in shown:
        circle = (Circle(centre, radius, Style.HOLE),) if is_whole else ()
        written = (names[name],) if name in names else ()
        yield Group(f"hole {name}", (*circle, *written))


def _around(x: float, y: float) -> Box:
    return Box(x, y, x, y).grown(1e-6)


def _hole_names(
    holes: Sequence[tuple[str, Point]],
    inwards: tuple[float, float],
    room: Box,
    taken: list[Box],
) -> dict[str, Text]:
    """Write names towards the middle of the raft: at its edges stand the figures of the lines.

    Where the page ends before a name does, it stands on another side of its cross, or not at all
    where all sides are ``taken``.
    """
    right, up = inwards
    names: dict[str, Text] = {}
    late: list[tuple[str, Point]] = []
    for name, centre in holes:
        text, box = _beside(name, centre, right, up)
        if _holds(room, box):
            names[name] = text
            taken.append(box)
        else:
            late.append((name, centre))
    for name, centre in late:
        for sides in ((-right, up), (right, -up), (-right, -up)):
            text, box = _beside(name, centre, *sides)
            if _holds(room, box) and not any(box.meets(other) for other in taken):
                names[name] = text
                taken.append(box)
                break
    return names


def _beside(name: str, centre: Point, right: float, up: float) -> tuple[Text, Box]:
    x = centre.x + (_ASIDE_MM if right > 0 else -_ASIDE_MM)
    y = centre.y + (_ASIDE_MM if up > 0 else -_ASIDE_MM - _NAME_MM * CAP_HEIGHT)
    anchor: Anchor = "left" if right > 0 else "right"
    text = line(x, y, name, _NAME_MM, style=Style.TITLE, anchor=anchor)
    return text, text_box(text) or Box(x, y, x, y)


def _holds(room: Box, box: Box) -> bool:
    return (
        room.left <= box.left
        and box.right <= room.right
        and room.bottom <= box.bottom
        and box.top <= room.top
    )


def _edges(corners: CornerSet, page: CornerPage, shift: Shift) -> Iterator[Mark]:
    length, width = _sides(corners.job)
    view = page.view
    left, right = max(view.left, 0.0), min(view.right, length)
    bottom, top = max(view.bottom, 0.0), min(view.top, width)
    for y in (0.0, width):
        if view.bottom <= y <= view.top:
            yield shift.mark(stroke(Point(left, y), Point(right, y), Style.DATUM))
    for x in (0.0, length):
        if view.left <= x <= view.right:
            yield shift.mark(stroke(Point(x, bottom), Point(x, top), Style.DATUM))
    if page.corner == (0, 0):
        yield shift.mark(datum_corner(Point(0, 0), _DATUM_LEG_MM))
        # outside the raft: within it stand the figures of its first lines
        aside = 1 - _BEYOND_MM
        at = shift.point(aside, 0) if corners.turned else shift.point(0, aside)
        anchor: Anchor = "right" if corners.turned else "left"
        yield line(at.x, at.y, tr("datum corner"), _LABEL_MM, anchor=anchor)


def _line(
    corners: CornerSet, page: CornerPage, axis: Axis, place: float, shift: Shift
) -> Iterator[Mark]:
    """Draw a line over the whole page, its figure beside the edge that it runs to."""
    view, sides = page.view, _sides(corners.job)
    other: Axis = 1 if axis == 0 else 0
    low, high = _span(view, other)
    low, high = max(low, 0.0), min(high, sides[other])
    near = low + 3 if page.corner[other] == 0 else high - 3

    def at(along: float, aside: float = 0.0) -> Point:
        return shift.point(*((place + aside, along) if axis == 0 else (along, place + aside)))

    yield stroke(at(low), at(high), Style.REGISTRATION)
    upright = (axis == 0) != corners.turned
    text = f"{'xy'[axis]} {corners.job.figure(place)}"
    start = at(near)
    outward = page.corner[other] == 1
    if upright:
        yield line(start.x - 0.8, start.y, text, _LABEL_MM, angle=90,
                   anchor="right" if outward else "left")  # fmt: skip
    else:
        flipped = outward != corners.turned
        yield line(start.x, start.y + 0.8, text, _LABEL_MM, anchor="right" if flipped else "left")


def _steps(corners: CornerSet) -> tuple[tuple[str, str], ...]:
    by_tape = not all(all(corners.printed(axis)) for axis in _AXES)
    shape = corners.job.design.shape
    across = corners.job.length(float(np.hypot(*_sides(corners.job))))
    square = tr("Both diagonals of the raft must be {across}.", across=across)
    steps = [
        (
            tr("Lay the pages"),
            tr(
                "One on each corner, printed edges on the edges of the raft, and tape them down. "
                "{square}",
                square=square,
            ),
        ),
        (
            tr("Snap the lines"),
            tr("A chalk line from each figure to the same figure on the page across."),
        ),
    ]
    if by_tape:
        steps.append(
            (
                tr("The lines in between"),
                tr(
                    "Mark those that no page shows by tape on both edges, always from the datum "
                    "corner, as the table says."
                ),
            )
        )
    steps.append(
        (
            tr("Punch the holes"),
            tr("Where two lines cross: not at every crossing, only where the picture has a hole."),
        )
    )
    if not shape.is_rectangle:
        steps.append((tr("Cut to shape last"), tr("Until then the raft has all its corners.")))
    return tuple(steps)


def _line_table(corners: CornerSet, room: float) -> Iterator[Row]:
    unit = corners.job.unit
    columns = (
        Column(tr("line"), 10),
        Column(f"({unit})", 22, "right"),
        Column(tr("from"), 26),
    )
    cells = [
        ("xy"[axis], corners.job.figure(place), tr("the pages") if printed else tr("the tape"))
        for axis in _AXES
        for place, printed in zip(corners.lines[axis], corners.printed(axis), strict=True)
    ]
    yield heading(tr("The chalk lines, from the datum corner"), room)
    yield from side_by_side(columns, cells, _SETS)


def _picture(
    corners: CornerSet, size: tuple[float, float], left: float, top: float
) -> Iterator[Mark]:
    """Draw the raft with its lines and the pages on its corners."""
    shift, marks = raft_picture(corners.job, size, left, top)
    yield from marks
    length, width = _sides(corners.job)
    for x in corners.lines[0]:
        yield stroke(shift.point(x, 0), shift.point(x, width), Style.HINT)
    for y in corners.lines[1]:
        yield stroke(shift.point(0, y), shift.point(length, y), Style.HINT)
    whole = Box(0, 0, length, width)
    for page in corners.pages:
        view = page.view
        shown = Box(
            max(view.left, whole.left), max(view.bottom, whole.bottom),
            min(view.right, whole.right), min(view.top, whole.top),
        )  # fmt: skip
        low, high = shift.point(shown.left, shown.bottom), shift.point(shown.right, shown.top)
        yield frame(Box(low.x, low.y, high.x, high.y), Style.SHEET)
