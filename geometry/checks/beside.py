"""A raft beside copies of itself: what holes of an interchangeable raft meet at the joints."""

from dataclasses import dataclass

import numpy as np

from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Rules
from geometry.holes.pairs import Floats, Indices
from geometry.holes.sites import Coordinates


@dataclass(frozen=True, slots=True, eq=False)
class Images:
    """Holes of the copies near the raft, in raft coordinates, and the hole each is a copy of."""

    xy: Coordinates
    source: Indices
    turned: Indices


def shifts(raft: RaftInBed, rules: Rules) -> Floats:
    """Return where the copies around a raft, one in each way, have their datum corners.

    Farther copies never matter: where one of them is near enough, so is the next copy, and with
    it every hole is nearer to its own image than the spacing.
    """
    ways: Floats = np.array(rules.ways, dtype=float).reshape(-1, 2)
    return ways * (raft.size + rules.joint_gap)


def images(raft: RaftInBed, rules: Rules, reach: float) -> Images:
    """List the holes of copies where neighbours can lie, straight and turned half round."""
    around = shifts(raft, rules)
    xy = raft.holes.xy
    both = np.stack([xy, raft.size - xy])
    laid = both[:, None] + around[None, :, None]
    near = ((laid > -reach) & (laid < raft.size + reach)).all(axis=3)
    turned, _, source = np.nonzero(near)
    return Images(laid[near], source, turned)
