"""The pot in its hole, drawn for screen and paper."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.afloat.pots import Pot, seat_of
from geometry.drawing.marks import Path
from geometry.drawing.pot_section import drawing_box, pot_marks, seat_drawing
from geometry.drawing.seat_rows import potted_on, saw_line, seat_row
from geometry.drawing.seat_words import seat_words
from geometry.model.curves import Point
from geometry.model.measure import bounds_of
from geometry.model.supplies import Supplies
from geometry.plan import make_plan
from geometry.units import Length
from tests.geometry.checks.test_pot_seats import potted


@settings(max_examples=40)
@given(
    st.floats(20, 80), st.floats(0.4, 1), st.floats(20, 120), st.floats(0.7, 1.3),
    st.booleans(), st.sampled_from([25.0, 50.0]),
)  # fmt: skip
def test_a_pot_is_drawn_as_large_as_it_is_where_it_sits(
    body: float, foot: float, depth: float, hole: float, has_rim: bool, thick: float
) -> None:
    pot = Pot(body, depth, body * foot, body + 8 if has_rim else 0.0, 2.0)
    seated = seat_of(pot, body * hole)

    marks = [mark for mark in pot_marks(pot, seated, thick, Point(0, 0)) if isinstance(mark, Path)]
    left, low, right, high = bounds_of(curve for mark in marks for curve in mark.curves)

    assert right - left == pytest.approx(max(pot.rim, pot.body))
    assert high - low == pytest.approx(depth + (2.0 if has_rim else 0.0))
    if seated.seat == "does not go in":
        assert low == pytest.approx(0)
    elif seated.seat == "falls through":
        assert high <= -thick
    else:
        assert low == pytest.approx(seated.proud - depth)
    box = drawing_box(pot, seated, body * hole, thick)
    for group in seat_drawing(pot, seated, body * hole, thick).groups:
        for mark in group.marks:
            assert isinstance(mark, Path)
            left, low, right, high = bounds_of(mark.curves)
            assert box.left - 1e-9 <= left <= right <= box.right + 1e-9
            assert box.bottom - 1e-9 <= low <= high <= box.top + 1e-9


def test_the_cut_sheet_names_the_saw_and_draws_the_pot_at_true_size() -> None:
    project = potted()
    plan = make_plan(project)
    bed = plan.beds[0]

    (small,) = potted_on(plan, bed, bed.designs[0])

    assert saw_line(plan, small, "in") == (
        "Take a saw of 1 3/4 in for small: tight, 0 mm of play, rim on 3.2 mm of foam."
    )
    row = seat_row(small, 50.0, 62.0)
    assert row is not None
    assert any(
        getattr(mark, "text", "") == "The pot in it, at true size" for mark in row.draw(0, 0)
    )
    owned = make_plan(replace(project, supplies=Supplies(saws=(Length.of(44),))))
    assert saw_line(owned, small, "mm").startswith("Take your saw of 44 mm for small: tight")


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        (54, "falls through"),
        (30, "does not go in, 2 mm too narrow"),
        (41.275, "stands proud, its rim 9.7 mm above the foam"),
        (44.45, "slips in, 1 mm of play, rim on 3.2 mm of foam"),
    ],
)
def test_each_seat_is_told_with_its_figures(hole: float, words: str) -> None:
    pot = Pot(43.5, 50, 32, 50.8, 2)

    assert seat_words(seat_of(pot, hole)) == words
    plug = Pot(25, 40, 25)
    assert seat_words(seat_of(plug, 25.2)) == "tight, 0.2 mm of play"
