"""Holes placed and sites left out by hand, applied beside the pattern."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.holes.names import site_names
from geometry.holes.sites import Coordinates, Holes, Sites
from geometry.model.planting import Blank, Pin
from geometry.units import TOLERANCE_MM


def apply_hand_edits(
    sites: Sites,
    *,
    diameter_mm: float,
    reach_mm: float,
    pins: Sequence[Pin] = (),
    blanks: Sequence[Blank] = (),
) -> tuple[Holes, tuple[Blank, ...]]:
    """Turn the sites of one raft into its holes; also return the blanks that no longer apply.

    A blank takes out the nearest site within ``reach_mm`` (half the spacing), the limit included.
    A pin takes the place and the name of the nearest site within reach of its home (of itself when
    it has none); a pin without such a site is added under a name of its own, "P1", "P2", …
    """
    names = list(site_names(sites.rows))
    xy = sites.xy.copy()
    kept = np.ones(len(names), dtype=np.bool_)
    pinned = np.zeros(len(names), dtype=np.bool_)
    idle: list[Blank] = []
    for blank in blanks:
        index = _nearest(xy, kept & ~pinned, blank.x.mm, blank.y.mm, reach_mm)
        if index is None:
            idle.append(blank)
        else:
            kept[index] = False
    added: list[tuple[float, float]] = []
    for pin in pins:
        home_x, home_y = pin.home if pin.home is not None else (pin.x, pin.y)
        index = _nearest(sites.xy, kept & ~pinned, home_x.mm, home_y.mm, reach_mm)
        if index is None:
            added.append((pin.x.mm, pin.y.mm))
        else:
            xy[index] = pin.x.mm, pin.y.mm
            pinned[index] = True
    if blanks:
        names = [name for name, keep in zip(names, kept.tolist(), strict=True) if keep]
        xy, pinned = xy[kept], pinned[kept]
    if added:
        names += [f"P{number}" for number in range(1, len(added) + 1)]
        xy = np.vstack([xy, np.array(added)])
        pinned = np.append(pinned, np.ones(len(added), dtype=np.bool_))
    diameters = np.full(len(names), diameter_mm)
    for array in (xy, diameters, pinned):
        array.flags.writeable = False
    return Holes(xy, diameters, tuple(names), pinned), tuple(idle)


def _nearest(
    xy: Coordinates, free: NDArray[np.bool_], x: float, y: float, reach_mm: float
) -> int | None:
    if not free.any():
        return None
    gaps = np.where(free, np.hypot(xy[:, 0] - x, xy[:, 1] - y), np.inf)
    index = int(gaps.argmin())
    return index if gaps[index] <= reach_mm + TOLERANCE_MM else None
