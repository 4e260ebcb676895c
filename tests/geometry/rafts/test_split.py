"""Splitting beds into rafts."""

from fractions import Fraction
from math import pi
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.model.edges import start_of
from geometry.model.measure import area, bounds, inside
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
from geometry.rafts.layout import RaftLayout
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def mm(value: float | str | Fraction) -> Length:
    return Length(Fraction(value))


def bed(outline: Outline, rule: RaftRule, clearance: float = 0, gap: float = 0) -> Bed:
    return Bed("bed", outline, clearance=mm(clearance), joint_gap=mm(gap), rafts=rule)


def test_the_raceway_bed_of_capability_r1() -> None:
    """Source: job map, R1: 2360 long, clearance 10, joint gap 5, four rafts: 581 each."""
    layout = lay_rafts(bed(Rectangle(mm(2360), mm(580)), Split(4), clearance=10, gap=5))
    lengths = [raft.shape.length for raft in layout.rafts]
    assert [int(length) for length in lengths] == [581] * 4
    assert sum(lengths) + 3 * 5 + 2 * 10 == 2360
    assert [raft.name for raft in layout.rafts] == ["R1", "R2", "R3", "R4"]
    assert [raft.joints for raft in layout.rafts] == [
        {"right"},
        {"left", "right"},
        {"left", "right"},
        {"left"},
    ]
    assert bounds(layout.region[0]) == (10, 10, 2350, 570)


def test_rafts_run_along_first_and_share_one_shape() -> None:
    layout = lay_rafts(bed(Rectangle(mm(100), mm(70)), Split(3, 2), gap=1))
    assert [(raft.name, raft.column, raft.row) for raft in layout.rafts] == [
        ("R1", 0, 0),
        ("R2", 1, 0),
        ("R3", 2, 0),
        ("R4", 0, 1),
        ("R5", 1, 1),
        ("R6", 2, 1),
    ]
    assert len({id(raft.shape) for raft in layout.rafts}) == 1
    assert layout.rafts[0].joints == {"right", "top"}
    assert layout.rafts[4].joints == {"left", "right", "bottom"}
    assert layout.rafts[5].x == Fraction(98, 3) * 2 + 2


def test_a_measured_bed_is_split_as_its_safe_rectangle() -> None:
    outline = Measured((mm(582), mm(580), mm(577)), (mm(2360),))
    (raft,) = lay_rafts(bed(outline, One(), clearance=10)).rafts
    assert (raft.shape.length, raft.shape.width) == (2340, 557)
    assert raft.shape.is_rectangle
    assert raft.joints == frozenset()


lengths = st.integers(1, 4000).map(lambda n: Fraction(n, 4))


@given(lengths, lengths, lengths, st.integers(0, 80).map(lambda n: Fraction(n, 4)))
def test_fit_uses_the_fewest_rafts_that_are_not_too_large(
    length: Fraction, width: Fraction, largest: Fraction, gap: Fraction
) -> None:
    outline = Rectangle(Length(length), Length(width))
    count = 1  # by trying, one after the other
    while (length - (count - 1) * gap) / count > largest:
        count += 1
    rule = Fit(Length(largest), Length(width))
    layout = lay_rafts(Bed("bed", outline, joint_gap=Length(gap), rafts=rule))
    if length > (count - 1) * gap:
        assert len(layout.rafts) == count
        assert layout.rafts[-1].x + layout.rafts[-1].shape.length == length


def test_fit_at_exactly_the_limit() -> None:
    layout = lay_rafts(bed(Rectangle(mm("0.3"), mm(1)), Fit(mm("0.1"), mm(1))))
    assert len(layout.rafts) == 3


@pytest.mark.parametrize(("clearance", "gap"), [(35, 0), (40, 0), (0, 60)])
def test_clearance_and_gaps_that_eat_the_bed_leave_no_rafts(clearance: int, gap: int) -> None:
    layout = lay_rafts(bed(Rectangle(mm(100), mm(70)), Split(3), clearance=clearance, gap=gap))
    assert layout.rafts == ()
    assert bool(layout.region) == (clearance == 0)


def test_too_many_rafts_are_refused_at_once() -> None:
    started = perf_counter()
    with pytest.raises(TooManyError, match="100\u202f000"):
        lay_rafts(bed(Rectangle(mm(1e6), mm(1e6)), Split(1000, 101)))
    assert perf_counter() - started < 0.05
    assert len(lay_rafts(bed(Rectangle(mm(1000), mm(1000)), Split(100_000, 1))).rafts) == 100_000


def areas(layout: RaftLayout) -> list[float]:
    return [area(raft.shape.loop) for raft in layout.rafts]


def test_an_l_bed_in_four_cells_gives_three_rafts() -> None:
    outline = LShape(mm(1200), mm(1200), mm(595), mm(595))
    layout = lay_rafts(bed(outline, Split(2, 2), gap=10))
    assert [(raft.name, raft.column, raft.row) for raft in layout.rafts] == [
        ("R1", 0, 0),
        ("R2", 1, 0),
        ("R3", 0, 1),
    ]
    assert [raft.joints for raft in layout.rafts] == [{"right", "top"}, {"left"}, {"bottom"}]
    assert len({id(raft.shape) for raft in layout.rafts}) == 1
    assert all(raft.shape.is_rectangle for raft in layout.rafts)
    assert layout.rafts[0].shape.length == 595


