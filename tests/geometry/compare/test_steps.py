"""Step curves: every drop of the count, to a hundredth of a millimetre, rounded down."""

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.compare.steps import CountAt, Step, growing_curve, step_curve
from geometry.holes.rows import best_rows
from geometry.model.planting import Direction, Pattern

HUNDREDTH = Fraction(1, 100)


def rectangle_counter(
    width: Fraction, height: Fraction, *, pattern: Pattern, direction: Direction = "best"
) -> CountAt:
    def count(spacing: Fraction) -> int:
        found = best_rows(width, height, spacing, pattern=pattern, direction=direction)
        return found[0].count if found else 0

    return count


patterns = st.sampled_from(["square", "hexagonal", "staggered", "mixed", "best"])


@settings(max_examples=20, deadline=None)
@given(
    width=st.integers(0, 700),
    height=st.integers(0, 500),
    narrowest=st.integers(70, 150),
    span=st.integers(0, 200),
    pattern=patterns,
)
def test_the_count_drops_just_above_every_step(
    width: int, height: int, narrowest: int, span: int, pattern: Pattern
) -> None:
    count_at = rectangle_counter(Fraction(width), Fraction(height), pattern=pattern)
    curve = step_curve(
        count_at, narrowest=Fraction(narrowest), widest=Fraction(narrowest + span), step=HUNDREDTH
    )

    assert curve[0].count == count_at(Fraction(narrowest))
    assert curve[-1] == Step(Fraction(narrowest + span), count_at(Fraction(narrowest + span)))
    for step, after in pairwise(curve):
        assert count_at(step.spacing) == step.count > after.count
        assert count_at(step.spacing + HUNDREDTH) == after.count


def test_square_steps_are_the_sides_shared_out() -> None:
    """Square counts change only at W / i and H / j (section 6 of the packing facts)."""
    count_at = rectangle_counter(Fraction(1000), Fraction(500), pattern="square")
    curve = step_curve(count_at, narrowest=Fraction(100), widest=Fraction(260), step=HUNDREDTH)
    shares = [Fraction(1000, i) for i in range(4, 11)] + [Fraction(500, j) for j in range(2, 6)]

    found = {step.spacing for step in curve[:-1]}
    assert found == {Fraction(math.floor(share * 100), 100) for share in shares}


@pytest.mark.parametrize("pattern", ["hexagonal", "staggered", "mixed"])
def test_a_step_is_the_closed_form_rounded_down(pattern: Pattern) -> None:
    """The closed forms of section 6 of the packing facts, as ``RowCounts.widest`` has them."""
    width, height = Fraction(1322), Fraction(522)
    count_at = rectangle_counter(width, height, pattern=pattern, direction="along")
    for step in step_curve(count_at, narrowest=Fraction(140), widest=Fraction(220), step=HUNDREDTH)[
        :-1
    ]:
        found = best_rows(width, height, step.spacing, pattern=pattern, direction="along")
        widest = max(
            one.rows.widest(float(width), float(height)) for one in found if one.count == step.count
        )
        assert float(step.spacing) <= widest + 1e-9 < float(step.spacing) + 0.01 + 1e-9


def test_a_counter_that_misses_is_levelled_up_by_its_wider_counts() -> None:
    counts = {100: 9, 101: 6, 102: 7, 103: 5}

    def count_at(spacing: Fraction) -> int:
        return counts[int(spacing * 100)]

    curve = step_curve(count_at, narrowest=Fraction(1), widest=Fraction(103, 100), step=HUNDREDTH)

    assert [(int(step.spacing * 100), step.count) for step in curve] == [
        (100, 9),
        (102, 7),
        (103, 5),
    ]


def test_ranges_without_a_hundredth_are_empty() -> None:
    count_at = rectangle_counter(Fraction(100), Fraction(100), pattern="best")
    narrow = {"narrowest": Fraction(10001, 1000), "widest": Fraction(10009, 1000)}

    assert step_curve(count_at, **narrow, step=HUNDREDTH) == ()


def test_a_rectangle_without_room_holds_nothing() -> None:
    count_at = rectangle_counter(Fraction(-1), Fraction(100), pattern="best")

    assert step_curve(count_at, narrowest=Fraction(10), widest=Fraction(20), step=HUNDREDTH) == (
        Step(Fraction(20), 0),
    )


def test_a_curve_grows_count_by_count_and_stops_at_the_most() -> None:
    asked: list[Fraction] = []

    def count_at(spacing: Fraction) -> int:
        asked.append(spacing)
        return 1000 - int(spacing)

    parts = list(
        growing_curve(
            count_at, narrowest=Fraction(100), widest=Fraction(300), step=Fraction(1), most=9
        )
    )

    assert len(parts) == len(asked) == 9
    assert [len(part) for part in parts] == list(range(1, 10))
    # The widest unknown stretch comes next, so the known spacings are evenly spread.
    assert sorted(asked) == list(range(100, 301, 25))
