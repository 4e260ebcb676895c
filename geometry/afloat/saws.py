"""Which hole saw suits a pot: the grower's own, or one of those that are sold."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.afloat.pots import Pot, Seated, saw_for, seat_of
from geometry.units import MM_PER, TOLERANCE_MM, Length, Unit, exact_text

_INCHES: Final = (
    "9/16 5/8 3/4 7/8 1 1+1/8 1+1/4 1+3/8 1+1/2 1+5/8 1+3/4 1+7/8 2 2+1/8 2+1/4 2+3/8 2+1/2 2+5/8 "
    "2+3/4 2+7/8 3 3+1/4 3+1/2 3+3/4 4"
)

USUAL_SAWS: Final = tuple(
    Length(sum((Fraction(part) for part in size.split("+")), Fraction(0)) * MM_PER["in"])
    for size in _INCHES.split()
)
"""The sizes that hole saws are sold in; those labelled in millimetres are the same saws, rounded.

From memory; ASME B94.54 and BS 8416 have such tables.
"""


@dataclass(frozen=True, slots=True)
class SawFit:
    """What a saw does for a pot: ``hole`` is as wide as it comes out, in mm."""

    saw: Length
    hole: float
    seated: Seated
    is_own: bool


def fit_of(pot: Pot, saw: Length, wobble: float, *, is_own: bool) -> SawFit:
    """Return how a pot sits after this saw, whose holes come out ``wobble`` mm wider."""
    hole = saw.mm + wobble
    return SawFit(saw, hole, seat_of(pot, hole), is_own)


def best_saw(pot: Pot, own: Iterable[Length], wobble: float = 0.0) -> SawFit | None:
    """Return the saw to take: the best of the grower's own, or where none suits, of the usual ones.

    None where no saw there is suits the pot.
    """
    for saws, is_own in ((tuple(own), True), (USUAL_SAWS, False)):
        by_size = {saw.mm: saw for saw in saws}
        found = saw_for(pot, by_size, wobble)
        if found is not None:
            return fit_of(pot, by_size[found], wobble, is_own=is_own)
    return None


def neighbours(saw: Length, own: Sequence[Length]) -> tuple[Length | None, Length, Length | None]:
    """Return the next smaller size, the saw itself, and the next larger, owned or usual.

    None where there is no smaller or no larger one. Sizes within half a millimetre count as the
    same, since a saw labelled in millimetres is one in inches, rounded; the owned one is taken.
    """
    sizes = [*own, *(size for size in USUAL_SAWS if not _has_like(size, own))]
    smaller = [size for size in sizes if size.mm < saw.mm - _SAME_MM - TOLERANCE_MM]
    larger = [size for size in sizes if size.mm > saw.mm + _SAME_MM + TOLERANCE_MM]
    return (
        max(smaller, key=lambda size: size.exact, default=None),
        saw,
        min(larger, key=lambda size: size.exact, default=None),
    )


_SAME_MM: Final = 0.5


def _has_like(size: Length, sizes: Iterable[Length]) -> bool:
    return any(abs(size.mm - other.mm) <= _SAME_MM for other in sizes)


def saw_text(saw: Length, unit: Unit) -> str:
    """Write the size of a saw, in a metric project with the inches that it is sold by."""
    text, sixteenths = exact_text(saw, unit), saw.exact / MM_PER["in"] * 16
    if unit == "in" or sixteenths.denominator != 1:
        return text
    return f"{text} ({exact_text(Length(saw.exact), 'in')})"
