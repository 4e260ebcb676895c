"""Patterns for rafts that may lie beside any of their kind, in any place, turned half round or not.

Half the spacing at every joint is always safe, but not always needed: rows may run on into the
next raft, and a turned neighbour's plants may fall between this raft's own. Here chessboards
(columns and rows of which every other crossing is planted) are sought that hold more than the safe
ones and are still legal.

A pattern beside its like, unturned, keeps its distances wherever it stands on the raft. Beside a
turned one they change with its place: a site p of the one and q of the other come too near where
p + q + twice the shift of the pattern falls within the spacing of a certain point. So the shifts
that are forbidden are open discs of half the spacing, and if any shift is allowed, one of these
is: a corner of the room that the pattern has to move in, a place where a disc meets the room's
border, or one where two discs meet.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import floor, sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.joints import lies_beside_any_neighbour
from geometry.holes.sites import Coordinates, Placement, Sites
from geometry.model.planting import Direction, Pattern
from geometry.rafts.layout import ALL_WAYS, Ways
from geometry.units import TOLERANCE_MM

Floats = NDArray[np.float64]

_MOST_TRIED: Final = 400
"""So many patterns are looked at closely; they are few, since only those that hold more count."""
_HALVINGS: Final = 24
_WIDEST: Final = 1.5
_SLACK: Final = TOLERANCE_MM / 4


@dataclass(frozen=True, slots=True)
class Raft:
    """A rectangular raft among its like, in mm: size, least margin to a centre, and the rules.

    ``ways`` are those in which it can have neighbours.
    """

    length: float
    width: float
    margin: float
    joint_gap: float
    spacing: float
    ways: Ways = ALL_WAYS

    @property
    def room(self) -> tuple[float, float]:
        """Length and width of the closed rectangle for centres."""
        return self.length - 2 * self.margin, self.width - 2 * self.margin


@dataclass(frozen=True, slots=True)
class _Board:
    """A chessboard: steps between neighbouring columns and rows, their numbers, which is planted.

    The first crossing is planted when ``first`` is 0.
    """

    spacing: float
    step_x: float
    step_y: float
    columns: int
    rows: int
    first: int

    @property
    def plants(self) -> int:
        fields = self.columns * self.rows
        return (fields + 1 - self.first) // 2

    @property
    def extent(self) -> tuple[float, float]:
        return (
            _reach(self.columns, self.step_x, self.spacing),
            _reach(self.rows, self.step_y, self.spacing),
        )

    def sites(self, direction: str) -> Sites:
        x = [_reach(k + 1, self.step_x, self.spacing) for k in range(self.columns)]
        y = [_reach(k + 1, self.step_y, self.spacing) for k in range(self.rows)]
        along, up = (x, y) if direction == "along" else (y, x)
        row, place = np.nonzero(
            np.add.outer(np.arange(len(up)), np.arange(len(along))) % 2 == self.first
        )
        xy = np.column_stack([np.array(along)[place], np.array(up)[row]])
        _, ranks = np.unique(row, return_inverse=True)
        return Sites(xy if direction == "along" else xy[:, ::-1], ranks.astype(np.int64))


def _reach(columns: int, step: float, spacing: float) -> float:
    """From the first of so many columns to the last, two apart never nearer than the spacing."""
    return (columns - 1) // 2 * max(2 * step, spacing) + (columns - 1) % 2 * step


def best_interchangeable(
    raft: Raft, *, pattern: Pattern, direction: Direction, spread: bool, more_than: int
) -> Placement | None:
    """The chessboard with the most plants that is legal among its like; None if none beats that.

    Tried are the steps at which columns or rows just fill the room, just fit between joints of
    half a spacing, or just run on evenly through all rafts. With ``spread`` the winner is opened
    as far as its count allows, in its own proportions.
    """
    if pattern not in {"hexagonal", "staggered", "mixed", "best"}:
        return None
    hexagonal = pattern == "hexagonal"
    tried = 0
    for board in sorted(_boards(raft, direction, hexagonal, more_than), key=_hope):
        tried += 1
        if tried > _MOST_TRIED:
            break
        shift = _legal_shift(raft, board)
        if shift is None:
            continue
        if spread:
            board, shift = _opened(raft, board, shift)  # noqa: PLW2901  # the same board, wider
        return _placement(raft, board, shift, direction, hexagonal=hexagonal)
    return None


def _hope(board: _Board) -> tuple[int, float]:
    return -board.plants, abs(board.step_x - board.spacing / 2)


def _boards(raft: Raft, direction: Direction, hexagonal: bool, more_than: int) -> Iterator[_Board]:  # noqa: FBT001
    spacing = raft.spacing
    room_x, room_y = raft.room
    if min(room_x, room_y) < 0:
        return
    seen: set[tuple[int, int, int, int]] = set()
    for step_x, step_y in _steps(raft, direction, hexagonal):
        most_x, most_y = (
            _most(room, step, spacing) for room, step in ((room_x, step_x), (room_y, step_y))
        )
        for columns, rows, first in product(range(most_x, 1, -1), range(most_y, 1, -1), (0, 1)):
            board = _Board(spacing, step_x, step_y, columns, rows, first)
            if board.plants <= more_than:
                continue
            key = round(step_x * 1e6), columns, rows, first
            if key not in seen:
                seen.add(key)
                yield board


def _steps(raft: Raft, direction: Direction, hexagonal: bool) -> Iterator[tuple[float, float]]:  # noqa: FBT001
    spacing = raft.spacing
    if hexagonal:
        steps = spacing / 2, spacing * sqrt(0.75)
        if direction != "across":
            yield steps
        if direction != "along":
            yield steps[::-1]
        return
    for step in _critical(raft.length, raft.room[0], raft):
        yield step, sqrt(max(spacing**2 - step**2, 0.0))
    for step in _critical(raft.width, raft.room[1], raft):
        yield sqrt(max(spacing**2 - step**2, 0.0)), step
    yield spacing / 2, spacing * sqrt(0.75)
    yield spacing * sqrt(0.75), spacing / 2


def _critical(size: float, room: float, raft: Raft) -> Iterator[float]:
    """The steps at which one more column fits: in the room, through the rafts, between joints."""
    spacing = raft.spacing
    for columns in range(2, 2 * floor(room / spacing) + 4):
        free = columns - 1
        doubles = (columns - 1) // 2
        steps = [
            room / free,
            (size + raft.joint_gap) / columns,
            (size - max(spacing - raft.joint_gap, 2 * raft.margin)) / free,
        ]
        if free % 2:
            # Columns in close pairs, the pairs a spacing apart.
            steps += [
                room - doubles * spacing,
                size - max(spacing - raft.joint_gap, 2 * raft.margin) - doubles * spacing,
            ]
        for step in steps:
            if 0 < step <= spacing and _reach(columns, step, spacing) <= room + _SLACK:
                yield step


def _most(room: float, step: float, spacing: float) -> int:
    """The most columns in a room."""
    pair = max(2 * step, spacing)
    pairs = floor((room + _SLACK) / pair)
    return 2 * pairs + 1 + (room + _SLACK - pairs * pair >= step)


def _legal_shift(raft: Raft, board: _Board) -> Floats | None:
    """A shift of the board from the margins' corner at which it is legal; the middle if it is."""
    if min(np.array(raft.room) - board.extent) < -_SLACK:
        return None
    return _shift_of(raft, board.sites("along").xy)


