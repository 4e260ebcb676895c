"""The inside of a bed at another water level, where its walls are not plumb."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from math import isqrt
from typing import Final, Literal

from geometry.beds.outline import exact_box
from geometry.errors import OutlineError
from geometry.model.outlines import Disc, LShape, Measured, Outline, Rectangle, RoundEnded
from geometry.model.water import Walls, Water
from geometry.tongue import tr
from geometry.units import ZERO, Length, format_length

By = tuple[Fraction, Fraction]
"""How much shorter and how much narrower a bed is, in mm; negative where it is larger."""

Level = Literal["low", "working", "high"]

LEVELS: Final[tuple[Level, ...]] = ("low", "working", "high")

PLUMB: Final[By] = (Fraction(0), Fraction(0))

_FINE = 1000


def levels_of(water: Water) -> dict[Level, Fraction]:
    """The levels at which the water stands, and how far below the working level each is.

    The high level is above it, and so below zero. Levels that are the working level stay out.
    """
    downs: dict[Level, Fraction] = {
        "low": water.low.exact,
        "working": Fraction(0),
        "high": -water.high.exact,
    }
    return {level: down for level, down in downs.items() if down or level == "working"}


def lean_at(outline: Outline, walls: Walls | None, down: Fraction) -> By:
    """How much shorter and narrower the bed is ``down`` mm below where it was measured.

    Negative where it is larger. Above the first measuring and below the second the walls are taken
    to go on straight. Walls of which nothing is known, and those of shapes for which two sizes are
    not enough, are taken to be plumb.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    if walls is None or not down or not may_lean(outline):
        return PLUMB
    length, width = top_sizes(outline)
    share = down / walls.depth.exact
    by = (length - walls.length.exact) * share, (width - walls.width.exact) * share
    return (max(by), max(by)) if isinstance(outline, Disc) else by


def may_lean(outline: Outline) -> bool:
    """Tell whether two sizes say enough about the walls of such an outline."""
    return isinstance(outline, Rectangle | Measured | Disc | RoundEnded | LShape)


def narrowing(outline: Outline, walls: Walls, level: Length) -> By:
    """How much shorter and narrower the bed is at a level below where it was measured.

    Raises:
        OutlineError: The level is above the first measuring or below the second, or the outline
            cannot be drawn.
    """
    depth, down = walls.depth.exact, level.exact
    if depth <= 0:
        raise OutlineError(tr("The second measuring must be below the first: type how far down."))
    if down < 0:
        raise OutlineError(
            tr("The water cannot stand above the first measuring: measure at the highest water.")
        )
    if down > depth:
        raise OutlineError(
            tr(
                "The water is farther down than the second measuring ({depth}): measure there.",
                depth=format_length(depth, "mm"),
            )
        )
    length, width = top_sizes(outline)
    share = down / depth
    return (length - walls.length.exact) * share, (width - walls.width.exact) * share


def inside_at(outline: Outline, walls: Walls, levels: Iterable[Length]) -> Outline:
    """The outline in which a raft floats free at all of these levels: the least of each size.

    Raises:
        OutlineError: As ``narrowing``, and when nothing is left of the bed.
    """
    each = [narrowing(outline, walls, level) for level in levels]
    return narrowed(outline, (max(x for x, _ in each), max(y for _, y in each)))


def at_working_level(
    outline: Outline, walls: Walls, highest: Length, lowest: Length, water: Water
) -> tuple[Outline, Water]:
    """The least inside and its water, from an outline measured above both levels.

    The level at which the bed is least becomes the working level, so that rafts made for it float
    free at the other one too; what is typed of the walls is told from there. Where walls lean
    inwards one way and outwards the other, no level is the least, and the walls are not kept.

    Raises:
        OutlineError: As ``inside_at``.
    """
    least = inside_at(outline, walls, (highest, lowest))
    ways = [
        below - above
        for above, below in zip(
            narrowing(outline, walls, highest), narrowing(outline, walls, lowest), strict=True
        )
    ]
    plain = replace(water, low=ZERO, high=ZERO, walls=None)
    between = Length(abs(lowest.exact - highest.exact))
    if min(ways) >= 0:
        down, levels = lowest.exact, replace(plain, high=between)
    elif max(ways) <= 0:
        down, levels = highest.exact, replace(plain, low=between)
    else:
        return least, plain
    return least, replace(levels, walls=_seen_from(outline, walls, down))


