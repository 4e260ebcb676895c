"""The water of a bed: how deep, how warm, and between which levels it stands."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.model.supplies import Volume
from geometry.units import ZERO, Length

USUAL_CELSIUS: Final = Fraction(20)


@dataclass(frozen=True, slots=True)
class Walls:
    """The inside measured once more, ``depth`` below where the outline was measured.

    ``length`` and ``width`` are measured down there, for a round bed both across it. Between the
    two heights the walls are taken to be straight.
    """

    depth: Length
    length: Length
    width: Length


@dataclass(frozen=True, slots=True)
class Water:
    """What is known of the water of one bed.

    The outline is measured at the working level. Water falls ``low`` below it and rises ``high``
    above it. ``depth`` is from the working level to the floor, None where nobody has measured it.
    ``walls`` None are plumb. ``metered`` is what it took to fill the bed to the working level, by
    a meter or counted in cans.
    """

    depth: Length | None = None
    low: Length = ZERO
    high: Length = ZERO
    celsius: Fraction = USUAL_CELSIUS
    walls: Walls | None = None
    metered: Volume | None = None
