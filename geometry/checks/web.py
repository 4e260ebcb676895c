"""Is there enough foam between two rims, and between a rim and the edge of the raft?"""

from collections.abc import Iterator

import numpy as np

from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.measures import Measures
from geometry.checks.told import tell_holes, tell_pairs
from geometry.units import TOLERANCE_MM


def check_web(ground: Ground, measures: Measures) -> Iterator[Finding]:
    """Yield a finding for every pair of rims, and every rim at the edge, with too little foam.

    The amount is negative where rims overlap or a rim reaches over the edge.
    """
    thin = np.flatnonzero(measures.foam < measures.web - TOLERANCE_MM)
    pairs = measures.first[thin], measures.second[thin]
    amounts, limits = measures.foam[thin], measures.web[thin]
    yield from tell_pairs(ground, "web", pairs=pairs, amounts=amounts, limits=limits)
    foam, webs = (
        measures.edge - ground.raft.holes.diameters / 2,
        ground.rules.webs(ground.raft.holes),
    )
    thin = np.flatnonzero(foam < webs - TOLERANCE_MM)
    if len(thin):
        cures = ground.off_the_edge(thin)
        yield from tell_holes(
            ground, "web", holes=thin, amounts=foam[thin], limits=webs[thin], cures=cures
        )
