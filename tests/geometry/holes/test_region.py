"""Where centres may lie, against shapely's distances to finely cut outlines."""

from fractions import Fraction
from math import pi

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.holes.region import KeepOut, Part, Region
from geometry.model.curves import Arc, Line, Loop
from geometry.model.edges import Floats, end_of, start_of
from geometry.model.measure import distance, shifted
from geometry.model.outlines import (
    Disc,
    LShape,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.rafts.layout import Side
from geometry.units import Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
PLACES = np.random.default_rng(3).uniform(-150, 1350, (2500, 2))


def mm(value: float) -> Length:
    return Length(Fraction(value))


def part(outline: Outline, margin: float, **wider: float) -> Part:
    margins = {side: Fraction(wider.get(side, margin)) for side in SIDES}
    return Part(outline_loop(outline), margins, Fraction(margin))


def chords(loop: Loop) -> shapely.Polygon:
    points: list[tuple[float, float]] = []
    for curve in loop.curves:
        if isinstance(curve, Line):
            points.append(curve.start)
        else:
            angles = np.linspace(curve.angle, curve.angle + curve.sweep, 400)[:-1]
            points += list(
                zip(
                    curve.centre.x + curve.radius * np.cos(angles),
                    curve.centre.y + curve.radius * np.sin(angles),
                    strict=True,
                )
            )
    return shapely.Polygon(points)


OUTLINES: dict[str, Outline] = {
    "rectangle": Rectangle(mm(1200), mm(600)),
    "L": LShape(mm(1200), mm(1000), mm(500), mm(400)),
    "disc": Disc(mm(1100)),
    "round-ended": RoundEnded(mm(1200), mm(500)),
    "tapered": Tapered(mm(1200), mm(700), mm(500)),
    "rounded": Rectangle(mm(1100), mm(900), mm(150)),
}


def depths(loop: Loop, xy: Floats) -> Floats:
    rough, points = chords(loop), shapely.points(xy)
    away = shapely.distance(rough.exterior, points)
    return np.where(shapely.contains(rough, points), away, -away)


PIPE = KeepOut(shifted(outline_loop(Disc(mm(120))), 400, 250), 45.0)
BRACE = KeepOut(shifted(outline_loop(LShape(mm(300), mm(200), mm(200), mm(120))), 650, 350), 30.0)


@pytest.mark.parametrize("name", OUTLINES)
@pytest.mark.parametrize("keep_outs", [(), (PIPE,), (PIPE, BRACE)])
def test_allowed_is_deep_enough_and_away_from_all_keep_outs(
    name: str, keep_outs: tuple[KeepOut, ...]
) -> None:
    region = Region((part(OUTLINES[name], 40, right=90),), keep_outs)
    loop = outline_loop(OUTLINES[name])
    room = depths(loop, PLACES) - 40
    room = np.minimum(room, loop_right(loop) - 90 - PLACES[:, 0])
    for keep_out in keep_outs:
        room = np.minimum(room, -depths(keep_out.loop, PLACES) - keep_out.distance)
    clear = np.abs(room) > 0.05
    assert (region.allows(PLACES) == (room > 0))[clear].all()


def loop_right(loop: Loop) -> float:
    return max(max(start_of(curve).x, end_of(curve).x) for curve in loop.curves)


@pytest.mark.parametrize("name", OUTLINES)
def test_no_place_changes_within_its_slack(name: str) -> None:
    region = Region((part(OUTLINES[name], 40, left=100),), (PIPE, BRACE))
    slack = region.slack(PLACES)
    rng = np.random.default_rng(5)
    for _ in range(20):
        angles = rng.uniform(0, 2 * pi, len(PLACES))
        step = rng.uniform(0, 1, len(PLACES)) * np.abs(slack) * 0.999
        moved = PLACES + np.stack([np.cos(angles), np.sin(angles)], axis=1) * step[:, None]
        assert (region.allows(moved) == (slack >= 0)).all()


@pytest.mark.parametrize("name", OUTLINES)
def test_what_is_allowed_changes_only_across_the_border(name: str) -> None:
    region = Region((part(OUTLINES[name], 40, top=70),), (PIPE, BRACE))
    allowed = region.allows(PLACES)
    inner, outer = PLACES[allowed][:150], PLACES[~allowed][:150]
    count = min(len(inner), len(outer))
    inner, outer = inner[:count].copy(), outer[:count].copy()
    for _ in range(45):
        middle = (inner + outer) / 2
        allows = region.allows(middle)
        inner[allows], outer[~allows] = middle[allows], middle[~allows]
    assert (distance(inner, Loop(region.border)) < 1e-5).all()
    assert (distance(inner, Loop(region.border)) < 1e-5).sum() == count > 50


@pytest.mark.parametrize("name", OUTLINES)
def test_corners_lie_on_the_border_and_are_allowed(name: str) -> None:
    region = Region((part(OUTLINES[name], 40),), (PIPE,))
    corners = np.array(region.corners)
    assert region.allows(corners).all()
    assert (distance(corners, Loop(region.border)) < 1e-6).all()


def test_the_border_itself_is_allowed() -> None:
    region = Region((part(OUTLINES["rectangle"], 40),))
    xy = np.array([(40, 40), (40 - 9e-7, 300), (40 - 2e-6, 300), (1160, 560), (1161, 300)])
    assert region.allows(xy).tolist() == [True, True, False, True, False]
    assert region.bounds() == (40, 40, 1160, 560)
    assert region.slack(np.array([(600.0, 300.0), (0.0, 300.0)])).tolist() == [260, -40]


def test_a_wider_margin_holds_along_the_whole_side() -> None:
    """Also beyond the notch of an L, where the raft's own edge does not reach."""
    region = Region((part(OUTLINES["L"], 40, top=200),))
    assert region.allows(np.array([(300, 790), (300, 810)])).tolist() == [True, False]


def test_without_its_own_margin_a_part_keeps_the_least_of_its_sides() -> None:
    loop = outline_loop(OUTLINES["disc"])
    margins = dict.fromkeys(SIDES, Fraction(40)) | {"left": Fraction(100)}
    assert Part(loop, margins).edge_margin == 40
    assert Part(loop, margins, Fraction(55)).edge_margin == 55


def test_rafts_of_a_bed_are_one_region() -> None:
    first = part(OUTLINES["rectangle"], 40)
    second = Part(shifted(first.loop, 1210, 0), first.margins, first.margin)
    region = Region((first, second))
    xy = np.array([(1160, 300), (1161, 300), (1249, 300), (1250, 300), (2370, 560)])
    assert region.allows(xy).tolist() == [True, False, False, True, True]
    assert region.bounds() == (40, 40, 2370, 560)
    assert len(region.border) == 8


@pytest.mark.parametrize(("margin", "places"), [(299, 4), (300, 2), (300.5, 0)])
def test_a_region_may_shrink_to_a_line_or_nothing(margin: float, places: int) -> None:
    region = Region((part(OUTLINES["rectangle"], margin),))
    assert len(region.corners) == places
    assert (region.bounds() is None) == (places == 0)


def test_a_disc_with_room_for_its_middle_only() -> None:
    region = Region((part(Disc(mm(80)), 40),))
    assert [tuple(corner) for corner in region.corners] == [(40, 40)]


def test_keep_outs_keep_round_corners_round() -> None:
    lower = KeepOut(shifted(BRACE.loop, 0, -150), BRACE.distance)
    region = Region((part(OUTLINES["rectangle"], 40),), (lower,))
    arcs = [curve for curve in region.border if isinstance(curve, Arc)]
    assert {round(arc.radius, 9) for arc in arcs} == {30}
    assert sum(arc.sweep for arc in arcs) == pytest.approx(-5 * pi / 2)


@settings(deadline=None, max_examples=60)
@given(st.integers(3, 9), st.integers(0, 2**32 - 1), st.integers(0, 60))
def test_any_star_shaped_polygon(corners: int, seed: int, margin: int) -> None:
    rng = np.random.default_rng(seed)
    angles = np.sort(rng.uniform(0, 2 * pi, corners))
    radii = rng.uniform(100, 600, corners)
    points = 600 + np.stack([np.cos(angles), np.sin(angles)], axis=1) * radii[:, None]
    if not shapely.Polygon(points).is_valid or np.diff(angles).min() < 0.05:
        return
    outline = Polygon(tuple((mm(x), mm(y)) for x, y in points.tolist()))
    loop = outline_loop(outline)
    region = Region((part(outline, margin),))
    room = depths(loop, PLACES) - margin
    clear = np.abs(room) > 1e-6
    assert (region.allows(PLACES) == (room >= 0))[clear].all()
