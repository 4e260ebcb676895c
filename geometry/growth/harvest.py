"""How much a plant weighs when it stands closer: the reciprocal law, fitted to what was weighed.

Shinozaki and Kira (1956), Journal of the Institute of Polytechnics, Osaka City University D 7:
35-72: the inverse of the mean mass of a plant rises in a straight line with the plants per area,
1/w = a + b·density. Published trials and the grower's own batches are fitted each by itself:
other kinds, seasons and lights have other lines. What comes out describes what was weighed; it is
not a promise.

Masses in grams (fresh), densities in plants per square metre.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

import numpy as np

from geometry.model.log import Log
from geometry.model.run import Run
from geometry.tongue import mark

NoLaw = Literal["one density", "no smaller where closer", "no end"]
"""Why no line can be drawn: all points have one density; plants are no smaller where they stand
closer (b ≤ 0); the line says that single plants grow without end (a ≤ 0)."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """The mean mass of a plant at a density.

    ``words`` (marked) say what the mass was worked out from, ``day`` when it was picked. Where only
    a range was told, it runs from ``grams`` to ``most``; no law is fitted to that.
    """

    density: float
    grams: float
    words: str = ""
    most: float | None = None
    day: date | None = None

    @property
    def kg_a_m2(self) -> float:
        """What all plants of a square metre weigh together."""
        return self.density * self.grams / 1000


@dataclass(frozen=True, slots=True)
class Law:
    """1/w = a + b·density, from ``low`` to ``high`` plants per m²: where plants were weighed.

    ``off`` is by how much, as a share, the mass on the line misses a point at most.
    """

    a: float
    b: float
    low: float
    high: float
    off: float

    def holds_at(self, density: float) -> bool:
        """Tell whether plants were weighed at no less and at no more than this density."""
        return self.low - _NEAR <= density <= self.high + _NEAR

    def grams_at(self, density: float) -> float:
        """Return the mass of one plant in grams, wherever the line still says one."""
        return 1 / (self.a + self.b * density)

    def kg_at(self, density: float) -> float:
        """Return the mass of all plants of a square metre in kg."""
        return density * self.grams_at(density) / 1000


@dataclass(frozen=True, slots=True)
class Trial:
    """Plants of one trial, weighed at several densities. ``crops`` are the crops it speaks for.

    ``where`` (marked) says how they were grown.
    """

    crops: tuple[str, ...]
    where: str
    points: tuple[Weighed, ...]
    source: str


TRIALS: Final = (
    Trial(
        ("lettuce, head", "lettuce, head, 8 in", "lettuce, head, 12 in"),
        mark("floating, Croatia, July to September"),
        (
            Weighed(13, 321, mark("4.17 kg/m² to be sold")),
            Weighed(17, 276, mark("4.07 kg/m² to be sold")),
        ),
        "Toth and others 2016: Acta Horticulturae 1142, paper 16 (abstract)",
    ),
    Trial(
        ("lettuce, head", "lettuce, head, 8 in", "lettuce, head, 12 in"),
        mark("in substrate, not afloat, autumn"),
        (Weighed(16, 640),),
        "Effects of different growth media and planting densities on lettuce in a closed soilless "
        "system, autumn 2012-13 (abstract)",
    ),
    Trial(
        ("lettuce, small head",),
        mark("floating, three kinds, 4 to 6 weeks"),
        (Weighed(43, 150, most=250),),
        "Hernandez, Giacomelli, Lewis, An 2017: Acta Horticulturae 1170: 619-626 (abstract)",
    ),
    Trial(
        ("pak choi", "pak choi, small"),
        mark("on a raft, day 37"),
        (Weighed(63, 82.1),),
        "Gobilik and others 2021: Transactions on Science and Technology 8(1): 1-7 (abstract)",
    ),
    Trial(
        ("okra",),
        mark("on rafts, a whole season"),
        (Weighed(4, 760, mark("3.04 kg/m² by 4 plants, the best")),),
        "Rakocy, Bailey, Shultz, Thoman: University of the Virgin Islands, about 2004 (abstract)",
    ),
)
"""Trials that print a mass and a density together. Those that print only how much more or less
came out, or a mass without its density, are left out."""

_NEAR: Final = 1e-9
_ALIKE: Final = 1e-6


def trials_of(crop: str) -> tuple[Trial, ...]:
    """Return the published trials that speak for a crop; capitals do not matter."""
    wanted = crop.strip().casefold()
    return tuple(trial for trial in TRIALS if wanted in trial.crops)


def own_points(log: Log, runs: Sequence[Run], crop: str) -> tuple[Weighed, ...]:
    """Return what the grower has weighed of a crop, as far as plants and density are noted too.

    A batch belongs to the crop of its run. The day is that of its harvest, or of its sowing where
    that was not noted.
    """
    wanted = crop.strip().casefold()
    named = {run.name for run in runs if run.crop.strip().casefold() == wanted}
    return tuple(
        Weighed(
            float(batch.per_m2),
            float(batch.grams) / batch.picked,
            day=batch.picked_on or batch.sown,
        )
        for batch in log.batches
        if batch.run in named and batch.grams and batch.picked and batch.per_m2
    )


def law_through(points: Sequence[Weighed]) -> Law | NoLaw:
    """Fit the law to points by least squares of 1/w, each point of the same weight.

    Through points of two densities that is the line through the mean of 1/w at each.
    """
    points = [point for point in points if point.most is None]
    density = np.array([point.density for point in points], dtype=np.float64)
    grams = np.array([point.grams for point in points], dtype=np.float64)
    if len(points) < 2 or np.ptp(density) <= _ALIKE * density.max():
        return "one density"
    inverse = 1 / grams
    from_mean = density - density.mean()
    b = float(from_mean @ (inverse - inverse.mean()) / (from_mean @ from_mean))
    a = float(inverse.mean() - b * density.mean())
    if b <= 0:
        return "no smaller where closer"
    if a <= 0:
        return "no end"
    off = float(np.abs(1 / (a + b * density) / grams - 1).max())
    return Law(a, b, float(density.min()), float(density.max()), off)
