"""The ceiling of a bed: never below what somebody can place, and tight where it is known to be."""

import csv
import math
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.holes.bed_ceiling import bed_ceiling
from geometry.holes.ceiling import oler
from geometry.holes.convex_cover import cover_bound, within, wrapped
from geometry.holes.place import place_holes
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.measure import area
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded, Tapered
from geometry.model.planting import Planting
from geometry.rafts.split import lay_rafts
from geometry.units import Length

DATA = Path(__file__).parents[2] / "outside" / "data"


def length(mm: float | Fraction) -> Length:
    return Length(Fraction(mm))


def ceiling(bed: Bed) -> int:
    found = bed_ceiling(bed, lay_rafts(bed))
    assert found is not None
    return found


def plants(bed: Bed) -> int:
    return sum(len(sites.xy) for sites in place_holes(bed, lay_rafts(bed)).sites)


def planting(spacing: float | Fraction, margin: float | Fraction = 0, **rules: object) -> Planting:
    # Holes so small that the spacing alone decides.
    return replace(
        Planting(length(spacing), length(Fraction(1, 100)), edge_margin=length(margin)), **rules
    )


sizes = st.integers(300, 1200).map(length)
outlines: st.SearchStrategy[Outline] = st.one_of(
    st.builds(Rectangle, sizes, sizes),
    st.builds(Disc, sizes),
    st.builds(RoundEnded, sizes, sizes),
    st.builds(Tapered, sizes, sizes, sizes),
    st.builds(
        lambda a, b, share, other: LShape(
            a, b, Length(a.exact * share / 10), Length(b.exact * other / 10)
        ),
        sizes, sizes, st.integers(1, 9), st.integers(1, 9),
    ),
    st.just(
        Polygon(
            tuple(
                (length(x), length(y))
                for x, y in ((0, 0), (900, 0), (900, 700), (500, 300), (400, 300), (0, 700))
            )
        )
    ),
)  # fmt: skip
obstacles = st.builds(
    Obstacle,
    st.just("pipe"),
    st.builds(Disc, st.integers(20, 300).map(length))
    | st.builds(Rectangle, st.integers(20, 500).map(length), st.integers(20, 200).map(length)),
    centre=st.builds(Spot, st.integers(0, 900).map(length), st.integers(0, 700).map(length)),
    clearance=st.integers(0, 150).map(length),
)
beds = st.builds(
    Bed,
    st.just("bed"),
    outlines,
    st.integers(0, 15).map(length),
    st.integers(0, 60).map(length),
    obstacles=st.lists(obstacles, max_size=2).map(tuple),
    rafts=st.builds(Split, st.integers(1, 3), st.integers(1, 2)),
    planting=st.builds(
        planting,
        st.integers(110, 320),
        st.integers(0, 90),
        joints=st.sampled_from(["separate", "bed-wide", "interchangeable"]),
        pattern=st.sampled_from(["best", "hexagonal", "square"]),
        spread=st.just(False),
    ),
)


@given(bed=beds)
@settings(max_examples=36, deadline=None)
def test_no_bed_holds_more_than_its_ceiling(bed: Bed) -> None:
    assert plants(bed) <= ceiling(bed)


@given(
    seed=st.integers(0, 10**6),
    corners=st.integers(3, 9),
    spacing=st.floats(0.05, 0.6),
    hole=st.floats(0.0, 0.35),
)
@settings(max_examples=80, deadline=None)
def test_no_lattice_puts_more_into_a_region_than_its_pieces_bound(
    seed: int, corners: int, spacing: float, hole: float
) -> None:
    """Star-shaped regions with a hole, and hexagonal lattices at random angles and shifts."""
    chance = np.random.default_rng(seed)
    angles = np.sort(chance.uniform(0, 2 * math.pi, corners))
    reach = chance.uniform(0.2, 1.0, corners)
    star = shapely.Polygon(np.column_stack([reach * np.cos(angles), reach * np.sin(angles)]))
    region = shapely.make_valid(star).difference(shapely.Point(0.1, 0.1).buffer(hole))
    bound = cover_bound(region, spacing)
    turn = chance.uniform(0, math.pi)
    i, j = np.meshgrid(np.arange(-60, 61), np.arange(-60, 61))
    x = (i + j / 2).ravel() * spacing + chance.uniform(0, spacing)
    y = j.ravel() * spacing * math.sqrt(0.75) + chance.uniform(0, spacing)
    points = shapely.points(
        x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)
    )

    assert np.count_nonzero(shapely.intersects(region, points)) <= bound


@pytest.mark.parametrize("count", [*range(2, 101)])
def test_no_record_in_a_square_beats_the_ceiling_of_a_bed(count: int) -> None:
    """E. Specht's records (data/points-in-square.csv); met where they are proved."""
    record = records("points-in-square.csv").get(count)
    if record is None:
        return
    side = 1000
    spacing = record[0] * side - Fraction(1, 10**4)
    bed = Bed(
        "square", Rectangle(length(side + 2), length(side + 2)), planting=planting(spacing, 1)
    )

    assert ceiling(bed) >= count
    if record[1] and count < 30:  # the next one is proved too
        # Some records hold a point more than they are listed for.
        closer = max(
            n for n, (m, _) in records("points-in-square.csv").items() if m * side > spacing
        )
        assert ceiling(bed) == closer


