"""Rows at their best place on random outlines: legal, never fewer than a dense search finds."""

from csv import DictReader
from fractions import Fraction
from itertools import pairwise
from math import cos, pi, sin, sqrt
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.errors import GeometryError
from geometry.holes.any_outline import place_on_any_outline
from geometry.holes.best_shift import MostOfEach, Search
from geometry.holes.chords import Chords, turned
from geometry.holes.region import KeepOut, Part, Region
from geometry.holes.sites import Placement
from geometry.holes.stack import RowStack
from geometry.model.edges import Floats
from geometry.model.measure import shifted
from geometry.model.outlines import Disc, LShape, Outline, Polygon, Rectangle, RoundEnded, Tapered
from geometry.model.planting import Pattern
from geometry.rafts.layout import Side
from geometry.units import TOLERANCE_MM, Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")
RECORDS = Path(__file__).parents[2] / "outside" / "data" / "points-in-circle.csv"
EXACT: tuple[Pattern, ...] = ("square", "hexagonal", "rows")


def mm(value: float) -> Length:
    return Length(Fraction(value))


def _polygon(corners: list[tuple[int, int]]) -> Polygon:
    """A polygon around the middle of its corners, which so never crosses itself."""
    x, y = np.mean(corners, axis=0).tolist()
    around = sorted(corners, key=lambda corner: np.arctan2(corner[1] - y, corner[0] - x))
    return Polygon(tuple((mm(a), mm(b)) for a, b in around))


longer, shorter = st.integers(600, 1000), st.integers(300, 600)
convex = st.one_of(
    st.builds(lambda size: Disc(mm(size)), longer),
    st.builds(lambda a, b: RoundEnded(mm(a), mm(b)), longer, shorter),
    st.builds(lambda a, b, c: Tapered(mm(a), mm(b), mm(c)), longer, shorter, shorter),
    st.builds(lambda a, b, c: Rectangle(mm(a), mm(b), mm(c)), longer, shorter, st.integers(1, 150)),
)
others = st.one_of(
    st.builds(
        lambda a, b, c, d: LShape(mm(a), mm(b), mm(c), mm(d)),
        longer,
        longer,
        st.integers(100, 500),
        st.integers(100, 500),
    ),
    st.builds(
        _polygon,
        st.lists(
            st.tuples(st.integers(0, 1000), st.integers(0, 800)),
            min_size=3,
            max_size=7,
            unique=True,
        ),
    ),
)
things = st.builds(
    lambda shape, x, y, away: KeepOut(shifted(outline_loop(shape), x, y), float(away)),
    st.sampled_from([Disc(mm(60)), Disc(mm(140)), Rectangle(mm(50), mm(200))]),
    st.integers(0, 800),
    st.integers(0, 600),
    st.integers(0, 60),
)


def region_of(outline: Outline, margin: int, keep_outs: list[KeepOut]) -> Region:
    try:
        loop = outline_loop(outline)
    except GeometryError:
        assume(False)
    return Region((Part(loop, dict.fromkeys(SIDES, Fraction(margin))),), tuple(keep_outs))


regions = st.builds(region_of, convex | others, st.integers(0, 70), st.lists(things, max_size=3))


def lay(
    area: Region, spacing: float, pattern: Pattern = "best", *, spread: bool = False
) -> tuple[Placement, ...]:
    return place_on_any_outline(
        area,
        spacing=spacing,
        row_spacing=None,
        pattern=pattern,
        direction="best",
        spread=spread,
    )


def least_distance(xy: Floats) -> float:
    apart = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(apart, np.inf)
    return float(apart.min(initial=np.inf))


@settings(deadline=None, max_examples=24)
@given(regions, st.integers(90, 240), st.booleans())
def test_every_site_is_allowed_and_spaced(area: Region, spacing: int, spread: bool) -> None:
    placements = lay(area, spacing, spread=spread)
    for placement in placements:
        assert area.allows(placement.sites.xy).all()
        assert least_distance(placement.sites.xy) >= spacing - 2 * TOLERANCE_MM
    assert len({(p.pattern, p.direction) for p in placements}) <= len(placements)


@settings(deadline=None, max_examples=9)
@given(regions, st.integers(100, 240))
def test_best_holds_as_many_as_any_family_alone_and_spreading_keeps_it(
    area: Region, spacing: int
) -> None:
    best = [*lay(area, spacing), None][0]
    most = len(best) if best else 0
    for pattern in ("square", "hexagonal", "staggered", "mixed", "rows", "rings"):
        alone = [*lay(area, spacing, pattern), None][0]
        assert most >= (len(alone) if alone else 0)
    wide = [*lay(area, spacing, spread=True), None][0]
    assert most == (len(wide) if wide else 0)


@settings(deadline=None, max_examples=9)
@given(convex, st.integers(0, 50), st.integers(110, 160))
def test_counts_never_fall_when_the_spacing_shrinks(
    outline: Outline, margin: int, spacing: int
) -> None:
    """On a convex outline: a lattice drawn together about one of its sites stays inside."""
    area = region_of(outline, margin, [])
    for pattern in EXACT:
        counts = [
            max((len(p) for p in lay(area, spacing - k, pattern)), default=0) for k in range(4)
        ]
        assert all(less <= more for less, more in pairwise(counts))


