"""Does the metered fill of a bed go with its size and depth? If not, one of them is a slip."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from geometry.afloat.volumes import Volumes
from geometry.checks.finding import Finding, TakeFill
from geometry.model.bed import Bed
from geometry.model.supplies import LITRES_PER_GALLON
from geometry.units import finite_decimal

_LEAST: Final = 0.5
_MOST: Final = 1.1
"""A bed takes no more than its size says but for what its walls give way. Growers recorded 78 and
80 % (Proceedings of the Florida State Horticultural Society, about 2008); half of it is common
practice, no source."""

_LIKELY: Final = (0.7, 1.05)
"""So near to its size a fill is taken for what was meant in another unit."""


def check_fill(bed: Bed, volumes: Volumes) -> Iterator[Finding]:
    """Ask about a metered fill far from the volume by geometry."""
    metered = bed.water.metered
    if metered is None or _LEAST <= volumes.ratio <= _MOST:
        return
    meant = _other_unit(metered.litres, volumes)
    yield Finding(
        "metered-fill",
        "question",
        bed.name,
        subject="water.metered",
        figures=(float(metered.litres), volumes.working),
        cure=TakeFill(meant) if meant else None,
    )


def _other_unit(litres: Fraction, volumes: Volumes) -> str:
    """Return the fill as it was typed with the other unit, where that would do."""
    gallons = litres / LITRES_PER_GALLON
    for number, unit, meant in (
        (litres, "gal", litres * LITRES_PER_GALLON),
        (gallons, "L", gallons),
    ):
        least, most = _LIKELY
        decimal = finite_decimal(number)
        if decimal and least <= float(meant) / volumes.working <= most:
            return f"{decimal} {unit}"
    return ""
