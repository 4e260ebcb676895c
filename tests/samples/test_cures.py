"""A hole pushed out of its place is told of, and every change offered clears what it says."""

from pathlib import Path

import pytest

from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.project.edits import apply_cure, move_holes, set_planting
from layout_gui.project.file import load

FOLDER = Path(__file__).parents[2] / "sample_projects"


# Source: job map, check K10 (apply the offered change, warning gone).
@pytest.mark.parametrize("name", ["first-raft", "lined-trough", "school-bench", "twin-raceways"])
@pytest.mark.parametrize("push", [(40.0, 0.0), (-65.0, 3.5), (12.3, -61.7), (0.0, 48.0)])
def test_every_change_offered_clears_its_finding_and_brings_no_new_one(
    name: str, push: tuple[float, float]
) -> None:
    project = load(FOLDER / f"{name}.raft.json")
    plan = make_plan(project)
    bed = plan.beds[0]
    raft = bed.rafts[len(bed.rafts) // 2]
    holes = raft.design.holes
    for hole in (0, len(holes) // 2, len(holes) - 1):
        x, y = holes.xy[hole].tolist()
        to = {(raft.name, holes.names[hole]): (x + push[0], y + push[1])}
        pushed = move_holes(project, bed, to)
        told = make_plan(pushed, plan)
        keys = {finding.key for finding in told.findings}
        problems = [finding for finding in told.findings if finding.severity == "problem"]
        assert problems
        for finding in problems:
            after = make_plan(apply_cure(pushed, told, finding), told)
            assert {other.key for other in after.findings} <= keys - {finding.key}


def test_the_step_offered_for_places_that_stay_exact_leaves_none() -> None:
    project = load(FOLDER / "lined-trough.raft.json")
    coarse = set_planting(project, project.beds[0].name, round_to=Length.of("5 mm"))
    told = make_plan(coarse)
    found = [finding for finding in told.findings if finding.code == "rounding"]
    assert found

    cured = make_plan(apply_cure(coarse, told, found[0]), told)

    assert not [finding for finding in cured.findings if finding.code == "rounding"]
    assert cured.plants == told.plants
    step = cured.beds[0].bed.planting.round_to.mm  # type: ignore[union-attr]
    for design in cured.beds[0].designs:
        over = design.holes.xy / step
        assert abs(over - over.round()).max() < 1e-6
