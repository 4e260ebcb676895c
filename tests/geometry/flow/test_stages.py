"""Seeds, rafts and places against sums done by hand and published houses."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.flow.stages import (
    Stage,
    begin_with,
    packs,
    raft_places,
    rafts_for,
    shared_places,
    whole_rafts_for,
)


def percent(value: float) -> Fraction:
    return Fraction(str(value)) / 100


def stages(*survivals: float) -> list[Stage]:
    return [Stage(str(n), 7, survival=percent(each)) for n, each in enumerate(survivals)]


def test_a_house_of_960_plants_a_day() -> None:
    # Rutgers Horticultural Engineering, floating lettuce: 960 a day, 21 to a board, 14 days.
    final = Stage("final", 14, sites=21)

    assert rafts_for(960, final) == 46
    assert raft_places(960, final, 1) == 644
    assert shared_places(960, final, 1) == 640


def area_m2(*stays: tuple[int, float]) -> float:
    """Return the water that 960 plants a day take, for so many days at so many plants a m²."""
    return sum(960 * days / density for days, density in stays)


def test_two_densities_take_less_water_than_one() -> None:
    # The same house: 10 days at 80.7 a square metre, then 14 at 28.3; against 24 days at 28.3.
    assert area_m2((10, 80.7), (14, 28.3)) == pytest.approx(594, abs=0.5)
    assert area_m2((24, 28.3)) == pytest.approx(814, abs=0.5)


def test_27_beds_of_which_three_are_set_each_week_go_round_in_nine_weeks() -> None:
    # Proceedings of the Florida State Horticultural Society, float-system lettuce, 2001-2008.
    assert raft_places(3 * 72, Stage("bed", 9 * 7, sites=72), 7) == 27


@pytest.mark.parametrize(
    ("wanted", "survivals", "seeds"),
    [
        (36, (90, 90, 97), 46),
        (144, (92, 88), 178),
        (30, (85,), 36),
        (960, (80,), 1200),
        (10, (100,), 10),
        (95, (95,), 100),
    ],
)
def test_seeds_are_rounded_up(wanted: int, survivals: tuple[float, ...], seeds: int) -> None:
    assert begin_with(wanted, stages(*survivals)) == seeds


def test_a_target_is_not_missed_by_a_hair() -> None:
    # 7 rafts of 18 at 95 % give 119.7 of 120.
    assert whole_rafts_for(120, Stage("finish", 21, sites=18, survival=percent(95))) == 8
    assert whole_rafts_for(Fraction("119.7"), Stage("f", 21, 18, percent(95))) == 7


def test_packs_at_exact_multiples() -> None:
    assert [packs(n, 162) for n in (0, 1, 162, 163, 324)] == [0, 1, 1, 2, 2]


@pytest.mark.parametrize(
    "wrong",
    [
        {"days": 0},
        {"days": 7, "sites": 0},
        {"days": 7, "survival": Fraction(0)},
        {"days": 7, "survival": Fraction(101, 100)},
    ],
)
def test_stages_that_cannot_be_are_refused(wrong: dict[str, int]) -> None:
    with pytest.raises(GeometryError):
        Stage("x", **wrong)  # type: ignore[arg-type]


@given(
    st.integers(1, 5000),
    st.lists(st.integers(1, 1000).map(lambda n: Fraction(n, 1000)), min_size=1, max_size=4),
)
def test_what_is_sown_is_enough_and_not_one_too_many(wanted: int, shares: list[Fraction]) -> None:
    each = [Stage(str(n), 1, survival=share) for n, share in enumerate(shares)]
    seeds = begin_with(wanted, each)
    through = Fraction(1)
    for share in shares:
        through *= share

    assert seeds * through >= wanted > (seeds - 1) * through
