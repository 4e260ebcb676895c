"""Rafts that are each other turned half round: one design, whose holes turn with it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.holes.region import Part, Region
from geometry.holes.sites import Sites
from geometry.holes.turned_alike import laid_alike, lattices_turned_alike
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, Outline, Rectangle, RoundEnded
from geometry.model.planting import JOINT_RULES, Blank, JointRule, Pin, Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, PlacedRaft, make_plan
from geometry.rafts.layout import Side
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def mm(value: float) -> Length:
    return Length.of(value)


POOL = Bed(
    "Pool",
    Disc(mm(1220)),
    mm(20),
    mm(10),
    rafts=Split(2),
    planting=Planting(mm(200), mm(45), edge_margin=mm(70), web=mm(20), pattern="hexagonal"),
)


def plan_of(bed: Bed) -> BedPlan:
    return make_plan(Project("p", beds=(bed,))).beds[0]


def in_bed(raft: PlacedRaft) -> np.ndarray:
    """The definition: a turned raft's far corner of the box is where its datum corner lies."""
    xy = raft.design.holes.xy
    if raft.turned:
        xy = np.array([float(raft.design.shape.length), float(raft.design.shape.width)]) - xy
    return xy + np.array([raft.x, raft.y])


def least_gap(xy: np.ndarray) -> float:
    gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min(initial=np.inf))


def same_places(one: np.ndarray, other: np.ndarray) -> bool:
    gaps = np.hypot(*(one[:, None] - other[None]).transpose(2, 0, 1))
    return len(one) == len(other) and float(gaps.min(axis=1).max(initial=0.0)) < 1e-6


@pytest.mark.parametrize("joints", JOINT_RULES)
def test_the_halves_of_a_pool_are_one_design_used_twice(joints: JointRule) -> None:
    assert POOL.planting is not None
    planting = replace(POOL.planting, joints=joints, pattern="best")
    plan = plan_of(replace(POOL, planting=planting))
    first, second = plan.rafts
    assert len(plan.designs) == 1
    assert first.design is second.design
    assert (first.turned, second.turned) == (False, True)
    assert plan.plants == 2 * len(first.design.holes) > 0
    assert same_places(1220 - in_bed(first), in_bed(second))
    assert not [finding for finding in plan.findings if finding.severity == "problem"]


outlines: st.SearchStrategy[Outline] = st.one_of(
    st.integers(800, 1400).map(lambda size: Disc(mm(size))),
    st.builds(RoundEnded, st.integers(1200, 1900).map(mm), st.integers(500, 800).map(mm)),
)


@settings(max_examples=8, deadline=None)
@given(
    outlines,
    st.sampled_from([Split(2), Split(1, 2), Split(2, 2), Split(3)]),
    st.sampled_from(["bed-wide", "interchangeable"]),
    st.integers(0, 12),
    st.booleans(),
)
def test_no_rule_is_broken_across_the_joints_of_turned_rafts(
    outline: Outline, split: Split, joints: JointRule, gap: int, piped: bool
) -> None:
    pipe = Obstacle("pipe", Disc(mm(40)), centre=Spot(mm(250), mm(300)), clearance=mm(10))
    planting = Planting(mm(170), mm(40), edge_margin=mm(45), pattern="staggered", joints=joints)
    bed = Bed("B", outline, mm(10), mm(gap), (pipe,) if piped else (), split, planting)
    plan = plan_of(bed)
    assert any(raft.turned for raft in plan.rafts)
    xy = np.concatenate([in_bed(raft) for raft in plan.rafts])
    assert len(xy) == plan.plants
    assert least_gap(xy) >= 170 - 1e-6
    if piped:
        away = np.hypot(*(xy - (250, 300)).T)
        assert (away >= 20 + 10 + 20 - 1e-6).all()
    assert not [finding for finding in plan.findings if finding.severity == "problem"]


def test_a_pin_and_a_blank_are_told_in_the_raft_s_own_coordinates() -> None:
    """Pinned 7 mm to the right and 3 up on the raft is 7 to the left and 3 down in the bed."""
    assert POOL.planting is not None
    plain = plan_of(POOL)
    raft = plain.rafts[1]
    (x, y), (u, v) = raft.design.holes.xy[[0, -1]].tolist()
    pin = Pin(
        "R2", Length.rounded(x + 7), Length.rounded(y + 3), (Length.rounded(x), Length.rounded(y))
    )
    blank = Blank("R2", Length.rounded(u), Length.rounded(v))
    edited = plan_of(replace(POOL, planting=replace(POOL.planting, pins=(pin,), blanks=(blank,))))
    first, second = edited.rafts
    assert first.design == plain.rafts[0].design
    assert second.turned
    assert len(second.design.holes) == len(raft.design.holes) - 1
    moved = in_bed(second)[second.design.holes.pinned]
    assert np.allclose(moved, in_bed(raft)[0] - (7, 3), atol=1e-3)
    gone = in_bed(raft)[-1]
    assert np.hypot(*(in_bed(second) - gone).T).min() > 100


def region_of(bed: Bed, margin: int) -> Region:
    sides: tuple[Side, ...] = ("left", "right", "bottom", "top")
    margins = dict.fromkeys(sides, mm(margin).exact)
    return Region(tuple(Part(raft.loop_in_bed, margins) for raft in lay_rafts(bed).rafts))


def test_a_lattice_turned_alike_is_its_own_image() -> None:
    layout = lay_rafts(POOL)
    found = list(
        lattices_turned_alike(
            region_of(POOL, 70), layout, spacing=200, row_spacing=None,
            pattern="best", direction="best", spread=True,
        )
    )  # fmt: skip
    assert {placed.pattern for placed in found} == {"square", "hexagonal"}
    for placed in found:
        xy = placed.sites.xy
        assert same_places(1220 - xy, xy)
        assert least_gap(xy) >= placed.pitch_mm - 1e-6 >= 200 - 1e-6
        assert region_of(POOL, 70).allows(xy).all()


def test_what_one_half_got_is_laid_on_both_where_that_is_legal() -> None:
    layout = lay_rafts(POOL)
    region = region_of(POOL, 70)

    def sites(*places: tuple[float, float]) -> Sites:
        return Sites(np.array(places), np.zeros(len(places), dtype=np.int64))

    far, near = sites((300.0, 300.0)), sites((505.0, 590.0))
    lone = Sites(np.empty((0, 2)), np.empty(0, dtype=np.int64))
    made = list(laid_alike(layout, (far, lone), region, 200))
    assert any(one is far and other is far for one, other in made)
    # 80 mm from the joint and its image the same: 170 apart is less than 200.
    assert all(one is not near for one, _ in laid_alike(layout, (near, lone), region, 200))
    # Rectangles lie unturned, so those at either end have their joints on other sides.
    bench = replace(POOL, outline=Rectangle(mm(1220), mm(600)))
    assert list(laid_alike(lay_rafts(bench), (far, lone), region_of(bench, 0), 200)) == []
