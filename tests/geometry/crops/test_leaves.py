"""Leaf widths between measured days, on straight lines and nowhere else."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.crops.leaves import days_of, first_day_at, width_on
from geometry.model.growth import Growth, LeafWidth
from geometry.units import Length


def growth(*measured: tuple[int, float]) -> Growth:
    return Growth("dill", tuple(LeafWidth(day, Length.of(width)) for day, width in measured))


MEASURED = growth((5, 80), (15, 150), (30, 280))


@pytest.mark.parametrize(
    ("day", "width"),
    [(4, None), (5, 80), (10, 115), (15, 150), (24, 228), (30, 280), (31, None)],
)
def test_the_width_lies_on_the_line_between_two_days(day: int, width: int | None) -> None:
    assert width_on(MEASURED, day) == width


@pytest.mark.parametrize(
    ("width", "day"), [(10, 5), (80, 5), (81, 6), (150, 15), (151, 16), (280, 30), (281, None)]
)
def test_the_first_day_is_the_first_that_is_wide_enough(width: int, day: int | None) -> None:
    assert first_day_at(MEASURED, Fraction(width)) == day


def test_one_figure_is_known_on_its_day_alone() -> None:
    one = growth((12, 127))

    assert width_on(one, 12) == Fraction(127)
    assert width_on(one, 13) is None
    assert days_of(one) == (12, 12)


def test_without_figures_nothing_is_known() -> None:
    assert width_on(growth(), 3) is None
    assert first_day_at(growth(), Fraction(1)) is None
    assert days_of(growth()) is None


@given(
    days=st.lists(st.integers(0, 60), min_size=2, max_size=6, unique=True).map(sorted),
    rises=st.lists(st.integers(0, 90), min_size=6, max_size=6),
    wanted=st.integers(1, 600),
)
def test_day_and_width_say_the_same(days: list[int], rises: list[int], wanted: int) -> None:
    widths = [sum(rises[: n + 1]) + 1 for n in range(len(days))]
    record = growth(*((day, width) for day, width in zip(days, widths, strict=True)))

    found = first_day_at(record, Fraction(wanted))

    known = [day for day in range(days[0], days[-1] + 1) if (width_on(record, day) or 0) >= wanted]
    assert found == (known[0] if known else None)
