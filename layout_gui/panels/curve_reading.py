"""What the step curve says at a place: the numbers behind its sentences. Nothing is drawn here."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import Final

from geometry.compare.steps import Step
from geometry.model.bed import Bed
from geometry.model.planting import Pattern
from geometry.model.project import Choice
from geometry.tongue import tr, tr_n
from geometry.units import MM_PER, Length, Unit, exact_text
from layout_gui.panels.words import PATTERN_WORDS, short_length
from layout_gui.wording.thresholds import rounded_down

Series = Mapping[Pattern, Sequence[Step]]
"""The lines of the curve; the steps of each with the narrowest first."""

LINES: Final[tuple[Pattern, ...]] = (
    "square",
    "rectangular",
    "hexagonal",
    "staggered",
    "mixed",
    "rings",
    "rows",
    "best",
)
"""The order in which lines are told and gone through."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One place of a line, lengths in mm.

    ``same_up_to`` is the end of the step, None where the curve breaks off first. ``more_at`` is
    the end of the step before, where ``more`` plants more fit; None at the left end.
    """

    pattern: Pattern
    spacing: Fraction
    plants: int
    same_up_to: Fraction | None
    more_at: Fraction | None
    more: int


def read(series: Series, pattern: Pattern, spacing: Fraction) -> Reading | None:
    """Read a line at a spacing; None off its ends."""
    steps = series.get(pattern, ())
    at = step_at(steps, spacing)
    if at is None:
        return None
    step, is_last = steps[at], at == len(steps) - 1
    before = steps[at - 1] if at else None
    return Reading(
        pattern,
        spacing,
        step.count,
        None if is_last else step.spacing,
        None if before is None else before.spacing,
        before.count - step.count if before else 0,
    )


def step_at(steps: Sequence[Step], spacing: Fraction) -> int | None:
    """Return the number of the step that a spacing lies on; None off the ends of the curve."""
    at = bisect_left(steps, spacing, key=lambda step: step.spacing)
    return at if at < len(steps) else None


def line_near(series: Series, spacing: Fraction, plants: float, own: Pattern) -> Pattern | None:
    """Return the line that runs nearest to a number of plants; the bed's own one on a tie."""
    heights = {
        pattern: reading.plants
        for pattern in ordered(series)
        if (reading := read(series, pattern, spacing)) is not None
    }
    if not heights:
        return None
    return min(heights, key=lambda pattern: (abs(heights[pattern] - plants), pattern != own))


def ordered(series: Series) -> list[Pattern]:
    """Return the lines in the order in which they are told."""
    return sorted(series, key=LINES.index)


def on_the_tape(reading: Reading, unit: Unit) -> Reading:
    """Move a reading to a whole step of the tape that holds as many plants, if there is one.

    The step is 1 mm or 1/16 in. Where no whole step holds as many, the end of the curve's own step
    stands, or else the place itself.
    """
    tape = MM_PER["in"] / 16 if unit == "in" else Fraction(1)
    low = reading.more_at if reading.more_at is not None else Fraction(0)
    high = reading.same_up_to
    nearest = max(tape, round(reading.spacing / tape) * tape)
    last = nearest if high is None else floor(high / tape) * tape
    whole = min(nearest, last)
    if whole <= low:
        whole = low - low % tape + tape
    if high is not None and whole > high:
        whole = high
    return Reading(reading.pattern, whole, reading.plants, high, reading.more_at, reading.more)


def choice_of(bed: Bed, reading: Reading, unit: Unit) -> Choice:
    """Return the choice that a place of the curve stands for; a pattern only if it is another."""
    spacing = Length(reading.spacing)
    planting = bed.planting
    own = planting is None or planting.pattern == reading.pattern
    words = exact_text(spacing, unit)
    name = (
        tr("spacing {spacing}", spacing=words)
        if own
        else tr("{pattern}, {spacing}", pattern=tr(PATTERN_WORDS[reading.pattern]), spacing=words)
    )
    return Choice(name, bed.name, pattern=None if own else reading.pattern, spacing=spacing)


def reading_sentence(reading: Reading, unit: Unit, now: int) -> str:
    """Say a place of the curve: spacing in both systems, plants, pattern, how far it holds."""
    parts = [
        tr_n(
            "{spacing} ({other}), {pattern}: {n} plant{difference}.",
            "{spacing} ({other}), {pattern}: {n} plants{difference}.",
            reading.plants,
            spacing=exact_text(Length(reading.spacing), unit),
            other=short_length(reading.spacing, "mm" if unit == "in" else "in"),
            pattern=tr(PATTERN_WORDS[reading.pattern]),
            difference=difference_words(reading.plants - now),
        )
    ]
    if reading.same_up_to == reading.spacing:
        parts.append(tr("No wider spacing holds as many"))
    elif reading.same_up_to is not None:
        parts.append(tr("The same up to {at}", at=rounded_down(reading.same_up_to, unit)))
    if reading.more_at is not None:
        at = rounded_down(reading.more_at, unit)
        parts.append(tr_n("at {at} {n} more", "at {at} {n} more", reading.more, at=at))
    first, *rest = parts
    return f"{first} {'; '.join(rest)}".rstrip() + ("." if rest else "")


def difference_words(more: int) -> str:
    """Say how many plants more or fewer than now, with a comma before; empty for as many."""
    if more > 0:
        return tr_n(", {n} more than now", ", {n} more than now", more)
    if more < 0:
        return tr_n(", {n} fewer than now", ", {n} fewer than now", -more)
    return tr(", as many as now")
