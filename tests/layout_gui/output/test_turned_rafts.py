"""A design used turned half round: made once on paper, placed twice in the tables."""

import csv
import json
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from geometry.plan import make_plan
from layout_gui.output.export import export
from layout_gui.project.file import load

SAMPLES = Path(__file__).parents[3] / "sample_projects"


@pytest.mark.parametrize(
    ("sample", "bed"), [("round-pool", "Paddling pool"), ("backyard-tanks", "Stock tank")]
)
def test_two_halves_are_one_file_and_lie_turned_in_the_table(
    sample: str, bed: str, tmp_path: Path
) -> None:
    plan = make_plan(load(SAMPLES / f"{sample}.raft.json"))
    (planned,) = (each for each in plan.beds if each.bed.name == bed)
    (design,) = planned.designs
    names = frozenset({"holes.csv", "summary.json", f"{design.name}.dxf"})
    export(plan, tmp_path, names)

    drawn = ezdxf.readfile(tmp_path / f"{design.name}.dxf").modelspace()  # type: ignore[attr-defined]
    holes = np.array(
        sorted(
            (circle.dxf.center.x, circle.dxf.center.y)
            for circle in drawn.query("CIRCLE")
            if "hole" in circle.dxf.layer.lower()
        )
    )
    rows = list(csv.DictReader((tmp_path / "holes.csv").read_text("utf-8").splitlines()))
    for raft in planned.rafts:
        own = [row for row in rows if (row["bed"], row["raft"]) == (bed, raft.name)]
        places = [tuple(float(row[key]) for key in ("x_mm", "y_mm")) for row in own]
        assert np.allclose(np.array(sorted(places)), holes, atol=0.02)
        for row in own:
            x, y, bed_x, bed_y = (float(row[k]) for k in ("x_mm", "y_mm", "bed_x_mm", "bed_y_mm"))
            if raft.turned:
                x, y = float(design.shape.length) - x, float(design.shape.width) - y
            assert (bed_x, bed_y) == pytest.approx((raft.x + x, raft.y + y), abs=1e-3)
    assert [raft.turned for raft in planned.rafts] == [False, True]
    summary = json.loads((tmp_path / "summary.json").read_text("utf-8"))
    assert summary["total"]["raft_designs"] == len(plan.beds)
    assert {name: count for name, *_, count in plan.needed}[design.name] == 2
