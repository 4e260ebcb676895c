"""How a planted raft rides: from the day it is planted to the harvest, and with old foam.

Masses in kg, lengths in mm, densities in kg/m³.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.afloat.corners import plane_of
from geometry.afloat.floating import Floating, Foam, Tilt, float_of, most_load, tilt_of, waterlogged
from geometry.afloat.pots import immersion
from geometry.afloat.water import water_density
from geometry.holes.sites import Holes
from geometry.model.curves import Loop
from geometry.model.measure import area

USUAL_FOAM: Final = 32.0
"""The density of a board that nobody has weighed (common practice, no source)."""

USUAL_HEAD: Final = 0.2
"""A head at harvest whose weight nobody has noted (common practice, no source)."""

USUAL_POT: Final = 0.12
"""A wet pot with its plug that nobody has weighed (common practice, no source)."""

HEADS_ABOVE: Final = 80.0
"""So far above the foam is the middle of what stands on it (common practice, no source)."""

Case = Literal["planting", "harvest", "waterlogged"]
"""The day of planting; the day of the harvest; that day on foam that has soaked for years."""

Lift = Literal["one", "two", "more"]
"""Who lifts it: one person, two, or it wants more hands or smaller rafts."""

Assumption = Literal["foam", "head", "pot"]
"""A mass that stands in for one that nobody has noted."""


@dataclass(frozen=True, slots=True)
class Planted:
    """What stands in the holes of one planting.

    ``pot`` and ``head`` are what a pot with its plug and what a plant weighs, None where nobody
    has noted it. ``hangs`` is how far the foot of the pot is below the upper face of the foam, None
    without a pot that holds; ``stands`` is how far its top is above that face.
    """

    pot: float | None = None
    head: float | None = None
    hangs: float | None = None
    stands: float = 0.0

    def mass(self, case: Case) -> float:
        """Return the mass of one site."""
        pot = USUAL_POT if self.pot is None else self.pot
        if case == "planting":
            return pot
        return pot + (USUAL_HEAD if self.head is None else self.head)

    def is_noted(self, case: Case) -> bool:
        """Whether the heavier part of that mass was noted by the grower."""
        return (self.pot if case == "planting" else self.head) is not None


@dataclass(frozen=True, slots=True)
class Riding:
    """A raft at rest in one case. ``load`` is what stands on it, ``lift`` all that is lifted."""

    case: Case
    load: float
    lift: float
    floating: Floating


@dataclass(frozen=True, slots=True)
class Afloat:
    """All that is known of one raft design in the water.

    ``foam`` is dry, its holes taken out; ``water`` is how heavy the water is. ``sites`` counts the
    plants of each of ``planted``. ``along`` and ``across`` are how the raft lies at the harvest
    with one half of it picked, the worse half. ``most`` is the load that brings the top face to the
    water, ``hole_share`` the share of the area that the holes take. ``assumed`` names the masses
    that nobody has noted.
    """

    foam: Foam
    water: float
    planted: tuple[Planted, ...]
    sites: tuple[int, ...]
    planting: Riding
    harvest: Riding
    waterlogged: Riding
    along: Tilt
    across: Tilt
    most: float
    hole_share: float
    assumed: tuple[Assumption, ...]

    @property
    def ridings(self) -> tuple[Riding, Riding, Riding]:
        """The three cases."""
        return self.planting, self.harvest, self.waterlogged

    @property
    def tilt(self) -> Tilt:
        """The worse of the two tilts."""
        return min(self.along, self.across, key=lambda tilt: (tilt.steady, tilt.low))

    def immersion(self, riding: Riding, planting: int) -> float | None:
        """Return how far the pots of a planting are under water; None without a pot or a site."""
        hangs = self.planted[planting].hangs
        if hangs is None or not self.sites[planting]:
            return None
        return immersion(hangs, riding.floating.freeboard)

    @property
    def least_immersion(self) -> float | None:
        """How far the driest pots are under water on the day of planting."""
        found = (self.immersion(self.planting, number) for number in range(len(self.planted)))
        return min((each for each in found if each is not None), default=None)

    def is_noted(self, case: Case) -> bool:
        """Whether what weighs on the raft in that case was noted for all that stands on it."""
        stands = [one for one, count in zip(self.planted, self.sites, strict=True) if count]
        return bool(stands) and all(one.is_noted(case) for one in stands)


def ride(
    outline: Loop,
    holes: Holes,
    planted: Sequence[Planted],
    *,
    thickness: float,
    density: float | None,
    celsius: float,
    soaked: float,
    wobble: float = 0.0,
) -> Afloat | None:
    """Work out how a raft of this outline and these holes rides; None where no foam is left.

    ``soaked`` is what old foam weighs in kg/m³, ``wobble`` what holes come out wider than planned.
    Plugged holes carry nothing. All that stands on a raft weighs on it: roots carry themselves.
    """
    whole = area(outline)
    drilled = float(((holes.diameters + wobble) ** 2).sum()) * pi / 4
    if not drilled < whole:
        return None
    water = water_density(celsius)
    foam = Foam(whole - drilled, thickness, USUAL_FOAM if density is None else density)
    old = waterlogged(foam, soaked, water)
    in_use = np.ones(len(holes), np.bool_) if holes.plugged is None else ~holes.plugged
    numbers, xy = holes.numbers[in_use], holes.xy[in_use]
    counts = np.bincount(numbers, minlength=len(planted))
    per_site = {
        case: np.array([one.mass(case) for one in planted]) for case in ("planting", "harvest")
    }
    loads = {case: float(counts @ masses) for case, masses in per_site.items()}
    grown = loads["harvest"]
    along, across = _half_picked(
        outline, foam, xy, per_site["harvest"][numbers] if len(numbers) else np.empty(0), water
    )
    return Afloat(
        foam=foam,
        water=water,
        planted=tuple(planted),
        sites=tuple(counts.tolist()),
        planting=_riding("planting", foam, loads["planting"], water),
        harvest=_riding("harvest", foam, grown, water),
        waterlogged=_riding("waterlogged", old, grown, water),
        along=along,
        across=across,
        most=most_load(foam, water),
        hole_share=drilled / whole,
        assumed=tuple(_assumed(density, planted, counts.tolist())),
    )


def lift_of(kg: float, one: float, two: float) -> Lift:
    """Return who lifts so much, where one person lifts ``one`` kg and two people ``two``."""
    if kg <= one:
        return "one"
    return "two" if kg <= two else "more"


def _riding(case: Case, foam: Foam, load: float, water: float) -> Riding:
    return Riding(case, load, foam.mass(water) + load, float_of(foam, load, water))


def _half_picked(
    outline: Loop, foam: Foam, xy: NDArray[np.float64], masses: NDArray[np.float64], water: float
) -> tuple[Tilt, Tilt]:
    """Pick all on one side of the middle, along and across; what is on the middle line stays."""
    plane = plane_of(outline)
    tilts = []
    for axis in (0, 1):
        aside = xy[:, axis] - plane.centre[axis]
        worst: Tilt | None = None
        for side in (-1, 1):
            left = masses * (side * aside >= -_ON_THE_LINE)
            load = float(left.sum())
            offset = float((left * aside).sum()) / load if load else 0.0
            reach = plane.reach[axis][1]
            tilt = tilt_of(
                foam, plane.stiff[axis], load, offset, water, height=HEADS_ABOVE, reach=reach
            )
            if worst is None or (tilt.steady, tilt.low) < (worst.steady, worst.low):
                worst = tilt
        tilts.append(worst or Tilt(0.0, 0.0, 0.0))
    return tilts[0], tilts[1]


_ON_THE_LINE: Final = 1e-6


def _assumed(
    density: float | None, planted: Sequence[Planted], counts: Sequence[int]
) -> list[Assumption]:
    stands = [one for one, count in zip(planted, counts, strict=True) if count]
    found: list[Assumption] = ["foam"] if density is None else []
    if any(one.head is None for one in stands):
        found.append("head")
    if any(one.pot is None for one in stands):
        found.append("pot")
    return found
