"""Chessboards through joints of which some rows stand straight behind the row before.

Columns keep alternating. With an odd number of them every other row is one plant longer, and a
long row may follow a long one, the spacing apart, where the room across the rows is not used up.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.holes.chessboard import Cells, Floats, count_through, midway, widest_steps
from geometry.units import TOLERANCE_MM

_SLACK: Final = TOLERANCE_MM / 4
_HALVINGS: Final = 40
_MOST_LINES: Final = 60
"""Of more rows than this, none are mixed: there is next to nothing to win."""


@dataclass(frozen=True, slots=True)
class MixedBoard:
    """Alternating columns, ``step`` apart, and rows with their kinds: 0 is long, 1 is short.

    ``columns`` and ``rows`` are the numbers in each cell. Unlike rows are ``gap`` apart, like ones
    the spacing.
    """

    spacing: float
    step: float
    gap: float
    columns: tuple[int, ...]
    rows: tuple[int, ...]
    kinds: tuple[int, ...]

    @property
    def plants(self) -> int:
        """All plants."""
        columns = sum(self.columns)
        return sum((columns + 1 - kind) // 2 for kind in self.kinds)


def best_mixed_board(across: Cells, up: Cells, spacing: float, more_than: int) -> MixedBoard | None:
    """The best mixed board with columns in ``across``; None without one that holds more."""
    most_rows = int(count_through(up, np.zeros(1), spacing)[0])
    most_columns = int(count_through(across, np.zeros(1), spacing)[0])
    if most_rows > _MOST_LINES or most_columns > _MOST_LINES:
        return None
    steps = widest_steps(across, spacing)
    gaps = np.sqrt(np.maximum(spacing**2 - steps**2, 0.0))
    columns = count_through(across, steps, spacing)
    rows = count_through(up, gaps, spacing)
    hopes = (columns + 1) // 2 * rows
    best: MixedBoard | None = None
    for k in np.argsort(-hopes, kind="stable").tolist():
        count, gap = int(columns[k]), float(gaps[k])
        if hopes[k] <= more_than:
            break
        if count % 2 == 0 or count < 3 or gap < TOLERANCE_MM:
            continue
        kinds = _best_kinds(up, gap, spacing, count // 2)
        held = _packed(up, kinds, gap, spacing)
        if held is None:
            continue
        numbers = _in_cells(across, float(steps[k]), spacing)
        found = MixedBoard(spacing, float(steps[k]), gap, numbers, tuple(map(len, held)), kinds)
        if found.plants > more_than:
            best, more_than = found, found.plants
    return best


def mixed_places(across: Cells, up: Cells, board: MixedBoard) -> tuple[list[Floats], list[Floats]]:
    """Where columns and rows stand, cell by cell: midway between packing from either end."""
    mirror = [(-end, -start) for start, end in reversed(up)]
    forward = _held(up, board.rows, board.kinds, board.gap, board.spacing)
    backward = _held(mirror, board.rows[::-1], board.kinds[::-1], board.gap, board.spacing)
    rows = [
        (np.array(here) - np.array(there[::-1])) / 2
        for here, there in zip(forward, reversed(backward), strict=True)
    ]
    return midway(across, board.columns, board.step, board.spacing), rows


def opened_mixed(across: Cells, up: Cells, board: MixedBoard) -> MixedBoard:
    """The same, all distances in the proportions they have, as wide as they go."""
    low, high = 1.0, 2.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _fits(across, up, _scaled(board, middle)) else (low, middle)
    return _scaled(board, low)


def _scaled(board: MixedBoard, scale: float) -> MixedBoard:
    return MixedBoard(
        board.spacing * scale,
        board.step * scale,
        board.gap * scale,
        board.columns,
        board.rows,
        board.kinds,
    )


def _fits(across: Cells, up: Cells, board: MixedBoard) -> bool:
    rows = _held(up, board.rows, board.kinds, board.gap, board.spacing)
    alternating = tuple(k % 2 for k in range(sum(board.columns)))
    columns = _held(across, board.columns, alternating, board.step, board.spacing)
    return all(
        not own or own[-1] <= end + _SLACK
        for cells, held in ((up, rows), (across, columns))
        for (_, end), own in zip(cells, held, strict=True)
    )


def _best_kinds(cells: Cells, gap: float, spacing: float, short: int) -> tuple[int, ...]:
    """The kinds of the rows with the most plants; a short row holds ``short``, a long one more."""
    # By rows so far, long ones among them and kind of the last: the earliest place of the last
    # two rows, and how they came about.
    states: dict[tuple[int, int], tuple[float, float, tuple[int, ...]]] = {}
    for place in _places_from(cells, -np.inf):
        states = {(1, 0): (place, -np.inf, (0,)), (0, 1): (place, -np.inf, (1,))}
        break
    most = 0
    best: tuple[int, ...] = ()
    while states:
        following: dict[tuple[int, int], tuple[float, float, tuple[int, ...]]] = {}
        for (long, last), (place, before, kinds) in states.items():
            plants = len(kinds) * short + long
            if plants > most:
                most, best = plants, kinds
            for kind in (0, 1) if last == 0 else (0,):
                least = place + (spacing if kind == last else gap)
                if len(kinds) > 1 and kinds[-2] == kind:
                    least = max(least, before + spacing)
                for reached in _places_from(cells, least):
                    key = long + 1 - kind, kind
                    known = following.get(key)
                    if known is None or (reached, place) < known[:2]:
                        following[key] = reached, place, (*kinds, kind)
                    break
        states = following
    return best


def _places_from(cells: Cells, least: float) -> Iterator[float]:
    for start, end in cells:
        if start <= end + _SLACK and least <= end + _SLACK:
            yield max(start, least)


def _packed(
    cells: Cells, kinds: Sequence[int], gap: float, spacing: float
) -> list[list[float]] | None:
    """Rows of these kinds, each as early as it may be; None where they do not fit."""
    held: list[list[float]] = [[] for _ in cells]
    placed: list[float] = []
    for kind in kinds:
        least = _least(placed, kinds, kind, gap, spacing)
        home = next(
            (
                k
                for k, (start, end) in enumerate(cells)
                if start <= end + _SLACK and least <= end + _SLACK
            ),
            None,
        )
        if home is None:
            return None
        placed.append(max(cells[home][0], least))
        held[home].append(placed[-1])
    return held


def _least(
    placed: Sequence[float], kinds: Sequence[int], kind: int, gap: float, spacing: float
) -> float:
    """How early the next row may stand behind those placed."""
    number = len(placed)
    least = -np.inf
    if number:
        least = placed[-1] + (spacing if kinds[number - 1] == kind else gap)
    if number > 1 and kinds[number - 2] == kind:
        least = max(least, placed[-2] + spacing)
    return least


def _held(
    cells: Cells, counts: Sequence[int], kinds: Sequence[int], gap: float, spacing: float
) -> list[list[float]]:
    """So many rows in each cell, each as early as it may be, whether they fit or not."""
    held: list[list[float]] = []
    placed: list[float] = []
    for (start, _), count in zip(cells, counts, strict=True):
        own: list[float] = []
        for _ in range(count):
            least = _least(placed, kinds, kinds[len(placed)], gap, spacing)
            placed.append(max(start, least))
            own.append(placed[-1])
        held.append(own)
    return held


def _in_cells(cells: Cells, step: float, spacing: float) -> tuple[int, ...]:
    """How many columns each cell takes, filled from the start."""
    steps = np.array([step])
    reached = [int(count_through(cells[:k], steps, spacing)[0]) for k in range(len(cells) + 1)]
    return tuple(np.diff(reached).tolist())
