"""Which points lie near each other? Found through square cells, never all against all."""

from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from geometry.errors import TooManyError
from geometry.holes.sites import Coordinates
from geometry.tongue import tr

Indices = NDArray[np.int64]
Floats = NDArray[np.float64]

MOST_LOOKED_AT: Final = 5_000_000
"""Neighbouring points looked at beyond a hundred for each point; only heaps of holes need more."""

_MOST_ALONE: Final = 50
"""So few points without a near one are compared with all others."""

_FEW_TO_COMPARE: Final = 20_000
"""So many comparisons, all with all, are done sooner than points are sorted into cells."""

_NONE: Final = np.empty(0, dtype=np.int64)


@dataclass(frozen=True, slots=True, eq=False)
class _Cells:
    """Points sorted into square cells as wide as the reach, column by column."""

    origin: Floats
    reach: float
    height: int
    keys: Indices
    order: Indices
    x: Floats
    y: Floats

    @classmethod
    def of(cls, xy: Coordinates, reach: float) -> Self:
        origin = xy.min(axis=0)
        # Empty cells above each column keep its top from meeting the next column's bottom.
        height = int((xy[:, 1].max() - origin[1]) // reach) + 3
        column, row = np.floor((xy - origin) / reach).astype(np.int64).T
        keys = column * height + row
        order = np.argsort(keys, kind="stable")
        return cls(origin, reach, height, keys[order], order, xy[order, 0], xy[order, 1])

    def near(self, x: Floats, y: Floats, begin: Indices, end: Indices) -> tuple[Indices, Indices]:
        """Compare each point with the sorted points from its begin to its end."""
        counts = np.maximum(end - begin, 0)
        total = int(counts.sum())
        if total > 100 * (len(x) + len(self.keys)) + MOST_LOOKED_AT:
            raise TooManyError(
                tr("Too many holes lie on top of each other: take some of them away.")
            )
        first = np.repeat(np.arange(len(x)), counts)
        second = np.arange(total) - np.repeat(np.cumsum(counts) - counts - begin, counts)
        gap = np.hypot(x[first] - self.x[second], y[first] - self.y[second])
        near = np.flatnonzero(gap < self.reach)
        return first[near], second[near]


def near_pairs(xy: Coordinates, reach: float) -> tuple[Indices, Indices]:
    """Find all pairs of points nearer than ``reach``, the first before the second, in order.

    Raises:
        TooManyError: Holes by the thousand lie on top of each other.
    """
    if len(xy) < 2 or reach <= 0:
        return _NONE, _NONE
    cells = _Cells.of(xy, reach)
    keys, order = cells.keys, cells.order
    upwards = np.arange(1, len(keys) + 1), np.searchsorted(keys, keys + 1, side="right")
    next_column = (
        np.searchsorted(keys, keys + cells.height - 1),
        np.searchsorted(keys, keys + cells.height + 1, side="right"),
    )
    found = [cells.near(cells.x, cells.y, *span) for span in (upwards, next_column)]
    one, other = (order[np.concatenate(indices)] for indices in zip(*found, strict=True))
    return _sorted(np.minimum(one, other), np.maximum(one, other))


def near_between(here: Coordinates, there: Coordinates, reach: float) -> tuple[Indices, Indices]:
    """Find all pairs of a point here and a point there that are nearer than ``reach``, in order.

    Raises:
        TooManyError: Holes by the thousand lie on top of each other.
    """
    if not len(here) or not len(there) or reach <= 0:
        return _NONE, _NONE
    beside = _beside(here, there, reach)
    facing = _beside(there, here[beside], reach) if len(beside) else _NONE
    if not len(facing):
        return _NONE, _NONE
    x, y = here[beside, 0], here[beside, 1]
    if len(beside) * len(facing) <= _FEW_TO_COMPARE:
        away = np.hypot(x[:, None] - there[facing, 0], y[:, None] - there[facing, 1])
        one, other = np.nonzero(away < reach)
        return beside[one], facing[other]
    cells = _Cells.of(there[facing], reach)
    column, row = np.floor((here[beside] - cells.origin) / reach).astype(np.int64).T
    found = [
        cells.near(
            x,
            y,
            np.searchsorted(cells.keys, keys - 1),
            np.searchsorted(cells.keys, keys + 1, side="right"),
        )
        for keys in ((column + step) * cells.height + row for step in (-1, 0, 1))
    ]
    one, other = (np.concatenate(indices) for indices in zip(*found, strict=True))
    return _sorted(beside[one], facing[cells.order[other]])


def nearest_gaps(xy: Coordinates, likely: float) -> Floats:
    """Return how far each point is from the nearest other one, centre to centre; inf if alone.

    ``likely`` is a distance within which most of them have one; it only decides how long it takes.

    Raises:
        TooManyError: Holes by the thousand lie on top of each other.
    """
    gaps = np.full(len(xy), np.inf)
    first, second = near_pairs(xy, likely)
    apart = np.hypot(*(xy[first] - xy[second]).T)
    np.minimum.at(gaps, first, apart)
    np.minimum.at(gaps, second, apart)
    alone = np.flatnonzero(np.isinf(gaps))
    if not len(alone) or len(xy) < 2:
        return gaps
    if len(alone) > _MOST_ALONE:
        return nearest_gaps(xy, 2 * likely)
    for index in alone.tolist():
        away = np.hypot(xy[:, 0] - xy[index, 0], xy[:, 1] - xy[index, 1])
        away[index] = np.inf
        gaps[index] = away.min()
    return gaps


def _beside(points: Coordinates, others: Coordinates, reach: float) -> Indices:
    """Which points lie in the box of the others, grown by the reach."""
    low, high = others.min(axis=0) - reach, others.max(axis=0) + reach
    return np.flatnonzero(((points > low) & (points < high)).all(axis=1))


def _sorted(first: Indices, second: Indices) -> tuple[Indices, Indices]:
    by_order = np.lexsort((second, first))
    return first[by_order], second[by_order]
