"""Points that push each other apart until they keep their distance, and then to the last digit.

Two steps on one room. ``settle`` lets points that are too close repel each other (a penalty,
minimised by L-BFGS): quick from any start, but it ends only near a solution. ``polish`` then makes
the least distance as large as it can be by a row of linear programs: each is exact for what it
linearises, and as the square of a distance is convex it never promises more than it keeps.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import pi, sqrt
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from geometry.beds.outline import rectangle_loop
from geometry.holes.region import Part, Region
from geometry.holes.room import EXACT_MM, Room
from geometry.holes.sites import Coordinates
from geometry.model.curves import Arc, Curve, Line
from geometry.model.edges import Floats, end_of, start_of, unit
from geometry.rafts.inset import is_box
from geometry.units import TOLERANCE_MM

KeepGoing = Callable[[], bool]
"""Asked again and again; the first no ends the work."""

_STEP: Final = 0.12
"""How far a point may go in one linear program, in spacings."""
_WIDEST: Final = 1.15
"""Points are not opened up beyond this, in spacings: then more of them would fit."""
_NEAR: Final = 0.02
"""How far a settled point may stand beyond the border and still belong to it, in spacings."""
_FINE: Final = 32
"""Fineness of the field of slack, in steps a spacing, unless that takes too many cells."""
_MOST_CELLS: Final = 120_000
_RIM: Final = 0.6
"""How far the field reaches beyond the box, in spacings."""
_MEMORY: Final = 8
_LONGEST: Final = 0.4
"""How far a point may go in one step of settling, in spacings."""
_QUIET: Final = 1e-9
"""Settling ends when no set loses more strain than this in a step."""
_FLAT: Final = 1e-14
_MARGIN: Final = 0.45
"""How much farther apart than a spacing pairs are still kept in mind, in spacings."""
_BEYOND_MM: Final = 0.05
_STALE: Final = 1e-11


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """Border curves that a point keeps to the left of, as arrays.

    ``lines``: x, y of the start, along x and y (unit), length. ``arcs``: x, y of the centre,
    radius, middle angle, half the sweep, +1 to stay within the circle or -1 to stay without.
    ``extra_*``: how far beyond start and end the wall still counts (in mm, in radians): only
    where the border turns inwards there, so that both walls of a corner hold in it.
    """

    lines: Floats
    extra_lines: Floats
    arcs: Floats
    extra_arcs: Floats

    @classmethod
    def of(cls, region: Region) -> "Walls":
        """Make the walls of a region."""
        lines: list[tuple[float, ...]] = []
        extra_lines: list[tuple[float, float]] = []
        arcs: list[tuple[float, ...]] = []
        extra_arcs: list[tuple[float, float]] = []
        for curve in region.border:
            past = [0.0 if open_ else 1e9 for open_ in _open_ends(region, curve)]
            match curve:
                case Line(start, end):
                    along = np.array(end) - np.array(start)
                    length = float(np.hypot(*along))
                    if length > TOLERANCE_MM:
                        lines.append((*start, *(along / length), length))
                        extra_lines.append((past[0], past[1]))
                case Arc(centre, radius, angle, sweep):
                    arcs.append(
                        (*centre, radius, angle + sweep / 2, abs(sweep) / 2, np.sign(sweep))
                    )
                    extra_arcs.append((0.1 if past[0] else 0.0, 0.1 if past[1] else 0.0))
        return cls(
            np.array(lines).reshape(-1, 5),
            np.array(extra_lines).reshape(-1, 2),
            np.array(arcs).reshape(-1, 6),
            np.array(extra_arcs).reshape(-1, 2),
        )

    def near(self, xy: Floats, reach: float, beyond: float) -> tuple[NDArray[np.int64], Floats]:
        """For points near walls: their numbers, and rows of (normal x, y, slack).

        The normal points to where the point may go, the slack is how far it is from the wall.
        Walls farther than ``reach`` are left out, and so are those more than ``beyond`` behind
        which the point stands: it belongs to another side of the border.
        """
        x, y = xy[:, :1], xy[:, 1:]
        found: list[tuple[NDArray[np.int64], Floats]] = []
        if len(self.lines):
            x0, y0, ux, uy, length = self.lines.T
            along = (x - x0) * ux + (y - y0) * uy
            slack = ux * (y - y0) - uy * (x - x0)
            before, after = self.extra_lines.T
            held = (along >= -before) & (along <= length + after)
            point, wall = np.nonzero(held & (slack <= reach) & (slack >= -beyond))
            rows = np.column_stack([-uy[wall], ux[wall], slack[point, wall]])
            found.append((point, rows))
        if len(self.arcs):
            cx, cy, radius, middle, half, side = self.arcs.T
            away = np.maximum(np.hypot(x - cx, y - cy), TOLERANCE_MM)
            slack = side * (radius - away)
            turned = (np.arctan2(y - cy, x - cx) - middle + pi) % (2 * pi) - pi
            turned = np.where(side > 0, turned, -turned)
            before, after = self.extra_arcs.T
            held = (turned >= -half - before) & (turned <= half + after)
            point, wall = np.nonzero(held & (slack <= reach) & (slack >= -beyond))
            scale = -side[wall] / away[point, wall]
            rows = np.column_stack(
                [
                    (xy[point, 0] - cx[wall]) * scale,
                    (xy[point, 1] - cy[wall]) * scale,
                    slack[point, wall],
                ]
            )
            found.append((point, rows))
        if not found:
            return np.empty(0, dtype=np.int64), np.empty((0, 3))
        points, rows_of = zip(*found, strict=True)
        return np.concatenate(points), np.vstack(rows_of)


@lru_cache(maxsize=4)
def _walls(room: Room) -> Walls:
    return Walls.of(room.region)


def _open_ends(region: Region, curve: Curve) -> tuple[bool, bool]:
    """Whether a curve that went on straight before its start, after its end, is still allowed."""
    if isinstance(curve, Line):
        along = np.array(curve.end) - np.array(curve.start)
        first = last = along / max(float(np.hypot(*along)), TOLERANCE_MM)
    else:
        turn = np.sign(curve.sweep) * pi / 2
        first = np.array(unit(curve.angle + turn))
        last = np.array(unit(curve.angle + curve.sweep + turn))
    ends = np.array([start_of(curve), end_of(curve)])
    before, after = region.allows(ends + _BEYOND_MM * np.array([-first, last])).tolist()
    return before, after


def settle(
    room: Room, starts: Floats, keep_going: KeepGoing, *, rounds: int = 300
) -> tuple[Floats, Floats]:
    """Let points push each other, and the border push them, until all is quiet.

    ``starts`` is (k, n, 2): k sets of points, settled side by side but each for itself, as many
    short array operations cost as much as one. Returns the points and the strain that is left at
    each, (k, n); zero at all points of a set is a solution.
    """
    push = _Push(room)
    points = starts / room.spacing
    strain, slope = push(points)
    step = -slope * 0.2
    moves: list[Floats] = []
    turns: list[Floats] = []
    energy = strain.sum(axis=1)
    for _ in range(rounds):
        if not keep_going():
            break
        tried = points + step
        strain_there, slope_there = push(tried)
        energy_there = strain_there.sum(axis=1)
        gentle = (step * slope).sum(axis=(1, 2))
        better = energy_there <= energy + 1e-4 * np.minimum(gentle, 0.0)
        taken = better[:, None, None]
        moves.append(np.where(taken, step, 0.0))
        turns.append(np.where(taken, slope_there - slope, 0.0))
        del moves[:-_MEMORY], turns[:-_MEMORY]
        gone = float((energy - np.where(better, energy_there, energy)).max())
        points = np.where(taken, tried, points)
        slope = np.where(taken, slope_there, slope)
        strain = np.where(better[:, None], strain_there, strain)
        energy = np.where(better, energy_there, energy)
        if better.all() and gone < _QUIET:
            break
        fresh = -_newton(slope, moves, turns)
        longest = np.abs(fresh).max(axis=(1, 2), keepdims=True)
        fresh *= np.minimum(1.0, _LONGEST / np.maximum(longest, 1e-30))
        step = np.where(taken, fresh, step * 0.3)
    return points * room.spacing, strain


def _newton(slope: Floats, moves: list[Floats], turns: list[Floats]) -> Floats:
    """The two loops of L-BFGS (Nocedal 1980), for each set by itself.

    A pair that a set did not take part in, or that bends the wrong way, counts for nothing in it.
    """
    wanted = slope.copy()
    bends = [
        (move * turn).sum(axis=(1, 2), keepdims=True)
        for move, turn in zip(moves, turns, strict=True)
    ]
    weights = [np.where(bend > _FLAT, 1.0 / np.maximum(bend, _FLAT), 0.0) for bend in bends]
    shares: list[Floats] = []
    for move, turn, weight in zip(moves[::-1], turns[::-1], weights[::-1], strict=True):
        share = weight * (move * wanted).sum(axis=(1, 2), keepdims=True)
        wanted -= share * turn
        shares.append(share)
    scale = np.full_like(bends[0], 0.2)
    for bend, turn in zip(bends, turns, strict=True):
        size = (turn * turn).sum(axis=(1, 2), keepdims=True)
        scale = np.where(bend > _FLAT, bend / np.maximum(size, _FLAT), scale)
    wanted *= scale
    for move, turn, weight, share in zip(moves, turns, weights, shares[::-1], strict=True):
        back = weight * (turn * wanted).sum(axis=(1, 2), keepdims=True)
        wanted += (share - back) * move
    return wanted


class _Push:
    """How strained points are, and how the strain rises as each of them moves; in spacings.

    Two points nearer than a spacing strain both of them by half the square of what is missing in
    their squared distance; the border and fixed points strain alike.
    """

    def __init__(self, room: Room) -> None:
        self._room = room
        self._fixed = room.fixed / room.spacing
        self._low, self._high = room.box[0] / room.spacing, room.box[1] / room.spacing
        self._listed: Floats = np.empty((0, 0, 2))
        self._one = self._other = np.empty(0, dtype=np.int64)

    def __call__(self, points: Floats) -> tuple[Floats, Floats]:
        self._list_pairs(points)
        size = points.shape[0] * points.shape[1]
        x, y = points.reshape(-1, 2).T
        apart_x, apart_y = x[self._one] - x[self._other], y[self._one] - y[self._other]
        short = np.maximum(1.0 - apart_x * apart_x - apart_y * apart_y, 0.0)
        slope: Floats = np.empty((size, 2))
        for axis, apart in ((0, apart_x), (1, apart_y)):
            push = 4.0 * short * apart
            slope[:, axis] = np.bincount(self._other, push, size)
            slope[:, axis] -= np.bincount(self._one, push, size)
        half = 0.5 * short * short
        both: Floats = np.zeros(size)
        for each in (self._one, self._other):
            both += np.bincount(each, half, size)
        strain: Floats = both.reshape(points.shape[:2])
        slope = slope.reshape(points.shape)
        if len(self._fixed):
            away = points[:, :, None, :] - self._fixed
            lack = np.maximum(1.0 - (away * away).sum(axis=-1), 0.0)
            slope -= 4.0 * np.einsum("kij,kijc->kic", lack, away)
            strain += np.einsum("kij,kij->ki", lack, lack)
        out = np.minimum(points - self._low, 0.0) + np.maximum(points - self._high, 0.0)
        strain += 4.0 * (out * out).sum(axis=-1)
        slope += 8.0 * out
        if not self._room.is_box:
            spacing = self._room.spacing
            slack, rise = _field(self._room)(points.reshape(-1, 2) * spacing)
            lack = np.minimum(slack / spacing, 0.0)
            strain += (4.0 * lack * lack).reshape(strain.shape)
            slope += (8.0 * lack[:, None] * rise).reshape(slope.shape)
        return strain, slope

    def _list_pairs(self, points: Floats) -> None:
        """List the pairs that may come near each other, anew when a point has gone far enough."""
        if self._listed.shape == points.shape:
            gone = points - self._listed
            if float((gone * gone).sum(axis=-1).max()) < (_MARGIN / 2) ** 2:
                return
        self._listed = points
        ones: list[NDArray[np.int64]] = []
        others: list[NDArray[np.int64]] = []
        count = points.shape[1]
        above = np.triu(np.ones((count, count), dtype=np.bool_), 1)
        for at, (x, y) in enumerate(points.transpose(0, 2, 1)):
            squared = (x[:, None] - x) ** 2
            squared += (y[:, None] - y) ** 2
            one, other = np.nonzero((squared < (1.0 + _MARGIN) ** 2) & above)
            ones.append(one + at * count)
            others.append(other + at * count)
        self._one, self._other = np.concatenate(ones), np.concatenate(others)


@dataclass(frozen=True, slots=True, eq=False)
class _Field:
    """The slack of a region over a grid, read off between its points: close, and quick.

    Right but for rounding along straight walls; within a fraction of a step where walls meet.
    """

    low: Floats
    step: float
    slack: Floats

    @classmethod
    def of(cls, room: Room) -> Self:
        """Measure the slack all over a room's box and a little beyond."""
        low, high = room.box
        rim = _RIM * room.spacing
        size = high - low + 2 * rim
        step = max(room.spacing / _FINE, sqrt(float(size.prod()) / _MOST_CELLS))
        counts = np.ceil(size / step).astype(int) + 1
        x, y = (low[axis] - rim + step * np.arange(counts[axis]) for axis in (0, 1))
        grid = np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1).reshape(-1, 2)
        return cls(low - rim, step, _without_box(room).slack(grid).reshape(counts))

    def __call__(self, xy: Floats) -> tuple[Floats, Floats]:
        """Return the slack at places, and how it rises along x and y."""
        at = (xy - self.low) / self.step
        most = np.array(self.slack.shape) - 2
        cell = np.clip(at.astype(np.int64), 0, most)
        within = (at >= 0.0) & (at <= most + 1)  # farther out the slack stays as it is
        x, y = np.clip(at - cell, 0.0, 1.0).T
        column, row = cell.T
        a, b = self.slack[column, row], self.slack[column + 1, row]
        c, d = self.slack[column, row + 1], self.slack[column + 1, row + 1]
        low, high = a + (b - a) * x, c + (d - c) * x
        rise_x = ((b - a) * (1 - y) + (d - c) * y) / self.step
        rise_y = (high - low) / self.step
        return low + (high - low) * y, np.column_stack([rise_x, rise_y]) * within


