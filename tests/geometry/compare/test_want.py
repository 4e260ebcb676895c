"""A wanted number of plants finds the widest spacing that holds it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.compare.choices import compare_choices, judge
from geometry.compare.counting import changed
from geometry.compare.thresholds import fine_step
from geometry.compare.want import find_spacing
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.model.project import Choice, Project
from geometry.model.wanted import parse_wanted
from geometry.units import Length, Unit
from tests.geometry.compare.test_thresholds import BED, PLANTING, beds, length, plants


@given(bed=beds, count=st.integers(1, 90), unit=st.sampled_from(["mm", "in"]))
@settings(max_examples=14, deadline=None)
def test_so_many_fit_there_and_fewer_one_step_wider(bed: Bed, count: int, unit: Unit) -> None:
    found = find_spacing(bed, count, unit)
    assert found is not None
    assert found.wanted == count
    if found.spacing is None:
        assert found.counted.plants < count
        assert plants(changed(bed, "spacing", Fraction(70))) == found.counted.plants
        return
    step = fine_step(unit)
    assert (found.spacing / step).denominator == 1
    assert plants(changed(bed, "spacing", found.spacing)) == found.counted.plants >= count
    if plants(changed(bed, "spacing", Fraction(10**5))) < count:  # not one plant a raft, apart
        assert plants(changed(bed, "spacing", found.spacing + step)) < count


@given(bed=beds)
@settings(max_examples=5, deadline=None)
def test_more_plants_never_stand_wider_apart(bed: Bed) -> None:
    spacings = []
    for count in (2, 5, 9, 14, 30):
        found = find_spacing(bed, count, "mm")
        assert found is not None
        spacings.append(found.spacing or Fraction(0))

    assert spacings == sorted(spacings, reverse=True)


def test_a_fixed_pattern_stays_and_best_chooses() -> None:
    square = find_spacing(replace(BED, planting=replace(PLANTING, pattern="square")), 20, "mm")
    best = find_spacing(BED, 20, "mm")
    assert square is not None
    assert best is not None

    assert square.counted.pattern == "square"
    assert square.spacing is not None
    assert best.spacing is not None
    assert best.spacing >= square.spacing


def test_what_does_not_fit_says_the_most_that_does() -> None:
    found = find_spacing(BED, 5000, "mm")

    assert found is not None
    assert found.spacing is None
    # As close as hole and web allow: 50 + 20 mm.
    assert found.counted.plants == plants(changed(BED, "spacing", Fraction(70)))


def test_a_round_bed_is_searched_by_counting() -> None:
    bed = replace(BED, outline=Disc(length(900)))
    found = find_spacing(bed, 12, "mm")

    assert found is not None
    assert found.spacing is not None
    assert plants(changed(bed, "spacing", found.spacing)) >= 12


@pytest.mark.parametrize("joints", ["separate", "bed-wide"])
def test_an_l_with_an_obstacle_finds_a_spacing_that_its_own_count_confirms(joints: str) -> None:
    outline = LShape(*map(length, (1000, 800, 400, 400)))
    pipe = Obstacle("pipe", Disc(length(60)), centre=Spot(length(300), length(300)))
    planting = replace(PLANTING, joints=joints, pattern="hexagonal")
    bed = replace(BED, outline=outline, obstacles=(pipe,), rafts=Split(2, 1), planting=planting)
    found = find_spacing(bed, 9, "mm")

    assert found is not None
    assert found.spacing is not None
    assert plants(changed(bed, "spacing", found.spacing)) == found.counted.plants >= 9
    assert plants(changed(bed, "spacing", found.spacing + fine_step("mm"))) < 9


def test_without_planting_or_raft_there_is_no_answer() -> None:
    assert find_spacing(replace(BED, planting=None), 5, "mm") is None
    assert find_spacing(replace(BED, clearance=length(400)), 5, "mm") is None


def test_a_kept_choice_asks_for_plants_and_is_compared_with_its_spacing() -> None:
    forty = Choice("forty", "bench", count=40)
    dense = Choice("dense", "bench", pattern="square", density=_density("20/m2"))
    project = Project("p", beds=(BED,), choices=(forty, dense))
    results = {result.choice: result for result in compare_choices(project, BED)}

    found = find_spacing(BED, 40, "mm")
    assert found is not None
    assert results[forty].planting.spacing == Length(found.spacing or Fraction(0))
    assert results[forty].plants >= results[forty].wanted == 40
    assert results[dense].density_per_m2 >= 20
    assert results[dense].pattern == "square"
    assert results[forty].plain == Choice("forty", "bench", spacing=Length(found.spacing or 0))


def test_a_kept_choice_that_cannot_be_reached_is_planned_as_close_as_it_goes() -> None:
    result = judge(Project("p", beds=(BED,)), BED, Choice("all", "bench", count=10**6))

    assert result.planting.spacing == length(70)
    assert result.plants < (result.wanted or 0)


def _density(text: str) -> object:
    found = parse_wanted(text)
    assert not isinstance(found, int)
    return found


INCH = Fraction(254, 10)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_exact_fits_are_found(unit: Unit) -> None:
    """48 x 24 in, 4 in margins: three rows of six stand exactly 8 in apart."""
    planting = replace(
        PLANTING, spacing=length(150), pattern="square", edge_margin=Length(4 * INCH)
    )
    board = Bed("board", Rectangle(Length(48 * INCH), Length(24 * INCH)), planting=planting)
    found = find_spacing(board, 18, unit)

    assert found is not None
    assert found.spacing == (8 * INCH if unit == "in" else Fraction("203.2"))
