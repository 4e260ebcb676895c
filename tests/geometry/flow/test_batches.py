"""Calendars against Python's own, sums by hand, and rules that hold for any crop."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.flow.batches import (
    Pause,
    Season,
    grow_batches,
    last_sowing,
    sowing_days,
    stays_of,
)
from geometry.flow.places import most_at_once
from geometry.flow.stages import Stage, raft_places

NURSERY = Stage("nursery", 14, sites=60, survival=Fraction(95, 100))
FINISH = Stage("finish", 21, sites=18, survival=Fraction(95, 100))
SPROUT = Stage("sprout", 7, survival=Fraction(90, 100))


def test_dates_through_month_ends_and_a_leap_day() -> None:
    # 2028 is a leap year; 12 + 10 + 14 days is the published calendar of Rutgers' floating lettuce.
    house = [Stage("germination", 12), Stage("first", 10, sites=60), Stage("final", 14, sites=21)]
    sown = date(2028, 1, 25)

    (batch,) = grow_batches([sown.toordinal()], house, 100)

    assert [date.fromordinal(day) for day in batch.begins] == [
        date(2028, 1, 25),
        date(2028, 2, 6),
        date(2028, 2, 16),
    ]
    assert date.fromordinal(batch.picked) == date(2028, 3, 1) == sown + timedelta(days=36)


def test_weekly_sowing_keeps_its_weekday_through_a_pause_and_the_end_of_the_year() -> None:
    first, until = date(2026, 11, 30), date(2027, 1, 25)
    holidays = Pause(date(2026, 12, 21).toordinal(), date(2027, 1, 3).toordinal())

    days = sowing_days(first.toordinal(), 7, until.toordinal(), [holidays])

    dates = [date.fromordinal(day) for day in days]
    assert {day.weekday() for day in dates} == {0}
    assert dates == [
        date(2026, 11, 30), date(2026, 12, 7), date(2026, 12, 14),
        date(2027, 1, 4), date(2027, 1, 11), date(2027, 1, 18), date(2027, 1, 25),
    ]  # fmt: skip


def test_a_farm_of_two_raceways() -> None:
    # 120 heads a week: eight finishing rafts of 18, three weeks; three nursery rafts of 60, two.
    seeds = 178
    batches = grow_batches(range(0, 7 * 30, 7), [SPROUT, NURSERY, FINISH], seeds)

    assert batches[0].plants == (178, 160, 152, 144)
    assert (batches[0].begins, batches[0].picked) == ((0, 7, 21), 42)
    stays = stays_of(batches, [SPROUT, NURSERY, FINISH])
    assert sum(s.batch == 1 and s.stage == 2 for s in stays) == 9
    assert most_at_once(stays) == raft_places(160, NURSERY, 7) + raft_places(152, FINISH, 7)


def test_a_season_of_factor_one_changes_nothing_and_winter_makes_longer() -> None:
    plain = grow_batches([0, 7], [NURSERY, FINISH], 60)

    assert grow_batches([0, 7], [NURSERY, FINISH], 60, [Season(0, 99, Fraction(1))]) == plain
    (batch,) = grow_batches([0], [NURSERY, FINISH], 60, [Season(10, 99, Fraction(3, 2))])
    assert (batch.begins, batch.picked) == ((0, 14), 14 + 32)  # 31.5 days, the last one begun


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(GeometryError):
        sowing_days(0, 0, 10)
    with pytest.raises(GeometryError):
        grow_batches([0], [], 10)


CROPS = st.lists(
    st.builds(
        Stage,
        st.just("s"),
        st.integers(1, 40),
        st.one_of(st.none(), st.integers(1, 60)),
        st.integers(1, 100).map(lambda n: Fraction(n, 100)),
    ),
    min_size=1,
    max_size=3,
)
SEASONS = st.lists(
    st.tuples(st.integers(0, 80), st.integers(0, 80), st.integers(50, 200)).map(
        lambda s: Season(min(s[:2]), max(s[:2]), Fraction(s[2], 100))
    ),
    max_size=2,
)


@given(CROPS, SEASONS, st.integers(0, 200))
def test_the_last_sowing_is_in_time_and_the_day_after_is_not(
    crop: list[Stage], seasons: list[Season], by: int
) -> None:
    day = last_sowing(by, crop, seasons)

    assert grow_batches([day], crop, 1, seasons)[0].picked <= by
    for later in range(day + 1, by + 1):
        assert grow_batches([later], crop, 1, seasons)[0].picked > by


@given(CROPS, st.integers(1, 500), st.integers(1, 14))
def test_the_fullest_day_is_what_the_formula_of_places_says(
    crop: list[Stage], seeds: int, interval: int
) -> None:
    batches = grow_batches(range(0, interval * 150, interval), crop, seeds)

    by_formula = sum(
        raft_places(plants, stage, interval)
        for stage, plants in zip(crop, batches[0].plants[:-1], strict=True)
    )

    # Stages that meet on one day need no more places than each by itself.
    assert most_at_once(stays_of(batches, crop)) <= by_formula
    if len(crop) == 1 and crop[0].days <= 100 * interval:
        assert most_at_once(stays_of(batches, crop)) == by_formula
