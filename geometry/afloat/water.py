"""How heavy water is and how much oxygen it holds, by its temperature."""

from math import exp
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import number, tr

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
