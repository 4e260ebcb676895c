"""Where things are in a bed: from names to places and from places to names."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from geometry.holes.sites import Coordinates
from geometry.model.measure import Box, bounds
from geometry.model.planting import Planting
from geometry.plan import BedPlan, PlacedRaft
from layout_gui.canvas.thing_places import ThingPlaces
from layout_gui.document.selection import HoleName, by_raft


@dataclass(frozen=True, slots=True)
class Spot:
    """One hole where it lies: its names, its centre in bed coordinates, its radius (mm)."""

    raft: str
    hole: str
    x: float
    y: float
    radius: float

    @property
    def name(self) -> HoleName:
        """The raft's and the hole's name."""
        return self.raft, self.hole


def to_bed(placed: PlacedRaft, xy: Coordinates) -> Coordinates:
    """Move places from raft coordinates to bed coordinates."""
    corner = np.array([placed.x, placed.y], dtype=np.float64)
    if placed.turned:
        corner += _size(placed)
    moved: Coordinates = corner - xy if placed.turned else corner + xy
    return moved


def to_raft(placed: PlacedRaft, x: float, y: float) -> tuple[float, float]:
    """Move one place from bed coordinates to raft coordinates."""
    if not placed.turned:
        return x - placed.x, y - placed.y
    shape = placed.design.shape
    return placed.x + float(shape.length) - x, placed.y + float(shape.width) - y


def keep_mm(planting: Planting | None) -> float:
    """Return how far a hole's centre keeps from the edge of its raft."""
    if planting is None:
        return 0
    return max(planting.edge_margin.mm, planting.web.mm + planting.hole_diameter.mm / 2)


