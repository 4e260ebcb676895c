"""Every second site: halves as far apart as halves can be, against all halves by trial."""

from itertools import combinations
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.holes.pairing import every_second, least_in_use, plugged_sites
from geometry.holes.sites import Coordinates, Holes, Sites
from geometry.model.planting import Planting
from geometry.units import Length


def rows_of(
    columns: int, rows: int, pitch: float, gap: float, offset: float = 0
) -> tuple[Coordinates, np.ndarray]:
    xy = [
        (column * pitch + (row % 2) * offset, row * gap)
        for row in range(rows)
        for column in range(columns)
    ]
    return np.array(xy, dtype=np.float64), np.repeat(np.arange(rows), columns)


def least(xy: Coordinates) -> float:
    return min((float(np.hypot(*(a - b))) for a, b in combinations(xy, 2)), default=float("inf"))


def test_straight_rows_become_a_checkerboard_with_the_diagonal_between_plants() -> None:
    # 200 mm square rows: the diagonal is 200 * sqrt(2) = 283 mm (Pythagoras).
    xy, rows = rows_of(8, 9, 200, 200)

    used = every_second(xy, rows, 200)

    assert used.sum() == 36
    assert least(xy[used]) == pytest.approx(200 * sqrt(2))
    assert used.reshape(9, 8)[0, 0]
    assert (used.reshape(9, 8)[:, 1:] != used.reshape(9, 8)[:, :-1]).all()


def test_the_larger_half_of_an_odd_grid_is_used() -> None:
    xy, rows = rows_of(3, 3, 200, 200)

    assert every_second(xy, rows, 200).tolist() == [True, False] * 4 + [True]


def test_an_opened_grid_with_unlike_pitches_is_still_a_checkerboard() -> None:
    xy, rows = rows_of(6, 5, 196.25, 187.5)

    used = every_second(xy, rows, 186)

    assert used.sum() == 15
    assert least(xy[used]) == pytest.approx(float(np.hypot(196.25, 187.5)))


def test_in_a_staggered_grid_at_45_degrees_every_second_row_is_used() -> None:
    xy, rows = rows_of(6, 6, 200 * sqrt(2), 100 * sqrt(2), 100 * sqrt(2))

    used = every_second(xy, rows, 200)

    assert used.sum() == 18
    assert least(xy[used]) == pytest.approx(200 * sqrt(2))


def test_hexagonal_rows_have_no_half_with_more_than_the_spacing() -> None:
    xy, rows = rows_of(6, 6, 200, 100 * sqrt(3), 100)

    used = every_second(xy, rows, 200)

    assert used.sum() == 18
    assert least(xy[used]) == pytest.approx(200)


@pytest.mark.parametrize(("columns", "rows"), [(2, 2), (3, 2), (4, 3), (5, 2)])
def test_no_other_half_of_a_small_grid_keeps_a_larger_distance(columns: int, rows: int) -> None:
    xy, row_of = rows_of(columns, rows, 210, 200)
    half = columns * rows - columns * rows // 2

    found = least(xy[every_second(xy, row_of, 200)])

    best = max(least(xy[list(chosen)]) for chosen in combinations(range(len(xy)), half))
    assert found == pytest.approx(best)


@given(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), max_size=30, unique=True),
    st.integers(1, 3),
)
def test_any_sites_fall_into_two_parts(places: list[tuple[int, int]], reach: int) -> None:
    ordered = sorted(places, key=lambda place: (place[1], place[0]))
    xy = np.array(ordered, dtype=np.float64).reshape(-1, 2)
    _, rows = np.unique(xy[:, 1], return_inverse=True)

    used = every_second(xy, rows.astype(np.int64), float(reach))

    assert len(used) == len(xy)
    if len(xy) >= 2:
        assert len(xy) / 4 <= used.sum() <= 3 * len(xy) / 4 + 1


def test_only_the_plantings_that_say_so_are_paired() -> None:
    xy, rows = rows_of(4, 4, 200, 200)
    sites = Sites(xy, rows, np.repeat([0, 1], 8))
    plain = Planting(Length.of(200), Length.of(50))
    paired = Planting(Length.of(200), Length.of(50), in_use="every second")

    plugged = plugged_sites(sites, (plain, paired))

    assert plugged is not None
    assert not plugged[:8].any()
    assert plugged[8:].sum() == 4
    assert plugged_sites(sites, (plain, plain)) is None


def test_the_least_distance_of_what_is_in_use_leaves_plugged_holes_out() -> None:
    xy, rows = rows_of(4, 4, 200, 200)
    plugged = ~every_second(xy, rows, 200)
    names = tuple(f"A{number}" for number in range(16))
    holes = Holes(xy, np.full(16, 50.0), names, np.zeros(16, dtype=np.bool_))
    paired = Holes(holes.xy, holes.diameters, names, holes.pinned, None, plugged)

    assert least_in_use(holes) == pytest.approx(200)
    assert least_in_use(paired) == pytest.approx(200 * sqrt(2))
    assert least_in_use(Holes(xy[:1], holes.diameters[:1], names[:1], holes.pinned[:1])) is None
