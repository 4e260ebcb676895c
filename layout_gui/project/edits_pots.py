"""Edits of the pots of a project, of where they are used, and of the holes drilled for them."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from typing import Any

from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import ZERO, Length
from layout_gui.project import edits
from layout_gui.project.bounds import project_faults, refuse_out_of_bounds


def add_pot(project: Project, pot: Pot, bed: str = "") -> tuple[Project, str]:
    """Add a pot under a free name; a planted ``bed`` that names none yet takes it.

    Returns the project and the name.
    """
    taken = {each.name.casefold() for each in project.pots}
    names = (pot.name if n == 1 else f"{pot.name} {n}" for n in count(1))
    pot = replace(pot, name=next(name for name in names if name.casefold() not in taken))
    project = _checked(replace(project, pots=(*project.pots, pot)), pot)
    planting = edits.find_bed(project, bed).planting if bed else None
    if planting is not None and not planting.pot:
        project = edits.set_planting(project, bed, pot=pot.name)
    return project, pot.name


def set_pot(project: Project, name: str, /, **changes: Any) -> Project:
    """Change values of a pot, named as in the model; where it is used follows its name.

    A collar begins with a hole as wide as the plug, and takes its hole with it when it goes.
    """
    old = find_pot(project, name)
    if "collar" in changes:
        collar: Length = changes["collar"]
        if not collar.exact:
            changes["collar_hole"] = ZERO
        elif not old.collar_hole.exact:
            changes["collar_hole"] = old.body
    pot = replace(old, **changes)
    if not pot.name.strip():
        raise GeometryError(tr("A pot needs a name; write one, such as net pot."))
    pots = tuple(pot if each is old else each for each in project.pots)
    project = replace(project, pots=pots)
    if pot.name != name:
        project = _used_as(project, name, pot.name)
    return _checked(project, pot)


def remove_pot(project: Project, name: str) -> Project:
    """Take a pot out, and out of every planting that names it."""
    gone = find_pot(project, name)
    kept = tuple(each for each in project.pots if each is not gone)
    return _used_as(replace(project, pots=kept), name, "")


def find_pot(project: Project, name: str) -> Pot:
    """Return the pot of this name."""
    for pot in project.pots:
        if pot.name == name:
            return pot
    raise GeometryError(tr("There is no pot “{name}”.", name=name))


def uses_of(project: Project, name: str) -> tuple[tuple[str, str], ...]:
    """Return where a pot is named: beds, and zones of beds, an empty name for the bed itself."""
    return tuple(_uses(project, name))


def drill(project: Project, bed: str, zone: str, saw: Length) -> Project:
    """Make the holes of a bed, or of one of its zones, as wide as a saw."""
    if zone:
        return edits.set_zone(project, bed, zone, hole_diameter=saw)
    return edits.set_planting(project, bed, hole_diameter=saw)


def set_wobble(project: Project, wobble: Length) -> Project:
    """Say how much wider than their saw holes come out."""
    refuse_out_of_bounds(wobble, "wobble")
    return replace(project, allowances=replace(project.allowances, wobble=wobble))


def _uses(project: Project, name: str) -> Iterator[tuple[str, str]]:
    for bed in project.beds:
        if bed.planting is not None and bed.planting.pot == name:
            yield bed.name, ""
        yield from ((bed.name, zone.name) for zone in bed.zones if zone.rules.pot == name)


def _used_as(project: Project, name: str, other: str) -> Project:
    """Name another pot, or none, wherever a pot is named; a zone is then as its bed."""
    return replace(project, beds=tuple(_bed_with(bed, name, other) for bed in project.beds))


def _bed_with(bed: Bed, name: str, other: str) -> Bed:
    planting = bed.planting
    if planting is not None and planting.pot == name:
        planting = replace(planting, pot=other)
    zones = tuple(
        replace(zone, rules=replace(zone.rules, pot=other or None))
        if zone.rules.pot == name
        else zone
        for zone in bed.zones
    )
    if planting is bed.planting and zones == bed.zones:
        return bed
    return replace(bed, planting=planting, zones=zones)


def _checked(project: Project, pot: Pot) -> Project:
    refuse_out_of_bounds(pot)
    for fault in project_faults(project):
        raise GeometryError(f"{fault.what[:1].upper()}{fault.what[1:]}; {fault.cure}.")
    return project