@pytest.mark.parametrize("count", [*range(2, 60)])
def test_no_record_in_a_disc_beats_the_ceiling_of_a_bed(count: int) -> None:
    """E. Specht's records (data/points-in-circle.csv); N = 7 is full by Oler's bound alone."""
    distance, is_proved = records("points-in-circle.csv")[count]
    spacing = distance * 500 - Fraction(1, 10**4)
    bed = Bed("disc", Disc(length(1002)), planting=planting(spacing, 1))

    assert ceiling(bed) >= count
    if is_proved and count < 13:
        assert ceiling(bed) <= count + 1
    if count == 7:
        assert ceiling(bed) == 7


def records(name: str) -> dict[int, tuple[Fraction, bool]]:
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return {
            int(row["n"]): (Fraction(row["m_n"]), row["status"].startswith("proved"))
            for row in csv.DictReader(file)
            if row["m_n"]
        }


@pytest.mark.parametrize("n", range(1, 8))
def test_a_strip_without_width_is_full(n: int) -> None:
    """Groemer's case of a segment: n spacings hold n + 1 points."""
    bed = Bed("strip", Rectangle(length(100 * n + 80), length(80)), planting=planting(100, 40))

    assert ceiling(bed) == plants(bed) == n + 1


def test_a_raft_whose_margin_leaves_one_place_holds_one() -> None:
    bed = Bed("disc", Disc(length(200)), planting=planting(150, 100))

    assert plants(bed) <= ceiling(bed) == 1
    assert ceiling(replace(bed, planting=planting(150, 101))) == 0


def test_an_l_is_cut_at_its_corner() -> None:
    """Two legs of one row each: 10 and 9 places, where the hull of the L promises many more."""
    bed = Bed(
        "L",
        LShape(length(1000), length(1000), length(900), length(900)),
        planting=planting(100, 50, spread=False),
    )
    room = wrapped(outline_loop(bed.outline))

    assert plants(bed) == 19
    assert plants(bed) <= ceiling(bed) <= 21
    assert oler(room.convex_hull.area, room.convex_hull.length, 100.0) > 70


def test_a_raft_whose_centres_have_no_width_can_be_laid_beside_an_obstacle() -> None:
    pipe = Obstacle(
        "pipe",
        Rectangle(length(20), length(92)),
        centre=Spot(length(440), length(70)),
        clearance=length(1),
    )
    bed = Bed(
        "bed",
        LShape(length(300), length(848), length(60), length(Fraction(1696, 5))),
        length(9),
        length(26),
        obstacles=(pipe,),
        rafts=Split(2, 1),
        planting=planting(278, 2, pattern="square", spread=False),
    )

    assert 0 < plants(bed) <= ceiling(bed)


def test_edges_that_nearly_meet_only_cost_a_cut() -> None:
    rules = planting(110, 58, joints="interchangeable", pattern="square", spread=False)
    bed = Bed(
        "bed", RoundEnded(length(413), length(413)), length(2), length(47),
        rafts=Split(2, 1), planting=rules,
    )  # fmt: skip

    assert plants(bed) <= ceiling(bed) < 20


def test_an_obstacle_across_a_raft_lowers_its_ceiling() -> None:
    """A brace right across leaves two rooms of 4 x 3 spacings, as if they were two beds."""
    bed = Bed("bed", Rectangle(length(1000), length(300)), planting=planting(100))
    brace = Obstacle(
        "brace",
        Rectangle(length(199), length(400)),
        centre=Spot(length(500), length(150)),
        clearance=length(0),
    )
    with_brace = replace(bed, obstacles=(brace,))

    assert plants(with_brace) <= ceiling(with_brace)
    assert ceiling(with_brace) < ceiling(bed)


def test_rafts_all_alike_are_bounded_as_an_endless_row() -> None:
    """Four rafts of 585 x 580 with 5 mm joints at 195: three by three is all that can be."""
    bed = Bed(
        "bench",
        Rectangle(length(4 * 585 + 15), length(580)),
        joint_gap=length(5),
        rafts=Split(4, 1),
        planting=planting(195, 85, joints="interchangeable"),
    )

    assert plants(bed) == ceiling(bed) == 36


def test_endless_rows_and_fields_bound_lower_than_the_bed_itself() -> None:
    """Each raft's share of an endless row or field, by hand, against Oler for the whole bed."""
    for split, size in ((Split(4, 1), (4815, 600)), (Split(2, 2), (2405, 1205))):
        bed = Bed("bed", Rectangle(*map(length, size)), joint_gap=length(5), rafts=split)
        alike, own = (
            replace(bed, planting=planting(150, 40, joints=joints))
            for joints in ("interchangeable", "bed-wide")
        )
        if split.across == 1:
            each = math.floor(2 * 1205 * 520 / (math.sqrt(3) * 150**2) + 1205 / 150)
        else:
            each = math.floor(2 * 1205 * 605 / (math.sqrt(3) * 150**2))
        assert ceiling(alike) == 4 * each < ceiling(own)
        assert plants(alike) <= ceiling(alike)


@given(outline=outlines)
@settings(max_examples=24, deadline=None)
def test_polygons_around_and_within_an_outline_hold_it_between_them(outline: Outline) -> None:
    loop = outline_loop(outline)
    inner, outer = within(loop), wrapped(loop)

    assert shapely.area(inner) <= area(loop) * (1 + 1e-9)
    assert area(loop) <= shapely.area(outer) * (1 + 1e-9)
    assert shapely.area(outer) - shapely.area(inner) < area(loop) * 0.01
