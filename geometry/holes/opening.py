"""Opening rows on any outline: as wide as their count allows, in the middle of their room."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from geometry.holes.best_shift import Search, Shift
from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.model.edges import Floats
from geometry.units import TOLERANCE_MM

_STEPS: Final = (1.0, 1.02, 1.06, 1.15, 1.4, 2.0, 3.5, 8.0)
"""Ranges of ratios to begin with; most are given up at the first look."""
_FEW: Final = 12
_STEPS_OF_MANY: Final = 2
"""More stacks than a few are tried in the first ranges only, to begin with."""
_FINE: Final = 5e-4
"""Ratios and, in row gaps, shifts closer than this are not told apart in the first search."""
_RANGES: Final = 96
_MOST_RANGES: Final = 3_000
_ZOOMS: Final = 8
_ZOOM: Final = 4
_SIDEWAYS: Final = 10
_FIRST_STEP_MM: Final = 64.0
_LAST_STEP_MM: Final = 1e-4
_MOVES: Final = 4
"""So many steps of one size are taken until it is seen anew which sites matter."""
_WAYS: Final = np.array([(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)])
_PARTS: Final = 32
_FARTHEST_MM: Final = 1e6
_WORTH_A_STEP: Final = 1e-3
"""Share of a step by which room must grow; less is a slope too flat to follow."""
_MOST_TO_CLIMB: Final = 3_000
"""Of more sites the roomiest place is not looked for; the room left is halved all the same."""


def opened(search: Search, shift: Shift, alike: Sequence[int]) -> Shift:
    """Open rows as far as they still hold as many sites somewhere.

    Stacks that are ``alike`` take the place of the one of ``shift`` where they hold as many when
    opened wider. First all shifts and ratios are searched, coarsely, bounds telling where there is
    hope; then the best is followed to the tolerance.
    """
    best = _coarsely(search, shift, alike)
    if best.stack != shift.stack and len(alike) > _FEW:
        best = _coarsely(search, best, ())
    spread = np.arange(-_SIDEWAYS, _SIDEWAYS + 1) / _SIDEWAYS
    ahead = np.arange(_ZOOM + 1) / _ZOOM
    ups, more = (grid.ravel() for grid in np.meshgrid(spread, ahead))
    stack = np.full(len(ups), best.stack)
    reach = search.height(best.stack)
    for zoom in range(_ZOOMS):
        step = 4 * _FINE / _ZOOM**zoom * 2
        up, ratio = best.up + ups * step * reach, best.ratio + more * step
        holds = search.counts(stack, up, up, (ratio, ratio)) >= best.count
        if holds.any():
            k = int(np.argmax(np.where(holds, ratio, 0.0)))
            best = replace(best, up=float(up[k]), ratio=float(ratio[k]))
    return best


def _coarsely(search: Search, best: Shift, alike: Sequence[int]) -> Shift:
    count, steps = best.count, list(pairwise(_STEPS))
    ranges = [(best.stack, least, most) for least, most in steps]
    others = [k for k in alike if k != best.stack]
    if len(others) > _FEW:
        steps = steps[:_STEPS_OF_MANY]
    ranges += [(k, least, most) for k in others for least, most in steps]
    stack = np.repeat(np.array([k for k, _, _ in ranges], dtype=np.int64), 2)
    least, ratio_width = (
        np.repeat(np.array(values), 2)
        for values in zip(*((least, most - least) for _, least, most in ranges), strict=True)
    )
    spans = np.array([search.span(k) for k in stack.tolist()])
    gaps = np.array([search.stacks[k].gap for k in stack.tolist()])
    up_width, low = spans / 2, np.tile([0.0, 0.5], len(ranges)) * spans
    while 0 < len(stack) <= _MOST_RANGES:
        most = least + ratio_width
        kept = most > best.ratio + _FINE
        kept[kept] = (
            search.counts(stack[kept], low[kept], (low + up_width)[kept], (least[kept], most[kept]))
            >= count
        )
        stack, low, up_width, gaps = stack[kept], low[kept], up_width[kept], gaps[kept]
        least, ratio_width = least[kept], ratio_width[kept]
        if not len(stack):
            break
        up, ratio = low + up_width / 2, np.maximum(least + ratio_width / 2, 1.0)
        holds = search.counts(stack, up, up, (ratio, ratio)) >= count
        if holds.any():
            k = int(np.argmax(np.where(holds, ratio, 0.0)))
            if ratio[k] > best.ratio:
                best = Shift(int(stack[k]), float(up[k]), count, float(ratio[k]))
        kept = (ratio_width > _FINE) | (up_width > _FINE * gaps)
        # A ratio moves the outermost rows by half the height of all rows.
        heights = np.array([search.height(k) for k in stack.tolist()])
        by_ratio = ratio_width * heights > up_width
        parts = max(2, min(8, _RANGES // max(1, int(kept.sum()))))
        stack, low, up_width, gaps, least, ratio_width, by_ratio = (
            np.repeat(values[kept], parts)
            for values in (stack, low, up_width, gaps, least, ratio_width, by_ratio)
        )
        number = np.tile(np.arange(parts), len(stack) // parts)
        ratio_width = np.where(by_ratio, ratio_width / parts, ratio_width)
        up_width = np.where(by_ratio, up_width, up_width / parts)
        least = np.where(by_ratio, least + number * ratio_width, least)
        low = np.where(by_ratio, low, low + number * up_width)
    return best


def centred(region: Region, xy: Coordinates) -> Coordinates:
    """Move all sites together to where the least room beside any is largest.

    What freedom is left then is halved, along x and along y.
    """
    if not len(xy):
        return xy
    shift = _roomiest(region, xy) if len(xy) <= _MOST_TO_CLIMB else np.zeros(2)
    for axis in np.eye(2):
        ahead, back = (_way(region, xy + shift, way) for way in (axis, -axis))
        shift = shift + axis * (ahead - back) / 2
    moved = xy + shift
    return moved if region.allows(moved).all() else xy


def _roomiest(region: Region, xy: Coordinates) -> Floats:
    """Climb to more room, in ever smaller steps, as long as any of eight ways leads up."""
    shift, step = np.zeros(2), _FIRST_STEP_MM
    while step > _LAST_STEP_MM:
        slack = region.slack(xy + shift)
        room = slack.min()
        # Others have room enough for the next steps.
        near, left = xy[slack < room + (2 * _MOVES + 2) * step], _MOVES
        while left:
            rooms = _least_room(region, near + shift, _WAYS * step)
            best = int(rooms.argmax())
            if rooms[best] <= room + step * _WORTH_A_STEP:
                break
            shift, room, left = shift + _WAYS[best] * step, rooms[best], left - 1
        if left:
            step /= 4
    return shift


def _least_room(region: Region, xy: Coordinates, shifts: Floats) -> Floats:
    """The least slack of all sites after each of the shifts."""
    moved = (xy[None] + shifts[:, None]).reshape(-1, 2)
    least: Floats = region.slack(moved).reshape(len(shifts), -1).min(axis=1)
    return least


def _way(region: Region, xy: Coordinates, axis: Floats) -> float:
    """How far all sites can go together along an axis without losing room."""
    low, width = 0.0, _FIRST_STEP_MM
    room = region.slack(xy).min() - TOLERANCE_MM / 10
    while width > _LAST_STEP_MM and low < _FARTHEST_MM:
        slack = region.slack(xy + low * axis)
        near = xy[slack < room + width * 1.01]
        if not len(near):
            low += width
            continue
        places = low + width * np.arange(1, _PARTS + 1) / _PARTS
        lost = _least_room(region, near, places[:, None] * axis) < room
        good = int(lost.argmax()) if lost.any() else _PARTS
        low += width * good / _PARTS
        if good < _PARTS:
            width /= _PARTS
    return low
