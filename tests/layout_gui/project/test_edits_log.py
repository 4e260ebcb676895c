"""The log: rafts noted as made keep their drawing, counts and names hold together."""

from contextlib import suppress
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.made import drawn_of, plan_as_drawn
from geometry.model.as_built import lying, sites_as_built
from geometry.model.log import BatchGrown, Note, RaftMade
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.project.as_made import plan_as_made
from layout_gui.project.canonical import project_text
from layout_gui.project.drawn_text import drawn_text, read_drawn
from layout_gui.project.edits import remove_bed, rename_bed, set_planting
from layout_gui.project.edits_log import (
    add_entries,
    not_noted,
    note_made,
    remove_entries,
    rename_log_run,
    set_entry,
)
from layout_gui.project.file import load, loads
from tests.layout_gui.panels.desk import make_project

SAMPLES = Path(__file__).parents[3] / "sample_projects"
DAY = date(2026, 3, 1)


@cache
def noted() -> Project:
    project = make_project()
    plan = make_plan(project)
    return note_made(project, plan, not_noted(project, plan), DAY)


def batch(**changes: Any) -> BatchGrown:
    usual = {"seeds": 40, "up": 36, "set": 34, "picked": 30}
    return BatchGrown("heads", DAY, **(usual | changes))


@pytest.mark.parametrize("name", ["market-bench", "round-pool"])
def test_a_raft_comes_back_from_its_text_to_the_last_bit(name: str) -> None:
    project = load(SAMPLES / f"{name}.raft.json")
    plan = make_plan(project)
    for bed in plan.beds:
        for raft in bed.rafts:
            drawn = drawn_of(plan, bed.bed.name, raft.name)
            again = read_drawn(drawn_text(drawn))
            assert again == drawn
            assert plan_as_drawn(again).beds[0].designs == (raft.design,)


def test_a_raft_noted_as_made_stays_as_it_was_whatever_becomes_of_the_project() -> None:
    project = noted()
    then = make_plan(project).beds[0].rafts[0]
    changed = set_planting(
        loads(project_text(project).encode(), "x"), "Bench", spacing=Length.of(120)
    )

    own = plan_as_made(changed, "r1").beds[0]

    assert len(make_plan(changed).beds[0].rafts[0].design.holes) != len(then.design.holes)
    assert (own.rafts[0].name, own.rafts[0].x, own.rafts[0].y) == ("R1", then.x, then.y)
    assert own.designs[0] == then.design


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_spoilt_drawing_raises_nothing_but_a_sentence(data: st.DataObject) -> None:
    text = noted().log.rafts[0].drawing
    at = data.draw(st.integers(0, len(text) - 1))
    end = data.draw(st.integers(at, min(len(text), at + 40)))
    sign = data.draw(st.sampled_from(["", "0", "-1", "null", '"', "[", "}", "1e999", "true"]))
    with suppress(GeometryError):
        read_drawn(text[:at] + sign + text[end:])


def test_a_replacement_takes_the_place_and_the_old_raft_becomes_a_spare_one() -> None:
    project = noted()
    again = note_made(project, make_plan(project), [("Bench", "R1")], DAY)

    assert [made.label for made in again.log.rafts] == ["R1", "R2", "R1-2"]
    assert lying(again)["Bench", "R1"].label == "R1-2"
    assert again.log.rafts[0].place == ("", "")
    back = set_entry(again, "rafts", 0, bed="Bench", raft="R1")
    assert lying(back)["Bench", "R1"].label == "R1"
    assert len(lying(back)) == 2


def test_beds_and_rafts_and_runs_that_are_renamed_take_the_log_along() -> None:
    project = add_entries(noted(), "notes", [Note("split at A1", "raft", "R1", DAY)])
    project = set_entry(rename_bed(project, "Bench", "Trough"), "rafts", 0, label="Old one")

    assert lying(project)["Trough", "R1"].label == "Old one"
    assert project.log.notes[0].of == "Old one"
    assert not lying(remove_bed(project, "Trough"))
    assert not remove_entries(project, "rafts", [0]).log.notes

    grown = add_entries(project, "batches", [batch()])
    grown = add_entries(grown, "notes", [Note("mildew", "batch", "heads 2026-03-01")])
    log = rename_log_run(grown.log, "heads", "salad")
    assert (log.batches[0].run, log.notes[1].of) == ("salad", "salad 2026-03-01")


def test_what_cannot_be_is_refused_in_a_sentence() -> None:
    project = noted()
    with pytest.raises(GeometryError, match="“r1” is in the log already"):
        set_entry(project, "rafts", 1, label="r1")
    with pytest.raises(GeometryError, match="Label is missing"):
        add_entries(project, "rafts", [RaftMade("")])
    with pytest.raises(GeometryError, match="37 plants are more than the 36 there were before"):
        add_entries(project, "batches", [batch(set=37)])
    with pytest.raises(GeometryError, match="Sites must be from 0"):
        set_entry(project, "rafts", 0, sites=-1)
    with pytest.raises(GeometryError, match="No drawing of “by hand”"):
        plan_as_made(add_entries(project, "rafts", [RaftMade("by hand")]), "by hand")
    with pytest.raises(GeometryError, match="there are R1, R2"):
        plan_as_made(project, "R7")


def test_the_fewest_sites_of_rafts_in_use_count() -> None:
    design = noted().log.rafts[0].design
    assert sites_as_built(noted(), design) is None
    project = set_entry(noted(), "rafts", 0, sites=8)
    project = add_entries(project, "rafts", [RaftMade("spare", design, sites=7)])
    assert sites_as_built(project, design) == 7
    assert sites_as_built(set_entry(project, "rafts", 2, retired=True), design) == 8


def test_the_file_keeps_all_of_it() -> None:
    project = add_entries(noted(), "batches", [batch()])
    assert loads(project_text(project).encode(), "x") == project
    assert replace(project, log=loads(project_text(project).encode(), "x").log) == project
