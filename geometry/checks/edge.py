"""Does every centre keep the edge margin from the edge of its raft?"""

from collections.abc import Iterator

import numpy as np

from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.measures import Measures
from geometry.checks.told import tell_holes
from geometry.units import TOLERANCE_MM


def check_edge(ground: Ground, measures: Measures) -> Iterator[Finding]:
    """Yield a finding for every centre nearer to the edge than the margin, or off the raft.

    The amount is negative for a centre off the raft.
    """
    margins = ground.rules.edge_margins(ground.raft.holes)
    near = np.flatnonzero(measures.edge < margins - TOLERANCE_MM)
    if len(near):
        cures = ground.off_the_edge(near)
        yield from tell_holes(
            ground,
            "edge",
            holes=near,
            amounts=measures.edge[near],
            limits=margins[near],
            cures=cures,
        )
