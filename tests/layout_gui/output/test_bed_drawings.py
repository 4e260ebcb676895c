"""Whole beds as drawings, and the table of the cuts, read back against the plan."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import ezdxf
import ezdxf.bbox
import numpy as np
import pytest

from geometry.drawing.marks import Circle, Text
from geometry.drawing.styles import Style
from geometry.drawing.transforms import marks_of
from geometry.drawing.whole_bed import draw_whole_bed, extent_of
from geometry.plan import Plan, make_plan
from layout_gui.output.drawings import bed_drawings, kind_of
from layout_gui.output.export import CUTS, export, file_names, offered_names
from layout_gui.output.tables import write_holes
from layout_gui.project.file import loads

PROJECT = b"""{"format": "raftwright", "version": 1, "name": "p", "beds": [
 {"name": "Bed A", "outline": {"kind": "rectangle", "length": 1200, "width": 400}, "clearance": 10,
  "joint_gap": 5, "rafts": {"kind": "split", "along": 2},
  "obstacles": [{"name": "pipe <1>", "shape": {"kind": "disc", "centre": [1180, 20],
   "diameter": 60}, "clearance": 20}],
  "planting": {"spacing": 180, "hole_diameter": 50, "edge_margin": 60,
   "joints": "interchangeable"}}],
 "sheets": [{"name": "=board", "length": 1250, "width": 600}], "cutting": {"kerf": 3}}"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(loads(PROJECT, "p.raft.json"))


@pytest.fixture(scope="module")
def folder(plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("out")
    export(plan, out, frozenset({*bed_drawings(plan), CUTS}))
    return out


def holes(plan: Plan) -> list[dict[str, str]]:
    stream = io.StringIO()
    list(write_holes(plan, stream))
    return list(csv.DictReader(io.StringIO(stream.getvalue())))


def test_they_are_written_only_when_they_are_asked_for(plan: Plan, folder: Path) -> None:
    names = {"bed-a.bed.svg", "bed-a.bed.dxf", "cuts.csv"}
    assert {path.name for path in folder.iterdir()} == names
    assert names <= set(offered_names(plan))
    assert not names & set(file_names(plan))
    assert {kind_of(name) for name in names} == {".bed.svg", ".bed.dxf", "cuts.csv"}
    assert [kind_of(name) for name in ("bed-a-1.svg", "holes.csv")] == [".svg", "holes.csv"]


def test_every_hole_lies_in_the_bed_where_the_table_has_it(plan: Plan, folder: Path) -> None:
    table = np.array([(float(row["bed_x_mm"]), float(row["bed_y_mm"])) for row in holes(plan)])
    space = ezdxf.readfile(folder / "bed-a.bed.dxf").modelspace()  # type: ignore[attr-defined]
    circles = [each for each in space.query("CIRCLE") if "hole" in each.dxf.layer]

    drawn = np.array([tuple(circle.dxf.center)[:2] for circle in circles])
    assert len(drawn) == plan.plants > 0
    assert np.abs(drawn - table).max() < 1e-6
    points = np.array([tuple(point.dxf.location)[:2] for point in space.query("POINT")])
    assert (points == drawn).all()


def test_the_bed_drawing_reaches_as_far_as_it_says(folder: Path) -> None:
    document = ezdxf.readfile(folder / "bed-a.bed.dxf")  # type: ignore[attr-defined]
    assert not document.audit().errors
    found = ezdxf.bbox.extents(document.modelspace().query("LINE CIRCLE ARC"))
    assert found.extmin.isclose(document.header["$EXTMIN"], abs_tol=1e-6)
    assert found.extmax.isclose(document.header["$EXTMAX"], abs_tol=1e-6)


def test_a_drawing_is_named_for_rafts_holes_and_what_stands_in_the_water(
    plan: Plan, folder: Path
) -> None:
    (bed,) = plan.beds
    groups = [group.id for group in draw_whole_bed(bed).groups]
    wanted = [f"{row['raft']} {row['hole']}" for row in holes(plan)]
    assert [name for name in groups if " " in name and name[0] == "R"] == wanted
    assert {"water", "obstacle pipe <1>", "R1", "R2"} <= set(groups)
    text = (folder / "bed-a.bed.svg").read_text("utf-8")
    assert "<title>obstacle pipe &lt;1&gt;</title>" in text
    assert 'id="R1_20_A1"' in text


def test_names_in_a_turned_raft_stay_upright_and_by_their_holes(plan: Plan) -> None:
    (bed,) = plan.beds
    for group in draw_whole_bed(bed).groups:
        rims = [mark for mark in group.marks if isinstance(mark, Circle)]
        names = [mark for mark in group.marks if isinstance(mark, Text)]
        if len(rims) == 1 and rims[0].style is Style.HOLE:
            (name,) = names
            assert name.angle == 0
            assert abs(name.at.x - rims[0].centre.x) < 1e-9
            assert abs(name.at.y - rims[0].centre.y) < rims[0].radius + 8


def test_the_extent_of_a_drawing_holds_all_its_marks(plan: Plan) -> None:
    (bed,) = plan.beds
    drawing = draw_whole_bed(bed)
    left, bottom, right, top = extent_of(drawing)
    assert (left, bottom, top) == (0, -30, 400)  # the pipe's clearance reaches over the wall
    assert right == 1230
    for mark in marks_of(drawing.groups):
        if isinstance(mark, Circle):
            assert left <= mark.centre.x - mark.radius
            assert mark.centre.y + mark.radius <= top


def test_the_table_of_the_cuts_lays_every_raft_on_a_sheet_once(plan: Plan, folder: Path) -> None:
    with (folder / "cuts.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))

    rafts = sum(len(bed.rafts) for bed in plan.beds)
    assert len(rows) == rafts == 2
    assert {row["board"] for row in rows} == {"'=board"}
    assert len({(row["sheet"], row["piece"]) for row in rows}) == rafts
    shapes = {design.name: design.shape for bed in plan.beds for design in bed.designs}
    for row in rows:
        sizes = [float(shapes[row["raft_design"]].length), float(shapes[row["raft_design"]].width)]
        if row["turned"] == "yes":
            sizes.reverse()
        assert [float(row["length_mm"]), float(row["width_mm"])] == pytest.approx(sizes, abs=1e-6)
        assert 0 <= float(row["x_mm"]) <= 1250 - float(row["length_mm"])
        assert 0 <= float(row["y_mm"]) <= 600 - float(row["width_mm"])


def test_beds_that_are_not_planned_yet_have_no_drawings(plan: Plan) -> None:
    """The window looks while the plan of a project is still being made."""
    assert len(list(bed_drawings(plan))) == 2
    assert not list(bed_drawings(replace(plan, beds=())))
