"""How much room rafts have at each level of the water."""

from dataclasses import replace
from fractions import Fraction
from math import radians, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.model.allowances import Allowances
from geometry.model.bed import Bed, Fit, One, Split
from geometry.model.outlines import Disc, LShape, Measured, Outline, Rectangle, RoundEnded
from geometry.model.water import Walls, Water
from geometry.rafts.play import LevelFit, levels_fit
from geometry.rafts.split import lay_rafts
from geometry.units import Length

mm = Length.of
BENCH = Bed("Bench", Rectangle(mm(2360), mm(580)), mm(10), mm(5), rafts=Split(4, 1))
WARM = Allowances(film=mm(0.2), swelling=Fraction(1), warming=Fraction(30))


def fits(bed: Bed, allowances: Allowances | None = None) -> dict[str, LevelFit]:
    found = levels_fit(bed, lay_rafts(bed), allowances or Allowances())
    return {each.level: each for each in found}


def leaning(bed: Bed, by: float, low: float = 100, high: float = 0) -> Bed:
    """The bed with walls that come in by so much in a hundred millimetres of depth."""
    walls = Walls(mm(100), mm(2360 - by), mm(580 - by))
    return replace(bed, water=Water(low=mm(low), high=mm(high), walls=walls))


def test_the_room_is_both_clearances_and_all_joints() -> None:
    found = fits(BENCH)

    assert [*found] == ["working"]
    assert found["working"].along.least == found["working"].along.most == 2 * 10 + 3 * 5
    assert found["working"].along.joints == 15
    assert found["working"].across.most == 20


def test_walls_at_three_degrees_take_ten_and_a_half_millimetres_of_room_in_a_hundred() -> None:
    # Arithmetic of a slope: width loss = 2 h tan(angle); 100 mm at 3 degrees are 10.5 mm.
    loss = 2 * 100 * tan(radians(3))
    working, low = fits(leaning(BENCH, loss))["working"], fits(leaning(BENCH, loss))["low"]

    assert float(working.across.least - low.across.least) == pytest.approx(10.5, abs=0.02)
    assert float(working.along.least - low.along.least) == pytest.approx(10.5, abs=0.02)
    assert not low.is_stuck


def test_a_board_of_two_point_four_metres_grows_by_five_millimetres_in_thirty_degrees() -> None:
    # Expansion of boards to EN 13164, makers' data sheets: 0.07 mm/(m K) x 2.4 m x 30 K = 5.04 mm.
    one = Bed("Bed", Rectangle(mm(2420), mm(600)), mm(10), rafts=One())
    found = fits(one, Allowances(warming=Fraction(30)))["working"]

    assert found.along.most - found.along.least == Fraction("5.04")
    assert found.along.most == 20


def test_paint_counts_on_both_edges_of_every_raft_and_swelling_by_length() -> None:
    found = fits(BENCH, WARM)["working"]
    sizes = Fraction(2360 - 20 - 15)

    grown = 2 * 4 * Fraction("0.2") + sizes * (1 + 30 * Fraction("0.07")) / 1000
    assert found.along.least == 35 - grown
    assert found.along.most == 35


def test_high_water_is_reckoned_straight_on_above_the_measured_outline() -> None:
    found = fits(leaning(BENCH, 20, high=50))

    assert found["high"].down == -50
    assert found["high"].lean == (-10, -10)
    assert found["high"].across.most == 30
    assert found["high"].water_mm2 == 2370 * 590


def test_no_room_at_all_is_no_jam_and_a_hair_less_is() -> None:
    exact = fits(leaning(BENCH, 20))["low"]
    less = fits(leaning(BENCH, 20.001))["low"]

    assert exact.across.least == 0
    assert not exact.is_stuck
    assert less.jams == ("across",)


def test_inches_are_exact() -> None:
    bed = Bed("Tank", Rectangle(mm("47 5/8 in"), mm("24 in")), mm("3/8 in"), rafts=One())
    walls = Walls(mm("6 in"), mm("46 7/8 in"), mm("23 1/4 in"))
    found = fits(replace(bed, water=Water(low=mm("6 in"), walls=walls)))["low"]

    assert found.along.least == found.across.least == 0


def test_a_bed_with_nothing_left_in_it_jams() -> None:
    bed = replace(BENCH, water=Water(low=mm(300), walls=Walls(mm(100), mm(2160), mm(380))))
    assert fits(bed)["low"].jams == ("along", "across")
    assert fits(bed)["low"].water_mm2 == 0


