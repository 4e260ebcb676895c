"""Do leaves of given widths reach into each other? From centres and radii, exactly."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.errors import TooManyError
from geometry.holes.pairs import Floats, Indices, near_pairs, nearest_gaps
from geometry.holes.sites import Coordinates
from geometry.plan import BedPlan, PlacedRaft
from geometry.units import TOLERANCE_MM

LeafWidths = Sequence[float | None]
"""The width of the leaves of each planting of a bed, in mm; None where none are wanted."""

MOST_SPACINGS: Final = 12.0
"""Leaves wider than so many of the nearest distance overlap all around; pairs are not counted."""


@dataclass(frozen=True, slots=True)
class Crowding:
    """How the leaves of a bed stand to each other, lengths in mm.

    ``nearest`` is the least distance of two plants, None with fewer than two: leaves of one width
    touch when they are that wide. ``pairs`` counts those that overlap by more than the tolerance,
    None where there are too many to count; ``deepest`` is the most by which two of them do.
    """

    plants: int
    nearest: float | None
    pairs: int | None
    deepest: float


def leaf_circles(planned: BedPlan, widths: LeafWidths) -> tuple[Coordinates, Floats]:
    """Return centres in bed coordinates and leaf radii of all plants that have leaves (mm).

    Plugged holes hold no plant.
    """
    radii_by_planting = np.array([(width or 0.0) / 2 for width in widths], dtype=np.float64)
    places, radii = [np.empty((0, 2))], [np.empty(0)]
    for raft in planned.rafts:
        xy, own = raft_leaves(raft, radii_by_planting)
        places.append(xy)
        radii.append(own)
    return np.concatenate(places), np.concatenate(radii)


def raft_leaves(raft: PlacedRaft, radii_by_planting: Floats) -> tuple[Coordinates, Floats]:
    """Return the same for the plants of one raft."""
    holes, shape = raft.design.holes, raft.design.shape
    xy: Coordinates = holes.xy
    if raft.turned:
        xy = np.array([float(shape.length), float(shape.width)]) - xy
    xy = xy + np.array([raft.x, raft.y])
    numbers = np.minimum(holes.numbers, len(radii_by_planting) - 1)
    radii: Floats = radii_by_planting[numbers]
    grown = radii > 0
    if holes.plugged is not None:
        grown &= ~holes.plugged
    return xy[grown], radii[grown]


def overlapping(xy: Coordinates, radii: Floats) -> tuple[Indices, Indices, Floats]:
    """Find all pairs of circles that overlap by more than the tolerance, and by how much (mm).

    Circles that only touch do not overlap.

    Raises:
        TooManyError: There are too many to list.
    """
    if not len(xy):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64), np.empty(0)
    first, second = near_pairs(xy, 2 * float(radii.max()))
    gaps = np.hypot(*(xy[first] - xy[second]).T)
    depth: Floats = radii[first] + radii[second] - gaps
    deep = depth > TOLERANCE_MM
    return first[deep], second[deep], depth[deep]


def crowding(planned: BedPlan, widths: LeafWidths) -> Crowding:
    """Tell how leaves of these widths stand to each other in a bed."""
    xy, radii = leaf_circles(planned, widths)
    if len(xy) < 2:
        return Crowding(len(xy), None, 0, 0.0)
    likely = planned.tried[0].pitch_mm if planned.tried else 2 * float(radii.max())
    nearest = float(nearest_gaps(xy, likely or 1.0).min())
    widest = 2 * float(radii.max())
    if widest > MOST_SPACINGS * nearest:
        return Crowding(len(xy), nearest, None, widest - nearest)
    try:
        _, _, depth = overlapping(xy, radii)
    except TooManyError:
        return Crowding(len(xy), nearest, None, widest - nearest)
    return Crowding(len(xy), nearest, len(depth), float(depth.max(initial=0.0)))
