"""The single cell: stepped from hole to hole it reaches every planned hole."""

from itertools import product
from math import sqrt

import numpy as np
import pytest

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.short.cell import Cell, cell_of, cell_set, on_page, pieces
from geometry.drawing.short.slips import JOIN_MM, PIN_MM, PRINT_SHARE, SET_MM, tape_mm
from geometry.plan import RaftDesign
from tests.builders import make_design, make_grid, make_holes, make_shape
from tests.geometry.drawing.short.stages import centres, groups_of, job_of, stagger

SMALL = make_design(shape=make_shape(560, 480), holes=make_grid(560, 480, columns=5, rows=4))
WIDE = make_design(shape=make_shape(600, 600), holes=make_grid(600, 600, columns=3, rows=3))
HEXAGONAL = stagger(900, 500, pitch=120, rows=4, gap=120 * sqrt(3) / 2, offset=60, long=6, short=5)


def _marks(cell: Cell) -> dict[str, tuple[float, float]]:
    """Where the printed marks are in the cell, its pages joined."""
    found: dict[str, tuple[float, float]] = {}
    for piece, draw in zip(pieces(cell), cell_set(cell.job).sheets, strict=True):
        groups = list(groups_of(draw(1, 1)))
        shift = on_page(piece, cell)
        for group in groups:
            if group.id.startswith("mark "):
                cross = np.mean([
                    [(mark.curves[0].start.x + mark.curves[0].end.x) / 2,
                     (mark.curves[0].start.y + mark.curves[0].end.y) / 2]
                    for mark in group.marks if hasattr(mark, "curves")
                ], axis=0)  # fmt: skip
                found[group.id[-1]] = tuple(shift.back(*cross))
    return found


@pytest.mark.parametrize("design", [SMALL, WIDE, HEXAGONAL])
def test_stepping_reaches_every_planned_hole(design: RaftDesign) -> None:
    cell = cell_of(job_of(design))
    assert isinstance(cell, Cell)
    marks = {name: np.array(place) for name, place in sorted(_marks(cell).items())}
    assert np.array(list(marks.values())) == pytest.approx(np.array(cell.marks), abs=1e-6)

    step = marks["b"] - marks["a"]
    for row in cell.plan.rows:
        first = cell.plan.strip[row.marks[0]]
        for hole, mark in zip(row.holes, row.marks, strict=True):
            along = first + (mark - row.marks[0]) * step[0]
            place = cell.plan.place(row, (along, (mark - row.marks[0]) * step[1]))
            assert place == pytest.approx(tuple(design.holes.xy[hole]), abs=0.01)
    # The upper marks lie on holes as well, wherever the first row has a next one over it.
    start = np.array(cell.plan.place(cell.plan.rows[0], (0.0, 0.0)))
    lifted = cell.plan.place(cell.plan.rows[0], tuple(marks["c"] + cell.first * step))
    assert np.hypot(*(design.holes.xy - lifted).T).min() < 0.01
    assert np.hypot(*(design.holes.xy - start).T).min() < 0.01


def test_a_cell_too_wide_for_one_page_comes_on_two_and_one_too_large_says_so() -> None:
    wide, huge = (cell_of(job_of(each)) for each in (
        WIDE,
        make_design(shape=make_shape(1200, 1200), holes=make_grid(1200, 1200, columns=3, rows=3)),
    ))  # fmt: skip

    assert isinstance(wide, Cell)
    assert [len(piece) for piece in pieces(wide)] == [2, 2]
    assert isinstance(huge, str)
    assert "400 mm by 400 mm" in huge


def test_larger_paper_takes_the_cell_whole() -> None:
    cell = cell_of(job_of(WIDE, PageSetup(PAPERS["A3"])))

    assert isinstance(cell, Cell)
    assert pieces(cell) == (cell.marks,)


@pytest.mark.parametrize("design", [SMALL, WIDE, HEXAGONAL])
def test_the_stated_error_along_a_row_is_the_worst_of_all_slips_tried_out(
    design: RaftDesign,
) -> None:
    """The first mark by tape, then each step by a nail in the mark before and the paper's pitch."""
    cell = cell_of(job_of(design))
    assert isinstance(cell, Cell)
    joins = (0.0,) if cell.cut is None else (-JOIN_MM, JOIN_MM)
    steps = len(cell.plan.strip) - 1
    worst = 0.0
    for tape, setting, ink, join in product(
        (-tape_mm("mm"), tape_mm("mm")), (-SET_MM, SET_MM), (-PRINT_SHARE, PRINT_SHARE), joins
    ):
        paper = max(-0.5, min(0.5, ink * cell.pitch + join))
        for nails in product((-PIN_MM, PIN_MM), repeat=steps - 1):
            worst = max(worst, abs(tape + setting + steps * paper + sum(nails)))

    assert cell.error.along == pytest.approx(worst + cell.off_mm)


def test_rows_at_unlike_distances_have_no_cell() -> None:
    places = [(100 + 120 * x, y) for y in (80, 200, 350, 470) for x in range(4)]
    design = make_design(shape=make_shape(600, 560), holes=make_holes(places))

    assert "unlike" in cell_set(job_of(design)).reason


def test_the_marks_are_circles_where_their_rims_have_room() -> None:
    cell = cell_of(job_of(SMALL))
    assert isinstance(cell, Cell)
    groups = groups_of(cell_set(cell.job).sheets[0](1, 1))

    assert centres(groups, "mark ").keys() == {"mark a", "mark b", "mark c", "mark d"}
