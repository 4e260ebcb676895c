"""How the count falls as the spacing grows: the thresholds at which plants are won or lost."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.holes.rows import best_rows
from geometry.model.planting import Direction, Pattern

STEPS_PER_MM: Final = 100
"""Thresholds are found to 0.01 mm, rounded down."""

CountAt = Callable[[Fraction], int]
"""How many plants fit at a spacing in mm (or at any length that only ever loses plants)."""


@dataclass(frozen=True, slots=True)
class Step:
    """``count`` plants up to and including ``spacing``; above it begins the next step."""

    spacing: Fraction
    count: int


def rectangle_counter(
    width: Fraction,
    height: Fraction,
    *,
    pattern: Pattern,
    direction: Direction = "best",
    row_spacing: Fraction | None = None,
) -> CountAt:
    """Return the exact count of a pattern in the closed centre rectangle, spacing by spacing."""

    def count(spacing: Fraction) -> int:
        found = best_rows(
            width,
            height,
            spacing,
            pattern=pattern,
            direction=direction,
            row_spacing=row_spacing,
        )
        return found[0].count if found else 0

    return count


def step_curve(count_at: CountAt, *, narrowest: Fraction, widest: Fraction) -> tuple[Step, ...]:
    """Return every step between two spacings, both included, the narrowest first.

    Each step's spacing is the largest whole 0.01 mm that still gives its count; the last step is
    cut off at ``widest``. What fits at a wider spacing fits at a narrower one too, so a counter
    that sometimes misses the most is levelled up by its own wider counts.
    """
    first, last = math.ceil(narrowest * STEPS_PER_MM), math.floor(widest * STEPS_PER_MM)
    if first > last:
        return ()
    known = {place: count_at(Fraction(place, STEPS_PER_MM)) for place in {first, last}}
    open_spans = [(first, last)]
    while open_spans:
        low, high = open_spans.pop()
        if high - low > 1 and known[low] > known[high]:
            middle = (low + high) // 2
            known[middle] = count_at(Fraction(middle, STEPS_PER_MM))
            open_spans += [(low, middle), (middle, high)]
    steps: list[Step] = []
    for place in sorted(known, reverse=True):
        if not steps or known[place] > steps[-1].count:
            steps.append(Step(Fraction(place, STEPS_PER_MM), known[place]))
    return tuple(reversed(steps))


def largest_spacing_for(
    count: int, count_at: CountAt, *, narrowest: Fraction, widest: Fraction
) -> Fraction | None:
    """Return the largest whole 0.01 mm between two spacings that gives at least ``count`` plants.

    None when even the narrowest gives fewer.
    """
    low, high = math.ceil(narrowest * STEPS_PER_MM), math.floor(widest * STEPS_PER_MM)
    if low > high or count_at(Fraction(low, STEPS_PER_MM)) < count:
        return None
    if count_at(Fraction(high, STEPS_PER_MM)) >= count:
        return Fraction(high, STEPS_PER_MM)
    while high - low > 1:
        middle = (low + high) // 2
        if count_at(Fraction(middle, STEPS_PER_MM)) >= count:
            low = middle
        else:
            high = middle
    return Fraction(low, STEPS_PER_MM)
