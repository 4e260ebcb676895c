"""Cures, and why there is none."""

import re
from collections.abc import Iterator

from geometry.checks.finding import (
    Cure,
    DropFromZone,
    DropHandEdit,
    Finding,
    LeaveOut,
    MoveHole,
    SealEdge,
    SetLength,
    SetTarget,
    TakeFill,
    TakeFoam,
    TakePot,
)
from geometry.plan import Plan
from geometry.tongue import listed, mark, tr
from geometry.units import Unit, format_length
from layout_gui.wording.fit import no_fit_cure
from layout_gui.wording.in_water import no_cure_in_water
from layout_gui.wording.lengths import length_words, place_words, step_words
from layout_gui.wording.pots import no_pot_cure, pot_remedy
from layout_gui.wording.runs import run_no_cure, run_remedy, target_label

_FIELDS = {
    "outline.length": mark("the bed's length"),
    "outline.width": mark("the bed's width"),
    "clearance": mark("the clearance"),
    "joint_gap": mark("the joint gap"),
    "water.high": mark("the high water"),
    "rafts.length": mark("the largest length of a raft"),
    "rafts.width": mark("the largest width of a raft"),
    "rafts.shift_along": mark("the shift of the joints along the bed"),
    "rafts.shift_across": mark("the shift of the joints across the bed"),
    "planting.spacing": mark("the spacing"),
    "planting.row_spacing": mark("the row spacing"),
    "planting.hole_diameter": mark("the hole diameter"),
    "planting.edge_margin": mark("the edge margin"),
    "planting.web": mark("the web"),
    "planting.round_to": mark("the step of the places"),
    "water.low": mark("how far the water falls"),
    "cutting.kerf": mark("the kerf"),
    "cutting.trim": mark("the trim"),
}
_SHEET_FIELDS = {
    "length": mark("the length"),
    "width": mark("the width"),
    "thickness": mark("the thickness"),
    "tolerance": mark("the tolerance"),
}


def cure_label(cure: Cure, unit: Unit) -> str:
    """Name the change that clears a finding, as an order."""
    match cure:
        case MoveHole(raft, hole, x, y):
            place = place_words(x, y, unit)
            return tr("Move {raft} {hole} to {place}", raft=raft, hole=hole, place=place)
        case LeaveOut(raft, hole):
            return tr("Leave {raft} {hole} out", raft=raft, hole=hole)
        case SetLength("planting.round_to", mm):
            return tr("Round places to {mm}", mm=step_words(mm))
        case SetLength(field, mm):
            return tr(
                "Set {field} to {mm}",
                field=field_words(field),
                mm=format_length(mm, unit, decimals=3),
            )
        case DropHandEdit():
            return tr("Forget it")
        case SetTarget():
            return target_label(cure)
        case DropFromZone(zone, raft):
            return (
                tr("Take {raft} out of “{zone}”", raft=raft, zone=zone)
                if raft
                else tr("Remove the zone “{zone}”", zone=zone)
            )
        case TakeFoam(_, mm):
            return tr("Take foam of {mm}", mm=length_words(mm, unit))
        case TakeFill(text):
            return tr("Take it as {text}", text=text)
        case TakePot(pot, mm):
            return tr("Take a “{pot}” that is {mm} deep", pot=pot, mm=length_words(mm, unit))
        case SealEdge():
            return tr("Put a strip at the wall")


def field_words(field: str) -> str:
    """Name a length of the project file in words: "planting.spacing" is "the spacing"."""
    if of_sheet := re.fullmatch(r"sheets\.(\d+)\.(\w+)", field):
        words = _SHEET_FIELDS.get(of_sheet[2], of_sheet[2])
        return tr("{field} of sheet {sheet}", field=tr(words), sheet=int(of_sheet[1]) + 1)
    if of_zone := re.fullmatch(r"zones\.(\d+)\.(\w+)", field):
        words = field_words(f"planting.{of_zone[2]}")
        return tr("{field} of zone {zone}", field=words, zone=int(of_zone[1]) + 1)
    if of_obstacle := re.fullmatch(r"obstacles\.(\d+)\.(\w+)", field):
        words = field_words(of_obstacle[2])
        return tr("{field} of obstacle {obstacle}", field=words, obstacle=int(of_obstacle[1]) + 1)
    return tr(_FIELDS.get(field, f"the {field.rpartition('.')[2].replace('_', ' ')}"))


