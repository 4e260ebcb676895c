"""Finding room for words on a page."""

from math import sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.marks import Box
from geometry.drawing.room import Room

PAGE = Box(0, 0, 180, 250)
NOTHING = shapely.LineString()


def _room(circles: list[tuple[float, float, float]], outline: object = NOTHING) -> Room:
    array = np.array(circles, dtype=float).reshape(-1, 3)
    return Room(array[:, :2], array[:, 2], outline)


def test_a_free_page_gives_its_corner() -> None:
    assert _room([]).free_box(50, 20, PAGE, near=(0, 250)) == Box(0, 230, 50, 250)


@given(
    circles=st.lists(st.tuples(st.floats(0, 180), st.floats(0, 250), st.floats(3, 30)), max_size=25)
)
def test_a_found_box_touches_no_circle_no_line_and_no_box(
    circles: list[tuple[float, float, float]],
) -> None:
    outline = shapely.LineString([(40, 0), (40, 250)])
    room = _room(circles, outline)
    room.boxes.append(Box(0, 200, 30, 250))
    found = room.free_box(60, 20, PAGE, near=(0, 250))

    if found is not None:
        shape = shapely.box(*found)
        assert not shapely.intersects(shape, outline)
        assert not found.meets(room.boxes[0])
        for x, y, radius in circles:
            assert shapely.distance(shape, shapely.Point(x, y)) >= radius - 1e-9


def test_a_full_page_gives_none() -> None:
    rows = [(x, y, 12) for x in range(0, 190, 20) for y in range(0, 260, 20)]

    assert _room(rows).free_box(30, 10, PAGE, near=(0, 0)) is None


def test_a_stretch_keeps_off_what_crosses_the_strip() -> None:
    room = _room([(50, 8, 10)], shapely.LineString([(120, -5), (120, 20)]))
    strip = Box(0, 0, 180, 5)

    chord = sqrt(10**2 - 3**2)  # of the circle at the strip's upper side
    assert room.stretch(strip, 35, near=0) == 0
    assert room.stretch(strip, 40, near=0) == pytest.approx(50 + chord + 2)
    assert room.stretch(strip, 40, near=0) == 122
    assert room.stretch(strip, 40, near=0) is None


def test_a_stretch_that_is_out_of_reach_is_refused() -> None:
    room = _room([(20, 2, 15)])

    assert room.stretch(Box(0, 0, 180, 5), 40, near=0, reach=12) is None
    assert room.stretch(Box(0, 0, 180, 5), 400, near=0) is None
