"""Spacing across joints: as rafts lie, and wherever interchangeable rafts may meet."""

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.check_all import check_joint, check_raft
from geometry.checks.check_holes import check_holes
from geometry.checks.finding import MoveHole
from geometry.checks.ground import Ground
from geometry.checks.raft_in_bed import RaftInBed
from geometry.holes.joints import lies_beside_any_neighbour
from geometry.model.curves import Line, Loop, Point
from geometry.model.planting import JointRule
from geometry.rafts.layout import RaftShape
from tests.geometry.checks.rafts import cured, drilled, make_raft, make_rules

Centres = list[tuple[float, float]]


def _two_rafts(
    left: Centres, right: Centres, *, pinned: tuple[int, ...] = ()
) -> tuple[RaftInBed, RaftInBed]:
    """Two rafts of 1000 x 600 with a joint gap of 10 between."""
    return (
        make_raft(drilled(left, pinned=pinned)),
        make_raft(drilled(right), name="R2", at=(1010, 0)),
    )


def test_the_joint_gap_is_part_of_the_distance() -> None:
    here, there = (Ground(raft, make_rules()) for raft in _two_rafts([(900, 300)], [(90, 300)]))

    assert not check_joint(here, there)


def test_plants_of_two_rafts_are_told_with_both_names() -> None:
    here, there = (Ground(raft, make_rules()) for raft in _two_rafts([(900, 300)], [(80, 300)]))

    (finding,) = check_joint(here, there)

    assert (finding.code, finding.raft, finding.holes) == ("joint", "R1", ("R1 A1", "R2 A1"))
    assert finding.place == (995.0, 300.0)
    assert finding.amount_mm == pytest.approx(190)
    assert finding.cure == MoveHole("R2", "A1", 90.0, 300.0)


def test_the_pinned_hole_moves_though_it_lies_on_the_first_raft() -> None:
    rafts = _two_rafts([(900, 300)], [(80, 300)], pinned=(0,))
    here, there = (Ground(raft, make_rules()) for raft in rafts)

    (finding,) = check_joint(here, there)

    assert finding.cure == MoveHole("R1", "A1", 890.0, 300.0)


def test_a_cure_looks_over_the_other_joints_too() -> None:
    # Moving R2's hole away from R1 brings it too near to R3's.
    first, second = _two_rafts([(900, 540)], [(80, 540)])
    third = make_raft(drilled([(180, 104)]), name="R3", at=(1010, 610))
    rules = make_rules()
    second_alone = Ground(second, rules)
    second_between = Ground(second, rules, neighbours=(first, third))

    free = check_joint(Ground(first, rules), second_alone)
    bound = check_joint(Ground(first, rules), second_between)

    assert free[0].cure == MoveHole("R2", "A1", 90.0, 540.0)
    cure = bound[0].cure
    assert isinstance(cure, MoveHole)
    x, y = 1010 + cure.x, cure.y
    assert math.hypot(x - 900, y - 540) == pytest.approx(200, abs=0.003)
    assert math.hypot(x - 1190, y - 714) == pytest.approx(200, abs=0.003)


@pytest.mark.parametrize(("joints", "told"), [("bed-wide", 1), ("separate", 0)])
def test_separate_rafts_have_nothing_to_find(joints: JointRule, told: int) -> None:
    rafts = _two_rafts([(950, 300)], [(50, 300)])

    assert len(check_holes(rafts, make_rules(joints=joints)).findings) == told


def test_a_single_raft_has_no_joints() -> None:
    raft = make_raft(drilled([(40, 300), (960, 300)]))

    assert not check_holes([raft], make_rules(joints="interchangeable")).findings


def test_an_interchangeable_raft_is_laid_beside_itself() -> None:
    # As they lie the two are clear of each other; in another order they are not.
    raft = make_raft(drilled([(930, 300), (100, 300)]))

    (turned, straight) = check_raft(Ground(raft, make_rules(joints="interchangeable")))

    assert straight.holes == ("R1 A1", "R1 A2")
    assert straight.subject == ""
    assert straight.amount_mm == pytest.approx(180)
    assert turned.holes == ("R1 A1", "R1 A1")
    assert turned.subject == "turned"
    assert turned.amount_mm == pytest.approx(150)
    # Its own turned image comes nearer by twice what the hole moves.
    assert turned.cure == MoveHole("R1", "A1", 905.0, 300.0)


