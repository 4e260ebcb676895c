"""The trace: only the pages along the curved and notched edges, each set on chalk lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property, partial
from itertools import product
from math import ceil

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.flow import heading, words
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Group, Mark, Path, frame, stroke
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.raft import datum_corner
from geometry.drawing.shaping import shaping_rows
from geometry.drawing.short.document import (
    ShortDocument,
    ShortSet,
    plain_room,
    set_rows,
    short_document,
)
from geometry.drawing.short.job import Job, about, jobs
from geometry.drawing.short.picture import raft_picture
from geometry.drawing.short.slips import PRINT_SHARE, SET_MM, Error, tape_mm
from geometry.drawing.short.true_page import true_page, true_room
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Curve, Line, Point
from geometry.model.edges import unit
from geometry.model.measure import bounds_of
from geometry.plan import Plan
from geometry.tongue import tr
from geometry.units import MM_PER, TOLERANCE_MM

_OVERLAP_MM = 6.0
_APART_MM = 2.0
_TRIALS = 8
_LABEL_MM = 2.8
_DATUM_LEG_MM = 20.0

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Trace:
    """The pages of one design.

    ``views`` are the parts of the raft that they show, ``turned`` a quarter to the left or not.
    """

    job: Job
    views: tuple[Box, ...]
    turned: bool

    @cached_property
    def curved(self) -> tuple[Curve, ...]:
        """The edges that are traced: all that do not lie on the box around the raft."""
        return tuple(curve for curve in self.job.design.shape.loop.curves
                     if not _on_box(curve, self.job))  # fmt: skip

    @property
    def step(self) -> float:
        """How far apart the chalk lines are: 100 mm or 4 in."""
        return float(line_step(self.job))

    def lines(self, view: Box) -> tuple[tuple[float, ...], tuple[float, ...]]:
        """Return the chalk lines of a page along x and along y, from the datum corner."""
        shape = self.job.design.shape
        found = []
        for low, high, side in (
            (view.left, view.right, float(shape.length)),
            (view.bottom, view.top, float(shape.width)),
        ):
            first, last = max(low, 0.0) + _APART_MM, min(high, side) - _APART_MM
            places = np.arange(ceil(first / self.step), last / self.step + 1e-9) * self.step
            found.append(tuple(places.tolist()))
        return found[0], found[1]

    @cached_property
    def error(self) -> Error:
        """How far a point of the edge can be off: tape, setting, and the printer from a line on."""
        far = [0.0, 0.0]
        for view in self.views:
            shown = _shown(self.points, view)
            for axis, lines in enumerate(self.lines(view)):
                if len(shown) and lines:
                    away = np.abs(shown[:, axis, None] - np.array(lines)).min(axis=1)
                    far[axis] = max(far[axis], float(away.max()))
        base = tape_mm(self.job.unit) + SET_MM
        return Error(base + PRINT_SHARE * far[0], base + PRINT_SHARE * far[1])

    @cached_property
    def points(self) -> Floats:
        """Points along the traced edges."""
        return traced_points(self.curved)


def lay_trace(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out the trace of each raft design."""
    return short_document(tr("Trace"), (trace_set(job) for job in jobs(plan, setup)), setup)


def line_step(job: Job) -> Fraction:
    """Return the distance of two chalk lines: 100 mm, or 4 in."""
    return 4 * MM_PER["in"] if job.unit == "in" else Fraction(100)


def traced_points(curves: Sequence[Curve]) -> Floats:
    """Return points along curves, a millimetre apart or so."""
    points: list[tuple[float, float]] = []
    for curve in curves:
        match curve:
            case Line(start, end):
                count = max(2, ceil(float(np.hypot(end.x - start.x, end.y - start.y))))
                shares = np.linspace(0, 1, count)
                xs = start.x + shares * (end.x - start.x)
                ys = start.y + shares * (end.y - start.y)
                points += zip(xs.tolist(), ys.tolist(), strict=True)
            case Arc(centre, radius, angle, sweep):
                count = max(2, ceil(abs(sweep) * radius))
                for at in np.linspace(angle, angle + sweep, count).tolist():
                    towards = unit(at)
                    points.append((centre.x + radius * towards.x, centre.y + radius * towards.y))
    return np.array(points, dtype=np.float64).reshape(-1, 2)


def trace_of(job: Job) -> Trace | None:
    """Find the fewest pages along the odd edges; None where there are none."""
    empty = Trace(job, (), turned=False)
    if job.design.shape.is_rectangle or not empty.curved:
        return None
    points = empty.points
    room = true_room(job.setup)
    found: list[Trace] = []
    for turned in (False, True):
        width, height = (room.height, room.width) if turned else (room.width, room.height)
        step_x, step_y = width - _OVERLAP_MM, height - _OVERLAP_MM
        for right, up in product(range(_TRIALS), repeat=2):
            start = (-step_x * right / _TRIALS - _APART_MM, -step_y * up / _TRIALS - _APART_MM)
            cells = np.unique(np.floor((points - start) / (step_x, step_y)).astype(int), axis=0)
            views = tuple(
                Box(x - _OVERLAP_MM / 2, y - _OVERLAP_MM / 2,
                    x + step_x + _OVERLAP_MM / 2, y + step_y + _OVERLAP_MM / 2)
                for column, row in cells.tolist()
                for x, y in [(start[0] + column * step_x, start[1] + row * step_y)]
            )  # fmt: skip
            found.append(replace(empty, views=views, turned=turned))
    usable = [each for each in found if all(all(each.lines(view)) for view in each.views)]
    return min(usable or found, key=lambda each: len(each.views))


