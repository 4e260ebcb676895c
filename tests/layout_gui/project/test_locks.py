"""Locks: what is locked stays as it is by hand, in the file and under new names."""

import json
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.errors import GeometryError
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.lock import Lock
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone
from geometry.plan import BedPlan, make_plan
from geometry.units import Length
from layout_gui.project import edits, edits_things
from layout_gui.project.edits_locks import locked_names, set_locks
from layout_gui.project.faults import ProjectFileError
from layout_gui.project.file import dumps, loads
from layout_gui.project.things import Thing

mm = Length.of
BED = Bed(
    "Bench",
    Rectangle(mm(1200), mm(400)),
    obstacles=(Obstacle("pipe", Disc(mm(40)), Spot(mm(300), mm(60)), None, mm(5)),),
    rafts=Split(2, 1),
    planting=Planting(mm(200), mm(50), joints="separate"),
    zones=(Zone("herbs", shape=Rectangle(mm(200), mm(200)), corner=(mm(700), mm(100))),),
)
PLAIN = Project("Bench", beds=(BED,))
PIPE, HERBS = Thing("obstacle", 0), Thing("zone", "herbs")


def locked(*locks: tuple[str, str]) -> Project:
    project = PLAIN
    for kind, name in locks:
        project = set_locks(project, "Bench", kind, [name], locked=True)  # type: ignore[arg-type]
    return project


@pytest.fixture(scope="module")
def plan() -> BedPlan:
    return make_plan(PLAIN).beds[0]


def first(plan: BedPlan, raft: str) -> tuple[str, str]:
    placed = next(each for each in plan.rafts if each.name == raft)
    return raft, placed.design.holes.names[0]


@pytest.mark.parametrize(
    "edit",
    [
        lambda project, plan, hole: edits.move_holes(project, plan, {hole: (90, 90)}),
        lambda project, plan, hole: edits.add_hole(project, plan, hole[0], 90, 90),
        lambda project, plan, hole: edits.delete_holes(project, plan, [hole]),
        lambda project, plan, hole: edits.pin_holes(project, plan, [hole]),
    ],
)
def test_no_hand_changes_the_holes_of_a_locked_raft(
    plan: BedPlan, edit: Callable[[Project, BedPlan, tuple[str, str]], Project]
) -> None:
    project = locked(("raft", "R1"))

    with pytest.raises(GeometryError, match="Raft R1 is locked; unlock it first"):
        edit(project, plan, first(plan, "R1"))
    assert edit(project, plan, first(plan, "R2")) != project
    assert edit(set_locks(project, "Bench", "raft", ["R1"], locked=False), plan, first(plan, "R1"))


def test_rafts_that_share_their_holes_share_a_lock() -> None:
    planting = Planting(mm(200), mm(50), joints="interchangeable")
    bed = replace(BED, obstacles=(), zones=(), planting=planting)
    project = set_locks(Project("Bench", beds=(bed,)), "Bench", "raft", ["R1"], locked=True)
    plan = make_plan(project).beds[0]

    with pytest.raises(GeometryError, match="R1 is locked"):
        edits.delete_holes(project, plan, [first(plan, "R2")])


@pytest.mark.parametrize("thing", [PIPE, HERBS])
def test_what_is_locked_keeps_its_place_and_shape(thing: Thing) -> None:
    project = locked(("obstacle", "pipe"), ("zone", "herbs"))

    with pytest.raises(GeometryError, match="is locked"):
        edits_things.move_standing(project, "Bench", thing, Fraction(1), Fraction(0))
    with pytest.raises(GeometryError, match="is locked"):
        edits_things.set_standing(project, "Bench", thing, shape=Rectangle(mm(10), mm(10)))
    with pytest.raises(GeometryError, match="is locked"):
        edits_things.remove_thing(project, "Bench", thing)
    value = {"clearance": mm(9)} if thing == PIPE else {"spacing": mm(150)}
    assert edits_things.set_standing(project, "Bench", thing, **value) != project


def test_a_lock_follows_new_names_and_goes_with_its_bed() -> None:
    project = locked(("obstacle", "pipe"), ("zone", "herbs"), ("raft", "R1"))
    project = edits_things.set_standing(project, "Bench", PIPE, name="drain")
    project = edits_things.set_standing(project, "Bench", HERBS, name="thyme")
    project = edits.rename_bed(project, "Bench", "Long")

    assert locked_names(project, "Long", "obstacle") == {"drain"}
    assert locked_names(project, "Long", "zone") == {"thyme"}
    assert locked_names(project, "Long", "raft") == {"R1"}
    assert edits.remove_bed(project, "Long").locks == ()


def test_a_lock_is_in_the_file_and_names_a_bed_of_it() -> None:
    data = dumps(locked(("raft", "R1")))
    assert loads(data, "bench").locks == (Lock("Bench", "raft", "R1"),)
    assert b"locks" not in dumps(PLAIN)
    node = json.loads(data)
    node["locks"][0]["bed"] = "Other"

    with pytest.raises(ProjectFileError, match="/locks/0/bed"):
        loads(json.dumps(node).encode(), "bench")
