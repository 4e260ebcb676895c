"""Findings in the grower's words."""

from geometry.checks.finding import Finding
from geometry.plan import Plan
from geometry.tongue import mark, tr
from geometry.units import Unit
from layout_gui.wording.amounts import amounts
from layout_gui.wording.cures import field_words, remedy
from layout_gui.wording.fit import fit_title
from layout_gui.wording.in_water import title_in_water
from layout_gui.wording.lengths import length_words
from layout_gui.wording.pots import pot_title
from layout_gui.wording.runs import run_title

_SEVERITIES = {
    "problem": mark("problem"),
    "question": mark("question"),
    "note": mark("note"),
}


def finding_title(finding: Finding, unit: Unit) -> str:
    """Say in a few words what was found and where."""
    holes, one = _holes(finding), _hole(finding)
    amount = length_words(finding.amount_mm, unit)
    match finding.code:
        case "spacing":
            return tr("{holes} stand too close", holes=holes)
        case "web" if len(finding.holes) > 1:
            return tr("{holes} leave too little foam between them", holes=holes)
        case "web":
            return tr("{one} leaves too little foam at the edge", one=one)
        case "edge":
            return tr("{one} is too near the edge of the raft", one=one)
        case "joint":
            return tr("{holes} come too close where rafts meet", holes=holes)
        case "obstacle":
            return tr("{one} is too near the {subject}", one=one, subject=finding.subject)
        case "raft-fit" if finding.raft:
            return tr("Raft {raft} is too near the wall", raft=finding.raft)
        case "raft-fit" if finding.severity == "note":
            return (
                tr("The rafts have no play at the wall")
                if finding.subject == "clearance"
                else tr("The rafts have no play between each other")
            )
        case "raft-fit":
            return tr("There is no room for a raft")
        case "no-room":
            return tr("There is no room for a hole")
        case "unit-slip":
            return tr(
                "Is {subject} really {amount}?", subject=field_words(finding.subject), amount=amount
            )
        case "bed-shape" if finding.subject == "outline":
            return tr("The outline of the bed is no outline")
        case "bed-shape":
            return tr("The outline of the {subject} is no outline", subject=finding.subject)
        case "skew":
            return tr("The bed is out of true by {amount}", amount=amount)
        case "blank-idle":
            return tr("A site left out on raft {raft} is there no more", raft=finding.raft)
        case "pin-idle":
            return tr(
                "A hole placed by hand lies on raft {raft}, which is no more", raft=finding.raft
            )
        case "rounding" if finding.subject == "1":
            return tr("{one} keeps its exact place", one=one)
        case "rounding":
            return tr(
                "{subject} holes on raft {raft} keep their exact places",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "score-line":
            return tr("Raft {raft} has a score line along its long side", raft=finding.raft)
        case "zone-outside" if finding.raft:
            return tr(
                "The zone “{subject}” names raft {raft}, which is not there",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "zone-outside":
            return tr("The zone “{subject}” lies on no raft", subject=finding.subject)
        case "zone-empty":
            return tr("No hole fits into the zone “{subject}”", subject=finding.subject)
        case "zone-fixed":
            return tr(
                "The zone “{subject}” covers only a part of raft {raft}",
                subject=finding.subject,
                raft=finding.raft,
            )
        case "run-fit":
            return run_title(finding)
        case "sheet-fit" if finding.severity == "problem":
            return tr("Raft {raft} is larger than every sheet", raft=finding.raft)
        case "sheet-fit":
            return tr("There are not enough sheets on hand")
        case (
            "pot-falls"
            | "pot-stuck"
            | "pot-loose"
            | "pot-proud"
            | "pot-slips"
            | "rims"
            | "rim-edge"
            | "rim-obstacle"
        ):
            return pot_title(finding, holes, one)
        case "jam" | "gap" | "open-water" | "lift" | "pressed":
            return fit_title(finding, unit)
        case _:
            return title_in_water(finding)


def finding_text(finding: Finding, unit: Unit, plan: Plan | None = None) -> str:
    """Say how far off it is and what clears it; with the plan, how far and which way to move."""
    return " ".join([*amounts(finding, unit), *remedy(finding, unit, plan)])


def finding_line(finding: Finding, unit: Unit, plan: Plan) -> str:
    """Say all of a finding in one line, how grave it is and the bed first."""
    where = f"{finding.bed}: " if finding.bed else ""
    text = finding_text(finding, unit, plan)
    title = finding_title(finding, unit)
    end = "" if title.endswith("?") else "."
    return f"{tr(_SEVERITIES[finding.severity])}: {where}{title}{end} {text}".rstrip()


def _hole(finding: Finding) -> str:
    if not finding.holes:
        return tr("A hole")
    return tr("Hole {raft} {hole}", raft=finding.raft, hole=finding.holes[0])


def _holes(finding: Finding) -> str:
    """Name two holes, with their raft once when they share it."""
    first, second = (*finding.holes, "", "")[:2]
    if " " in first:
        return tr("Holes {first} and {second}", first=first, second=second)
    return tr("Holes {raft} {first} and {second}", raft=finding.raft, first=first, second=second)
