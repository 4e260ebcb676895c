"""A stack of parallel rows that can be moved as a whole: lattices, zigzags and mixed rows."""

from dataclasses import dataclass, replace
from math import floor
from typing import Final, Self

import numpy as np

from geometry.errors import TooManyError
from geometry.model.edges import Floats
from geometry.tongue import number, tr

MOST_ROWS: Final = 500_000
"""More rows than this are refused."""


@dataclass(frozen=True, slots=True)
class RowStack:
    """Rows at an angle (radians), endless both ways; sites of a row are a ``pitch`` apart.

    Each row lies a ``gap`` above the one before and is shifted along by ``shift`` more, or, in a
    ``zigzag``, by the same ``shift`` to and fro. ``straight`` gaps in the middle of a zigzag may be
    straight ones of ``straight_gap`` without shift. Rows that are ``alone`` share no shift: every
    free stretch of them is filled from its own start.
    """

    angle: float
    pitch: float
    gap: float
    shift: float = 0.0
    zigzag: bool = False
    straight: int = 0
    straight_gap: float = 0.0
    alone: bool = False

    @property
    def least_gap(self) -> float:
        """The distance between neighbouring rows; the least if they differ."""
        return min(self.gap, self.straight_gap) if self.straight else self.gap

    def opened(self, ratio: float) -> Self:
        """The same rows, all distances ``ratio`` times as large."""
        return replace(
            self,
            pitch=self.pitch * ratio,
            gap=self.gap * ratio,
            shift=self.shift * ratio,
            straight_gap=self.straight_gap * ratio,
        )

    def rows(self, low: float, high: float) -> tuple[Floats, Floats, float]:
        """Return heights and shifts of rows, and how far up to move them for all there is to see.

        Moved up by anything from nothing to that span, these rows take every position that rows of
        the endless stack can have between the heights ``low`` and ``high``.
        """
        count = floor((high - low) / self.gap) + 1
        if count > MOST_ROWS:
            raise TooManyError(
                tr(
                    "More than {most_rows} rows fit; give a wider spacing.",
                    most_rows=number(MOST_ROWS, 0),
                )
            )
        if self.straight:
            return self._mixed(low, high, count)
        which = np.arange(count + 2 * self._period, dtype=np.float64)
        shifts = self.shift * (which % 2 if self.zigzag else which)
        return low + self.gap * (which - self._period), shifts, self.gap * self._period

    @property
    def _period(self) -> int:
        return 2 if self.zigzag else 1

    def _mixed(self, low: float, high: float, count: int) -> tuple[Floats, Floats, float]:
        block, beside = self.straight * self.straight_gap, np.arange(1, count + 1)
        levels = [
            -self.gap * beside[::-1],
            self.straight_gap * np.arange(self.straight + 1),
            block + self.gap * beside,
        ]
        aside = self.shift * (beside % 2)
        shifts = [aside[::-1], np.zeros(self.straight + 1), aside]
        return np.concatenate(levels) + low - block, np.concatenate(shifts), high - low + block
