"""Squeezing: always legal, never beyond the ceiling, the same for the same seed."""

from math import floor

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.any_outline import place_on_any_outline
from geometry.holes.room import MOST_POINTS, Room
from geometry.holes.sites import Coordinates
from geometry.holes.squeeze import finished, squeeze
from geometry.model.outlines import Disc, LShape, Outline, Rectangle, RoundEnded, Tapered
from geometry.units import TOLERANCE_MM, Length
from tests.geometry.holes.rooms import least_gap, make_room


def always() -> bool:
    return True


def search(
    room: Room, begin: Coordinates, *, ceiling: int = 999, tries: int = 100, seed: int = 1
) -> Coordinates | None:
    return squeeze(
        room,
        begin,
        ceiling=ceiling,
        generator=np.random.default_rng(seed),
        keep_going=always,
        tries=tries,
    )


def rows_in(room: Room) -> Coordinates:
    laid = place_on_any_outline(
        room.region,
        spacing=room.spacing,
        row_spacing=None,
        pattern="square",
        direction="along",
        spread=False,
    )
    return max((each.sites.xy for each in laid), key=len, default=np.empty((0, 2)))


def square_grid(side: int, pitch: float) -> Coordinates:
    at = np.arange(side) * pitch
    return np.array(np.meshgrid(at, at)).reshape(2, -1).T


def test_more_points_are_found_where_they_are_known_to_fit() -> None:
    """Five points fit where the square grid holds four: one goes into the middle."""
    room = make_room((100, 100), 70.7)

    found = search(room, square_grid(2, 100.0), ceiling=5)

    assert found is not None
    assert len(found) == 5
    assert room.is_legal(found)


def test_the_ceiling_ends_the_search_at_once() -> None:
    asked = []

    def counted() -> bool:
        asked.append(1)
        return True

    begin = square_grid(2, 100.0)
    found = squeeze(
        make_room((100, 100), 70.7),
        begin,
        ceiling=4,
        generator=np.random.default_rng(1),
        keep_going=counted,
    )

    assert found is None
    assert asked == []


def test_nothing_comes_where_nothing_more_fits() -> None:
    """Nine points at half the side are proved to be the most (Schaer 1965)."""
    assert search(make_room((100, 100), 50), square_grid(3, 50.0), tries=150) is None


def test_a_search_that_is_stopped_keeps_what_it_found() -> None:
    room = make_room((400, 400), 100)
    left = iter([True] * 900)
    told: list[int] = []

    found = squeeze(
        room,
        square_grid(3, 150.0),
        ceiling=999,
        generator=np.random.default_rng(1),
        keep_going=lambda: next(left, False),
        tell=lambda xy: told.append(len(xy)),
    )

    assert found is not None
    assert told == [*range(10, len(found) + 1)]
    assert room.is_legal(found)


def test_the_same_seed_and_tries_give_the_same_places() -> None:
    room = make_room((500, 400), 100, discs=[(200, 200, 60, 50)])
    begin = rows_in(room)[:-2]

    first, second = (search(room, begin, tries=1, seed=4) for _ in range(2))

    assert first is not None
    assert second is not None
    assert np.array_equal(first, second)


def test_an_empty_room_and_a_huge_one_give_nothing() -> None:
    none = np.empty((0, 2))

    assert search(make_room((100, 100), 50, margin=60), none) is None
    assert search(make_room((100, 100), 1), np.zeros((MOST_POINTS, 2))) is None


def test_a_room_that_is_a_line_or_a_point_is_searched_too() -> None:
    line = search(make_room((100, 40), 25, margin=20), np.array([[50.0, 20.0]]), ceiling=3)
    point = search(make_room((40, 40), 25, margin=20), np.empty((0, 2)), ceiling=1)

    assert line is not None
    assert len(line) == 3
    assert np.allclose(line[:, 1], 20)
    assert point is not None
    assert point.tolist() == [[20.0, 20.0]]


