"""The widest spacing at which a number of sites still fits in rows on a rectangle, in closed form.

Each row pattern has a formula for the largest spacing that its numbers of rows and sites allow
(``RowCounts.widest``); the threshold is the largest of these over all that hold enough. Whether a
spacing on a tape still does is then decided exactly, by ``best_rows``.
"""

import math
from collections.abc import Iterator
from fractions import Fraction

from geometry.holes.row_pattern import Family, RowCounts
from geometry.holes.rows import best_rows, families_of, ways_of
from geometry.model.planting import Direction, Pattern


def widest_spacing(
    count: int,
    width: float,
    height: float,
    *,
    pattern: Pattern,
    direction: Direction,
    row_spacing: float | None = None,
) -> float:
    """Return the largest spacing in mm at which the pattern holds at least ``count`` sites.

    ``width`` (x) and ``height`` (y) are the closed centre rectangle. Infinite for a single site;
    0 when no spacing will do. ``row_spacing`` is the least distance of rectangular rows.
    """
    if min(width, height) < 0:
        return 0.0
    if count <= 1:
        return math.inf if families_of(pattern) else 0.0
    best = 0.0
    for way in ways_of(direction):
        along, across = (width, height) if way == "along" else (height, width)
        for family in families_of(pattern):
            best = max(best, _widest(family, count, along, across, row_spacing or 0.0, best))
    return best


def largest_step(
    count: int,
    width: Fraction,
    height: Fraction,
    *,
    pattern: Pattern,
    direction: Direction,
    step: Fraction,
    row_spacing: Fraction | None = None,
) -> Fraction | None:
    """Return the largest whole multiple of ``step`` that still gives ``count`` sites, exactly.

    None when there is none, or when every spacing does (a single site).
    """
    widest = widest_spacing(
        count,
        float(width),
        float(height),
        pattern=pattern,
        direction=direction,
        row_spacing=None if row_spacing is None else float(row_spacing),
    )
    if not 0 < widest < math.inf:
        return None
    near = math.floor(Fraction(widest) / step)
    for steps in (near + 1, near, near - 1):
        if steps <= 0:
            break
        found = best_rows(
            width,
            height,
            steps * step,
            pattern=pattern,
            direction=direction,
            row_spacing=row_spacing,
        )
        if found and found[0].count >= count:
            return steps * step
    return None


def _widest(
    family: Family, count: int, width: float, height: float, row_spacing: float, above: float
) -> float:
    """The best over all numbers of rows and sites; what cannot beat ``above`` may be left out."""
    best = above
    if family == "rectangular":
        return max(best, _widest_rectangular(count, width, height, row_spacing))
    if family == "hexagonal":
        best = max(best, RowCounts("hexagonal", 1, 1, count - 1, 0).widest(width, height))
    for long in range(1, count + 1):
        # No two sites of a row can be wider apart than its own share of the width.
        if long > 1 and width / (long - 1) <= best:
            break
        for rows in _enough(family, long, count, height / best if best else math.inf):
            if rows.staggered == 0 or rows.long == 1 or width > 0:
                best = max(best, rows.widest(width, height))
    return best


def _enough(family: Family, long: int, count: int, most: float) -> Iterator[RowCounts]:
    """The fewest rows of up to ``long`` sites that hold ``count``, in each way they can stand.

    ``most`` are the spacings that the height may hold for the pattern to be wide enough.
    """
    match family:
        case "square":
            yield RowCounts("square", long, long, -(-count // long) - 1, 0)
        case "hexagonal" | "staggered":
            yield from _staggered(family, long, count)
        case "mixed" if long > 1:
            yield from _mixed(long, count, most)
        case _:
            return


def _staggered(family: Family, long: int, count: int) -> Iterator[RowCounts]:
    rows = -(-count // long)
    if rows > 1 or family == "hexagonal":
        yield RowCounts(family, long, long, 0, rows - 1)
    if long > 1 and rows > 1:
        pairs, rest = divmod(count, 2 * long - 1)
        rows = 2 * pairs + (0 if not rest else 1 if rest <= long else 2)
        yield RowCounts(family, long, long - 1, 0, rows - 1)


def _mixed(long: int, count: int, most: float) -> Iterator[RowCounts]:
    # A straight gap is a spacing, a staggered one at least half of it: few staggered are too tall.
    gaps = -(-count // long) - 1
    staggered = max(1, math.floor(2 * (gaps - most))) if most < math.inf else 1
    straight = 2
    while straight > 1:
        straight = max(1, -(-(count + (staggered + 1) // 2) // long) - staggered - 1)
        yield RowCounts("mixed", long, long - 1, straight, staggered)
        staggered += 1


def _widest_rectangular(count: int, width: float, height: float, row_spacing: float) -> float:
    best = 0.0
    most = math.floor(height / row_spacing * (1 + 1e-12)) + 1 if row_spacing else count
    for rows in range(1, min(most, count) + 1):
        gaps = -(-count // rows) - 1
        along = width / gaps if gaps else math.inf
        across = height / (rows - 1) if rows > 1 else math.inf
        best = max(best, min(along, across))
    return best
