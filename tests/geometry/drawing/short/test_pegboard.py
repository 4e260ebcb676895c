"""The pegboard: the marked pegs hit the plan within 1/16 in, or it is not recommended."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.drawing.paper import PageSetup
from geometry.drawing.short.pegboard import GRID_MM, LIMIT_MM, Pegs, best_start, fit, pegboard_set
from geometry.errors import GeometryError
from geometry.plan import RaftDesign
from tests.builders import make_design, make_holes, make_shape
from tests.geometry.drawing.short.stages import job_of


def _inches(first: tuple[float, float], pitch: float) -> RaftDesign:
    """Four by three holes, all in inches."""
    places = [((first[0] + pitch * x) * 25.4, (first[1] + pitch * y) * 25.4)
              for y in range(3) for x in range(4)]  # fmt: skip
    return make_design(shape=make_shape(1016, 762), holes=make_holes(places, diameter=44.45))


def _pegs(design: RaftDesign, offset: tuple[float, float] | None) -> Pegs:
    job = job_of(design, PageSetup(pegs=offset))
    return Pegs(job, offset)


def test_an_8_in_pattern_that_begins_on_the_board_is_hit_flush() -> None:
    """Job map E8: enter the offset, the marked pegs hit the plan within 1/16 in."""
    pegs = _pegs(_inches((5.5, 4.5), 8), (0.5 * 25.4, 0.5 * 25.4 + 1.0))

    assert pegs.flush is not None
    assert pegs.flush.is_good
    assert pegs.flush.worst == pytest.approx(1.0)
    assert pegs.chosen is pegs.flush
    assert pegs.chosen.pegs[:2].tolist() == [[6, 5], [14, 5]]


def test_a_board_whose_first_row_is_not_where_it_seems_is_moved() -> None:
    """The trap of the job map: the pattern lands off by half an inch."""
    pegs = _pegs(_inches((5.5, 4.5), 8), (25.4, 25.4))

    assert pegs.flush is not None
    assert pegs.flush.worst == pytest.approx(np.hypot(12.7, 12.7))
    assert pegs.chosen is pegs.moved
    assert pegs.moved.worst == pytest.approx(0, abs=1e-9)
    assert pegs.move is not None
    assert np.abs(np.array(pegs.move)) == pytest.approx(np.array([12.7, 12.7]))


def test_pitches_that_are_no_whole_inches_are_refused_with_every_miss() -> None:
    short = pegboard_set(job_of(_inches((5, 5), 7.5), PageSetup(pegs=(12.7, 12.7))))

    assert "misses holes by up to" in short.reason
    assert short.rows, "how far each hole is from its peg is told all the same"


@pytest.mark.parametrize(("extra", "is_good"), [(-1e-9, True), (0.0, True), (0.001, False)])
def test_the_limit_itself_counts_as_hit(extra: float, is_good: bool) -> None:
    at = fit(np.array([[25.4 * 3 + 25.4 / 16 + extra, 25.4]]), (0.0, 0.0))

    assert at.is_good is is_good
    assert at.worst == pytest.approx(LIMIT_MM, abs=0.01)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(0, 900), min_size=1, max_size=12), st.floats(0, 25.4))
def test_no_other_start_has_a_smaller_largest_miss(places: list[float], other: float) -> None:
    xs = np.array(places)

    def miss(start: float) -> float:
        off = np.mod(xs - start, GRID_MM)
        return float(np.minimum(off, GRID_MM - off).max())

    best = best_start(xs)

    assert 0 <= best < GRID_MM
    assert miss(best) <= miss(other) + 1e-9
    assert miss(best) <= min(miss(start) for start in np.linspace(0, GRID_MM, 60)) + 1e-9


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(30, 800), st.floats(30, 500)), min_size=1, max_size=15),
    st.tuples(st.floats(0, 30), st.floats(0, 30)),
)
def test_the_miss_of_each_hole_is_that_of_the_nearest_peg_by_trying_all(
    places: list[tuple[float, float]], at: tuple[float, float]
) -> None:
    xy = np.array(places)
    pegs = np.array([
        (at[0] + GRID_MM * x, at[1] + GRID_MM * y) for x in range(34) for y in range(22)
    ])  # fmt: skip
    away = np.hypot(*(xy[:, None] - pegs[None]).transpose(2, 0, 1)).min(axis=1)

    assert fit(xy, at).off == pytest.approx(away, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(
    st.tuples(st.floats(3, 7), st.floats(3, 7)),
    st.integers(6, 9),
    st.tuples(st.floats(0, 60), st.floats(0, 60)),
)
def test_the_board_moved_as_told_has_its_own_holes_on_the_plan(
    first: tuple[float, float], pitch: int, offset: tuple[float, float]
) -> None:
    """Counted on the board itself, from its first hole, wherever that comes to lie."""
    pegs = _pegs(_inches(first, pitch), offset)
    assert pegs.move is not None
    own = np.array(offset) + pegs.move + (pegs.moved.pegs - 1) * GRID_MM

    assert pegs.moved.pegs.min() >= 1
    assert own == pytest.approx(pegs.job.design.holes.xy, abs=0.01)


@pytest.mark.parametrize("place", [-0.1, 100.1])
def test_an_offset_that_cannot_be_is_refused(place: float) -> None:
    with pytest.raises(GeometryError, match="0 to 100 mm"):
        PageSetup(pegs=(12.7, place))
