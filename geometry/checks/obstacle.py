"""Does every rim keep its distance from the obstacles?"""

from collections.abc import Iterator

import numpy as np

from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.told import tell_holes
from geometry.units import TOLERANCE_MM


def check_obstacles(ground: Ground) -> Iterator[Finding]:
    """Yield a finding for every rim nearer to an obstacle than the obstacle's clearance.

    The amount is negative where the rim reaches into the obstacle.
    """
    holes = ground.raft.holes
    if not len(holes):
        return
    places, radii = ground.raft.in_bed(holes.xy), holes.diameters / 2
    for hazard in ground.hazards:
        away = -hazard.gauge.signed_distance(places) - radii
        near = np.flatnonzero(away < hazard.clearance - TOLERANCE_MM)
        if len(near):
            yield from tell_holes(
                ground,
                "obstacle",
                holes=near,
                amounts=away[near],
                limits=np.full(len(near), hazard.clearance),
                cures=ground.off_the_hazard(near, hazard),
                subject=hazard.name,
            )
