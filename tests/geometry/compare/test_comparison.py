"""All that is compared for one bed, and what is taken over from before."""

from collections import deque
from dataclasses import replace

import pytest

import geometry.compare.comparison as module
from geometry.compare.choices import ChoiceResult
from geometry.compare.comparison import BOTH, Comparison, compare_bed, merged, rearranged
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.plan import BedPlan
from geometry.units import Length

PLANTING = Planting(
    spacing=Length.of(200),
    hole_diameter=Length.of(50),
    edge_margin=Length.of(100),
    web=Length.of(25),
    pattern="square",
    joints="separate",
)
BED = Bed("bench", Rectangle(Length.of(1200), Length.of(600)), planting=PLANTING)
WIDE = Choice("wide", "bench", spacing=Length.of(260))
OWN = Choice("as it was", "bench", pattern="square", spacing=Length.of(200))
PROJECT = Project("p", beds=(BED,), choices=(WIDE, OWN))


def last(project: Project, before: Comparison | None = None) -> Comparison:
    found = compare_bed(project, BED, series=("square",), before=before)
    return deque(found, maxlen=1)[0]


@pytest.fixture(scope="module")
def whole() -> Comparison:
    return last(PROJECT)


def test_a_kept_choice_stands_there_even_if_it_comes_to_the_present_state(
    whole: Comparison,
) -> None:
    assert [result.choice for result in whole.results[1:3]] == [WIDE, OWN]
    assert whole.results[2].plants == whole.results[0].plants


def test_what_comes_to_the_same_is_planned_once_and_seen_once() -> None:
    seen: list[tuple[ChoiceResult, BedPlan]] = []
    found = deque(
        compare_bed(PROJECT, BED, series=(), look=lambda *each: seen.append(each)), maxlen=1
    )[0]

    assert len(seen) == len(found.results) - 1
    for result, planned in seen:
        assert planned.plants == result.plants


def test_the_order_of_kept_choices_takes_nothing_new(whole: Comparison) -> None:
    turned = replace(PROJECT, choices=(OWN, replace(WIDE, name="very wide")))

    found = rearranged(turned, BED, whole)

    assert found is not None
    assert [result.choice.name for result in found.results[1:3]] == ["as it was", "very wide"]
    assert found == last(turned)
    assert rearranged(PROJECT, BED, whole) == whole


def test_a_choice_that_is_new_has_to_be_planned(
    whole: Comparison, monkeypatch: pytest.MonkeyPatch
) -> None:
    more = replace(PROJECT, choices=(*PROJECT.choices, Choice("few", "bench", count=6)))
    planned: list[Choice] = []
    judge_plan = module.judge_plan

    def noting(project: Project, bed: Bed, choice: Choice) -> tuple[ChoiceResult, BedPlan]:
        planned.append(choice)
        return judge_plan(project, bed, choice)

    assert rearranged(more, BED, whole) is None
    monkeypatch.setattr(module, "judge_plan", noting)
    found = last(more, whole)

    assert [choice.name for choice in planned] == ["few"]
    assert found.is_complete
    assert (found.series, found.thresholds) == (whole.series, whole.thresholds)
    assert found == last(more)


def test_a_part_of_a_comparison_gives_its_rows_and_the_rest_is_worked_out(
    whole: Comparison,
) -> None:
    part = replace(whole, results=whole.results[:4], thresholds=(), series={}, is_complete=False)

    assert rearranged(PROJECT, BED, part) is None
    assert last(PROJECT, part) == whole


def test_two_shares_put_together_are_the_whole(whole: Comparison) -> None:
    curves, choices = (
        deque(compare_bed(PROJECT, BED, series=("square",), shares=(share,)), maxlen=1)[0]
        for share in BOTH
    )

    assert len(curves.results) == 1
    assert not choices.series
    assert merged(curves, choices) == whole
    part = replace(choices, results=choices.results[:3], is_complete=False, share=0.5)
    assert not merged(curves, part).is_complete
    assert merged(curves, part).share == 0.75
    assert merged(curves, part).results == choices.results[:3]
    assert merged(curves, Comparison()).results == curves.results


def test_without_planting_there_is_nothing_to_rearrange(whole: Comparison) -> None:
    assert rearranged(PROJECT, replace(BED, planting=None), whole) is None


def test_every_line_is_known_roughly_before_any_is_known_exactly() -> None:
    known = list(compare_bed(PROJECT, BED, series=("square", "hexagonal"), shares=("curves",)))

    first = next(each for each in known if each.thresholds)
    lengths = {len(steps) for steps in first.series.values()}
    assert first.series.keys() == {"square", "hexagonal"}
    assert 2 < min(lengths) <= max(lengths) <= 5
    assert max(map(len, known[-1].series.values())) > 5
    shares = [each.share for each in known]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0
    assert shares[len(shares) // 2] > 0
