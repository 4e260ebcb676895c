"""Splitting a bed into rafts: cells with joint gaps between, cut to the outline."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import product
from math import ceil
from typing import Final, assert_never

import numpy as np
from numpy.typing import NDArray

from geometry.beds.outline import exact_box, exact_size, outline_loop, rectangle_loop
from geometry.errors import TooManyError
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.model.curves import Curve, Line, Loop
from geometry.model.edges import Floats
from geometry.model.measure import Box, Gauge, bounds, bounds_of
from geometry.rafts.inset import clip, inset
from geometry.rafts.layout import RaftLayout, RaftPlace, RaftShape, Side
from geometry.rafts.pieces import direction_at_start
from geometry.rafts.shapes import Placed, Shapes, Span, rectangle_shape, snapped
from geometry.tongue import number, tr
from geometry.units import TOLERANCE_MM

MOST_RAFTS: Final = 100_000


@dataclass(frozen=True, slots=True)
class Cells:
    """Stretches along one axis: where each starts and how long it is. None when none fits."""

    starts: tuple[Fraction, ...]
    sizes: tuple[Fraction, ...]

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.starts)

    @property
    def ends(self) -> tuple[Fraction, ...]:
        """Where each ends."""
        return tuple(start + size for start, size in zip(self.starts, self.sizes, strict=True))


def lay_rafts(bed: Bed) -> RaftLayout:
    """Split a bed into rafts.

    The rafts fill the outline less the clearance; its box is cut into equal cells with the joint
    gap between, all joints moved by the shift of a split, and each raft is what its cell holds.
    Rafts are named R1, R2, … along the bed first, then across it. When clearance, gaps and shifts
    leave nothing, there are no rafts.

    Raises:
        OutlineError: The outline encloses nothing or crosses itself.
        TooManyError: The rule asks for more than 100,000 rafts.
    """
    outline = outline_loop(bed.outline)
    region, columns, rows = _cells_of(bed, outline)
    if not columns.count or not rows.count:
        return RaftLayout(outline, region, ())
    if exact_size(bed.outline) is not None:
        return RaftLayout(outline, region, _rectangles(columns, rows))
    return RaftLayout(outline, region, _cut_to(region, columns, rows))


@dataclass(frozen=True, slots=True)
class JointLines:
    """The middle lines of the joints, from the first on.

    ``along`` are places along the bed's length (lines of one x), ``across`` across its width.
    """

    along: tuple[Fraction, ...]
    across: tuple[Fraction, ...]


def joint_lines(bed: Bed) -> JointLines:
    """Say where the joints of a bed run; nowhere when no raft fits.

    Raises:
        OutlineError: The outline encloses nothing or crosses itself.
        TooManyError: The rule asks for more than 100,000 rafts.
    """
    _, columns, rows = _cells_of(bed, outline_loop(bed.outline))
    if not columns.count or not rows.count:
        return JointLines((), ())
    half = bed.joint_gap.exact / 2
    along, across = (tuple(start - half for start in c.starts[1:]) for c in (columns, rows))
    return JointLines(along, across)


def _cells_of(bed: Bed, outline: Loop) -> tuple[tuple[Loop, ...], Cells, Cells]:
    """The region that rafts may fill, and its columns and rows; none where nothing is left."""
    clearance, gap = bed.clearance.exact, bed.joint_gap.exact
    size = exact_size(bed.outline)
    nothing = Cells((), ())
    if size is not None:
        spans = [(clearance, side - 2 * clearance) for side in size]
        if min(extent for _, extent in spans) <= 0:
            return (), nothing, nothing
        region: tuple[Loop, ...] = (_box_loop(*spans),)
    else:
        region = inset(outline, float(clearance))
        if not region:
            return (), nothing, nothing
        spans = _spans(region, [(clearance, side - clearance) for side in exact_box(bed.outline)])
    return (region, *_cells(bed.rafts, gap, *spans))


def _box_loop(along: Span, across: Span) -> Loop:
    return rectangle_loop(float(along[0]), float(across[0]), float(sum(along)), float(sum(across)))


def _spans(region: Sequence[Loop], expected: Sequence[tuple[Fraction, Fraction]]) -> list[Span]:
    """The box of the region as exactly as it can be known."""
    box = bounds_of(curve for loop in region for curve in loop.curves)
    spans = []
    for low, high, (start, end) in zip(box[:2], box[2:], expected, strict=True):
        begin = snapped(low, start)
        spans.append((begin, snapped(high, end) - begin))
    return spans


def _cells(rule: RaftRule, gap: Fraction, along: Span, across: Span) -> tuple[Cells, Cells]:
    shifts = Fraction(0), Fraction(0)
    match rule:
        case Split(columns, rows, shift_along, shift_across):
            shifts = shift_along.exact, shift_across.exact
        case Fit(length, width):
            columns = _fewest(along[1], length.exact, gap)
            rows = _fewest(across[1], width.exact, gap)
        case One():
            columns = rows = 1
        case _:
            assert_never(rule)
    if columns * rows > MOST_RAFTS:
        raise TooManyError(
            tr(
                "{columns} x {rows} rafts are more than the {most_rafts} a project may "
                "hold: make the rafts larger or fewer.",
                columns=columns,
                rows=rows,
                most_rafts=number(MOST_RAFTS, 0),
            )
        )
    return (
        _stretches(*along, columns, gap, shifts[0]),
        _stretches(*across, rows, gap, shifts[1]),
    )


def _fewest(extent: Fraction, largest: Fraction, gap: Fraction) -> int:
    """The least number of equal pieces, a gap apart, none larger than the largest."""
    return max(1, ceil((extent + gap) / (largest + gap)))


def _stretches(
    start: Fraction, extent: Fraction, count: int, gap: Fraction, shift: Fraction
) -> Cells:
    size = (extent - (count - 1) * gap) / count
    moved = shift if count > 1 else Fraction(0)
    if size <= abs(moved):
        return Cells((), ())
    starts = (start, *(start + k * (size + gap) + moved for k in range(1, count)))
    if not moved:
        return Cells(starts, (size,) * count)
    return Cells(starts, (size + moved, *(size,) * (count - 2), size - moved))


def _whole_shapes(columns: Cells, rows: Cells, shapes: Shapes) -> dict[tuple[int, int], RaftShape]:
    """The rectangle of every cell, by column and row; those of one size are one value."""
    # By identity: cells of one size share the number, and thousands need not be compared.
    of_size: dict[tuple[int, int], RaftShape] = {}
    for length, width in product(columns.sizes, rows.sizes):
        if (id(length), id(width)) not in of_size:
            of_size[id(length), id(width)] = shapes.shared(rectangle_shape(length, width))
    return {
        (column, row): of_size[id(length), id(width)]
        for (row, width), (column, length) in product(
            enumerate(rows.sizes), enumerate(columns.sizes)
        )
    }


def _rectangles(columns: Cells, rows: Cells) -> tuple[RaftPlace, ...]:
    shapes = _whole_shapes(columns, rows, Shapes())
    last_column, last_row = columns.count - 1, rows.count - 1
    return tuple(
        RaftPlace(
            f"R{row * columns.count + column + 1}",
            shapes[column, row],
            x,
            y,
            column,
            row,
            _joints(column > 0, column < last_column, row > 0, row < last_row),
        )
        for row, y in enumerate(rows.starts)
        for column, x in enumerate(columns.starts)
    )


@cache
def _joints(left: bool, right: bool, bottom: bool, top: bool) -> frozenset[Side]:  # noqa: FBT001
    sides: dict[Side, bool] = {"left": left, "right": right, "bottom": bottom, "top": top}
    return frozenset(side for side, joined in sides.items() if joined)


def _cut_to(region: Sequence[Loop], columns: Cells, rows: Cells) -> tuple[RaftPlace, ...]:
    """The rafts of a region that is no rectangle: each cell cut to the region."""
    shapes = Shapes()
    whole = _whole_shapes(columns, rows, shapes)
    boxes = _boxes(columns, rows)
    cut = _crossed(boxes, [curve for loop in region for curve in loop.curves])
    full = _held(boxes, region) & ~cut
    found: dict[tuple[int, int], list[Placed]] = {}
    for k in np.flatnonzero(cut | full).tolist():
        row, column = divmod(k, columns.count)
        x, y = columns.starts[column], rows.starts[row]
        if full[k]:
            found[column, row] = [(whole[column, row], x, y, False)]
            continue
        length, width = columns.sizes[column], rows.sizes[row]
        left, bottom, right, top = boxes[k].tolist()
        pieces = _pieces(region, (left, bottom, right, top))
        if placed := [shapes.placed(loop, (x, length), (y, width)) for loop in pieces]:
            found[column, row] = placed
    rafts = ((cell, raft) for cell, placed in found.items() for raft in placed)
    return tuple(
        RaftPlace(
            f"R{number}",
            shape,
            x,
            y,
            column,
            row,
            _joints(
                (column - 1, row) in found,
                (column + 1, row) in found,
                (column, row - 1) in found,
                (column, row + 1) in found,
            ),
            turned,
        )
        for number, ((column, row), (shape, x, y, turned)) in enumerate(rafts, start=1)
    )


def _boxes(columns: Cells, rows: Cells) -> Floats:
    """Left, bottom, right, top of every cell, along first."""
    left, bottom = (np.array([float(at) for at in cells.starts]) for cells in (columns, rows))
    right, top = (np.array([float(at) for at in cells.ends]) for cells in (columns, rows))
    return np.stack(
        [
            np.tile(left, rows.count),
            np.repeat(bottom, columns.count),
            np.tile(right, rows.count),
            np.repeat(top, columns.count),
        ],
        axis=1,
    )


def _crossed(boxes: Floats, curves: Sequence[Curve]) -> NDArray[np.bool_]:
    """Which boxes may have a curve running through their inside; touching sides do not count."""
    middle, half = (boxes[:, :2] + boxes[:, 2:]) / 2, (boxes[:, 2:] - boxes[:, :2]) / 2
    half = half - TOLERANCE_MM
    crossed = np.zeros(len(boxes), dtype=np.bool_)
    for curve in curves:
        left, bottom, right, top = bounds_of([curve])
        own = np.array([right - left, top - bottom]) / 2
        away = np.abs(middle - own - (left, bottom))
        near = (away < half + own).all(axis=1)
        crossed[near] |= _passes(curve, middle[near], half[near])
    return crossed


def _passes(curve: Curve, middle: Floats, half: Floats) -> NDArray[np.bool_]:
    """Whether the whole line or circle of a curve runs through each box."""
    passes: NDArray[np.bool_]
    if isinstance(curve, Line):
        along = direction_at_start(curve)
        across = np.array([-along.y, along.x])
        passes = np.abs((middle - curve.start) @ across) < half @ np.abs(across)
        return passes
    away = np.abs(middle - curve.centre)
    nearest = np.hypot(*np.clip(away - half, 0.0, None).T)
    passes = (nearest < curve.radius) & (np.hypot(*(away + half).T) > curve.radius)
    return passes


def _held(boxes: Floats, region: Sequence[Loop]) -> NDArray[np.bool_]:
    """Which boxes have their middle in the region."""
    middle = (boxes[:, :2] + boxes[:, 2:]) / 2
    held = np.zeros(len(boxes), dtype=np.bool_)
    for loop in region:
        held |= Gauge.of(loop).signed_distance(middle) > 0
    return held


def _pieces(region: Sequence[Loop], box: Box) -> Iterator[Loop]:
    for loop in region:
        left, bottom, right, top = bounds(loop)
        inside = (left - box[0], bottom - box[1], box[2] - right, box[3] - top)
        if min(inside) >= -TOLERANCE_MM / 10:
            yield loop
        else:
            yield from clip(loop, box)
