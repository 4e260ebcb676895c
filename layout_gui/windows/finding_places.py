"""Where a finding is: its places in the beds, or the field that it is about."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from geometry.beds.outline import zone_loop
from geometry.checks.finding import Code, Finding, SetLength
from geometry.errors import OutlineError
from geometry.model.measure import bounds
from geometry.model.project import Project
from geometry.plan import BedPlan, Plan

HoleName = tuple[str, str]

_OF_ITS_LIKE: Final[frozenset[Code]] = frozenset(
    {"sinks", "freeboard", "tilts", "pot-dry", "pot-drowned", "aground", "heavy", "weak-line"}
)
"""Codes that name the first raft of a design and are about all of them."""


@dataclass(frozen=True, slots=True)
class FindingPlace:
    """A place of a finding in bed coordinates, in mm, with the names of what is concerned there."""

    bed: str
    point: tuple[float, float]
    rafts: tuple[str, ...] = ()
    holes: tuple[HoleName, ...] = ()


def places_of(finding: Finding, plan: Plan) -> tuple[FindingPlace, ...]:
    """Return the places of a finding; empty where it is about a bed, a sheet or a number.

    A finding about a raft design has a place on every raft of that design.
    """
    if finding.place is not None:
        rafts = (finding.raft,) if finding.raft and not finding.holes else ()
        return (FindingPlace(finding.bed, finding.place, rafts, holes_of(finding)),)
    if finding.raft and not finding.bed:
        return tuple(_of_design(finding.raft, plan))
    if finding.code in _OF_ITS_LIKE:
        return tuple(_of_its_like(finding, plan))
    if finding.subject.startswith("zones."):
        number = int(finding.subject.split(".")[1])
        return tuple(_of_zone(finding.bed, number, plan))
    return ()


def holes_of(finding: Finding) -> tuple[HoleName, ...]:
    """Return the holes a finding names, each as its raft and its own name."""
    named: list[HoleName] = []
    for hole in finding.holes:
        raft, _, name = hole.rpartition(" ")
        named.append((raft or finding.raft, name))
    return tuple(named)


def zone_of(finding: Finding, project: Project) -> str:
    """Return the name of the zone that a finding is about; empty when it is about none."""
    if finding.zone or not finding.subject.startswith("zones."):
        return finding.zone
    number = int(finding.subject.split(".")[1])
    bed = next((each for each in project.beds if each.name == finding.bed), None)
    return bed.zones[number].name if bed is not None and number < len(bed.zones) else ""


def field_of(finding: Finding) -> str:
    """Return the name of the field on its station's panel where a finding is settled, if any."""
    cure = finding.cure
    key = cure.field if isinstance(cure, SetLength) else finding.subject
    match finding.code:
        case "unit-slip" | "raft-fit":
            first, *rest = key.split(".")
            part = {"rafts": "raft-", "sheets": "sheet-", "zones": "zone-"}.get(first, "")
            return f"{part}{rest[-1]}" if rest else first
        case "skew":
            return "widths"
        case "run-fit":
            return "run-target"
        case "metered-fill":
            return "water-metered"
        case "jam" | "gap" if isinstance(cure, SetLength):
            return key
        case "gap":
            return "limit-gap"
        case "open-water":
            return "limit-open_water"
        case "pressed":
            return "water-high"
        case "bed-shape" if finding.subject == "outline":
            return "kind"
        case "pot-falls" | "pot-stuck" | "pot-loose" | "pot-proud" | "pot-slips":
            return "zone-hole_diameter" if finding.zone else "hole_diameter"
        case _:
            return ""


def _of_design(design: str, plan: Plan) -> Iterator[FindingPlace]:
    for bed in plan.beds:
        for raft in bed.rafts:
            if raft.design.name == design:
                shape = raft.design.shape
                middle = (raft.x + float(shape.length) / 2, raft.y + float(shape.width) / 2)
                yield FindingPlace(bed.bed.name, middle, (raft.name,))


def _of_its_like(finding: Finding, plan: Plan) -> Iterator[FindingPlace]:
    for bed in plan.beds:
        if bed.bed.name == finding.bed:
            for raft in bed.rafts:
                if raft.name == finding.raft:
                    yield from _of_design(raft.design.name, plan)


def _of_zone(bed: str, number: int, plan: Plan) -> Iterator[FindingPlace]:
    planned = next((each for each in plan.beds if each.bed.name == bed), None)
    if planned is None or number >= len(planned.bed.zones):
        return
    zone = planned.bed.zones[number]
    try:
        loop = zone_loop(zone)
    except OutlineError:
        return
    if loop is not None:
        left, low, right, high = bounds(loop)
        yield FindingPlace(bed, ((left + right) / 2, (low + high) / 2))
    yield from _rafts_named(planned, zone.rafts)


def _rafts_named(planned: BedPlan, names: tuple[str, ...]) -> Iterator[FindingPlace]:
    for raft in planned.rafts:
        if raft.name in names:
            shape = raft.design.shape
            middle = (raft.x + float(shape.length) / 2, raft.y + float(shape.width) / 2)
            yield FindingPlace(planned.bed.name, middle, (raft.name,))
