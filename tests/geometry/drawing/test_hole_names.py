"""Names beside holes: each clear of all rims and of all other names, or none at all."""

from itertools import combinations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.drawing.hole_names import HEIGHTS, names_beside
from geometry.drawing.marks import Box

PAGE = Box(0, 0, 100, 80)


def _rims(*rims: tuple[float, float, float]) -> np.ndarray:
    return np.array(rims, dtype=np.float64).reshape(-1, 3)


def test_a_lonely_hole_has_its_name_above_it_in_large_letters() -> None:
    found = names_beside(["A1"], _rims((50, 40, 2)), PAGE, ())

    assert found is not None
    height, (box,) = found
    assert height == HEIGHTS[0]
    assert box.bottom > 42
    assert abs((box.left + box.right) / 2 - 50) < 1e-9


def test_a_name_goes_below_where_something_stands_above() -> None:
    found = names_beside(["A1"], _rims((50, 40, 2)), PAGE, [Box(40, 42, 60, 80)])

    assert found is not None
    assert found[1][0].top < 38


def test_there_is_no_name_where_there_is_no_room() -> None:
    crowd = [(x + 0.5, y + 0.5, 0.4) for x in range(40) for y in range(40)]
    names = [f"A{number}" for number in range(len(crowd))]

    assert names_beside(names, _rims(*crowd), Box(0, 0, 40, 40), ()) is None
    assert names_beside([], _rims(), PAGE, ()) is None


@given(
    st.lists(
        st.tuples(st.floats(3, 97), st.floats(3, 77), st.floats(0.3, 3)), min_size=1, max_size=25
    )
)
@settings(max_examples=60, deadline=None)
def test_no_name_touches_a_rim_or_another_name(rims: list[tuple[float, float, float]]) -> None:
    found = names_beside([f"B{n}" for n in range(len(rims))], _rims(*rims), PAGE, ())
    if found is None:
        return
    _, boxes = found

    assert len(boxes) == len(rims)
    assert not any(a.meets(b) for a, b in combinations(boxes, 2))
    for x, y, radius in rims:
        rim = Box(x - radius, y - radius, x + radius, y + radius)
        assert not any(box.meets(rim) for box in boxes)
    assert all(PAGE.left <= box.left and box.right <= PAGE.right for box in boxes)
    assert all(PAGE.bottom <= box.bottom and box.top <= PAGE.top for box in boxes)
