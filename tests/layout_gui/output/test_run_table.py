"""What the summary says of runs is what the plan and sums by hand say."""

import json
from dataclasses import replace

from geometry.model.run import Run
from layout_gui.output.tables import summary_json
from tests.geometry.test_running import class_run, planned


def test_the_summary_tells_each_run_and_the_fullest_day() -> None:
    summary = json.loads(summary_json(planned(class_run(target=9), replace(Run("bare"), every=3))))

    school, bare = summary["runs"]
    assert (school["seeds"], school["harvest"], school["per_week"]) == (12, 9, 9)
    assert (school["first_harvest"], school["left_out"]) == ("2027-04-19", 0)
    assert [stage["places"] for stage in school["stages"]] == [0, 4]
    assert list(school["by_week"].items())[:2] == [("2027-04-19", 9), ("2027-04-26", 9)]
    assert bare["lack"] == "stages"
    assert summary["run_places"] == {"Bench": 4}


def test_without_runs_the_summary_is_as_it_was() -> None:
    assert "runs" not in json.loads(summary_json(planned()))
