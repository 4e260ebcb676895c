"""The inside of a bed whose walls lean, at the levels of its water."""

from fractions import Fraction
from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.beds.levels import (
    at_working_level,
    inside_at,
    lean_at,
    levels_of,
    may_lean,
    narrowed,
    narrowing,
)
from geometry.beds.outline import exact_box, outline_loop, skew_mm
from geometry.errors import GeometryError
from geometry.model.measure import bounds
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
from geometry.model.water import Walls, Water
from geometry.units import ZERO, Length

mm = Length.of


def test_walls_at_three_degrees_take_ten_and_a_half_millimetres_off_in_a_hundred() -> None:
    # Arithmetic of a slope: two walls leaning by an angle take off 2 h tan(angle).
    lean = 2 * 100 * tan(radians(3))
    walls = Walls(mm(100), mm(1000), mm(500 - lean))

    _, by = narrowing(Rectangle(mm(1000), mm(500)), walls, mm(100))

    assert float(by) == pytest.approx(10.5, abs=0.02)


def test_a_tub_ten_inches_shorter_in_twelve_loses_two_and_a_half_in_three() -> None:
    # By the rule of three: 10 in over 12 in of depth are 2.5 in over 3 in.
    tub = Rectangle(mm("55 in"), mm("24 in"))
    walls = Walls(mm("12 in"), mm("45 in"), mm("22 in"))

    inside = inside_at(tub, walls, [mm("3 in")])

    assert inside == Rectangle(mm("52 1/2 in"), mm("23 1/2 in"))


def test_numbers_that_end_nowhere_stay_exact() -> None:
    inside = inside_at(Disc(mm(1000)), Walls(mm(300), mm(900), mm(900)), [mm(100)])

    assert inside == Disc(Length(Fraction(2900, 3)))


def test_the_least_of_both_levels_counts_for_each_size_alone() -> None:
    # Longer towards the floor, narrower towards it.
    walls = Walls(mm(200), mm(1040), mm(460))

    inside = inside_at(Rectangle(mm(1000), mm(500)), walls, [mm(20), mm(100)])

    assert inside == Rectangle(mm(1004), mm(480))


@given(
    there=st.tuples(st.integers(1850, 2150), st.integers(450, 750)),
    levels=st.tuples(st.integers(0, 200), st.integers(0, 200)).map(sorted),
)
def test_the_least_level_becomes_the_working_level_of_the_same_walls(
    there: tuple[int, int], levels: list[int]
) -> None:
    bed, walls = Rectangle(mm(2000), mm(600)), Walls(mm(200), mm(there[0]), mm(there[1]))
    highest, lowest = map(mm, levels)

    least, water = at_working_level(bed, walls, highest, lowest, Water(depth=mm(300)))

    assert least == inside_at(bed, walls, (highest, lowest))
    assert water.depth == mm(300)
    if water.walls is None:
        assert (there[0] - 2000) * (there[1] - 600) < 0
        return
    found = {
        exact_box(narrowed(least, lean_at(least, water.walls, down)))
        for down in levels_of(water).values()
    }
    wanted = {exact_box(narrowed(bed, narrowing(bed, walls, level))) for level in (highest, lowest)}
    assert found == wanted


def test_straight_walls_change_nothing_at_any_level() -> None:
    bed = Rectangle(mm("47 5/8 in"), mm(500), mm(30))
    walls = Walls(mm(300), bed.length, bed.width)

    assert inside_at(bed, walls, [ZERO, mm(300)]) == bed


