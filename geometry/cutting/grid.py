"""One sheet cut up as well as can be: the places where cuts may lie, and the most worth they give.

Only cuts at sums of piece sides matter (normal patterns): any straight-cut pattern can be pushed to
the lower left until its cuts lie there. Sources: P. C. Gilmore, R. E. Gomory, Multistage cutting
stock problems of two and more dimensions, Operations Research 13 (1965); J. E. Beasley, Algorithms
for unconstrained two-dimensional guillotine cutting, J. Oper. Res. Soc. 36 (1985).
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.cutting.task import Counts, Laid, Lie, Pattern, Stock

MOST_CELLS: Final = 300_000
"""Sub-rectangles of a sheet beyond which the exact ways are too slow."""

MOST_PLACES: Final = 4_000


@dataclass(frozen=True, slots=True)
class Axis:
    """The widths that parts of a sheet can have along one side, rising, and how each is cut.

    ``halves[k]`` holds two rows of indices: parting a part of width ``k`` leaves these two widths.
    ``batches`` are runs of widths none of which is a part of another.
    """

    widths: tuple[int, ...]
    halves: tuple[NDArray[np.intp], ...]
    batches: tuple[tuple[int, int], ...]

    def at(self, width: int) -> int:
        """Find the largest width that is no larger than this; -1 if there is none."""
        return bisect_right(self.widths, width) - 1


def make_axis(room: int, extents: Sequence[tuple[tuple[int, ...], int]]) -> Axis | None:
    """List the widths for a side of a sheet; None when there are too many.

    ``extents`` holds, for each size, what one piece may take of this side, and how many there are.
    """
    places = {0}
    for ways, count in extents:
        fresh = places
        for _ in range(count):
            fresh = {place + way for place in fresh for way in ways if place + way <= room} - places
            if not fresh:
                break
            places |= fresh
            if len(places) > MOST_PLACES:
                return None
    sums = sorted(places)
    needed = {_floor(sums, room)}
    waiting = list(needed)
    parted: dict[int, list[tuple[int, int]]] = {}
    while waiting:
        width = waiting.pop()
        pairs = [
            (low, _floor(sums, width - low)) for low in sums[1 : bisect_right(sums, width // 2)]
        ]
        parted[width] = pairs
        for pair in pairs:
            for part in pair:
                if part not in needed:
                    needed.add(part)
                    waiting.append(part)
    widths = tuple(sorted(needed))
    index = {width: number for number, width in enumerate(widths)}
    halves = tuple(
        np.array([(index[low], index[high]) for low, high in parted[width]], dtype=np.intp)
        .reshape(-1, 2)
        .T.copy()
        for width in widths
    )
    return Axis(widths, halves, tuple(_batches(widths, sums[1] if len(sums) > 1 else 1)))


def _batches(widths: Sequence[int], smallest: int) -> Iterator[tuple[int, int]]:
    """Part the widths into runs that span less than the smallest piece that can be cut off."""
    start = 0
    for number, width in enumerate(widths):
        if width - widths[start] >= smallest:
            yield start, number
            start = number
    yield start, len(widths)


def _floor(sums: Sequence[int], room: int) -> int:
    return sums[bisect_right(sums, room) - 1]


@dataclass(frozen=True, slots=True)
class Grid:
    """All sub-rectangles of a stock's sheet that a cut can leave."""

    stock: int
    lies: tuple[tuple[Lie, ...], ...]
    along: Axis
    across: Axis

    @property
    def cells(self) -> int:
        """How many sub-rectangles there are."""
        return len(self.along.widths) * len(self.across.widths)

    @property
    def work(self) -> int:
        """How many cuts are weighed to find the most worth once."""
        along = sum(int(halves.shape[1]) for halves in self.along.halves)
        across = sum(int(halves.shape[1]) for halves in self.across.halves)
        return along * len(self.across.widths) + across * len(self.along.widths)

    def most(self, worth: Sequence[int]) -> NDArray[np.int64]:
        """Find the most worth that each sub-rectangle yields, any number of copies of each size."""
        columns, rows = self.along.widths, self.across.widths
        value = np.zeros((len(columns), len(rows)), dtype=np.int64)
        for size, each in enumerate(worth):
            for lie in self.lies[size]:
                near, low = self._first(lie)
                part = value[near:, low:]
                np.maximum(part, each, out=part)
        for start, stop in self.along.batches:
            for column in range(start, stop):
                left, right = self.along.halves[column]
                if len(left):
                    line = value[column]
                    np.maximum(line, (value[left] + value[right]).max(axis=0), out=line)
            batch = value[start:stop]
            for row, (below, above) in enumerate(self.across.halves):
                if len(below):
                    line = batch[:, row]
                    np.maximum(line, (batch[:, below] + batch[:, above]).max(axis=1), out=line)
        return value

    def _first(self, lie: Lie) -> tuple[int, int]:
        """Find the first column and row in which a piece fits."""
        near = int(np.searchsorted(self.along.widths, lie.along))
        low = int(np.searchsorted(self.across.widths, lie.across))
        return near, low

    def pattern(self, worth: Sequence[int], value: NDArray[np.int64]) -> Pattern:
        """Lay out a sheet of the most worth."""
        pieces: list[Laid] = []
        waiting = [(len(self.along.widths) - 1, len(self.across.widths) - 1, 0, 0)]
        while waiting:
            column, row, x, y = waiting.pop()
            target = int(value[column, row])
            if target == 0:
                continue
            laid = self._single(column, row, target, worth)
            if laid is not None:
                pieces.append(Laid(laid[0], x, y, laid[1]))
                continue
            left, right = self.along.halves[column]
            hit = np.flatnonzero(value[left, row] + value[right, row] == target)
            if len(hit):
                near, far = int(left[hit[0]]), int(right[hit[0]])
                waiting += [
                    (far, row, x + self.along.widths[near], y),
                    (near, row, x, y),
                ]
                continue
            below, above = self.across.halves[row]
            hit = np.flatnonzero(value[column, below] + value[column, above] == target)
            low, high = int(below[hit[0]]), int(above[hit[0]])
            waiting += [
                (column, high, x, y + self.across.widths[low]),
                (column, low, x, y),
            ]
        return Pattern(self.stock, tuple(pieces))

    def _single(
        self, column: int, row: int, target: int, worth: Sequence[int]
    ) -> tuple[int, Lie] | None:
        room = self.along.widths[column], self.across.widths[row]
        for size, each in enumerate(worth):
            if each == target:
                for lie in self.lies[size]:
                    if lie.along <= room[0] and lie.across <= room[1]:
                        return size, lie
        return None


def make_grid(number: int, stock: Stock, demand: Counts) -> Grid | None:
    """Make the grid of a stock's sheet; None when it would be too fine to work with."""
    along = make_axis(
        stock.length,
        [
            (tuple({lie.along for lie in lies}), count)
            for lies, count in zip(stock.lies, demand, strict=True)
            if lies
        ],
    )
    across = make_axis(
        stock.width,
        [
            (tuple({lie.across for lie in lies}), count)
            for lies, count in zip(stock.lies, demand, strict=True)
            if lies
        ],
    )
    if along is None or across is None:
        return None
    grid = Grid(number, stock.lies, along, across)
    return grid if grid.cells <= MOST_CELLS else None
