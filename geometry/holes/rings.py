"""Rings of sites about the middle of an outline."""

from math import asin, ceil, floor, hypot, pi

import numpy as np

from geometry.holes.region import Region
from geometry.holes.sites import Coordinates, Placement, Sites
from geometry.units import TOLERANCE_MM


def ringed(region: Region, spacing: float) -> Placement:
    """Rings about the middle of the region's box, the outermost as far out as it goes."""
    left, bottom, right, top = region.bounds() or (0.0, 0.0, -1.0, -1.0)
    middle = np.array([(left + right) / 2, (bottom + top) / 2])
    outermost = min(right - left, top - bottom) / 2
    reach = hypot(right - left, top - bottom) / 2
    if outermost < -TOLERANCE_MM:
        nowhere = Sites(np.empty((0, 2)), np.empty(0, dtype=np.int64))
        return Placement(nowhere, "rings", "", spacing, spacing)
    outermost = max(outermost, 0.0)
    beyond = floor((reach - outermost) / spacing)
    numbers = np.arange(-beyond, ceil(outermost / spacing) + 1)
    rings = [_ring(r, spacing) for ring in numbers if (r := outermost - ring * spacing) >= 0]
    xy = middle + np.concatenate(rings)
    number = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    allowed = region.allows(xy)
    _, rows = np.unique(number[allowed], return_inverse=True)
    return Placement(Sites(xy[allowed], rows.astype(np.int64)), "rings", "", spacing, spacing)


def _ring(radius: float, spacing: float) -> Coordinates:
    if radius < spacing / 2:
        return np.zeros((1, 2))
    count = floor(pi / asin(spacing / (2 * radius)) + 1e-9)
    angles = 2 * pi * np.arange(count) / count
    return radius * np.column_stack([np.cos(angles), np.sin(angles)])
