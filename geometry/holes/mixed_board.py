"""Chessboards through joints of which some rows stand straight behind the row before.

Columns keep alternating. With an odd number of them every other row is one plant longer, and a
long row may follow a long one, the spacing apart, where the room across the rows is not used up.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.holes.chessboard import Cells, Floats, count_through, filled, midway, widest_steps
from geometry.units import TOLERANCE_MM

_SLACK: Final = TOLERANCE_MM / 4
_HALVINGS: Final = 40
_MOST_LINES: Final = 60
"""Of more lines than this, only the rows of one board are mixed, not those of many."""
_MOST_ROWS: Final = 160


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


def best_mixed_board(
    across: Cells, up: Cells, spacing: float, more_than: int, *, at_joints: bool = False
) -> MixedBoard | None:
    """The best mixed board with columns in ``across``; None without one that holds more.

    With ``at_joints`` rows follow their like only where they lie in different cells.
    """
    most = (
        count_through(across, np.zeros(1), spacing)[0],
        count_through(up, np.zeros(1), spacing)[0],
    )
    if max(most) > _MOST_LINES:
        return None
    steps = widest_steps(across, spacing)
    gaps = np.sqrt(np.maximum(spacing**2 - steps**2, 0.0))
    hopes = (count_through(across, steps, spacing) + 1) // 2 * count_through(up, gaps, spacing)
    best: MixedBoard | None = None
    for k in np.argsort(-hopes, kind="stable").tolist():
        if hopes[k] <= more_than:
            break
        found = mixed_board(
            across, up, spacing, float(steps[k]), float(gaps[k]), at_joints=at_joints
        )
        if found is not None and found.plants > more_than:
            best, more_than = found, found.plants
    return best


def mixed_board(
    across: Cells, up: Cells, spacing: float, step: float, gap: float, *, at_joints: bool = False
) -> MixedBoard | None:
    """The best mixed board with these distances; None where all rows are alike or too many."""
    count = int(count_through(across, np.full(1, step), spacing)[0])
    if count % 2 == 0 or count < 3 or gap < TOLERANCE_MM:
        return None
    if count_through(up, np.full(1, gap), spacing)[0] > _MOST_ROWS:
        return None
    line = _best_line(up, gap, spacing, count // 2, at_joints=at_joints)
    if not line.kinds:
        return None
    rows = tuple(line.homes.count(k) for k in range(len(up)))
    columns = tuple(map(len, filled(across, step, spacing)))
    return MixedBoard(spacing, step, gap, columns, rows, line.kinds)


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


@dataclass(frozen=True, slots=True)
class _Line:
    """Rows placed so far: where the last two stand, and the kind and the cell of each."""

    last: float = -np.inf
    before: float = -np.inf
    kinds: tuple[int, ...] = ()
    homes: tuple[int, ...] = ()

    def with_row(
        self, cells: Cells, kind: int, gap: float, spacing: float, *, at_joints: bool
    ) -> "_Line | None":
        """One more row, as early as it may be; None where there is no more room."""
        least, first = -np.inf, 0
        if self.kinds:
            alike = self.kinds[-1] == kind
            least = self.last + (spacing if alike else gap)
            first = self.homes[-1] + (alike and at_joints)
        if len(self.kinds) > 1 and self.kinds[-2] == kind:
            least = max(least, self.before + spacing)
        for home in range(first, len(cells)):
            start, end = cells[home]
            if start <= end + _SLACK and least <= end + _SLACK:
                kinds, homes = (*self.kinds, kind), (*self.homes, home)
                return _Line(max(start, least), self.last, kinds, homes)
        return None


def _best_line(cells: Cells, gap: float, spacing: float, short: int, *, at_joints: bool) -> _Line:
    """The rows with the most plants; a short row holds ``short``, a long one more."""
    # By long rows so far and kind of the last: whichever ends earliest.
    lines: dict[tuple[int, int], _Line] = {(0, 1): _Line()}
    most, best = 0, _Line()
    while lines:
        following: dict[tuple[int, int], _Line] = {}
        for (long, last), line in lines.items():
            plants = len(line.kinds) * short + long
            if plants > most:
                most, best = plants, line
            for kind in (0,) if last and line.kinds else (0, 1):
                longer = line.with_row(cells, kind, gap, spacing, at_joints=at_joints)
                if longer is None:
                    continue
                key = long + 1 - kind, kind
                known = following.get(key)
                if known is None or (longer.last, longer.before) < (known.last, known.before):
                    following[key] = longer
        lines = following
    return best


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
