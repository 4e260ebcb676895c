"""Where a raft is weakest: the straight line across it on which the holes leave the least foam.

A measure of practice, not of law: no source says how much foam a raft needs.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.afloat.corners import corners_of
from geometry.holes.sites import Holes
from geometry.model.curves import Loop
from geometry.watch import look_up

Floats = NDArray[np.float64]

ALL_PAIRS: Final = 48
"""Up to so many holes every line through two of them is looked at."""

_NEIGHBOURS: Final = 12
_DIRECTIONS: Final = 16
_BY_CORNERS: Final = 8
_SAME: Final = 1e-7
_CELLS: Final = 2_000_000


@dataclass(frozen=True, slots=True)
class WeakLine:
    """A straight line from edge to edge, in raft coordinates, and the share of it that is foam.

    ``holes`` is how many of them it runs through.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    sound: float
    holes: int


def weakest_line(outline: Loop, holes: Holes, wobble: float = 0.0) -> WeakLine | None:
    """Find the line with the least share of foam; None of a raft without holes.

    All rows and columns are looked at, and with up to ALL_PAIRS holes every line through the
    centres of two of them. With more, the lines through any centre in the directions that are the
    most frequent between neighbours, and all lines through two of the holes that are nearest to a
    corner. Where an outline is hollow each stretch between two edges is a line of its own. Holes
    come out wider by ``wobble``.
    """
    if not len(holes):
        return None
    radii = (holes.diameters + wobble) / 2
    corners = corners_of(outline)
    best = _Best()
    for way in _ways(holes.xy):
        best.look_along(way, holes.xy, radii, corners)
    for some in _groups(holes.xy, corners):
        best.look_through(*_through_pairs(some), holes.xy, radii, corners)
    return best.line


