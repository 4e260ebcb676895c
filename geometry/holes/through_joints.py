"""Grids and chessboards that run on across all joints of a plain split.

A plain split is one of rectangles in full columns and rows. The places for centres are then the
cells of its columns times the cells of its rows, and either axis can be filled by itself.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import islice, product
from math import sqrt
from typing import Final

import numpy as np

from geometry.holes.chessboard import (
    Board,
    Floats,
    best_boards,
    board,
    opened,
    opened_in_shape,
    places,
)
from geometry.holes.joints import evened_line, line_through_cells, widest_pitch
from geometry.holes.mixed_board import (
    MixedBoard,
    best_mixed_board,
    mixed_board,
    mixed_places,
    opened_mixed,
)
from geometry.holes.row_pattern import Way
from geometry.holes.sites import Sites
from geometry.model.planting import Direction, Pattern
from geometry.rafts.layout import RaftPlace

_GRIDS: Final[frozenset[Pattern]] = frozenset(
    {"square", "rectangular", "staggered", "mixed", "rows", "best"}
)
_BOARDS: Final[frozenset[Pattern]] = frozenset({"staggered", "mixed", "best"})
_MIXED: Final[frozenset[Pattern]] = frozenset({"mixed", "best"})
_HEXAGONAL: Final[frozenset[Pattern]] = frozenset({"hexagonal", *_BOARDS})
_WAYS: Final[dict[Direction, tuple[Way, ...]]] = {
    "along": ("along",),
    "across": ("across",),
    "best": ("along", "across"),
}

Cells = Sequence[tuple[Fraction, Fraction]]
Lines = Sequence[Sequence[float] | Sequence[Fraction] | Floats]
Kinds = Sequence[int]


@dataclass(frozen=True, slots=True, eq=False)
class Through:
    """One pattern through the joints: its name, what it holds, and its sites when they are wanted.

    ``lay`` gives the sites of every raft in the order of the layout; rafts laid alike share one.
    """

    pattern: str
    direction: str
    plants: int
    pitch_mm: float
    row_gap_mm: float
    lay: Callable[[], tuple[Sites, ...]]


@dataclass(frozen=True, eq=False)
class PlainSplit:
    """The rafts of a plain split and the cells that the edge margin leaves, by column and row."""

    rafts: tuple[RaftPlace, ...]
    across: Cells
    up: Cells
    margin: Fraction
    column_of: dict[int, int]
    row_of: dict[int, int]

    @cached_property
    def float_across(self) -> list[tuple[float, float]]:
        """The cells of the columns in floats."""
        return [(float(start), float(end)) for start, end in self.across]

    @cached_property
    def float_up(self) -> list[tuple[float, float]]:
        """The cells of the rows in floats."""
        return [(float(start), float(end)) for start, end in self.up]

    @classmethod
    def of(cls, rafts: Sequence[RaftPlace], margin: Fraction) -> "PlainSplit | None":
        """The split of these rafts; None where a raft is no rectangle or its place is empty."""
        columns: dict[int, tuple[Fraction, Fraction]] = {}
        rows: dict[int, tuple[Fraction, Fraction]] = {}
        for raft in rafts:
            shape = raft.shape
            if not shape.is_rectangle:
                return None
            along, across = (raft.x, shape.length), (raft.y, shape.width)
            if columns.setdefault(raft.column, along) != along:
                return None
            if rows.setdefault(raft.row, across) != across:
                return None
        if len(rafts) != len(columns) * len(rows):
            return None
        cells = [
            [(start + margin, start + size - margin) for _, (start, size) in sorted(each.items())]
            for each in (columns, rows)
        ]
        numbers = ({key: k for k, key in enumerate(sorted(each))} for each in (columns, rows))
        return cls(tuple(rafts), cells[0], cells[1], margin, *numbers)

    def sites(
        self, xs: Lines, ys: Lines, direction: str, kinds: tuple[Kinds, Kinds] | None = None
    ) -> tuple[Sites, ...]:
        """Put a plant where columns and rows meet, or only where those of one kind (0, 1) do."""
        of_column, of_row = kinds or ([0] * sum(map(len, xs)), [0] * sum(map(len, ys)))
        kinds_x, kinds_y = _by_cell(of_column, xs), _by_cell(of_row, ys)
        own_x = {k: _own(xs[k], start - self.margin) for k, (start, _) in enumerate(self.across)}
        own_y = {k: _own(ys[k], start - self.margin) for k, (start, _) in enumerate(self.up)}
        alike: dict[tuple[object, ...], Sites] = {}
        by_cell: dict[tuple[int, int], Sites] = {}
        for column, row in product(own_x, own_y):
            own_kinds = _first_zero(kinds_x[column], kinds_y[row])
            key = own_x[column], own_y[row], own_kinds
            if key not in alike:
                alike[key] = _crossings(own_x[column], own_y[row], *own_kinds, direction)
            by_cell[column, row] = alike[key]
        return tuple(by_cell[self.column_of[r.column], self.row_of[r.row]] for r in self.rafts)


def _by_cell(kinds: Kinds, lines: Lines) -> list[tuple[int, ...]]:
    rest = iter(kinds)
    return [tuple(islice(rest, len(cell))) for cell in lines]


def _first_zero(
    first: tuple[int, ...], second: tuple[int, ...]
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Both kinds renamed so that the first column is of kind 0: the plants stay where they are."""
    if not first or first[0] == 0:
        return first, second
    return tuple(1 - kind for kind in first), tuple(1 - kind for kind in second)


