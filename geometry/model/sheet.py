"""Foam as bought, and how it is cut."""

from dataclasses import dataclass
from fractions import Fraction

from geometry.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Sheet:
    """A stock board. ``quantity`` None means as many as are needed."""

    name: str
    length: Length
    width: Length
    thickness: Length | None = None
    price: Fraction | None = None
    quantity: int | None = None


@dataclass(frozen=True, slots=True)
class Cutting:
    """Blade width, strip trimmed off every sheet edge first, and whether rafts may be turned."""

    kerf: Length = ZERO
    trim: Length = ZERO
    turn: bool = True
