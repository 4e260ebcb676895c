"""All patterns on outlines that are no rectangles."""

from csv import DictReader
from fractions import Fraction
from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest

from geometry.beds.outline import outline_loop
from geometry.holes.any_outline import place_on_any_outline
from geometry.holes.region import KeepOut, Part, Region
from geometry.holes.sites import Placement
from geometry.holes.stack import RowStack
from geometry.holes.stretched import mixed_rows, sheared_stagger, stretched_stagger
from geometry.model.edges import Floats
from geometry.model.measure import shifted
from geometry.model.outlines import (
    Disc,
    LShape,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.planting import PATTERNS, Direction, Pattern
from geometry.rafts.layout import Side
from geometry.units import Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
RECORDS = Path(__file__).parents[2] / "outside" / "data" / "points-in-circle.csv"


def mm(value: float | Fraction) -> Length:
    return Length(Fraction(value))


def region(outline: Outline, margin: float, *keep_outs: KeepOut) -> Region:
    part = Part(outline_loop(outline), dict.fromkeys(SIDES, Fraction(margin)))
    return Region((part,), keep_outs)


def lay(
    area: Region,
    spacing: float,
    pattern: Pattern = "best",
    direction: Direction = "best",
    *,
    row_spacing: float | None = None,
    spread: bool = False,
) -> tuple[Placement, ...]:
    return place_on_any_outline(
        area,
        spacing=spacing,
        row_spacing=row_spacing,
        pattern=pattern,
        direction=direction,
        spread=spread,
    )


def least_distance(xy: Floats) -> float:
    apart = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(apart, np.inf)
    return float(apart.min())


PIPE = KeepOut(shifted(outline_loop(Disc(mm(60))), 300, 200), 50.0)
OUTLINES: dict[str, Outline] = {
    "L": LShape(mm(1200), mm(1200), mm(600), mm(600)),
    "disc": Disc(mm(1100)),
    "round-ended": RoundEnded(mm(1200), mm(500)),
    "tapered": Tapered(mm(1200), mm(700), mm(500)),
    "rounded": Rectangle(mm(1150), mm(950), mm(100)),
    "crooked": Polygon(
        tuple((mm(x), mm(y)) for x, y in [(0, 90), (500, 0), (1100, 200), (900, 700), (300, 640)])
    ),
}


@pytest.mark.parametrize("name", OUTLINES)
@pytest.mark.parametrize("spread", [False, True])
def test_every_placement_keeps_spacing_margin_and_keep_outs(name: str, spread: bool) -> None:
    area = region(OUTLINES[name], 40, PIPE)
    placements = lay(area, 140, spread=spread)
    assert {"square", "hexagonal", "rows", "rings"} <= {p.pattern for p in placements}
    for placement in placements:
        assert area.allows(placement.sites.xy).all()
        assert least_distance(placement.sites.xy) >= 140 - 2e-6
        assert (np.diff(placement.sites.rows) >= 0).all()
    counts = [len(placement) for placement in placements]
    assert counts == sorted(counts, reverse=True)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_each_pattern_gives_its_own(pattern: Pattern) -> None:
    names = {p.pattern for p in lay(region(OUTLINES["disc"], 40), 150, pattern, row_spacing=180)}
    families = {
        "staggered": {"square", "hexagonal", "staggered"},  # straight rows are a kind of stagger
        "mixed": {"square", "hexagonal", "staggered", "mixed"},
        "best": {"square", "hexagonal", "staggered", "mixed", "rows", "rings"},
    }
    assert names <= families.get(pattern, {pattern})
    assert names


@pytest.mark.parametrize("name", OUTLINES)
def test_spreading_keeps_the_count_and_never_narrows(name: str) -> None:
    area = region(OUTLINES[name], 40)
    for pattern in ("square", "hexagonal"):
        tight, wide = (lay(area, 140, pattern, spread=spread)[0] for spread in (False, True))
        assert len(wide) == len(tight)
        assert wide.pitch_mm >= 140
        assert least_distance(wide.sites.xy) == pytest.approx(wide.pitch_mm)


def test_a_spread_placement_stands_in_the_middle_of_its_room() -> None:
    (wide, *_) = lay(region(OUTLINES["disc"], 40), 600, "square", spread=True)
    assert wide.sites.xy.mean(axis=0) == pytest.approx((550, 550), abs=1e-3)


@pytest.mark.parametrize("name", OUTLINES)
def test_rows_filled_one_by_one_are_never_worse_than_the_square_grid(name: str) -> None:
    """Source: packing facts 7."""
    area = region(OUTLINES[name], 40, PIPE)
    for direction in ("along", "across"):
        (rows, *_) = lay(area, 130, "rows", direction)
        (square, *_) = lay(area, 130, "square", direction)
        assert len(rows) >= len(square)


def test_rings_on_a_disc_of_59_inches() -> None:
    """Source: job map 4: pitch 8 in, centres 4 in from the rim: 19 + 13 + 7 + 1 = 40."""
    inch = Fraction(254, 10)
    (rings,) = lay(region(Disc(mm(59 * inch)), float(4 * inch)), float(8 * inch), "rings")
    assert np.bincount(rings.sites.rows).tolist() == [19, 13, 7, 1]
    assert least_distance(rings.sites.xy) >= float(8 * inch) - 1e-6


def test_best_on_a_disc_never_beats_the_record() -> None:
    """Source: the record list of points in a disc, tests/outside/data."""
    with RECORDS.open(newline="") as file:
        records = {int(row["n"]): float(row["m_n"]) for row in DictReader(file)}
    for ratio in (1.9, 2.6, 3.3):
        most = max(n for n, least in records.items() if least * ratio >= 1 - 1e-9)
        assert len(lay(region(Disc(mm(2000)), 0), 1000 / ratio)[0]) <= most


def test_an_l_bed_gains_by_stretched_stagger_and_by_straight_rows() -> None:
    """Packing facts 7 names 52 hexagonal for an L bed; stretched stagger adds a few elsewhere."""
    area = region(OUTLINES["L"], 40)
    best, *others = lay(area, 150)
    assert max(len(p) for p in others if p.pattern == "hexagonal") == 52
    (stretched, *_) = lay(area, 150, "staggered")
    assert (stretched.pattern, len(stretched)) == ("staggered", 53)
    assert (best.pattern, len(best)) == ("mixed", 54)
    for placement in (stretched, best):
        assert least_distance(placement.sites.xy) >= 150 - 1e-6


def test_a_zigzag_of_single_sites_keeps_its_spacing_on_rounded_corners() -> None:
    area = region(Rectangle(mm(513), mm(276), mm(22)), 60)
    for placement in lay(area, 134, "staggered"):
        assert least_distance(placement.sites.xy) >= 134 - 1e-6


@pytest.mark.parametrize(
    ("outline", "spacing", "margin"),
    [
        (RoundEnded(mm(296), mm(296)), 300.0, 0.0),
        (LShape(mm(150), mm(150), mm(30), mm(30)), 139.0, 9.0),
        (LShape(mm(300), mm(120), mm(30), mm(30)), 250.0, 0.0),
    ],
)
@pytest.mark.parametrize("pattern", ["staggered", "mixed", "best"])
def test_two_near_rows_get_no_third_one_behind_them(
    outline: Outline, spacing: float, margin: float, pattern: Pattern
) -> None:
    """Two rows alone may stand nearer than half a spacing; endless ones may not."""
    for placement in lay(region(outline, margin), spacing, pattern):
        assert least_distance(placement.sites.xy) >= spacing - 1e-6


def own_sites(stack: RowStack) -> Floats:
    """Some sites of an endless stack, a few rows up and down."""
    levels, shifts, _ = stack.rows(-4 * stack.gap, 4 * stack.gap)
    along = shifts[:, None] + stack.pitch * np.arange(-6, 7)
    return np.column_stack([along.ravel(), np.repeat(levels, 13)])


@pytest.mark.parametrize("angle", [0.0, 0.3, pi / 2])
def test_all_stagger_that_is_tried_keeps_neighbours_apart(angle: float) -> None:
    area = region(OUTLINES["round-ended"], 40)
    stretched = stretched_stagger(area, 130, angle)
    others = [*sheared_stagger(area, 130, angle, [0.0, 1.4]), *mixed_rows(130, angle)]
    assert len(stretched) > 30
    assert len(others) > 3
    for stack in (*stretched, *others):
        assert least_distance(own_sites(stack)) == pytest.approx(130)
        assert 130 <= stack.pitch <= 130 * sqrt(3) + 1e-6


def test_stretched_stagger_tries_pitches_that_fit_evenly() -> None:
    lattices = list(stretched_stagger(region(Rectangle(mm(1080), mm(580)), 40), 130, 0.0))
    assert any(lattice.pitch == pytest.approx(1000 / 7) for lattice in lattices)
    assert any(lattice.pitch == pytest.approx(1000 / 6.5) for lattice in lattices)
    assert any(lattice.gap == pytest.approx(500 / 6) for lattice in lattices)


def test_rows_follow_a_slanting_edge() -> None:
    placements = lay(region(OUTLINES["tapered"], 40), 140, "square")
    slant = np.degrees(np.arctan2(100, 1200))
    assert {p.direction for p in placements} >= {"along", f"at {slant:.0f}°"}


def test_no_room_gives_no_placement() -> None:
    assert lay(region(Disc(mm(80)), 41), 100) == ()
    (single, *_) = lay(region(Disc(mm(80)), 40), 100)
    assert single.sites.xy == pytest.approx(np.array([(40, 40)]))


def test_turning_the_raft_half_round_keeps_the_count() -> None:
    points = [(0, 90), (500, 0), (1100, 200), (900, 700), (300, 640)]
    turned = [(1100 - x, 700 - y) for x, y in points]
    counts = [
        len(lay(region(Polygon(tuple((mm(x), mm(y)) for x, y in corners)), 40), 150)[0])
        for corners in (points, turned)
    ]
    assert counts[0] == counts[1]
    assert counts[0] <= pi * 600**2 / (150**2 * sqrt(0.75)) + 20
