"""How heavy water is and how much oxygen it holds, by its temperature."""

import re
from fractions import Fraction
from math import exp
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import number, tr
from geometry.units import MOST_DIGITS, Unit

WARMEST_C: Final = 45.0
"""No bed is kept warmer; the formula holds farther."""

_ABOVE: Final = (999.83952, 16.945176, -7.9870401e-3, -46.170461e-6, 105.56302e-9, -280.54253e-12)
_BELOW: Final = 16.879850e-3


def water_density(celsius: float) -> float:
    """Return the density of fresh water at air pressure in kg/m³.

    Kell, G. S.: Density, thermal expansivity and compressibility of liquid water, Journal of
    Chemical and Engineering Data 20 (1975) 97-105; coefficients from memory, checked against
    published values in the tests. Nutrient solution is up to 3 kg/m³ heavier, and rafts float a
    little higher for it.

    Raises:
        GeometryError: The water would be ice, or warmer than any bed.
    """
    if not 0 <= celsius <= WARMEST_C:
        raise GeometryError(
            tr(
                "Water in a bed has 0 to {most} °C; correct the temperature.",
                most=number(WARMEST_C),
            )
        )
    above = sum(share * celsius**power for power, share in enumerate(_ABOVE))
    return above / (1 + _BELOW * celsius)


_OXYGEN: Final = (-139.34410, 1.575701e5, -6.642308e7, 1.243800e10, -8.621949e11)
_KELVIN: Final = 273.15


def oxygen_saturation(celsius: float) -> float:
    """Return how much oxygen fresh water holds at most, in mg/L, at sea level (1 atm).

    The formula of APHA, Standard Methods for the Examination of Water and Wastewater (1985), as
    printed in the SWAT+ documentation. Tables differ by up to 0.12 mg/L; water with nutrients, or
    high above the sea, holds less.

    Raises:
        GeometryError: The water would be ice, or warmer than any bed.
    """
    water_density(celsius)  # refuses what is no water of a bed
    kelvin = celsius + _KELVIN
    return exp(sum(share / kelvin**power for power, share in enumerate(_OXYGEN)))


_WARMTH: Final = re.compile(
    r"(?P<number>[0-9]+(?:[.,][0-9]+)?)\s*°?\s*(?P<scale>[cf]?)", re.IGNORECASE
)
_FREEZES_F: Final = 32


def parse_warmth(text: str, unit: Unit) -> Fraction:
    """Read "20 °C" or "68 F" as degrees Celsius, to a hundredth.

    A bare number is in degrees Celsius, or Fahrenheit where lengths are in inches.

    Raises:
        GeometryError: The text is neither, or no water of a bed is so cold or so warm.
    """
    found = _WARMTH.fullmatch(text.strip())
    if not found or len(found["number"]) > MOST_DIGITS:
        raise GeometryError(tr("Write a temperature such as 20 °C, or 68 °F."))
    value = Fraction(found["number"].replace(",", "."))
    scale = found["scale"].lower() or ("f" if unit == "in" else "c")
    celsius = (value - _FREEZES_F) * 5 / 9 if scale == "f" else value
    celsius = round(celsius, 2)
    water_density(float(celsius))  # refuses what is no water of a bed
    return celsius


def warmth_text(celsius: Fraction | float, unit: Unit) -> str:
    """Write a temperature in degrees Celsius, or Fahrenheit where lengths are in inches."""
    if unit == "in":
        fahrenheit = float(celsius) * 9 / 5 + _FREEZES_F
        return tr("{degrees} °F", degrees=number(round(fahrenheit, 1)))
    return tr("{degrees} °C", degrees=number(round(float(celsius), 2)))