class Places:
    """The rafts and holes of one bed plan, ready to be found. Worked out when first asked."""

    def __init__(self, bed_plan: BedPlan, hidden: frozenset[str] = frozenset()) -> None:
        self.bed_plan = bed_plan
        self.hidden = hidden
        """Rafts whose holes cannot be found by place or in turn."""

    @cached_property
    def rafts(self) -> dict[str, PlacedRaft]:
        """The rafts by name."""
        return {placed.name: placed for placed in self.bed_plan.rafts}

    @cached_property
    def box(self) -> Box:
        """The box of the water: left, bottom, right, top."""
        return bounds(self.bed_plan.layout.outline)

    @cached_property
    def things(self) -> ThingPlaces:
        """Obstacles, zones, corners of the outline and joints."""
        return ThingPlaces(self.bed_plan)

    @cached_property
    def _boxes(self) -> NDArray[np.float64]:
        """Left, bottom, right, top of each raft."""
        sizes: dict[int, tuple[float, float]] = {}
        rows: list[tuple[float, float, float, float]] = []
        for placed in self.bed_plan.rafts:
            size = sizes.get(id(placed.design))
            if size is None:
                size = sizes[id(placed.design)] = _size(placed)
            rows.append((placed.x, placed.y, placed.x + size[0], placed.y + size[1]))
        return np.array(rows, dtype=np.float64).reshape(-1, 4)

    @cached_property
    def _largest_radius(self) -> float:
        return max(
            (
                float(design.holes.diameters.max()) / 2
                for design in self.bed_plan.designs
                if len(design.holes)
            ),
            default=0.0,
        )

    def raft_at(self, x: float, y: float) -> PlacedRaft | None:
        """Return the raft whose box holds this place of the bed."""
        return next(iter(self._rafts_near(x, y, x, y, 0)), None)

    def rafts_in(self, left: float, bottom: float, right: float, top: float) -> list[PlacedRaft]:
        """Return the rafts whose boxes meet this part of the bed."""
        return self._rafts_near(left, bottom, right, top, 0)

    def hole_at(self, x: float, y: float, reach_mm: float) -> Spot | None:
        """Return the hole under this place, or the nearest whose rim is within ``reach_mm``."""
        best: tuple[float, PlacedRaft, int] | None = None
        for placed in self._rafts_near(x, y, x, y, self._largest_radius + reach_mm):
            holes = placed.design.holes
            if not len(holes) or placed.name in self.hidden:
                continue
            at = np.array(to_raft(placed, x, y))
            away = np.hypot(*(holes.xy - at).T) - holes.diameters / 2
            index = int(away.argmin())
            if away[index] <= reach_mm and (best is None or away[index] < best[0]):
                best = float(away[index]), placed, index
        return None if best is None else _spot(best[1], best[2])

    def nearest(self, x: float, y: float, without: frozenset[HoleName]) -> Spot | None:
        """Return the hole nearest to a place, centre to centre, the named ones left aside.

        Holes further off than three spacings are not looked at.
        """
        planting = self.bed_plan.bed.planting
        reach = 3 * planting.spacing.mm if planting else 600.0
        best: tuple[float, PlacedRaft, int] | None = None
        for placed in self._rafts_near(x, y, x, y, reach):
            holes = placed.design.holes
            away = np.hypot(*(holes.xy - np.array(to_raft(placed, x, y))).T)
            for index in np.argsort(away)[: len(without) + 1].tolist():
                if away[index] > reach or (best is not None and away[index] >= best[0]):
                    break
                if (placed.name, holes.names[index]) not in without:
                    best = float(away[index]), placed, index
                    break
        return None if best is None else _spot(best[1], best[2])

    def holes_in(self, left: float, bottom: float, right: float, top: float) -> list[HoleName]:
        """Return the holes whose centres lie in this part of the bed."""
        found: list[HoleName] = []
        low, high = np.array([left, bottom]), np.array([right, top])
        for placed in self._rafts_near(left, bottom, right, top, 0):
            if placed.name in self.hidden:
                continue
            xy = to_bed(placed, placed.design.holes.xy)
            within = np.flatnonzero(((xy >= low) & (xy <= high)).all(axis=1))
            names = placed.design.holes.names
            found += [(placed.name, names[index]) for index in within.tolist()]
        return found

    def count_in(self, left: float, bottom: float, right: float, top: float) -> int:
        """Return how many holes ``holes_in`` finds, without naming them."""
        count = 0
        low, high = np.array([left, bottom]), np.array([right, top])
        boxes = self._boxes
        meets = ((boxes[:, 2:] >= low) & (boxes[:, :2] <= high)).all(axis=1)
        within = (boxes[:, :2] >= low) & (boxes[:, 2:] <= high)
        whole = set(np.flatnonzero(within.all(axis=1)).tolist())
        for k in np.flatnonzero(meets).tolist():
            placed = self.bed_plan.rafts[k]
            if placed.name in self.hidden:
                continue
            if k in whole:
                count += len(placed.design.holes)
            else:
                xy = to_bed(placed, placed.design.holes.xy)
                count += int(((xy >= low) & (xy <= high)).all(axis=1).sum())
        return count

    def spots(self, names: Iterable[HoleName]) -> list[Spot]:
        """Return where the named holes lie; names without a hole are left out."""
        found: list[Spot] = []
        for raft, holes in by_raft(frozenset(names)).items():
            placed = self.rafts.get(raft)
            if placed is not None:
                found += [
                    _spot(placed, index)
                    for index, name in enumerate(placed.design.holes.names)
                    if name in holes
                ]
        return found

    def circles(self, names: Iterable[HoleName]) -> NDArray[np.float64]:
        """Return x, y and radius of the named holes, as rows; quick for very many."""
        found = [np.empty((0, 3))]
        for raft, chosen in by_raft(frozenset(names)).items():
            placed = self.rafts.get(raft)
            if placed is not None:
                holes = placed.design.holes
                rows = np.column_stack([to_bed(placed, holes.xy), holes.diameters / 2])
                if not chosen.issuperset(holes.names):
                    rows = rows[[name in chosen for name in holes.names]]
                found.append(rows)
        return np.vstack(found)

    def names_at(self, targets: Iterable[tuple[str, float, float]]) -> list[HoleName]:
        """Return, for each raft and place in bed coordinates, the hole lying exactly there."""
        found: list[HoleName] = []
        for raft, x, y in targets:
            placed = self.rafts.get(raft)
            if placed is not None and len(placed.design.holes):
                holes = placed.design.holes
                away = np.hypot(*(holes.xy - np.array(to_raft(placed, x, y))).T)
                index = int(away.argmin())
                if away[index] < 0.01:
                    found.append((raft, holes.names[index]))
        return found

    def all_names(self) -> list[HoleName]:
        """Return every hole that is not hidden: raft by raft, row by row."""
        return [
            (placed.name, hole)
            for placed in self.bed_plan.rafts
            if placed.name not in self.hidden
            for hole in placed.design.holes.names
        ]

    def next_to(self, name: HoleName | None, step: int) -> HoleName | None:
        """Return the hole so many steps on in name order; None beyond either end.

        From None, one step forward is the first hole, one step back the last.
        """
        names = self.all_names()
        if name is None or name not in names:
            index = 0 if step > 0 else len(names) - 1
        else:
            index = names.index(name) + step
        return names[index] if 0 <= index < len(names) else None

    def _rafts_near(
        self, left: float, bottom: float, right: float, top: float, reach: float
    ) -> list[PlacedRaft]:
        boxes = self._boxes
        near = (
            (boxes[:, 0] - reach <= right)
            & (boxes[:, 1] - reach <= top)
            & (boxes[:, 2] + reach >= left)
            & (boxes[:, 3] + reach >= bottom)
        )
        return [self.bed_plan.rafts[index] for index in near.nonzero()[0].tolist()]


def centre_of(spots: Sequence[Spot]) -> tuple[float, float]:
    """Return the middle of the box around some holes."""
    xs, ys = [spot.x for spot in spots], [spot.y for spot in spots]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _size(placed: PlacedRaft) -> tuple[float, float]:
    return float(placed.design.shape.length), float(placed.design.shape.width)


def _spot(placed: PlacedRaft, index: int) -> Spot:
    holes = placed.design.holes
    ((x, y),) = to_bed(placed, holes.xy[index : index + 1]).tolist()
    return Spot(placed.name, holes.names[index], x, y, float(holes.diameters[index]) / 2)
