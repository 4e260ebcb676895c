"""The widest spacing that still holds a wanted number of plants."""

from collections.abc import Callable, Generator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, inf

from geometry.compare.counting import BedCounter, Counted
from geometry.compare.thresholds import fine_step, halved
from geometry.holes.place import limits_of
from geometry.holes.thresholds import widest_spacing
from geometry.model.bed import Bed
from geometry.model.measure import area, bounds
from geometry.model.planting import Planting
from geometry.model.wanted import Wanted, plants_wanted
from geometry.units import Unit

_REACH = Fraction(1, 80)
"""How far apart spacings are first looked at, as a share of the widest that could do.

Where counts are exact the steps then double; where they are the best found, a narrow stretch of
spacings can hold more than its neighbours, and the steps stay small.
"""


@dataclass(frozen=True, slots=True)
class Found:
    """The answer to a wanted number of plants in one bed.

    ``spacing`` is the largest whole 0.1 mm or 1/32 in at which at least ``wanted`` plants fit, and
    ``counted`` what fits there; None when even the closest holes that the web allows are fewer,
    and ``counted`` are then those. ``area_mm2`` is the bed's water.
    """

    wanted: int
    spacing: Fraction | None
    counted: Counted
    area_mm2: float

    @property
    def density_per_m2(self) -> float:
        """What ``counted`` makes per square metre of water."""
        return self.counted.plants / self.area_mm2 * 1e6


def find_spacing(bed: Bed, wanted: Wanted, unit: Unit) -> Found | None:
    """Find the widest spacing for a number or density of plants; None without planting or raft."""
    return find_beside(lambda _counts: None, bed, wanted, unit)


def find_beside(
    tell: Callable[[int], object], bed: Bed, wanted: Wanted, unit: Unit
) -> Found | None:
    """Do the work of ``find_spacing`` in a process of its own, telling how often it has counted."""
    search, counts = search_spacing(bed, wanted, unit), 0
    while True:
        try:
            next(search)
        except StopIteration as stop:
            found: Found | None = stop.value
            return found
        counts += 1
        tell(counts)


def search_spacing(bed: Bed, wanted: Wanted, unit: Unit) -> Generator[None, None, Found | None]:
    """Do the work of ``find_spacing``, yielding after each count."""
    if bed.planting is None:
        return None
    counter, step = BedCounter(bed, bed.planting), fine_step(unit)
    if not counter.layout.rafts:
        return None
    water = area(counter.layout.outline)
    count = plants_wanted(wanted, water)

    def holds(steps: int) -> bool:
        return counter.at("spacing", steps * step) >= count

    least = max(least_spacing(counter.planting), step)
    lowest = ceil(least / step)
    start = _closed(counter, count, step)
    if start is None:
        start = _highest(counter, count, step, lowest)
    bad, good, reach = start + 1, start, max(1, ceil(start * _REACH))
    # A closed form that something wider beats is walked up from.
    while holds(bad) and bad * step < _across(counter):
        yield
        bad += reach
    while not holds(good):
        yield
        if good <= lowest:
            return Found(count, None, counter.counted("spacing", least), water)
        bad, good, reach = good, max(lowest, good - reach), reach * (2 if counter.is_quick else 1)
    good = yield from halved(holds, good, bad)
    return Found(count, good * step, counter.counted("spacing", good * step), water)


def least_spacing(planting: Planting) -> Fraction:
    """Return the closest that the holes and the web between them allow, in mm."""
    return planting.hole_diameter.exact + planting.web.exact


def _across(counter: BedCounter) -> Fraction:
    """No two plants of the bed stand farther apart than this, in mm."""
    left, bottom, right, top = bounds(counter.layout.outline)
    return Fraction(ceil(right - left) + ceil(top - bottom))


def _closed(counter: BedCounter, count: int, step: Fraction) -> int | None:
    room = counter.room
    if room is None:
        return None
    rows = limits_of(counter.planting).row_spacing
    widest = widest_spacing(
        ceil(count / room.rafts),
        float(room.width),
        float(room.height),
        pattern=counter.planting.pattern,
        direction=counter.planting.rows,
        row_spacing=None if rows is None else float(rows),
    )
    return None if widest in {0.0, inf} else max(1, floor(Fraction(widest) / step))


def _highest(counter: BedCounter, count: int, step: Fraction, lowest: int) -> int:
    """The last step whose proved ceiling reaches the count."""
    low, high = lowest, max(lowest + 1, floor(_across(counter) / step))
    if counter.most_at(high * step) >= count:
        return high
    while high - low > 1:
        middle = (low + high) // 2
        if counter.most_at(middle * step) >= count:
            low = middle
        else:
            high = middle
    return low