def legal_among_its_like(raft: Raft, xy: Coordinates) -> Coordinates | None:
    """Move a pattern to where it is legal among its like, as near to the middle as it goes.

    None when it comes too near its like, or a turned one, wherever it stands on the raft.
    """
    low = xy.min(axis=0)
    shift = _shift_of(raft, xy - low)
    return None if shift is None else xy - low + raft.margin + shift


def _shift_of(raft: Raft, xy: Coordinates) -> Floats | None:
    free = np.array(raft.room) - xy.max(axis=0)
    if free.min() < -_SLACK:
        return None
    free = np.maximum(free, 0.0)
    middle: Floats = free / 2
    size = np.array([raft.length, raft.width])
    pitch = size + raft.joint_gap
    if not _keeps_off_its_like(xy, pitch, raft):
        return None
    discs = _forbidden(xy + raft.margin, size, pitch, free, raft)
    if _allowed(middle[None], discs, raft.spacing)[0]:
        return middle
    places = _critical_shifts(discs, free, raft.spacing / 2)
    legal = places[_allowed(places, discs, raft.spacing)]
    if not len(legal):
        return None
    nearest: Floats = legal[int(np.hypot(*(legal - middle).T).argmin())]
    return nearest


def _keeps_off_its_like(xy: Coordinates, pitch: Floats, raft: Raft) -> bool:
    low, high, spacing = xy.min(axis=0), xy.max(axis=0), raft.spacing
    for way in raft.ways:
        shift = np.array(way) * pitch
        here, there = xy, xy + shift
        for axis in (0, 1):
            if way[axis]:
                ahead = shift[axis] > 0
                edge = (low if ahead else high)[axis] + shift[axis]
                far = (high if ahead else low)[axis]
                sign = 1 if ahead else -1
                here = here[sign * (edge - here[:, axis]) < spacing]
                there = there[sign * (there[:, axis] - far) < spacing]
        gaps = here[:, None] - there[None]
        if gaps.size and np.hypot(gaps[..., 0], gaps[..., 1]).min() < spacing - TOLERANCE_MM:
            return False
    return True


