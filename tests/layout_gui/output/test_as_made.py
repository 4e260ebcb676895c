"""A raft of the log is printed as it was made, byte for byte, after the project has changed.

Source: job map, check L1 (reprint equals first print byte for byte or by numbers).
"""

from datetime import date
from pathlib import Path

import pytest

from geometry.drawing.cut_sheet import lay_cut_sheet
from geometry.drawing.paper import COMMON
from geometry.model.project import Details
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.__main__ import main
from layout_gui.project.as_made import plan_as_made
from layout_gui.project.edits import describe, set_planting, set_units
from layout_gui.project.edits_log import note_made
from layout_gui.project.file import load, save
from tests.layout_gui.panels.desk import make_bench, make_project


@pytest.fixture
def changed(tmp_path: Path) -> Path:
    """One project as it was, and one that has changed in everything since its rafts were made."""
    bed = make_bench(obstacles=())
    alike = set_planting(make_project(bed), "Bench", joints="interchangeable")
    project = describe(alike, "Yard", Details("Ada", "B", "wet", "1 March"))
    save(tmp_path / "then.raft.json", project)
    project = note_made(project, make_plan(project), [("Bench", "R2")], date(2026, 3, 1))
    project = set_planting(set_units(project, "in"), "Bench", spacing=Length.of(120), crop="dill")
    path = tmp_path / "now.raft.json"
    save(path, describe(project, "Another yard", Details(revision="C")))
    return path


def test_every_file_is_the_same_to_the_last_byte(changed: Path, tmp_path: Path) -> None:
    files = "template.pdf,holes.csv,bench-1.svg,bench-1.dxf,corners.pdf,labels.pdf"
    then, again = tmp_path / "then", tmp_path / "again"

    assert not main(
        ["export", str(tmp_path / "then.raft.json"), "--out", str(then), "--only", files]
    )
    assert not main(["export", str(changed), "--made", "r2", "--out", str(again), "--only", files])

    assert len(list(again.iterdir())) == 6
    for file in again.iterdir():
        assert file.read_bytes() == (then / file.name).read_bytes(), file.name


def test_the_cut_sheet_has_the_page_of_then_and_the_cautions(changed: Path, tmp_path: Path) -> None:
    then = lay_cut_sheet(make_plan(load(tmp_path / "then.raft.json")))
    again = lay_cut_sheet(plan_as_made(load(changed), "R2"), COMMON)

    assert [part.title for part, _ in again.parts] == ["Cut sheet bench-1", "Cautions"]
    first = next(part for part, _ in then.parts if part.title == "Cut sheet bench-1")
    own = again.parts[0][0]
    assert (own.task, own.bookmark) == (first.task, first.bookmark)
    assert [list(row.draw(0, 0)) for row in own.rows] == [
        list(row.draw(0, 0)) for row in first.rows
    ]


def test_what_is_no_file_of_a_raft_and_no_raft_of_the_log_are_refused(
    changed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    order = ["export", str(changed), "--out", str(tmp_path / "out"), "--made"]
    assert main([*order, "R2", "--only", "summary.json"]) == 2
    assert "there is no file summary.json" in capsys.readouterr().err
    assert main([*order, "R9"]) == 2
    assert "No raft “R9” is in the log; there are R2." in capsys.readouterr().err
    assert not (tmp_path / "out").exists()
