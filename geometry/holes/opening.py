"""Opening a stack of rows on any outline: as wide as its count allows, in the middle of its room."""

from typing import Final

import numpy as np

from geometry.holes.best_shift import LastThatHolds, Search, Shift
from geometry.holes.chords import Chords
from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.holes.stack import RowStack
from geometry.model.edges import Floats
from geometry.units import TOLERANCE_MM

_FIRST_STEP: Final = 0.25
_RATIOS: Final = 16
_FINEST: Final = 1e-7
_WIDEST: Final = 8.0
_FIRST_STEP_MM: Final = 64.0
_WORTH_A_STEP: Final = 1e-3
"""Share of a step by which room must grow; less is a slope too flat to follow."""
_MOST_TO_CLIMB: Final = 3_000
"""Of more sites the roomiest place is not looked for; the room left is halved all the same."""


def opened(
    region: Region, search: Search, shift: Shift
) -> tuple[RowStack, Coordinates] | None:
    """Open a stack as far as it still holds as many sites somewhere; None when not at all.

    ``shift`` is where it was found in ``search``. The ratio is good to one part in ten million.
    """
    chords, stack = search.chords, search.stacks[shift.stack]
    best: tuple[RowStack, Coordinates] | None = None
    low, step = 1.0, _FIRST_STEP
    while step > _FINEST:
        ratios = low + step * np.arange(1, _RATIOS + 1) / _RATIOS
        wider = Search(chords, [stack.opened(ratio) for ratio in ratios.tolist()])
        judge = LastThatHolds(shift.count)
        if step == _FIRST_STEP:
            wider.run(judge)
        else:
            reach = step * search.height(shift.stack)
            here = search.stacks[shift.stack]
            wider.run_near(judge, here, shift.up, reach, reach / _RATIOS**2)
        if judge.found is not None:
            xy = wider.sites(region, judge.found)
            if len(xy) >= shift.count:
                search, shift = wider, judge.found
                best = search.stacks[shift.stack], xy
                low = float(ratios[shift.stack])
                if shift.stack == _RATIOS - 1 and low < _WIDEST:
                    continue
        step /= _RATIOS
    return best


def centred(region: Region, xy: Coordinates) -> Coordinates:
    """Move all sites together to where the least room beside any is largest.

    What freedom is left then is halved, along x and along y.
    """
    moved = _roomiest(region, xy) if len(xy) <= _MOST_TO_CLIMB else xy
    for axis in np.eye(2):
        ahead, back = (_way(region, moved, way) for way in (axis, -axis))
        between = moved + axis * (ahead - back) / 2
        if region.allows(between).all():
            moved = between
    return moved


def _roomiest(region: Region, xy: Coordinates) -> Coordinates:
    """Climb to more room, in ever smaller steps, as long as any of eight ways leads up."""
    angles = np.arange(8) * (np.pi / 4)
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    room, step = _least_room(region, xy, np.zeros((1, 2)))[0], _FIRST_STEP_MM
    while step > TOLERANCE_MM:
        rooms = _least_room(region, xy, ways * step)
        best = int(rooms.argmax())
        if rooms[best] > room + step * _WORTH_A_STEP:
            xy, room = xy + ways[best] * step, rooms[best]
        else:
            step /= 2
    return xy


def _least_room(region: Region, xy: Coordinates, shifts: Floats) -> Floats:
    """The least slack of all sites after each of the shifts."""
    moved = (xy[None] + shifts[:, None]).reshape(-1, 2)
    least: Floats = region.slack(moved).reshape(len(shifts), -1).min(axis=1)
    return least


def _way(region: Region, xy: Coordinates, axis: Floats) -> float:
    """How far all sites can go together along an axis without losing room."""
    room = _least_room(region, xy, np.zeros((1, 2)))[0] - TOLERANCE_MM / 10
    far = _FIRST_STEP_MM
    while far < 1e6 and _least_room(region, xy, np.array([far * axis]))[0] >= room:
        far *= 2
    low, high = 0.0, far
    while high - low > TOLERANCE_MM / 10:
        middle = (low + high) / 2
        if _least_room(region, xy, np.array([middle * axis]))[0] >= room:
            low = middle
        else:
            high = middle
    return low