def test_a_bed_without_rafts_has_no_room_to_tell_of() -> None:
    assert fits(replace(BENCH, clearance=mm(290))) == {}


def test_rafts_as_few_as_possible_and_measured_beds_count_alike() -> None:
    few = fits(replace(BENCH, rafts=Fit(mm(1200), mm(600))))["working"]
    measured = Measured((mm(582), mm(580), mm(577)), (mm(2360), mm(2358)))
    found = fits(replace(BENCH, outline=measured))["working"]

    assert few.along.most == 25
    assert found.across.most == 20


@pytest.mark.parametrize(
    ("outline", "rafts", "away"),
    [
        (Disc(mm(1500)), One(), 1.0),
        (Disc(mm(1500)), Split(2, 1), 1.0),
        (RoundEnded(mm(1800), mm(600)), Split(3, 1), 1.0),
    ],
)
def test_round_rafts_keep_their_distance_less_half_of_what_the_walls_come_in(
    outline: Outline, rafts: One | Split, away: float
) -> None:
    length, width = (1500, 1500) if isinstance(outline, Disc) else (1800, 600)
    walls = Walls(mm(100), mm(length - 18), mm(width - 18))
    bed = Bed("Tank", outline, mm(10), mm(5), rafts=rafts, water=Water(low=mm(100), walls=walls))
    near = fits(bed)["low"].near

    assert near is not None
    assert near.away == pytest.approx(away, abs=0.01)


def test_rounded_corners_jam_before_the_sides_do() -> None:
    # The centres of a corner's arcs move by 9 mm both ways, 9 sqrt(2) apart, and only 10 are there.
    corners = Rectangle(mm(1150), mm(950), mm(100))
    walls = Walls(mm(100), mm(1132), mm(932))
    bed = Bed("Half", corners, mm(10), rafts=One(), water=Water(low=mm(100), walls=walls))
    low = fits(bed)["low"]

    assert low.near is not None
    assert low.near.away == pytest.approx(10 - 9 * 2**0.5, abs=0.01)
    assert low.across.least == 2
    assert low.is_stuck


def test_the_inner_corner_of_an_l_counts_and_rafts_move_away_from_it() -> None:
    l_shape = LShape(mm(2000), mm(900), mm(700), mm(300))
    walls = Walls(mm(100), mm(1982), mm(882))
    bed = Bed("L", l_shape, mm(10), rafts=One(), water=Water(low=mm(100), walls=walls))
    near = fits(bed)["low"].near

    # The notch comes 9 mm nearer both ways. When the raft moves away from it by s both ways, it is
    # sqrt(2) (9 - s) off the middle of the raft's arc of 10 mm, and the raft's own far corner is
    # sqrt(2) (s - 1) beyond the wall's: best where both are short by as much.
    shift = (10 * 2**0.5 - 10) / (2 * 2**0.5)
    assert near is not None
    assert near.away == pytest.approx(-(2**0.5) * (shift - 1), abs=0.01)


def test_an_inner_corner_that_reaches_into_no_raft_is_looked_past() -> None:
    l_shape = LShape(mm(2000), mm(900), mm(700), mm(300))
    walls = Walls(mm(100), mm(1982), mm(882))
    bed = Bed("L", l_shape, mm(10), mm(5), rafts=Split(20, 3), water=Water(low=mm(4), walls=walls))
    near = fits(bed)["low"].near

    assert near is not None
    assert near.away > 0


@settings(max_examples=60, deadline=None)
@given(
    clearance=st.integers(1, 30),
    gap=st.integers(0, 10),
    along=st.integers(1, 5),
    lean=st.integers(-40, 60),
    warm=st.integers(0, 40),
)
def test_rafts_and_room_are_the_bed_at_every_level(
    clearance: int, gap: int, along: int, lean: int, warm: int
) -> None:
    bed = replace(BENCH, clearance=mm(clearance), joint_gap=mm(gap), rafts=Split(along, 2))
    bed = leaning(bed, lean, high=30)
    allowances = Allowances(warming=Fraction(warm))
    shapes = [raft.shape for raft in lay_rafts(bed).rafts]

    for level in fits(bed, allowances).values():
        length = 2360 - lean * level.down / 100
        assert level.along.most + along * shapes[0].length == length
        assert level.across.most + 2 * shapes[0].width == 580 - lean * level.down / 100
        assert level.along.least <= level.along.most
