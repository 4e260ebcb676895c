"""The distances that the holes of a bed keep, and the things they keep away from."""

from dataclasses import dataclass
from typing import Self

import numpy as np

from geometry.beds.outline import obstacle_loop
from geometry.holes.pairs import Floats
from geometry.holes.sites import Holes
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import Box, Gauge, bounds
from geometry.model.planting import JointRule, Planting
from geometry.model.zone import zone_planting
from geometry.rafts.layout import ALL_WAYS, Ways


@dataclass(frozen=True, slots=True)
class ZoneDistances:
    """The distances that the holes of one zone keep, in mm, and the zone's crop."""

    spacing: float
    web: float
    edge_margin: float
    crop: str = ""


@dataclass(frozen=True, slots=True)
class Rules:
    """The distances that the holes of one bed keep, in mm. Patterns and hand edits are left out.

    ``ways`` are those in which interchangeable rafts can have neighbours.

    The holes of ``zones`` have distances of their own. Two plants keep the mean of their spacings,
    two rims the larger of their webs.
    """

    spacing: float
    web: float
    edge_margin: float
    joints: JointRule
    joint_gap: float
    zones: tuple[ZoneDistances, ...] = ()
    crop: str = ""
    ways: Ways = ALL_WAYS

    @classmethod
    def of(cls, bed: Bed, planting: Planting, ways: Ways = ALL_WAYS) -> Self:
        """Take the rules out of a bed and its planting."""
        return cls(
            planting.spacing.mm,
            planting.web.mm,
            planting.edge_margin.mm,
            planting.joints,
            bed.joint_gap.mm,
            tuple(
                ZoneDistances(own.spacing.mm, own.web.mm, own.edge_margin.mm, own.crop)
                for own in (zone_planting(zone, planting) for zone in bed.zones)
            ),
            planting.crop if bed.zones else "",
            ways,
        )

    @property
    def widest(self) -> float:
        """The largest spacing of all plantings: plants farther apart never matter."""
        return max([self.spacing, *(zone.spacing for zone in self.zones)])

    @property
    def widest_web(self) -> float:
        """The largest web of all plantings."""
        return max([self.web, *(zone.web for zone in self.zones)])

    def spacings(self, holes: Holes) -> Floats:
        """Return the spacing of each hole's own planting."""
        return self._each(holes, self.spacing, [zone.spacing for zone in self.zones])

    def webs(self, holes: Holes) -> Floats:
        """Return the web of each hole's own planting."""
        return self._each(holes, self.web, [zone.web for zone in self.zones])

    def edge_margins(self, holes: Holes) -> Floats:
        """Return the edge margin of each hole's own planting."""
        return self._each(holes, self.edge_margin, [zone.edge_margin for zone in self.zones])

    def crop_of(self, number: int) -> str:
        """Return the crop of a planting by its number."""
        return self.zones[number - 1].crop if number else self.crop

    def _each(self, holes: Holes, own: float, zones: list[float]) -> Floats:
        if holes.plantings is None:
            return np.full(len(holes), own)
        return np.array([own, *zones])[holes.plantings]


@dataclass(frozen=True, slots=True, eq=False)
class Hazard:
    """An obstacle ready to be measured from: every rim keeps ``clearance`` mm away from it."""

    name: str
    clearance: float
    loop: Loop
    gauge: Gauge
    box: Box


def hazards_of(bed: Bed) -> tuple[Hazard, ...]:
    """Make the obstacles of a bed ready; do it once, they are measured from again and again."""
    loops = [obstacle_loop(obstacle) for obstacle in bed.obstacles]
    return tuple(
        Hazard(obstacle.name, obstacle.clearance.mm, loop, Gauge.of(loop), bounds(loop))
        for obstacle, loop in zip(bed.obstacles, loops, strict=True)
    )
