"""A bed as text, to be pasted into another project: a project file that holds nothing else."""

from dataclasses import replace
from itertools import count

from geometry.errors import GeometryError
from geometry.model.bed import Bed
from geometry.model.project import Project
from geometry.tongue import tr
from layout_gui.project import edits
from layout_gui.project.canonical import project_text
from layout_gui.project.file import loads


def write_bed(project: Project, bed: str) -> str:
    """Write a bed with the pots and the own crops that it names, and its guide lines."""
    found = edits.find_bed(project, bed)
    crops, pots = _named(found)
    return project_text(
        Project(
            project.name,
            project.units,
            beds=(found,),
            guide_lines=tuple(line for line in project.guide_lines if line.bed == bed),
            crops=tuple(crop for crop in project.crops if crop.name in crops),
            pots=tuple(pot for pot in project.pots if pot.name in pots),
        )
    )


def paste_beds(project: Project, text: str) -> tuple[Project, tuple[str, ...]]:
    """Add the beds that a text holds; return their names, which are new ones where need be.

    Pots and crops that the project knows by the same name stay as they are.

    Raises:
        GeometryError: The text holds no bed, or one that cannot be added; the sentence says why.
    """
    try:
        given = loads(text.encode("utf-8", "replace"), tr("the clipboard"))
    except ValueError as error:
        raise GeometryError(tr("There is no bed on the clipboard: copy one first.")) from error
    if not given.beds:
        raise GeometryError(tr("There is no bed on the clipboard: copy one first."))
    known_crops = {crop.name for crop in project.crops}
    known_pots = {pot.name for pot in project.pots}
    made = replace(
        project,
        units=project.units if project.beds else given.units,
        crops=(*project.crops, *(crop for crop in given.crops if crop.name not in known_crops)),
        pots=(*project.pots, *(pot for pot in given.pots if pot.name not in known_pots)),
    )
    names: list[str] = []
    for bed in given.beds:
        name = _free_name(made, bed.name)
        made = edits.add_bed(made, replace(bed, name=name))
        lines = (replace(line, bed=name) for line in given.guide_lines if line.bed == bed.name)
        made = replace(made, guide_lines=(*made.guide_lines, *lines))
        names.append(name)
    return made, tuple(names)


def _named(bed: Bed) -> tuple[set[str], set[str]]:
    """Return the names of the crops and of the pots of a bed."""
    rules = [each for each in (bed.planting, *(zone.rules for zone in bed.zones)) if each]
    return {each.crop or "" for each in rules}, {each.pot or "" for each in rules}


def _free_name(project: Project, wanted: str) -> str:
    taken = {bed.name for bed in project.beds}
    if wanted not in taken:
        return wanted
    return next(name for n in count(2) if (name := f"{wanted} {n}") not in taken)