def remedy(finding: Finding, unit: Unit, plan: Plan | None) -> Iterator[str]:
    """Say what the cure of a finding does."""
    match finding.cure:
        case MoveHole(raft, hole, x, y):
            move = _move(plan, finding.bed, MoveHole(raft, hole, x, y), unit)
            if len(finding.holes) != 1:
                name = f"{raft} {hole}"
                yield (
                    tr("Moving {hole} {move} clears it.", hole=name, move=move)
                    if move
                    else tr("Moving {hole} clears it.", hole=name)
                )
            else:
                yield (
                    tr("Moving it {move} clears it.", move=move)
                    if move
                    else tr("Moving it clears it.")
                )
        case LeaveOut(raft, hole) if len(finding.holes) == 1:
            yield tr("No small move clears it; leaving it out does.")
        case LeaveOut(raft, hole):
            yield tr("No small move clears it; leaving {hole} out does.", hole=f"{raft} {hole}")
        case SetLength("planting.round_to", mm) if finding.code == "rounding":
            yield tr("Steps of {mm} leave none.", mm=step_words(mm))
        case SetLength(_, mm) if finding.code == "rounding":
            yield tr("A spacing of {mm} leaves none.", mm=step_words(mm))
        case SetLength(_, mm) if finding.code == "unit-slip":
            yield tr("Was {mm} meant?", mm=length_words(mm, unit))
        case SetTarget():
            yield run_remedy(finding.cure)
        case _:
            yield from pot_remedy(finding, unit)


def _move(plan: Plan | None, bed: str, cure: MoveHole, unit: Unit) -> str:
    """Say how far and which way a hole moves, as the bed is drawn; empty without a plan."""
    for bed_plan in plan.beds if plan else ():
        for raft in bed_plan.rafts if bed_plan.bed.name == bed else ():
            if raft.name == cure.raft and cure.hole in raft.design.holes.names:
                x, y = raft.design.holes.xy[raft.design.holes.names.index(cure.hole)].tolist()
                way = -1 if raft.turned else 1
                return _directions((cure.x - x) * way, (cure.y - y) * way, unit)
    return ""


def _directions(dx: float, dy: float, unit: Unit) -> str:
    steps = (
        (dx, mark("{by} to the right"), mark("{by} to the left")),
        (dy, mark("{by} up"), mark("{by} down")),
    )
    words = [
        tr(ahead if by > 0 else back, by=length_words(abs(by), unit))
        for by, ahead, back in steps
        if abs(by) >= 0.05
    ]
    return listed(words) if words else ""


def no_cure_reason(finding: Finding) -> str:
    """Say why no single change is offered that clears a finding; empty where one is."""
    if finding.cure is not None:
        return ""
    match finding.code:
        case "raft-fit" if finding.raft:
            return tr("No one length clears it: the rafts need other sizes, or the bed measuring.")
        case "raft-fit":
            return tr("No gap leaves room: the bed is too small for such rafts.")
        case "no-room":
            return tr(
                "One change is not enough: margin, web, hole or raft have to give way together."
            )
        case "unit-slip":
            return tr("Only you can tell: type it again if it is wrong.")
        case "bed-shape":
            return tr("Only you can tell where its corners are.")
        case "skew":
            return tr("Only the tape can tell.")
        case "rounding":
            return tr("No other step and no spacing near this one leaves none.")
        case "score-line":
            return tr("Which of these is best is for you to decide.")
        case "zone-empty" | "zone-fixed":
            return tr("What the zone is for is for you to decide.")
        case "run-fit":
            return run_no_cure()
        case "sheet-fit" if finding.severity == "problem":
            return tr("It takes a larger sheet, or smaller rafts.")
        case "sheet-fit":
            return tr("It takes more sheets on hand, or a number left open.")
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
            return no_pot_cure(finding)
        case "jam" | "gap" | "open-water" | "lift" | "pressed":
            return no_fit_cure(finding)
        case _:
            return no_cure_in_water(finding) or tr("No single change clears it.")
