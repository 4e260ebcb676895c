"""What beds offer the runs, and whether the rafts of the runs find places in them."""

from collections.abc import Iterable, Sequence

import numpy as np

from geometry.flow.room import Room
from geometry.holes.sites import Holes
from geometry.model.planting import Planting


def rooms_of(
    bed: str, plantings: Sequence[Planting], rafts: Iterable[tuple[str, Holes]]
) -> tuple[Room, ...]:
    """Return what a bed offers each crop that it is planted with, its own planting first.

    A room has the rafts that hold plants of the crop, and as many plants a raft as the one with
    the fewest holes in use. A bed without a hole has one room of all its rafts, with 0 plants.
    """
    lying = tuple(rafts)
    crops = list(dict.fromkeys(planting.crop for planting in plantings))
    known: dict[int, list[int]] = {}
    for _, holes in lying:
        if id(holes) not in known:
            known[id(holes)] = _in_use(holes, plantings, crops)
    found = []
    for at, crop in enumerate(crops):
        held = [(name, known[id(holes)][at]) for name, holes in lying if known[id(holes)][at]]
        if held:
            least = min(count for _, count in held)
            found.append(Room(bed, crop, tuple(name for name, _ in held), least))
    return tuple(found) or (Room(bed, "", tuple(name for name, _ in lying), 0),)


def _in_use(holes: Holes, plantings: Sequence[Planting], crops: Sequence[str]) -> list[int]:
    if len(plantings) == 1 and holes.plugged is None:
        return [len(holes)]
    counts = holes.count_by_planting(len(plantings))
    used = (counts - holes.count_by_planting(len(plantings), plugged=True)).tolist()
    own = np.zeros(len(crops), np.int64)
    for planting, count in zip(plantings, used, strict=True):
        own[crops.index(planting.crop)] += count
    return [int(each) for each in own]
