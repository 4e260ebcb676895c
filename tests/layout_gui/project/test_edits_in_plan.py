"""Edits and the plan agree: what is done by hand shows in the next plan, and only that."""

from dataclasses import replace

import pytest

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import JOINT_RULES, JointRule, Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, make_plan
from geometry.units import Length
from layout_gui.project import edits


def mm(value: float) -> Length:
    return Length.of(value)


def planned(joints: JointRule) -> tuple[Project, BedPlan]:
    planting = Planting(mm(180), mm(50), edge_margin=mm(60), joints=joints, pattern="square")
    bed = Bed(
        "Bed 1",
        Rectangle(mm(2360), mm(580)),
        clearance=mm(10),
        joint_gap=mm(5),
        rafts=Split(3),
        planting=planting,
    )
    project = Project("North", beds=(bed,))
    return project, plan_of(project)


def plan_of(project: Project) -> BedPlan:
    return make_plan(project).beds[0]


def places(plan: BedPlan, raft: str) -> dict[str, tuple[float, float]]:
    (holes,) = (each.design.holes for each in plan.rafts if each.name == raft)
    return {
        name: (round(x, 2), round(y, 2))
        for name, (x, y) in zip(holes.names, holes.xy.tolist(), strict=True)
    }


@pytest.mark.parametrize("joints", JOINT_RULES)
def test_moving_and_giving_back_leads_home(joints: JointRule) -> None:
    project, plan = planned(joints)
    before = {raft.name: places(plan, raft.name) for raft in plan.rafts}
    x, y = before["R2"]["A2"]
    moved = edits.move_holes(project, plan, {("R2", "A2"): (x + 7, y + 5)})
    again = plan_of(moved)
    everywhere = joints == "interchangeable"
    for raft, old in before.items():
        is_edited = everywhere or raft == "R2"
        there = (round(old["A2"][0] + 7, 2), round(old["A2"][1] + 5, 2))
        assert places(again, raft) == (old | {"A2": there} if is_edited else old)
    raft = "R3" if everywhere else "R2"
    further = edits.move_holes(moved, again, {(raft, "A2"): (x + 9, y)})
    assert places(plan_of(further), "R2")["A2"] == (round(x + 9, 2), y)
    back = edits.unpin_holes(further, plan_of(further), [(raft, "A2")])
    assert back == project


@pytest.mark.parametrize("joints", JOINT_RULES)
def test_leaving_out_takes_one_hole_of_each_raft_concerned(joints: JointRule) -> None:
    project, plan = planned(joints)
    left = edits.delete_holes(project, plan, [("R1", "A1"), ("R3", "B2")])
    concerned = len(plan.rafts) * 2 if joints == "interchangeable" else 2
    assert plan_of(left).plants == plan.plants - concerned
    assert edits.clear_hand_edits(left, "Bed 1") == project


def test_a_pinned_hole_that_is_left_out_stays_out() -> None:
    project, plan = planned("bed-wide")
    x, y = places(plan, "R1")["A1"]
    moved = edits.move_holes(project, plan, {("R1", "A1"): (x + 3, y)})
    left = edits.delete_holes(moved, plan_of(moved), [("R1", "A1")])
    assert plan_of(left).plants == plan.plants - 1


def test_pins_hold_their_place_when_the_pattern_changes() -> None:
    project, plan = planned("bed-wide")
    x, y = places(plan, "R1")["B2"]
    pinned = edits.pin_holes(project, plan, [("R1", "B2")])
    assert places(plan_of(pinned), "R1") == places(plan, "R1")
    wider = edits.set_planting(pinned, "Bed 1", spacing=mm(230))
    assert (x, y) in places(plan_of(wider), "R1").values()


def test_the_cure_of_a_finding_clears_it() -> None:
    project, plan = planned("bed-wide")
    x, y = places(plan, "R1")["A2"]
    tight = edits.move_holes(project, plan, {("R1", "A1"): (x - 170, y)})
    whole = make_plan(tight)
    (finding,) = (each for each in whole.findings if each.holes == ("A1", "A2"))
    cured = make_plan(edits.apply_cure(tight, whole, finding))
    assert finding.key not in {each.key for each in cured.findings}
    noted = edits.accept(tight, finding, "a strong pot")
    assert make_plan(noted).beds == make_plan(tight).beds
    assert replace(noted, accepted=()) == tight
