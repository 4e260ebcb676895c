"""Figures as a tape shows them: each rounded from its exact value, so no error adds up."""

from fractions import Fraction
from functools import lru_cache
from math import floor
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.model.supplies import LITRES_PER_GALLON
from geometry.rafts.layout import RaftShape
from geometry.tongue import listed, mark, number, plural, signed, tr
from geometry.units import MM_PER, Unit

UNIT_WORDS: dict[Unit, str] = {
    "mm": mark("millimetres"),
    "cm": mark("centimetres"),
    "in": mark("inches"),
}
"""The units written out, to be translated."""

KG_PER_POUND: Final = 0.45359237
"""The avoirdupois pound, exact by the international agreement of 1959."""

_HALF = Fraction(1, 2)
_WHOLE_LITRES: Final = 100


def figure(mm: float | Fraction, unit: Unit) -> str:
    """Write a length for the workshop, without its unit.

    Millimetres to one decimal, centimetres to two, inches to the nearest sixteenth; half a step
    is rounded away from zero.
    """
    return signed(_plain(mm, unit))


@lru_cache(maxsize=8192)
def _plain(mm: float | Fraction, unit: Unit) -> str:
    """Write a figure with a decimal point, whatever the tongue."""
    exact = Fraction(mm)
    sign = "-" if exact < 0 else ""
    step = MM_PER["in"] / 16 if unit == "in" else Fraction(1, 10)
    steps = floor(abs(exact) / step + _HALF)
    if not steps:
        return "0"
    if unit == "in":
        return sign + _sixteenths(steps)
    whole, rest = divmod(steps, 10 if unit == "mm" else 100)
    if not rest:
        return f"{sign}{whole}"
    return sign + (f"{whole}.{rest}" if unit == "mm" else f"{whole}.{rest:02d}".rstrip("0"))


def length_text(mm: float | Fraction, unit: Unit) -> str:
    """Write a length for the workshop with its unit."""
    return f"{figure(mm, unit)} {unit}"


def weight_text(kg: float, unit: Unit) -> str:
    """Write a weight: kilograms to a tenth, pounds where lengths are in inches."""
    return (
        tr("{pounds} lb", pounds=number(kg / KG_PER_POUND, 1))
        if unit == "in"
        else tr("{kilograms} kg", kilograms=number(kg, 1))
    )


def litres_text(litres: float, unit: Unit) -> str:
    """Write an amount of water: whole litres from 100 on, US gallons where lengths are inches."""
    if unit == "in":
        gallons = litres / float(LITRES_PER_GALLON)
        return tr("{gallons} US gal", gallons=number(gallons, 1))
    if litres >= _WHOLE_LITRES:
        return tr("{litres} L", litres=number(litres, 0))
    return tr("{litres} L", litres=number(round(litres, 1)))


def load_text(kg_a_m2: float, unit: Unit) -> str:
    """Write a load on a floor per area."""
    if unit == "in":
        pounds = kg_a_m2 / KG_PER_POUND * float(MM_PER["ft"]) ** 2 / 1e6
        return tr("{pounds} lb/ft²", pounds=number(pounds, 1))
    return tr("{kilograms} kg/m²", kilograms=number(kg_a_m2, 0))


def slope_text(slope: float, unit: Unit) -> str:
    """Write a slope, given in mm in a metre: by the metre, or by the foot."""
    if unit == "in":
        return f"{length_text(slope / 1000 * float(MM_PER['ft']), 'in')}/ft"
    return f"{length_text(slope, 'mm')}/m"


def share_text(share: float) -> str:
    """Write a share in whole percent, never rounded up."""
    return signed(f"{floor(share * 100 + 1e-6)} %")


def diameter_text(mm: float, unit: Unit) -> str:
    """Write the diameter of a hole; in inches with the millimetres that the saw may carry."""
    plain = signed(f"{mm:.2f}".rstrip("0").rstrip("."))
    return f"{length_text(mm, unit)} ({plain} mm)" if unit == "in" else length_text(mm, unit)


def holes_text(diameters: NDArray[np.float64], unit: Unit) -> str:
    """Write how many holes of which diameters: "9 holes of 50 mm"."""
    found, counts = np.unique(diameters, return_counts=True)
    if not len(found):
        return tr("no holes")
    return listed(
        tr(
            "{holes} of {diameter}",
            holes=plural(count, "hole"),
            diameter=diameter_text(diameter, unit),
        )
        for diameter, count in zip(found.tolist(), counts.tolist(), strict=True)
    )


def size_text(shape: RaftShape, unit: Unit) -> str:
    """Write the size of a raft's box: length, then width."""
    return f"{by_text(shape.length, shape.width, unit)} {unit}"


def plain_size(shape: RaftShape, unit: Unit) -> str:
    """Write the size of a raft's box for a file that machines read, with decimal points."""
    length, width = _plain(shape.length, unit), _plain(shape.width, unit)
    return f"{length} \N{MULTIPLICATION SIGN} {width} {unit}"


def by_text(length: float | Fraction, width: float | Fraction, unit: Unit) -> str:
    """Write length by width, without the unit."""
    return f"{figure(length, unit)} \N{MULTIPLICATION SIGN} {figure(width, unit)}"


def _sixteenths(steps: int) -> str:
    whole, rest = divmod(steps, 16)
    if not rest:
        return f"{whole}"
    part = Fraction(rest, 16)
    return f"{whole} {part}" if whole else f"{part}"
