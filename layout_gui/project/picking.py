"""Which holes of a bed are like the chosen ones. Names in, names out."""

from collections.abc import Callable, Collection, Iterator

import numpy as np
from numpy.typing import NDArray

from geometry.plan import BedPlan, PlacedRaft
from layout_gui.project.edits import HoleName

Names = frozenset[HoleName]
_Mask = NDArray[np.bool_]


def all_holes(plan: BedPlan, rafts: Collection[str] | None = None) -> Names:
    """Return the holes of these rafts, of all without."""
    return _where(plan, lambda raft: np.full(len(raft.design.holes), _is_in(raft.name, rafts)))


def inverted(plan: BedPlan, chosen: Names) -> Names:
    """Return the holes that are not chosen."""
    return all_holes(plan) - chosen


def same_size(plan: BedPlan, chosen: Names) -> Names:
    """Return all holes as large as one of the chosen ones."""
    sizes = {
        size
        for raft, mask in _chosen(plan, chosen)
        for size in raft.design.holes.diameters[mask].tolist()
    }
    wanted = np.array(sorted(sizes))
    return _where(plan, lambda raft: np.isin(raft.design.holes.diameters, wanted))


def same_crop(plan: BedPlan, chosen: Names) -> Names:
    """Return all holes planted with the crop of one of the chosen ones."""
    crops = [planting.crop for planting in plan.plantings]
    own = {
        crops[number]
        for raft, mask in _chosen(plan, chosen)
        for number in np.unique(raft.design.holes.numbers[mask]).tolist()
    }
    wanted = np.array([number for number, crop in enumerate(crops) if crop in own])
    return _where(plan, lambda raft: np.isin(raft.design.holes.numbers, wanted))


def same_design(plan: BedPlan, chosen: Names) -> Names:
    """Return all holes of the rafts that are drilled like one with a chosen hole."""
    designs = {raft.design.name for raft, mask in _chosen(plan, chosen) if mask.any()}
    rafts = {raft.name for raft in plan.rafts if raft.design.name in designs}
    return all_holes(plan, rafts)


def pinned(plan: BedPlan, chosen: Names) -> Names:
    """Return the pinned ones of the chosen holes; of all holes when none is chosen."""
    found = _where(plan, lambda raft: raft.design.holes.pinned)
    return found & chosen if chosen else found


def _is_in(name: str, rafts: Collection[str] | None) -> bool:
    return rafts is None or name in rafts


def _chosen(plan: BedPlan, chosen: Names) -> Iterator[tuple[PlacedRaft, _Mask]]:
    wanted: dict[str, set[str]] = {}
    for raft, hole in chosen:
        wanted.setdefault(raft, set()).add(hole)
    for placed in plan.rafts:
        if names := wanted.get(placed.name):
            yield placed, np.array([name in names for name in placed.design.holes.names], np.bool_)


def _where(plan: BedPlan, fits: Callable[[PlacedRaft], _Mask]) -> Names:
    found: list[HoleName] = []
    for raft in plan.rafts:
        names = raft.design.holes.names
        found += [(raft.name, names[at]) for at in np.flatnonzero(fits(raft)).tolist()]
    return frozenset(found)
