"""Near pairs against comparing every point with every other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.holes.pairs import near_between, near_pairs

_places = st.lists(st.tuples(st.integers(-60, 60), st.integers(-60, 60)), max_size=40)


def _array(places: list[tuple[int, int]]) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    return np.array(places, dtype=np.float64).reshape(-1, 2)


@given(here=_places, there=_places, reach=st.floats(0.5, 50))
def test_every_near_pair_is_found_and_no_other(
    here: list[tuple[int, int]], there: list[tuple[int, int]], reach: float
) -> None:
    a, b = _array(here), _array(there)

    between = list(zip(*(i.tolist() for i in near_between(a, b, reach)), strict=True))
    within = list(zip(*(i.tolist() for i in near_pairs(a, reach)), strict=True))

    gap = np.hypot(*(a[:, None] - b[None]).transpose(2, 0, 1))
    assert between == [tuple(pair) for pair in np.argwhere(gap < reach).tolist()]
    own = np.hypot(*(a[:, None] - a[None]).transpose(2, 0, 1))
    assert within == [(i, j) for i, j in np.argwhere(own < reach).tolist() if i < j]


def test_points_exactly_the_reach_apart_are_not_near() -> None:
    assert len(near_pairs(_array([(0, 0), (30, 40)]), 50.0)[0]) == 0
    assert len(near_pairs(_array([(0, 0), (30, 40)]), 50.001)[0]) == 1


def test_a_heap_of_holes_is_refused_in_a_sentence() -> None:
    with pytest.raises(TooManyError, match="on top of each other"):
        near_pairs(np.zeros((20_000, 2)), 5.0)