def _seen_from(outline: Outline, walls: Walls, down: Fraction) -> Walls | None:
    """The second measuring told from ``down`` mm below the first; straight on where it is there."""
    if down < walls.depth.exact:
        return walls if not down else replace(walls, depth=Length(walls.depth.exact - down))
    length, width = (
        2 * there.exact - top
        for there, top in zip((walls.length, walls.width), top_sizes(outline), strict=True)
    )
    return Walls(walls.depth, Length(length), Length(width)) if min(length, width) > 0 else None


def narrowed(outline: Outline, by: By) -> Outline:
    """The outline with its walls moved in evenly from both sides; nothing in it is turned.

    A notch keeps its size, for its walls move with the others. Corner radii stay, so that no
    corner is taken to be sharper than it is.

    Raises:
        OutlineError: Nothing is left, or two sizes are not enough for such an outline.
    """
    x, y = by
    made: Outline
    match outline:
        case Rectangle(length, width, radius):
            length, width = _less(length, x), _less(width, y)
            half = min(length.exact, width.exact) / 2
            made = Rectangle(length, width, radius if radius.exact <= half else Length(half))
        case Measured():
            made = _measured(outline, by)
        case Disc(diameter):
            made = Disc(_less(diameter, max(x, y)))
        case RoundEnded(length, width):
            made = RoundEnded(_less(length, x), _less(width, y))
        case LShape(length, width):
            made = replace(outline, length=_less(length, x), width=_less(width, y))
        case _:
            raise OutlineError(
                tr("For this shape two sizes are not enough: measure it all at the lowest water.")
            )
    exact_box(made)
    return made


def top_sizes(outline: Outline) -> tuple[Fraction, Fraction]:
    """The least length and width as measured, before any lean is taken off.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    length, width = exact_box(outline)
    if isinstance(outline, Measured):
        length = min(each.exact for each in outline.lengths)
    return length, width


def _less(size: Length, by: Fraction) -> Length:
    left = size.exact - by
    if left <= 0:
        raise OutlineError(
            tr(
                "Walls that lean so much leave no water at that level: {size} less {by}.",
                size=format_length(size.exact, "mm"),
                by=format_length(by, "mm"),
            )
        )
    return size if by == 0 else Length(left)


def _measured(outline: Measured, by: By) -> Measured:
    """Like the others; the diagonals follow, so that the lean of the end walls stays."""
    x, y = by
    lengths = tuple(_less(length, x) for length in outline.lengths)
    widths = tuple(_less(width, y) for width in outline.widths)
    if not outline.diagonals or not any(by):
        return Measured(widths, lengths, outline.diagonals)
    lean = top_sizes(outline)[0] - exact_box(outline)[0]
    length, width = (min(each.exact for each in group) for group in (lengths, widths))
    short = Length(Fraction(isqrt(_square(length - lean, width)), _FINE))
    long = Length(Fraction(isqrt(_square(length + lean, width)) + 1, _FINE))
    first, second = outline.diagonals
    if first.exact == second.exact:
        return Measured(widths, lengths, (long, long))
    ordered = (short, long) if first.exact < second.exact else (long, short)
    return Measured(widths, lengths, ordered)


def _square(length: Fraction, width: Fraction) -> int:
    """The square of a diagonal in whole micrometres, rounded down."""
    square = (length**2 + width**2) * _FINE**2
    return square.numerator // square.denominator
