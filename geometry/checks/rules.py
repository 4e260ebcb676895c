"""The distances that the holes of a bed keep, and the things they keep away from."""

from dataclasses import dataclass
from typing import Self

from geometry.beds.outline import obstacle_loop
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import Box, Gauge, bounds
from geometry.model.planting import JointRule, Planting


@dataclass(frozen=True, slots=True)
class Rules:
    """The distances that the holes of one bed keep, in mm. Patterns and hand edits are left out."""

    spacing: float
    web: float
    edge_margin: float
    joints: JointRule
    joint_gap: float

    @classmethod
    def of(cls, bed: Bed, planting: Planting) -> Self:
        """Take the rules out of a bed and its planting."""
        return cls(
            planting.spacing.mm,
            planting.web.mm,
            planting.edge_margin.mm,
            planting.joints,
            bed.joint_gap.mm,
        )


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
