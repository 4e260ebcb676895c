"""Choices side by side and the step curve, in the words and numbers of the drawer."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import floor
from time import perf_counter
from typing import Final

from geometry.compare.choices import ChoiceResult, choices_for, judge
from geometry.compare.steps import Step, largest_spacing_for, step_curve
from geometry.model.bed import Bed
from geometry.model.planting import Pattern
from geometry.model.project import Choice, Project
from geometry.units import MM_PER, Length, Unit, exact_text, format_density, format_length
from layout_gui.panels.words import PATTERN_WORDS, bare_length

SERIES: Final[tuple[Pattern, ...]] = ("square", "staggered", "best")
_NARROWEST: Final = Fraction(7, 10)
_WIDEST: Final = Fraction(14, 10)
"""The curve runs from seven tenths to fourteen tenths of the present spacing."""
_QUICK_S: Final = 0.008
"""A bed that is counted in less time gets every threshold exactly."""
_CURVE_S: Final = 3.0
"""About so long a sampled line may take."""
_SAMPLES: Final = (10, 60)
"""A sampled line has at least and at most so many spacings."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """What the drawer shows of one bed, the bed as it stands first among the results.

    ``thresholds`` are exact steps of the bed's own pattern on either side of its spacing. The
    ``series`` are exact if ``is_exact``; otherwise each holds only what was counted, so that a
    true step can lie a little further right. ``is_complete`` is False while more is to come.
    """

    results: tuple[ChoiceResult, ...] = ()
    series: Mapping[Pattern, Sequence[Step]] = field(default_factory=dict)
    thresholds: tuple[Step, ...] = ()
    is_exact: bool = True
    is_complete: bool = False


Tell = Callable[[Comparison], object]
IsWanted = Callable[[], bool]


class _NotWantedError(Exception):
    """Nobody waits for the comparison any more."""


def compare(project: Project, bed: Bed, is_wanted: IsWanted, tell: Tell) -> Comparison | None:
    """Compare for one bed, telling what is known so far; None once nobody wants it any more."""
    try:
        return _Work(project, bed, is_wanted, tell).done()
    except _NotWantedError:
        return None


class _Work:
    """One comparison while it is being made: the curve first, the choices after it."""

    def __init__(self, project: Project, bed: Bed, is_wanted: IsWanted, tell: Tell) -> None:
        self._project = project
        self._bed = bed
        self._is_wanted = is_wanted
        self._tell = tell
        self._spacing = bed.planting.spacing.exact if bed.planting else Fraction(200)

    def done(self) -> Comparison:
        choices = choices_for(self._project, self._bed)
        now = self._judge(choices[0])
        begun = perf_counter()
        self._counter(None)(self._spacing)
        taken = perf_counter() - begun
        samples = min(max(round(_CURVE_S / taken), _SAMPLES[0]), _SAMPLES[1])
        found = Comparison((now,), is_exact=taken < _QUICK_S)
        for pattern in SERIES:
            steps = self._exact(pattern) if found.is_exact else self._sampled(pattern, samples)
            found = self._told(replace(found, series={**found.series, pattern: steps}))
        found = self._told(replace(found, thresholds=self._thresholds(now)))
        for choice in choices[1:]:
            found = self._told(replace(found, results=(*found.results, self._judge(choice))))
        return replace(found, is_complete=True)

    def _told(self, comparison: Comparison) -> Comparison:
        self._tell(comparison)
        return comparison

    def _judge(self, choice: Choice) -> ChoiceResult:
        if not self._is_wanted():
            raise _NotWantedError
        return judge(self._project, self._bed, choice)

    def _counter(self, pattern: Pattern | None) -> Callable[[Fraction], int]:
        planting = self._bed.planting
        # Opening a pattern up never changes its count, and costs time.
        bed = (
            replace(self._bed, planting=replace(planting, spread=False)) if planting else self._bed
        )

        def count_at(spacing: Fraction) -> int:
            if not self._is_wanted():
                raise _NotWantedError
            choice = Choice("", bed.name, pattern=pattern, spacing=Length(spacing))
            return judge(self._project, bed, choice).plants

        return count_at

    def _exact(self, pattern: Pattern) -> tuple[Step, ...]:
        return step_curve(
            self._counter(pattern),
            narrowest=self._spacing * _NARROWEST,
            widest=self._spacing * _WIDEST,
        )

    def _sampled(self, pattern: Pattern, samples: int) -> tuple[Step, ...]:
        count_at = self._counter(pattern)
        apart = (_WIDEST - _NARROWEST) / samples
        steps: list[Step] = []
        for at in range(samples, -1, -1):
            spacing = self._spacing * (_NARROWEST + apart * at)
            count = count_at(spacing)
            if not steps or count > steps[-1].count:
                steps.append(Step(spacing, count))
        return tuple(reversed(steps))

    def _thresholds(self, now: ChoiceResult) -> tuple[Step, ...]:
        """The step that the bed stands on, and the next one that holds more plants."""
        count_at = self._counter(None)
        narrowest, widest = self._spacing * _NARROWEST, self._spacing * _WIDEST
        here = largest_spacing_for(now.plants, count_at, narrowest=self._spacing, widest=widest)
        more = largest_spacing_for(
            now.plants + 1, count_at, narrowest=narrowest, widest=self._spacing
        )
        steps = [Step(here, now.plants)] if here is not None else []
        return (*([Step(more, count_at(more))] if more is not None else []), *steps)


def tried_choice(bed: Bed, spacing_mm: float, unit: Unit) -> Choice:
    """Return the bed's own pattern at a spacing read off the curve, in whole steps of a tape."""
    step = MM_PER["in"] / 16 if unit == "in" else Fraction(1)
    spacing = Length(max(step, round(Fraction(spacing_mm) / step) * step))
    return Choice(f"spacing {exact_text(spacing, unit)}", bed.name, spacing=spacing)


