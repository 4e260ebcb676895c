"""Do any two plants of one raft stand nearer than the spacing?"""

from collections.abc import Iterator

import numpy as np

from geometry.checks.finding import Finding
from geometry.checks.ground import Ground
from geometry.checks.measures import Measures
from geometry.checks.told import tell_pairs
from geometry.units import TOLERANCE_MM


def check_spacing(ground: Ground, measures: Measures) -> Iterator[Finding]:
    """Yield a finding for every pair of plants nearer than the spacing, centre to centre.

    Plants of unlike plantings keep the mean of their spacings.
    """
    close = np.flatnonzero(measures.gap < measures.spacing - TOLERANCE_MM)
    pairs = measures.first[close], measures.second[close]
    gaps, limits = measures.gap[close], measures.spacing[close]
    yield from tell_pairs(ground, "spacing", pairs=pairs, amounts=gaps, limits=limits)
