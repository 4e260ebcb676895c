"""Outlines pulled, mirrored and turned, against laws and against shapely's affine maps."""

from fractions import Fraction

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import affinity

from geometry.beds.outline import exact_box, outline_loop
from geometry.errors import GeometryError
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
from layout_gui.project.grips import (
    corner_grips,
    grips,
    mirrored,
    nearest_side,
    polygon_of,
    pulled,
    turned,
    with_corner,
    without_corner,
)


def mm(value: float | str) -> Length:
    return Length.of(value)


RECTANGLE = Rectangle(mm(600), mm(400))
L = LShape(mm(600), mm(400), mm(200), mm(150))
TAPERED = Tapered(mm(600), mm(400), mm(200))
FREE = Polygon(tuple((mm(x), mm(y)) for x, y in ((10, 20), (610, 20), (500, 320), (100, 420))))

sizes = st.integers(2, 4000).map(lambda n: Length(Fraction(n, 2)))
shares = st.integers(1, 99)


def _l_shape(length: Length, width: Length, one: int, other: int) -> LShape:
    notch = Length(length.exact * one / 100), Length(width.exact * other / 100)
    return LShape(length, width, *notch)


straight = st.one_of(
    st.builds(Rectangle, sizes, sizes),
    st.builds(_l_shape, sizes, sizes, shares, shares),
    st.builds(Tapered, sizes, sizes, sizes),
    st.just(FREE),
)
outlines = st.one_of(
    straight,
    st.builds(Disc, sizes),
    st.builds(RoundEnded, sizes, sizes),
    st.builds(lambda a, b: Measured((a,), (b,)), sizes, sizes),
)


def shape_of(outline: Outline) -> shapely.Polygon:
    """The outline as shapely sees it, at its own box; only for straight sides."""
    points = [(curve.start.x, curve.start.y) for curve in outline_loop(outline).curves]
    return shapely.Polygon(points)


@given(outlines)
def test_a_grip_pulled_to_where_it_is_changes_nothing(outline: Outline) -> None:
    for number, grip in enumerate(grips(outline)):
        made = pulled(outline, number, grip.x, grip.y)
        assert made.outline == outline
        assert (made.x, made.y) == (0, 0)


@given(outlines, st.data())
def test_a_pulled_grip_lies_where_it_was_put(outline: Outline, data: st.DataObject) -> None:
    found = grips(outline)
    number = data.draw(st.integers(0, len(found) - 1))
    length, width = exact_box(outline)
    x = length * data.draw(st.integers(-50, 150)) / 100
    y = width * data.draw(st.integers(-50, 150)) / 100
    try:
        made = pulled(outline, number, x, y)
    except GeometryError:
        assume(False)
        return
    after = grips(made.outline)[number]
    grip = found[number]
    if isinstance(outline, (Tapered, Disc)):
        # Symmetrical ones may lie on the other side of their middle.
        mirrored_x, mirrored_y = length - x, width - y
        assert (not grip.moves_x) or after.x + made.x in {x, mirrored_x}
        assert (not grip.moves_y) or after.y + made.y in {y, mirrored_y}
    else:
        assert (not grip.moves_x) or after.x + made.x == x
        assert (not grip.moves_y) or after.y + made.y == y


@given(st.builds(Rectangle, sizes, sizes), st.integers(0, 7), st.integers(1, 300))
def test_what_lies_opposite_stays(outline: Rectangle, number: int, by: int) -> None:
    opposite = {0: 2, 1: 3, 2: 0, 3: 1, 4: 6, 5: 7, 6: 4, 7: 5}[number]
    grip = grips(outline)[number]
    out_x = by if grip.x > 0 else -by
    out_y = by if grip.y > 0 else -by
    made = pulled(outline, number, grip.x + out_x, grip.y + out_y)
    old, new = grips(outline)[opposite], grips(made.outline)[opposite]
    if old.moves_x:
        assert new.x + made.x == old.x
    if old.moves_y:
        assert new.y + made.y == old.y


def test_the_walls_of_an_l_move_one_at_a_time() -> None:
    """The notch's inner corner stays where it is when an outer wall is pulled."""
    made = pulled(L, 1, Fraction(700), Fraction(0))
    assert made.outline == LShape(mm(700), mm(400), mm(300), mm(150))
    made = pulled(L, 3, Fraction(350), Fraction(200))
    assert made.outline == LShape(mm(600), mm(400), mm(250), mm(200))


def test_a_taper_stays_symmetrical_and_its_middle_line_where_it_is() -> None:
    made = pulled(TAPERED, 3, Fraction(0), Fraction(450))
    assert made.outline == Tapered(mm(600), mm(500), mm(200))
    assert made.y == -50


