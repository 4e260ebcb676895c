"""Chessboards that run on across joints: as many columns and rows as the cells can hold.

A chessboard has columns at x1 < x2 < … and rows at y1 < y2 < …; a plant stands where the numbers
of column and row add up to an even number. Plants of neighbouring columns and rows keep the
spacing s when neighbouring columns are ``step`` apart and neighbouring rows the other leg of s;
two plants of one row, and of one column, keep it when columns, and rows, two apart are s apart.
Square grids at 45 degrees, hexagonal rows and every stretched stagger are chessboards, and so is
whatever becomes of them when columns and rows move to keep off the joints.

The columns stand in cells, the stretches between the margins of each raft. Filling the cells from
the start, each column as early as it may be, is the best there is on a line.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.units import TOLERANCE_MM

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]
Cells = Sequence[tuple[float, float]]
"""Closed (start, end) stretches in rising order; an end before its start is an empty cell."""

_SLACK: Final = TOLERANCE_MM / 4
"""So much beyond its end a cell still takes a column: exact fits are never lost to rounding."""
_HALVINGS: Final = 48
_ROUNDING: Final = 1e-9
_MOST_STEPS: Final = 400
"""Of more numbers of rows than this, evenly chosen ones are tried."""


@dataclass(frozen=True, slots=True)
class Board:
    """A chessboard through cells: its distances, and how many columns and rows each cell holds."""

    spacing: float
    step_x: float
    step_y: float
    columns: tuple[int, ...]
    rows: tuple[int, ...]

    @property
    def plants(self) -> int:
        """All plants, the larger half of the fields where their number is odd."""
        return (sum(self.columns) * sum(self.rows) + 1) // 2


def best_boards(across: Cells, up: Cells, spacing: float) -> tuple[Board, ...]:
    """The chessboards with the most plants, for columns in ``across`` and rows in ``up``.

    First the best with columns at least as far apart as rows, then the best of the others; each
    is left out where two columns and two rows do not fit. Exact: no chessboard holds more. A step
    of nothing is not looked at: that is the square grid.
    """
    swapped = len(up) > len(across)
    first, second = (up, across) if not swapped else (across, up)
    steps = widest_steps(first, spacing)
    others = np.sqrt(np.maximum(spacing**2 - steps**2, 0.0))
    one, other = count_through(first, steps, spacing), count_through(second, others, spacing)
    plants = (one * other + 1) // 2
    plants[(one < 2) | (other < 2) | (others < TOLERANCE_MM)] = 0
    step_x, step_y = (steps, others) if swapped else (others, steps)
    boards: list[Board] = []
    for chosen in (step_y >= step_x, step_x > step_y):
        hopes = np.where(chosen, plants, 0)
        if hopes.max(initial=0):
            best = int(hopes.argmax())
            boards.append(board(across, up, spacing, float(step_x[best]), float(step_y[best])))
    return tuple(boards)


def board(across: Cells, up: Cells, spacing: float, step_x: float, step_y: float) -> Board:
    """The fullest chessboard with these distances between neighbouring columns and rows."""
    return Board(
        spacing,
        step_x,
        step_y,
        tuple(map(len, filled(across, step_x, spacing))),
        tuple(map(len, filled(up, step_y, spacing))),
    )


def places(across: Cells, up: Cells, board: Board) -> tuple[list[Floats], list[Floats]]:
    """Where the columns and rows of a board stand, cell by cell.

    Midway between packing from the start and packing from the end, so that a symmetrical bed
    comes out symmetrical.
    """
    return (
        midway(across, board.columns, board.step_x, board.spacing),
        midway(up, board.rows, board.step_y, board.spacing),
    )


def opened(across: Cells, up: Cells, board: Board) -> Board:
    """The same columns and rows in the same cells, the spacing as large as it can be."""

    def steps(x: Chains, y: Chains, spacing: float) -> tuple[float, float] | None:
        step_x, step_y = x.widest_step(spacing), y.widest_step(spacing)
        fits = min(step_x, step_y) >= 0 and step_x**2 + step_y**2 >= spacing**2
        return (step_x, step_y) if fits else None

    return _opened(across, up, board, steps)


def opened_in_shape(across: Cells, up: Cells, board: Board) -> Board:
    """The same, all distances in the proportions they have."""
    share_x = board.step_x / board.spacing
    share_y = float(np.sqrt(1 - share_x**2))

    def steps(x: Chains, y: Chains, spacing: float) -> tuple[float, float] | None:
        step_x, step_y = share_x * spacing, share_y * spacing
        fits = x.widest_step(spacing) >= step_x and y.widest_step(spacing) >= step_y
        return (step_x, step_y) if fits else None

    return _opened(across, up, board, steps)


Steps = Callable[["Chains", "Chains", float], tuple[float, float] | None]


def _opened(across: Cells, up: Cells, board: Board, steps: Steps) -> Board:
    for slack in (0.0, _SLACK):  # an exact fit may need what rounding took from it
        x, y = Chains.of(across, board.columns, slack), Chains.of(up, board.rows, slack)
        if steps(x, y, board.spacing) is not None:
            break
    else:
        return board
    low, high = board.spacing, 2 * board.spacing
    while steps(x, y, high) is not None:
        low, high = high, 2 * high
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if steps(x, y, middle) is not None else (low, middle)
    step_x, step_y = steps(x, y, low) or (board.step_x, board.step_y)
    return Board(low, step_x, step_y, board.columns, board.rows)


def count_through(
    cells: Sequence[tuple[float | Floats, float | Floats]], steps: Floats, spacing: float
) -> Counts:
    """The most columns in the cells for each of the steps, columns two apart the spacing apart.

    Cells may differ from step to step: then their ends are arrays as long as ``steps``.
    """
    last, before = np.full(len(steps), -np.inf), np.full(len(steps), -np.inf)
    count = np.zeros(len(steps), dtype=np.int64)
    for start, stop in cells:
        end = stop + _SLACK
        first = np.maximum(np.maximum(last + steps, before + spacing), start)
        second = np.maximum(first + steps, last + spacing)
        has_one = first <= end
        has_two = has_one & (second <= end)
        # From here on gaps alternate: what is left of the spacing, and the first gap again.
        gap = np.maximum(steps, spacing - (second - first))
        pair = gap + np.maximum(steps, spacing - gap)
        pairs = np.where(has_two, np.floor(np.maximum(end - second, 0.0) / pair), 0.0)
        reached = second + pairs * pair
        one_more = has_two & (reached + gap <= end)
        count += has_one + np.where(has_two, 1 + 2 * pairs, 0).astype(np.int64) + one_more
        behind = np.where(pairs > 0, reached - (pair - gap), first)
        before = np.where(
            one_more, reached, np.where(has_two, behind, np.where(has_one, last, before))
        )
        last = np.where(
            one_more,
            reached + gap,
            np.where(has_two, reached, np.where(has_one, first, last)),
        )
    return count


def widest_steps(cells: Cells, spacing: float) -> Floats:
    """For each number of columns that some step gives, the widest step that still gives it."""
    fewest, most = count_through(cells, np.array([spacing, 0.0]), spacing).tolist()
    wanted = np.arange(max(fewest, 2), most + 1)
    if len(wanted) > _MOST_STEPS:
        wanted = np.unique(np.linspace(wanted[0], wanted[-1], _MOST_STEPS).round().astype(np.int64))
    low, high = np.zeros(len(wanted)), np.full(len(wanted), spacing)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        enough = count_through(cells, middle, spacing) >= wanted
        low, high = np.where(enough, middle, low), np.where(enough, high, middle)
    return low


def filled(cells: Cells, step: float, spacing: float) -> list[list[float]]:
    """Fill the cells from the start."""
    lines: list[list[float]] = []
    last = before = -np.inf
    for start, end in cells:
        own: list[float] = []
        while (place := max(start, last + step, before + spacing)) <= end + _SLACK:
            own.append(place)
            before, last = last, place
        lines.append(own)
    return lines


def _packed(cells: Cells, counts: Sequence[int], step: float, spacing: float) -> list[list[float]]:
    """Put so many columns into each cell, each as early as it may be."""
    packed: list[list[float]] = []
    last = before = -np.inf
    for (start, _), count in zip(cells, counts, strict=True):
        own: list[float] = []
        for _ in range(count):
            place = max(start, last + step, before + spacing)
            own.append(place)
            before, last = last, place
        packed.append(own)
    return packed


def midway(cells: Cells, counts: Sequence[int], step: float, spacing: float = 0.0) -> list[Floats]:
    """Stand so many columns in each cell, a step apart, and the spacing when they are two apart.

    They stand in the middle of each cell if that keeps them apart across joints too, so that cells
    alike look alike; else midway between packing from the start and packing from the end.
    """
    centred = [
        _block(step, spacing, count, (start + end) / 2)
        for (start, end), count in zip(cells, counts, strict=True)
    ]
    line = np.concatenate([np.empty(0), *centred])
    apart, two_apart = np.diff(line), line[2:] - line[:-2]
    if (apart >= step - _ROUNDING).all() and (two_apart >= spacing - _ROUNDING).all():
        return centred
    mirror = [(-end, -start) for start, end in reversed(cells)]
    forward = _packed(cells, counts, step, spacing)
    backward = _packed(mirror, counts[::-1], step, spacing)
    return [
        (np.array(here) - np.array(there[::-1])) / 2
        for here, there in zip(forward, reversed(backward), strict=True)
    ]


def _block(step: float, spacing: float, count: int, middle: float) -> Floats:
    """Columns as close together as they may be, about a middle."""
    numbers = np.arange(count)
    block = numbers // 2 * max(2 * step, spacing) + numbers % 2 * step
    return block + (middle - block[-1] / 2) if count else np.empty(0)


@dataclass(frozen=True, eq=False)
class Chains:
    """What holds a line of columns together: for stretches of cells, their room and their gaps.

    ``rooms[k]`` lies between the start of the first and the end of the last cell of a stretch,
    ``gaps[k]`` columns after the first must fit into it.
    """

    rooms: Floats
    gaps: Counts

    @classmethod
    def of(cls, cells: Cells, counts: Sequence[int], slack: float = 0.0) -> "Chains":
        """The chains of a line with so many columns in each cell, its end ``slack`` further."""
        held = [k for k, count in enumerate(counts) if count]
        starts = np.array([cells[k][0] for k in held])
        ends = np.array([cells[k][1] for k in held]) + slack
        number = np.concatenate([[0], np.cumsum([counts[k] for k in held])])
        gaps = number[None, 1:] - number[:-1, None] - 1
        rooms = ends[None, :] - starts[:, None]
        chained = gaps > 0
        # Of stretches with as many gaps only the tightest matters.
        unique, where = np.unique(gaps[chained], return_inverse=True)
        least = np.full(len(unique), np.inf)
        np.minimum.at(least, where, rooms[chained])
        return cls(least, unique)

    def widest_step(self, spacing: float) -> float:
        """The widest step with columns two apart the spacing apart; -inf when there is none."""
        step = self.widest
        if 2 * step >= spacing:
            return step
        odd, doubles = self.gaps % 2 == 1, self.gaps // 2
        left = self.rooms - doubles * spacing
        if left[~odd].min(initial=0.0) < 0:
            return -np.inf
        return min(float(left[odd].min(initial=np.inf)), spacing / 2)

    @cached_property
    def widest(self) -> float:
        """The widest step when nothing but steps counts; infinite for a single column."""
        return float((self.rooms / self.gaps).min(initial=np.inf))
