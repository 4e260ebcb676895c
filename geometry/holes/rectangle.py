"""Row patterns on a rectangular raft, from its edges and joints to every site."""

from collections.abc import Mapping
from fractions import Fraction

from geometry.holes.row_pattern import RowPattern
from geometry.holes.rows import best_rows
from geometry.holes.sites import Placement
from geometry.holes.spread import Axis, spread_out
from geometry.model.planting import Direction, Pattern
from geometry.rafts.layout import Side


def place_on_rectangle(
    length: Fraction,
    width: Fraction,
    *,
    margins: Mapping[Side, Fraction],
    joints: frozenset[Side],
    joint_gap: Fraction,
    spacing: Fraction,
    row_spacing: Fraction | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
) -> tuple[Placement, ...]:
    """Lay the best rows of every family and direction on a raft, the best first.

    Centres keep at least ``margins`` from the sides; exactly the margin is allowed. With
    ``spread`` the rows are opened up, also against what lies behind ``joints``; without it they
    keep their least distances and stand in the middle of the room for centres. Coordinates run
    from the raft's datum corner. Empty when no centre fits, and for rings.
    """
    found = best_rows(
        length - margins["left"] - margins["right"],
        width - margins["bottom"] - margins["top"],
        spacing,
        pattern=pattern,
        direction=direction,
        row_spacing=row_spacing,
    )
    x = _axis(length, ("left", "right"), margins, joints, joint_gap)
    y = _axis(width, ("bottom", "top"), margins, joints, joint_gap)
    return tuple(_placed(rows, float(spacing), x, y, spread=spread) for rows in found)


def _axis(
    length: Fraction,
    sides: tuple[Side, Side],
    margins: Mapping[Side, Fraction],
    joints: frozenset[Side],
    joint_gap: Fraction,
) -> Axis:
    first, second = sides
    return Axis(
        float(length),
        (float(margins[first]), float(margins[second])),
        (first in joints, second in joints),
        float(joint_gap),
    )


def _placed(rows: RowPattern, spacing: float, x: Axis, y: Axis, *, spread: bool) -> Placement:
    if spread:
        opened, start_along, start_across = spread_out(rows, spacing, x, y)
    else:
        along, across = (x, y) if rows.direction == "along" else (y, x)
        opened = rows
        used, height = rows.extent
        start_along, start_across = along.middle(used), across.middle(height)
    return Placement(
        opened.sites(start_along, start_across),
        opened.family,
        opened.direction,
        opened.pitch,
        opened.row_gap,
    )