def test_rectangles_cut_by_a_notch_are_exact() -> None:
    outline = LShape(mm(1200), mm(1200), mm(600), mm(600))
    layout = lay_rafts(bed(outline, Split(2, 2), clearance=10, gap=5))
    cut, foot, arm = (raft.shape for raft in layout.rafts)
    assert not cut.is_rectangle
    assert (foot.length, foot.width) == (Fraction("587.5"), 580)
    assert (arm.length, arm.width) == (580, Fraction("587.5"))


def test_a_disc_in_three_by_three() -> None:
    layout = lay_rafts(bed(Disc(mm(1500)), Split(3, 3)))
    assert len(layout.rafts) == 9
    assert sum(areas(layout)) == pytest.approx(pi * 750**2)
    middle = layout.rafts[4]
    assert middle.shape.is_rectangle
    assert middle.joints == {"left", "right", "bottom", "top"}
    assert (layout.rafts[1].x, layout.rafts[1].y) == (500, 0)


def test_one_raft_fills_an_odd_outline() -> None:
    (raft,) = lay_rafts(bed(RoundEnded(mm(1800), mm(600)), One(), clearance=10)).rafts
    assert (raft.x, raft.y, raft.shape.length, raft.shape.width) == (10, 10, 1780, 580)
    assert area(raft.shape.loop) == pytest.approx(1200 * 580 + pi * 290**2)


def test_the_straight_middle_of_a_round_ended_bed_shares_one_shape() -> None:
    layout = lay_rafts(bed(RoundEnded(mm(20_000), mm(1200)), Split(10), clearance=10, gap=5))
    shapes = [id(raft.shape) for raft in layout.rafts]
    assert len(set(shapes[1:-1])) == 1
    assert len(set(shapes)) == 2  # the far end is the near one turned half round
    assert [raft.turned for raft in layout.rafts] == [*[False] * 9, True]


outlines = st.sampled_from(
    [
        Disc(mm(1500)),
        RoundEnded(mm(1800), mm(600)),
        LShape(mm(1200), mm(1000), mm(500), mm(400)),
        Tapered(mm(1500), mm(700), mm(560)),
        Rectangle(mm(1150), mm(950), mm(100)),
    ]
)


def test_the_halves_of_a_disc_are_one_shape_used_turned() -> None:
    layout = lay_rafts(bed(Disc(mm(1220)), Split(2), clearance=10, gap=6))
    left, right = layout.rafts
    assert left.shape is right.shape
    assert (left.turned, right.turned) == (False, True)
    assert left.own_joints == right.own_joints == {"right"}
    middle = np.array([610.0, 610.0])
    ends = np.array([start_of(curve) for curve in left.loop_in_bed.curves])
    far = np.array([start_of(curve) for curve in right.loop_in_bed.curves])
    turned = 2 * middle - ends
    gaps = np.hypot(*(turned[:, None] - far[None]).transpose(2, 0, 1))
    assert gaps.min(axis=1).max() < 1e-6


def test_quarters_of_a_disc_are_two_shapes_each_used_turned() -> None:
    """Left and right halves mirror each other: only across the middle is one the other turned."""
    layout = lay_rafts(bed(Disc(mm(1500)), Split(2, 2), gap=5))
    first, second, third, fourth = layout.rafts
    assert first.shape is fourth.shape
    assert second.shape is third.shape
    assert first.shape is not second.shape
    assert [raft.turned for raft in layout.rafts] == [False, False, True, True]


@settings(deadline=None, max_examples=30)
@given(outlines, st.integers(1, 4), st.integers(1, 4))
def test_what_lies_in_the_bed_and_what_lies_on_the_raft_are_one(
    outline: Outline, along: int, across: int
) -> None:
    for raft in lay_rafts(bed(outline, Split(along, across), clearance=10, gap=5)).rafts:
        back = raft.on_raft(raft.loop_in_bed)
        ends = np.array([start_of(curve) for curve in back.curves])
        own = np.array([start_of(curve) for curve in raft.shape.loop.curves])
        assert np.allclose(ends, own, atol=1e-6)
        assert bounds(raft.loop_in_bed)[:2] == pytest.approx((float(raft.x), float(raft.y)))


def test_like_bays_share_one_shape_wherever_they_lie() -> None:
    """A bed with three like round bays along its upper wall, one over each raft."""
    corners = [(0, 0), (900, 0), (900, 100)]
    for x in (900, 600, 300):
        corners += [(x - 100, 100), (x - 100, 137), (x - 200, 137), (x - 200, 100)]
    comb = Polygon(tuple((mm(x), mm(y)) for x, y in [*corners, (0, 100)]))
    layout = lay_rafts(bed(comb, Split(3)))
    assert len(layout.rafts) == 3
    assert len({id(raft.shape) for raft in layout.rafts}) == 1


