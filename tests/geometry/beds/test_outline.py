"""Outlines from measurements."""

from fractions import Fraction
from math import hypot, pi

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geometry.beds.outline import (
    exact_box,
    exact_size,
    found_corners,
    obstacle_loop,
    outline_loop,
    skew_mm,
)
from geometry.errors import OutlineError
from geometry.model.bed import Obstacle, Spot
from geometry.model.curves import Line, Loop
from geometry.model.edges import end_of, start_of
from geometry.model.measure import area, bounds, perimeter
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.units import Length


def mm(value: float | str) -> Length:
    return Length(Fraction(value))


def inches(value: float | str) -> Length:
    return Length(Fraction(value) * Fraction(254, 10))


def polygon(*corners: tuple[float, float]) -> Polygon:
    return Polygon(tuple((mm(x), mm(y)) for x, y in corners))


def measured(widths: list[float], lengths: list[float], diagonals: list[float]) -> Measured:
    return Measured(*(tuple(map(mm, group)) for group in (widths, lengths, diagonals)))


OUTLINES: list[tuple[Outline, float]] = [  # with the area by hand
    (Rectangle(mm(2360), mm(580)), 2360 * 580),
    (Rectangle(mm(1150), mm(950), mm(100)), 1150 * 950 - (4 - pi) * 100**2),
    (Rectangle(mm(80), mm(80), mm(40)), pi * 40**2),
    (Disc(mm(1500)), pi * 750**2),
    (RoundEnded(mm(1800), mm(600)), 1200 * 600 + pi * 300**2),
    (RoundEnded(mm(600), mm(1800)), 1200 * 600 + pi * 300**2),
    (LShape(mm(1200), mm(1000), mm(500), mm(400)), 1200 * 1000 - 500 * 400),
    (Tapered(mm(1500), mm(700), mm(560)), 1500 * 630),
    (Tapered(mm(1500), mm(560), mm(700)), 1500 * 630),
    (polygon((0, 0), (0, 300), (400, 0)), 60_000),
    (polygon((-50, 20), (350, 20), (-50, 320)), 60_000),
    (measured([582, 580, 577], [2400, 2398], []), 2398 * 577),
]


@pytest.mark.parametrize(("outline", "by_hand"), OUTLINES)
def test_areas_by_hand(outline: Outline, by_hand: float) -> None:
    assert area(outline_loop(outline)) == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.parametrize(("outline", "by_hand"), OUTLINES)
def test_every_outline_starts_at_its_box_and_closes(outline: Outline, by_hand: float) -> None:
    loop = outline_loop(outline)
    length, width = exact_box(outline)
    assert bounds(loop) == pytest.approx((0, 0, float(length), float(width)), abs=1e-9)
    for curve, following in zip(loop.curves, loop.curves[1:] + loop.curves[:1], strict=True):
        assert end_of(curve) == pytest.approx(start_of(following), abs=1e-9)


def test_round_ended_outline_of_formula_19() -> None:
    """Source: job map, formula 19: 72 x 24 in has 1604 in²."""
    loop = outline_loop(RoundEnded(inches(72), inches(24)))
    assert round(area(loop) / 25.4**2) == 1604


def test_the_notch_of_an_l_is_its_upper_right_corner() -> None:
    loop = outline_loop(LShape(mm(12), mm(10), mm(5), mm(4)))
    corners = [start_of(curve) for curve in loop.curves]
    assert corners == [(0, 0), (12, 0), (12, 6), (7, 6), (7, 10), (0, 10)]


def test_a_clockwise_polygon_is_reversed_and_moved_to_the_origin() -> None:
    loop = outline_loop(polygon((10, 10), (10, 40), (50, 10)))
    assert {start_of(curve) for curve in loop.curves} == {(0, 0), (40, 0), (0, 30)}
    assert area(loop) > 0


def test_corners_on_a_straight_side_and_repeats_are_dropped() -> None:
    square = polygon((0, 0), (5, 0), (10, 0), (10, 10), (10, 10), (0, 10), (0, 0))
    assert len(outline_loop(square).curves) == 4
    assert exact_size(square) == (10, 10)


def test_exact_sizes() -> None:
    assert exact_size(Rectangle(inches("47.625"), mm(581))) == (Fraction("1209.675"), 581)
    assert exact_size(Rectangle(mm(100), mm(100), mm(1))) is None
    assert exact_size(Disc(mm(100))) is None
    assert exact_size(polygon((0, 0), (30, 0), (40, 10), (10, 10))) is None


def test_the_smallest_width_wins() -> None:
    """Source: job map, capability B1."""
    bed = measured([582, 580, 577], [2400], [])
    assert exact_size(bed) == (2400, 577)
    assert skew_mm(bed) == 5


def test_equal_diagonals_cost_nothing() -> None:
    assert exact_size(measured([600], [800], [1000, 1000])) == (800, 600)
    assert skew_mm(measured([600], [800], [1000, 1000])) == 0


@given(st.integers(200, 3000), st.integers(200, 3000), st.integers(-90, 90))
def test_unlike_diagonals_leave_the_largest_square_lying_rectangle(
    length: int, width: int, lean: int
) -> None:
    """The bed is built as a leaning parallelogram, taped, and the safe rectangle laid into it."""
    diagonals = [hypot(length + lean, width), hypot(length - lean, width)]
    bed = measured([width], [length], diagonals)
    size = exact_size(bed)
    assert size is not None
    safe_length, safe_width = (float(side) for side in size)
    assert safe_length == pytest.approx(length - abs(lean), abs=1e-6)
    assert safe_width == width
    assert skew_mm(bed) == pytest.approx(abs(diagonals[0] - diagonals[1]))
    leaning = shapely.Polygon([(0, 0), (length, 0), (length + lean, width), (lean, width)])
    start = max(0, lean)
    rectangle = shapely.box(start, 0, start + safe_length, safe_width)
    assert leaning.buffer(1e-5).covers(rectangle)