@lru_cache(maxsize=4)
def _field(room: Room) -> _Field:
    return _Field.of(room)


def about_slack(room: Room, xy: Coordinates) -> Floats:
    """Return the slack of places, nearly right and quickly had."""
    low, high = room.box
    slack: Floats = np.minimum(xy - low, high - xy).min(axis=1)
    return slack if room.is_box else np.minimum(slack, _field(room)(xy)[0])


def _without_box(room: Room) -> Region:
    """The region without the sides of its box, where these are plain sides of the raft.

    The box is looked after exactly; in its corners a field would be a little too strict.
    """
    (part, *others), keep_outs = room.region.parts, room.region.keep_outs
    if others or not is_box(part.loop):
        return room.region
    low, high = (corner.tolist() for corner in room.box)
    wide = 2 * room.spacing
    loop = rectangle_loop(low[0] - wide, low[1] - wide, high[0] + wide, high[1] + wide)
    return Region((Part(loop, dict.fromkeys(part.margins, Fraction(0))),), keep_outs)


def polish(
    room: Room,
    xy: Coordinates,
    keep_going: KeepGoing,
    *,
    enough: float = np.inf,
    inset_mm: float = 0.0,
    rounds: int = 40,
) -> Coordinates:
    """Open points up until their least distance cannot grow, or is ``enough`` (in spacings).

    ``inset_mm`` is what they keep from the border of the region.
    The result may still not be legal; ask the room.
    """
    from scipy.optimize import linprog  # noqa: PLC0415  loaded when first used
    from scipy.sparse import csr_matrix  # noqa: PLC0415  loaded when first used

    spacing, count = room.spacing, len(xy)
    points, fixed = xy / spacing, room.fixed / spacing
    low, high = (room.box[0] + inset_mm) / spacing, (room.box[1] - inset_mm) / spacing
    best, best_least = xy, -np.inf
    cost = np.zeros(2 * count + 1)
    cost[-1] = -1.0
    for _ in range(rounds):
        if not keep_going():
            break
        rows, columns, values, limits = _program(room, points, fixed, inset_mm)
        least_step = np.maximum(np.minimum(low - points, 0.0), -_STEP).ravel().tolist()
        most_step = np.minimum(np.maximum(high - points, 0.0), _STEP).ravel().tolist()
        bounds = [*zip(least_step, most_step, strict=True), (0.0, _WIDEST**2)]
        matrix = csr_matrix((values, (rows, columns)), shape=(len(limits), 2 * count + 1))
        found = linprog(  # type: ignore[call-overload]  # its stubs know no sparse matrices
            cost, matrix, limits, bounds=bounds, method="highs-ds"
        )
        if found.x is None:
            break
        points = np.clip(points + found.x[:-1].reshape(-1, 2), low, high)
        points = _drawn_in(room, points * spacing, inset_mm) / spacing
        least = room.least_distance(points * spacing) / spacing
        inside = (
            room.is_box or float(room.region.slack(points * spacing).min()) - inset_mm >= -EXACT_MM
        )
        if inside:
            gained = least - best_least
            if gained > 0:
                best, best_least = points * spacing, least
            if least >= enough or gained <= _STALE:
                break
    return best


