"""Thresholds in closed form against exact counting just below and just above."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.holes.rows import best_rows
from geometry.holes.thresholds import largest_step, widest_spacing
from geometry.model.planting import Direction, Pattern

ROWS: list[Pattern] = [
    "square", "rectangular", "hexagonal", "staggered", "mixed", "best", "rows",
]  # fmt: skip
sides = st.one_of(
    st.sampled_from([Fraction(0), Fraction(1, 3), Fraction(1000), 47 * Fraction(254, 10)]),
    st.fractions(min_value=1, max_value=3000, max_denominator=80),
)
counts = st.one_of(st.integers(2, 12), st.integers(2, 250))
ways = st.sampled_from(("along", "across", "best"))


def count_at(
    w: Fraction, h: Fraction, d: Fraction, pattern: Pattern, way: Direction, rows: Fraction | None
) -> int:
    try:
        found = best_rows(w, h, d, pattern=pattern, direction=way, row_spacing=rows)
    except TooManyError:
        reject()
    return found[0].count if found else 0


@pytest.mark.parametrize("pattern", ROWS)
@given(w=sides, h=sides, count=counts, way=ways, row_spacing=st.integers(20, 400))
@settings(max_examples=60, deadline=None)
def test_the_count_holds_just_below_and_not_just_above(
    pattern: Pattern, w: Fraction, h: Fraction, count: int, way: Direction, row_spacing: int
) -> None:
    """One part in 10^9 on either side, as the packing facts verified their formulas."""
    rows = Fraction(row_spacing) if pattern == "rectangular" else None
    widest = widest_spacing(
        count, float(w), float(h), pattern=pattern, direction=way,
        row_spacing=None if rows is None else float(rows),
    )  # fmt: skip
    if widest == 0:
        tight = Fraction(max(w, h, Fraction(1))) / (8 * count)
        assert count_at(w, h, tight, pattern, way, rows) < count
        return
    below = Fraction(widest) * (1 - Fraction(1, 10**9))
    above = Fraction(widest) * (1 + Fraction(1, 10**9))

    assert count_at(w, h, below, pattern, way, rows) >= count
    assert count_at(w, h, above, pattern, way, rows) < count


@given(w=sides, h=sides, way=ways, pattern=st.sampled_from(ROWS))
@settings(max_examples=60, deadline=None)
def test_more_sites_never_stand_wider_apart(
    w: Fraction, h: Fraction, way: Direction, pattern: Pattern
) -> None:
    widest = [
        widest_spacing(n, float(w), float(h), pattern=pattern, direction=way) for n in range(1, 40)
    ]

    assert widest[0] == math.inf
    assert widest == sorted(widest, reverse=True)


@given(
    w=sides,
    h=sides,
    count=counts,
    pattern=st.sampled_from(ROWS),
    step=st.sampled_from([Fraction(1, 10), Fraction(254, 320), Fraction(1)]),
)
@settings(max_examples=100, deadline=None)
def test_a_step_of_the_tape_is_the_last_one_that_holds_the_count(
    w: Fraction, h: Fraction, count: int, pattern: Pattern, step: Fraction
) -> None:
    found = largest_step(count, w, h, pattern=pattern, direction="best", step=step)
    if found is None:
        assert count_at(w, h, step, pattern, "best", None) < count
        return

    assert (found / step).denominator == 1
    assert count_at(w, h, found, pattern, "best", None) >= count
    assert count_at(w, h, found + step, pattern, "best", None) < count


def test_exact_fits_are_not_lost() -> None:
    inch = Fraction(254, 10)
    facts = {"pattern": "square", "direction": "best"}

    assert largest_step(12, Fraction(600), Fraction(400), step=Fraction(1, 10), **facts) == 200
    seven = largest_step(35, 45 * inch, 30 * inch, step=inch / 32, **facts)
    assert seven == Fraction(15, 2) * inch


def test_what_has_no_threshold() -> None:
    one, tenth = Fraction(1), Fraction(1, 10)

    assert widest_spacing(3, -1.0, 5.0, pattern="best", direction="best") == 0
    assert widest_spacing(3, 5.0, 5.0, pattern="rings", direction="best") == 0
    assert widest_spacing(1, 0.0, 0.0, pattern="best", direction="best") == math.inf
    assert largest_step(1, one, one, pattern="best", direction="best", step=tenth) is None
    assert largest_step(2, 0 * one, 0 * one, pattern="best", direction="best", step=tenth) is None