class _Best:
    """The weakest line that was found so far."""

    def __init__(self) -> None:
        self.line: WeakLine | None = None

    def look_along(self, way: Floats, xy: Floats, radii: Floats, corners: Floats) -> None:
        """Look at the lines through every centre in one direction; only holes near it count."""
        aside = xy @ np.array((-way[1], way[0]))
        order = np.argsort(aside, kind="stable")
        aside, ordered = aside[order], xy[order]
        _, first = np.unique(np.round(aside, 4), return_index=True)
        widest = float(radii.max())
        begin = np.searchsorted(aside, aside[first] - widest)
        most = int((np.searchsorted(aside, aside[first] + widest) - begin).max())
        step = max(1, _CELLS // max(most, len(corners)))
        for at in range(0, len(first), step):
            look_up()
            lines = first[at : at + step]
            near = begin[at : at + step, None] + np.arange(most)
            inside = near < len(xy)
            near = np.minimum(near, len(xy) - 1)
            points = ordered[lines]
            ways = np.broadcast_to(way, points.shape)
            reach = np.where(inside, radii[order][near], 0.0)
            self._weigh(points, ways, ordered[near], reach, corners)

    def look_through(
        self, points: Floats, ways: Floats, xy: Floats, radii: Floats, corners: Floats
    ) -> None:
        """Look at lines of all directions; every hole may lie on each."""
        step = max(1, _CELLS // max(len(xy), len(corners)))
        for at in range(0, len(points), step):
            look_up()
            part = slice(at, at + step)
            self._weigh(points[part], ways[part], xy[None], radii[None], corners)

    def _weigh(
        self, points: Floats, ways: Floats, xy: Floats, radii: Floats, corners: Floats
    ) -> None:
        """Weigh lines, each given by a point and a direction, with the holes near each."""
        entries = _crossings(points, ways, corners)
        apart_x = xy[..., 0] - points[:, :1]
        apart_y = xy[..., 1] - points[:, 1:]
        along = apart_x * ways[:, :1] + apart_y * ways[:, 1:]
        off = apart_y * ways[:, :1] - apart_x * ways[:, 1:]
        half = np.sqrt(np.clip(radii**2 - off**2, 0.0, None))
        for number in range(0, entries.shape[1] - 1, 2):
            low, high = entries[:, number], entries[:, number + 1]
            chord = np.zeros(len(points))
            np.subtract(high, low, out=chord, where=np.isfinite(high))
            real = chord > _SAME
            if not real.any():
                break
            ends = np.minimum(along + half, high[:, None])
            taken = np.clip(ends - np.maximum(along - half, low[:, None]), 0.0, None)
            taken = np.where(half > 0, taken, 0.0)
            sound = np.full(len(points), np.inf)
            sound[real] = np.clip(1 - taken.sum(axis=1)[real] / chord[real], 0.0, 1.0)
            line = int(np.argmin(np.round(sound, 9)))
            if self.line is not None and not sound[line] < self.line.sound - _SAME:
                continue
            start, end = (points[line] + at * ways[line] for at in (low[line], high[line]))
            self.line = WeakLine(
                (float(start[0]), float(start[1])),
                (float(end[0]), float(end[1])),
                float(sound[line]),
                int((taken[line] > _SAME).sum()),
            )


def _ways(xy: Floats) -> list[Floats]:
    """Return the directions in which a line is drawn through every centre."""
    square = [np.array((1.0, 0.0)), np.array((0.0, 1.0))]
    return square if len(xy) <= ALL_PAIRS else [*square, *_frequent_ways(xy)]


def _groups(xy: Floats, corners: Floats) -> Iterator[Floats]:
    """Give the groups of centres between which every line is looked at."""
    if len(xy) <= ALL_PAIRS:
        yield xy
        return
    for x in (float(corners[:, 0].min()), float(corners[:, 0].max())):
        for y in (float(corners[:, 1].min()), float(corners[:, 1].max())):
            away = np.hypot(xy[:, 0] - x, xy[:, 1] - y)
            yield xy[np.argsort(away, kind="stable")[:_BY_CORNERS]]


def _through_pairs(xy: Floats) -> tuple[Floats, Floats]:
    here, there = np.triu_indices(len(xy), 1)
    along = xy[there] - xy[here]
    length = np.hypot(along[:, 0], along[:, 1])
    apart = length > _SAME
    return xy[here[apart]], along[apart] / length[apart, None]


def _frequent_ways(xy: Floats) -> list[Floats]:
    """Return the directions that occur most often from holes to their neighbours."""
    some = xy[:: max(1, len(xy) // 400)]
    angles = []
    for first in range(0, len(some), 100):
        apart = xy[None, :, :] - some[first : first + 100, None, :]
        away = np.hypot(apart[..., 0], apart[..., 1])
        near = np.argpartition(away, min(_NEIGHBOURS, len(xy) - 1), axis=1)[:, : _NEIGHBOURS + 1]
        picked = np.take_along_axis(apart, near[..., None], axis=1).reshape(-1, 2)
        picked = picked[np.hypot(picked[:, 0], picked[:, 1]) > _SAME]
        angles.append(np.arctan2(picked[:, 1], picked[:, 0]) % np.pi)
    found = np.concatenate(angles)
    _, places, counts = np.unique(np.round(found, 5), return_index=True, return_counts=True)
    most = found[places[np.argsort(-counts, kind="stable")[:_DIRECTIONS]]]
    return [np.array((np.cos(angle), np.sin(angle))) for angle in most.tolist()]


def _crossings(points: Floats, ways: Floats, corners: Floats) -> Floats:
    """Where each line crosses the outline, as places along it in order, filled up with infinity."""
    normals = np.column_stack((-ways[:, 1], ways[:, 0]))
    off = normals @ corners.T - (points * normals).sum(axis=1)[:, None]
    along = ways @ corners.T - (points * ways).sum(axis=1)[:, None]
    next_off, next_along = np.roll(off, -1, axis=1), np.roll(along, -1, axis=1)
    crosses = (off > 0) != (next_off > 0)
    span = np.where(crosses, off - next_off, 1.0)
    places = np.where(crosses, along + (next_along - along) * off / span, np.inf)
    most = max(2, int(crosses.sum(axis=1).max()))
    return np.sort(np.partition(places, min(most, places.shape[1] - 1), axis=1)[:, :most], axis=1)