stacks = st.builds(
    lambda angle, pitch, kind: {
        "square": RowStack(angle, pitch, pitch),
        "hexagonal": RowStack(angle, pitch, pitch * sqrt(0.75), pitch / 2),
        "zigzag": RowStack(angle, pitch, pitch * 0.95, pitch * 0.32, zigzag=True),
        "straight": RowStack(
            angle, pitch, pitch * sqrt(0.75), pitch / 2, zigzag=True, straight=2, straight_gap=pitch
        ),
        "alone": RowStack(angle, pitch, pitch, alone=True),
    }[kind],
    st.sampled_from([0.0, pi / 2, 0.4, 2.0]),
    st.integers(100, 220).map(float),
    st.sampled_from(["square", "hexagonal", "zigzag", "straight", "alone"]),
)


def searched(area: Region, stack: RowStack) -> tuple[int, Floats]:
    """The count that the search claims, and the sites it gives."""
    search = Search(Chords.of(area, [stack.angle]), [stack])
    judge = MostOfEach([0], [0])
    search.run(judge)
    if not judge.best:
        return 0, np.empty((0, 2))
    return judge.best[0].count, search.sites(judge.best[0])


def dense(area: Region, stack: RowStack, ups: int, alongs: int) -> int:
    """The most sites at many heights and shifts of a stack, each site tested by itself."""
    reach = Chords.of(area, [stack.angle]).reaches[0]
    box = area.bounds()
    if box is None or reach[1] < reach[0]:
        return 0
    far = float(np.hypot(*np.abs(box).reshape(2, 2).max(axis=0))) + stack.pitch
    steps = stack.pitch * np.arange(-int(far / stack.pitch) - 1, int(far / stack.pitch) + 2)
    levels, asides, span = stack.rows(*reach.tolist())
    most = 0
    for up in span * (np.arange(ups) + 0.5) / ups:
        for along in stack.pitch * (np.arange(alongs) + 0.5) / alongs:
            x = (asides[:, None] + along + steps).ravel()
            y = np.repeat(levels + up, len(steps))
            most = max(most, int(area.allows(np.column_stack([x, y]) @ turned(stack.angle)).sum()))
    return most


@settings(deadline=None, max_examples=14)
@given(regions, stacks)
def test_no_shift_of_a_dense_search_holds_more(area: Region, stack: RowStack) -> None:
    count, xy = searched(area, stack)
    assert len(xy) == count
    assert area.allows(xy).all()
    if len(xy) > 1:
        assert least_distance(xy) >= 0.99 * stack.pitch - 1e-6
    assert count >= dense(area, stack, 24, 1 if stack.alone else 24)


@pytest.mark.parametrize("angle", [0.0, 0.7])
def test_an_exact_fit_in_both_ways_is_found(angle: float) -> None:
    """Four by three sites on a rectangle turned by any angle that they just fill."""
    along, up = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    corners = [(0, 0), (300, 0), (300, 200), (0, 200)]
    places = [(a * along[0] + b * up[0], a * along[1] + b * up[1]) for a, b in corners]
    points = tuple((Length.of(x), Length.of(y)) for x, y in places)
    area = region_of(Polygon(points), 0, [])
    assert searched(area, RowStack(angle, 99.9999999, 99.9999999))[0] == 12
    assert searched(area, RowStack(angle, 100.00001, 100.0))[0] == 9


@pytest.mark.parametrize(("spacing", "count"), [(120, 121), (120.0001, 110), (150, 81)])
def test_rows_between_leaning_walls_that_they_just_fit(spacing: float, count: int) -> None:
    """Source: packing facts 1: rhombic blocks of (n + 1)(k + 1) sites.

    Rows fit at all heights at once, so that ranges of heights alone would leave hope everywhere.
    """
    height = 1200 * sqrt(0.75)
    corners = [(0.0, 0.0), (1200.0, 0.0), (1800.0, height), (600.0, height)]
    points = tuple((Length.of(x), Length.of(round(y, 6))) for x, y in corners)
    area = region_of(Polygon(points), 0, [])
    assert len(lay(area, spacing)[0]) == count


def test_discs_come_close_to_the_record_and_never_beat_it() -> None:
    """Source: the record list of points in a disc, tests/outside/data."""
    with RECORDS.open(newline="") as file:
        rows = [row for row in DictReader(file) if row["m_n"] != "none"]
    records = {int(row["n"]): float(row["m_n"]) for row in rows}
    area, shares = region_of(Disc(mm(2000)), 0, []), []
    for n in (7, 12, 19, 27, 37, 50, 61, 80, 100, 130, 160, 199):
        spacing = 1000 * records[n] * (1 - 1e-9)
        found = len(lay(area, spacing)[0])
        most = max(k for k, least in records.items() if least * 1000 >= spacing - 1e-6)
        assert found <= most
        shares.append(found / n)
    assert shares[0] == 1
    assert min(shares) > 0.85
    assert np.mean(shares) > 0.92
