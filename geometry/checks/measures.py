"""What is measured once on a raft with its holes, wherever rafts like it lie."""

from dataclasses import dataclass

import numpy as np

from geometry.checks.rules import Rules
from geometry.holes.pairs import Floats, Indices, near_pairs
from geometry.holes.sites import Holes
from geometry.model.measure import Gauge
from geometry.rafts.layout import RaftShape
from geometry.units import TOLERANCE_MM


@dataclass(frozen=True, slots=True, eq=False)
class Measures:
    """Pairs of holes that are near enough to matter, and how far every centre is from the edge.

    ``gap`` is from centre to centre, ``foam`` from rim to rim; ``spacing`` and ``web`` are what
    they should be at least; ``edge`` is negative for a centre off the raft. ``least_web`` is the
    least foam between two rims or from a rim to the edge, infinite without holes. ``sound`` says
    that no rule is broken on the raft by itself.
    """

    first: Indices
    second: Indices
    gap: Floats
    foam: Floats
    spacing: Floats
    web: Floats
    edge: Floats
    least_web: float
    sound: bool


def measure(shape: RaftShape, holes: Holes, rules: Rules) -> Measures:
    """Measure a raft with its holes against the rules."""
    xy, radii = holes.xy, holes.diameters / 2
    edge = Gauge.of(shape.loop).signed_distance(xy)
    least_web = float((edge - radii).min(initial=np.inf))
    if len(holes) > 1:
        # Holes that follow each other are as good a first guess as any.
        steps = np.hypot(*np.diff(xy, axis=0).T) - radii[1:] - radii[:-1]
        least_web = min(least_web, float(steps.min()))
    widest = 2 * float(radii.max(initial=0.0))
    most = max(rules.widest_web, least_web if len(holes) else 0.0)
    # A tolerance less, so that plants exactly as far apart as they should be never come up.
    first, second = near_pairs(xy, max(rules.widest, widest + most) - TOLERANCE_MM)
    apart = xy[first] - xy[second]
    gap = np.hypot(apart[:, 0], apart[:, 1])
    foam = gap - radii[first] - radii[second]
    spacings, webs = rules.spacings(holes), rules.webs(holes)
    spacing = (spacings[first] + spacings[second]) / 2
    web = np.maximum(webs[first], webs[second])
    margin = np.maximum(rules.edge_margins(holes), webs + radii)
    sound = not (
        (gap < spacing - TOLERANCE_MM).any()
        or (foam < web - TOLERANCE_MM).any()
        or (edge < margin - TOLERANCE_MM).any()
    )
    least_web = float(foam.min(initial=least_web))
    return Measures(first, second, gap, foam, spacing, web, edge, least_web, sound)
