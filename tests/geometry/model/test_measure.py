"""Measures of true outlines, against shapely (chords, fine enough) and school formulas."""

from math import cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.measure import (
    area,
    bounds,
    distance,
    hull_measures,
    inside,
    intersections,
    perimeter,
    shifted,
    turned_half,
)


def polygon(*corners: tuple[float, float]) -> Loop:
    points = [Point(*corner) for corner in corners]
    return Loop(tuple(Line(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True)))


SQUARE = polygon((0, 0), (10, 0), (10, 10), (0, 10))
DISC = Loop((Arc(Point(5, 5), 5, 0, pi), Arc(Point(5, 5), 5, pi, pi)))
# 100 x 40 with a half-round right end and a half-round bite of radius 10 in the left side
BITTEN = Loop(
    (
        Line(Point(0, 0), Point(80, 0)),
        Arc(Point(80, 20), 20, -pi / 2, pi),
        Line(Point(80, 40), Point(0, 40)),
        Line(Point(0, 40), Point(0, 30)),
        Arc(Point(0, 20), 10, pi / 2, -pi),
        Line(Point(0, 10), Point(0, 0)),
    )
)
LOOPS = (SQUARE, DISC, BITTEN, turned_half(BITTEN))


def chords(loop: Loop) -> shapely.Polygon:
    """The loop with every arc cut into 2,000 chords."""
    points: list[tuple[float, float]] = []
    for curve in loop.curves:
        match curve:
            case Line(start, _):
                points.append(start)
            case Arc(centre, radius, angle, sweep):
                points += [
                    (
                        centre.x + radius * cos(angle + sweep * k / 2000),
                        centre.y + radius * sin(angle + sweep * k / 2000),
                    )
                    for k in range(2000)
                ]
    return shapely.Polygon(points)


@pytest.mark.parametrize("loop", LOOPS)
def test_area_and_length_agree_with_fine_chords(loop: Loop) -> None:
    assert area(loop) == pytest.approx(chords(loop).area, rel=1e-5)
    assert perimeter(loop) == pytest.approx(chords(loop).length, rel=1e-5)


def test_area_and_length_of_the_bitten_shape_by_hand() -> None:
    assert area(BITTEN) == pytest.approx(80 * 40 + pi * 20**2 / 2 - pi * 10**2 / 2, rel=1e-14)
    assert perimeter(BITTEN) == pytest.approx(160 + 20 + pi * 20 + pi * 10, rel=1e-14)


@pytest.mark.parametrize("loop", LOOPS)
def test_box_takes_in_the_arcs(loop: Loop) -> None:
    assert bounds(loop) == pytest.approx(chords(loop).bounds, abs=1e-4)


def test_box_of_a_half_disc_is_free_of_rounding() -> None:
    half = Loop((Arc(Point(1000, 0), 1000, 0, pi), Line(Point(0, 0), Point(2000, 0))))
    assert bounds(half) == (0, 0, 2000, 1000)


@pytest.mark.parametrize("loop", LOOPS)
def test_inside_and_distance_agree_with_fine_chords(loop: Loop) -> None:
    rough = chords(loop)
    xy = np.random.default_rng(1).uniform(-20, 120, (3000, 2))
    away = shapely.distance(rough.exterior, shapely.points(xy))
    assert distance(xy, loop) == pytest.approx(away, abs=1e-3)
    clear = away > 1e-3
    assert (inside(xy, loop) == shapely.contains_xy(rough, xy))[clear].all()


@pytest.mark.parametrize("loop", LOOPS)
def test_heights_of_corners_and_tops_do_not_confuse_inside(loop: Loop) -> None:
    heights = {y for curve in loop.curves for y in _heights(curve)}
    xy = np.array([(x + 0.37, y) for x in range(-10, 120) for y in heights])
    rough = chords(loop)
    expected = shapely.dwithin(rough, shapely.points(xy), 1e-9)
    unclear = shapely.distance(rough.exterior, shapely.points(xy)) < 1e-3
    assert (inside(xy, loop) == expected)[~unclear].all()