lengths = st.integers(240, 620).map(Length.of)
outlines: st.SearchStrategy[Outline] = st.one_of(
    st.builds(Rectangle, lengths, lengths),
    st.builds(Rectangle, lengths, lengths, st.just(Length.of(90))),
    st.builds(Disc, lengths),
    st.builds(RoundEnded, st.just(Length.of(600)), lengths),
    st.builds(Tapered, lengths, lengths, lengths),
    st.builds(
        lambda n, m: LShape(n, m, Length(n.exact / 3), Length(m.exact / 2)), lengths, lengths
    ),
)
discs = st.lists(
    st.tuples(st.integers(0, 500), st.integers(0, 500), st.integers(10, 120), st.integers(20, 60)),
    max_size=2,
)
fixed = st.lists(st.tuples(st.integers(-80, 700), st.integers(-80, -20)), max_size=4)


@settings(max_examples=8)
@given(outlines, st.integers(70, 180), st.integers(0, 60), discs, fixed, st.integers(0, 9))
def test_whatever_is_found_keeps_every_rule(
    outline: Outline,
    spacing: int,
    margin: int,
    pipes: list[tuple[float, float, float, float]],
    others: list[tuple[float, float]],
    seed: int,
) -> None:
    """Pair by pair to 1e-6 mm, for the find itself and as it will be marked."""
    room = make_room(outline, spacing, margin=margin, discs=pipes, fixed=others)
    begin = rows_in(room)
    begin = begin[: len(begin) * 2 // 3]  # leave room, so that there is something to find

    found = search(room, begin, ceiling=len(begin) + 2, tries=1, seed=seed)

    if found is None:
        return
    marked = finished(room, found, begin)
    assert len(begin) < len(found) <= len(begin) + 2
    assert len(marked) == len(found)
    for xy in (found, marked.xy):
        assert least_gap(xy, room.fixed) >= spacing - TOLERANCE_MM
        assert float(room.region.slack(xy).min()) >= -TOLERANCE_MM


def test_finished_places_stand_on_the_coarsest_grid_that_the_rules_allow() -> None:
    room = make_room((300, 300), 100, margin=0)
    loose = np.array([[0.3, 0.2], [299.6, 0.1], [150.4, 260.2]])
    tight = square_grid(4, 100.0)

    assert finished(room, loose, loose).grid_mm == 1.0
    assert finished(room, tight, tight).grid_mm == 1.0
    third = make_room((100, 100), 100 / 3)
    assert finished(third, square_grid(4, 100 / 3), square_grid(4, 100 / 3)).grid_mm is None


def test_the_step_of_the_tape_comes_before_all_other_grids() -> None:
    room = make_room((300, 300), 100)
    loose = np.array([[1.0, 1.0], [298.0, 2.0], [150.4, 260.2]])

    done = finished(room, loose, loose, 1.5875)

    assert done.grid_mm == 1.5875
    assert np.allclose(done.xy / 1.5875, np.round(done.xy / 1.5875), atol=1e-6)


def test_places_take_over_the_sites_nearest_to_them() -> None:
    room = make_room((300, 300), 60)
    sites = np.array([[0.0, 0.0], [300.0, 0.0], [0.0, 300.0]])
    places = np.array([[290.0, 290.0], [10.0, 290.0], [290.0, 5.0], [5.0, 5.0]])

    done = finished(room, places, sites)

    assert done.homes.tolist() == [0, 1, 2, -1]
    for at, site in enumerate(sites):
        assert np.hypot(*(done.xy[at] - site)) < 150


def test_fewer_places_than_sites_leave_sites_over() -> None:
    room = make_room((300, 300), 60)
    sites = np.array([[0.0, 0.0], [300.0, 0.0], [0.0, 300.0]])

    assert finished(room, np.array([[299.0, 1.0]]), sites).homes.tolist() == [1]


@pytest.mark.parametrize("joint", [0.0, 20.0])
def test_neighbours_across_a_joint_take_room_away(joint: float) -> None:
    """A strip of nine spacings holds ten points; with neighbours at both ends fewer."""
    strip = make_room((900, 1), 100)
    beside = make_room((900, 1), 100, fixed=[(-joint, 0), (900 + joint, 0)])

    begin = np.column_stack([np.arange(7) * 110.0 + 120, np.zeros(7)])

    free = search(strip, begin, ceiling=10, tries=1)
    taken = search(beside, begin, ceiling=10, tries=1)

    assert free is not None
    assert taken is not None
    assert len(free) == 10
    assert len(taken) == floor((900 + 2 * joint) / 100) - 1
