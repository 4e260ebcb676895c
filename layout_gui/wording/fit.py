"""Whether rafts float free, come out and keep light off, in the grower's words and units."""

from collections.abc import Iterator
from typing import Final

from geometry.beds.levels import LEVELS, Level
from geometry.checks.finding import Finding
from geometry.drawing.figures import length_text
from geometry.tongue import mark, number, tr
from geometry.units import Unit, format_length

_JAMS: Final[dict[Level, str]] = {
    "low": mark("Raft {raft} jams at low water"),
    "working": mark("Raft {raft} jams at the working level"),
    "high": mark("Raft {raft} jams at high water"),
}
_MISSING: Final = {
    "along": mark("Along the bed {missing} of room are missing for the largest rafts."),
    "across": mark("Across the bed {missing} of room are missing for the largest rafts."),
    "wall": mark("It reaches {missing} into the wall where it lies best."),
}
_OPENS: Final[dict[Level, str]] = {
    "low": mark("A gap can open to {amount} at low water"),
    "working": mark("A gap can open to {amount} at the working level"),
    "high": mark("A gap can open to {amount} at high water"),
}
_OPEN_WHERE: Final = {
    "along": mark(
        "That is all the room along the bed on one side, with the rafts as they are cut; your "
        "limit is {limit}."
    ),
    "across": mark(
        "That is all the room across the bed on one side, with the rafts as they are cut; your "
        "limit is {limit}."
    ),
}


def fit_title(finding: Finding, unit: Unit) -> str:
    """Say in a few words what was found and where."""
    usual: Level = "working"
    level = next((each for each in LEVELS if finding.subject.startswith(each)), usual)
    match finding.code:
        case "jam":
            return tr(_JAMS[level], raft=finding.raft)
        case "gap":
            return tr(_OPENS[level], amount=_length(finding.amount_mm, unit))
        case "open-water":
            return tr("{share} of the water lies open to light", share=_share(finding.figures[0]))
        case "lift":
            return tr("Raft {raft} does not come out", raft=finding.raft)
        case _:
            return tr(
                "Rafts are pressed under the {subject} at high water", subject=finding.subject
            )


def fit_amounts(finding: Finding, unit: Unit) -> Iterator[str]:
    """Say how far off it is."""
    limit = _length(finding.limit_mm, unit)
    where = finding.subject.rpartition(" ")[2]
    match finding.code:
        case "jam":
            missing = _length(-(finding.amount_mm or 0.0), unit)
            yield tr(_MISSING[where], missing=missing)
        case "gap":
            yield tr(_OPEN_WHERE[where], limit=limit)
        case "open-water":
            yield tr("Your limit is {limit}.", limit=_share(finding.figures[1]))
        case "lift":
            yield tr(
                "{above} lies over it wherever it is slid, lifted level. Shorter rafts come out, "
                "or a brace that can be taken off.",
                above=finding.subject,
            )
        case _:
            yield tr(
                "Their upper face comes {amount} above the working level; it lies at {limit}.",
                amount=_length(finding.amount_mm, unit),
                limit=limit,
            )


def no_fit_cure(finding: Finding) -> str:
    """Say why no single change is offered."""
    match finding.code:
        case "jam":
            return tr("No clearance frees it: measure the walls again, or split the bed anew.")
        case "gap" | "open-water":
            return tr("No single gap and no strip at the wall is enough.")
        case "lift":
            return tr("It takes other rafts, or something else above them.")
        case _:
            return tr("It lies lower than the foam reaches: it has to be raised.")


def _share(share: float) -> str:
    return tr("{n} %", n=number(100 * share, 1))


def _length(mm: float | None, unit: Unit) -> str:
    """Write a length as a tape shows it, or finer where that would be nothing."""
    if mm is None:
        return ""
    text = length_text(mm, unit)
    return format_length(mm, "mm", decimals=3) if mm and text == length_text(0, unit) else text
