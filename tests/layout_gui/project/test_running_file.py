"""What a crop is run by, in the project file: written, read, and refused with its place."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.flow.room import Room
from geometry.flow.run_plan import plan_runs
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.units import Length
from layout_gui.project.bounds import refuse_out_of_bounds
from layout_gui.project.canonical import project_text
from layout_gui.project.faults import ProjectFileError
from layout_gui.project.file import load, loads
from tests import running_strategies as some


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.lists(some.pots, max_size=2, unique_by=lambda pot: pot.name.casefold()).map(tuple),
    st.lists(some.own_crops, max_size=2, unique_by=lambda crop: crop.name.casefold()).map(tuple),
    some.limits,
    some.allowances,
    st.lists(some.runs, max_size=2, unique_by=lambda run: run.name.casefold()).map(tuple),
    some.logs,
)
def test_all_of_it_is_read_as_it_was_written(
    tmp_path: Path, pots: Any, crops: Any, limits: Any, allowances: Any, runs: Any, log: Any
) -> None:
    project = Project(
        "all", pots=pots, crops=crops, limits=limits, allowances=allowances, runs=runs, log=log
    )
    file = tmp_path / "all.raft.json"
    file.write_text(project_text(project), encoding="utf-8")
    assert load(file) == project


@settings(
    max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(some.waters, st.booleans(), st.sampled_from(["no", "far", "near"]))
def test_the_water_of_a_bed_is_read_as_it_was_written(
    tmp_path: Path, water: Any, has_seal: bool, pushed: Any
) -> None:
    file = tmp_path / "bed.raft.json"
    file.write_text(json.dumps(_file(beds=[_BED])), encoding="utf-8")
    plain = load(file)
    bed = replace(plain.beds[0], water=water, edge_seal=has_seal, pushed=pushed)
    project = replace(plain, beds=(bed,))
    file.write_text(project_text(project), encoding="utf-8")
    assert load(file) == project


_BED: dict[str, Any] = {"outline": {"kind": "rectangle", "length": 1000, "width": 600}}
_PLANTED = {**_BED, "planting": {"spacing": 200, "hole_diameter": 50, "pot": "two inch"}}
_POT = {"name": "two inch", "body": 46, "depth": 50, "foot": 32, "rim": 57}


def _file(**keys: Any) -> dict[str, Any]:
    return {"format": "raftwright", "version": 1, **keys}


def test_a_pot_is_named_by_the_planting(tmp_path: Path) -> None:
    file = tmp_path / "pot.raft.json"
    file.write_text(json.dumps(_file(pots=[_POT], beds=[_PLANTED])), encoding="utf-8")
    project = load(file)
    planting = project.beds[0].planting
    assert planting is not None
    assert planting.pot == project.pots[0].name
    assert project.pots[0].rim == Length.of(57)


@pytest.mark.parametrize(
    ("keys", "place", "words"),
    [
        ({"beds": [_PLANTED]}, "/beds/0/planting/pot", "no pot"),
        ({"pots": [_POT, _POT]}, "/pots/1/name", "there already"),
        ({"pots": [{**_POT, "foot": 60}]}, "/pots/0/foot", "as wide as the body"),
        ({"pots": [{**_POT, "rim": 40}]}, "/pots/0/rim", "as wide as the body"),
        ({"beds": [{**_BED, "water": {"depth": 200, "low": 200}}]}, "/beds/0/water/low", "less"),
        ({"beds": [{**_BED, "water": {"celsius": 60}}]}, "/beds/0/water/celsius", "45"),
        (
            {"runs": [{"name": "a", "stages": [{"name": "b", "days": 9, "bed": "none"}]}]},
            "/runs/0/stages/0/bed",
            "no bed",
        ),
        (
            {"runs": [{"name": "a", "stages": [{"name": "b", "days": 9, "survival": 1.2}]}]},
            "/runs/0/stages/0/survival",
            "at most 1",
        ),
        (
            {"runs": [{"name": "a", "stages": [{"name": "b", "days": 9}], "first": "2026-02-30"}]},
            "/runs/0/first",
            "calendar",
        ),
        (
            {
                "runs": [
                    {
                        "name": "a",
                        "stages": [{"name": "b", "days": 9}],
                        "pauses": [{"first": "2026-02-03", "last": "2026-02-01"}],
                    }
                ]
            },
            "/runs/0/pauses/0/last",
            "before it begins",
        ),
        (
            {"runs": [{"name": "a", "stages": [{"name": "b", "days": 9}], "first": "9999-12-31"}]},
            "/runs/0/first",
            "2999",
        ),
        (
            {"runs": [{"name": "a", "stages": [{"name": "b", "days": 3650}] * 11}]},
            "/runs/0/stages",
            "36 500 days",
        ),
        ({"limits": {"sound": 0}}, "/limits/sound", "above 0"),
        ({"log": {"batches": [{"run": "a", "sown": "today"}]}}, "/log/batches/0/sown", "calendar"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(
    tmp_path: Path, keys: dict[str, Any], place: str, words: str
) -> None:
    file = tmp_path / "bad.raft.json"
    file.write_text(json.dumps(_file(**keys)), encoding="utf-8")
    with pytest.raises(ProjectFileError) as refused:
        load(file)
    assert place in str(refused.value)
    assert words in str(refused.value)


def test_the_slowest_run_that_may_be_written_is_reckoned() -> None:
    days = ("2999-12-31", "2999-12-31")
    stages = [{"name": "b", "days": 3650, "bed": "Bench"}] * 9
    slow = {"first": days[0], "last": days[1], "factor": 10}
    run = {"name": "a", "stages": stages, "first": days[0], "slow_times": [slow], "every": 3650}
    project = loads(
        json.dumps(_file(beds=[{**_BED, "name": "Bench"}], runs=[run])).encode(), "slow"
    )
    offered = [Room("Bench", "", tuple(f"R{n}" for n in range(40)), 4)]
    (made,) = plan_runs(project.runs, {"Bench": offered})
    assert made.first_harvest is not None
    assert made.first_harvest.year > 3000


def test_a_day_out_of_bounds_is_refused_by_an_edit_too() -> None:
    run = Run("a", stages=(RunStage("b", 9),), first=date(9999, 12, 31))
    with pytest.raises(GeometryError, match="2999"):
        refuse_out_of_bounds(run)
