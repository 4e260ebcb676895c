"""Does the pot of each planting sit in the holes that are drilled for it?"""

from collections.abc import Iterator
from typing import Final

from geometry.afloat.pots import PROUD_MM, TIGHT_MM, Pot, Seat
from geometry.afloat.saws import best_saw
from geometry.checks.finding import Code, Finding, SetLength, Severity
from geometry.checks.surroundings import Surroundings
from geometry.model.bed import Bed

_TOLD: Final[dict[Seat, tuple[Code, Severity]]] = {
    "falls through": ("pot-falls", "problem"),
    "does not go in": ("pot-stuck", "problem"),
    "loose": ("pot-loose", "question"),
    "stands proud": ("pot-proud", "question"),
}


def check_seats(around: Surroundings) -> Iterator[Finding]:
    """Yield a finding for every planting whose pot does not sit well, and the saw that cures it.

    A zone that has pot and hole from its bed is told of with the bed. Amounts are of the hole as
    it comes out, or how far a pot stands proud.
    """
    bed, wobble = around.bed, around.allowances.wobble.mm
    for number, (planting, pot, seated) in enumerate(
        zip(around.plantings, around.pots, around.seats, strict=True)
    ):
        if pot is None or seated is None or seated.seat not in _TOLD:
            continue
        if number and _is_the_beds(bed, number):
            continue
        code, severity = _TOLD[seated.seat]
        measured, hole = Pot.of(pot), planting.hole_diameter.mm + wobble
        if measured.bore >= measured.body + TIGHT_MM and seated.seat == "falls through":
            code, hole = "pot-slips", measured.bore
        best = best_saw(measured, around.saws, wobble)
        yield Finding(
            code=code,
            severity=severity,
            bed=bed.name,
            subject=pot.name,
            zone=bed.zones[number - 1].name if number else "",
            amount_mm=seated.proud if code == "pot-proud" else hole,
            limit_mm=_limit(code, measured),
            cure=None
            if best is None
            else SetLength(f"{place_of(number)}.hole_diameter", best.saw.mm),
        )


def place_of(number: int) -> str:
    """Return where the rules of a planting stand in the file, seen from the bed."""
    return f"zones.{number - 1}" if number else "planting"


def _is_the_beds(bed: Bed, number: int) -> bool:
    rules = bed.zones[number - 1].rules
    return rules.pot is None and rules.hole_diameter is None


def _limit(code: Code, pot: Pot) -> float:
    """What a hole has to keep to: the rim, the body or the foot; or how proud a pot may stand."""
    match code:
        case "pot-falls":
            return pot.rim or pot.body
        case "pot-stuck":
            return pot.foot
        case "pot-proud":
            return PROUD_MM
        case _:
            return pot.body
