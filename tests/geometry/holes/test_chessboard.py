from itertools import pairwise, product
from math import prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.holes.chessboard import (
    Cells,
    best_boards,
    board,
    count_through,
    opened,
    opened_in_shape,
    places,
)
from geometry.holes.mixed_board import best_mixed_board, mixed_board, mixed_places, opened_mixed

quarters = st.integers(1, 240).map(lambda quarter: quarter / 4)


@st.composite
def lines(draw: st.DrawFn) -> Cells:
    """A few cells of like or unlike size, some too small for anything."""
    sizes = draw(st.lists(quarters, min_size=1, max_size=4))
    if draw(st.booleans()):
        sizes = sizes[:1] * len(sizes)
    gap, margin = draw(st.integers(0, 12)) / 4, draw(st.integers(0, 24)) / 4
    starts = [sum(sizes[:k]) + k * gap for k in range(len(sizes))]
    return [
        (start + margin, start + size - margin) for start, size in zip(starts, sizes, strict=True)
    ]


def slowly_filled(cells: Cells, step: float, spacing: float) -> list[float]:
    """One column after the other, each at the first place that the two before it allow."""
    placed: list[float] = []
    for start, end in cells:
        while True:
            least = [start]
            least += [placed[-1] + step] if placed else []
            least += [placed[-2] + spacing] if len(placed) > 1 else []
            if max(least) > end + 1e-9:
                break
            placed.append(max(least))
    return placed


spacings = st.integers(16, 200).map(lambda quarter: quarter / 4)


@given(lines(), spacings, st.floats(0, 1))
def test_counting_in_one_go_is_counting_one_by_one(
    cells: Cells, spacing: float, share: float
) -> None:
    step = round(share * 64) / 64 * spacing
    counted = count_through(cells, np.array([step]), spacing)
    assert counted.tolist() == [len(slowly_filled(cells, step, spacing))]


@given(lines(), lines(), spacings)
def test_no_step_of_a_fine_ruler_gives_a_fuller_chessboard(
    across: Cells, up: Cells, spacing: float
) -> None:
    # With a step of nothing two columns are one: that is the square grid, which is found as such.
    straight = (len(slowly_filled(cells, spacing, spacing)) for cells in (across, up))
    boards = (board.plants for board in best_boards(across, up, spacing))
    most = max(*boards, prod(straight), 0)
    for angle in np.linspace(0.01, np.pi / 2 - 0.01, 61).tolist():
        columns = slowly_filled(across, spacing * np.cos(angle), spacing)
        rows = slowly_filled(up, spacing * np.sin(angle), spacing)
        if min(len(columns), len(rows)) > 1:
            assert (len(columns) * len(rows) + 1) // 2 <= most


def plants_of(xs: list[np.ndarray], ys: list[np.ndarray], kinds: list[list[int]]) -> np.ndarray:
    x, y = np.concatenate(xs), np.concatenate(ys)
    return np.array(
        [
            (x[k], y[n])
            for k, n in product(range(len(x)), range(len(y)))
            if kinds[0][k] == kinds[1][n]
        ]
    ).reshape(-1, 2)


def keeps_to(cells: Cells, lines: list[np.ndarray]) -> bool:
    return all(
        ((start - 1e-6 <= line) & (line <= end + 1e-6)).all()
        for (start, end), line in zip(cells, lines, strict=True)
    )


