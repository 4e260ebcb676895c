"""Splitting beds into rafts."""

from fractions import Fraction
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import TooManyError
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.model.measure import bounds
from geometry.model.outlines import Measured, Outline, Rectangle
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
    with pytest.raises(TooManyError, match="100,000"):
        lay_rafts(bed(Rectangle(mm(1e6), mm(1e6)), Split(1000, 101)))
    assert perf_counter() - started < 0.05
    assert len(lay_rafts(bed(Rectangle(mm(1000), mm(1000)), Split(100_000, 1))).rafts) == 100_000
