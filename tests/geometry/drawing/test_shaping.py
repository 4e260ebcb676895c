"""Rafts of odd shape: corners from the datum, and arcs by offsets that lie on the true circle."""

from fractions import Fraction
from math import cos, hypot, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.drawing.figures import figure
from geometry.drawing.marks import Path, Text
from geometry.drawing.shaping import (
    Offsets,
    arc_offsets,
    arcs_of,
    shape_proof,
    shaping_marks,
    shaping_rows,
    station_step,
)
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Line, Loop, Point
from geometry.model.measure import bounds, distance
from geometry.model.outlines import Disc, LShape, Outline, Rectangle, RoundEnded, Tapered
from geometry.rafts.layout import RaftShape
from geometry.rafts.shapes import rectangle_shape
from geometry.units import Length, Unit

mm = Length.of


def shape_of(outline: Outline) -> RaftShape:
    loop = outline_loop(outline)
    _, _, right, top = bounds(loop)
    return RaftShape(loop, Fraction(right), Fraction(top), is_rectangle=False)


def places(shape: RaftShape, one: Offsets) -> list[tuple[float, float]]:
    """Where a worker would put the points of one column, measured as the sheet says."""
    length, width = float(shape.length), float(shape.width)
    at = {
        "bottom": lambda along, inn: (along, inn),
        "top": lambda along, inn: (along, width - inn),
        "left": lambda along, inn: (inn, along),
        "right": lambda along, inn: (length - inn, along),
    }[one.side]
    return [at(*pair) for pair in one.stations]


def words_of(shape: RaftShape, unit: Unit = "mm") -> list[str]:
    marks = [mark for row in shaping_rows(shape, unit, 190) for mark in row.draw(0, 0)]
    return [mark.text for mark in marks if isinstance(mark, Text)]


