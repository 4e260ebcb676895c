"""Many findings settled in one step."""

from dataclasses import replace

import pytest

from geometry.checks.finding import DropHandEdit, Finding, LeaveOut, MoveHole, SetLength
from geometry.errors import GeometryError
from geometry.model.planting import Blank, Pin
from geometry.model.project import Accepted, Project
from geometry.plan import Plan, make_plan
from geometry.units import Length
from layout_gui.project import edits, edits_findings
from tests.layout_gui.panels.desk import make_project


def planned(*pins: tuple[float, float]) -> tuple[Project, Plan]:
    made = tuple(Pin("R1", Length.of(x), Length.of(y)) for x, y in pins)
    project = edits.set_planting(make_project(), "Bench", pins=made)
    return project, make_plan(project)


def test_moves_and_leaving_out_go_together() -> None:
    project, plan = planned((40, 100), (40, 300))
    names = list(plan.beds[0].rafts[0].design.holes.names)
    found = [
        Finding("edge", "problem", "Bench", "R1", cure=MoveHole("R1", names[0], 70.0, 110.0)),
        Finding("edge", "problem", "Bench", "R1", cure=LeaveOut("R1", names[1])),
        Finding("web", "problem", "Bench", "R1", cure=MoveHole("R1", names[1], 80.0, 110.0)),
        Finding("web", "problem", "Bench", "R1", cure=MoveHole("R1", names[0], 90.0, 110.0)),
        Finding("raft-fit", "note", "Bench", cure=SetLength("clearance", 12.0)),
        Finding("skew", "note", "Bench"),
    ]

    changed = edits_findings.apply_cures(project, plan, found)

    after = make_plan(changed).beds[0]
    places = {tuple(xy) for xy in after.rafts[0].design.holes.xy.tolist()}
    assert (70.0, 110.0) in places
    assert (80.0, 110.0) not in places
    assert (90.0, 110.0) not in places
    assert after.bed.clearance == Length.of(12)
    assert after.bed.planting is not None
    assert len(after.bed.planting.blanks) + len(after.bed.planting.pins) >= 2


def test_idle_hand_edits_are_forgotten_together() -> None:
    project, _ = planned()
    blanks = tuple(Blank("R7", Length.of(x), Length.of(50)) for x in (10, 20, 30))
    project = edits.set_planting(project, "Bench", blanks=blanks)
    plan = make_plan(project)
    idle = [each for each in plan.findings if isinstance(each.cure, DropHandEdit)]
    assert len(idle) == 3

    changed = edits_findings.apply_cures(project, plan, idle)

    assert changed.beds[0].planting is not None
    assert changed.beds[0].planting.blanks == ()


def test_without_a_cure_there_is_nothing_to_do() -> None:
    project, plan = planned()

    with pytest.raises(GeometryError, match="decision of yours"):
        edits_findings.apply_cures(project, plan, [Finding("skew", "note", "Bench")])


def test_one_note_for_many_replaces_older_ones_and_keeps_others() -> None:
    found = [Finding("edge", "problem", "Bench", "R1", (f"A{n}",)) for n in range(3)]
    other = Accepted("web Bench R1 A9", "reinforced")
    project = replace(make_project(), accepted=(Accepted(found[1].key, "old"), other))

    changed = edits_findings.accept_all(project, found, "soft rims")

    assert changed.accepted == (other, *(Accepted(each.key, "soft rims") for each in found))
    assert edits_findings.reopen(changed, [each.key for each in found]).accepted == (other,)


def test_a_note_that_no_file_could_hold_is_refused() -> None:
    with pytest.raises(GeometryError):
        edits_findings.accept_all(make_project(), [Finding("skew", "note", "Bench")], "a\x00b")
