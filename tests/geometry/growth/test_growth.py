"""Widths by the logistic law, and shade against areas of circles worked out in closed form."""

from math import acos, exp, pi, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.growth.cover import RESPACE_COVER, look_at
from geometry.growth.width import GROWN_SHARE, Spread

LETTUCE = Spread(first=40, grown=300, days=30)


def test_a_plant_begins_and_ends_as_wide_as_it_should() -> None:
    assert LETTUCE.width_on(0) == pytest.approx(40)
    assert LETTUCE.width_on(30) ** 2 == pytest.approx(GROWN_SHARE * 300**2)
    assert LETTUCE.width_on(10_000) == pytest.approx(300)


def test_the_area_follows_the_law_of_verhulst() -> None:
    # dA/dt = r A (1 - A/K), by differences; r from the closed form A = K / (1 + c exp(-r t)).
    area = [LETTUCE.width_on(day) ** 2 for day in np.arange(0, 30, 0.01)]
    most, begin = 300**2, 300**2 / 40**2 - 1
    rate = -np.log((most / area[1] - 1) / begin) / 0.01
    slope = np.diff(area) / 0.01
    middle = (np.array(area[1:]) + area[:-1]) / 2

    assert slope == pytest.approx(rate * middle * (1 - middle / most), rel=1e-4)
    assert area[1] == pytest.approx(most / (1 + begin * exp(-rate * 0.01)))


@given(st.floats(20, 60), st.floats(100, 500), st.integers(5, 90), st.floats(0, 1))
def test_the_day_of_a_width_is_the_first_whole_one(
    first: float, grown: float, days: int, share: float
) -> None:
    plant = Spread(first, grown, days)
    width = first + share * (plant.width_on(days) - first)

    day = plant.day_at(width)

    assert day is not None
    assert 0 <= day <= days
    assert plant.width_on(day) >= width - 1e-6
    assert day == 0 or plant.width_on(day - 1) < width + 1e-6


def test_what_is_wider_than_grown_up_never_comes() -> None:
    assert LETTUCE.day_at(300) is None
    assert LETTUCE.day_at(10) == 0


@pytest.mark.parametrize(
    ("first", "grown", "days"), [(0, 300, 30), (300, 300, 30), (40, 300, 0), (299, 300, 30)]
)
def test_plants_that_do_not_grow_are_refused(first: float, grown: float, days: int) -> None:
    with pytest.raises(GeometryError):
        Spread(first, grown, days)


def square_cover(pitch: float, radius: float) -> float:
    """Circles on a square grid: four lenses are taken off while they meet in pairs only."""
    if radius <= pitch / 2:
        return pi * radius**2 / pitch**2
    lens = 2 * radius**2 * acos(pitch / (2 * radius))
    lens -= pitch / 2 * sqrt(4 * radius**2 - pitch**2)
    return (pi * radius**2 - 2 * lens) / pitch**2


def hexagonal_cover(pitch: float, radius: float) -> float:
    cell = pitch**2 * sqrt(3) / 2
    lens = 0.0
    if radius > pitch / 2:
        lens = 2 * radius**2 * acos(pitch / (2 * radius))
        lens -= pitch / 2 * sqrt(4 * radius**2 - pitch**2)
    return (pi * radius**2 - 3 * lens) / cell


@pytest.mark.parametrize("radius", [30, 60, 99, 105, 120, 140])
def test_shade_of_a_square_grid(radius: float) -> None:
    grid = np.stack(np.meshgrid(np.arange(100, 2000, 200), np.arange(100, 2000, 200)), -1)

    shade = look_at(shapely.box(0, 0, 2000, 2000), [grid.reshape(-1, 2).astype(float)])

    assert shade.cover([2 * radius]) == pytest.approx(square_cover(200, radius), abs=0.005)


@pytest.mark.parametrize("radius", [50, 100, 110, 115])
def test_shade_of_a_hexagonal_grid(radius: float) -> None:
    height = 200 * sqrt(3) / 2
    rows = [
        (200 * column + 100 * (row % 2), height * row) for row in range(12) for column in range(12)
    ]
    water = shapely.box(600, 3 * height, 1400, 7 * height)  # whole cells in the midst

    shade = look_at(water, [np.array(rows, dtype=float)])

    assert shade.cover([2 * radius]) == pytest.approx(hexagonal_cover(200, radius), abs=0.005)


def test_leaves_a_quarter_wider_than_a_square_pitch_cover_98_hundredths() -> None:
    # By the closed form: they touch at 78.5 %, and 98 % comes at 1.2755 pitches.
    assert square_cover(1, 0.5) == pytest.approx(pi / 4)
    assert square_cover(1, 1.2755 / 2) == pytest.approx(RESPACE_COVER, abs=1e-4)


def test_two_crops_shade_together_and_none_shades_nothing() -> None:
    water = shapely.box(0, 0, 1000, 1000)
    one, other = np.array([[250.0, 500.0]]), np.array([[750.0, 500.0]])

    shade = look_at(water, [one, other, np.empty((0, 2))])

    each = pi * 100**2 / 1000**2
    assert shade.cover([200, None, 500]) == pytest.approx(each, abs=0.002)
    assert shade.cover([200, 200, 500]) == pytest.approx(2 * each, abs=0.003)
    assert shade.cover([None, 0, None]) == 0


def test_a_pool_is_shaded_within_its_walls() -> None:
    pool = shapely.Point(500, 500).buffer(500, quad_segs=64)

    assert look_at(pool, [np.array([[500.0, 500.0]])]).cover([1000]) == pytest.approx(1, abs=0.002)
    with pytest.raises(GeometryError, match="no water"):
        look_at(shapely.Polygon(), [])
