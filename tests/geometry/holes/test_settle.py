"""Points that push each other apart: the slope is the slope, and the polish is exact."""

from fractions import Fraction
from math import cos, pi, sin, sqrt

import numpy as np
import pytest

from geometry.holes.room import Room
from geometry.holes.settle import _Push, polish, settle
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.units import Length
from tests.geometry.holes.rooms import least_gap, make_room

L_RAFT = LShape(Length.of(500), Length.of(400), Length.of(200), Length.of(150))
ROOMS = [
    make_room((400, 300), 100, margin=20),
    make_room((400, 300), 100, margin=20, fixed=[(-30, 150), (430, 20)]),
    make_room(L_RAFT, 100, margin=25, discs=[(120, 120, 60, 45)]),
    make_room(Disc(Length.of(500)), 100, margin=30),
    make_room(Rectangle(Length.of(500), Length.of(300), Length.of(80)), 100, margin=30),
]


def always() -> bool:
    return True


@pytest.mark.parametrize("room", ROOMS)
def test_the_slope_is_what_the_strain_does(room: Room) -> None:
    random = np.random.default_rng(3)
    points = random.uniform(-0.2, 4.2, (2, 9, 2))
    push = _Push(room)
    _, slope = push(points)

    for at in np.ndindex(points.shape):
        step = np.zeros_like(points)
        step[at] = 1e-6
        rise = (push(points + step)[0].sum() - push(points - step)[0].sum()) / 2e-6
        assert slope[at] == pytest.approx(rise, abs=2e-5)


@pytest.mark.parametrize("room", ROOMS)
def test_few_points_settle_without_strain_and_are_legal_after_the_polish(room: Room) -> None:
    random = np.random.default_rng(4)
    low, high = room.box
    starts = random.uniform(low, high, (4, 6, 2))

    settled, strain = settle(room, starts, always)

    assert float(strain.sum(axis=1).min()) < 1e-6
    calmest = settled[int(strain.sum(axis=1).argmin())]
    opened = polish(room, calmest, always)
    assert room.is_legal(opened)
    assert least_gap(opened, room.fixed) == pytest.approx(room.least_distance(opened))


def test_sets_settle_each_for_itself() -> None:
    room = ROOMS[0]
    starts = np.random.default_rng(5).uniform(0, 300, (3, 12, 2))

    together, _ = settle(room, starts, always, rounds=30)

    alone = [settle(room, starts[at : at + 1], always, rounds=30)[0][0] for at in range(3)]
    assert np.allclose(together, alone, atol=1e-6)


@pytest.mark.parametrize(
    ("points", "most"),
    [
        (2, sqrt(2)),
        (3, sqrt(6) - sqrt(2)),
        (4, 1.0),
        (5, sqrt(2) / 2),
        (6, sqrt(13) / 6),
        (8, (sqrt(6) - sqrt(2)) / 2),
        (9, 0.5),
    ],
)
def test_the_polish_reaches_the_proved_distances_to_the_last_digit(
    points: int, most: float
) -> None:
    """Closed forms of the square (Szabo et al. 2007, chapter 1)."""
    side = 100.0
    room = make_room((side, side), most * side * 0.9999)
    starts = np.random.default_rng(6).uniform(0, side, (60, points, 2))
    settled, strain = settle(room, starts, always)
    best = settled[int(strain.sum(axis=1).argmin())]

    opened = polish(room, best, always)

    assert least_gap(opened, room.fixed) == pytest.approx(most * side, abs=1e-6)
    assert room.is_legal(opened)


def test_the_polish_reaches_the_proved_distance_in_a_disc() -> None:
    """Five points on the rim: a regular pentagon (Graham 1968)."""
    room = make_room(Disc(Length.of(200)), 2 * 100 * sin(pi / 5) * 0.9999)
    starts = np.random.default_rng(7).uniform(30, 170, (20, 5, 2))
    settled, strain = settle(room, starts, always)

    opened = polish(room, settled[int(strain.sum(axis=1).argmin())], always)

    assert least_gap(opened, room.fixed) == pytest.approx(200 * sin(pi / 5), abs=1e-6)
    assert room.is_legal(opened)


def test_an_inset_keeps_points_off_the_border() -> None:
    room = make_room(Disc(Length.of(200)), 40)
    ring = np.array([[100 + 90 * cos(k), 100 + 90 * sin(k)] for k in range(0, 6, 2)])

    opened = polish(room, ring, always, inset_mm=2.0)

    assert float(room.region.slack(opened).min()) >= 2 - 1e-6


def test_a_room_is_a_box_only_without_anything_in_it() -> None:
    assert [room.is_box for room in ROOMS] == [True, True, False, False, False]


def test_a_step_too_short_or_a_point_outside_is_not_legal() -> None:
    room = make_room((100, 100), 50)

    assert room.is_legal(np.array([[0.0, 0.0], [50.0, 0.0]]))
    assert not room.is_legal(np.array([[0.0, 0.0], [50.0 - 3e-7, 0.0]]))
    assert not room.is_legal(np.array([[-3e-7, 0.0]]))
    assert room.is_legal(np.empty((0, 2)))


def test_fixed_points_are_kept_away_from() -> None:
    room = make_room((100, 100), 50, fixed=[(110, 50)])

    assert not room.is_legal(np.array([[80.0, 50.0]]))
    assert room.is_legal(np.array([[60.0, 50.0]]))
    assert Fraction(room.least_distance(np.array([[60.0, 50.0]]))) == 50
