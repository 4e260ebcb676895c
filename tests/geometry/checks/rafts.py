"""Rafts with holes placed by hand, and what a cure makes of them."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from geometry.checks.finding import LeaveOut, MoveHole
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Rules
from geometry.holes.sites import Coordinates, Holes
from geometry.model.planting import JointRule
from geometry.rafts.layout import RaftShape
from geometry.rafts.shapes import rectangle_shape


def make_rules(
    *,
    spacing: float = 200,
    web: float = 0,
    edge_margin: float = 0,
    joints: JointRule = "bed-wide",
    joint_gap: float = 10,
) -> Rules:
    return Rules(spacing, web, edge_margin, joints, joint_gap)


def drilled(
    centres: Sequence[tuple[float, float]] | Coordinates,
    *,
    diameter: float | Sequence[float] = 50,
    pinned: Sequence[int] = (),
) -> Holes:
    xy = np.array(centres, dtype=np.float64).reshape(-1, 2)
    is_pinned = np.zeros(len(xy), dtype=np.bool_)
    is_pinned[list(pinned)] = True
    diameters = np.broadcast_to(np.array(diameter, dtype=np.float64), len(xy)).copy()
    return Holes(xy, diameters, tuple(f"A{n + 1}" for n in range(len(xy))), is_pinned)


def make_raft(
    holes: Holes,
    *,
    name: str = "R1",
    shape: RaftShape | None = None,
    size: tuple[int, int] = (1000, 600),
    at: tuple[float, float] = (0, 0),
    turned: bool = False,
) -> RaftInBed:
    shape = shape or rectangle_shape(Fraction(size[0]), Fraction(size[1]))
    return RaftInBed("Bench", name, shape, holes, *at, turned)


def cured(
    rafts: Sequence[RaftInBed], cure: object, *, joints: JointRule = "bed-wide"
) -> list[RaftInBed]:
    """Do what a cure says; interchangeable rafts of one shape are all drilled alike."""
    assert isinstance(cure, MoveHole | LeaveOut)
    changed = {raft.name: raft for raft in rafts}
    shape = changed[cure.raft].shape
    for raft in rafts:
        if raft.name == cure.raft or (joints == "interchangeable" and raft.shape == shape):
            changed[raft.name] = replace(raft, holes=_changed(raft.holes, cure))
    return _shared(changed)


def _shared(rafts: Mapping[str, RaftInBed]) -> list[RaftInBed]:
    """Equal designs are one value, as in a plan."""
    known: dict[Holes, Holes] = {}
    return [
        replace(raft, holes=known.setdefault(raft.holes, raft.holes)) for raft in rafts.values()
    ]


def _changed(holes: Holes, cure: MoveHole | LeaveOut) -> Holes:
    index = holes.names.index(cure.hole)
    if isinstance(cure, MoveHole):
        xy, pinned = holes.xy.copy(), holes.pinned.copy()
        xy[index], pinned[index] = (cure.x, cure.y), True
        return Holes(xy, holes.diameters, holes.names, pinned)
    kept = np.arange(len(holes)) != index
    names = tuple(name for name in holes.names if name != cure.hole)
    return Holes(holes.xy[kept], holes.diameters[kept], names, holes.pinned[kept])
