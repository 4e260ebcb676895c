"""Edits of runs: each is one step from a project to the next, and refuses what no file may hold."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from geometry.crops.table import CROPS
from geometry.errors import GeometryError
from geometry.first_run import assumptions
from geometry.flow.household import rhythm_for
from geometry.model.bed import Bed
from geometry.model.log import BatchGrown, Log
from geometry.model.outlines import Rectangle
from geometry.model.own_crop import OwnCrop
from geometry.model.project import Project
from geometry.model.run import Run, RunStage, SlowTime
from geometry.units import Length
from layout_gui.project import edits, edits_runs

MONDAY = date(2027, 3, 1)


def project(*runs: Run) -> Project:
    box = Rectangle(Length.of(2000), Length.of(1000))
    return Project("p", beds=(Bed("East", box), Bed("West", box)), runs=runs)


def lettuce() -> Run:
    return edits_runs.fresh_run(project(), "East", "lettuce, head", MONDAY)


def test_a_first_run_is_a_tray_and_a_bed_and_names_what_it_assumes() -> None:
    run = lettuce()

    # FAO 589: 24 to 32 days afloat, seedlings of about three weeks; Rutgers: 1200 sown for 960.
    assert [(stage.days, stage.survival) for stage in run.stages] == [
        (21, Fraction(4, 5)), (28, Fraction(19, 20)),
    ]  # fmt: skip
    assert run.stages[1].bed == "East"
    said = assumptions(run, ())
    assert len(said) == 4
    assert "24 to 32" in said[2]
    own = replace(
        run, stages=(replace(run.stages[0], days=20, survival=Fraction(1)), run.stages[1])
    )
    assert len(assumptions(own, ())) == 2
    assert assumptions(replace(run, stages=run.stages[1:]), ()) == ()


def test_own_figures_go_before_published_ones() -> None:
    own = replace(project(), crops=(OwnCrop("Lettuce, head", Length.of(200), days=35),))

    assert edits_runs.fresh_run(own, "East", "lettuce, head", None).stages[1].days == 35
    for crop in CROPS:
        days = edits_runs.fresh_run(project(), "East", crop.name, None).stages[1].days
        assert crop.days is None or crop.days[0] <= days <= crop.days[1]


def test_names_stay_apart_and_batches_in_the_log_follow_their_run() -> None:
    base = edits_runs.add_run(project(), lettuce())
    base = replace(base, log=Log(batches=(BatchGrown("lettuce, head", MONDAY),)))

    twice, name = edits_runs.duplicate_run(base, "lettuce, head")
    renamed = edits_runs.set_run(twice, "lettuce, head", name="Salad")

    assert [run.name for run in renamed.runs] == ["Salad", name]
    assert renamed.log.batches[0].run == "Salad"
    with pytest.raises(GeometryError):
        edits_runs.set_run(renamed, name, name="salad")
    with pytest.raises(GeometryError):
        edits_runs.set_run(renamed, name, name="  ")
    assert edits_runs.remove_run(renamed, name).runs == renamed.runs[:1]


def test_stages_come_go_and_change_places() -> None:
    base = edits_runs.add_run(project(), lettuce())
    name = base.runs[0].name

    three = edits_runs.add_stage(base, name, 0)
    assert [stage.days for stage in three.runs[0].stages] == [21, 21, 28]
    moved = edits_runs.move_stage(three, name, 2, -1)
    assert [stage.bed for stage in moved.runs[0].stages] == ["", "East", ""]
    assert edits_runs.move_stage(moved, name, 0, -1) == moved
    one = edits_runs.remove_stage(edits_runs.remove_stage(moved, name, 2), name, 0)
    assert [stage.bed for stage in one.runs[0].stages] == ["East"]
    with pytest.raises(GeometryError):
        edits_runs.remove_stage(one, name, 0)
    with pytest.raises(GeometryError):
        edits_runs.set_stage(base, name, 1, bed="North")
    with pytest.raises(GeometryError):
        edits_runs.set_stage(base, name, 1, days=0)


def test_runs_follow_a_bed_that_is_renamed_and_let_go_of_one_that_is_removed() -> None:
    run = replace(lettuce(), stages=(RunStage("bed", 28, bed="East", more_beds=("West",)),))
    base = edits_runs.add_run(project(), run)

    renamed = edits.rename_bed(base, "West", "Pond").runs[0].stages[0]
    gone = edits.remove_bed(base, "East").runs[0].stages[0]

    assert (renamed.bed, renamed.more_beds) == ("East", ("Pond",))
    assert (gone.bed, gone.more_beds) == ("West", ())


def test_pauses_and_slow_times_are_added_changed_and_removed() -> None:
    base = edits_runs.add_run(project(), lettuce())
    name = base.runs[0].name

    paused = edits_runs.add_pause(base, name, date(2027, 7, 26))
    assert paused.runs[0].pauses[0].last == date(2027, 8, 8)
    named = edits_runs.set_part(paused, name, "pauses", 0, why="holidays")
    slow = edits_runs.add_slow_time(
        named, name, SlowTime(date(2027, 11, 1), date(2028, 2, 1), Fraction(3, 2))
    )
    assert edits_runs.remove_part(slow, name, "pauses", 0).runs[0].pauses == ()
    assert slow.runs[0].pauses[0].why == "holidays"
    with pytest.raises(GeometryError):
        edits_runs.set_part(slow, name, "pauses", 0, last=date(2027, 1, 1))
    with pytest.raises(GeometryError):
        edits_runs.set_run(slow, name, until=date(2027, 1, 1))


@pytest.mark.parametrize(
    ("per_week", "keeps", "every", "plants"),
    [(8, 7, 7, 8), (8, 10, 7, 8), (8, 14, 14, 16), (8, 5, 5, 6), (1, 3, 3, 1), (10, 1, 1, 2)],
)
def test_a_household_never_has_more_ripe_than_it_eats_until_the_next(
    per_week: int, keeps: int, every: int, plants: int
) -> None:
    # Sums by hand: a batch stands until the next one is ripe, so no longer than it keeps.
    rhythm = rhythm_for(per_week, keeps)

    assert (rhythm.every, rhythm.plants) == (every, plants)
    assert rhythm.plants * 7 >= per_week * rhythm.every > (rhythm.plants - 1) * 7


def test_eating_weekly_is_one_edit() -> None:
    base = edits_runs.add_run(project(), lettuce())

    run = edits_runs.eat_weekly(base, base.runs[0].name, 8, 7).runs[0]

    assert (run.every, run.target, run.stands, run.share_rafts) == (7, 8, 7, True)