def test_nothing_is_turned_inside_out() -> None:
    for outline, number, x, y in (
        (RECTANGLE, 1, -10, 0),
        (L, 3, 700, 200),
        (TAPERED, 0, 600, 0),
        (Disc(mm(40)), 0, 20, 20),
        (FREE, 0, 550, 150),
    ):
        with pytest.raises(GeometryError):
            pulled(outline, number, Fraction(x), Fraction(y))


def test_what_only_a_tape_can_tell_has_no_grips() -> None:
    measured = Measured((mm(400), mm(402)), (mm(600),))
    assert grips(measured) == ()
    with pytest.raises(GeometryError, match="type its sizes"):
        pulled(measured, 0, Fraction(1), Fraction(1))


def test_round_ones_are_pulled_at_their_sides() -> None:
    assert [(g.x, g.y) for g in corner_grips(Disc(mm(40)))] == [
        (20, 0),
        (40, 20),
        (20, 40),
        (0, 20),
    ]
    made = pulled(Disc(mm(40)), 1, Fraction(50), Fraction(0))
    assert made.outline == Disc(mm(60))
    assert (made.x, made.y) == (-10, -10)


def test_lengths_that_stay_keep_how_they_were_typed() -> None:
    outline = Rectangle(mm("23 5/8 in"), mm("15 3/4 in"))
    made = pulled(outline, 1, Fraction(700), Fraction(0)).outline
    assert isinstance(made, Rectangle)
    assert made.width.typed == "15 3/4 in"


@given(straight, st.sampled_from(["along", "across"]))
def test_mirroring_agrees_with_shapely_and_twice_is_nothing(outline: Outline, way: str) -> None:
    made = mirrored(outline, way)  # type: ignore[arg-type]
    length, width = map(float, exact_box(outline))
    factors = (-1, 1) if way == "along" else (1, -1)
    expected = affinity.scale(shape_of(outline), *factors, origin=(length / 2, width / 2))
    assert shape_of(made).symmetric_difference(expected).area < 1e-6
    assert polygon_of(mirrored(made, way)) == polygon_of(outline)  # type: ignore[arg-type]


@given(straight, st.integers(-720, 720).map(lambda n: Fraction(n, 2)))
def test_turning_agrees_with_shapely(outline: Outline, degrees: Fraction) -> None:
    length, width = map(float, exact_box(outline))
    assume(min(length, width) > 5)
    made = turned(outline, degrees)
    expected = affinity.rotate(shape_of(outline), float(degrees), origin=(length / 2, width / 2))
    at = affinity.translate(shape_of(made.outline), float(made.x), float(made.y))
    # Corners are rounded to 0.001 mm, so at most so much of the border is off.
    assert at.symmetric_difference(expected).area <= 0.002 * expected.length + 1e-6


@given(straight)
def test_four_quarter_turns_are_exactly_nothing(outline: Outline) -> None:
    now, x, y = outline, Fraction(0), Fraction(0)
    for _ in range(4):
        made = turned(now, Fraction(90))
        now, x, y = made.outline, x + made.x, y + made.y
    assert set(polygon_of(now)) == set(polygon_of(outline))
    assert (x, y) == (0, 0)


def test_round_parts_turn_by_quarters_only() -> None:
    stadium = RoundEnded(mm(600), mm(200))
    assert turned(stadium, Fraction(90)).outline == RoundEnded(mm(200), mm(600))
    assert turned(Disc(mm(40)), Fraction(33)).outline == Disc(mm(40))
    for outline in (stadium, Rectangle(mm(600), mm(400), mm(20))):
        assert turned(outline, Fraction(180)).outline == outline
        with pytest.raises(GeometryError, match="round parts"):
            turned(outline, Fraction(30))


def test_a_corner_comes_into_the_nearest_side_and_goes_again() -> None:
    side = nearest_side(polygon_of(RECTANGLE), 300, 390)
    made = with_corner(RECTANGLE, side, Fraction(300), Fraction(450))
    assert isinstance(made.outline, Polygon)
    assert len(made.outline.points) == 5
    assert exact_box(made.outline) == (600, 450)
    back = without_corner(made.outline, side + 1)
    assert set(polygon_of(back.outline)) == set(polygon_of(RECTANGLE))
    with pytest.raises(GeometryError, match="round parts"):
        with_corner(Disc(mm(40)), 0, Fraction(1), Fraction(1))
    with pytest.raises(GeometryError, match="three corners"):
        without_corner(Polygon(FREE.points[:3]), 0)
    with pytest.raises(GeometryError, match="any corners"):
        without_corner(RECTANGLE, 0)