def _own(line: Sequence[float] | Sequence[Fraction] | Floats, datum: Fraction) -> tuple[float, ...]:
    """Places of a line on their raft; rounded, so that rafts alike but for rounding are equal."""
    own = np.array([float(at) for at in line]) - float(datum)
    return tuple(np.round(own, 9).tolist())


def _crossings(
    x: Sequence[float], y: Sequence[float], kinds_x: Kinds, kinds_y: Kinds, direction: str
) -> Sites:
    (along, kind), (up, other) = (x, kinds_x), (y, kinds_y)
    if direction == "across":
        (along, kind), (up, other) = (up, other), (along, kind)
    row, place = np.nonzero(np.array(other)[:, None] == np.array(kind)[None, :])
    xy = np.column_stack([np.array(along)[place], np.array(up)[row]]).reshape(-1, 2)
    _, ranks = np.unique(row, return_inverse=True)
    return Sites(xy if direction == "along" else xy[:, ::-1], ranks.astype(np.int64))


def patterns_through_joints(
    split: PlainSplit,
    *,
    spacing: Fraction,
    row_spacing: Fraction | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
) -> Iterator[Through]:
    """The best grid, the best hexagonal rows and the best stagger through all joints.

    A grid is exact: no straight columns and rows hold more. So are staggered rows among all
    chessboards. Hexagonal rows are equilateral on every raft and may stand off at the joints.
    """
    if pattern in _GRIDS:
        yield from _grids(split, spacing, row_spacing or spacing, direction, spread=spread)
    if pattern in _HEXAGONAL:
        most = 0
        for through in _hexagonal(split, float(spacing), direction, spread=spread):
            most = max(most, through.plants)
            yield through
        yield from _unlike_at_joints(split, float(spacing), direction, most, spread=spread)
    most = 0
    if pattern in _BOARDS:
        for through in _staggered(split, float(spacing), direction, spread=spread):
            most = max(most, through.plants)
            yield through
        name = "mixed" if pattern in _MIXED else "staggered"
        yield from _mixed(split, float(spacing), direction, most, name, spread=spread)


def _grids(
    split: PlainSplit, spacing: Fraction, gap: Fraction, direction: Direction, *, spread: bool
) -> Iterator[Through]:
    """Columns and rows that run through all cells, each as many as fit."""
    ways = _WAYS[direction]
    for way in ways[:1] if gap == spacing else ways:
        gap_x, gap_y = (spacing, gap) if way == "along" else (gap, spacing)
        columns = line_through_cells(split.across, gap_x)
        rows = line_through_cells(split.up, gap_y)
        plants = sum(map(len, columns)) * sum(map(len, rows))
        if not plants:
            continue
        pitch_x = widest_pitch(split.across, columns, gap_x) if spread else float(gap_x)
        pitch_y = widest_pitch(split.up, rows, gap_y) if spread else float(gap_y)

        def lay(
            columns: Sequence[Sequence[Fraction]] = columns,
            rows: Sequence[Sequence[Fraction]] = rows,
            pitch_x: float = pitch_x,
            pitch_y: float = pitch_y,
            way: str = way,
        ) -> tuple[Sites, ...]:
            xs: Lines = columns
            ys: Lines = rows
            if spread:
                xs = evened_line(split.across, list(map(len, columns)), pitch_x)
                ys = evened_line(split.up, list(map(len, rows)), pitch_y)
            return split.sites(xs, ys, way)

        name = "square" if gap == spacing else "rectangular"
        pitch, row_gap = (pitch_x, pitch_y) if way == "along" else (pitch_y, pitch_x)
        yield Through(name, way, plants, pitch, row_gap, lay)