def _program(
    room: Room, points: Floats, fixed: Floats, inset_mm: float
) -> tuple[NDArray[np.int64], NDArray[np.int64], Floats, Floats]:
    """The rows of one linear program: every pair keeps the least squared distance, every wall.

    Unknowns are the steps of all points and, last, the least squared distance.
    """
    from scipy.spatial import cKDTree  # noqa: PLC0415  loaded when first used

    count = len(points)
    reach = _WIDEST + 2.9 * _STEP
    tree = cKDTree(points)
    one, other = tree.query_pairs(reach, output_type="ndarray").T.astype(np.int64)
    apart = points[one] - points[other]
    size = len(one)
    at = np.arange(size)
    rows = [at, at, at, at, at]
    columns = [2 * one, 2 * one + 1, 2 * other, 2 * other + 1, np.full(size, 2 * count)]
    values = [-2 * apart[:, 0], -2 * apart[:, 1], 2 * apart[:, 0], 2 * apart[:, 1], np.ones(size)]
    limits = [(apart * apart).sum(axis=1)]
    if len(fixed):
        near = tree.query_ball_tree(cKDTree(fixed), reach)
        one = np.repeat(np.arange(count), [len(found) for found in near])
        other = np.array([index for found in near for index in found], dtype=np.int64)
        apart = points[one] - fixed[other]
        at = size + np.arange(len(one))
        rows += [at, at, at]
        columns += [2 * one, 2 * one + 1, np.full(len(one), 2 * count)]
        values += [-2 * apart[:, 0], -2 * apart[:, 1], np.ones(len(one))]
        limits.append((apart * apart).sum(axis=1))
        size += len(one)
    if not room.is_box:
        spacing = room.spacing
        one, walls = _walls(room).near(points * spacing, 1.5 * _STEP * spacing, _NEAR * spacing)
        at = size + np.arange(len(one))
        rows += [at, at]
        columns += [2 * one, 2 * one + 1]
        values += [-walls[:, 0], -walls[:, 1]]
        limits.append((walls[:, 2] - inset_mm) / spacing)
    return (
        np.concatenate(rows),
        np.concatenate(columns),
        np.concatenate(values),
        np.concatenate(limits),
    )


def _drawn_in(room: Room, xy: Coordinates, inset_mm: float) -> Coordinates:
    """Draw points that a step along a hollow border carried beyond it straight back onto it."""
    if room.is_box:
        return xy
    for _ in range(3):
        points, walls = _walls(room).near(xy, inset_mm, _NEAR * room.spacing)
        if not len(points):
            return xy
        xy = xy.copy()
        order = np.argsort(-walls[:, 2])  # the farthest out comes last and counts
        xy[points[order]] -= walls[order, :2] * (walls[order, 2:] - inset_mm)
    return xy
