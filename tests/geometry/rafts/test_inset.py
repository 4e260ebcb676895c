"""Insets and clips of true outlines.

The measure from outside is shapely's distance to the outline cut into fine chords, asked at many
places; shapely's own buffer simplifies its input by up to a hundredth of the distance.
"""

from fractions import Fraction
from math import atan2, cos, hypot, pi, sin, sqrt

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import Floats, end_of, start_of
from geometry.model.measure import area, bounds, inside
from geometry.model.outlines import Disc, LShape, Polygon, Rectangle, RoundEnded
from geometry.rafts.inset import clip, inset
from geometry.units import Length

CHORDS = 150


def mm(value: float) -> Length:
    return Length(Fraction(value))


def polygon(*corners: tuple[float, float]) -> Loop:
    return outline_loop(Polygon(tuple((mm(x), mm(y)) for x, y in corners)))


def side(start: Point, end: Point, sweep: float) -> Curve:
    """A straight side, or a bow that turns by the sweep on its way."""
    if abs(sweep) < 0.1:
        return Line(start, end)
    dx, dy = end.x - start.x, end.y - start.y
    radius = hypot(dx, dy) / 2 / abs(sin(sweep / 2))
    height = radius * cos(sweep / 2) * (1 if sweep > 0 else -1) / hypot(dx, dy)
    centre = Point((start.x + end.x) / 2 - dy * height, (start.y + end.y) / 2 + dx * height)
    return Arc(centre, radius, atan2(start.y - centre.y, start.x - centre.x), sweep)


def chords(loop: Loop) -> shapely.Polygon:
    points: list[tuple[float, float]] = []
    for curve in loop.curves:
        if isinstance(curve, Line):
            points.append(curve.start)
        else:
            angles = np.linspace(curve.angle, curve.angle + curve.sweep, CHORDS)[:-1]
            points += [
                (curve.centre.x + curve.radius * cos(a), curve.centre.y + curve.radius * sin(a))
                for a in angles
            ]
    return shapely.Polygon(points)


places = st.tuples(st.integers(0, 12), st.integers(0, 12)).map(lambda p: (p[0] * 100, p[1] * 100))
corners = st.lists(places, min_size=3, max_size=8, unique=True)
sweeps = st.lists(st.just(0.0) | st.floats(-2.8, 2.8), min_size=8, max_size=8)


def crooked(points: list[tuple[int, int]], bends: list[float]) -> tuple[Loop, shapely.Polygon]:
    """A loop of straight and bowed sides, with its chords; only proper ones go on."""
    outline = shapely.Polygon(points)
    assume(outline.is_valid and outline.area > 0)
    if not outline.exterior.is_ccw:
        points.reverse()
    ends = [Point(float(x), float(y)) for x, y in points]
    loop = Loop(
        tuple(
            side(a, b, bend) for a, b, bend in zip(ends, ends[1:] + ends[:1], bends, strict=False)
        )
    )
    rough = chords(loop)
    assume(rough.is_valid and area(loop) > 0)
    return loop, rough


def depths(xy: Floats, rough: shapely.Polygon) -> Floats:
    points = shapely.points(xy)
    away = shapely.distance(rough.exterior, points)
    return np.where(shapely.contains(rough, points), away, -away)


def held(xy: Floats, loops: tuple[Loop, ...]) -> Floats:
    return np.any([inside(xy, loop) for loop in loops] or [np.zeros(len(xy), bool)], axis=0)


def closes(loop: Loop) -> bool:
    return all(
        hypot(end_of(a).x - start_of(b).x, end_of(a).y - start_of(b).y) < 1e-5
        for a, b in zip(loop.curves, loop.curves[1:] + loop.curves[:1], strict=True)
    )


SPREAD = np.random.default_rng(7).uniform(-200, 1400, (1500, 2))


@settings(deadline=None, max_examples=80)
@given(corners, sweeps, st.sampled_from([10.0, 25.4, 50.0, 100.0]) | st.floats(1, 200))
def test_an_inset_holds_just_the_places_deep_enough(
    points: list[tuple[int, int]], bends: list[float], away: float
) -> None:
    loop, rough = crooked(points, bends)
    inner = inset(loop, away)
    depth = depths(SPREAD, rough)
    clear = np.abs(depth - away) > 0.2
    assert (held(SPREAD, inner) == (depth > away))[clear].all()
    assert all(closes(part) and area(part) > 0 for part in inner)


spans = st.tuples(st.integers(-1, 13), st.integers(1, 6)).map(
    lambda s: (s[0] * 100.0, (s[0] + s[1]) * 100.0)
)


