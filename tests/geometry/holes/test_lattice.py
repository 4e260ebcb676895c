"""The best translation of a lattice, against dense searches, formulas and published records.

A dense search can only find fewer places than there are; the exact one must never find fewer than
it. Records and formulas come from outside: see each test.
"""

from collections.abc import Iterable
from csv import DictReader
from fractions import Fraction
from itertools import product
from math import cos, floor, pi, sin, sqrt
from pathlib import Path
from time import process_time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.holes.lattice import best_translation
from geometry.holes.region import KeepOut, Part, Region
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
from geometry.rafts.layout import Side
from geometry.units import Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
RECORDS = Path(__file__).parents[2] / "outside" / "data" / "points-in-circle.csv"

Cell = tuple[tuple[float, float], tuple[float, float]]


def mm(value: float | Fraction) -> Length:
    return Length(Fraction(value))


def part(outline: Outline, margin: float, at: tuple[float, float] = (0, 0)) -> Part:
    loop = shifted(outline_loop(outline), *at)
    return Part(loop, dict.fromkeys(SIDES, Fraction(margin)))


def square(spacing: float, angle: float = 0.0) -> Cell:
    x, y = spacing * cos(angle), spacing * sin(angle)
    return (x, y), (-y, x)


def hexagonal(spacing: float, angle: float = 0.0) -> Cell:
    x, y = spacing * cos(angle), spacing * sin(angle)
    return (x, y), (x / 2 - y * sqrt(0.75), y / 2 + x * sqrt(0.75))


def dense(region: Region, cell: Cell, steps: int) -> int:
    """The most points found on a fine grid of translations, refined around the better ones."""
    box = region.bounds()
    if box is None:
        return 0
    base = np.array(cell)
    corners = np.array(list(product(box[::2], box[1::2])))
    low = np.floor((corners @ np.linalg.inv(base)).min(axis=0)) - 1
    high = np.ceil((corners @ np.linalg.inv(base)).max(axis=0)) + 1
    lattice = np.array(list(product(*(np.arange(a, b) for a, b in zip(low, high, strict=True)))))
    share = (np.arange(steps) + 0.5) / steps
    shifts = np.array(list(product(share, share)))
    counts = _counts(region, lattice @ base, shifts @ base)
    finer = shifts[np.argsort(-counts)[:6]]
    rng = np.random.default_rng(2)
    close = (finer[:, None] + rng.uniform(-1, 1, (len(finer), 60, 2)) / steps).reshape(-1, 2)
    return int(max(counts.max(), _counts(region, lattice @ base, close @ base).max()))


