"""The best translation of a plain lattice, given by the two vectors that span it."""

from math import atan2, cos, hypot, sin

import numpy as np

from geometry.holes.best_shift import MostOfEach, Search
from geometry.holes.chords import Chords
from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.holes.stack import RowStack

Vector = tuple[float, float]


def best_translation(region: Region, u: Vector, v: Vector, *, more_than: int = 0) -> Coordinates:
    """Return the points of the lattice spanned by ``u`` and ``v`` at its best translation.

    Exact up to the tolerance: no other translation puts more points into the region. Empty when no
    translation gives more than ``more_than`` points, which is told sooner.
    """
    angle = atan2(u[1], u[0])
    along, up = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    gap, shift = v[0] * up[0] + v[1] * up[1], v[0] * along[0] + v[1] * along[1]
    if gap < 0:
        gap, shift = -gap, -shift
    search = Search(Chords.of(region, [angle]), [RowStack(angle, hypot(*u), gap, shift)])
    judge = MostOfEach([0], [more_than])
    search.run(judge)
    if not judge.best:
        return np.empty((0, 2))
    xy = search.sites(judge.best[0])
    return xy[region.allows(xy)]
