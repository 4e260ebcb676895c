"""DXF read back and audited by ezdxf."""

import io
import subprocess
import sys
from math import pi
from pathlib import Path as FilePath

import ezdxf
import ezdxf.bbox
import numpy as np
import pytest
import shapely
from ezdxf.lldxf.validator import is_valid_layer_name

from geometry.drawing.marks import Drawing, Group, Path, Text
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Arc, Line, Point
from layout_gui.output.dxf import render_dxf
from layout_gui.output.glyphs import lettered
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
    lines = _read(draw_raft(make_design())).modelspace().query("LINE[layer=='raft-outline']")

    corners = [tuple(line.dxf.start)[:2] for line in lines]
    assert corners == [(0, 0), (581, 0), (581, 560), (0, 560)]
    assert [tuple(line.dxf.end)[:2] for line in lines] == [*corners[1:], corners[0]]


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


def test_it_opens_with_everything_in_sight_and_says_how_far_it_reaches() -> None:
    document = _read(draw_raft(make_design()))
    low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]

    assert (tuple(low)[:2], tuple(high)[:2]) == ((0, -15), (581, 560))
    found = ezdxf.bbox.extents(document.modelspace().query("LINE CIRCLE ARC"))
    assert found.extmin.isclose(low, abs_tol=1e-6)
    assert found.extmax.isclose(high, abs_tol=1e-6)
    (view,) = document.viewports.get("*Active")
    assert view.dxf.height > 575
    assert tuple(view.dxf.center)[:2] == (290.5, 272.5)


def test_only_letters_are_ever_polylines() -> None:
    as_text, as_lines = (
        ezdxf.read(io.StringIO(render_dxf(draw_raft(make_design()), letters).decode()))
        for letters in ("text", "outlines")
    )

    assert not as_text.modelspace().query("LWPOLYLINE")
    assert not as_lines.audit().errors
    assert not as_lines.modelspace().query("TEXT")
    loops = as_lines.modelspace().query("LWPOLYLINE")
    assert {loop.dxf.layer for loop in loops} == {"text", "reference-line"}
    assert all(loop.closed for loop in loops)
    for kind in ("CIRCLE", "POINT", "LINE"):
        assert len(as_lines.modelspace().query(kind)) == len(as_text.modelspace().query(kind))


def test_letters_as_lines_stand_where_the_text_does() -> None:
    text = Text(Point(50, 70), "H", 10, Style.LABEL, "middle")
    data = render_dxf(Drawing((Group("g", (text,)),)), "outlines")
    document = ezdxf.read(io.StringIO(data.decode()))
    (loop,) = document.modelspace().query("LWPOLYLINE[layer=='text']")
    corners = np.array(loop.get_points("xy"))

    assert corners[:, 1].min() == pytest.approx(70)
    assert corners[:, 1].max() == pytest.approx(70 + 10 * CAP_HEIGHT)
    assert (corners[:, 0].min() + corners[:, 0].max()) / 2 == pytest.approx(50, abs=0.05)
    assert corners[:, 0].max() - corners[:, 0].min() < text_width("H", 10)


def test_letters_bend_as_they_should_at_any_size() -> None:
    """Against the curve itself, read by fontTools and walked along in many small steps."""
    for height in (3.0, 150.0):
        text = Text(Point(0, 0), "S", height, Style.LABEL)
        data = render_dxf(Drawing((Group("g", (text,)),)), "outlines")
        document = ezdxf.read(io.StringIO(data.decode()))
        (loop,) = document.modelspace().query("LWPOLYLINE[layer=='text']")
        line = shapely.LinearRing(loop.get_points("xy"))
        walked = []
        here = (0.0, 0.0)
        for kind, points in lettered("S", bold=False).steps:
            if kind == "curve":
                pull = np.array([here, *points]) * height
                t = np.linspace(0, 1, 40)[:, None]
                walked.extend(
                    (1 - t) ** 3 * pull[0] + 3 * t * (1 - t) ** 2 * pull[1]
                    + 3 * t * t * (1 - t) * pull[2] + t**3 * pull[3]
                )  # fmt: skip
            here = points[-1]
        assert len(walked) > 400
        assert shapely.distance(shapely.points(walked), line).max() < 0.0101
    assert 30 < len(line.coords) < 400


@pytest.mark.parametrize(
    "name", ["50%%d", "%%u", "a^I", "5 ^ 6", "بيت 計 \u202eR1", "<&> \\P {}", "two\nlines\x00"]
)
def test_a_name_is_read_back_as_it_was_typed(name: str) -> None:
    document = _read(Drawing((Group("g", (Text(Point(0, 0), name, 4, Style.LABEL),)),)))
    (found,) = document.modelspace().query("TEXT[layer=='text']")

    wanted = name.replace("\u202e", "").replace("\n", " ").replace("\x00", " ")
    assert found.plain_text() == wanted


def test_every_layer_has_a_lawful_name() -> None:
    """The signs that are forbidden in names since AC1015; validator of the reading library."""
    holes = make_holes([(50, 60), (150, 60)], diameter=47.625)
    document = _read(draw_raft(make_design(holes=holes), unit="in"))

    names = [layer.dxf.name for layer in document.layers]
    assert "holes-47.625mm" in names
    assert all(is_valid_layer_name(name) for name in names)
    used = {entity.dxf.layer for entity in document.modelspace()}
    assert used <= set(names)


def test_the_same_drawing_gives_the_same_bytes_in_every_process() -> None:
    code = (
        "import hashlib; from tests.builders import make_design;"
        "from geometry.drawing.raft import draw_raft; from layout_gui.output.dxf import render_dxf;"
        "drawing = draw_raft(make_design(), unit='mm');"
        "print([hashlib.sha256(render_dxf(drawing, letters)).hexdigest()"
        " for letters in ('text', 'outlines')])"
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