def _hexagonal(
    split: PlainSplit, spacing: float, direction: Direction, *, spread: bool
) -> Iterator[Through]:
    steps = spacing / 2, spacing * sqrt(0.75)
    for way in _WAYS[direction]:
        step_x, step_y = steps if way == "along" else steps[::-1]
        found = board(split.float_across, split.float_up, spacing, step_x, step_y)
        if sum(found.columns) > 1 and sum(found.rows) > 1:
            if spread:
                found = opened_in_shape(split.float_across, split.float_up, found)
            yield _through(split, found, "hexagonal", way)


def _staggered(
    split: PlainSplit, spacing: float, direction: Direction, *, spread: bool
) -> Iterator[Through]:
    found = list(best_boards(split.float_across, split.float_up, spacing))
    if direction != "best":
        found = sorted(found, key=lambda each: -each.plants)[:1]
    for each in found:
        way = "along" if each.step_y >= each.step_x else "across"
        if direction != "best":
            way = direction
        wider = opened(split.float_across, split.float_up, each) if spread else each
        yield _through(split, wider, "staggered", way)


def _unlike_at_joints(
    split: PlainSplit, spacing: float, direction: Direction, most: int, *, spread: bool
) -> Iterator[Through]:
    """Hexagonal rows that begin anew with a long row, or a long column, behind some joints.

    Only those that hold more than ``most``.
    """
    steps = spacing / 2, spacing * sqrt(0.75)
    for way, is_turned in product(_WAYS[direction], (False, True)):
        step_x, step_y = steps if way == "along" else steps[::-1]
        lines, gaps = (split.float_across, split.float_up), (step_x, step_y)
        if is_turned:
            lines, gaps = lines[::-1], gaps[::-1]
        found = mixed_board(*lines, spacing, *gaps, at_joints=True)
        if found is not None and found.plants > most:
            yield _mixed_through(split, found, "hexagonal", way, is_turned=is_turned, spread=spread)


def _mixed(
    split: PlainSplit, spacing: float, direction: Direction, most: int, name: str, *, spread: bool
) -> Iterator[Through]:
    """Rows of which some are straight, if that holds more than ``most``.

    Staggered rows are straight at joints only, where the long row before lies on another raft.
    """
    for way in ("along", "across") if name == "staggered" else _WAYS[direction]:
        lines = split.float_across, split.float_up
        if way == "across":
            lines = lines[::-1]
        found = best_mixed_board(*lines, spacing, most, at_joints=name == "staggered")
        if found is not None:
            most = found.plants
            named = way if direction == "best" else direction
            yield _mixed_through(
                split, found, name, named, is_turned=way == "across", spread=spread
            )


def _mixed_through(  # what to lay, what to call it, and how
    split: PlainSplit, found: MixedBoard, name: str, way: str, *, is_turned: bool, spread: bool
) -> Through:
    """Make a pattern of a mixed board; a turned one has its unlike lines along x."""
    lines = split.float_across, split.float_up
    if is_turned:
        lines = lines[::-1]
    wide = opened_mixed(*lines, found) if spread else found

    def lay() -> tuple[Sites, ...]:
        columns, rows = mixed_places(*lines, wide)
        kinds = _alternating(columns), wide.kinds
        if is_turned:
            return split.sites(rows, columns, way, kinds[::-1])
        return split.sites(columns, rows, way, kinds)

    along, up = (wide.gap, wide.step) if is_turned else (wide.step, wide.gap)
    if way == "across":
        along, up = up, along
    return Through(name, way, wide.plants, max(2 * along, wide.spacing), up, lay)


def _alternating(lines: Lines) -> list[int]:
    return [k % 2 for k in range(sum(map(len, lines)))]


def _through(split: PlainSplit, found: Board, name: str, way: str) -> Through:
    def lay() -> tuple[Sites, ...]:
        xs, ys = places(split.float_across, split.float_up, found)
        return split.sites(xs, ys, way, (_alternating(xs), _alternating(ys)))

    along, up = (found.step_x, found.step_y) if way == "along" else (found.step_y, found.step_x)
    return Through(name, way, found.plants, max(2 * along, found.spacing), up, lay)
