"""The room that free places have on one raft, and places that were found in it."""

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.model.edges import Floats
from geometry.units import TOLERANCE_MM

EXACT_MM: Final = TOLERANCE_MM / 10
"""How well found places keep their distances; well within the tolerance that decides."""

MOST_POINTS: Final = 600
"""Larger rafts are not squeezed: a try takes too long to get anywhere in some seconds."""


@dataclass(frozen=True, eq=False)
class Room:
    """Where points may lie, how far apart they keep, and points that stay where they are.

    ``fixed`` are places of plants on other rafts, in the same coordinates as the region.
    """

    region: Region
    spacing: float
    fixed: Coordinates

    def is_legal(self, xy: Coordinates, within: float = EXACT_MM) -> bool:
        """Whether all points keep to the region and to their distances, ``within`` mm."""
        if not len(xy):
            return True
        inside = float(self.region.slack(xy).min()) >= -within
        return inside and self.least_distance(xy) >= self.spacing - within

    def least_distance(self, xy: Coordinates) -> float:
        """The least distance between two points, or between a point and a fixed one, in mm."""
        every = np.vstack([xy, self.fixed])
        gaps = np.hypot(*(xy[:, None, :] - every[None, :, :]).transpose(2, 0, 1))
        gaps[np.arange(len(xy)), np.arange(len(xy))] = np.inf
        return float(gaps.min()) if gaps.size else np.inf

    @cached_property
    def box(self) -> tuple[Floats, Floats]:
        """Lower left and upper right corner of a box around the region; there must be one."""
        box = self.region.bounds()
        assert box is not None  # noqa: S101  asked only of rooms that hold something
        low, high = np.array(box[:2]), np.array(box[2:])
        middle = (low + high) / 2
        return np.minimum(low, middle), np.maximum(high, middle)

    @cached_property
    def is_box(self) -> bool:
        """Whether the box is all there is to the region."""
        whole = self.region
        corners = np.array([[x, y] for x in (0, 1) for y in (0, 1)], dtype=np.float64)
        low, high = self.box
        return (
            len(whole.parts) == 1
            and not whole.keep_outs
            and len(whole.border) == 4
            and bool(whole.allows(low + corners * (high - low)).all())
        )


@dataclass(frozen=True, slots=True, eq=False)
class Squeezed:
    """What a squeeze has found: the places in raft coordinates and the least distance in mm.

    ``grid_mm`` is the grid that all places stand on, None when no grid can hold them. ``homes``
    says for each place which of the pattern's sites it takes over, -1 for none.
    """

    xy: Coordinates
    least_mm: float
    grid_mm: float | None
    homes: NDArray[np.int64]

    def __len__(self) -> int:
        return len(self.xy)
