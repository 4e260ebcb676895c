"""Moving marks: numpy's rotation matrices as the reference."""

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.marks import Circle, Path, Text
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift, half_turn
from geometry.model.curves import Arc, Line, Point
from geometry.model.edges import end_of, start_of

shifts = st.builds(
    Shift,
    x=st.floats(-1000, 1000),
    y=st.floats(-1000, 1000),
    scale=st.sampled_from([0.1, 0.25, 1.0, 2.0]),
    quarters=st.integers(-4, 7),
)
places = st.tuples(st.floats(-500, 500), st.floats(-500, 500))


@given(shift=shifts, place=places)
def test_a_place_is_scaled_turned_and_moved_and_comes_back(
    shift: Shift, place: tuple[float, float]
) -> None:
    angle = shift.quarters * pi / 2
    matrix = np.array([[cos(angle), -sin(angle)], [sin(angle), cos(angle)]])
    expected = shift.scale * matrix @ np.array(place) + (shift.x, shift.y)

    assert shift.point(*place) == pytest.approx(tuple(expected), abs=1e-6)
    assert shift.back(*shift.point(*place)) == pytest.approx(place, abs=1e-6)
    assert shift.points(np.array([place]))[0] == pytest.approx(expected, abs=1e-6)


@given(shift=shifts)
def test_curves_keep_their_ends_together(shift: Shift) -> None:
    arc = Arc(Point(10, 20), 30, 0.4, -1.2)
    line = Line(end_of(arc), Point(0, 0))
    moved_arc, moved_line = shift.curve(arc), shift.curve(line)

    assert end_of(moved_arc) == pytest.approx(start_of(moved_line), abs=1e-6)
    assert start_of(moved_arc) == pytest.approx(shift.point(*start_of(arc)), abs=1e-6)


def test_marks_keep_their_meaning_and_text_stays_upright() -> None:
    shift = Shift(5, 6, 0.5, 1)
    text = Text(Point(2, 0), "A1", 4, Style.LABEL, "middle", 0)
    path = Path((Line(Point(0, 0), Point(2, 0)),), Style.DATUM, closed=True)

    assert shift.mark(text) == Text(Point(5, 7), "A1", 2, Style.LABEL, "middle", 0)
    assert shift.mark(Circle(Point(2, 0), 4, Style.HOLE)) == Circle(Point(5, 7), 2, Style.HOLE)
    assert shift.mark(path) == Path((Line(Point(5, 6), Point(5, 7)),), Style.DATUM, closed=True)


def test_a_half_turn_keeps_the_box() -> None:
    turn = half_turn(400, 200, 1000, 500)

    assert turn.point(0, 0) == (1400, 700)
    assert turn.point(400, 200) == (1000, 500)
    assert turn.point(50, 30) == (1350, 670)
