"""The free stretches of straight rows: a region cut into cells between two of its border's curves.

Looked at along a direction, a region falls into slabs in which nothing but heights changes: every
slab holds some cells, each between two curves that rise steadily. What a row finds free at any
height, or at all heights of a range at once, is then read off the cells.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.region import Region
from geometry.model.edges import Floats, edges_of, unit
from geometry.units import TOLERANCE_MM

NEARLY_MM: Final = TOLERANCE_MM / 5
"""Rows look so far beyond themselves, up and along; what they find is allowed all the same."""

_QUARTER: Final = pi / 2
_SAME: Final = 1e-12
_MOST_LEANS: Final = 4
_UPRIGHT: Final = 1e-5

Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """Free stretches of many rows, by row and from left to right.

    A stretch of row ``row`` reaches from ``start`` to ``end``. Where the row has a whole range of
    heights they take in all of it, and at no single height is it longer than ``longest``.
    """

    row: Indices
    start: Floats
    end: Floats
    longest: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Sides:
    """Curves that rise steadily: x = x0 + slope (h - h0) + side sqrt(square - (h - h0)^2).

    ``table`` holds x0, h0, slope, the least and the greatest x, side and square, row by row.
    """

    table: Floats

    def places(self, which: Indices, height: Floats) -> Floats:
        """Where some of the curves are at a height; beyond its ends a curve stays where it ends."""
        x0, h0, slope, least, most = self.table[:5, which]
        up = height - h0
        x = x0 + slope * up
        side = self.table[5, which]
        bows = np.flatnonzero(side)
        if len(bows):
            reach = self.table[6, which[bows]] - up[bows] ** 2
            x[bows] += side[bows] * np.sqrt(np.maximum(reach, 0.0))
        placed: Floats = np.minimum(np.maximum(x, least), most)
        return placed


@dataclass(frozen=True, slots=True, eq=False)
class _Pieces:
    """Pieces of the border, and the heights of their lower and upper ends."""

    curves: _Sides
    low: Floats
    high: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Cut:
    """One direction: its middle, layers from below, how many cells each holds, and the cells."""

    middle: tuple[float, float]
    bottoms: Floats
    tops: Floats
    held: Indices
    low: Floats
    high: Floats
    left: Floats
    right: Floats


@dataclass(frozen=True, eq=False)
class Chords:
    """The cells of a region in one or more directions.

    Layers are slabs and the heights between them, from below, direction after direction; layer k
    reaches from ``bottoms[k]`` to ``tops[k]`` and holds the cells from ``first[k]`` on. All heights
    of a direction are raised by its ``lift``, so that no two directions share any.
    """

    angles: tuple[float, ...]
    reaches: Floats
    """Lowest and highest free place in each direction; the wrong way round where there is none."""
    middles: Floats
    """The middle of what is free in each direction, along and across it."""
    lifts: Floats
    bottoms: Floats
    tops: Floats
    first: Indices
    low: Floats
    high: Floats
    left: _Sides
    right: _Sides
    straight: NDArray[np.bool_]
    """Which cells have a straight line on both sides."""
    way: Indices
    """The direction, by its number, that each cell belongs to."""

    @classmethod
    def of(cls, region: Region, angles: Sequence[float]) -> "Chords":
        """Cut a region in the directions of rows, each an angle in radians."""
        made = [_cut(region, angle) for angle in angles]
        reaches = [(cut.bottoms[0], cut.tops[-1]) if len(cut.tops) else (0.0, -1.0) for cut in made]
        lift = 4 * (float(np.abs(reaches).max(initial=0.0)) + 1.0)
        lifts = lift * np.arange(len(made), dtype=np.float64)
        left, right = (
            np.concatenate(tables, axis=1)
            for tables in ([cut.left for cut in made], [cut.right for cut in made])
        )
        return cls(
            tuple(angles),
            np.array(reaches),
            np.array([cut.middle for cut in made]).reshape(-1, 2),
            lifts,
            np.concatenate([cut.bottoms + up for cut, up in zip(made, lifts, strict=True)]),
            np.concatenate([cut.tops + up for cut, up in zip(made, lifts, strict=True)]),
            np.cumsum(np.concatenate([[0], *(cut.held for cut in made)])).astype(np.int64),
            np.concatenate([cut.low for cut in made]),
            np.concatenate([cut.high for cut in made]),
            _Sides(left),
            _Sides(right),
            (left[5] == 0) & (right[5] == 0),
            np.repeat(np.arange(len(made)), [len(cut.low) for cut in made]),
        )

    @cached_property
    def leans(self) -> Floats:
        """For each direction how much the walls lean that are most frequent; 0 where no more do."""
        leans = np.zeros((len(self.angles), _MOST_LEANS))
        for way in range(len(self.angles)):
            here = self.way == way
            slopes = np.concatenate([side.table[2, here] for side in (self.left, self.right)])
            slopes = slopes[(np.abs(slopes) > _UPRIGHT) & (np.abs(slopes) < 1 / _UPRIGHT)]
            _, first, count = np.unique(np.round(slopes, 5), return_index=True, return_counts=True)
            most = first[np.argsort(-count, kind="stable")][:_MOST_LEANS]
            leans[way, : len(most)] = slopes[most]
        return leans

    def stretches(
        self, way: Indices, low: Floats, high: Floats, lean: Floats | None = None
    ) -> Stretches:
        """Return what rows find free at the heights from ``low`` to ``high``, each in its way.

        With ``lean`` a row is followed on its way up by so much along for each millimetre: what is
        free beside a wall that leans as much then is one place, not a range.
        """
        lift = self.lifts[way]
        begin = self.first[np.searchsorted(self.tops, low - NEARLY_MM + lift, "left")]
        end = self.first[np.searchsorted(self.bottoms, high + NEARLY_MM + lift, "right")]
        count = np.maximum(end - begin, 0)
        row = np.repeat(np.arange(len(low)), count)
        cell = np.arange(len(row)) + np.repeat(begin - (np.cumsum(count) - count), count)
        several = count > 1
        bottom, top = self.low[cell], self.high[cell]
        bottom, top = (
            np.minimum(np.maximum(height[row] + more, bottom), top)
            for height, more in ((low, -NEARLY_MM), (high, NEARLY_MM))
        )
        left = [self.left.places(cell, height) for height in (bottom, top)]
        right = [self.right.places(cell, height) for height in (bottom, top)]
        start = np.minimum(*left) - NEARLY_MM
        stop = np.maximum(*right) + NEARLY_MM
        longest = np.maximum(right[0] - left[0], right[1] - left[1]) + 2 * NEARLY_MM
        longest = np.where(self.straight[cell], longest, stop - start)
        if lean is not None:
            along = [lean[row] * (height - low[row]) for height in (bottom, top)]
            least, most = np.minimum(*along), np.maximum(*along)
            leaning = [(side[0] - along[0], side[1] - along[1]) for side in (left, right)]
            bowed = [side.table[5, cell] != 0 for side in (self.left, self.right)]
            start = np.where(bowed[0], start - most, np.minimum(*leaning[0]) - NEARLY_MM)
            stop = np.where(bowed[1], stop - least, np.maximum(*leaning[1]) + NEARLY_MM)
        if not several.any():
            return Stretches(row, start, stop, longest)
        return _joined(row, start, stop, longest, several[row])


def _joined(
    row: Indices, start: Floats, end: Floats, longest: Floats, several: NDArray[np.bool_]
) -> Stretches:
    """Join the stretches of a row that meet."""
    some = np.flatnonzero(several)
    number = np.cumsum(np.append(True, np.diff(row[some]) > 0)) - 1
    low, high = float(start[some].min()), float(end[some].max())
    apart = number * (high - low + 1.0)
    order = np.argsort(start[some] + apart, kind="stable")
    some = some[order]
    begin, reached = start[some] + apart[order], np.maximum.accumulate(end[some] + apart[order])
    fresh = np.append(True, begin[1:] > reached[:-1])
    firsts = np.flatnonzero(fresh)
    stop = np.maximum.reduceat(end[some], firsts)
    alone = np.diff(np.append(firsts, len(some))) == 1
    length = np.where(alone, longest[some[firsts]], stop - start[some[firsts]])
    rows = np.concatenate([row[~several], row[some[firsts]]])
    back = np.argsort(rows, kind="stable")
    return Stretches(
        rows[back],
        np.concatenate([start[~several], start[some[firsts]]])[back],
        np.concatenate([end[~several], stop])[back],
        np.concatenate([longest[~several], length])[back],
    )


def _cut(region: Region, angle: float) -> _Cut:
    """Cut a region in one direction."""
    turn = turned(angle)
    pieces, points = _pieces(region, angle), np.array(region.corners).reshape(-1, 2) @ turn.T
    heights = np.sort(np.concatenate([pieces.low, pieces.high, points[:, 1]]))
    new = np.flatnonzero(np.diff(heights, prepend=-np.inf) > NEARLY_MM)
    firsts = heights[new]
    level = np.add.reduceat(heights, new) / np.diff(np.append(new, len(heights)))
    begin, end = (np.searchsorted(firsts, of, "right") - 1 for of in (pieces.low, pieces.high))
    slab, left, right = _pairs(region, turn, pieces, level, begin, end)
    flat = np.flatnonzero(begin == end)
    single = np.searchsorted(firsts, points[:, 1], "right") - 1
    layer = np.concatenate([2 * slab + 1, 2 * begin[flat], 2 * single])
    order = np.argsort(layer, kind="stable")
    table = pieces.curves.table
    ends = [
        np.concatenate([table[:, side], _upright(table[k, flat]), _upright(points[:, 0])], axis=1)
        for side, k in ((left, 3), (right, 4))
    ]
    own = np.concatenate([level[begin[flat]], level[single]])
    layers = max(0, 2 * len(level) - 1)
    return _Cut(
        _middle(table[3:5], points, level),
        np.repeat(level, 2)[:layers],
        np.repeat(level, 2)[1 : layers + 1],
        np.bincount(layer, minlength=layers),
        np.concatenate([level[slab], own])[order],
        np.concatenate([level[slab + 1], own])[order],
        ends[0][:, order],
        ends[1][:, order],
    )


def _middle(sides: Floats, points: Floats, level: Floats) -> tuple[float, float]:
    places = np.concatenate([sides.ravel(), points[:, 0]])
    if not len(level):
        return 0.0, 0.0
    return float(places.min() + places.max()) / 2, float(level[0] + level[-1]) / 2


def turned(angle: float) -> Floats:
    """The matrix from places on the raft to those along and across rows at an angle."""
    along = unit(angle)
    return np.array([[along.x, along.y], [-along.y, along.x]])


def _upright(x: Floats) -> Floats:
    """Sides that are at one place whatever the height."""
    table = np.zeros((7, len(x)))
    table[[0, 3, 4]] = x
    return table


def _pairs(
    region: Region,
    turn: Floats,
    pieces: _Pieces,
    level: Floats,
    begin: Indices,
    end: Indices,
) -> tuple[Indices, Indices, Indices]:
    """The cells between curves: slab, curve on the left and curve on the right of each."""
    slabs = np.arange(len(level) - 1)
    slab, piece = np.nonzero((begin <= slabs[:, None]) & (end > slabs[:, None]))
    if not len(slab):
        return slab, piece, piece
    middle = (level[slab] + level[slab + 1]) / 2
    x = pieces.curves.places(piece, middle)
    order = np.lexsort((x, slab))
    slab, piece, x, middle = slab[order], piece[order], x[order], middle[order]
    between = slab[1:] == slab[:-1]
    places = np.column_stack([(x[1:] + x[:-1]) / 2, middle[1:]])
    between[between] = region.allows(places[between] @ turn)
    # A curve with nothing free beside it is free by itself.
    lone = ~(np.append(between, False) | np.append(False, between))
    left, right = piece[:-1][between], piece[1:][between]
    return (
        np.concatenate([slab[:-1][between], slab[lone]]),
        np.concatenate([left, piece[lone]]),
        np.concatenate([right, piece[lone]]),
    )


def _pieces(region: Region, angle: float) -> _Pieces:
    """The border turned, its arcs cut at their tops, bottoms and sides."""
    edges, turn = edges_of(region.border), turned(angle)
    start, end = edges.lines[:, :2] @ turn.T, edges.lines[:, 2:] @ turn.T
    run, rise = (end - start).T
    slope = np.divide(run, rise, out=np.zeros_like(run), where=np.abs(rise) > _SAME)
    nought = np.zeros(len(start))
    ends_x, ends_y = np.sort([start[:, 0], end[:, 0]], axis=0), [start[:, 1], end[:, 1]]
    table = [np.stack([*start.T, slope, *ends_x, nought, nought])]
    low, high = [np.min(ends_y, axis=0)], [np.max(ends_y, axis=0)]
    centre, radius = edges.arcs[:, :2] @ turn.T, edges.arcs[:, 2]
    first = np.minimum(edges.arcs[:, 3], edges.arcs[:, 3] + edges.arcs[:, 4]) - angle
    last = first + np.abs(edges.arcs[:, 4])
    quarter = np.floor(first / _QUARTER + _SAME)
    for ahead in range(5):
        here = quarter + ahead
        cuts = np.maximum(first, here * _QUARTER), np.minimum(last, (here + 1) * _QUARTER)
        some = cuts[1] - cuts[0] > _SAME
        side = np.where(np.isin(here % 4, (0, 3)), 1.0, -1.0)[some]
        (x0, h0), size = centre[some].T, radius[some]
        ends = [np.array([unit(at) for at in cut[some].tolist()]).reshape(-1, 2) for cut in cuts]
        x = np.sort([x0 + size * along[:, 0] for along in ends], axis=0)
        y = np.sort([h0 + size * along[:, 1] for along in ends], axis=0)
        table.append(np.stack([x0, h0, np.zeros_like(x0), *x, side, size**2]))
        low.append(y[0])
        high.append(y[1])
    return _Pieces(_Sides(np.concatenate(table, axis=1)), np.concatenate(low), np.concatenate(high))
