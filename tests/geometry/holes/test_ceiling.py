"""Upper bounds: exact at their limits and never below what rows or records hold."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.ceiling import grown, oler, oler_rectangle
from geometry.holes.rows import best_rows

lengths = st.fractions(0, 2000, max_denominator=10)
spacings = st.fractions(40, 500, max_denominator=10)


@settings(deadline=None)
@given(w=lengths, h=lengths, d=spacings)
def test_no_rows_hold_more_than_the_ceiling(w: Fraction, h: Fraction, d: Fraction) -> None:
    most = best_rows(w, h, d, pattern="best", direction="best")[0].count
    area, perimeter = float(w * h), float(2 * (w + h))

    assert most <= oler_rectangle(w, h, d)
    assert abs(oler_rectangle(w, h, d) - oler(area, perimeter, float(d))) <= 1
    assert most <= oler(area, perimeter, float(d))


@settings(deadline=None)
@given(w=lengths, h=lengths, d=spacings, margin=st.integers(0, 150))
def test_no_rows_hold_more_than_the_ceiling_of_any_outline(
    w: Fraction, h: Fraction, d: Fraction, margin: int
) -> None:
    most = best_rows(w, h, d, pattern="best", direction="best")[0].count
    length, width = float(w) + 2 * margin, float(h) + 2 * margin

    assert most <= grown(length * width, 2 * (length + width), margin, float(d))


@pytest.mark.parametrize(
    ("w", "h", "d", "most"),
    [
        (510, 510, 295, 7),
        (520, 520, 150, 21),
        (1000, 500, 100, 73),
        (1143, Fraction("571.5"), Fraction("190.5"), 30),
        (2340, 1120, 220, 79),
        (1100, 500, 130, 50),
        (900, Fraction("86.6"), 100, 19),
        (Fraction("0.9"), Fraction("0.6"), Fraction("0.1"), 78),
    ],
)
def test_the_worked_ceilings(
    w: Fraction | int, h: Fraction | int, d: Fraction | int, most: int
) -> None:
    """Last column of the table in section 3 of the packing facts."""
    assert oler_rectangle(Fraction(w), Fraction(h), Fraction(d)) == most


def test_the_floor_is_exact_where_the_bound_is_whole() -> None:
    d = Fraction(1905, 10)

    assert oler_rectangle(10 * d, Fraction(0), d) == 11
    assert oler_rectangle(10 * d - Fraction(1, 10**15), Fraction(0), d) == 10
    assert oler_rectangle(Fraction(-1), d, d) == 0


def test_an_l_shape_is_bounded_by_what_it_is_grown_to() -> None:
    """600 x 600 less 300 x 300, margin 0, spacing 300: eight places on a 300 mm grid.

    By hand: 270,000 + 2400 * 173.205 + pi * 30,000 = 779,940; times 2, by 155,885: 10.006.
    """
    assert grown(270_000, 2400, 0, 300) == 10


def test_a_margin_wider_than_the_reach_leaves_the_plain_area() -> None:
    assert grown(1e6, 4000, 1000, 100) == math.floor(2e6 / (math.sqrt(3) * 1e4))
