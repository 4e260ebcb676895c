"""All that is compared for one bed: choices side by side, curves, thresholds, piece by piece."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import islice
from typing import Final, Literal

from geometry.compare.choices import (
    ChoiceResult,
    Sameness,
    choices_for,
    judge_plan,
    same_as,
    with_outcome,
)
from geometry.compare.counting import BedCounter, Knob
from geometry.compare.courses import courses_of
from geometry.compare.steps import Step, growing_curve
from geometry.compare.thresholds import Threshold, find_threshold, fine_step, knobs_of
from geometry.model.bed import Bed
from geometry.model.planting import Pattern, Planting
from geometry.model.project import Choice, Project
from geometry.model.zone import all_plantings
from geometry.plan import BedPlan, one_foam
from geometry.units import Unit

Share = Literal["curves", "choices"]
"""Two shares of the work that two processes can do side by side: see ``merged``."""

BOTH: Final[tuple[Share, ...]] = ("curves", "choices")

Look = Callable[[ChoiceResult, BedPlan], None]
"""Sees the plan of a choice that was just judged."""

SERIES: Final[tuple[Pattern, ...]] = ("square", "staggered", "best")
"""The patterns that have a line of their own on the curve."""

_NARROWEST: Final = Fraction(7, 10)
_WIDEST: Final = Fraction(14, 10)
"""The curve runs from seven tenths to fourteen tenths of the present spacing."""
_FIRST_LOOK: Final = 5
"""So many spacings of each line are counted before anything else: the curve as it roughly runs."""
_SEARCH: Final = 24
_PLAN: Final = 4
"""So many counts take about as long as a search for a threshold, and as a plan of a choice."""
_COUNTS: Final = 160
_SLOW_COUNTS: Final = 32
"""So many spacings are counted for a line of the curve where rafts meet, and where rows are laid
on odd outlines; on rectangles laid by themselves as many as it takes."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """What is known of one bed so far; the bed as it stands comes first among the ``results``.

    ``thresholds`` come in the order spacing, edge margin, clearance, joint gap. The ``series`` are
    exact to the step of the tape if ``is_exact``; otherwise each holds only what was counted, so
    that a true step can lie a little further right. ``share`` says how much of the work is done.
    """

    results: tuple[ChoiceResult, ...] = ()
    series: Mapping[Pattern, Sequence[Step]] = field(default_factory=dict)
    thresholds: tuple[Threshold, ...] = ()
    is_exact: bool = True
    is_complete: bool = False
    share: float = 0.0


def compare_bed(
    project: Project,
    bed: Bed,
    *,
    series: Sequence[Pattern] = SERIES,
    now: ChoiceResult | None = None,
    look: Look | None = None,
    before: Comparison | None = None,
    shares: Sequence[Share] = BOTH,
) -> Iterator[Comparison]:
    """Compare one planted bed, giving what is known after each small piece of work.

    ``now`` is what the bed as it stands gives, where that is known already. ``look`` sees the plan
    of every choice that is planned here; choices that come to the same are planned once. What
    ``before`` holds of this very bed in these units is taken over and not worked out again. Of
    the ``shares``, "curves" are the lines and the thresholds of the spacing, "choices" the rest.

    The first value holds the bed as it stands; the last one is complete. Whoever needs no more
    stops asking. Gives nothing for a bed without planting.
    """
    planting = bed.planting
    if planting is None:
        return
    counter = BedCounter(bed, planting)
    choices, knobs = choices_for(project, bed), knobs_of(counter)
    found = Comparison(is_exact=counter.room is not None)
    known = _known(planting, before)
    if before is not None and before.is_complete:
        series, knobs = (), ()
        found = replace(before, results=(), is_complete=False)

    def judge_once(choice: Choice) -> ChoiceResult:
        key = same_as(planting, choice)
        if key not in known:
            result, planned = judge_plan(project, bed, choice)
            known[key] = result = with_outcome(project, result, planned)
            if look is not None:
                look(result, planned)
        return replace(known[key], choice=choice)

    has_course = any(courses_of(project, all_plantings(planting, bed.zones)))
    foam = one_foam(project.sheets)
    has_foam = foam is not None and foam.thickness is not None

    def lacks_outcome(result: ChoiceResult) -> bool:
        is_bare = result.plants == 0
        lacks_leaves = result.growing is None and has_course
        return not is_bare and (lacks_leaves or (result.afloat is None and has_foam))

    def begin() -> Iterator[Comparison]:
        key = same_as(planting, choices[0])
        if now is not None and (key not in known or lacks_outcome(known[key])):
            known[key] = now
        yield replace(found, results=(judge_once(choices[0]),))
        if lacks_outcome(known[key]):
            del known[key]
            yield replace(found, results=(judge_once(choices[0]),))

    def find(knob: Knob) -> Iterator[Comparison]:
        before = found.thresholds
        for threshold in find_threshold(counter, knob, project.units):
            yield replace(found, thresholds=(*before, threshold))

    def draw(pattern: Pattern) -> Iterator[Comparison]:
        for steps in _curve(counter, bed, pattern, project.units):
            yield replace(found, series={**found.series, pattern: steps})

    def judged(choice: Choice) -> Iterator[Comparison]:
        yield replace(found, results=(*found.results, judge_once(choice)))

    lines = [draw(pattern) for pattern in series]
    most = _most_counts(counter)
    weights = {"first": len(lines) * _FIRST_LOOK, "lines": len(lines) * (most or _COUNTS)}
    curves = [(weights["first"], _in_turn([islice(line, _FIRST_LOOK) for line in lines]))]
    curves += [(_SEARCH, find(knob)) for knob in knobs if knob == "spacing"]
    curves += [(weights["lines"] - weights["first"], _in_turn(lines))]
    rest = [(_PLAN, judged(choice)) for choice in choices[1:]]
    rest += [(_SEARCH, find(knob)) for knob in knobs if knob != "spacing"]
    work = [(_PLAN, begin())]
    work += curves if "curves" in shares else []
    work += rest if "choices" in shares else []
    done, whole = 0, sum(weight for weight, _ in work)
    for weight, piece in work:
        for step, found in enumerate(piece):
            yield replace(found, share=(done + min(step, weight)) / whole)
        done += weight
    yield replace(found, is_complete=True, share=1.0)


def merged(curves: Comparison, choices: Comparison) -> Comparison:
    """Put together what two processes know of one bed, each of its own share."""
    whole = curves.is_complete and choices.is_complete
    longer = max((choices.results, curves.results), key=len)
    return Comparison(
        longer,
        curves.series,
        (*curves.thresholds, *choices.thresholds),
        is_exact=curves.is_exact,
        is_complete=whole,
        share=1.0 if whole else (curves.share + choices.share) / 2,
    )


def rearranged(project: Project, bed: Bed, before: Comparison) -> Comparison | None:
    """Return a complete comparison of a bed with other kept choices, or with these in other order.

    None where something is not known yet: then ``compare_bed`` takes over what is.
    """
    planting = bed.planting
    if planting is None or not before.is_complete:
        return None
    known = _known(planting, before)
    results = []
    for choice in choices_for(project, bed):
        result = known.get(same_as(planting, choice))
        if result is None:
            return None
        results.append(replace(result, choice=choice))
    return replace(before, results=tuple(results))


def _known(planting: Planting, before: Comparison | None) -> dict[Sameness, ChoiceResult]:
    results = before.results if before is not None else ()
    return {same_as(planting, result.choice): result for result in results}


def _in_turn(works: Iterable[Iterator[Comparison]]) -> Iterator[Comparison]:
    """A piece of each work, then the next of each, until all are done."""
    left = deque(works)
    while left:
        work = left.popleft()
        for known in islice(work, 1):
            yield known
            left.append(work)


def _curve(
    counter: BedCounter, bed: Bed, pattern: Pattern, unit: Unit
) -> Iterator[tuple[Step, ...]]:
    if pattern != counter.planting.pattern:
        counter = BedCounter(bed, replace(counter.planting, pattern=pattern))
    spacing = counter.now("spacing")
    return growing_curve(
        lambda value: counter.at("spacing", value),
        narrowest=spacing * _NARROWEST,
        widest=spacing * _WIDEST,
        step=fine_step(unit),
        most=_most_counts(counter),
    )


def _most_counts(counter: BedCounter) -> int | None:
    """So many spacings are counted for a line; None where it takes as many as there are steps."""
    return None if counter.room else _COUNTS if counter.is_quick else _SLOW_COUNTS
