"""What each of the five stations has to say at this moment."""

from collections import Counter
from dataclasses import replace
from typing import Final

from geometry.checks.finding import Code, Finding
from geometry.model.bed import Bed
from geometry.plan import BedPlan
from geometry.tongue import mark, tr
from geometry.units import Unit, format_density
from layout_gui.panels.now import Now
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.stations import Sign, Station, StationName
from layout_gui.panels.words import DASH, bare_length, counted, short_length, size_words
from layout_gui.project.first import is_usual

WORKING: Final = mark("working it out \N{HORIZONTAL ELLIPSIS}")
_HOME: Final[dict[Code, StationName]] = {
    "bed-shape": "Bed",
    "skew": "Bed",
    "raft-fit": "Rafts",
    "sheet-fit": "Make",
    "score-line": "Rafts",
    "sinks": "Rafts",
    "freeboard": "Rafts",
    "tilts": "Rafts",
    "heavy": "Rafts",
    "weak-line": "Rafts",
    "aground": "Bed",
    "metered-fill": "Bed",
    "run-fit": "Grow",
    **dict.fromkeys(("jam", "made-jam", "gap", "open-water", "lift"), "Rafts"),
    "pressed": "Bed",
}
_BED_FIELDS: Final = ("outline", "clearance", "obstacles")
_RAFT_FIELDS: Final = ("joint_gap", "rafts", "sheets", "cutting")


def open_findings(now: Now) -> tuple[Finding, ...]:
    """Return the findings of the plan that the grower has not accepted yet."""
    accepted = {note.key for note in now.project.accepted}
    return tuple(finding for finding in now.plan.findings if finding.key not in accepted)


def home_of(finding: Finding) -> StationName:
    """Return the station at which a finding is settled."""
    if finding.code == "unit-slip":
        if finding.subject.startswith(_BED_FIELDS):
            return "Bed"
        return "Rafts" if finding.subject.startswith(_RAFT_FIELDS) else "Holes"
    return _HOME.get(finding.code, "Holes")


def stations(now: Now, *, made: bool, grow: tuple[str, str]) -> tuple[Station, ...]:
    """Say what every station has to say.

    ``made`` tells whether the present project was exported as it is; ``grow`` is the figure and
    the line of the last station, empty while no crop is known.
    """
    looks = Counter(home_of(f) for f in open_findings(now) if f.severity != "note")
    facts = (
        _bed(now),
        _rafts(now),
        _holes(now),
        _make(now, made=made),
        Station(
            "Grow", *(grow if grow[0] else (DASH, tr("choose a crop first"))), _sign(bool(grow[0]))
        ),
    )
    return tuple(
        replace(fact, sign="look", to_settle=looks[fact.name]) if fact.name in looks else fact
        for fact in facts
    )


def _sign(done: bool) -> Sign:  # noqa: FBT001 - a private switch of one word
    return "done" if done else "open"


def _bed(now: Now) -> Station:
    bed = now.bed
    if bed is None:
        return Station("Bed", DASH, tr("not measured yet"), "open")
    sizes = size_words(outline_sizes(bed.outline), now.project.units)
    if not now.project.sheets and is_usual(bed.outline):
        return Station("Bed", sizes, tr("a usual size, not yours yet"), "open")
    return Station("Bed", sizes, _bed_line(now), "done")


def _bed_line(now: Now) -> str:
    beds = now.project.beds
    if len(beds) > 1 and now.bed:
        return tr(
            "{bed}, {number} of {beds}",
            bed=now.bed.name,
            number=beds.index(now.bed) + 1,
            beds=len(beds),
        )
    if now.bed and now.bed.obstacles:
        return tr("inside, {obstacles}", obstacles=counted(len(now.bed.obstacles), "obstacle"))
    return tr("inside, at the waterline")


def _rafts(now: Now) -> Station:
    plan, bed = now.bed_plan, now.bed
    if bed is None:
        return Station("Rafts", DASH, tr("after the bed"), "open")
    if plan is None:
        return Station("Rafts", DASH, tr(WORKING), "open")
    if not plan.rafts:
        return Station("Rafts", DASH, tr("none fits yet"), "open")
    return Station("Rafts", _raft_figure(plan, now.project.units), _raft_line(bed, now), "done")


def _raft_figure(plan: BedPlan, unit: Unit) -> str:
    shapes = {(raft.design.shape.length, raft.design.shape.width) for raft in plan.rafts}
    if len(shapes) > 1:
        return tr(
            "{rafts}, {sizes} sizes", rafts=counted(len(plan.rafts), "raft"), sizes=len(shapes)
        )
    return tr("{n} of {size}", n=len(plan.rafts), size=size_words(next(iter(shapes)), unit))


def _raft_line(bed: Bed, now: Now) -> str:
    unit = now.project.units
    if now.bed_plan and len(now.bed_plan.rafts) > 1:
        walls = bare_length(bed.clearance.exact, unit)
        joints = short_length(bed.joint_gap.exact, unit)
        return tr("walls {walls}, joints {joints}", walls=walls, joints=joints)
    return tr("walls {walls}", walls=short_length(bed.clearance.exact, unit))


def _holes(now: Now) -> Station:
    plan = now.bed_plan
    is_planned = plan is not None and plan.bed.planting is not None
    if now.planting is None and not is_planned:
        return Station("Holes", DASH, tr("nothing planted yet"), "open")
    if plan is None or not is_planned:
        return Station("Holes", DASH, tr(WORKING), "open")
    density = format_density(plan.density_per_m2, now.project.units)
    crops = [crop for crop in plan.crops if crop.plants]
    if plan.plugged:
        line = tr(
            "{used} in use now, {plugged} plugged",
            used=plan.plants - plan.plugged,
            plugged=plan.plugged,
        )
    elif len(crops) > 1:
        line = tr("{crops} crops · {density}", crops=len(crops), density=density)
    elif plan.ceiling is not None:
        line = tr("{density} · at most {ceiling}", density=density, ceiling=plan.ceiling)
    else:
        line = density
    return Station("Holes", counted(plan.plants, "plant"), line, _sign(plan.plants > 0))


def _make(now: Now, *, made: bool) -> Station:
    designs = sum(len(bed.designs) for bed in now.plan.beds)
    if not designs:
        return Station("Make", DASH, tr("after the holes"), "open")
    sheets = now.plan.cut.sheet_count
    missing = sum(number for _, number in now.plan.cut.unplaced)
    figure = counted(sheets, "sheet") if sheets else counted(designs, "raft design")
    line = tr("{templates} to drill by", templates=counted(designs, "template"))
    if not now.plan.project.sheets:
        line = tr("no sheets chosen yet")
    elif missing:
        line = tr("{rafts} without a sheet", rafts=counted(missing, "raft"))
    return Station("Make", figure, tr("exported as it is") if made else line, _sign(made))
