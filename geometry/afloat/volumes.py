"""How much water a bed holds between its levels, what it weighs, and what rain does to it.

Volumes in litres, areas in m², rain in mm. What rafts, roots and pipes push aside is left out:
whatever floats pushes aside one litre for each kilogram that it weighs (Archimedes).
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from geometry.afloat.water import water_density
from geometry.beds.levels import narrowed, top_sizes
from geometry.beds.outline import outline_loop
from geometry.errors import GeometryError
from geometry.model.measure import area
from geometry.model.outlines import Outline
from geometry.model.water import Walls, Water
from geometry.tongue import tr

STONE_LITRES_A_MINUTE: Final = 4
"""An air stone of this size serves ``STONE_M2`` square metres of a canal (Somerville and others:
FAO Fisheries and Aquaculture Technical Paper 589, 2014, read in a magazine that follows it)."""
STONE_M2: Final = (2, 4)

LITRES_A_KILOGRAM: Final = 20
"""About so much water goes into a kilogram of lettuce in nutrient solution, by a model of a year
(Barbosa and others 2015, International Journal of Environmental Research and Public Health 12:
6879-6891)."""

_MM2_PER_M2: Final = 1e6


@dataclass(frozen=True, slots=True)
class Volumes:
    """The water of one bed: by geometry, and as it was metered.

    ``area`` is the water's face at the working level, ``open_area`` that at the high level, where
    rain is caught, both in m². ``low``, ``working`` and ``high`` are litres by geometry up to each
    level. ``metered`` is what it took to fill the bed to the working level; None where nobody
    noted it. ``deep`` is the greatest depth in mm, at the high level, ``celsius`` how warm it is.
    """

    area: float
    open_area: float
    low: float
    working: float
    high: float
    metered: float | None
    deep: float
    celsius: float

    @property
    def ratio(self) -> float:
        """How much of the volume by geometry the bed really takes; 1 where nobody metered it."""
        return 1.0 if self.metered is None else self.metered / self.working

    @property
    def fill(self) -> float:
        """Litres at the working level: as metered, otherwise by geometry."""
        return self.working * self.ratio

    @property
    def top_up(self) -> float:
        """Litres that bring the water from the low to the working level."""
        return (self.working - self.low) * self.ratio

    @property
    def swing(self) -> float:
        """Litres between the low and the high level."""
        return (self.high - self.low) * self.ratio

    @property
    def headroom(self) -> float:
        """Litres that the bed takes above the working level before the high level is reached."""
        return (self.high - self.working) * self.ratio

    @property
    def kilograms(self) -> float:
        """What the water weighs at the high level, the heaviest it gets."""
        return self.high * self.ratio * water_density(self.celsius) / 1000

    @property
    def kilograms_a_m2(self) -> float:
        """What stands on each square metre of floor where the water is deepest."""
        return self.deep * water_density(self.celsius) / 1000


@dataclass(frozen=True, slots=True)
class Rained:
    """What rain does that falls into a bed filled to the working level.

    ``caught`` litres fall in; ``share`` of the mix is rain, had nothing run over. ``over`` litres
    do not fit below the high level.
    """

    caught: float
    share: float
    over: float


def volumes_of(outline: Outline, water: Water) -> Volumes | None:
    """Return how much water a bed holds; None while nobody has measured its depth.

    Walls are taken as straight from the second measuring down to the floor and up to the high
    level, so that each volume is that of a prismatoid: exact by its two ends and its middle.

    Raises:
        OutlineError: The outline cannot be drawn, two sizes are not enough for walls that lean in
            such a bed, or they meet above the floor.
    """
    if water.depth is None:
        return None
    deep, low, high = water.depth.exact, water.low.exact, water.high.exact

    def face(down: Fraction) -> float:
        return _face(outline, water.walls, down)

    def between(upper: Fraction, lower: Fraction) -> float:
        middle = face((upper + lower) / 2)
        mean = (face(upper) + 4 * middle + face(lower)) / 6
        return mean / _MM2_PER_M2 * float(lower - upper)

    working = between(Fraction(0), deep)
    return Volumes(
        area=face(Fraction(0)) / _MM2_PER_M2,
        open_area=face(-high) / _MM2_PER_M2,
        low=working - between(Fraction(0), low) if low else working,
        working=working,
        high=working + between(-high, Fraction(0)) if high else working,
        metered=None if water.metered is None else float(water.metered.litres),
        deep=float(deep + high),
        celsius=float(water.celsius),
    )


def rained(volumes: Volumes, rain: float) -> Rained:
    """Return what so many mm of rain do.

    Raises:
        GeometryError: Less than no rain.
    """
    if rain < 0:
        raise GeometryError(tr("Rain cannot be below zero."))
    caught = rain * volumes.open_area
    share = caught / (volumes.fill + caught) if caught else 0.0
    return Rained(caught, share, max(caught - volumes.headroom, 0.0))


def air_stones(area: float) -> tuple[int, int]:
    """Return the fewest and the most air stones for so many m² of water by ``STONE_M2``."""
    close, wide = STONE_M2
    return ceil(area / wide - 1e-9), ceil(area / close - 1e-9)


def _face(outline: Outline, walls: Walls | None, down: Fraction) -> float:
    """Return the area of the water's face in mm², so far below the working level."""
    if walls is not None:
        length, width = top_sizes(outline)
        share = down / walls.depth.exact
        by = (length - walls.length.exact) * share, (width - walls.width.exact) * share
        outline = narrowed(outline, by)
    return area(outline_loop(outline))
