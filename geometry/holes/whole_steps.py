"""Whole numbers that keep apart: the exact answer to "these lines, so far from each other".

Each unknown is a whole number between bounds; edges say that one is at least so much more than
another. Such a system has an answer exactly when the least values that the edges force stay within
the bounds, and the middle of two answers, rounded down, is an answer again (common knowledge about
difference constraints).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Wholes = NDArray[np.int64]
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """``high`` is at least ``by`` more than ``low``; both are places in the list of unknowns."""

    low: Wholes
    high: Wholes
    by: Wholes

    def tightest(self) -> "Edges":
        """Keep, of the edges between the same two unknowns, the one that asks for most."""
        order = np.lexsort((-self.by, self.high, self.low))
        low, high, by = self.low[order], self.high[order], self.by[order]
        first = np.ones(len(low), dtype=np.bool_)
        first[1:] = (low[1:] != low[:-1]) | (high[1:] != high[:-1])
        return Edges(low[first], high[first], by[first])


def solve(least: Wholes, most: Wholes, wish: Floats, edges: Edges) -> Wholes | None:
    """Return whole numbers within their bounds that keep all edges, near the wishes; or None.

    None means that there are none. What the wishes leave to be pushed apart is pushed both ways.
    """
    edges = edges.tightest()
    low = _raised(least, most, edges)
    if low is None:
        return None
    high = -_must(_raised(-most, -low, _mirrored(edges)))
    near = np.clip(np.floor(wish + 0.5).astype(np.int64), low, high)
    upwards = _must(_raised(near, high, edges))
    downwards = -_must(_raised(-near, -low, _mirrored(edges)))
    middle: Wholes = (upwards + downwards) // 2
    return middle


def _raised(least: Wholes, most: Wholes, edges: Edges) -> Wholes | None:
    """The least numbers from ``least`` on that keep all edges; None when one passes ``most``."""
    raised = least.copy()
    while not (raised > most).any():
        before = raised.copy()
        np.maximum.at(raised, edges.high, before[edges.low] + edges.by)
        if np.array_equal(raised, before):
            return raised
    return None


def _mirrored(edges: Edges) -> Edges:
    return Edges(edges.high, edges.low, edges.by)


def _must(found: Wholes | None) -> Wholes:
    assert found is not None  # noqa: S101  # between two answers there is always a third
    return found