@pytest.mark.parametrize(
    ("outline", "left"),
    [
        (Disc(mm(900)), Disc(mm(880))),
        (RoundEnded(mm(1800), mm(600)), RoundEnded(mm(1790), mm(580))),
        (
            LShape(mm(2000), mm(900), mm(700), mm(300)),
            LShape(mm(1990), mm(880), mm(700), mm(300)),
        ),
        (Rectangle(mm(1000), mm(100), mm(50)), Rectangle(mm(990), mm(80), mm(40))),
        (
            Measured((mm(580), mm(582)), (mm(2360), mm(2358))),
            Measured((mm(560), mm(562)), (mm(2350), mm(2348))),
        ),
    ],
)
def test_each_shape_is_narrowed_in_its_own_measures(outline: Outline, left: Outline) -> None:
    assert may_lean(outline)
    assert narrowed(outline, (Fraction(10), Fraction(20))) == left


def test_an_l_narrowed_lies_in_the_old_one_with_the_same_gap_at_all_its_walls() -> None:
    old, by = LShape(mm(2000), mm(900), mm(700), mm(300)), Fraction(20)

    new = narrowed(old, (by, by))

    assert isinstance(new, LShape)
    inner = [
        (outline.length.exact - outline.notch_length.exact, outline.width.exact)
        for outline in (old, new)
    ]
    # Laid in the middle of the old one, the wall of the notch has moved by half as well.
    assert inner[0][0] - (inner[1][0] + by / 2) == by / 2


def test_the_lean_by_the_diagonals_stays_and_is_never_taken_for_less() -> None:
    bed = Measured((mm(580),), (mm(2360),), (mm(2431), mm(2427)))
    lean = Fraction(2431**2 - 2427**2, 4 * 2360)

    lower = narrowed(bed, (Fraction(40), Fraction(60)))

    length, width = exact_box(lower)
    assert width == 520
    assert 0 <= (2320 - lean) - length < Fraction(1, 100)
    assert isinstance(lower, Measured)
    assert lower.diagonals[0].exact > lower.diagonals[1].exact


def test_equal_diagonals_stay_equal() -> None:
    lower = narrowed(
        Measured((mm(300),), (mm(400),), (mm(500), mm(500))), (Fraction(7), Fraction(7))
    )

    assert isinstance(lower, Measured)
    assert exact_box(lower) == (393, 293)
    assert skew_mm(lower) == 0


@pytest.mark.parametrize(
    ("walls", "level", "words"),
    [
        (Walls(ZERO, mm(900), mm(400)), mm(0), "must be below the first"),
        (Walls(mm(100), mm(900), mm(400)), mm(101), "farther down than the second"),
        (Walls(mm(100), mm(900), mm(400)), mm(-1), "above the first measuring"),
        (Walls(mm(100), mm(900), mm(-1)), mm(100), "leave no water"),
    ],
)
def test_what_cannot_be_is_refused_in_words(walls: Walls, level: Length, words: str) -> None:
    with pytest.raises(GeometryError, match=words):
        inside_at(Rectangle(mm(1000), mm(500)), walls, [level])


@pytest.mark.parametrize(
    "outline",
    [
        Tapered(mm(1000), mm(500), mm(400)),
        Polygon(((ZERO, ZERO), (mm(100), ZERO), (ZERO, mm(100)))),
    ],
)
def test_shapes_that_need_more_than_two_sizes_say_so(outline: Outline) -> None:
    assert not may_lean(outline)
    with pytest.raises(GeometryError, match="two sizes are not enough"):
        narrowed(outline, (Fraction(1), Fraction(1)))


@given(
    down=st.integers(0, 400),
    there=st.tuples(st.integers(800, 1200), st.integers(300, 700)),
)
def test_a_raft_of_the_size_found_fits_at_both_levels(down: int, there: tuple[int, int]) -> None:
    bed = Rectangle(mm(1000), mm(500))
    walls = Walls(mm(400), mm(there[0]), mm(there[1]))

    inside = inside_at(bed, walls, [ZERO, mm(down)])

    _, _, right, top = bounds(outline_loop(inside))
    for level in (0, down):
        for size, first, second in ((right, 1000, there[0]), (top, 500, there[1])):
            assert size <= first + (second - first) * level / 400 + 1e-9
