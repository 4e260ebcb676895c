"""What makes rafts larger than they were cut, or holes wider than the saw."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Allowances:
    """How far things come out otherwise than they were planned.

    ``film`` is the paint on each edge. Foam swells by ``swelling`` mm in a metre while it lies in
    water, and grows by ``expansion`` mm in a metre for each of ``warming`` degrees above the day
    it was cut (0.07 in data sheets of boards to EN 13164). A hole comes out ``wobble`` wider
    than its saw, whether it wobbled or the foam melted back.
    """

    film: Length = ZERO
    swelling: Fraction = Fraction(0)
    warming: Fraction = Fraction(0)
    expansion: Fraction = Fraction(7, 100)
    wobble: Length = ZERO
