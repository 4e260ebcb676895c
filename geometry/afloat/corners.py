"""An outline as the corners of a polygon, and how its area lies about its middle."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, pi
from typing import Final

import numpy as np

from geometry.model.curves import Arc, Loop
from geometry.model.edges import Floats, start_of, unit

_STEP: Final = 2 * pi / 360


def corners_of(loop: Loop) -> Floats:
    """Return the corners of a loop, an (n, 2) array in mm, round parts as chords of one degree."""
    found: list[tuple[float, float]] = []
    for curve in loop.curves:
        found.append(start_of(curve))
        if isinstance(curve, Arc):
            steps = max(1, ceil(abs(curve.sweep) / _STEP))
            for step in range(1, steps):
                way = unit(curve.angle + curve.sweep * step / steps)
                x, y = curve.centre
                found.append((x + curve.radius * way.x, y + curve.radius * way.y))
    return np.array(found, dtype=np.float64).reshape(-1, 2)


@dataclass(frozen=True, slots=True)
class Plane:
    """The area of a raft as it bears on the water, holes left out of account; all in mm.

    ``centre`` is the middle of the area. ``stiff`` is for each axis the length of a rectangle of
    the same area that is as hard to tilt along it: its second moment over its area is
    ``stiff``² / 12. ``reach`` is how far the outline goes from the middle along each axis, the
    shorter way first.
    """

    centre: tuple[float, float]
    stiff: tuple[float, float]
    reach: tuple[tuple[float, float], tuple[float, float]]


@lru_cache(maxsize=256)
def plane_of(loop: Loop) -> Plane:
    """Return how the area within a loop lies about its middle; rafts of one shape share it."""
    here = corners_of(loop)
    base = here.mean(axis=0)
    here = here - base
    there = np.roll(here, -1, axis=0)
    cross = here[:, 0] * there[:, 1] - there[:, 0] * here[:, 1]
    area = cross.sum() / 2
    centre = ((here + there) * cross[:, None]).sum(axis=0) / (6 * area)
    second = ((here**2 + here * there + there**2) * cross[:, None]).sum(axis=0) / (12 * area)
    stiff = np.sqrt(12 * (second - centre**2))
    low, high = here.min(axis=0) - centre, here.max(axis=0) - centre
    x, y = (base + centre).tolist()
    ahead = [tuple(sorted((-float(low[axis]), float(high[axis])))) for axis in (0, 1)]
    return Plane(
        (x, y),
        (float(stiff[0]), float(stiff[1])),
        ((ahead[0][0], ahead[0][1]), (ahead[1][0], ahead[1][1])),
    )


def stretches(corners: Floats, axis: int, at: float) -> tuple[tuple[float, float], ...]:
    """Return where a straight line lies within the corners of an outline, in order.

    The line is all places with ``at`` on the axis, 0 for x and 1 for y; what is returned are the
    places along the other one.
    """
    off, along = corners[:, axis] - at, corners[:, 1 - axis]
    next_off, next_along = np.roll(off, -1), np.roll(along, -1)
    crosses = (off > 0) != (next_off > 0)
    share = off[crosses] / (off[crosses] - next_off[crosses])
    places = np.sort(along[crosses] + (next_along[crosses] - along[crosses]) * share).tolist()
    return tuple(zip(places[::2], places[1::2], strict=True))
