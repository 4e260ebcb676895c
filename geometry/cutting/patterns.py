"""All ways to cut up a sheet that can matter: the counts of pieces that no other way beats.

A way is known by how many pieces of each size it yields, at most as many as are wanted. For each
sub-rectangle of a sheet the sets of its two parts are added up and only the counts that no other
count equals or exceeds in every size are kept. With all of them the best choice of sheets is an
integer program; nothing is lost, because a sheet that yields more can stand for one that yields
less.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.cutting.grid import Grid
from geometry.cutting.task import Counts, Laid, Pattern

Codes = NDArray[np.int64]
"""Counts of all sizes packed into one number each, a guard bit above every count."""

MOST_CODES: Final = 110_000
"""Counts kept for all sub-rectangles together beyond which the sets are given up."""

MOST_SUMS: Final = 11_000_000
"""Sums formed for all sub-rectangles together beyond which the sets are given up."""

MOST_CELLS: Final = 25_000
"""Sub-rectangles of one kind of sheet beyond which the sets are not even begun."""

_BLOCK: Final = 256


class TooManyPatternsError(Exception):
    """There are too many ways to cut up a sheet to list them all."""


@dataclass(slots=True)
class Work:
    """How much the sets of all kinds of sheet have cost so far."""

    keep_going: Callable[[], bool] = lambda: True
    sums: int = 0
    kept: int = 0

    def add(self, *, sums: int = 0, kept: int = 0) -> None:
        """Count work. Raises TooManyPatternsError beyond the limits, or when told to stop."""
        self.sums += sums
        self.kept += kept
        if self.sums > MOST_SUMS or self.kept > MOST_CODES or not self.keep_going():
            raise TooManyPatternsError


class PatternSets:
    """The counts worth having for each sub-rectangle of a stock's sheet."""

    def __init__(self, grid: Grid, demand: Counts, work: Work) -> None:
        """List them. Raises TooManyPatternsError where that takes too much work."""
        if grid.cells > MOST_CELLS:
            raise TooManyPatternsError
        self._grid = grid
        self._fields = _Fields(demand)
        self._work = work
        rows = len(grid.across.widths)
        self._sets: list[list[Codes]] = []
        for column in range(len(grid.along.widths)):
            self._sets.append([])
            for row in range(rows):
                self._sets[column].append(self._set_of(column, row))

    @property
    def counts(self) -> list[Counts]:
        """The counts of whole sheets, in a fixed order."""
        return [self._fields.unpacked(int(code)) for code in self._sets[-1][-1]]

    def pattern(self, counts: Counts) -> Pattern:
        """Lay out a sheet that yields these counts, or more of some size."""
        pieces: list[Laid] = []
        last = len(self._grid.along.widths) - 1, len(self._grid.across.widths) - 1
        self._lay(*last, self._fields.packed(counts), 0, 0, pieces)
        return Pattern(self._grid.stock, tuple(pieces))

    def _set_of(self, column: int, row: int) -> Codes:
        found = [np.zeros(1, dtype=np.int64), self._singles(column, row)]
        for low, high in self._halves(column, row):
            self._work.add(sums=len(low) * len(high))
            found.append(np.add.outer(low, high).ravel())
        sums = np.unique(np.concatenate(found))
        best = self._fields.unbeaten(np.unique(self._fields.capped(sums)))
        self._work.add(kept=len(best))
        return best

    def _halves(self, column: int, row: int) -> list[tuple[Codes, Codes]]:
        """Return the sets of the two parts of every cut through a sub-rectangle."""
        left, right = self._grid.along.halves[column]
        below, above = self._grid.across.halves[row]
        here = self._sets[column]
        return [
            *((self._sets[a][row], self._sets[b][row]) for a, b in zip(left, right, strict=True)),
            *((here[a], here[b]) for a, b in zip(below, above, strict=True)),
        ]

    def _singles(self, column: int, row: int) -> Codes:
        """Return the codes of the pieces that fit into a sub-rectangle one at a time."""
        width, height = self._grid.along.widths[column], self._grid.across.widths[row]
        fitting = [
            self._fields.single(size)
            for size, lies in enumerate(self._grid.lies)
            if any(lie.along <= width and lie.across <= height for lie in lies)
        ]
        return np.array(fitting, dtype=np.int64)

    def _lay(self, column: int, row: int, code: int, x: int, y: int, pieces: list[Laid]) -> None:
        """Find again how the counts of a sub-rectangle came about, and lay the pieces out."""
        if code == 0:
            return
        width, height = self._grid.along.widths[column], self._grid.across.widths[row]
        for size, lies in enumerate(self._grid.lies):
            if code == self._fields.single(size):
                for lie in lies:
                    if lie.along <= width and lie.across <= height:
                        pieces.append(Laid(size, x, y, lie))
                        return
        along, across = self._grid.along, self._grid.across
        for near, far in zip(*along.halves[column], strict=True):
            found = self._pair(self._sets[near][row], self._sets[far][row], code)
            if found:
                self._lay(int(near), row, found[0], x, y, pieces)
                self._lay(int(far), row, found[1], x + along.widths[near], y, pieces)
                return
        for low, high in zip(*across.halves[row], strict=True):
            found = self._pair(self._sets[column][low], self._sets[column][high], code)
            if found:
                self._lay(column, int(low), found[0], x, y, pieces)
                self._lay(column, int(high), found[1], x, y + across.widths[low], pieces)
                return

    def _pair(self, low: Codes, high: Codes, code: int) -> tuple[int, int] | None:
        hit = np.argwhere(self._fields.capped(low[:, None] + high[None, :]) == code)
        return (int(low[hit[0][0]]), int(high[hit[0][1]])) if len(hit) else None