def test_diagonal_neighbours_count() -> None:
    raft = make_raft(drilled([(950, 560), (80, 60)]))

    found = check_raft(Ground(raft, make_rules(joints="interchangeable")))

    assert ("R1 A1", "R1 A2") in {finding.holes for finding in found if not finding.subject}


def test_interchangeable_rafts_are_told_of_once() -> None:
    holes = drilled([(930, 300)])
    rafts = [make_raft(holes, name=f"R{k}", at=(1010 * k, 0)) for k in range(3)]
    rafts = [RaftInBed("Bench", r.name, rafts[0].shape, holes, r.x, r.y) for r in rafts]

    (finding,) = check_holes(rafts, make_rules(joints="interchangeable")).findings

    assert finding.raft == "R0"


def test_interchangeable_rafts_cut_to_shape_are_checked_as_they_lie() -> None:
    corners = [Point(0, 0), Point(1000, 0), Point(1000, 600), Point(300, 600)]
    sides = zip(corners, [*corners[1:], corners[0]], strict=True)
    shape = make_raft(drilled([])).shape
    cut = RaftShape(
        Loop(tuple(Line(a, b) for a, b in sides)), shape.length, shape.width, is_rectangle=False
    )
    here = make_raft(drilled([(930, 100)]), shape=cut)
    there = make_raft(drilled([(100, 100)]), shape=cut, name="R2", at=(1010, 0))

    (finding,) = check_holes([here, there], make_rules(joints="interchangeable")).findings

    assert finding.holes == ("R1 A1", "R2 A1")


_centres = st.lists(
    st.tuples(st.integers(0, 100), st.integers(0, 60)).map(lambda p: (10.0 * p[0], 10.0 * p[1])),
    max_size=5,
    unique=True,
)


@settings(deadline=None, max_examples=20)
@given(centres=_centres, gap=st.sampled_from([0, 10, 45]))
def test_lying_beside_itself_agrees_with_laying_all_neighbours_out(
    centres: Centres, gap: float
) -> None:
    rules = make_rules(joints="interchangeable", joint_gap=gap)
    found = check_raft(Ground(make_raft(drilled(centres)), rules))
    told = {(finding.holes, finding.subject) for finding in found if finding.code == "joint"}

    xy = np.array(centres, dtype=np.float64).reshape(-1, 2)
    expected = set()
    for (i, j), turned, right, up in product(
        product(range(len(xy)), repeat=2), ("", "turned"), (-1, 0, 1), (-1, 0, 1)
    ):
        other = np.array([1000, 600]) - xy[j] if turned else xy[j]
        other = other + np.array([right * (1000 + gap), up * (600 + gap)])
        if (right or up) and np.hypot(*(other - xy[i])) < 200 - 1e-6:
            low, high = sorted((i, j))
            expected.add(((f"R1 A{low + 1}", f"R1 A{high + 1}"), turned))
    assert told == expected
    assert (not told) == lies_beside_any_neighbour(
        xy, length=1000, width=600, joint_gap=gap, spacing=200
    )


@settings(deadline=None, max_examples=20)
@given(
    drillings=st.lists(_centres, min_size=2, max_size=4),
    joints=st.sampled_from(["bed-wide", "interchangeable", "separate"]),
    turned=st.booleans(),
)
def test_every_cure_of_a_bed_clears_its_finding_and_brings_no_new_one(
    drillings: list[Centres], joints: JointRule, turned: bool
) -> None:
    if joints == "interchangeable":
        drillings = [drillings[0]] * len(drillings)
    holes = [drilled(centres, pinned=range(0, len(centres), 2)) for centres in drillings]
    shape = make_raft(holes[0]).shape
    rafts = [
        RaftInBed("Bench", f"R{k + 1}", shape, holed, 1010 * (k % 2), 610 * (k // 2), k == 1)
        for k, holed in enumerate([holes[0]] * len(holes) if joints == "interchangeable" else holes)
    ]
    rules = make_rules(joints=joints, edge_margin=30, web=10)
    checked = check_holes(rafts, rules)
    keys = {finding.key for finding in checked.findings}

    for finding in checked.findings:
        after = check_holes(cured(rafts, finding.cure, joints=joints), rules)
        assert {other.key for other in after.findings} <= keys - {finding.key}