def _heights(curve: Curve) -> tuple[float, ...]:
    match curve:
        case Line(start, end):
            return start.y, end.y
        case Arc(centre, radius, _, _):
            return centre.y - radius, centre.y, centre.y + radius


def test_the_outline_counts_as_inside_within_a_millionth() -> None:
    xy = np.array([(10, 5), (10 + 9e-7, 5), (10 + 2e-6, 5)])
    assert inside(xy, SQUARE).tolist() == [True, True, False]
    assert inside(xy, DISC).tolist() == [True, True, False]


def test_shifting_and_turning_keep_size_and_sense() -> None:
    assert bounds(shifted(BITTEN, 7, -3)) == (7, -3, 107, 37)
    turned = turned_half(BITTEN)
    assert bounds(turned) == pytest.approx(bounds(BITTEN), abs=1e-12)
    assert area(turned) == pytest.approx(area(BITTEN))
    assert inside(np.array([(95.0, 20.0), (5.0, 20.0)]), turned).tolist() == [False, True]


def test_crossing_lines() -> None:
    across = Line(Point(0, 5), Point(10, 5))
    assert intersections(across, Line(Point(5, 0), Point(5, 10))) == ((5, 5),)
    assert intersections(across, Line(Point(5, 5), Point(5, 10))) == ((5, 5),)
    assert intersections(across, Line(Point(5, 6), Point(5, 10))) == ()
    assert intersections(across, Line(Point(0, 6), Point(10, 6))) == ()


def test_overlapping_lines_meet_at_the_ends_of_the_overlap() -> None:
    first = Line(Point(0, 0), Point(10, 0))
    assert set(intersections(first, Line(Point(12, 0), Point(4, 0)))) == {(10, 0), (4, 0)}
    assert set(intersections(first, Line(Point(2, 0), Point(4, 0)))) == {(2, 0), (4, 0)}
    assert intersections(first, Line(Point(10, 0), Point(14, 0))) == ((10, 0),)


def test_line_and_arc() -> None:
    upper = Arc(Point(0, 0), 5, 0, pi)
    assert sorted(intersections(Line(Point(-9, 3), Point(9, 3)), upper)) == [(-4, 3), (4, 3)]
    assert intersections(upper, Line(Point(3, -9), Point(3, 9))) == ((3, 4),)
    assert intersections(Line(Point(-9, 5), Point(9, 5)), upper) == ((0, 5),)
    assert intersections(Line(Point(-9, -5), Point(9, -5)), upper) == ()
    assert intersections(Line(Point(-9, 5 + 2e-6), Point(9, 5 + 2e-6)), upper) == ()
    assert intersections(Line(Point(0, 0), Point(1, 1)), upper) == ()


def test_arc_and_arc() -> None:
    circle = Arc(Point(0, 0), 5, 0, 2 * pi)
    found = sorted(intersections(circle, Arc(Point(6, 0), 5, 0, 2 * pi)))
    assert np.array(found) == pytest.approx(np.array([(3, -4), (3, 4)]))
    assert intersections(circle, Arc(Point(6, 0), 5, pi, pi / 2))[0] == pytest.approx((3, -4))
    assert intersections(circle, Arc(Point(7, 0), 2, 0, 2 * pi)) == ((5, 0),)
    assert intersections(circle, Arc(Point(0, 3), 2, 0, 2 * pi)) == ((0, 5),)
    assert intersections(circle, Arc(Point(0, 0), 4, 0, 2 * pi)) == ()
    assert intersections(circle, Arc(Point(20, 0), 4, 0, 2 * pi)) == ()