class _Fields:
    """How counts are packed: each has bits for twice its demand, and a guard bit above them."""

    def __init__(self, demand: Counts) -> None:
        self._caps = demand
        self._bits = [(2 * cap).bit_length() for cap in demand]
        self._shifts = [0] * len(demand)
        for size in range(1, len(demand)):
            self._shifts[size] = self._shifts[size - 1] + self._bits[size - 1] + 1
        if self._shifts and self._shifts[-1] + self._bits[-1] + 1 > 62:
            raise TooManyPatternsError
        self._guards = sum(
            1 << (shift + bits) for shift, bits in zip(self._shifts, self._bits, strict=True)
        )

    def single(self, size: int) -> int:
        return 1 << self._shifts[size]

    def packed(self, counts: Counts) -> int:
        return sum(count << shift for count, shift in zip(counts, self._shifts, strict=True))

    def unpacked(self, code: int) -> Counts:
        return tuple(
            (code >> shift) & ((1 << bits) - 1)
            for shift, bits in zip(self._shifts, self._bits, strict=True)
        )

    def capped(self, codes: Codes) -> Codes:
        """Lower each count to what is wanted of its size."""
        result = np.zeros_like(codes)
        for shift, bits, cap in zip(self._shifts, self._bits, self._caps, strict=True):
            result |= np.minimum((codes >> shift) & ((1 << bits) - 1), cap) << shift
        return result

    def unbeaten(self, codes: Codes) -> Codes:
        """Keep the codes that no other equals or exceeds in every size; order is kept.

        Codes come sorted and without doubles. One that is beaten is beaten by one with more
        pieces in all, so those with most come first.
        """
        total = np.zeros(len(codes), dtype=np.int64)
        for shift, bits in zip(self._shifts, self._bits, strict=True):
            total += (codes >> shift) & ((1 << bits) - 1)
        waiting = codes[np.argsort(-total, kind="stable")]
        kept: list[Codes] = []
        while len(waiting):
            block, waiting = waiting[:_BLOCK], waiting[_BLOCK:]
            beats = self._covers(block[None, :], block[:, None])
            np.fill_diagonal(beats, val=False)
            block = block[~beats.any(axis=1)]
            kept.append(block)
            if len(waiting):
                waiting = waiting[~self._beaten(waiting, block)]
        return np.sort(np.concatenate(kept))

    def _beaten(self, codes: Codes, by: Codes) -> NDArray[np.bool_]:
        result = np.zeros(len(codes), dtype=np.bool_)
        step = max(1, 4_000_000 // max(1, len(by)))
        for start in range(0, len(codes), step):
            part = codes[start : start + step]
            result[start : start + step] = self._covers(by[None, :], part[:, None]).any(axis=1)
        return result

    def _covers(self, more: Codes, less: Codes) -> NDArray[np.bool_]:
        """Say where each count of one code reaches that of another."""
        covers: NDArray[np.bool_] = (((more | self._guards) - less) & self._guards) == self._guards
        return covers
