"""DXF read back and audited by ezdxf."""

import io
import subprocess
import sys
from math import pi
from pathlib import Path as FilePath

import ezdxf
import numpy as np
import pytest

from geometry.drawing.marks import Drawing, Group, Path
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import Style
from geometry.model.curves import Arc, Line, Point
from layout_gui.output.dxf import render_dxf
from tests.builders import make_design, make_holes


def _read(drawing: Drawing) -> ezdxf.document.Drawing:
    document = ezdxf.read(io.StringIO(render_dxf(drawing).decode()))
    assert not document.audit().errors
    return document


def test_it_is_in_millimetres() -> None:
    document = _read(draw_raft(make_design()))

    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1


def test_each_hole_is_a_circle_with_a_point_on_layers_named_for_holes() -> None:
    holes = make_holes([(50.5, 60.25), (200, 1 / 3)], diameter=50.8)
    space = _read(draw_raft(make_design(holes=holes))).modelspace()

    circles = space.query("CIRCLE")
    found = np.array([tuple(circle.dxf.center)[:2] for circle in circles])
    assert np.abs(found - holes.xy).max() < 1e-9
    assert {circle.dxf.layer for circle in circles} == {"holes-50.8mm"}
    assert {circle.dxf.radius for circle in circles} == {25.4}
    points = space.query("POINT")
    assert {tuple(point.dxf.location) for point in points} == {
        tuple(circle.dxf.center) for circle in circles
    }
    assert all("hole" in point.dxf.layer for point in points)


def test_the_outline_starts_at_the_datum_corner_and_has_the_rafts_size() -> None:
    (outline,) = (
        _read(draw_raft(make_design())).modelspace().query("LWPOLYLINE[layer=='raft-outline']")
    )

    corners = [tuple(corner) for corner in outline.get_points("xy")]
    assert corners == [(0, 0), (581, 0), (581, 560), (0, 560)]
    assert outline.closed


def test_names_are_text_and_the_reference_line_has_its_own_layer() -> None:
    space = _read(draw_raft(make_design())).modelspace()

    names = [text.dxf.text for text in space.query("TEXT[layer=='text']")]
    assert names == list(make_design().holes.names)
    (line,) = space.query("LINE[layer=='reference-line']")
    assert line.dxf.start.distance(line.dxf.end) == 100


@pytest.mark.parametrize(
    ("sweep", "first", "last"), [(pi / 2, 30, 120), (-pi / 2, -60, 30), (pi * 1.5, 30, 300)]
)
def test_arcs_are_arcs_counter_clockwise(sweep: float, first: float, last: float) -> None:
    arc = Arc(Point(100, 200), 40, pi / 6, sweep)
    (found,) = _read(Drawing((Group("g", (Path((arc,), Style.RAFT),)),))).modelspace().query("ARC")

    assert found.dxf.start_angle % 360 == pytest.approx(first % 360)
    assert found.dxf.end_angle % 360 == pytest.approx(last % 360)
    assert (tuple(found.dxf.center)[:2], found.dxf.radius) == ((100, 200), 40)


def test_a_round_raft_is_a_circle_that_is_no_hole() -> None:
    loop = Path((Arc(Point(50, 50), 50, 0, 2 * pi),), Style.RAFT, closed=True)
    (circle,) = _read(Drawing((Group("outline", (loop,)),))).modelspace().query("CIRCLE")

    assert circle.dxf.layer == "raft-outline"
    assert circle.dxf.radius == 50


def test_an_outline_with_a_bend_is_closed_by_its_last_line() -> None:
    bend = (Line(Point(0, 0), Point(50, 0)), Arc(Point(0, 0), 50, 0, pi / 2))
    space = _read(Drawing((Group("o", (Path(bend, Style.RAFT, closed=True),)),))).modelspace()

    lines = space.query("LINE[layer=='raft-outline']")
    assert len(lines) == 2
    assert tuple(lines[1].dxf.start)[:2] == pytest.approx((0, 50))
    assert tuple(lines[1].dxf.end)[:2] == (0, 0)


def test_the_same_drawing_gives_the_same_bytes_in_every_process() -> None:
    code = (
        "import hashlib; from tests.builders import make_design;"
        "from geometry.drawing.raft import draw_raft; from layout_gui.output.dxf import render_dxf;"
        "print(hashlib.sha256(render_dxf(draw_raft(make_design(), unit='mm'))).hexdigest())"
    )
    root = FilePath(__file__).parents[3]
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(seen) == 1
