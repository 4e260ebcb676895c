"""Choices side by side: every number is that of a plan made by itself."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.compare.steps import Step
from geometry.model.bed import One
from geometry.model.outlines import Rectangle
from geometry.model.project import Choice
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.panels.choices import (
    Comparison,
    choice_words,
    compare,
    headers,
    rounded_down,
    step_sentence,
    texts,
    tried_choice,
)
from layout_gui.project import edits
from tests.layout_gui.panels.desk import make_bench, make_project

SMALL = make_bench(outline=Rectangle(Length.of(700), Length.of(600)), obstacles=(), rafts=One())
PROJECT = make_project(SMALL)
BED = PROJECT.beds[0]


@pytest.fixture(scope="module")
def comparison() -> Comparison:
    told: list[Comparison] = []
    found = compare(PROJECT, BED, lambda: True, told.append)
    assert found is not None
    assert [len(part.results) for part in told] == sorted(len(part.results) for part in told)
    return found


def test_every_choice_has_the_count_of_its_own_plan(comparison: Comparison) -> None:
    assert len(comparison.results) > 3
    for result in comparison.results:
        project = edits.use_choice(PROJECT, result.choice)
        assert result.plants == make_plan(project).beds[0].plants


def test_the_bed_as_it_stands_comes_first(comparison: Comparison) -> None:
    assert comparison.results[0].plants == make_plan(PROJECT).plants
    assert comparison.results[0].choice == Choice("", "Bench")
    assert comparison.is_complete


def test_every_step_of_the_curve_is_a_count_that_a_plan_has(comparison: Comparison) -> None:
    for pattern, steps in comparison.series.items():
        for step in steps:
            choice = Choice("", "Bench", pattern=pattern, spacing=Length(step.spacing))
            assert make_plan(edits.use_choice(PROJECT, choice)).plants == step.count
        counts = [step.count for step in steps]
        assert counts == sorted(counts, reverse=True)


def test_thresholds_are_the_last_spacings_that_hold_their_count(comparison: Comparison) -> None:
    counts = []
    for step in comparison.thresholds:
        for more, holds in ((0, True), (Fraction(1, 100), False)):
            choice = Choice("", "Bench", spacing=Length(step.spacing + more))
            plants = make_plan(edits.use_choice(PROJECT, choice)).plants
            assert (plants >= step.count) is holds
        counts.append(step.count)
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] == comparison.results[0].plants


def test_a_comparison_stops_when_nobody_wants_it() -> None:
    asked: list[bool] = []

    def is_wanted() -> bool:
        asked.append(True)
        return len(asked) < 3

    assert compare(PROJECT, BED, is_wanted, lambda _part: None) is None
    assert len(asked) == 3


def test_a_spacing_read_off_the_curve_is_a_whole_step_of_a_tape() -> None:
    assert tried_choice(BED, 187.37, "mm").spacing == Length.of(187)
    assert tried_choice(BED, 187.37, "in").spacing == Length.of("7 3/8 in")
    assert tried_choice(BED, 0.01, "mm").spacing == Length.of(1)


def test_a_threshold_is_never_rounded_up() -> None:
    assert rounded_down(Fraction("193.69"), "mm") == "193.6 mm"
    assert rounded_down(Fraction("190.4"), "in") == "7 7/16 in"


def test_the_sentence_says_how_far_the_count_holds_and_where_there_are_more() -> None:
    steps = (Step(Fraction("186.02"), 44), Step(Fraction("193.69"), 36))

    assert step_sentence(steps, 36, "mm") == (
        "The same 36 fit up to 193.6 mm. 8 more fit at 186 mm and less."
    )
    assert step_sentence((), 36, "mm") == ""


def test_a_row_is_named_by_its_own_name_or_by_its_rules(comparison: Comparison) -> None:
    own = comparison.results[1]
    kept = replace(own, choice=replace(own.choice, name="for the summer"))

    assert texts(kept, "mm")[0] == "for the summer"
    assert choice_words(kept, "mm") == "for the summer"
    assert "mm" in choice_words(own, "mm")
    assert len(texts(own, "in")) == len(headers("in")) == 5
    assert headers("in")[2] == "per ft²"


def test_a_kept_choice_is_compared_too() -> None:
    choice = Choice("tight", "Bench", spacing=Length.of(150))
    project = replace(PROJECT, choices=(choice,))
    found = compare(project, project.beds[0], lambda: True, lambda _part: None)

    assert found is not None
    assert choice in [result.choice for result in found.results]


def test_a_slow_bed_gets_a_sampled_curve_that_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("layout_gui.panels.choices._QUICK_S", 0.0)
    monkeypatch.setattr("layout_gui.panels.choices._CURVE_S", 0.0)
    found = compare(PROJECT, BED, lambda: True, lambda _part: None)

    assert found is not None
    assert not found.is_exact
    assert all(len(steps) >= 1 for steps in found.series.values())
