"""Whole numbers that keep apart, against trying them all."""

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from geometry.holes.whole_steps import Edges, solve


def _edges(*edges: tuple[int, int, int]) -> Edges:
    low, high, by = np.array(edges, dtype=np.int64).reshape(-1, 3).T
    return Edges(low, high, by)


@given(
    st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2), st.integers(-3, 3)), max_size=5),
    st.lists(st.tuples(st.integers(-2, 2), st.integers(0, 4)), min_size=3, max_size=3),
    st.lists(st.floats(-5, 5), min_size=3, max_size=3),
)
def test_an_answer_is_found_exactly_when_there_is_one(
    asked: list[tuple[int, int, int]], bounds: list[tuple[int, int]], wish: list[float]
) -> None:
    least = np.array([low for low, _ in bounds])
    most = np.array([low + span for low, span in bounds])

    found = solve(least, most, np.array(wish), _edges(*asked))

    spans = [range(low, high + 1) for low, high in zip(least, most, strict=True)]
    answers = [
        trial
        for trial in product(*spans)
        if all(trial[high] - trial[low] >= by for low, high, by in asked)
    ]
    assert (found is None) == (not answers)
    assert found is None or tuple(found.tolist()) in answers


def test_numbers_without_edges_are_the_nearest_to_the_wishes() -> None:
    least, most = np.array([0, 0, 5]), np.array([9, 9, 9])

    found = solve(least, most, np.array([2.4, 2.6, 1.0]), _edges())

    assert found is not None
    assert found.tolist() == [2, 3, 5]


def test_a_line_is_pushed_apart_to_both_sides() -> None:
    least, most = np.full(3, 0), np.full(3, 20)

    found = solve(least, most, np.array([9.0, 10.0, 11.0]), _edges((0, 1, 3), (1, 2, 3)))

    assert found is not None
    assert found.tolist() == [7, 10, 13]
