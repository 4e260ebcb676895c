"""How wide leaves are on a day, from what the grower has measured.

Between two measured days the width is read off the straight line between them; before the first
and after the last nothing is known, and nothing is made up.
"""

from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise
from math import ceil

from geometry.model.growth import Growth


def record_of(records: Iterable[Growth], crop: str) -> Growth:
    """Return what was measured of a crop; capitals do not matter. Empty where nothing was."""
    wanted = crop.strip().casefold()
    own = (each for each in records if each.crop.strip().casefold() == wanted)
    return next(own, Growth(crop, ()))


def width_on(growth: Growth, day: int) -> Fraction | None:
    """Return the width of the leaves on a day, in mm; None before and after what was measured."""
    for each in growth.widths:
        if each.day == day:
            return each.width.exact
    for before, after in pairwise(growth.widths):
        if before.day < day < after.day:
            share = Fraction(day - before.day, after.day - before.day)
            return before.width.exact + share * (after.width.exact - before.width.exact)
    return None


def first_day_at(growth: Growth, width: Fraction) -> int | None:
    """Return the first whole day on which leaves are at least so wide (mm).

    None where the measured days do not reach that far.
    """
    first, *_ = growth.widths or (None,)
    if first is None:
        return None
    if first.width.exact >= width:
        return first.day
    for before, after in pairwise(growth.widths):
        if before.width.exact < width <= after.width.exact:
            rise = (width - before.width.exact) / (after.width.exact - before.width.exact)
            return before.day + ceil(rise * (after.day - before.day))
    return None


def days_of(growth: Growth) -> tuple[int, int] | None:
    """Return the first and the last measured day; None where nothing was measured."""
    if not growth.widths:
        return None
    return growth.widths[0].day, growth.widths[-1].day
