"""Which share of the water leaves shade: from how far each place is to the nearest plant.

One look at the bed answers for every day, for leaves of a radius cover just the places that are
no farther from their plant.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, STRtree

from geometry.errors import GeometryError
from geometry.tongue import tr
from geometry.watch import look_up

Floats = NDArray[np.float64]
Points = Any
"""An array of shapely points; their type cannot be told."""

RESPACE_COVER: Final = 0.98
"""Plants are best moved apart once they cover so much of the ground: next to no light was lost
before, by cameras in six greenhouses (Petropoulou et al. 2023, Sensors 23(6):2929)."""

_PLASTIC: Final = 1.3247179572447460

PLACES: Final = 40_000
"""So many places of the water are looked at; the share is then good to a few thousandths."""

_AT_ONCE: Final = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class Shade:
    """How far places spread evenly over the water are from the nearest plant of each crop (mm).

    ``distances`` has a row for each crop; a crop without plants is infinitely far away.
    """

    distances: Floats

    def cover(self, widths: Sequence[float | None]) -> float:
        """Return the share of the water under leaves of these widths (mm), one a crop."""
        radii = np.array([(width or 0.0) / 2 for width in widths])[:, None]
        return float(((self.distances <= radii) & (radii > 0)).any(axis=0).mean())


def look_at(water: Polygon, plants: Sequence[Floats], places: int = PLACES) -> Shade:
    """Look at places all over the water, in bed coordinates; ``plants`` are those of each crop.

    Raises:
        GeometryError: There is no water.
    """
    if water.is_empty or not water.area:
        raise GeometryError(tr("There is no water to shade."))
    points = _spread_over(water.wkb, places)
    rows = [how_far(points, xy) for xy in plants]
    return Shade(np.array(rows).reshape(len(plants), len(points)))


@lru_cache(maxsize=4)
def _spread_over(wkb: bytes, places: int) -> Points:
    """Return places that fill the box around the water ever more evenly, as far as they are in it.

    A grid would fall into step with rows of plants. This is the additive sequence of the plastic
    number (Roberts 2018, "The unreasonable effectiveness of quasirandom sequences").
    """
    water = shapely.from_wkb(wkb)
    left, bottom, right, top = water.bounds
    number = np.arange(1, places + 1)
    x = left + (0.5 + number / _PLASTIC) % 1 * (right - left)
    y = bottom + (0.5 + number / _PLASTIC**2) % 1 * (top - bottom)
    points: Points = shapely.points(x, y)
    shapely.prepare(water)
    within = points[shapely.contains(water, points)]
    return within if len(within) else np.array([shapely.point_on_surface(water)])


def how_far(points: Points, xy: Floats) -> Floats:
    """Return how far each place is from the nearest of some points (mm); inf where there is none.

    A tree is made of so many at once that whoever works beside this is not kept waiting.
    """
    gaps = np.full(len(points), np.inf)
    for begin in range(0, len(xy), _AT_ONCE):
        look_up()
        centres: Points = shapely.points(xy[begin : begin + _AT_ONCE])
        _, apart = STRtree(centres).query_nearest(points, return_distance=True, all_matches=False)
        np.minimum(gaps, apart, out=gaps)
    return gaps
