"""A pattern of parallel rows: how many sites stand in each, and how far apart."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.holes.sites import Sites

Family = Literal["square", "rectangular", "hexagonal", "staggered", "mixed"]
Way = Literal["along", "across"]


@dataclass(frozen=True, slots=True)
class RowCounts:
    """How many rows and sites a pattern has, whatever its distances.

    From the datum corner: ``straight`` + 1 rows of ``long`` sites stand square behind each other,
    then ``staggered`` more rows follow, every other one (the first to begin with) shifted along
    the row and holding ``short`` sites, which is ``long`` or one less. (Hexagonal rows too narrow
    for a shifted site are a single straight column, sqrt(3) spacings apart.)
    """

    family: Family
    long: int
    short: int
    straight: int
    staggered: int

    @property
    def count(self) -> int:
        """All sites."""
        shifted = (self.staggered + 1) // 2
        return self.long * (self.rows - shifted) + self.short * shifted

    @property
    def rows(self) -> int:
        """All rows."""
        return self.straight + self.staggered + 1

    @property
    def pitches(self) -> float:
        """Length of the whole block in pitches, when shifted rows stand half a pitch off."""
        return self.long - 1 + (0.5 if self.staggered and self.short == self.long else 0.0)

    def widest(self, width: float, height: float, ratio: float = 1.0) -> float:
        """Return the largest spacing at which all sites fit into this closed centre rectangle.

        ``width`` lies along the rows. ``ratio`` is what the gap of straight rows is to the spacing.
        Infinite for a single site.
        """
        if self.staggered == 0:
            if self.family == "hexagonal":
                ratio = math.sqrt(3)
            return min(_share(width, self.long - 1), _share(height, self.straight * ratio))
        gap = height / self.staggered
        if self.family == "hexagonal":
            return min(_share(width, self.pitches), gap * 2 / math.sqrt(3))
        if self.short == self.long:
            return self._widest_equal_rows(width, gap)
        pitch = width / (self.long - 1)
        second = height / (self.staggered / 2 + self.straight) if self.staggered > 1 else math.inf
        return min(pitch, second, self._widest_diagonal(pitch, height))

    def _widest_equal_rows(self, width: float, gap: float) -> float:
        """All rows alike: shifted half a pitch or, when that is too wide, by what is left."""
        second = 2 * gap if self.staggered > 1 else math.inf
        if self.long == 1:
            return min(second, math.hypot(width, gap))
        pitch = width / self.pitches
        if min(second, math.hypot(pitch / 2, gap)) < pitch:
            return min(second, math.hypot(pitch / 2, gap))
        gaps = self.long - 1
        product = gaps**2 - 1
        if product == 0:
            free = (width**2 + gap**2) / (2 * width) if width else math.inf
        else:
            root = width**2 - product * gap**2
            free = (width * gaps - math.sqrt(root)) / product if root >= 0 else math.inf
        return max(pitch, min(free, second, width / gaps))

    def _widest_diagonal(self, pitch: float, height: float) -> float:
        """Spacing s at which t gaps of sqrt(s^2 - pitch^2 / 4) and q gaps of s fill the height."""
        t, q = self.staggered, self.straight
        if q and height / q <= pitch / 2:
            return height / q
        square = height**2 + (t * pitch / 2) ** 2
        if t == q:
            return square / (2 * height * q)
        root = math.sqrt((height * q) ** 2 + (t**2 - q**2) * square)
        return (root - height * q) / (t**2 - q**2)


def _share(length: float, gaps: float) -> float:
    return length / gaps if gaps else math.inf


@dataclass(frozen=True, slots=True)
class RowPattern:
    """Rows with their distances in millimetres.

    ``pitch`` is the distance between sites of a row, ``offset`` how far a shifted row stands off,
    ``straight_gap`` and ``staggered_gap`` the distances from row to row. ``direction`` "across"
    means that the rows run along y.
    """

    rows: RowCounts
    direction: Way
    pitch: float
    offset: float
    straight_gap: float
    staggered_gap: float

    @property
    def family(self) -> Family:
        """The kind of pattern."""
        return self.rows.family

    @property
    def count(self) -> int:
        """All sites."""
        return self.rows.count

    @property
    def counts(self) -> tuple[int, ...]:
        """Sites of each row, from the datum corner."""
        return tuple(
            self.rows.short if shifted else self.rows.long for shifted in self._shifted().tolist()
        )

    @property
    def row_gap(self) -> float:
        """The least distance between neighbouring rows; 0 for a single row."""
        gaps = (
            *([self.straight_gap] if self.rows.straight else []),
            *([self.staggered_gap] if self.rows.staggered else []),
        )
        return min(gaps, default=0.0)

    @property
    def extent(self) -> tuple[float, float]:
        """Length of the block along its rows and across them, first centre to last."""
        along = (self.rows.long - 1) * self.pitch
        if self.rows.staggered and self.rows.short == self.rows.long:
            along += self.offset
        across = self.rows.straight * self.straight_gap + self.rows.staggered * self.staggered_gap
        return along, across

    def sites(self, along: float = 0.0, across: float = 0.0) -> Sites:
        """Return the sites, the block's lower left corner at ``along`` and ``across`` its rows."""
        shifted = self._shifted()
        counts = np.where(shifted, self.rows.short, self.rows.long)
        row = np.repeat(np.arange(len(counts), dtype=np.int64), counts)
        place = np.arange(len(row)) - np.repeat(np.cumsum(counts) - counts, counts)
        number = np.arange(len(counts))
        level = self.straight_gap * np.minimum(number, self.rows.straight)
        level = level + self.staggered_gap * np.maximum(number - self.rows.straight, 0)
        x = along + place * self.pitch + np.where(shifted, self.offset, 0.0)[row]
        y = across + level[row]
        return Sites(np.column_stack((x, y) if self.direction == "along" else (y, x)), row)

    def _shifted(self) -> NDArray[np.bool_]:
        shifted: NDArray[np.bool_] = (
            np.maximum(np.arange(self.rows.rows) - self.rows.straight, 0) % 2 == 1
        )
        return shifted
