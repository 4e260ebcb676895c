"""A raft beside copies of itself: what holes of an interchangeable raft meet at the joints."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.checks.raft_in_bed import RaftInBed
from geometry.holes.pairs import Floats, Indices
from geometry.holes.sites import Coordinates

_SIDES: Final = np.array([(x, y) for x in (-1, 0, 1) for y in (-1, 0, 1) if x or y], dtype=float)


@dataclass(frozen=True, slots=True, eq=False)
class Images:
    """Holes of the copies near the raft, in raft coordinates, and the hole each is a copy of."""

    xy: Coordinates
    source: Indices
    turned: Indices


def shifts(raft: RaftInBed, joint_gap: float) -> Floats:
    """Return where the eight copies around a raft have their datum corners.

    Farther copies never matter: where one of them is near enough, so is the next copy, and with
    it every hole is nearer to its own image than the spacing.
    """
    return _SIDES * (raft.size + joint_gap)


def images(raft: RaftInBed, joint_gap: float, reach: float) -> Images:
    """Lay copies on every side of a raft, straight and turned half round, and list their holes."""
    around = shifts(raft, joint_gap)
    xy = raft.holes.xy
    both = np.stack([xy, raft.size - xy])
    laid = both[:, None] + around[None, :, None]
    near = ((laid > -reach) & (laid < raft.size + reach)).all(axis=3)
    turned, _, source = np.nonzero(near)
    return Images(laid[near], source, turned)