def _counts(region: Region, lattice: Floats, shifts: Floats) -> Floats:
    counts = [
        region.allows((some[:, None] + lattice[None]).reshape(-1, 2))
        .reshape(len(some), -1)
        .sum(axis=1)
        for some in np.array_split(shifts, max(1, len(shifts) * len(lattice) // 300_000))
    ]
    return np.concatenate(counts)


def checked(region: Region, cell: Cell) -> int:
    """The count, after a look at whether the points are allowed and a lattice of their own."""
    xy = best_translation(region, *cell)
    assert region.allows(xy).all()
    if len(xy) > 1:
        steps = (xy - xy[0]) @ np.linalg.inv(np.array(cell))
        assert np.abs(steps - np.round(steps)).max() < 1e-9
        assert len(np.unique(np.round(steps), axis=0)) == len(xy)
    return len(xy)


PIPE = KeepOut(shifted(outline_loop(Disc(mm(60))), 300, 200), 50.0)
BRACE = KeepOut(shifted(outline_loop(Rectangle(mm(40), mm(250))), 700, -5), 35.0)
OUTLINES: dict[str, Outline] = {
    "rectangle": Rectangle(mm(1200), mm(600)),
    "L": LShape(mm(1200), mm(1000), mm(500), mm(400)),
    "disc": Disc(mm(1100)),
    "round-ended": RoundEnded(mm(1200), mm(500)),
    "tapered": Tapered(mm(1200), mm(700), mm(500)),
    "rounded": Rectangle(mm(1150), mm(950), mm(100)),
    "crooked": Polygon(
        tuple((mm(x), mm(y)) for x, y in [(0, 90), (500, 0), (1100, 200), (900, 700), (300, 640)])
    ),
}


@pytest.mark.parametrize("name", OUTLINES)
@pytest.mark.parametrize("keep_outs", [(), (PIPE, BRACE)], ids=["free", "obstacles"])
@pytest.mark.parametrize(
    "cell",
    [square(130), hexagonal(130), hexagonal(117, pi / 2), square(120, 0.3), hexagonal(125, 1.0)],
)
def test_never_fewer_than_a_dense_search(
    name: str, keep_outs: tuple[KeepOut, ...], cell: Cell
) -> None:
    region = Region((part(OUTLINES[name], 40),), keep_outs)
    assert checked(region, cell) >= dense(region, cell, 16)


@pytest.mark.parametrize("gap", [3.0, 40.0])
@pytest.mark.parametrize("cell", [square(140), hexagonal(140), hexagonal(133, pi / 2)])
def test_never_fewer_than_a_dense_search_on_several_rafts(gap: float, cell: Cell) -> None:
    rafts = [
        part(Rectangle(mm(500), mm(420)), 40, (column * (500 + gap), row * (420 + gap)))
        for column, row in product(range(3), range(2))
    ]
    region = Region(tuple(rafts), (PIPE,))
    assert checked(region, cell) >= dense(region, cell, 14)


def test_the_l_bed_that_coarse_grids_get_wrong() -> None:
    """Source: packing facts 7: a 40 x 40 grid of offsets found 49, the critical offsets 52."""
    region = Region((part(LShape(mm(1200), mm(1200), mm(600), mm(600)), 40),))
    assert checked(region, hexagonal(150)) == 52


def test_a_disc_of_59_inches() -> None:
    """Source: job map 4: pitch 8 in, centres 4 in from the rim: square 37, staggered 40."""
    inch = Fraction(254, 10)
    region = Region((part(Disc(mm(59 * inch)), float(4 * inch)),))
    assert checked(region, square(float(8 * inch))) == 37
    assert checked(region, hexagonal(float(8 * inch))) >= 40


def records() -> Iterable[tuple[int, float]]:
    with RECORDS.open(newline="") as file:
        for row in DictReader(file):
            if row["m_n"] != "none":
                yield int(row["n"]), float(row["m_n"])


@pytest.mark.parametrize("ratio", [1.2, 1.73, 2.05, 2.9, 3.61, 4.1, 5.03])
def test_never_more_than_the_record_in_a_disc(ratio: float) -> None:
    """Source: the record list of points in a disc, tests/outside/data."""
    most = max((n for n, least in records() if least * ratio >= 1 - 1e-9), default=1)
    region = Region((part(Disc(mm(2000)), 0),))
    for cell in (square(1000 / ratio), hexagonal(1000 / ratio)):
        assert checked(region, cell) <= most


@pytest.mark.parametrize(("rings", "points"), [(1, 7), (2, 19)])
def test_hexagons_of_points_fit_a_disc_exactly(rings: int, points: int) -> None:
    """Source: 3 n (n + 1) + 1 points lie within n spacings of a lattice point, for n up to 2."""
    region = Region((part(Disc(mm(600)), 0),))
    assert checked(region, hexagonal(300 / rings)) == points


sides = st.integers(1, 40).map(lambda n: Fraction(n, 4))


@settings(deadline=None, max_examples=60)
@given(sides, sides)
def test_square_rows_on_a_rectangle_by_formula(length: Fraction, width: Fraction) -> None:
    """Source: packing facts 3.1. Exact fits, where a row stands on both borders, are frequent."""
    region = Region((part(Rectangle(mm(100 * length), mm(100 * width)), 0),))
    assert checked(region, square(100)) == (floor(length) + 1) * (floor(width) + 1)


@settings(deadline=None, max_examples=60)
@given(sides, sides)
def test_hexagonal_rows_on_a_rectangle_by_formula(length: Fraction, width: Fraction) -> None:
    """Source: packing facts 3.2, decided there without roots."""
    rows = max(r for r in range(1, 15) if 3 * (r - 1) ** 2 <= 4 * width**2)
    long = floor(length) + 1
    short = floor(length - Fraction(1, 2)) + 1 if length >= Fraction(1, 2) else 0
    by_formula = (rows + 1) // 2 * long + rows // 2 * short
    region = Region((part(Rectangle(mm(100 * length), mm(100 * width)), 0),))
    assert checked(region, hexagonal(100)) == by_formula


@settings(deadline=None, max_examples=25)
@given(
    st.sampled_from(list(OUTLINES)),
    st.floats(-500, 500),
    st.floats(-500, 500),
    st.floats(110, 220),
    st.floats(0, pi),
)
def test_where_the_raft_lies_makes_no_difference(
    name: str, x: float, y: float, spacing: float, angle: float
) -> None:
    cell = hexagonal(spacing, angle)
    here = Region((part(OUTLINES[name], 40),))
    there = Region((part(OUTLINES[name], 40, (x, y)),))
    assert checked(here, cell) == checked(there, cell)


def test_points_keep_their_spacing() -> None:
    region = Region((part(OUTLINES["crooked"], 40),), (PIPE,))
    xy = best_translation(region, *hexagonal(90, 0.7))
    apart = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    assert apart[apart > 0].min() >= 90 - 1e-6


def test_regions_without_room() -> None:
    assert checked(Region((part(Disc(mm(80)), 41),)), square(100)) == 0
    assert checked(Region((part(Disc(mm(80)), 40),)), square(100)) == 1
    assert checked(Region((part(Rectangle(mm(380), mm(80)), 40),)), square(100)) == 4
    covered = KeepOut(outline_loop(Rectangle(mm(400), mm(400))), 10)
    assert checked(Region((part(Disc(mm(400)), 10),), (covered,)), square(100)) == 0


def test_a_bed_of_many_rafts_at_an_angle_in_a_second() -> None:
    rafts = [
        part(Rectangle(mm(1200), mm(600)), 40, (column * 1205, row * 605))
        for column, row in product(range(4), range(2))
    ]
    region, cell = Region(tuple(rafts), (PIPE,)), hexagonal(150, 0.3)
    started = process_time()
    found = checked(region, cell)
    assert process_time() - started < 1.5
    assert found >= dense(region, cell, 10)


def test_a_tank_of_forty_metres_in_some_seconds() -> None:
    """Compared with the disc's area."""
    region = Region((part(Disc(mm(40_000)), 40),))
    started = process_time()
    found = checked(region, hexagonal(150))
    assert process_time() - started < 6
    assert found == pytest.approx(pi * 19_960**2 / (150**2 * sqrt(0.75)), rel=2e-3)


@pytest.mark.parametrize("name", OUTLINES)
def test_a_wanted_number_is_found_or_refused(name: str) -> None:
    region = Region((part(OUTLINES[name], 40),), (PIPE,))
    for cell in (hexagonal(130), square(120, 0.3)):
        most = checked(region, cell)
        assert len(best_translation(region, *cell, more_than=most - 1)) == most
        assert len(best_translation(region, *cell, more_than=most)) == 0
