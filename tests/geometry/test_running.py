"""Runs on the rafts of real plans, and what is found where they do not fit."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from geometry.compare.choices import compare_choices
from geometry.model.bed import Bed, Split
from geometry.model.log import BatchGrown, Log
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import Plan, make_plan
from geometry.running import most_a_week, place_rafts, plan_runs, rooms, take_places
from geometry.units import Length
from layout_gui.project import edits

MONDAY = date(2027, 3, 1)


def mm(value: float) -> Length:
    return Length.of(value)


def bench(name: str = "Bench", **rules: object) -> Bed:
    """Four rafts of three by three holes, as a school builds them."""
    planting = Planting(
        mm(185),
        mm(50),
        crop="lettuce",
        pattern="square",
        edge_margin=mm(90),
        **rules,  # type: ignore[arg-type]
    )
    return Bed(
        name, Rectangle(mm(2360), mm(580)), mm(10), mm(5), rafts=Split(4, 1), planting=planting
    )


def class_run(**changes: object) -> Run:
    stages = (RunStage("tray", 21, Fraction(8, 10)), RunStage("bed", 28, bed="Bench"))
    return replace(Run("class", "lettuce", stages, first=MONDAY), **changes)  # type: ignore[arg-type]


def planned(*runs: Run, bed: Bed | None = None, log: Log | None = None) -> Plan:
    return make_plan(Project("School", beds=(bed or bench(),), runs=runs, log=log or Log()))


def test_the_rafts_of_the_bed_give_the_batch_and_its_places() -> None:
    plan = planned(class_run())

    (made,) = plan_runs(plan, date(2027, 6, 28))

    assert (made.heads, made.seeds, made.stages[1].sites) == (9, 12, 9)
    assert not plan.findings
    standing = place_rafts([made])
    assert take_places([made]).most == {"Bench": 4}
    day = standing.on(date(2027, 4, 18))
    assert {raft: each.demand.batch for (_, raft), each in day.items()} == {
        "R1": 1, "R2": 2, "R3": 3, "R4": 4,
    }  # fmt: skip


def test_what_does_not_fit_is_asked_about_once_and_its_cure_clears_it() -> None:
    plan = planned(class_run(target=18))

    (finding,) = plan.findings

    # Two rafts a week for four weeks are eight; on the third planting none of four is left.
    assert (finding.code, finding.severity, finding.subject) == ("run-fit", "question", "class")
    assert (finding.rafts, finding.day) == (2, "2027-04-05")
    cured = edits.apply_cure(plan.project, plan, finding)
    assert cured.runs[0].target == 9
    again = make_plan(cured, plan)
    assert not again.findings
    assert make_plan(replace(cured, name="Other"), again).run_fit is again.run_fit


def test_of_two_runs_that_crowd_each_other_none_is_told_to_shrink_to_nothing() -> None:
    other = replace(class_run(target=9), name="second")
    plan = planned(class_run(target=9), other)

    assert {finding.subject for finding in plan.findings} <= {"class", "second"}
    assert plan.findings
    assert all(finding.cure is None for finding in plan.findings)
    # Every second week each of them: two rafts for two runs at any time.
    eased = planned(class_run(target=9, every=14), replace(other, every=14))
    assert not eased.findings


def test_a_batch_a_day_on_four_rafts_is_asked_about_though_nobody_wanted_a_number() -> None:
    plan = planned(class_run(every=1))

    (finding,) = plan.findings
    assert (finding.code, finding.rafts, finding.cure) == ("run-fit", 1, None)


def test_a_project_without_runs_asks_nothing_of_its_beds() -> None:
    assert planned().run_fit.rooms == {}
    assert rooms(planned())["Bench"][0].sites == 9


def test_only_holes_in_use_count_and_zones_have_rafts_of_their_own() -> None:
    half = rooms(planned(class_run(), bed=bench(in_use="every second")))["Bench"][0]
    zoned = replace(
        bench(), zones=(Zone("herbs", ZoneRules(crop="basil", spacing=mm(250)), rafts=("R4",)),)
    )
    lettuce, basil = rooms(planned(class_run(), bed=zoned))["Bench"]

    assert half.sites in {4, 5}
    assert (lettuce.crop, lettuce.rafts, lettuce.sites) == ("lettuce", ("R1", "R2", "R3"), 9)
    assert (basil.crop, basil.rafts, basil.sites) == ("basil", ("R4",), 4)


def test_a_batch_that_the_log_calls_lost_is_missing() -> None:
    log = Log(batches=(BatchGrown("class", date(2027, 3, 8), picked=0),))

    (made,) = plan_runs(planned(class_run(), log=log))

    assert [batch.number for batch in made.batches if not batch.harvest] == [2]


def test_a_choice_tells_what_the_runs_of_its_bed_bring_a_week() -> None:
    plan = planned(class_run(target=4))
    bed = plan.beds[0].bed
    now, *others = compare_choices(plan.project, bed)

    # Four rafts of nine, four weeks: nine a week however few are wanted.
    assert most_a_week(plan.project.runs, "Bench", now.rooms) == 9
    assert most_a_week(plan.project.runs, "Other", now.rooms) is None
    least = min(others, key=lambda result: result.plants)
    assert most_a_week(plan.project.runs, "Bench", least.rooms) == Fraction(least.plants, 4)
