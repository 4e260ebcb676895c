"""The corner set: lines snapped between printed marks cross in the planned holes."""

from itertools import combinations, product

import numpy as np
import pytest

from geometry.drawing.lettering import text_box
from geometry.drawing.marks import Path
from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.short.corners import CornerSet, corner_set, corners_of
from geometry.drawing.short.slips import PRINT_SHARE, SET_MM, tape_mm
from geometry.drawing.styles import Style
from geometry.model.edges import end_of, start_of
from geometry.plan import RaftDesign
from tests.builders import make_design, make_grid, make_holes, make_shape
from tests.geometry.drawing.short.stages import groups_of, job_of, stagger

GRID = make_design(shape=make_shape(900, 600), holes=make_grid(900, 600, columns=5, rows=3))
HEXAGONAL = stagger(1000, 620, pitch=150, rows=4, gap=130, offset=75, long=6, short=5)


def _read(corners: CornerSet) -> dict[str, list[tuple[float, float]]]:
    """Where each line is printed, in raft coordinates: measured from the edges on its page."""
    found: dict[str, list[tuple[float, float]]] = {}
    length, width = (float(side) for side in
                     (corners.job.design.shape.length, corners.job.design.shape.width))  # fmt: skip
    for page, draw in zip(corners.pages, corner_set(corners.job).sheets, strict=True):
        groups = {group.id: group for group in groups_of(draw(1, 1))}
        ends = np.array([
            end for mark in groups["edges"].marks if isinstance(mark, Path)
            and mark.style is Style.DATUM and len(mark.curves) == 1
            for end in (start_of(mark.curves[0]), end_of(mark.curves[0]))
        ])  # fmt: skip
        # The corner is where the two heavy lines meet: the ends that come twice.
        corner = next(end for end in ends if (np.hypot(*(ends - end).T) < 1e-9).sum() == 2)
        origin = (page.corner[0] * length, page.corner[1] * width)
        for name, group in groups.items():
            if name.startswith("line "):
                stroke = next(mark for mark in group.marks if isinstance(mark, Path))
                for end in (start_of(stroke.curves[0]), end_of(stroke.curves[0])):
                    x, y = np.array(end) - corner
                    if corners.turned:
                        x, y = y, -x
                    found.setdefault(name, []).append((origin[0] + x, origin[1] + y))
    return found


@pytest.mark.parametrize("design", [GRID, HEXAGONAL])
@pytest.mark.parametrize("paper", ["common", "A3"])
def test_lines_on_two_pages_have_one_place_and_cross_in_the_holes(
    design: RaftDesign, paper: str
) -> None:
    corners = corners_of(job_of(design, PageSetup(PAPERS[paper])))
    assert corners is not None
    places = _read(corners)

    for axis in (0, 1):
        for place, printed in zip(corners.lines[axis], corners.printed(axis), strict=True):
            ends = places.get(f"line {'xy'[axis]} {place:.3f}", [])
            assert printed == bool(ends)
            assert [end[axis] for end in ends] == pytest.approx([place] * len(ends), abs=0.01)
            if ends and len(corners.pages) == 4:
                assert len(ends) == 4, "the line is on a page at each of its ends"
    for x, y in design.holes.xy:
        assert min(abs(np.array(corners.lines[0]) - x)) < 0.01
        assert min(abs(np.array(corners.lines[1]) - y)) < 0.01


def test_a_large_raft_takes_four_pages_and_a_narrow_one_two() -> None:
    """The common page shows 182 x 231.4 mm, 6 of it beyond the edge: counted by hand."""
    narrow = make_design(shape=make_shape(900, 200), holes=make_grid(900, 200, columns=6, rows=2))

    for design, count in ((GRID, 4), (narrow, 2)):
        corners = corners_of(job_of(design))
        assert corners is not None
        assert len(corners.pages) == count


@pytest.mark.parametrize("design", [GRID, HEXAGONAL])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_stated_error_is_the_worst_of_all_slips_tried_out(
    design: RaftDesign, unit: str
) -> None:
    """Each mark slips with its page, with the printer and with the string; a hole lies between."""
    corners = corners_of(job_of(design, unit=unit))
    assert corners is not None
    sides = (float(design.shape.length), float(design.shape.width))
    worst = [0.0, 0.0]
    for axis in (0, 1):
        for place, printed in zip(corners.lines[axis], corners.printed(axis), strict=True):
            far = min(place, sides[axis] - place)
            if printed:
                ends = [page + ink * far + string for page, ink, string in product(
                    (-SET_MM, SET_MM), (-PRINT_SHARE, PRINT_SHARE), (-SET_MM, SET_MM))]  # fmt: skip
            else:
                ends = [sum(each) for each in product(
                    (-tape_mm(unit), tape_mm(unit)), (-SET_MM, SET_MM))]  # fmt: skip
            for first, second in product(ends, repeat=2):
                for share in (0.0, 0.3, 1.0):
                    off = abs(first + share * (second - first))
                    worst[axis] = max(worst[axis], off)

    assert corners.error == pytest.approx(tuple(worst))


def test_more_lines_than_holes_leave_the_corner_set_out() -> None:
    rng = np.random.default_rng(3)
    holes = make_holes([tuple(place) for place in rng.uniform(60, 540, (9, 2))])

    assert "more lines" in corner_set(job_of(make_design(holes=holes))).reason


@pytest.mark.parametrize("turned", [False, True])
def test_figures_and_names_stand_apart_and_within_the_border(turned: bool) -> None:
    sides, counts = ((390, 900), (13, 30)) if turned else ((900, 390), (30, 13))
    holes = make_grid(*sides, columns=counts[0], rows=counts[1], diameter=10)
    job = job_of(make_design(shape=make_shape(*sides), holes=holes), PageSetup())
    for draw in corner_set(job).sheets:
        page = draw(1, 1)
        marks = [mark for picture in page.pictures for group in picture.drawing.groups
                 for mark in group.marks]  # fmt: skip
        boxes = [box.grown(-0.05) for box in map(text_box, marks) if box is not None]
        assert len(boxes) > 30
        assert all(10 <= box.left < box.right <= page.width_mm - 10 for box in boxes)
        assert all(10 <= box.bottom < box.top <= page.height_mm - 10 for box in boxes)
        assert not any(one.meets(other) for one, other in combinations(boxes, 2))