@settings(deadline=None, max_examples=80)
@given(corners, sweeps, spans, spans)
def test_a_clip_holds_just_what_loop_and_box_share(
    points: list[tuple[int, int]],
    bends: list[float],
    across: tuple[float, float],
    up: tuple[float, float],
) -> None:
    loop, rough = crooked(points, bends)
    parts = clip(loop, (across[0], up[0], across[1], up[1]))
    x, y = SPREAD.T
    boxed = (across[0] < x) & (x < across[1]) & (up[0] < y) & (y < up[1])
    depth = depths(SPREAD, rough)
    clear = np.abs(depth) > 0.2
    assert (held(SPREAD, parts) == (boxed & (depth > 0)))[clear].all()
    assert all(closes(part) and area(part) > 0 for part in parts)


def test_no_distance_gives_the_loop_itself() -> None:
    loop = outline_loop(Disc(mm(100)))
    assert inset(loop, 0)[0] is loop


def test_a_rectangle_stays_free_of_rounding() -> None:
    (inner,) = inset(outline_loop(Rectangle(mm(2360), mm(580))), 10)
    assert bounds(inner) == (10, 10, 2350, 570)
    assert len(inner.curves) == 4


def test_round_outlines_stay_concentric() -> None:
    (disc,) = inset(outline_loop(Disc(mm(1500))), 40)
    assert {(c.centre, c.radius) for c in disc.curves if isinstance(c, Arc)} == {((750, 750), 710)}
    (ends,) = inset(outline_loop(RoundEnded(mm(1800), mm(600))), 40)
    assert area(ends) == pytest.approx(1200 * 520 + pi * 260**2)
    assert len(ends.curves) == 4


def test_rounded_corners_shrink_and_turn_sharp() -> None:
    loop = outline_loop(Rectangle(mm(1150), mm(950), mm(100)))
    (soft,) = inset(loop, 40)
    assert area(soft) == pytest.approx(1070 * 870 - (4 - pi) * 60**2)
    (sharp,) = inset(loop, 120)
    assert area(sharp) == pytest.approx(910 * 710)
    assert len(sharp.curves) == 4


def test_the_inner_corner_of_an_l_is_rounded() -> None:
    (inner,) = inset(outline_loop(LShape(mm(1200), mm(1200), mm(600), mm(600))), 40)
    (arc,) = (curve for curve in inner.curves if isinstance(curve, Arc))
    assert arc.centre == (600, 600)
    assert arc.radius == 40
    assert arc.sweep == pytest.approx(-pi / 2)
    square_corner = 1120**2 - 600**2
    assert area(inner) == pytest.approx(square_corner + 40**2 * (1 - pi / 4))


def test_an_inset_may_fall_apart_or_vanish() -> None:
    waisted = polygon((0, 0), (300, 0), (300, 130), (700, 130), (700, 0), (1000, 0), (1000, 300),
                      (700, 300), (700, 170), (300, 170), (300, 300), (0, 300))  # fmt: skip
    assert len(inset(waisted, 15)) == 1
    nose = 300 - sqrt(30**2 - 20**2)  # the corners of the waist keep their distance as well
    left, right = inset(waisted, 30)
    assert bounds(left) == pytest.approx((30, 30, nose, 270))
    assert bounds(right) == pytest.approx((1000 - nose, 30, 970, 270))
    assert inset(waisted, 150) == ()
    assert inset(outline_loop(Disc(mm(100))), 50) == ()
    assert inset(outline_loop(Rectangle(mm(100), mm(80))), 40) == ()


def test_a_waist_exactly_used_up_falls_apart() -> None:
    waisted = polygon((0, 0), (300, 0), (300, 130), (700, 130), (700, 0), (1000, 0), (1000, 300),
                      (700, 300), (700, 170), (300, 170), (300, 300), (0, 300))  # fmt: skip
    assert len(inset(waisted, 20)) == 2


def test_clips_along_an_edge_and_beside_it() -> None:
    loop = outline_loop(LShape(mm(1200), mm(1200), mm(600), mm(600)))
    (foot,) = clip(loop, (600, 0, 1200, 1200))
    assert bounds(foot) == (600, 0, 1200, 600)
    assert len(foot.curves) == 4
    assert clip(loop, (600, 600, 1200, 1200)) == ()
    (corner,) = clip(loop, (500, 500, 700, 700))
    assert area(corner) == 3 * 100**2


def test_a_clip_may_fall_apart() -> None:
    teeth = polygon((0, 0), (50, 0), (50, 40), (20, 40), (20, 10), (10, 10), (10, 40), (0, 40))
    assert [bounds(part) for part in clip(teeth, (-5, 20, 60, 35))] == [
        (0, 20, 10, 35),
        (20, 20, 50, 35),
    ]


def test_a_disc_in_quarters() -> None:
    loop = outline_loop(Disc(mm(1500)))
    for left in (0, 750):
        for bottom in (0, 750):
            (quarter,) = clip(loop, (left, bottom, left + 750, bottom + 750))
            assert area(quarter) == pytest.approx(pi * 750**2 / 4)
            assert len(quarter.curves) == 3
