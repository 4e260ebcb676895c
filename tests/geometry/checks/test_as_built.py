"""Rafts as they came out: they jam where they outgrew the room there is, and count as they are.

Source: job map, checks R1 (2360 long, 10 at the walls, 5 between: four rafts have 35 mm of room)
and L2 (a lower count flows to the crop plan).
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.model.bed import Bed, Split
from geometry.model.log import Log, RaftMade
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.plan import make_plan
from geometry.running import plan_runs, rooms
from geometry.units import Length
from layout_gui.wording.findings import finding_line

BENCH = Bed(
    "Bench",
    Rectangle(Length.of(2360), Length.of(580)),
    Length.of(10),
    Length.of(5),
    rafts=Split(4, 1),
    planting=Planting(Length.of(180), Length.of(50), edge_margin=Length.of(95)),
)


def made(*lengths: str, widths: str = "") -> Project:
    rafts = tuple(
        RaftMade(
            f"R{n}", bed="Bench", raft=f"R{n}", length=Length.of(length),
            width=Length.of(widths) if widths else None,
        )
        for n, length in enumerate(lengths, 1)
    )  # fmt: skip
    return Project("bench", beds=(BENCH,), log=Log(rafts))


@pytest.mark.parametrize(
    ("lengths", "missing"),
    [
        (("616.25 mm",), None),
        (("616.35 mm",), -0.1),
        (("600 mm", "600 mm"), -2.5),
        (("650 mm", "546 mm"), None),
        (("24 3/16 in",), None),
        (("24 5/16 in",), -1.2875),
    ],
)
def test_a_row_jams_once_it_outgrows_the_room_at_walls_and_joints(
    lengths: tuple[str, ...], missing: float | None
) -> None:
    plan = make_plan(made(*lengths))
    found = [each for each in plan.findings if each.code == "made-jam"]

    assert [each.amount_mm for each in found] == (
        [] if missing is None else [pytest.approx(missing)]
    )
    if found:
        assert "Raft R1 came out too large for its place" in finding_line(found[0], "mm", plan)
        retired = replace(plan.project.log.rafts[0], retired=True)
        others = plan.project.log.rafts[1:]
        again = make_plan(replace(plan.project, log=Log((retired, *others))), plan)
        assert not any(each.code == "made-jam" for each in again.findings)


def test_rafts_that_came_out_too_wide_are_told_apart_from_too_long_ones() -> None:
    found = [each for each in make_plan(made("581 mm", widths="580.5 mm")).findings if each.bed]
    assert [(each.code, each.subject, each.amount_mm) for each in found] == [
        ("made-jam", "across", -0.5)
    ]


def test_fewer_sites_on_a_raft_that_lies_there_flow_to_the_runs() -> None:
    stage = RunStage("afloat", 21, Fraction(95, 100), bed="Bench")
    project = replace(
        made("581 mm"), runs=(Run("heads", stages=(stage,), every=21, target=20),), log=Log()
    )
    before = make_plan(project)
    assert rooms(before)["Bench"][0].sites == 9
    log = Log((RaftMade("R3", bed="Bench", raft="R3", sites=8),))
    after = make_plan(replace(project, log=log), before)

    assert rooms(after)["Bench"][0].sites == 8
    assert [run.stages[0].sites for run in plan_runs(after)] == [8]
    assert make_plan(replace(project, log=log)).run_fit == after.run_fit
    assert make_plan(project, after).run_fit == before.run_fit
