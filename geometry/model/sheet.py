"""Foam as bought, and how it is cut."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.units import ZERO, Length

Aim = Literal["sheets", "cost"]
"""What a cut plan keeps low: the sheets that are bought, or what they cost."""

KEEP_OFFCUT: Final = Length(Fraction(150))
"""A narrower leftover is seldom worth keeping (common practice, no source)."""


HEAVIEST_FOAM: Final = Fraction(2000)
"""A density of foam above this, in kg/m³, is refused: it is twice that of water."""


@dataclass(frozen=True, slots=True)
class Score:
    """Score lines pressed into a sheet: lines ``across`` its length or ``along`` it.

    Lines across lie this far apart along the length, counted from the datum corner; lines along
    lie this far apart across the width. A board breaks along its scores.
    """

    across: Length | None = None
    along: Length | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """A stock board, or an ``offcut`` that is on hand, used first and paid for.

    ``quantity`` None means as many as are needed; of an offcut there is then one. Each side may
    be up to ``tolerance`` shorter than it should be, and is planned for as if it were. ``density``
    is what the dry foam weighs, in kg/m³.
    """

    name: str
    length: Length
    width: Length
    thickness: Length | None = None
    price: Fraction | None = None
    quantity: int | None = None
    tolerance: Length = ZERO
    offcut: bool = False
    score: Score | None = None
    density: Fraction | None = None

    @property
    def on_hand(self) -> int | None:
        """How many there are; None is as many as needed."""
        return 1 if self.offcut and self.quantity is None else self.quantity

    @property
    def least(self) -> tuple[Fraction, Fraction]:
        """Length and width of the smallest board that is sold or found under this name."""
        return self.length.exact - self.tolerance.exact, self.width.exact - self.tolerance.exact


@dataclass(frozen=True, slots=True)
class Cutting:
    """How sheets are cut.

    ``trim`` is the strip cut off every edge first, measured on the smallest sheet: what is left of
    a side is its length less the tolerance less two trims. ``turn`` lets rafts lie across the
    sheet. With ``aim`` "cost" the sheets cost as little as can be, as long as each has a price;
    otherwise, or with one kind of sheet, as few are bought as can be. A leftover counts as a new
    offcut when both its sides reach ``keep_offcut``. ``saw_depth`` is how deep the hole saw cuts
    from one face, None where nobody has measured it.
    """

    kerf: Length = ZERO
    trim: Length = ZERO
    turn: bool = True
    aim: Aim = "cost"
    keep_offcut: Length = KEEP_OFFCUT
    saw_depth: Length | None = None
