"""Patterns through the joints of a plain split, against literal lattices and pair by pair."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.place import BedPattern, place_holes
from geometry.holes.through_joints import PlainSplit
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.model.planting import (
    DIRECTIONS,
    JOINT_RULES,
    Direction,
    JointRule,
    Pattern,
    Planting,
)
from geometry.rafts.layout import RaftLayout
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def mm(value: float) -> Length:
    return Length.of(value)


splits = st.builds(
    Split,
    st.integers(1, 4),
    st.integers(1, 3),
    st.integers(-40, 40).map(mm),
    st.integers(-40, 40).map(mm),
)
PATTERNS: tuple[Pattern, ...] = (
    "square", "rectangular", "hexagonal", "staggered", "mixed", "rows", "best",
)  # fmt: skip


@st.composite
def beds(draw: st.DrawFn, joints: JointRule | None = None) -> Bed:
    split = draw(splits)
    size = draw(st.integers(180, 420)), draw(st.integers(180, 420))
    planting = Planting(
        mm(draw(st.integers(90, 190))),
        mm(20),
        pattern=draw(st.sampled_from(PATTERNS)),
        rows=draw(st.sampled_from(DIRECTIONS)),
        row_spacing=draw(st.sampled_from([None, mm(210)])),
        edge_margin=mm(draw(st.sampled_from([10, 25, 40]))),
        joints=joints or draw(st.sampled_from(JOINT_RULES)),
        spread=draw(st.booleans()),
    )
    pipe = Obstacle("pipe", Disc(mm(30)), centre=Spot(mm(150), mm(120)), clearance=mm(10))
    return Bed(
        "B",
        Rectangle(mm(size[0] * split.along + 10), mm(size[1] * split.across + 10)),
        mm(5),
        mm(draw(st.integers(0, 12))),
        (pipe,) if draw(st.booleans()) else (),
        split,
        planting,
    )


def in_bed(layout: RaftLayout, pattern: BedPattern) -> np.ndarray:
    return np.concatenate(
        [
            sites.xy + np.array([float(raft.x), float(raft.y)])
            for raft, sites in zip(layout.rafts, pattern.sites, strict=True)
        ]
    )


def least_gap(xy: np.ndarray) -> float:
    gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min(initial=np.inf))


@settings(max_examples=60, deadline=None)
@given(beds())
def test_no_rule_is_broken_whatever_split_shift_gap_and_joint_rule(bed: Bed) -> None:
    assert bed.planting is not None
    layout = lay_rafts(bed)
    pattern = place_holes(bed, layout)
    spacing, margin = bed.planting.spacing.mm, bed.planting.edge_margin.mm
    xy = in_bed(layout, pattern)
    assert len(xy) == max((tried.plants for tried in pattern.tried), default=0)
    for raft, sites in zip(layout.rafts, pattern.sites, strict=True):
        size = np.array([float(raft.shape.length), float(raft.shape.width)])
        assert (sites.xy >= margin - 1e-6).all()
        assert (size - sites.xy >= margin - 1e-6).all()
        assert least_gap(sites.xy) >= spacing - 1e-6
        # Sites are named row by row, and along each row.
        assert (np.diff(sites.rows) >= 0).all()
        assert sorted(set(sites.rows.tolist())) == list(range(len(set(sites.rows.tolist()))))
    if bed.planting.joints != "separate":
        assert least_gap(xy) >= spacing - 1e-6
    for _ in bed.obstacles:
        assert (np.hypot(*(xy - (150, 120)).T) >= 15 + 10 + 10 - 1e-6).all()


def literal_lattices(bed: Bed, steps: int) -> int:
    """Lay lattices over the whole bed at a grid of shifts and count what no joint takes away."""
    assert bed.planting is not None
    spacing, margin = bed.planting.spacing.mm, bed.planting.edge_margin.mm
    layout = lay_rafts(bed)
    length = max(float(raft.x + raft.shape.length) for raft in layout.rafts)
    width = max(float(raft.y + raft.shape.width) for raft in layout.rafts)
    count = int(2 * max(length, width) / spacing) + 3
    numbers = np.array(list(product(range(-count, count), repeat=2)))
    cells = [((spacing, 0.0), (0.0, spacing))]
    for pitch in (1.0, 1.15, 1.3, 2**0.5, 3**0.5):
        gap = spacing * (1 - pitch**2 / 4) ** 0.5
        cells += [
            ((pitch * spacing, 0.0), (pitch * spacing / 2, gap)),
            ((0.0, pitch * spacing), (gap, pitch * spacing / 2)),
        ]
    most = 0
    for cell in cells:
        points = numbers @ np.array(cell)
        for shift in product(range(steps), repeat=2):
            xy = points + np.array(shift) / steps @ np.array(cell)
            inside = np.zeros(len(xy), dtype=bool)
            for raft in layout.rafts:
                low = np.array([float(raft.x), float(raft.y)]) + margin
                size = np.array([float(raft.shape.length), float(raft.shape.width)]) - 2 * margin
                inside |= ((xy >= low - 1e-7) & (xy <= low + size + 1e-7)).all(axis=1)
            most = max(most, int(inside.sum()))
    return most


@settings(max_examples=12, deadline=None)
@given(
    splits, st.integers(180, 400), st.integers(180, 400), st.integers(0, 12), st.integers(90, 180)
)
def test_no_lattice_over_all_rafts_holds_more(
    split: Split, length: int, width: int, gap: int, spacing: int
) -> None:
    planting = Planting(mm(spacing), mm(10), edge_margin=mm(20), pattern="best")
    outline = Rectangle(mm(length * split.along), mm(width * split.across))
    bed = Bed("B", outline, joint_gap=mm(gap), rafts=split, planting=planting)
    layout = lay_rafts(bed)
    assert sum(map(len, place_holes(bed, layout).sites)) >= literal_lattices(bed, 8)


@pytest.mark.parametrize("direction", DIRECTIONS)
def test_a_farm_of_rafts_runs_on_with_few_designs(direction: Direction) -> None:
    """34 x 2 rafts of 1200 x 600: 23 columns in each (22 steps of 50.9 in 1120), 7 rows.

    Every other one of 161 fields is planted, 81 and 80 in turn: 68 x 161 / 2 = 5474.
    """
    planting = Planting(mm(100), mm(30), edge_margin=mm(40), pattern="staggered", rows=direction)
    bed = Bed(
        "way", Rectangle(mm(34 * 1205 + 11), mm(2 * 605 + 11)), mm(8), mm(5),
        rafts=Split(34, 2), planting=planting,
    )  # fmt: skip
    layout = lay_rafts(bed)
    pattern = place_holes(bed, layout)
    assert sum(map(len, pattern.sites)) == 68 * 161 // 2
    assert len({id(sites) for sites in pattern.sites}) <= 4
    assert least_gap(in_bed(layout, pattern)[:400]) >= 100 - 1e-6


def test_a_split_is_plain_when_all_cells_are_whole_rectangles() -> None:
    margin = mm(10).exact
    whole = Bed("B", Rectangle(mm(1200), mm(900)), rafts=Split(3, 2, mm(20), mm(-20)))
    assert PlainSplit.of(lay_rafts(whole).rafts, margin) is not None
    notched = Bed("B", LShape(mm(1200), mm(1200), mm(600), mm(600)), rafts=Split(2, 2))
    assert PlainSplit.of(lay_rafts(notched).rafts, margin) is None
