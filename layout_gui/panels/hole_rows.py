"""The holes of a bed as a table of arrays: sorted and filtered without an object for each."""

from collections.abc import Iterable
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.holes.pairs import nearest_gaps
from geometry.holes.sites import Coordinates, Holes
from geometry.plan import BedPlan, PlacedRaft
from layout_gui.document.selection import HoleName

Column = Literal["raft", "hole", "x", "y", "hole size", "crop", "state", "nearest"]
COLUMNS: Final[tuple[Column, ...]] = (
    "raft", "hole", "x", "y", "hole size", "crop", "state", "nearest",
)  # fmt: skip

Indices = NDArray[np.int64]
Floats = NDArray[np.float64]


class HoleRows:
    """All holes of one bed plan, numbered raft by raft in the order of the plan."""

    def __init__(self, plan: BedPlan) -> None:
        self.plan = plan
        self.rafts = plan.rafts
        holes = [raft.design.holes for raft in plan.rafts]
        counts = np.array([len(each) for each in holes], dtype=np.int64)
        self.starts: Indices = np.concatenate([[0], np.cumsum(counts)]).astype(np.int64)
        self.raft: Indices = np.repeat(np.arange(len(holes)), counts)
        self.xy: Coordinates = np.vstack([np.empty((0, 2)), *(each.xy for each in holes)])
        self.diameters: Floats = np.concatenate([np.empty(0), *(h.diameters for h in holes)])
        self.plantings: Indices = np.concatenate(
            [np.empty(0, np.int64), *(each.numbers for each in holes)]
        )
        # 0 pattern, 1 pinned; 2 more where it is plugged.
        self.states: Indices = np.concatenate(
            [np.empty(0, np.int64), *(_states(each) for each in holes)]
        )
        self._gaps: Floats | None = None

    def __len__(self) -> int:
        return len(self.raft)

    def name(self, hole: int) -> HoleName:
        """Return the names of the raft and of the hole."""
        raft = self.rafts[int(self.raft[hole])]
        return raft.name, raft.design.holes.names[hole - int(self.starts[self.raft[hole]])]

    def names(self, holes: Indices) -> list[HoleName]:
        """Return the names of many holes."""
        rafts = self.raft[holes]
        within = holes - self.starts[rafts]
        own = [(raft.name, raft.design.holes.names) for raft in self.rafts]
        return [
            (own[raft][0], own[raft][1][at])
            for raft, at in zip(rafts.tolist(), within.tolist(), strict=True)
        ]

    def numbers(self, names: Iterable[HoleName]) -> Indices:
        """Return the numbers of named holes, ascending; names that are not there are left out."""
        wanted: dict[str, set[str]] = {}
        for raft_name, hole in names:
            wanted.setdefault(raft_name, set()).add(hole)
        found: list[Indices] = [np.empty(0, np.int64)]
        for number, raft in enumerate(self.rafts):
            chosen = wanted.get(raft.name)
            if not chosen:
                continue
            own = raft.design.holes.names
            if len(chosen) == len(own) and chosen.issuperset(own):
                at = np.arange(len(own))
            else:
                at = np.flatnonzero([name in chosen for name in own])
            found.append(at + self.starts[number])
        return np.concatenate(found)

    def sorted(self, column: Column, *, descending: bool, raft: str = "") -> Indices:
        """Return the holes, of one raft or of all, in the order of a column; equals as they were.

        Names are in order by letters and number: A2 before A10 before B1, rafts likewise.
        """
        chosen = np.arange(len(self))
        if raft:
            at = next((n for n, each in enumerate(self.rafts) if each.name == raft), None)
            if at is None:
                return np.empty(0, np.int64)
            chosen = np.arange(self.starts[at], self.starts[at + 1])
        keys = self._keys(column)[chosen]
        order = np.argsort(-keys if descending else keys, kind="stable")
        return chosen[order]

    @property
    def gaps(self) -> Floats | None:
        """How far each hole is from its nearest neighbour; None until ``measure`` was asked."""
        return self._gaps

    def measure(self) -> Floats:
        """Work out the distance of every hole to its nearest, across joints as they lie."""
        if self._gaps is None:
            likely = max((each.spacing.mm for each in self.plan.plantings), default=100.0)
            self._gaps = nearest_gaps(self.in_bed(), 1.2 * likely)
        return self._gaps

    def take_gaps(self, gaps: Floats) -> None:
        """Take over distances that were worked out elsewhere."""
        self._gaps = gaps

    def in_bed(self) -> Coordinates:
        """Return all centres in bed coordinates."""
        corner = np.array([_origin(raft) for raft in self.rafts]).reshape(-1, 3)
        own = corner[self.raft]
        placed: Coordinates = own[:, :2] + own[:, 2:] * self.xy
        return placed

    def _keys(self, column: Column) -> NDArray[np.float64] | Indices:
        match column:
            case "raft":
                return _ranks([raft.name for raft in self.rafts])[self.raft]
            case "hole":
                holes = list({id(r.design.holes): r.design.holes for r in self.rafts}.values())
                if not holes:
                    return np.empty(0, np.int64)
                keys = name_keys(name for each in holes for name in each.names)
                ends = np.cumsum([len(each) for each in holes])
                known = dict(zip(map(id, holes), np.split(keys, ends[:-1]), strict=True))
                parts = [known[id(raft.design.holes)] for raft in self.rafts]
                return np.concatenate([np.empty(0, np.int64), *parts])
            case "x":
                return self.xy[:, 0]
            case "y":
                return self.xy[:, 1]
            case "hole size":
                return self.diameters
            case "crop":
                crops = np.array([each.crop for each in self.plan.plantings] or [""])
                return np.unique(crops, return_inverse=True)[1][self.plantings]
            case "state":
                return self.states
            case "nearest":
                return self.measure()


def name_keys(names: Iterable[str]) -> Indices:
    """Return a number for each name that sorts it by its letters and then by its number."""
    listed = list(names)
    table = np.array(listed or [""])
    codes = table.view(np.uint32).reshape(len(table), -1).astype(np.int64)
    letters = np.zeros(len(table), np.int64)
    numbers = np.zeros(len(table), np.int64)
    count = np.zeros(len(table), np.int64)
    for column in codes.T:
        is_digit = (column >= 48) & (column <= 57)
        is_letter = (column > 0) & ~is_digit
        letters = np.where(is_letter, letters * 128 + column % 128, letters)
        count += is_letter
        numbers = np.where(is_digit, numbers * 10 + column - 48, numbers)
    # Names have few letters and numbers of few digits; longer ones still sort, if not as nicely.
    keys: Indices = ((np.minimum(count, 7) << 57) | ((letters & (2**35 - 1)) << 22)) + np.minimum(
        numbers, 2**22 - 1
    )
    return keys[: len(listed)]


def _ranks(names: list[str]) -> Indices:
    keys = name_keys(names)
    order = np.lexsort((np.array(names), keys))
    ranks = np.empty(len(names), np.int64)
    ranks[order] = np.arange(len(names))
    return ranks


def _states(holes: Holes) -> Indices:
    states = holes.pinned.astype(np.int64)
    return states if holes.plugged is None else states + 2 * holes.plugged


def _origin(raft: PlacedRaft) -> tuple[float, float, float]:
    """Where the datum corner lies in the bed, and the sign in which the raft counts."""
    if not raft.turned:
        return raft.x, raft.y, 1.0
    shape = raft.design.shape
    return raft.x + float(shape.length), raft.y + float(shape.width), -1.0