def trace_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design."""
    trace = trace_of(job)
    if trace is None:
        return ShortSet(job, tr("All its edges are those of a rectangle: they need no tracing."))
    room = plain_room(job.setup)
    step = job.length(float(line_step(job)))
    text = tr(
        "No point of the edge ends more than {error} beside its place: {x} along x, {y} along y. "
        "So much comes from the tape, from setting the page, and from the printer between an edge "
        "and the next line. What the saw wanders comes on top of it.",
        error=about(trace.error.worst),
        x=about(trace.error.along),
        y=about(trace.error.across),
    )
    steps = (
        (
            tr("Cut the rectangle"),
            tr("Mark and punch all holes before anything is cut off: their datum corner goes."),
        ),
        (
            tr("Chalk the lines"),
            tr(
                "From the datum corner every {step} each way, as far as the pages of the picture "
                "go.",
                step=step,
            ),
        ),
        (
            tr("Set each page"),
            tr(
                "Its printed lines on the chalk lines of the same figures, and tape it down. Pages "
                "need not touch each other."
            ),
        ),
        (tr("Cut along the heavy line"), tr("Through the paper, or prick it every 20 mm first.")),
    )
    below = (
        heading(tr("Or without paper: by offsets"), room),
        replace(
            words(tr("What follows leads to the same edge with a tape alone."), room), keeps=True
        ),
        *shaping_rows(job.design.shape, job.unit, room)[1:],
    )
    rows = (*set_rows(job, text, steps, partial(_picture, trace), ()), *below)
    sheets = tuple(partial(_page, trace, view) for view in trace.views)
    return ShortSet(job, "", trace.error, None, rows, sheets)


def _on_box(curve: Curve, job: Job) -> bool:
    """Tell whether an edge lies on the rectangle that the raft is cut from."""
    if not isinstance(curve, Line):
        return False
    shape = job.design.shape
    (x0, y0), (x1, y1) = curve.start, curve.end
    return any(
        abs(first - side) <= TOLERANCE_MM and abs(last - side) <= TOLERANCE_MM
        for first, last, sides in (
            (x0, x1, (0.0, float(shape.length))),
            (y0, y1, (0.0, float(shape.width))),
        )
        for side in sides
    )


def _shown(points: Floats, view: Box) -> Floats:
    x, y = points.T
    inside = (x >= view.left) & (x <= view.right) & (y >= view.bottom) & (y <= view.top)
    shown: Floats = points[inside]
    return shown


def on_page(trace: Trace, view: Box) -> Shift:
    """Return how raft coordinates become those of the page that shows a part of the raft."""
    room = true_room(trace.job.setup)
    if trace.turned:
        return Shift(room.left + view.top, room.bottom - view.left, quarters=1)
    return Shift(room.left - view.left, room.bottom - view.bottom)


def _page(trace: Trace, view: Box, page: int, total: int) -> Page:
    text = tr(
        "Set the thin lines on the chalk lines of the same figures, from the datum corner; the top "
        "face is up. The heavy line is the edge of the raft."
    )
    shift = on_page(trace, view)
    edges = [
        Group("edge", (Path((shift.curve(curve),), Style.DATUM),))
        for curve in trace.job.design.shape.loop.curves
        if Box(*bounds_of((curve,))).grown(1).meets(view)
    ]
    groups = tuple(_lines(trace, view, shift))
    job = trace.job
    return true_page(job, tr("Trace"), text, groups, page, total, clipped=edges)


def _lines(trace: Trace, view: Box, shift: Shift) -> Iterator[Group]:
    job = trace.job
    for axis, lines in enumerate(trace.lines(view)):
        for place in lines:
            if axis == 0:
                start, end = Point(place, view.bottom), Point(place, view.top)
            else:
                start, end = Point(view.left, place), Point(view.right, place)
            start, end = shift.point(*start), shift.point(*end)
            text = f"{'xy'[axis]} {job.figure(place)}"
            upright = abs(end.x - start.x) < abs(end.y - start.y)
            low = min(start, end, key=lambda each: (each.y, each.x))
            name: Mark = (
                line(low.x - 0.8, low.y + 2, text, _LABEL_MM, angle=90)
                if upright
                else line(min(start.x, end.x) + 2, low.y + 0.8, text, _LABEL_MM)
            )
            yield Group(
                f"line {'xy'[axis]} {place:.3f}", (stroke(start, end, Style.REGISTRATION), name)
            )
    if Box(0, 0, 1, 1).meets(view):
        at = shift.point(0, 0)
        turn = Shift(at.x, at.y, quarters=shift.quarters)
        yield Group("datum", (turn.mark(datum_corner(Point(0, 0), _DATUM_LEG_MM)),))


def _picture(trace: Trace, size: tuple[float, float], left: float, top: float) -> Iterator[Mark]:
    """Draw the raft, its chalk lines and its pages."""
    job = trace.job
    length, width = float(job.design.shape.length), float(job.design.shape.width)
    shift, marks = raft_picture(job, (size[0] - 6, size[1] - 6), left + 3, top - 3)
    yield from marks
    used: tuple[set[float], set[float]] = (set(), set())
    for view in trace.views:
        for axis, lines in enumerate(trace.lines(view)):
            used[axis].update(lines)
    for x in sorted(used[0]):
        yield stroke(shift.point(x, 0), shift.point(x, width), Style.HINT)
    for y in sorted(used[1]):
        yield stroke(shift.point(0, y), shift.point(length, y), Style.HINT)
    whole = Box(0, 0, length, width).grown(3 / shift.scale)
    for view in trace.views:
        low = shift.point(max(view.left, whole.left), max(view.bottom, whole.bottom))
        high = shift.point(min(view.right, whole.right), min(view.top, whole.top))
        yield frame(Box(low.x, low.y, high.x, high.y), Style.SHEET)
