"""Splitting a bed into rafts: equal cells with joint gaps between, cut to the outline."""

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import ceil
from typing import Final, assert_never

from geometry.beds.outline import exact_size, outline_loop, rectangle_loop
from geometry.errors import TooManyError
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.rafts.layout import RaftLayout, RaftPlace, RaftShape, Side

MOST_RAFTS: Final = 100_000


@dataclass(frozen=True, slots=True)
class Cells:
    """Equal stretches along one axis: how many, how long, and from where to where."""

    count: int
    size: Fraction
    starts: tuple[Fraction, ...]


def lay_rafts(bed: Bed) -> RaftLayout:
    """Split a bed into rafts.

    The rafts fill the outline less the clearance; its box is cut into equal cells with the joint
    gap between. Rafts are named R1, R2, … along the bed first, then across it. When clearance and
    gaps leave nothing, there are no rafts.

    Raises:
        OutlineError: The outline encloses nothing or crosses itself.
        TooManyError: The rule asks for more than 100,000 rafts.
    """
    size = exact_size(bed.outline)
    outline = outline_loop(bed.outline)
    clearance = bed.clearance.exact
    if size is None:
        raise NotImplementedError
    length, width = (side - 2 * clearance for side in size)
    if length <= 0 or width <= 0:
        return RaftLayout(outline, (), ())
    left = float(clearance)
    region = rectangle_loop(left, left, float(clearance + length), float(clearance + width))
    columns, rows = _cells(bed.rafts, bed.joint_gap.exact, (clearance, length), (clearance, width))
    return RaftLayout(outline, (region,), _rectangles(columns, rows))


def _cells(
    rule: RaftRule,
    gap: Fraction,
    along: tuple[Fraction, Fraction],
    across: tuple[Fraction, Fraction],
) -> tuple[Cells, Cells]:
    """Columns and rows for a region that starts and extends as given."""
    match rule:
        case Split(columns, rows):
            pass
        case Fit(length, width):
            columns = fewest(along[1], length.exact, gap)
            rows = fewest(across[1], width.exact, gap)
        case One():
            columns = rows = 1
        case _:
            assert_never(rule)
    if columns * rows > MOST_RAFTS:
        raise TooManyError(
            f"{columns} x {rows} rafts are more than the {MOST_RAFTS:,} a project may hold: make"
            " the rafts larger or fewer."
        )
    return _stretches(*along, columns, gap), _stretches(*across, rows, gap)


def fewest(extent: Fraction, largest: Fraction, gap: Fraction) -> int:
    """The least number of equal pieces, ``gap`` apart, none larger than ``largest``."""
    return max(1, ceil((extent + gap) / (largest + gap)))


def _stretches(start: Fraction, extent: Fraction, count: int, gap: Fraction) -> Cells:
    size = (extent - (count - 1) * gap) / count
    if size <= 0:
        return Cells(0, size, ())
    return Cells(count, size, tuple(start + k * (size + gap) for k in range(count)))


def _rectangles(columns: Cells, rows: Cells) -> tuple[RaftPlace, ...]:
    if not columns.count or not rows.count:
        return ()
    shape = rectangle_shape(columns.size, rows.size)
    last_column, last_row = columns.count - 1, rows.count - 1
    return tuple(
        RaftPlace(
            f"R{row * columns.count + column + 1}",
            shape,
            x,
            y,
            column,
            row,
            _joints(column > 0, column < last_column, row > 0, row < last_row),
        )
        for row, y in enumerate(rows.starts)
        for column, x in enumerate(columns.starts)
    )


def rectangle_shape(length: Fraction, width: Fraction) -> RaftShape:
    """The shape of a plain rectangular raft."""
    return RaftShape(rectangle_loop(0, 0, float(length), float(width)), length, width, True)


@cache
def _joints(left: bool, right: bool, bottom: bool, top: bool) -> frozenset[Side]:  # noqa: FBT001
    sides: dict[Side, bool] = {"left": left, "right": right, "bottom": bottom, "top": top}
    return frozenset(side for side, joined in sides.items() if joined)
