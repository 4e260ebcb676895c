"""Lengths: stored exactly in millimetres, typed and shown in the grower's units."""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final, Literal

Unit = Literal["mm", "cm", "in"]

TOLERANCE_MM: Final = 1e-6
"""Two lengths closer than this are the same; the one tolerance used everywhere."""

MM_PER: Final[dict[str, Fraction]] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}


@dataclass(frozen=True, slots=True)
class Length:
    """An exact length. ``typed`` is how the grower wrote it, unit included ("47 5/8 in").

    ``typed`` is empty for a plain number of millimetres; it takes no part in comparisons.
    """

    exact: Fraction
    typed: str = field(default="", compare=False)

    @property
    def mm(self) -> float:
        """The length as a float, in millimetres."""
        return float(self.exact)


ZERO: Final = Length(Fraction(0))
