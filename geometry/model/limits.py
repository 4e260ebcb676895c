"""How far a grower goes: limits that are practice and not law, each to be set otherwise."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.units import Length

USUAL_WET: Final = Length(Fraction(3))
USUAL_FREEBOARD: Final = Length(Fraction(10))


@dataclass(frozen=True, slots=True)
class Limits:
    """What rafts are judged by. None of it changes the plan.

    ``lift_one`` and ``lift_two`` are what one person and two people lift, in kg. The first is the
    recommended limit of the revised NIOSH lifting equation (1994) at its best posture; the second
    is two thirds of two such loads (HSE guidance on manual handling, from memory). Water
    must wet at least the lowest ``wet`` of a pot at every level. A raft shows at least
    ``freeboard`` of foam above the water. Of the straight line through the most holes at least
    ``sound`` of the width is left as foam. These three are common practice, no source. ``soaked``
    is what foam weighs in kg/m³ after years in the water: the design density for wet expanded
    polystyrene of the Syracuse University Geofoam Research Center. ``gap`` is the widest opening
    that may come about beside a raft, ``open_water`` the largest share of the water that light may
    reach; None asks for nothing.
    """

    lift_one: Fraction = Fraction(23)
    lift_two: Fraction = Fraction(30)
    wet: Length = USUAL_WET
    freeboard: Length = USUAL_FREEBOARD
    sound: Fraction = Fraction(1, 2)
    soaked: Fraction = Fraction(100)
    gap: Length | None = None
    open_water: Fraction | None = None
