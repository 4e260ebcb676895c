"""Every sample project opens, plans without a problem, and saves to the same bytes."""

import csv
import json
from pathlib import Path

import pytest

from geometry.model.outlines import Disc, LShape, Measured, Rectangle, RoundEnded
from geometry.plan import Plan, make_plan
from layout_gui.output.export import export, file_names
from layout_gui.project.file import dumps, load

FOLDER = Path(__file__).parents[2] / "sample_projects"
SAMPLES = sorted(FOLDER.glob("*.raft.json"))
READY = sorted((FOLDER.parent / "layout_gui" / "resources" / "beds").glob("*.raft.json"))
_plans: dict[Path, Plan] = {}


@pytest.fixture(params=SAMPLES, ids=lambda path: path.name.removesuffix(".raft.json"))
def sample(request: pytest.FixtureRequest) -> Path:
    path: Path = request.param
    return path


@pytest.fixture
def plan(sample: Path) -> Plan:
    """Plan each sample once; plans are frozen."""
    if sample not in _plans:
        _plans[sample] = make_plan(load(sample))
    return _plans[sample]


def test_the_folder_holds_nothing_but_samples() -> None:
    assert sorted(FOLDER.iterdir()) == SAMPLES
    assert len(SAMPLES) >= 4


def test_saving_a_sample_gives_the_same_bytes(sample: Path) -> None:
    assert dumps(load(sample)) == sample.read_bytes()


def test_a_sample_has_plants_and_no_problem(plan: Plan) -> None:
    assert all(bed.plants for bed in plan.beds)
    assert [finding for finding in plan.findings if finding.severity == "problem"] == []


def test_every_open_finding_of_a_sample_is_a_note_or_accepted(plan: Plan) -> None:
    accepted = {note.key for note in plan.project.accepted}

    assert accepted <= {finding.key for finding in plan.findings}
    assert {finding.severity for finding in plan.findings if finding.key not in accepted} <= {
        "note"
    }


@pytest.mark.parametrize("ready", READY, ids=lambda path: path.name.removesuffix(".raft.json"))
def test_a_ready_bed_is_full_and_leaves_nothing_to_settle(ready: Path) -> None:
    plan = make_plan(load(ready))

    assert dumps(load(ready)) == ready.read_bytes()
    assert plan.plants > 20
    assert plan.findings == ()
    assert not plan.cut.unplaced


def test_every_raft_of_a_sample_is_cut(plan: Plan) -> None:
    assert not plan.cut.unplaced
    cut = sum(sheet.copies * len(sheet.pieces) for sheet in plan.cut.sheets)
    assert cut == sum(len(bed.rafts) for bed in plan.beds)


def test_a_sample_exports_whole_and_its_files_count_what_the_plan_counts(
    plan: Plan, tmp_path: Path
) -> None:
    written = export(plan, tmp_path)

    assert tuple(path.name for path in written) == file_names(plan)
    assert sorted(tmp_path.iterdir()) == sorted(written)
    assert all(path.stat().st_size for path in written)
    rows = list(csv.DictReader((tmp_path / "holes.csv").read_text("utf-8").splitlines()))
    summary = json.loads((tmp_path / "summary.json").read_text("utf-8"))
    assert len(rows) == plan.plants == summary["total"]["plants"]
    assert summary["total"]["sheets"] == plan.cut.sheet_count
    assert [bed["plants"] for bed in summary["beds"]] == [bed.plants for bed in plan.beds]
    for bed in plan.beds:
        assert sum(row["bed"] == bed.bed.name for row in rows) == bed.plants


def test_the_samples_show_different_outlines_joints_units_and_choices() -> None:
    projects = [load(path) for path in SAMPLES]
    beds = [bed for project in projects for bed in project.beds]

    assert {type(bed.outline) for bed in beds} >= {Rectangle, Measured, Disc, RoundEnded, LShape}
    assert {bed.planting.joints for bed in beds if bed.planting} == {
        "bed-wide",
        "interchangeable",
        "separate",
    }
    assert {project.units for project in projects} == {"mm", "cm", "in"}
    assert any(project.choices for project in projects)
