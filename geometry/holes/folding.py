"""A region's border folded into one cell of a lattice, and the places where its curves meet there.

A point of the lattice crosses the border where a translation lies on the folded border; only where
two of its curves meet, or at a corner, can a translation be better than all beside it.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import acos, atan2, ceil, floor, hypot, pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.region import Region
from geometry.model import edges as many
from geometry.model.curves import Arc, Curve, Line
from geometry.model.edges import Floats, edges_of, end_of, middle_of, start_of
from geometry.model.measure import bounds_of, shifted_curve
from geometry.rafts.pieces import stretch
from geometry.units import TOLERANCE_MM

_SAME: Final = 1e-9
"""Shares of a curve or a cell that are closer than this are the same."""
_CHUNK: Final = 200_000


def fold(region: Region, cell: Floats) -> list[Curve]:
    """Cut the border at all cells of the lattice and move the pieces into the one at the origin.

    ``cell`` holds the two vectors that span the lattice. Pieces that fall together are kept once.
    """
    inverse = np.asarray(np.linalg.inv(cell), dtype=np.float64)
    folded: dict[tuple[float, ...], Curve] = {}
    for curve in region.border:
        shares = [0.0, *sorted(_cuts(curve, inverse)), 1.0]
        for begin, end in pairwise(shares):
            if end - begin > _SAME:
                piece = stretch(curve, begin, end)
                back = -np.floor(middle_of(piece) @ inverse) @ cell
                moved = shifted_curve(piece, *back.tolist())
                folded.setdefault(_key(moved), moved)
    return list(folded.values())


def _cuts(curve: Curve, inverse: Floats) -> Iterator[float]:
    """Where along a curve a share of the lattice's vectors is a whole number."""
    for way in inverse.T.tolist():
        match curve:
            case Line(start, end):
                first, last = (point.x * way[0] + point.y * way[1] for point in (start, end))
                low, high = sorted((first, last))
                for whole in range(ceil(low), floor(high) + 1):
                    if high - low > _SAME:
                        yield min(max((whole - first) / (last - first), 0.0), 1.0)
            case Arc(centre, radius, angle, sweep):
                reach, ahead = radius * hypot(*way), atan2(way[1], way[0])
                middle = centre.x * way[0] + centre.y * way[1]
                for whole in range(ceil(middle - reach), floor(middle + reach) + 1):
                    aside = acos(min(max((whole - middle) / reach, -1.0), 1.0))
                    for at in (ahead - aside, ahead + aside):
                        turned = at - angle if sweep > 0 else angle - at
                        share = turned % (2 * pi) / abs(sweep)
                        if share < 1:
                            yield share


def _key(curve: Curve) -> tuple[float, ...]:
    """Equal for curves that cover the same places, whichever way they run."""
    ends = sorted((round(x, 6), round(y, 6)) for x, y in (start_of(curve), end_of(curve)))
    middle = middle_of(curve)
    return (*ends[0], *ends[1], round(middle.x, 6), round(middle.y, 6))


def critical_places(region: Region, cell: Floats, folded: list[Curve]) -> Floats:
    """All translations that may be the best, as shares of the cell's two vectors, each once."""
    found = [np.array(region.corners, dtype=float).reshape(-1, 2), *_meetings(folded)]
    shares = np.concatenate(found) @ np.linalg.inv(cell)
    shares -= np.floor(shares + _SAME)
    _, first = np.unique(np.round(shares, 9), axis=0, return_index=True)
    unique: Floats = shares[np.sort(first)]
    return unique


def _meetings(curves: list[Curve]) -> Iterator[Floats]:
    lines = [curve for curve in curves if isinstance(curve, Line)]
    arcs = [curve for curve in curves if isinstance(curve, Arc)]
    edges = edges_of(curves)
    kinds = (
        (lines, lines, edges.lines, edges.lines, many.lines_meet),
        (lines, arcs, edges.lines, edges.arcs, many.line_meets_arc),
        (arcs, arcs, edges.arcs, edges.arcs, many.arcs_meet),
    )
    for first, second, one, other, meet in kinds:
        pairs = np.argwhere(_near(first, second))
        if first is second:
            pairs = pairs[pairs[:, 0] < pairs[:, 1]]
        for begin in range(0, len(pairs), _CHUNK):
            a, b = pairs[begin : begin + _CHUNK].T
            places = meet(one[a], other[b])
            yield places[~np.isnan(places[..., 0])]


def _near(first: list[Line] | list[Arc], second: list[Line] | list[Arc]) -> NDArray[np.bool_]:
    """Which pairs of curves have boxes that meet."""
    one, other = (
        np.array([bounds_of([curve]) for curve in curves]).reshape(-1, 4)
        for curves in (first, second)
    )
    one = one + np.array([-1, -1, 1, 1]) * TOLERANCE_MM
    apart = (one[:, None, :2] > other[None, :, 2:]) | (one[:, None, 2:] < other[None, :, :2])
    return np.asarray(~apart.any(axis=2))
