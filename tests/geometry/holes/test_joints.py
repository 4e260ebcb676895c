from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.holes.joints import (
    evened_line,
    lies_beside_any_neighbour,
    line_through_cells,
    seam_margin,
    widest_pitch,
)

Cells = list[tuple[Fraction, Fraction]]


@pytest.mark.parametrize(
    ("spacing", "gap", "margin"),
    [(200, 6, 97), (Fraction(8 * 254, 10), Fraction(127, 10), Fraction(375 * 254, 1000))],
)
def test_seam_margin_is_half_the_spacing_less_half_the_gap(
    spacing: Fraction, gap: Fraction, margin: Fraction
) -> None:
    # Plain geometry: two margins and the gap make one spacing. 8 in and 1/2 in give 3 3/4 in.
    assert seam_margin(Fraction(spacing), Fraction(gap)) == margin


def test_seam_margin_is_never_negative() -> None:
    assert seam_margin(Fraction(10), Fraction(12)) == 0


def cells_of(count: int, size: Fraction, gap: Fraction, margin: Fraction) -> Cells:
    starts = [index * (size + gap) for index in range(count)]
    return [(start + margin, start + size - margin) for start in starts]


dimension = st.integers(1, 400).map(lambda quarter: Fraction(quarter, 4))


@given(st.integers(1, 6), dimension, dimension, dimension, dimension)
def test_a_line_through_cells_keeps_its_distances_and_beats_every_other_start(
    count: int, size: Fraction, gap: Fraction, margin: Fraction, spacing: Fraction
) -> None:
    cells = cells_of(count, size, gap, margin)

    placed = line_through_cells(cells, spacing)

    points = [point for cell in placed for point in cell]
    assert all(b - a >= spacing for a, b in pairwise(points))
    for (start, end), cell in zip(cells, placed, strict=True):
        assert all(start <= point <= end for point in cell)
    # A ruler of equal steps laid anywhere cannot hit more places.
    for shift in range(8):
        first = cells[0][0] + spacing * shift / 8
        ruler = [first + step * spacing for step in range(400)]
        hits = sum(any(a <= point <= b for a, b in cells) for point in ruler)
        assert len(points) >= hits


@given(st.integers(1, 6), dimension, dimension, dimension, dimension)
def test_evening_out_keeps_counts_and_never_narrows(
    count: int, size: Fraction, gap: Fraction, margin: Fraction, spacing: Fraction
) -> None:
    cells = cells_of(count, size, gap, margin)
    placed = line_through_cells(cells, spacing)

    pitch = widest_pitch(cells, placed, spacing)
    even = evened_line(cells, [len(cell) for cell in placed], pitch)

    assert [len(cell) for cell in even] == [len(cell) for cell in placed]
    points = np.array([point for cell in even for point in cell])
    assert pitch >= spacing
    assert np.all(np.diff(points) >= pitch - 1e-6)
    for (start, end), cell in zip(cells, even, strict=True):
        assert all(float(start) - 1e-6 <= point <= float(end) + 1e-6 for point in cell)


def test_an_evened_line_is_as_symmetrical_as_its_bed() -> None:
    cells = cells_of(3, Fraction(600), Fraction(6), Fraction(60))
    placed = line_through_cells(cells, Fraction(180))
    pitch = widest_pitch(cells, placed, Fraction(180))
    even = evened_line(cells, [len(cell) for cell in placed], pitch)

    points = np.array([point for cell in even for point in cell])

    if len(placed[0]) == len(placed[2]):
        assert np.allclose(points + points[::-1], 3 * 600 + 2 * 6)


def brute_force(xy: np.ndarray, length: float, width: float, gap: float, spacing: float) -> bool:
    turned = np.array([length, width]) - xy
    for right in (-1, 0, 1):
        for up in (-1, 0, 1):
            if (right, up) == (0, 0):
                continue
            shift = np.array([right * (length + gap), up * (width + gap)])
            for here in (xy, turned):
                for there in (xy, turned):
                    for a in here:
                        for b in there + shift:
                            if np.hypot(*(a - b)) < spacing - 1e-6:
                                return False
    return True


@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 8)), min_size=1, max_size=6, unique=True),
    st.integers(0, 4),
    st.integers(1, 9),
)
def test_lying_beside_any_neighbour_is_what_comparing_every_pair_says(
    places: list[tuple[int, int]], gap: int, spacing: int
) -> None:
    xy = np.array(places, dtype=float)

    told = lies_beside_any_neighbour(xy, length=12, width=8, joint_gap=gap, spacing=spacing)

    assert told == brute_force(xy, 12, 8, gap, spacing)