def least_gap(xy: np.ndarray) -> float:
    gaps = np.hypot(*(xy[:, None] - xy[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min(initial=np.inf))


def alternating(lines: list[np.ndarray]) -> list[int]:
    return [k % 2 for k in range(sum(map(len, lines)))]


@given(lines(), lines(), spacings)
def test_chessboards_stand_in_their_cells_and_open_without_losing_a_plant(
    across: Cells, up: Cells, spacing: float
) -> None:
    for tight in best_boards(across, up, spacing):
        for each in (tight, opened(across, up, tight), opened_in_shape(across, up, tight)):
            xs, ys = places(across, up, each)
            xy = plants_of(xs, ys, [alternating(xs), alternating(ys)])
            assert len(xy) == tight.plants
            assert keeps_to(across, xs)
            assert keeps_to(up, ys)
            assert each.spacing >= spacing
            assert least_gap(xy) >= each.spacing - 1e-6


def test_an_opened_chessboard_cannot_be_opened_further() -> None:
    """Two cells of 100 with 10 between, and two rows in 50: found by hand.

    Three columns to a cell: two steps in 100, five in 210, so a step of 42 and a spacing of the
    root of 42^2 and 50^2. Columns two apart are 84 apart, which is more.
    """
    across, up = [(0.0, 100.0), (110.0, 210.0)], [(0.0, 50.0)]
    (board, *_) = best_boards(across, up, 65.0)
    assert (board.columns, board.rows) == ((3, 3), (2,))
    wide = opened(across, up, board)
    assert (wide.step_x, wide.step_y) == (42, 50)
    assert wide.spacing == pytest.approx(np.hypot(42, 50), abs=1e-9)


@given(lines(), lines(), spacings, st.booleans())
def test_mixed_rows_beat_what_they_are_asked_to_and_keep_their_distances(
    across: Cells, up: Cells, spacing: float, at_joints: bool
) -> None:
    plain = max((board.plants for board in best_boards(across, up, spacing)), default=0)
    tight = best_mixed_board(across, up, spacing, plain, at_joints=at_joints)
    if tight is None:
        return
    assert tight.plants > plain
    for each in (tight, opened_mixed(across, up, tight)):
        xs, ys = mixed_places(across, up, each)
        xy = plants_of(xs, ys, [alternating(xs), list(each.kinds)])
        assert len(xy) == tight.plants
        assert keeps_to(across, xs)
        assert keeps_to(up, ys)
        assert least_gap(xy) >= each.spacing - 1e-6
        assert all(0 in pair for pair in pairwise(each.kinds))
        homes = [k for k, count in enumerate(each.rows) for _ in range(count)]
        if at_joints:
            pairs = zip(pairwise(homes), pairwise(each.kinds), strict=True)
            assert all(here != there for (here, there), kinds in pairs if kinds == (0, 0))


def test_mixed_rows_are_found_where_one_straight_gap_uses_the_room_up() -> None:
    """Packing facts, table of section 3: 1000 x 500 at 100 holds 67 staggered and 68 mixed."""
    across, up = [(0.0, 1000.0)], [(0.0, 500.0)]
    plain = max(board.plants for board in best_boards(across, up, 100.0))
    assert plain == 67
    mixed = [best_mixed_board(*cells, 100.0, 0) for cells in ((across, up), (up, across))]
    assert max(board.plants for board in mixed if board) == 68


def test_hexagonal_rows_begin_anew_behind_a_joint_where_that_holds_more() -> None:
    """Eight cells 570 long, 40 apart: columns of 161.1, eleven rows, every other column longer.

    Four columns to a cell hold 6 5 6 5, three hold 6 5 6 = 17 or 5 6 5 = 16. Columns must be 186
    apart to be alike. Alternating throughout counts (30 x 11 + 1) / 2 = 165; one long column behind
    a long one makes it 166, which a lattice over all rafts holds too.
    """
    size = 4900 - 2 * 8
    across = [(8 + k * size / 8 + 20, 8 + (k + 1) * size / 8 - 20) for k in range(8)]
    up = [(28.0, 992.0)]
    gaps = 186 * 0.75**0.5, 93.0
    mixed = mixed_board(up, across, 186.0, gaps[1], gaps[0], at_joints=True)
    assert mixed is not None
    assert (sum(mixed.columns), mixed.plants) == (11, 166)
    assert board(across, up, 186.0, *gaps).plants == 165
