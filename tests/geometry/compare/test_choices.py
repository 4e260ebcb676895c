"""Choices side by side: what is offered, and that each is planned like the bed itself."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.compare.choices import ChoiceResult, choices_for, compare_choices, judge
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.plan import make_plan
from geometry.units import ZERO, Length


def length(mm: Fraction | float | str) -> Length:
    return Length(Fraction(mm))


PLANTING = Planting(
    spacing=length(200),
    hole_diameter=length(50),
    edge_margin=length(100),
    web=length(25),
    pattern="square",
    joints="separate",
)
BED = Bed("bench", Rectangle(length(1200), length(600)), planting=PLANTING)
PROJECT = Project("p", beds=(BED,))


def test_the_bed_as_it_stands_comes_first_and_nothing_twice() -> None:
    offered = choices_for(PROJECT, BED)

    assert offered[0] == Choice("", "bench")
    assert len(set(offered)) == len(offered)
    # Three patterns, three spacings, two margins; one of them is the bed as it stands.
    assert len(offered) == 18


def test_kept_choices_of_this_bed_come_before_the_offered_ones() -> None:
    kept = Choice("wide", "bench", spacing=length(260))
    project = replace(PROJECT, choices=(kept, Choice("elsewhere", "other", spacing=length(90))))

    assert choices_for(project, BED)[1] == kept
    assert all(choice.bed == "bench" for choice in choices_for(project, BED))


def test_spacings_are_offered_in_round_numbers_of_the_project_s_unit() -> None:
    metric = {choice.spacing.exact for choice in choices_for(PROJECT, BED) if choice.spacing}
    inches = replace(PROJECT, units="in")
    eight = replace(BED, planting=replace(PLANTING, spacing=length("203.2")))
    imperial = {choice.spacing.exact for choice in choices_for(inches, eight) if choice.spacing}

    assert metric == {180, 200, 220}
    assert imperial == {Fraction(254, 10) * Fraction(n, 4) for n in (29, 32, 35)}


def test_margins_that_the_web_overrules_are_not_offered_twice() -> None:
    flush = replace(BED, planting=replace(PLANTING, edge_margin=length(20)))

    assert len(choices_for(PROJECT, flush)) == 9


def test_a_tiny_spacing_is_offered_unrounded() -> None:
    tiny = replace(
        BED,
        planting=replace(PLANTING, spacing=length(2), hole_diameter=length(1), web=ZERO),
    )

    found = {choice.spacing.exact for choice in choices_for(PROJECT, tiny) if choice.spacing}
    assert found == {2, Fraction(9, 5), Fraction(11, 5)}


def test_a_bed_without_planting_has_nothing_to_compare() -> None:
    bare = replace(BED, planting=None)

    assert compare_choices(PROJECT, bare) == ()
    with pytest.raises(ValueError, match="no planting"):
        judge(PROJECT, bare, Choice("", "bench"))


def result(choice: Choice) -> ChoiceResult:
    return judge(PROJECT, BED, choice)


def test_each_choice_gives_what_its_bed_would_give() -> None:
    for found in compare_choices(PROJECT, BED):
        planned = make_plan(Project("p", beds=(replace(BED, planting=found.planting),))).beds[0]
        assert found.plants == planned.plants
        assert found.density_per_m2 == pytest.approx(found.plants / 0.72)
        assert found.ceiling is not None
        assert found.plants <= found.ceiling
        assert found.share_of_ceiling == found.plants / found.ceiling


def test_square_and_stagger_on_one_raft() -> None:
    """By hand, centres in 1000 x 400 at 220 mm.

    Square 5 x 2. Rows along: gaps of 190.5, so three rows; 4 * 220 + 110 = 990 leaves room for
    five in the shifted one too.
    """
    wider = length(220)
    square = result(Choice("", "bench", spacing=wider))
    stagger = result(Choice("", "bench", spacing=wider, pattern="hexagonal"))

    assert (square.pattern, square.plants) == ("square", 10)
    assert (stagger.pattern, stagger.direction, stagger.plants) == ("hexagonal", "along", 15)


def test_a_margin_of_nothing_is_the_margin_of_the_web() -> None:
    """Web 25 and radius 25 keep centres in 1100 x 500: at 250 mm 5 x 3, within 1000 x 400 5 x 2."""
    spacing = length(250)

    assert result(Choice("", "bench", spacing=spacing)).plants == 10
    assert result(Choice("", "bench", spacing=spacing, edge_margin=ZERO)).plants == 15


def test_the_least_web_is_told() -> None:
    """Pitch 200 leaves 150 between rims; the edge margin of 100 leaves 75."""
    found = result(Choice("", "bench"))

    assert found.least_web_mm == pytest.approx(75)
    assert (found.pitch_mm, found.row_gap_mm) == pytest.approx((200, 200))
    assert found.problems == 0


def test_a_choice_without_room_has_no_pattern() -> None:
    found = result(Choice("", "bench", edge_margin=length(400)))

    assert (found.plants, found.pattern, found.least_web_mm) == (0, "", None)
    assert found.problems == 1
