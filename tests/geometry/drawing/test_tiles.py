"""How many pages a template takes, and that no centre is lost between them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.drawing.marks import Box
from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.raft import CROSS_MM
from geometry.drawing.tiles import Tiling, _lines, lay_tiles
from geometry.model.curves import Arc, Loop, Point
from geometry.plan import RaftDesign
from tests.builders import make_design, make_grid, make_holes, make_loop, make_shape


def _centres(design: RaftDesign, tiling: Tiling) -> np.ndarray:
    laid = tiling.laid()
    return np.array([laid.point(x, y) for x, y in design.holes.xy])


def _whole(tiling: Tiling, centres: np.ndarray) -> np.ndarray:
    """On how many printed pages the whole mark of each centre shows."""
    seen = np.zeros(len(centres), dtype=int)
    for cell in tiling.cells:
        left, bottom, right, top = tiling.shown(cell).grown(-CROSS_MM)
        seen += (
            (centres[:, 0] >= left - 1e-9)
            & (centres[:, 0] <= right + 1e-9)
            & (centres[:, 1] >= bottom - 1e-9)
            & (centres[:, 1] <= top + 1e-9)
        )
    return seen


def _lines_through_marks(tiling: Tiling, centres: np.ndarray) -> int:
    across = [tiling.left + tiling.step_x * n for n in range(1, tiling.columns)]
    along = [tiling.bottom + tiling.step_y * n for n in range(1, tiling.rows)]
    return sum(int((np.abs(centres[:, 0] - x) < CROSS_MM - 1e-6).sum()) for x in across) + sum(
        int((np.abs(centres[:, 1] - y) < CROSS_MM - 1e-6).sum()) for y in along
    )


def test_a_1200_by_600_raft_takes_20_pages_turned_where_it_took_21_upright() -> None:
    """Printing notes 1.6: A4 and Letter take 21 upright and 20 turned, counted by hand there."""
    holes = make_grid(1200, 600, columns=10, rows=5)
    design = make_design(shape=make_shape(1200, 600), holes=holes)

    for paper in ("A4", "Letter", "common"):
        tiling = lay_tiles(design, PageSetup(PAPERS[paper]))
        assert tiling.turned
        assert (tiling.columns, tiling.rows) == (4, 5)
        assert len(tiling.cells) == 20


def test_the_raft_stays_upright_when_turning_saves_nothing() -> None:
    assert not lay_tiles(make_design(shape=make_shape(170, 240)), PageSetup()).turned


def test_a_small_raft_takes_one_page() -> None:
    tiling = lay_tiles(make_design(shape=make_shape(188, 257.4)), PageSetup())

    assert tiling.cells == ((0, 0),)


@settings(max_examples=60, deadline=None)
@given(
    length=st.floats(60, 1500),
    width=st.floats(60, 900),
    columns=st.integers(1, 12),
    rows=st.integers(1, 12),
    diameter=st.floats(5, 60),
    paper=st.sampled_from(list(PAPERS.values())),
)
def test_every_centre_mark_is_whole_on_some_page_and_the_raft_is_covered(
    length: float, width: float, columns: int, rows: int, diameter: float, paper: object
) -> None:
    holes = make_grid(length, width, columns=columns, rows=rows, diameter=diameter)
    design = make_design(shape=make_shape(length, width), holes=holes)
    tiling = lay_tiles(design, PageSetup(paper))

    assert (_whole(tiling, _centres(design, tiling)) >= 1).all()
    far = (width, length) if tiling.turned else (length, width)
    first, last = tiling.shown((0, 0)), tiling.shown((tiling.columns - 1, tiling.rows - 1))
    assert max(first.left, first.bottom) <= -1 + 1e-6
    assert last.right >= far[0] + 1 - 1e-6
    assert last.top >= far[1] + 1 - 1e-6
    assert min(tiling.overlap_x, tiling.overlap_y) >= 10 - 1e-9


def test_grid_lines_spare_the_centre_marks_where_there_is_freedom() -> None:
    """A regular raft whose even cuts would run through a row of centres."""
    holes = make_grid(480, 480, columns=5, rows=5)
    design = make_design(shape=make_shape(480, 480), holes=holes)
    tiling = lay_tiles(design, PageSetup())

    assert _lines_through_marks(tiling, _centres(design, tiling)) == 0


def test_grid_lines_spare_whole_rims_where_they_can() -> None:
    centres = [(x, 100) for x in (40, 145, 250, 330)]
    design = make_design(shape=make_shape(360, 200), holes=make_holes(centres, diameter=50))
    tiling = lay_tiles(design, PageSetup())

    assert not tiling.turned
    (line,) = [tiling.left + tiling.step_x]
    assert all(abs(x - line) >= 25 for x, _ in centres)


def test_pages_with_nothing_on_them_are_left_out_and_listed() -> None:
    """A wide frame of foam with one hole in a corner: its middle is bare."""
    design = make_design(shape=make_shape(800, 1000), holes=make_holes([(100, 100)]))
    tiling = lay_tiles(design, PageSetup())

    assert tiling.blank
    assert len(tiling.cells) + len(tiling.blank) == tiling.columns * tiling.rows
    raft = Box(0, 0, 1000, 800) if tiling.turned else Box(0, 0, 800, 1000)
    for cell in tiling.blank:
        box = tiling.cell(cell)
        assert raft.left < box.left
        assert box.right < raft.right
        assert raft.bottom < box.bottom
        assert box.top < raft.top


def test_corners_outside_a_slanting_outline_are_left_out() -> None:
    shape = make_shape(900, 900)
    wedge = make_loop((0, 0), (900, 0), (0, 900))
    design = make_design(
        shape=type(shape)(wedge, shape.length, shape.width, is_rectangle=False),
        holes=make_holes([(100, 100)]),
    )
    tiling = lay_tiles(design, PageSetup())

    assert (tiling.columns - 1, tiling.rows - 1) in tiling.blank


def test_turning_and_back_gives_raft_coordinates() -> None:
    design = make_design(shape=make_shape(1200, 600))
    tiling = lay_tiles(design, PageSetup())

    for cell in tiling.cells:
        shift = tiling.on_page(cell)
        assert shift.back(*shift.point(123.4, 56.7)) == pytest.approx((123.4, 56.7))
    corner = tiling.cross_place(0, 0)
    assert tiling.laid().point(*corner) == pytest.approx((tiling.left, tiling.bottom))
    assert tiling.cross_name(0, 0) == "A1"
    assert tiling.cross_name(9, 2) == "K3"


def test_a_dense_raft_is_laid_out_in_a_moment() -> None:
    rng = np.random.default_rng(1)
    holes = make_holes([tuple(pair) for pair in rng.uniform(0, 1000, (10_000, 2))], diameter=5)
    tiling = lay_tiles(make_design(shape=make_shape(1000, 1000), holes=holes), PageSetup())

    assert tiling.cells


def _cuts(lines: np.ndarray, places: np.ndarray, reach: float) -> int:
    return int((np.abs(lines[:, None] - places) < reach - 1e-6).sum())


def _least_cuts(
    extent: float, room: float, overlap: float, count: int, places: np.ndarray, radius: float
) -> tuple[int, int]:
    """Try every overlap and every place of the first line, a millimetre apart."""
    best = (10**6, 10**6)
    for more in np.arange(0.0, room - overlap, 1.0):
        step = room - overlap - more
        low = extent + 1 - (overlap + more) / 2 - count * step
        high = (overlap + more) / 2 - 1
        if low > high + 1e-9:
            break
        for first in np.append(np.arange(low, high, 1.0), high):
            lines = first + step * np.arange(1, count)
            best = min(best, (_cuts(lines, places, CROSS_MM), _cuts(lines, places, radius)))
    return best


@settings(max_examples=40, deadline=None)
@given(
    places=st.lists(st.integers(20, 480), min_size=1, max_size=12, unique=True),
    extent=st.integers(500, 700),
    radius=st.integers(6, 40),
)
def test_no_offset_and_no_wider_overlap_cuts_fewer(
    places: list[int], extent: int, radius: int
) -> None:
    """Brute force over what one axis of a grid leaves free; pages of 190 mm, overlap 10 mm."""
    xs = np.array(places, dtype=np.float64)
    design = make_design(
        shape=make_shape(extent, 120),
        holes=make_holes([(x, 60.0) for x in places], diameter=2 * radius),
    )
    fewest, *more = _lines(float(extent), 190.0, 10.0, xs, design.holes.diameters / 2)

    assert fewest.count == int(np.ceil((extent + 2 - 10) / 180 - 1e-9))
    least = _least_cuts(extent, 190, 10, fewest.count, xs, radius)
    assert (fewest.marks_cut, fewest.rims_cut) <= least
    lines = fewest.first + fewest.step * np.arange(1, fewest.count)
    assert fewest.marks_cut == _cuts(lines, xs, CROSS_MM)
    assert fewest.rims_cut == _cuts(lines, xs, radius)
    assert all(each.marks_cut == 0 and each.count == fewest.count + 1 for each in more)


@settings(max_examples=60, deadline=None)
@given(
    columns=st.integers(1, 9),
    rows=st.integers(1, 7),
    pitch=st.floats(60, 260),
    margin=st.floats(30, 100),
    shifted=st.booleans(),
    paper=st.sampled_from(["common", "A4", "A3", "Letter"]),
)
def test_no_line_of_a_grid_runs_through_a_centre_mark(
    columns: int, rows: int, pitch: float, margin: float, shifted: bool, paper: str
) -> None:
    """Straight or staggered rows as growers have them: a row of pages more where nothing helps."""
    half = pitch / 2 if shifted else 0.0
    centres = [
        (margin + half * (row % 2) + pitch * column, margin + pitch * row)
        for row in range(rows)
        for column in range(columns)
    ]
    length = 2 * margin + pitch * (columns - 1) + half
    width = 2 * margin + pitch * (rows - 1)
    design = make_design(shape=make_shape(length, width), holes=make_holes(centres))
    tiling = lay_tiles(design, PageSetup(PAPERS[paper]))

    laid = _centres(design, tiling)
    assert _lines_through_marks(tiling, laid) == 0
    assert (_whole(tiling, laid) >= 1).all()


@pytest.mark.parametrize(("x", "pages"), [(200.0, 6), (184.0, 8)])
def test_a_column_of_pages_more_is_taken_only_where_a_line_must_cut_a_mark(
    x: float, pages: int
) -> None:
    """548 mm leave the three columns of the common page no freedom: lines at 184 and 364 mm."""
    holes = make_holes([(x, 100.0), (x, 300.0)], diameter=20)
    design = make_design(shape=make_shape(548, 400), holes=holes)
    tiling = lay_tiles(design, PageSetup())

    assert len(tiling.cells) == pages
    assert _lines_through_marks(tiling, _centres(design, tiling)) == 0


def _pages_over_disc(radius: float, left: float, bottom: float) -> int:
    """Count the pages of a disc whose box begins at the origin, where the datum corner is."""
    away = []
    for first, step in ((-left, 180.0), (-bottom, 249.4)):
        low = first + step * np.arange(12) - 5
        away.append(np.maximum(0, np.maximum(low - radius, radius - (low + step + 10))))
    shows = np.hypot(*np.meshgrid(*away)) <= radius
    shows[int(bottom // 249.4), int(left // 180.0)] = True
    return int(shows.sum())


@pytest.mark.parametrize("diameter", [500.0, 760.0, 1180.0, 1490.0])
def test_the_pages_of_a_round_raft_lie_where_the_fewest_are_needed(diameter: float) -> None:
    """Brute force: a disc on pages of 190 x 259.4 mm, every place of the grid 5 mm apart."""
    radius = diameter / 2
    circle = Loop((Arc(Point(radius, radius), radius, 0.0, 2 * np.pi),))
    shape = make_shape(diameter, diameter)
    round_raft = type(shape)(circle, shape.length, shape.width, is_rectangle=False)
    design = make_design(shape=round_raft, holes=make_holes([(radius, radius)]))

    tiling = lay_tiles(design, PageSetup())

    fewest = min(
        _pages_over_disc(radius, left, bottom)
        for left in np.arange(0, 180.0, 5.0)
        for bottom in np.arange(0, 249.4, 5.0)
    )
    assert len(tiling.cells) + len(tiling.blank) == tiling.columns * tiling.rows
    assert len(tiling.cells) <= fewest
    assert len(lay_tiles(design, PageSetup(), mirrored=True).cells) == len(tiling.cells)
