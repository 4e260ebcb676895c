"""How deep a raft floats, how level, and how heavy it is: Archimedes, nothing else.

Masses in kg, lengths in mm, areas in mm², densities in kg/m³.
"""

from dataclasses import dataclass, replace
from math import atan, degrees
from typing import Final

_MM3_PER_M3: Final = 1e9


@dataclass(frozen=True, slots=True)
class Foam:
    """The board of one raft as it lies in the water.

    ``area`` is that of the raft with its holes taken out, for water stands in them. ``soaked`` is
    the share of the foam's volume that has filled with water over the months.
    """

    area: float
    thickness: float
    density: float
    soaked: float = 0.0

    @property
    def volume(self) -> float:
        """The foam in m³."""
        return self.area * self.thickness / _MM3_PER_M3

    def mass(self, water: float) -> float:
        """Its mass with the water that has soaked into it, in kg."""
        return self.volume * (self.density + self.soaked * water)


@dataclass(frozen=True, slots=True)
class Floating:
    """A raft at rest: so much of its foam is under water, the ``draft``, the ``freeboard`` above.

    One that sinks has a negative freeboard: so much more foam it would need.
    """

    draft: float
    freeboard: float

    @property
    def sinks(self) -> bool:
        """Whether the top face is awash."""
        return self.freeboard < 0


def float_of(foam: Foam, load: float, water: float) -> Floating:
    """Return how a raft floats level with ``load`` kg on it in water of this density.

    Roots and the part of the plugs that hangs in the water carry themselves: the load is what is
    above the water.
    """
    draft = (foam.mass(water) + load) / water / foam.area * _MM3_PER_M3
    return Floating(draft, foam.thickness - draft)


def most_load(foam: Foam, water: float) -> float:
    """Return the load in kg that brings the top face to the water."""
    return foam.volume * water - foam.mass(water)


@dataclass(frozen=True, slots=True)
class Tilt:
    """A raft that is loaded on one side. ``low`` and ``high`` are the freeboards of its two ends.

    ``slope`` is in mm per m. One that is not ``steady`` tips over.
    """

    slope: float
    low: float
    high: float
    steady: bool = True

    @property
    def angle(self) -> float:
        """The slope in degrees."""
        return degrees(atan(self.slope / 1000))

    @property
    def is_wet(self) -> bool:
        """Whether the lower end of the top face is under water."""
        return self.low < 0


def tilt_of(
    foam: Foam,
    length: float,
    load: float,
    offset: float,
    water: float,
    *,
    height: float = 0.0,
    reach: float | None = None,
) -> Tilt:
    """Return how a raft lies whose ``load`` kg has its middle ``offset`` mm off that of the raft.

    ``length`` runs the way it tilts, ``height`` is how far the middle of the load is above the top
    face, ``reach`` how far the ends are from the middle, half the length where it is not given.
    The second moment of a rectangle is taken, the metacentre of small angles: exact until an
    end dips under or lifts out, which ``is_wet`` and a ``high`` above the thickness tell of.
    """
    level = float_of(foam, load, water)
    mass = foam.mass(water) + load
    centre = (foam.mass(water) * foam.thickness / 2 + load * (foam.thickness + height)) / mass
    # Buoyancy is at half the draft; the waterline's own stiffness is I / V = L² / 12 d.
    stiffness = level.draft / 2 + length**2 / (12 * level.draft) - centre
    if stiffness <= 0:
        return Tilt(0.0, level.freeboard, level.freeboard, steady=False)
    slope = load * offset / (mass * stiffness)
    rise = abs(slope) * (length / 2 if reach is None else reach)
    return Tilt(1000 * slope, level.freeboard - rise, level.freeboard + rise)


def half_picked(foam: Foam, length: float, load: float, water: float, height: float = 0.0) -> Tilt:
    """Return how a raft lies with one half of its evenly spread ``load`` picked."""
    return tilt_of(foam, length, load / 2, length / 4, water, height=height)


def waterlogged(foam: Foam, density: float, water: float) -> Foam:
    """Return the foam soaked until it weighs ``density`` as it lies in the water."""
    return replace(foam, soaked=max(0.0, density - foam.density) / water)