@given(
    st.one_of(
        st.integers(200, 4000).map(lambda d: Disc(mm(d))),
        st.integers(300, 3000).map(lambda n: RoundEnded(mm(n), mm(n // 2))),
        st.integers(60, 290).map(lambda r: Rectangle(mm(900), mm(600), mm(r))),
    ),
    st.sampled_from(["mm", "cm", "in"]),
)
def test_every_offset_is_on_the_circle_and_every_stretch_is_covered(
    outline: Outline, unit: Unit
) -> None:
    shape, step = shape_of(outline), station_step(unit)
    offsets = arc_offsets(shape, step)

    points = np.array([point for one in offsets for point in places(shape, one)])
    assert distance(points, shape.loop).max() < 1e-6
    # What the page says, rounded as it says it, is still on the circle within half a millimetre.
    if unit != "in":
        said = [
            Offsets(one.arc, one.side, tuple(
                (along, float(figure(inn, "mm"))) for along, inn in one.stations
            ))
            for one in offsets
        ]  # fmt: skip
        told = np.array([point for one in said for point in places(shape, one)])
        assert distance(told, shape.loop).max() < 0.5
    # Two neighbouring points are nowhere further apart than a step at 45 degrees.
    for one in offsets:
        steps = np.hypot(*np.diff(np.array(places(shape, one)), axis=0).T)
        assert steps.max(initial=0) <= float(step) * 2**0.5 * 1.01 + 1e-6
    length = sum(arc.radius * abs(arc.sweep) for arc in arcs_of(shape))
    covered = sum(
        float(np.hypot(*np.diff(np.array(places(shape, one)), axis=0).T).sum()) for one in offsets
    )
    assert covered == pytest.approx(length, rel=0.02)


def test_a_known_circle_has_its_known_offsets() -> None:
    # Check value by hand: radius 500 about (500, 500); 300 beside the centre the circle is 400
    # below it (3-4-5 triangle), so 100 in from the lower side.
    offsets = arc_offsets(shape_of(Disc(mm(1000))), Fraction(50))

    lower = next(one for one in offsets if one.side == "bottom")
    assert dict(lower.stations)[200.0] == pytest.approx(100)
    assert dict(lower.stations)[800.0] == pytest.approx(100)
    assert dict(lower.stations)[500.0] == pytest.approx(0)
    assert {one.side for one in offsets} == {"left", "right", "bottom", "top"}
    assert lower.stations[0] == pytest.approx((500 - 500 * sin(pi / 4), 500 - 500 * cos(pi / 4)))


def test_stations_are_whole_steps_but_for_the_ends() -> None:
    for unit, step in (("mm", 50.0), ("in", 50.8)):
        for one in arc_offsets(shape_of(Disc(mm(1000))), station_step(unit)):  # type: ignore[arg-type]
            along = np.array([place for place, _ in one.stations[1:-1]]) / step
            assert np.allclose(along, along.round())
            assert np.allclose(np.diff(along), 1)


def test_a_hollow_arc_is_measured_from_the_side_that_it_opens_to() -> None:
    # A square with a quarter of a circle of radius 300 taken out of its upper right corner.
    corners = [Point(0, 0), Point(900, 0), Point(900, 600), Point(600, 900), Point(0, 900)]
    hollow = Arc(Point(900, 900), 300, -pi / 2, -pi / 2)
    loop = Loop((
        Line(corners[0], corners[1]), Line(corners[1], corners[2]), hollow,
        Line(corners[3], corners[4]), Line(corners[4], corners[0]),
    ))  # fmt: skip
    shape = RaftShape(loop, Fraction(900), Fraction(900), is_rectangle=False)

    offsets = arc_offsets(shape, Fraction(50))

    assert {one.side for one in offsets} == {"top", "right"}
    for one in offsets:
        for x, y in places(shape, one):
            assert hypot(x - 900, y - 900) == pytest.approx(300)
    assert "hollow" in words_of(shape)


def test_arcs_that_run_on_are_one_arc() -> None:
    quarters = [Arc(Point(300, 300), 300, radians(90 * k), radians(90)) for k in range(4)]
    shape = RaftShape(Loop(tuple(quarters)), Fraction(600), Fraction(600), is_rectangle=False)

    (arc,) = arcs_of(shape)

    assert abs(arc.sweep) == pytest.approx(2 * pi)
    assert len(arc_offsets(shape, Fraction(50))) == 4


def test_the_corners_of_an_l_stand_in_the_table_from_the_datum() -> None:
    shape = shape_of(LShape(mm(900), mm(600), mm(300), mm(250)))

    said = words_of(shape)

    assert "Cut to shape out of a rectangle of 900 \N{MULTIPLICATION SIGN} 600 mm" in said
    assert said.count("straight cut") == 2
    assert said.count("rectangle's side") == 4
    for x, y in ((900, 350), (600, 350), (600, 600)):
        at = [k for k, text in enumerate(said) if text == f"{x}"]
        assert any(said[k + 1] == f"{y}" for k in at)
    assert not any("offsets" in text for text in said)


def test_a_slanted_edge_is_a_straight_cut_and_only_a_lost_datum_corner_is_told_of() -> None:
    tapered = words_of(shape_of(Tapered(mm(900), mm(600), mm(450))))
    disc = words_of(shape_of(Disc(mm(900))))

    assert "straight cut" in tapered
    assert not any("goes with the waste" in text for text in tapered)
    assert any("goes with the waste" in text for text in disc)


def test_a_rectangle_needs_no_shaping() -> None:
    shape = rectangle_shape(Fraction(900), Fraction(600))

    assert shaping_rows(shape, "mm", 190) == ()
    assert list(shaping_marks(shape, Shift())) == []


def test_the_drawing_shows_the_rectangle_and_numbers_every_corner() -> None:
    shape = shape_of(LShape(mm(900), mm(600), mm(300), mm(250)))

    marks = list(shaping_marks(shape, Shift(10, 20, 0.1)))

    (box,) = [mark for mark in marks if isinstance(mark, Path)]
    assert box.style is Style.HINT
    assert [mark.text for mark in marks if isinstance(mark, Text)] == list("123456")


def test_the_farthest_corners_prove_the_shape() -> None:
    # By hand: an L of 900 by 600 less 300 by 250 at its upper right. From (0, 0) to (900, 350)
    # it is 965.66, from (0, 600) to (900, 0) 1081.67 (Pythagoras).
    shape = shape_of(LShape(mm(900), mm(600), mm(300), mm(250)))

    assert shape_proof(shape) == (2, 6, pytest.approx(hypot(900, 600)))
    assert shape_proof(rectangle_shape(Fraction(900), Fraction(600))) is None
    proof = shape_proof(shape_of(RoundEnded(mm(900), mm(600))))
    assert proof is not None
    assert proof[2] == pytest.approx(hypot(300, 600))