def headers(unit: Unit) -> tuple[str, ...]:
    """Name the columns of ``texts``."""
    area = "per ft²" if unit == "in" else "per m²"
    return (f"choice, {unit}", "plants", area, "ceiling", "foam")


def choice_words(result: ChoiceResult, unit: Unit) -> str:
    """Name a choice: by its own name, or by pattern, spacing and edge margin."""
    if result.choice.name:
        return result.choice.name
    planting = result.planting
    margin = format_length(planting.edge_margin.exact, unit)
    spacing = exact_text(planting.spacing, unit)
    return f"{PATTERN_WORDS[planting.pattern]}, {spacing}, edge {margin}"


def texts(result: ChoiceResult, unit: Unit) -> tuple[str, ...]:
    """Write a row: name, plants, density, share of the ceiling, least foam; units as HEADERS."""
    share = f"{result.share_of_ceiling:.0%}" if result.share_of_ceiling is not None else ""
    web = bare_length(max(result.least_web_mm, 0), unit) if result.least_web_mm is not None else ""
    density = format_density(result.density_per_m2, unit).split()[0]
    planting = result.planting
    spacing, margin = (
        bare_length(length.exact, unit) for length in (planting.spacing, planting.edge_margin)
    )
    own = f"{PATTERN_WORDS[planting.pattern]} {spacing}, edge {margin}"
    return (result.choice.name or own, f"{result.plants}", density, share, web)


def step_sentence(thresholds: Sequence[Step], plants: int, unit: Unit) -> str:
    """Say up to which spacing the same count fits, and from where on down there are more."""
    words: list[str] = []
    for step in reversed(thresholds):
        at = rounded_down(step.spacing, unit)
        if step.count <= plants:
            words.append(f"The same {plants} fit up to {at}.")
        else:
            words.append(f"{step.count - plants} more fit at {at} and less.")
    return " ".join(words)


def rounded_down(exact: Fraction, unit: Unit) -> str:
    """Write a threshold to 0.1 mm or 1/16 in, never above it."""
    step = MM_PER["in"] / 16 if unit == "in" else Fraction(1, 10)
    return format_length(floor(exact / step) * step, unit)