def test_cells_that_fall_apart_give_a_raft_for_each_part() -> None:
    teeth = [(0, 0), (90, 0), (90, 100), (60, 100), (60, 20), (30, 20), (30, 100), (0, 100)]
    fork = Polygon(tuple((mm(x), mm(y)) for x, y in teeth))
    layout = lay_rafts(bed(fork, Split(1, 5)))
    assert [(raft.name, raft.row) for raft in layout.rafts] == [
        ("R1", 0),
        *((f"R{2 * row + side}", row) for row in range(1, 5) for side in (0, 1)),
    ]
    assert len({id(raft.shape) for raft in layout.rafts}) == 2
    assert layout.rafts[1].joints == {"bottom", "top"}


@settings(deadline=None, max_examples=40)
@given(outlines, st.integers(1, 5), st.integers(1, 5), st.integers(0, 40), st.integers(0, 20))
def test_rafts_keep_to_the_region_and_lose_only_the_gaps(
    outline: Outline, along: int, across: int, clearance: int, gap: int
) -> None:
    layout = lay_rafts(bed(outline, Split(along, across), clearance=clearance, gap=gap))
    region = sum(map(area, layout.region))
    box = bounds(layout.region[0])
    gaps = gap * ((along - 1) * (box[3] - box[1]) + (across - 1) * (box[2] - box[0]))
    assert sum(areas(layout)) <= region + 1e-6 * region
    assert sum(areas(layout)) >= region - gaps - 1e-6 * region
    for raft in layout.rafts:
        assert bounds(raft.shape.loop) == pytest.approx(
            (0, 0, float(raft.shape.length), float(raft.shape.width)), abs=1e-6
        )
        ends = [start_of(curve) for curve in raft.shape.loop.curves]
        xy = np.array([start_of(curve) for curve in raft.loop_in_bed.curves])
        assert len(xy) == len(ends)
        assert np.any([inside(xy, loop) for loop in layout.region], axis=0).all()


def shifted_split(along: int, across: int, *, x: str = "0 mm", y: str = "0 mm") -> Split:
    return Split(along, across, Length.of(x), Length.of(y))


def test_a_shift_moves_all_joints_and_changes_the_end_rafts_alone() -> None:
    plain = lay_rafts(bed(Rectangle(mm(2360), mm(580)), Split(4), clearance=10, gap=5))
    rule = shifted_split(4, 1, x="1 1/4 in")
    moved = lay_rafts(bed(Rectangle(mm(2360), mm(580)), rule, clearance=10, gap=5))
    by = Fraction("31.75")
    size = plain.rafts[0].shape.length
    assert [raft.shape.length for raft in moved.rafts] == [size + by, size, size, size - by]
    assert [b.x - a.x for a, b in zip(plain.rafts, moved.rafts, strict=True)] == [0, by, by, by]
    assert moved.rafts[-1].x + moved.rafts[-1].shape.length == 2350
    assert moved.rafts[1].shape is moved.rafts[2].shape


def test_a_shift_both_ways_gives_up_to_nine_shapes() -> None:
    rule = shifted_split(4, 3, x="-20 mm", y="7 mm")
    layout = lay_rafts(bed(Rectangle(mm(2400), mm(1800)), rule, clearance=10, gap=5))
    assert len({id(raft.shape) for raft in layout.rafts}) == 9
    assert layout.rafts[-1].y + layout.rafts[-1].shape.width == 1790


def test_without_joints_there_is_nothing_to_move() -> None:
    outline = Rectangle(mm(1200), mm(600))
    still, moved = (
        lay_rafts(bed(outline, rule)) for rule in (Split(), shifted_split(1, 1, x="900 mm"))
    )
    assert moved == still


@pytest.mark.parametrize("x", ["500 mm", "-500 mm", "900 mm"])
def test_joints_moved_off_the_bed_leave_no_rafts(x: str) -> None:
    layout = lay_rafts(bed(Rectangle(mm(1000), mm(600)), shifted_split(2, 1, x=x)))
    assert layout.rafts == ()
    assert layout.region


@settings(deadline=None, max_examples=40)
@given(
    st.one_of(outlines, st.just(Rectangle(mm(1500), mm(700)))),
    st.integers(1, 4),
    st.integers(1, 4),
    st.integers(-90, 90),
    st.integers(-90, 90),
    st.integers(0, 20),
)
def test_shifted_rafts_keep_to_the_region_and_lose_only_the_gaps(
    outline: Outline, along: int, across: int, x: int, y: int, gap: int
) -> None:
    rule = Split(along, across, mm(x), mm(y))
    layout = lay_rafts(bed(outline, rule, clearance=10, gap=gap))
    region = sum(map(area, layout.region))
    box = bounds(layout.region[0])
    gaps = gap * ((along - 1) * (box[3] - box[1]) + (across - 1) * (box[2] - box[0]))
    assert sum(areas(layout)) <= region + 1e-6 * region
    assert sum(areas(layout)) >= region - gaps - 1e-6 * region
    for raft in layout.rafts:
        xy = np.array([start_of(curve) for curve in raft.loop_in_bed.curves])
        assert np.any([inside(xy, loop) for loop in layout.region], axis=0).all()
