"""Thresholds of a bed: how far a length may go before plants are lost, and where more are won.

On rectangles laid by themselves the spacing's thresholds are known in closed form; everywhere else
they are found by halving between exact counts. Long searches are generators that yield after each
count, so that whoever runs them can stop between two.
"""

from collections import deque
from collections.abc import Callable, Generator, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Final

from geometry.compare.counting import BedCounter, Knob
from geometry.holes.place import limits_of
from geometry.holes.thresholds import largest_step
from geometry.model.bed import Bed
from geometry.units import MM_PER, Unit

KNOBS: Final[tuple[Knob, ...]] = ("spacing", "edge_margin", "clearance", "joint_gap")
_NARROWEST: Final = Fraction(1, 2)
_WIDEST: Final = 2
"""The spacing's neighbours are looked for from half to twice the present one."""
_FARTHEST_MM: Final = 1000

Search = Generator[None, None, int | None]
"""Yields after each count; returns the multiple of the step that was looked for."""


@dataclass(frozen=True, slots=True)
class Threshold:
    """How the count hangs on one length of a bed, all lengths in mm.

    At ``now`` the pattern holds ``plants``, hand edits left aside. ``same_up_to`` is the largest
    whole ``step`` that still holds as many, None when no end was found. ``more_at`` is the
    nearest whole ``step`` at which ``more_plants`` fit, the largest of them when it lies below
    ``now``; None when none was found.
    """

    knob: Knob
    now: Fraction
    plants: int
    step: Fraction
    same_up_to: Fraction | None = None
    more_at: Fraction | None = None
    more_plants: int = 0


def fine_step(unit: Unit) -> Fraction:
    """Return the step to which thresholds are told: 0.1 mm or 1/32 in."""
    return MM_PER["in"] / 32 if unit == "in" else Fraction(1, 10)


def coarse_step(unit: Unit) -> Fraction:
    """Return the step for what takes long to count: 1 mm or 1/16 in."""
    return MM_PER["in"] / 16 if unit == "in" else Fraction(1)


def knobs_of(counter: BedCounter) -> tuple[Knob, ...]:
    """Return the lengths that mean something in a bed: no joint gap where there is one raft."""
    return KNOBS if len(counter.layout.rafts) > 1 else KNOBS[:3]


def thresholds(bed: Bed, unit: Unit) -> tuple[Threshold, ...]:
    """Find the thresholds of every length that means something in a bed; none without planting."""
    if bed.planting is None:
        return ()
    counter = BedCounter(bed, bed.planting)
    return tuple(
        deque(find_threshold(counter, knob, unit), maxlen=1)[0] for knob in knobs_of(counter)
    )


def find_threshold(counter: BedCounter, knob: Knob, unit: Unit) -> Iterator[Threshold]:
    """Find one threshold, giving what is known of it after each count; the last one is complete."""
    quick = counter.is_quick or knob == "spacing"
    step = fine_step(unit) if quick else coarse_step(unit)
    now, plants = counter.now(knob), counter.plants()
    found = Threshold(knob, now, plants, step)
    yield found
    for kind in ("same", "more") if plants else ("more",):
        search = _same(counter, found) if kind == "same" else _more(counter, found)
        steps = yield from _telling(search, found)
        if steps is None:
            continue
        at = steps * step
        if kind == "same":
            found = Threshold(knob, now, plants, step, max(at, now))
        else:
            more = counter.at(knob, at)
            found = Threshold(knob, now, plants, step, found.same_up_to, at, more)
        yield found


def _telling(search: Search, found: Threshold) -> Generator[Threshold, None, int | None]:
    while True:
        try:
            next(search)
        except StopIteration as stop:
            steps: int | None = stop.value
            return steps
        yield found


def _same(counter: BedCounter, known: Threshold) -> Search:
    """The last step upwards that holds as many as now."""

    def holds(steps: int) -> bool:
        return counter.at(known.knob, steps * known.step) >= known.plants

    base = floor(known.now / known.step)
    if known.knob == "spacing":
        if known.plants == 1:
            return None
        closed = _closed(counter, known.plants, known.step)
        if closed is not None and closed >= base and holds(closed) and not holds(closed + 1):
            return closed
    limit = _limit(known)
    good, reach = (
        base,
        max(1, ceil((known.now / 50 if known.knob == "spacing" else 1) / known.step)),
    )
    while True:
        far = min(base + reach, limit)
        yield
        if not holds(far):
            return (yield from halved(holds, good, far))
        if far == limit:
            return None
        good, reach = far, 2 * reach


def _more(counter: BedCounter, known: Threshold) -> Search:
    """The nearest step that holds more: below, or for a joint gap also above."""

    def holds(steps: int) -> bool:
        return counter.at(known.knob, steps * known.step) > known.plants

    base = ceil(known.now / known.step)
    lowest = 0
    if known.knob == "spacing":
        planting = counter.planting
        closest = planting.hole_diameter.exact + planting.web.exact
        least = max(closest, known.now * _NARROWEST)
        lowest = ceil(least / known.step)
        closed = _closed(counter, known.plants + 1, known.step)
        if closed is not None:
            if closed < lowest:
                return None
            if closed < base and holds(closed) and not holds(closed + 1):
                return closed
    first = max(1, ceil((known.now / 50 if known.knob == "spacing" else 1) / known.step))
    bad, reach = base, first
    while bad > lowest:
        far = max(base - reach, lowest)
        yield
        if holds(far):
            return (yield from halved(holds, far, bad))
        bad, reach = far, 2 * reach
    if known.knob != "joint_gap":
        return None
    good = floor(known.now / known.step)
    reach, limit = first, _limit(known)
    while good + reach <= limit and counter.at(known.knob, (good + reach) * known.step):
        far = good + reach
        yield
        if holds(far):
            return (yield from halved(holds, far, good))
        reach *= 2
    return None


def halved(holds: Callable[[int], bool], good: int, bad: int) -> Generator[None, None, int]:
    """Between a step that holds and one that does not, find the last one that holds."""
    while abs(bad - good) > 1:
        middle = (good + bad) // 2
        yield
        if holds(middle):
            good = middle
        else:
            bad = middle
    return good


def _limit(known: Threshold) -> int:
    if known.knob == "spacing":
        return floor(known.now * _WIDEST / known.step)
    return floor((known.now + _FARTHEST_MM) / known.step)


def _closed(counter: BedCounter, count: int, step: Fraction) -> int | None:
    """The threshold in closed form, as a multiple of the step."""
    room = counter.room
    if room is None:
        return None
    found = largest_step(
        -(-count // room.rafts),
        room.width,
        room.height,
        pattern=counter.planting.pattern,
        direction=counter.planting.rows,
        step=step,
        row_spacing=limits_of(counter.planting).row_spacing,
    )
    return None if found is None else int(found / step)
