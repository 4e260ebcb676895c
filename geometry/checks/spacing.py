"""Do any two plants of one raft stand nearer than the spacing?"""

from collections.abc import Iterator

import numpy as np

from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.measures import Measures
from geometry.checks.told import tell_pairs
from geometry.units import TOLERANCE_MM


def check_spacing(ground: Ground, measures: Measures) -> Iterator[Finding]:
    """Yield a finding for every pair of plants nearer than the spacing, centre to centre."""
    limit = ground.rules.spacing
    close = np.flatnonzero(measures.gap < limit - TOLERANCE_MM)
    pairs = measures.first[close], measures.second[close]
    yield from tell_pairs(ground, "spacing", pairs=pairs, amounts=measures.gap[close], limit=limit)
