"""Counts and distances that growers and extension services publish.

[R1] Rutgers Horticultural Engineering, Lettuce Production (floating system). [U2] UF/IFAS news,
24 Nov 1998. [U3] Shuler and others, Proc. Fla. State Hort. Soc., about 2008. [E1] Hernandez and
others, Acta Hort. 1170 (2017) 619-626. [WB1] University of Tennessee, HortScience 32(3) 479E.
[GP] Grower 101, Calculations IV: Spacing Containers. "Formula n" is worked by hand from the
definition beside it.
"""

from fractions import Fraction

import pytest

from geometry.holes.rectangle import place_on_rectangle
from geometry.holes.rows import best_rows
from geometry.holes.sites import Placement
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.outlines import Rectangle
from geometry.model.planting import Direction, Pattern
from geometry.plan import BedPlan
from geometry.rafts.layout import RaftLayout, Side
from geometry.units import Length

INCH = Fraction(254, 10)
FOOT = 12 * INCH
SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def count(
    width: Fraction | int,
    height: Fraction | int,
    spacing: Fraction | int,
    pattern: Pattern,
    direction: Direction = "best",
) -> int:
    return best_rows(
        Fraction(width), Fraction(height), Fraction(spacing), pattern=pattern, direction=direction
    )[0].count


def raft(
    length: Fraction,
    width: Fraction,
    margin: Fraction,
    spacing: Fraction,
    *,
    joints: frozenset[Side] = frozenset(),
    joint_gap: Fraction = Fraction(0),
    direction: Direction = "along",
) -> Placement:
    return place_on_rectangle(
        length,
        width,
        margins=dict.fromkeys(SIDES, margin),
        joints=joints,
        joint_gap=joint_gap,
        spacing=spacing,
        row_spacing=None,
        pattern="square",
        direction=direction,
        spread=True,
    )[0]


def density_of(plants: int, length: Fraction, width: Fraction) -> float:
    """Plants per m2 as a bed tells them, to one decimal."""
    bed = Bed("bench", Rectangle(Length(length), Length(width)))
    nothing = RaftLayout(Loop(()), (), ())
    area = float(length * width)
    plan = BedPlan(bed, nothing, (), (), (), None, area, area, plants, None, ())
    return round(plan.density_per_m2, 1)


def test_thirty_six_holes_on_a_four_foot_raft() -> None:
    """[U3] 36 holes on 4 x 4 ft at 8 in, square, half-pitch margin; 24.2 per m2."""
    holes = raft(4 * FOOT, 4 * FOOT, 4 * INCH, 8 * INCH)

    assert len(holes) == 36
    assert holes.pitch_mm == pytest.approx(float(8 * INCH))
    assert density_of(len(holes), 4 * FOOT, 4 * FOOT) == 24.2


def test_thirty_two_holes_on_a_sheet() -> None:
    """[U2] 32 holes on 4 x 8 ft at 12 in with half-pitch margin; 10.8 per m2."""
    holes = raft(8 * FOOT, 4 * FOOT, 6 * INCH, 12 * INCH)

    assert len(holes) == 32
    assert density_of(len(holes), 8 * FOOT, 4 * FOOT) == 10.8


@pytest.mark.parametrize(
    ("pattern", "direction", "plants"),
    [("square", "best", 1600), ("hexagonal", "along", 1791), ("hexagonal", "across", 1783)],
)
def test_six_inch_pots_on_a_bench(pattern: Pattern, direction: Direction, plants: int) -> None:
    """[WB1] 6 in pots touching on 8 x 50 ft: staggered up to 11.9 % more than square.

    A pot is a circle of 6 in inside the bench, so its centre keeps 3 in from the edge.
    """
    assert count(594 * INCH, 90 * INCH, 6 * INCH, pattern, direction) == plants


def test_density_without_edges() -> None:
    """[GP] 6 in on 100 ft2: 400 square, 462 staggered, a statement of density without edge loss.

    [E1] 15.24 cm square: 43.06 per m2, the same. Rows on a square of 200 ft come within 0.6 %.
    """
    side = 1000 * FOOT / 5
    square = count(side, side, 6 * INCH, "square") / float(side / FOOT) ** 2 * 100
    staggered = count(side, side, 6 * INCH, "hexagonal") / float(side / FOOT) ** 2 * 100

    assert square == pytest.approx(400, rel=0.006)
    assert square / 100 / 0.3048**2 == pytest.approx(43.06, rel=0.006)
    assert staggered == pytest.approx(462, rel=0.006)


def test_holes_on_a_line() -> None:
    """Formula 1: N = floor((L - 2 e) / p) + 1; L 48, e 4, p 8 give 6."""
    assert count(48 - 2 * 4, 0, 8, "square") == 6


def test_even_spread() -> None:
    """Formula 2: L 581, N 3 and half-pitch margins give p 193.67 and e 96.83."""
    holes = raft(Fraction(581), Fraction(500), Fraction(60), Fraction(190))

    assert len(holes) == 9
    assert round(float(holes.sites.xy[0, 0]), 2) == 96.83
    assert round(holes.pitch_mm, 2) == 193.67


@pytest.mark.parametrize(
    ("pitch", "gap", "margin"),
    [(Fraction(200), Fraction(6), 97.0), (8 * INCH, INCH / 2, float(INCH * 15 / 4))],
)
def test_seam_margin(pitch: Fraction, gap: Fraction, margin: float) -> None:
    """Formula 3: e = (p - g) / 2; 200 and 6 give 97, 8 in and 1/2 in give 3 3/4 in."""
    joints: frozenset[Side] = frozenset({"left", "right"})
    holes = raft(3 * pitch - gap, 2 * pitch, (pitch - gap) / 2, pitch, joints=joints, joint_gap=gap)

    assert len(holes) == 6
    assert holes.sites.xy[0, 0] == pytest.approx(margin)


@pytest.mark.parametrize(
    ("margin", "square", "along", "across"),
    [
        (Fraction(4), 18, 17, 15),
        (Fraction(5, 2), 18, 17, 18),
        (Fraction(3), 18, 17, 18),
        (Fraction(2), 18, 18, 21),
    ],
)
def test_stagger_on_a_small_raft(margin: Fraction, square: int, along: int, across: int) -> None:
    """Formula 4: 24 x 48 in at 8 in; the 15.5 % of an endless stagger do not hold here."""
    width, height = 48 - 2 * margin, 24 - 2 * margin

    assert count(width, height, 8, "square") == square
    assert count(width, height, 8, "hexagonal", "along") == along
    assert count(width, height, 8, "hexagonal", "across") == across


@pytest.mark.parametrize(("plants", "density"), [(60, 80.7), (28, 37.7), (21, 28.3), (18, 24.2)])
def test_density_of_trade_boards(plants: int, density: float) -> None:
    """Formula 5, and [R1] for 60 and 21: sites on 2 x 4 ft, which is 0.7432 m2."""
    assert density_of(plants, 4 * FOOT, 2 * FOOT) == density
