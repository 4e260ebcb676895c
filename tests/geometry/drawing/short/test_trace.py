"""The trace: what its pages show, set on their chalk lines, is the edge of the raft."""

from math import hypot, pi

import numpy as np
import pytest

from geometry.drawing.marks import Group, Path
from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.shaping import arc_offsets, station_step
from geometry.drawing.short.slips import PRINT_SHARE, SET_MM, tape_mm
from geometry.drawing.short.trace import trace_of, trace_set
from geometry.drawing.styles import Style
from geometry.model.curves import Arc, Line, Loop, Point
from geometry.model.edges import end_of, middle_of, start_of
from geometry.plan import RaftDesign
from tests.builders import make_design, make_grid, make_holes, make_loop, make_shape
from tests.geometry.drawing.short.stages import groups_of, job_of, shaped

DISC = shaped(
    Loop((Arc(Point(300, 300), 300, 0, 2 * pi),)), 600, 600, make_holes([(300, 300), (400, 300)])
)
HALF = shaped(
    Loop((Line(Point(0, 0), Point(800, 0)), Arc(Point(400, 0), 400, 0, pi))),
    800,
    400,
    make_holes([(400, 100), (500, 100)]),
)
NOTCHED = shaped(
    make_loop((0, 0), (900, 0), (900, 350), (620, 350), (620, 600), (0, 600)),
    900,
    600,
    make_grid(600, 340, columns=3, rows=2),
)


def _edges(design: RaftDesign, paper: str) -> list[tuple[float, float]]:
    """Points of the printed edges in raft coordinates, read off the printed chalk lines."""
    job = job_of(design, PageSetup(PAPERS[paper]))
    found: list[tuple[float, float]] = []
    for draw in trace_set(job).sheets:
        groups: list[Group] = list(groups_of(draw(1, 1)))
        lines: dict[str, list[tuple[float, Path]]] = {"x": [], "y": []}
        for group in groups:
            if group.id.startswith("line "):
                _, axis, place = group.id.split()
                stroke = next(mark for mark in group.marks if isinstance(mark, Path))
                lines[axis].append((float(place), stroke))
        assert lines["x"], "a page cannot be set without a line each way"
        assert lines["y"]
        x_place, x_line = lines["x"][0]
        y_place, y_line = lines["y"][0]
        (ax, ay), (bx, by) = start_of(x_line.curves[0]), end_of(x_line.curves[0])
        up = np.array([bx - ax, by - ay]) / hypot(bx - ax, by - ay)
        (cx, cy), (dx, dy) = start_of(y_line.curves[0]), end_of(y_line.curves[0])
        right = np.array([dx - cx, dy - cy]) / hypot(dx - cx, dy - cy)
        assert right[0] * up[1] - right[1] * up[0] == pytest.approx(1), "face up, not mirrored"
        for group in groups:
            for mark in group.marks:
                if isinstance(mark, Path) and mark.style is Style.DATUM and group.id == "edge":
                    for curve in mark.curves:
                        for point in (start_of(curve), middle_of(curve), end_of(curve)):
                            x = x_place + (np.array(point) - (ax, ay)) @ right
                            y = y_place + (np.array(point) - (cx, cy)) @ up
                            found.append((float(x), float(y)))
    return found


@pytest.mark.parametrize("paper", ["common", "A3", "Letter"])
def test_the_traced_half_circle_lies_on_its_circle(paper: str) -> None:
    """Job map R8 asks for half a millimetre; the pages are true to a hundredth."""
    points = np.array(_edges(HALF, paper))

    on_arc = np.abs(np.hypot(points[:, 0] - 400, points[:, 1]) - 400) < 0.01
    on_base = np.abs(points[:, 1]) < 0.01
    assert on_arc.any()
    assert (on_arc | on_base).all()


def test_the_traced_notch_lies_on_the_outline() -> None:
    points = _edges(NOTCHED, "common")
    corners = {(round(x, 2), round(y, 2)) for x, y in points}

    assert {(620.0, 350.0), (620.0, 600.0), (900.0, 350.0)} <= corners


def test_offsets_each_50_mm_and_2_in_lie_on_the_circle() -> None:
    """Job map R8: within 0.5 mm of the circle, here of radius 300 and 400."""
    for design, centre, radius in ((DISC, (300, 300), 300), (HALF, (400, 0), 400)):
        shape = design.shape
        length, width = float(shape.length), float(shape.width)
        for unit in ("mm", "in"):
            offsets = arc_offsets(shape, station_step(unit))
            assert offsets
            for one in offsets:
                for along, into in one.stations:
                    x, y = {
                        "left": (into, along), "right": (length - into, along),
                        "bottom": (along, into), "top": (along, width - into),
                    }[one.side]  # fmt: skip
                    assert hypot(x - centre[0], y - centre[1]) == pytest.approx(radius, abs=0.5)


def test_the_pages_cover_the_odd_edge_and_are_fewer_than_the_full_set() -> None:
    for design, most in ((HALF, 8), (NOTCHED, 4), (DISC, 12)):
        trace = trace_of(job_of(design))
        assert trace is not None
        x, y = trace.points.T
        seen = np.zeros(len(x), dtype=bool)
        for view in trace.views:
            seen |= (x >= view.left) & (x <= view.right) & (y >= view.bottom) & (y <= view.top)
        assert seen.all()
        assert len(trace.views) <= most


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_stated_error_is_the_worst_over_all_points_of_the_edge(unit: str) -> None:
    """Tape and setting of the nearest printed line, and the printer from there to the edge."""
    trace = trace_of(job_of(HALF, unit=unit))
    assert trace is not None
    worst = [0.0, 0.0]
    for view in trace.views:
        for x, y in trace.points:
            if view.left <= x <= view.right and view.bottom <= y <= view.top:
                for axis, place in ((0, x), (1, y)):
                    far = min(abs(place - line) for line in trace.lines(view)[axis])
                    off = max(
                        abs(tape + setting + ink * far)
                        for tape in (-tape_mm(unit), tape_mm(unit))
                        for setting in (-SET_MM, SET_MM)
                        for ink in (-PRINT_SHARE, PRINT_SHARE)
                    )
                    worst[axis] = max(worst[axis], off)

    assert trace.error == pytest.approx(tuple(worst))


def test_a_rectangle_needs_no_tracing() -> None:
    design = make_design(shape=make_shape(600, 400), holes=make_grid(600, 400, columns=3, rows=2))

    assert "rectangle" in trace_set(job_of(design)).reason