def _forbidden(
    xy: Coordinates, size: Floats, pitch: Floats, free: Floats, raft: Raft
) -> Coordinates:
    """The middles of the discs of forbidden shifts that reach into the room for shifting."""
    found: list[Coordinates] = [np.empty((0, 2))]
    spacing = raft.spacing
    for way in raft.ways:
        target = size + np.array(way) * pitch
        own = xy
        for axis in (0, 1):
            # The farthest that p + q + twice the shift can be from the target on this axis.
            if way[axis] > 0:
                own = own[
                    own[:, axis] > target[axis] - spacing - 2 * free[axis] - xy[:, axis].max()
                ]
            elif way[axis] < 0:
                own = own[own[:, axis] < target[axis] + spacing - xy[:, axis].min()]
        middles = (target - own[:, None] - own[None]).reshape(-1, 2) / 2
        off = np.maximum(np.maximum(-middles, middles - free), 0.0)
        near = middles[np.hypot(off[:, 0], off[:, 1]) < spacing / 2]
        found.append(near)
    discs = np.concatenate(found)
    unique: Coordinates = np.unique(np.round(discs, 9), axis=0)
    return unique


def _allowed(shifts: Floats, discs: Coordinates, spacing: float) -> NDArray[np.bool_]:
    if not len(discs):
        return np.ones(len(shifts), dtype=np.bool_)
    gaps = np.hypot(*(shifts[:, None] - discs[None]).transpose(2, 0, 1))
    allowed: NDArray[np.bool_] = gaps.min(axis=1) >= (spacing - TOLERANCE_MM / 2) / 2
    return allowed


def _critical_shifts(discs: Coordinates, free: Floats, radius: float) -> Floats:
    corners = [(x, y) for x in (0.0, free[0]) for y in (0.0, free[1])]
    places = [np.array(corners)]
    for axis, end in product((0, 1), (0.0, 1.0)):
        line = end * free[axis]
        square = radius**2 - (discs[:, axis] - line) ** 2
        half = np.sqrt(np.maximum(square, 0.0))[square >= 0]
        middle = discs[square >= 0, 1 - axis]
        for along in (middle - half, middle + half):
            met = np.empty((len(along), 2))
            met[:, axis], met[:, 1 - axis] = line, along
            places.append(met)
    first, second = np.triu_indices(len(discs), 1)
    apart = discs[second] - discs[first]
    distance = np.hypot(apart[:, 0], apart[:, 1])
    meet = (distance > 0) & (distance <= 2 * radius)
    apart, distance = apart[meet], distance[meet]
    middle = (discs[first] + discs[second])[meet] / 2
    aside = np.sqrt(np.maximum(radius**2 - distance**2 / 4, 0.0)) / distance
    normal = np.column_stack([-apart[:, 1], apart[:, 0]]) * aside[:, None]
    places += [middle + normal, middle - normal]
    found = np.concatenate(places)
    within = ((found >= -1e-9) & (found <= free + 1e-9)).all(axis=1)
    clipped: Floats = np.clip(found[within], 0.0, free)
    return clipped


def _opened(raft: Raft, board: _Board, shift: Floats) -> tuple[_Board, Floats]:
    low, high = 1.0, _WIDEST
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        wider = _scaled(board, middle)
        found = _legal_shift(replace(raft, spacing=wider.spacing), wider)
        if found is None:
            high = middle
        else:
            low, shift = middle, found
    return _scaled(board, low), shift


def _scaled(board: _Board, scale: float) -> _Board:
    return replace(
        board,
        spacing=board.spacing * scale,
        step_x=board.step_x * scale,
        step_y=board.step_y * scale,
    )


def _placement(
    raft: Raft, board: _Board, shift: Floats, direction: Direction, *, hexagonal: bool
) -> Placement | None:
    way = direction
    if direction == "best":
        way = "along" if board.step_y >= board.step_x else "across"
    sites = board.sites(way)
    xy = sites.xy + raft.margin + shift
    if not lies_beside_any_neighbour(
        xy,
        length=raft.length,
        width=raft.width,
        joint_gap=raft.joint_gap,
        spacing=raft.spacing,
        ways=raft.ways,
    ):
        return None
    along, up = (board.step_x, board.step_y)[:: 1 if way == "along" else -1]
    name = "hexagonal" if hexagonal else "staggered"
    return Placement(Sites(xy, sites.rows), name, way, max(2 * along, board.spacing), up)
