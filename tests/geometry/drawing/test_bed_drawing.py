"""The bed drawing and its clearance lines; distances checked by shapely."""

from dataclasses import replace
from itertools import pairwise
from math import pi

import numpy as np
import pytest
import shapely

from geometry.beds.outline import outline_loop
from geometry.drawing.bed import draw_bed
from geometry.drawing.clearance import clearance_line
from geometry.drawing.marks import Path
from geometry.drawing.styles import Style
from geometry.model.bed import Obstacle, Spot
from geometry.model.curves import Arc, Curve, Line, Loop
from geometry.model.edges import end_of, start_of
from geometry.model.measure import length
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded, Tapered
from geometry.units import Length
from tests.builders import make_bed_plan


def _points(curve: Curve) -> list[tuple[float, float]]:
    shares = np.linspace(0, 1, 400)
    match curve:
        case Line(start, end):
            return [
                (start.x + s * (end.x - start.x), start.y + s * (end.y - start.y)) for s in shares
            ]
        case Arc(centre, radius, angle, sweep):
            return [
                (
                    centre.x + radius * np.cos(angle + s * sweep),
                    centre.y + radius * np.sin(angle + s * sweep),
                )
                for s in shares
            ]


def _region(loop: Loop) -> shapely.Polygon:
    return shapely.Polygon([point for curve in loop.curves for point in _points(curve)])


def mm(value: float) -> Length:
    return Length.of(value)


SHAPES = {
    "rectangle": Rectangle(mm(120), mm(70)),
    "rounded": Rectangle(mm(120), mm(70), mm(15)),
    "disc": Disc(mm(40)),
    "round-ended": RoundEnded(mm(200), mm(60)),
    "tapered": Tapered(mm(200), mm(60), mm(100)),
    "L": LShape(mm(200), mm(120), mm(80), mm(50)),
    "narrow notch": Polygon(
        tuple(
            (mm(x), mm(y))
            for x, y in (
                (0, 0),
                (200, 0),
                (200, 90),
                (110, 90),
                (110, 30),
                (90, 30),
                (90, 90),
                (0, 90),
            )
        )
    ),
}


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
@pytest.mark.parametrize("by", [8.0, 25.0])
def test_every_place_of_the_line_keeps_the_clearance_and_no_more(shape: Outline, by: float) -> None:
    loop = outline_loop(shape)
    region = _region(loop)
    paths = clearance_line(loop, by, Style.KEEP_OUT)

    points = [point for path in paths for curve in path.curves for point in _points(curve)]
    away = shapely.distance(shapely.points(points), region)
    assert np.abs(away - by).max() < 0.02


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_the_line_runs_all_the_way_round(shape: Outline) -> None:
    loop = outline_loop(shape)
    paths = clearance_line(loop, 25, Style.KEEP_OUT)

    drawn = sum(length(curve) for path in paths for curve in path.curves)
    ring = _region(loop).buffer(25, quad_segs=500)
    assert drawn == pytest.approx(ring.exterior.length, rel=2e-3)


def test_a_closed_line_is_head_to_tail() -> None:
    (path,) = clearance_line(outline_loop(Rectangle(mm(120), mm(70), mm(15))), 10, Style.KEEP_OUT)

    for curve, following in pairwise([*path.curves, path.curves[0]]):
        assert end_of(curve) == pytest.approx(start_of(following))


def test_an_obstacle_is_drawn_in_its_place_with_its_clearance() -> None:
    pipe = Obstacle("standpipe", Disc(mm(40)), centre=Spot(mm(2300), mm(60)), clearance=mm(25))
    plan = make_bed_plan()
    drawing = draw_bed(replace(plan, bed=replace(plan.bed, obstacles=(pipe,))))

    assert [group.id for group in drawing.groups] == ["water", "obstacle standpipe"]
    body, line = drawing.groups[1].marks
    assert isinstance(body, Path)
    assert isinstance(line, Path)
    arcs = [(curve.centre, curve.radius) for curve in (*body.curves, *line.curves)]
    assert {centre for centre, _ in arcs} == {(2300, 60)}
    assert {radius for _, radius in arcs} == {20, 45}
    assert sum(curve.sweep for curve in line.curves) == pytest.approx(2 * pi)


def test_an_obstacle_that_cannot_be_drawn_is_left_out() -> None:
    plan = make_bed_plan()
    odd = Obstacle("odd", Disc(mm(0)), centre=Spot(mm(1), mm(1)))
    bare = Obstacle("brace", Rectangle(mm(20), mm(580)), corner=Spot(mm(500), mm(0)))
    drawing = draw_bed(replace(plan, bed=replace(plan.bed, obstacles=(odd, bare))))

    assert [group.id for group in drawing.groups] == ["water", "obstacle brace"]
    assert len(drawing.groups[1].marks) == 1