def test_arcs_of_one_circle_meet_at_the_ends_of_the_overlap() -> None:
    right = Arc(Point(0, 0), 5, -pi / 2, pi)
    found = sorted(intersections(right, Arc(Point(0, 0), 5, 0, pi)))
    assert np.array(found) == pytest.approx(np.array([(0, 5), (5, 0)]), abs=1e-12)


coordinates = st.integers(-200, 200).map(lambda n: n / 8)
places = st.builds(Point, coordinates, coordinates)
lines = st.builds(Line, places, places).filter(lambda line: line.start != line.end)
arcs = st.builds(
    Arc,
    places,
    st.integers(1, 200).map(lambda n: n / 8),
    st.floats(-pi, pi),
    st.floats(0.1, 2 * pi) | st.floats(-2 * pi, -0.1),
)


@settings(deadline=None, max_examples=60)
@given(lines | arcs, lines | arcs)
def test_meeting_places_lie_on_both_curves(first: Curve, second: Curve) -> None:
    for point in intersections(first, second):
        for curve in (first, second):
            assert distance(np.array([point]), Loop((curve,))) <= 2e-6


@settings(deadline=None, max_examples=60)
@given(lines | arcs, lines | arcs)
def test_as_many_meeting_places_as_chords_find_crossings(first: Curve, second: Curve) -> None:
    one, other = (shapely.LineString(_path(curve)) for curve in (first, second))
    crossing = shapely.intersection(one, other)
    if isinstance(crossing, shapely.Point | shapely.MultiPoint):
        found = np.array([*intersections(first, second)]).reshape(-1, 2)
        for x, y in shapely.get_coordinates(crossing):
            nearby = np.hypot(found[:, 0] - x, found[:, 1] - y).min(initial=np.inf)
            # chords touch where arcs just miss: then both are within the sagitta of each other
            assert nearby < 0.5 or _nearly_touching(first, second, x, y)


def _path(curve: Curve) -> list[tuple[float, float]]:
    match curve:
        case Line(start, end):
            return [start, end]
        case Arc(centre, radius, angle, sweep):
            steps = np.linspace(angle, angle + sweep, 240)
            return [(centre.x + radius * cos(a), centre.y + radius * sin(a)) for a in steps]


def _nearly_touching(first: Curve, second: Curve, x: float, y: float) -> bool:
    """Whether the curves run nearly along each other at a place, or end there."""
    directions = [_direction(curve, x, y) for curve in (first, second)]
    (ax, ay), (bx, by) = directions
    ends = [p for curve in (first, second) for p in (_path(curve)[0], _path(curve)[-1])]
    return abs(ax * by - ay * bx) < 0.02 or any(hypot(x - a, y - b) < 1e-3 for a, b in ends)


def _direction(curve: Curve, x: float, y: float) -> tuple[float, float]:
    if isinstance(curve, Line):
        dx, dy = curve.end.x - curve.start.x, curve.end.y - curve.start.y
    else:
        dx, dy = curve.centre.y - y, x - curve.centre.x
    return dx / hypot(dx, dy), dy / hypot(dx, dy)


def test_hull_of_several_outlines() -> None:
    assert hull_measures([SQUARE]) == (100, 40)
    assert hull_measures([SQUARE, shifted(SQUARE, 20, 0)]) == (300, 80)
    hollow, around = hull_measures([BITTEN])
    assert hollow == pytest.approx(80 * 40 + pi * 20**2 / 2, rel=1e-5)
    assert around == pytest.approx(200 + pi * 20, rel=1e-5)
    assert hull_measures([polygon((0, 0), (4, 0), (1, 1), (0, 4))]) == pytest.approx(
        (8, 8 + 4 * sqrt(2))
    )


def test_hull_of_a_disc_is_just_above_the_truth() -> None:
    surface, around = hull_measures([DISC])
    assert 25 * pi <= surface <= 25 * pi * (1 + 1e-5)
    assert 10 * pi <= around <= 10 * pi * (1 + 1e-5)
