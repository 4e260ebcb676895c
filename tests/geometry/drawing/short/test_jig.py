"""The jig board: its guide holes, laid as its table says, are the planned holes."""

from itertools import product
from math import sqrt

import numpy as np
import pytest

from geometry.drawing.short.jig import jig_of, jig_set
from geometry.drawing.short.slips import SET_MM, tape_mm
from geometry.plan import RaftDesign
from tests.builders import make_design, make_grid, make_holes, make_shape
from tests.geometry.drawing.short.stages import job_of, stagger

GRID = make_design(shape=make_shape(900, 600), holes=make_grid(900, 600, columns=5, rows=3))
HEXAGONAL = stagger(1000, 600, pitch=150, rows=4, gap=150 * sqrt(3) / 2, offset=75, long=6, short=5)


@pytest.mark.parametrize("design", [GRID, HEXAGONAL])
def test_the_first_row_is_drilled_by_fence_and_stop(design: RaftDesign) -> None:
    jig = jig_of(job_of(design))
    assert jig is not None
    row = jig.plan.rows[0]

    for hole, mark in zip(row.holes, row.marks, strict=True):
        assert jig.guides[mark] == pytest.approx(tuple(design.holes.xy[hole]), abs=0.01)


@pytest.mark.parametrize("design", [GRID, HEXAGONAL])
def test_every_further_row_is_drilled_with_pins_in_the_row_before(design: RaftDesign) -> None:
    jig = jig_of(job_of(design))
    assert jig is not None
    assert jig.pins
    pins = np.array([place for _, place in jig.pins])

    for before, row in zip(jig.plan.rows, jig.plan.rows[1:], strict=False):
        move = np.array([row.start - jig.plan.rows[0].start, row.level - jig.plan.rows[0].level])
        old = design.holes.xy[list(before.holes)]
        on_holes = [np.hypot(*(old - pin - move).T).min() < 0.01 for pin in pins]
        assert sum(on_holes) >= 2
        for hole, mark in zip(row.holes, row.marks, strict=True):
            assert np.array(jig.guides[mark]) + move == pytest.approx(
                design.holes.xy[hole], abs=0.01
            )


def test_all_holes_of_the_board_are_on_the_board_away_from_its_edges() -> None:
    jig = jig_of(job_of(HEXAGONAL))
    assert jig is not None

    for x, y in (*jig.guides, *(place for _, place in jig.pins)):
        assert jig.board.left + 20 <= x <= jig.board.right - 20
        assert jig.board.bottom + 20 <= y <= jig.board.top - 20


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_stated_error_is_the_worst_of_board_setting_and_line(unit: str) -> None:
    jig = jig_of(job_of(GRID, unit=unit))
    assert jig is not None
    tape = tape_mm(unit)

    tried = max(abs(sum(each)) for each in product((-tape, tape), (-tape, tape), (-SET_MM, SET_MM)))

    assert jig.error == pytest.approx((tried, tried))
    assert jig.stepped is not None
    assert jig.stepped.worst > tried


def test_holes_in_no_rows_have_no_board() -> None:
    rng = np.random.default_rng(8)
    holes = make_holes([tuple(place) for place in rng.uniform(60, 540, (12, 2))])

    assert "no rows" in jig_set(job_of(make_design(holes=holes))).reason