@pytest.mark.parametrize(
    ("outline", "hint"),
    [
        (Rectangle(mm(0), mm(10)), "length"),
        (Rectangle(mm(10), mm(-1)), "width"),
        (Rectangle(mm(100), mm(60), mm(31)), "corner radius"),
        (Disc(mm(0)), "diameter"),
        (RoundEnded(mm(10), mm(0)), "width"),
        (LShape(mm(10), mm(10), mm(10), mm(5)), "notch length"),
        (LShape(mm(10), mm(10), mm(5), mm(11)), "notch width"),
        (Tapered(mm(10), mm(5), mm(0)), "end"),
        (Measured((), (mm(5),)), "width"),
        (measured([600], [800], [1000]), "diagonals"),
        (measured([600], [800], [1000, 2000]), "measure them again"),
        (polygon((0, 0), (1, 1)), "itself"),
        (polygon((0, 0), (10, 0), (20, 0)), "itself"),
        (polygon((5, 5), (5, 5), (5, 5)), "encloses nothing"),
        (polygon((0, 0), (10, 10), (10, 0), (0, 10)), "crosses"),
        (polygon((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), "touches"),
        (polygon((0, 0), (10, 0), (10, 10), (10, 5), (0, 5)), "itself"),
    ],
)
def test_what_cannot_be_drawn_is_refused_with_a_reason(outline: Outline, hint: str) -> None:
    with pytest.raises(OutlineError, match=hint):
        outline_loop(outline)


corners = st.lists(
    st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=3, max_size=7, unique=True
)


@given(corners)
def test_polygons_are_refused_just_when_shapely_finds_them_wrong(
    points: list[tuple[int, int]],
) -> None:
    outside = shapely.Polygon(points)
    try:
        loop = outline_loop(polygon(*points))
    except OutlineError:
        assert not (outside.is_valid and outside.area > 0)
    else:
        assert outside.is_valid
        assert area(loop) == pytest.approx(outside.area)
        assert perimeter(loop) == pytest.approx(outside.length)


def place(loop: Loop) -> tuple[float, float, float, float]:
    return bounds(loop)


def test_obstacles_stand_by_their_middle_or_their_corner() -> None:
    spot = Spot(mm(2300), mm(60))
    disc = Disc(mm(40))
    assert place(obstacle_loop(Obstacle("pipe", disc, centre=spot))) == (2280, 40, 2320, 80)
    assert place(obstacle_loop(Obstacle("pipe", disc, corner=spot))) == (2300, 60, 2340, 100)
    wedge = polygon((110, 210), (150, 210), (110, 240))
    assert place(obstacle_loop(Obstacle("brace", wedge, corner=spot))) == (2300, 60, 2340, 90)
    assert place(obstacle_loop(Obstacle("brace", wedge))) == (110, 210, 150, 240)


def test_straight_outlines_hold_no_arcs() -> None:
    for outline in (Rectangle(mm(5), mm(4)), LShape(mm(5), mm(4), mm(2), mm(2))):
        assert all(isinstance(curve, Line) for curve in outline_loop(outline).curves)


def test_a_bed_as_found_lies_around_the_rectangle_that_is_safe() -> None:
    found = found_corners(
        Measured(
            (Length.of(580), Length.of(582), Length.of(579)),
            (Length.of(2360), Length.of(2358)),
            (Length.of(2431), Length.of(2427)),
        )
    )
    lean = Fraction(2431**2 - 2427**2, 4 * 2358)

    assert found == ((-lean, 0), (2360 - lean, 0), (2358, 582), (0, 580))


def test_the_diagonals_of_a_bed_as_found_are_the_measured_ones() -> None:
    # By the two right triangles over the diagonals; exact up to the square of the lean.
    for first, second in ((2431, 2427), (2427, 2431)):
        corners = found_corners(
            Measured((Length.of(580),), (Length.of(2360),), (Length.of(first), Length.of(second)))
        )
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = ((float(x), float(y)) for x, y in corners)
        rising, falling = hypot(cx - ax, cy - ay), hypot(bx - dx, by - dy)
        assert rising**2 - falling**2 == pytest.approx(first**2 - second**2)


@given(
    st.lists(st.integers(500, 520), min_size=1, max_size=3),
    st.lists(st.integers(2000, 2020), min_size=1, max_size=2),
    st.integers(-6, 6),
)
def test_a_bed_as_found_holds_its_safe_rectangle(
    widths: list[int], lengths: list[int], skew: int
) -> None:
    middle = round(hypot(min(lengths), min(widths)))
    measured = Measured(
        tuple(map(Length.of, widths)),
        tuple(map(Length.of, lengths)),
        (Length.of(middle), Length.of(middle + skew)),
    )

    (ax, ay), (bx, by), (cx, cy), (dx, dy) = found_corners(measured)

    length, width = exact_box(measured)
    assert max(ax, dx) <= 0
    assert min(bx, cx) >= length
    assert ay == by == 0
    assert min(cy, dy) >= width
