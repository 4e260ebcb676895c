"""Lengths and places in sentences."""

from fractions import Fraction

from geometry.checks.finding import Finding
from geometry.tongue import tr
from geometry.units import MM_PER, Length, Unit, exact_text, format_length


def step_words(mm: float) -> str:
    """Write a step of the tape, or a length on its steps, in the unit it is whole in."""
    inches = Fraction(repr(mm)) / MM_PER["in"]
    return exact_text(Length.of(mm), "in" if (inches * 64).denominator == 1 else "mm")


def told_apart(amount: float | None, limit: float | None, unit: Unit) -> tuple[str, str]:
    """Show two unlike lengths with as many decimals as it takes to see that they differ."""
    if amount is None or limit is None:
        return length_words(amount, unit), length_words(limit, unit)
    texts = "", ""
    for decimals in (1, 2, 3, 6, 9):
        texts = (
            format_length(amount, unit, decimals=decimals),
            format_length(limit, unit, decimals=decimals),
        )
        if texts[0] != texts[1]:
            break
    return texts


def length_words(mm: float | None, unit: Unit) -> str:
    """Write a length; very small ones with what it takes to see them."""
    if mm is None:
        return ""
    decimals = 1 if not mm or abs(mm) >= 0.05 else 6
    return format_length(mm, unit, decimals=decimals)


def subject_place(finding: Finding, unit: Unit) -> str:
    """Write the place that a finding is about."""
    x, y = map(float, finding.subject.split())
    return place_words(x, y, unit)


def place_words(x: float, y: float, unit: Unit) -> str:
    """Write a place on a bed."""
    return tr("x {x}, y {y}", x=format_length(x, unit), y=format_length(y, unit))
