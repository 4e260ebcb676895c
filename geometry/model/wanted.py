"""How many plants are wanted: a number, or plants per area."""

import re
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import Final, Literal

from geometry.errors import WantedError
from geometry.tongue import number, signed, tr
from geometry.units import MM_PER, MOST_DIGITS, Unit, finite_decimal

MOST_WANTED: Final = 2_000_000
"""More plants than this are refused."""
HIGHEST_PER_M2: Final = 1_000_000
"""A density above one plant a square millimetre is refused."""

AreaUnit = Literal["m2", "ft2"]

_M2_PER: Final[dict[str, Fraction]] = {"m2": Fraction(1), "ft2": (MM_PER["ft"] / 1000) ** 2}
_ROUNDING: Final = Fraction(1, 10**9)


@dataclass(frozen=True, slots=True)
class Density:
    """Plants per square metre, exact. ``typed`` is how the grower wrote it ("2.2/ft2").

    ``typed`` is empty for a plain number per square metre; it takes no part in comparisons.
    """

    per_m2: Fraction
    typed: str = field(default="", compare=False)


Wanted = int | Density
"""At least so many plants in a bed, or at least so many per area of its water."""

_WANTED = re.compile(
    r"""(?P<number>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)\s*(?:plants?|holes?|sites?|plantas?|agujeros?|sitios?)?\s*
        (?P<per>(?:/|per|por)\s*(?P<area>[a-z²^2 .]+))?""",
    re.VERBOSE | re.IGNORECASE,
)
_AREAS: Final[dict[str, AreaUnit]] = {
    **dict.fromkeys(("m2", "m²", "m^2", "sqm", "squaremetre", "squaremeter"), "m2"),
    **dict.fromkeys(("ft2", "ft²", "ft^2", "sqft", "squarefoot", "squarefeet"), "ft2"),
}


def parse_wanted(text: str) -> Wanted:
    """Read "40", "40 plants", "24/m2", "24 per m²", "2.2/ft2" or "2.2 per sq ft".

    Raises:
        WantedError: the text is neither; says what to write.
    """
    short = text.strip()
    shown = f"“{short if len(short) <= 40 else short[:39] + '…'}”"
    found = _WANTED.fullmatch(short)
    if not found or len(found["number"]) > MOST_DIGITS:
        raise WantedError(
            tr("{shown} is no number of plants; write 40, or 24/m2, or 2.2/ft2.", shown=shown)
        )
    amount = Fraction(found["number"].replace(",", "."))
    if found["per"] is None:
        if amount.denominator != 1 or not 1 <= amount <= MOST_WANTED:
            raise WantedError(
                tr(
                    "{shown}: plants are a whole number from 1 to {most_wanted}; write "
                    "40, or a density such as 24/m2.",
                    shown=shown,
                    most_wanted=number(MOST_WANTED, 0),
                )
            )
        return int(amount)
    area = _AREAS.get(re.sub(r"[ .]", "", found["area"].lower()))
    if area is None:
        raise WantedError(tr("{shown}: the area is no unit here; write /m2 or /ft2.", shown=shown))
    return density(amount / _M2_PER[area], short, shown)


def density(per_m2: Fraction, typed: str = "", shown: str = "") -> Density:
    """Make a density within its bounds.

    Raises:
        WantedError: it is 0 or beyond one plant a square millimetre.
    """
    if not 0 < per_m2 <= HIGHEST_PER_M2:
        raise WantedError(
            tr(
                "{value}: a density is above 0 and at most {highest_per_m2} per m²; write 24/m2.",
                value=shown or signed(finite_decimal(per_m2) or str(float(per_m2))),
                highest_per_m2=number(HIGHEST_PER_M2, 0),
            )
        )
    return Density(per_m2, typed)


def plants_wanted(wanted: Wanted, area_mm2: float) -> int:
    """Return the least number of plants that is meant, for so much water; at least one."""
    if isinstance(wanted, int):
        return wanted
    plants = wanted.per_m2 * Fraction(area_mm2) / 10**6
    return max(1, ceil(plants * (1 - _ROUNDING)))


def wanted_text(wanted: Wanted, unit: Unit) -> str:
    """Write what is wanted so that reading it back gives the same."""
    if isinstance(wanted, int):
        return str(wanted)
    if wanted.typed:
        return wanted.typed
    for name in ("ft2", "m2") if unit == "in" else ("m2", "ft2"):
        if decimal := finite_decimal(wanted.per_m2 * _M2_PER[name]):
            return f"{signed(decimal)}/{name}"
    return signed(f"{float(wanted.per_m2)}/m2")
