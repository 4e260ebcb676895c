"""What beds offer the runs, and whether the rafts of the runs find places in them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from geometry.checks.finding import Finding, SetTarget
from geometry.flow.room import Demand, Room
from geometry.flow.run_plan import RunPlan, crowded, largest, plan_runs
from geometry.holes.sites import Holes
from geometry.model.planting import Planting
from geometry.model.run import Run


@dataclass(frozen=True, slots=True)
class RunFit:
    """What the beds offer by their names, asked only where there are runs, and what was found.

    ``plans`` are the runs reckoned through, as if all batches went well.
    """

    runs: tuple[Run, ...] = ()
    rooms: Mapping[str, tuple[Room, ...]] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    plans: tuple[RunPlan, ...] = ()


def check_runs(
    runs: tuple[Run, ...], rooms: Mapping[str, tuple[Room, ...]], before: RunFit
) -> RunFit:
    """Find the runs whose rafts do not all find a place; without news ``before`` is kept.

    One finding a run, about the first day on which rafts are left over. Where the beds hold smaller
    batches beside the other runs, the cure is the target that these meet.
    """
    if before.runs == runs and before.rooms == rooms:
        return before
    plans = plan_runs(runs, rooms)
    first: dict[int, tuple[Demand, int]] = {}
    for demand, rafts in crowded(plans):
        first.setdefault(demand.run, (demand, rafts))
    found = []
    for number, (demand, rafts) in sorted(first.items()):
        run = runs[number]
        fitting = largest(run, rooms, (*plans[:number], *plans[number + 1 :]))
        found.append(
            Finding(
                code="run-fit",
                severity="question",
                bed=demand.rooms[0].bed,
                subject=run.name,
                rafts=rafts,
                day=demand.first.isoformat() if run.first else "",
                cure=None
                if fitting.lack or not fitting.heads
                else SetTarget(run.name, fitting.heads),
            )
        )
    return RunFit(runs, rooms, tuple(found), plans)


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
