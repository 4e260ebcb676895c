"""Holes placed and sites left out by hand, applied beside the pattern."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from geometry.holes.names import site_names
from geometry.holes.sites import Coordinates, Holes, Sites
from geometry.model.planting import Blank, Pin
from geometry.units import TOLERANCE_MM


def apply_hand_edits(
    sites: Sites,
    *,
    diameter_mm: Sequence[float],
    reach_mm: Sequence[float],
    pins: Sequence[Pin] = (),
    blanks: Sequence[Blank] = (),
    plantings_at: Callable[[Coordinates], NDArray[np.int64]] | None = None,
) -> tuple[Holes, tuple[Blank, ...]]:
    """Turn the sites of one raft into its holes; also return the blanks that no longer apply.

    A blank takes out the nearest site within ``reach_mm`` (half the spacing), the limit included.
    A pin takes the place and the name of the nearest site within reach of its home (of itself when
    it has none); a pin without such a site is added under a name of its own, "P1", "P2", …

    Diameter and reach are given for each planting of the bed; ``plantings_at`` tells to which of
    them an added pin belongs, all to the bed's own without it. An added pin is in use; a pin that
    took over a plugged site is plugged.
    """
    numbers = np.zeros(len(sites), np.int64) if sites.plantings is None else sites.plantings
    reach = np.array(reach_mm)[numbers] if len(reach_mm) > 1 else np.full(len(sites), reach_mm[0])
    plugged = sites.plugged
    names = list(site_names(sites.rows))
    xy = sites.xy.copy()
    kept = np.ones(len(names), dtype=np.bool_)
    pinned = np.zeros(len(names), dtype=np.bool_)
    idle: list[Blank] = []
    for blank in blanks:
        index = _nearest(xy, kept & ~pinned, blank.x.mm, blank.y.mm, reach)
        if index is None:
            idle.append(blank)
        else:
            kept[index] = False
    added: list[tuple[float, float]] = []
    for pin in pins:
        home_x, home_y = pin.home if pin.home is not None else (pin.x, pin.y)
        index = _nearest(sites.xy, kept & ~pinned, home_x.mm, home_y.mm, reach)
        if index is None:
            added.append((pin.x.mm, pin.y.mm))
        else:
            xy[index] = pin.x.mm, pin.y.mm
            pinned[index] = True
    if blanks:
        names = [name for name, keep in zip(names, kept.tolist(), strict=True) if keep]
        xy, pinned, numbers = xy[kept], pinned[kept], numbers[kept]
        plugged = None if plugged is None else plugged[kept]
    if added:
        places = np.array(added)
        names += [f"P{number}" for number in range(1, len(added) + 1)]
        xy = np.vstack([xy, places])
        pinned = np.append(pinned, np.ones(len(added), dtype=np.bool_))
        own = np.zeros(len(added), np.int64) if plantings_at is None else plantings_at(places)
        numbers = np.append(numbers, own)
        none = np.zeros(len(added), dtype=np.bool_)
        plugged = None if plugged is None else np.append(plugged, none)
    sizes = np.array(diameter_mm, dtype=np.float64)
    diameters = sizes[numbers] if len(sizes) > 1 else np.full(len(names), diameter_mm[0])
    zoned = numbers if numbers.any() else None
    for array in (xy, diameters, pinned, numbers, plugged):
        if array is not None:
            array.flags.writeable = False
    return Holes(xy, diameters, tuple(names), pinned, zoned, plugged), tuple(idle)


def _nearest(
    xy: Coordinates, free: NDArray[np.bool_], x: float, y: float, reach: NDArray[np.float64]
) -> int | None:
    if not free.any():
        return None
    gaps = np.where(free, np.hypot(xy[:, 0] - x, xy[:, 1] - y), np.inf)
    index = int(gaps.argmin())
    return index if gaps[index] <= reach[index] + TOLERANCE_MM else None
