"""How the count falls as the spacing grows: the thresholds at which plants are won or lost."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush

CountAt = Callable[[Fraction], int]
"""How many plants fit at a spacing in mm (or at any length that only ever loses plants)."""


@dataclass(frozen=True, slots=True)
class Step:
    """``count`` plants up to and including ``spacing``; above it begins the next step."""

    spacing: Fraction
    count: int


def step_curve(
    count_at: CountAt, *, narrowest: Fraction, widest: Fraction, step: Fraction
) -> tuple[Step, ...]:
    """Return every step between two spacings, both included, the narrowest first.

    Each step's spacing is the largest whole ``step`` that still gives its count; the last one is
    cut off at ``widest``. What fits at a wider spacing fits at a narrower one too, so a counter
    that sometimes misses the most is levelled up by its own wider counts.
    """
    curve: tuple[Step, ...] = ()
    for curve in growing_curve(count_at, narrowest=narrowest, widest=widest, step=step):  # noqa: B007
        pass
    return curve


def growing_curve(
    count_at: CountAt,
    *,
    narrowest: Fraction,
    widest: Fraction,
    step: Fraction,
    most: int | None = None,
) -> Iterator[tuple[Step, ...]]:
    """Give what is known of the curve after each count, the widest unknown stretch counted next.

    At most ``most`` spacings are counted; then each step holds only what was counted, and a true
    one can lie a little further right.
    """
    first, last = math.ceil(narrowest / step), math.floor(widest / step)
    if first > last:
        return
    known: dict[int, int] = {}
    for place in dict.fromkeys((last, first)):
        known[place] = count_at(place * step)
        yield _levelled(known, step)
    open_spans = [(first - last, first)]
    while open_spans and (most is None or len(known) < most):
        minus_length, low = heappop(open_spans)
        high = low - minus_length
        if high - low > 1 and known[low] > known[high]:
            middle = (low + high) // 2
            known[middle] = count_at(middle * step)
            heappush(open_spans, (low - middle, low))
            heappush(open_spans, (middle - high, middle))
            yield _levelled(known, step)


def _levelled(known: dict[int, int], step: Fraction) -> tuple[Step, ...]:
    steps: list[Step] = []
    for place in sorted(known, reverse=True):
        if not steps or known[place] > steps[-1].count:
            steps.append(Step(place * step, known[place]))
    return tuple(reversed(steps))
