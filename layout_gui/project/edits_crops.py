"""Edits of the grower's own crops, which stand beside the published table."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from typing import Any

from geometry.crops.table import Crop, all_crops, plain_name
from geometry.errors import GeometryError
from geometry.model.own_crop import OwnCrop
from geometry.model.project import Project
from geometry.tongue import number, tr
from geometry.units import Length
from layout_gui.project.bounds import project_faults, refuse_out_of_bounds


def find_own(project: Project, name: str) -> OwnCrop:
    """Return an own crop by its name.

    Raises:
        GeometryError: There is none.
    """
    for crop in project.crops:
        if plain_name(crop.name) == plain_name(name):
            return crop
    raise GeometryError(tr("There is no crop “{name}” of your own.", name=name))


def add_crop(project: Project, crop: OwnCrop) -> Project:
    """Add a crop of one's own.

    Raises:
        GeometryError: Its values are beyond the bounds, or its name is taken or empty.
    """
    _check(crop)
    return _consistent(replace(project, crops=(*project.crops, crop)))


def set_crop(project: Project, crop: str, /, **changes: Any) -> Project:
    """Change an own crop, its values named as in the model; with a new name it is planted on.

    Raises:
        GeometryError: as ``add_crop``, or there is no such crop.
    """
    old = find_own(project, crop)
    new = replace(old, **changes)
    _check(new)
    crops = tuple(new if each is old else each for each in project.crops)
    return _consistent(_renamed(replace(project, crops=crops), old.name, new.name))


def remove_crop(project: Project, name: str) -> Project:
    """Take out an own crop; what is planted with it keeps its name and its spacing."""
    gone = find_own(project, name)
    return replace(project, crops=tuple(crop for crop in project.crops if crop is not gone))


def take_crop(project: Project, crop: OwnCrop) -> Project:
    """Take over a crop that is kept elsewhere, in place of the own one of its name.

    Raises:
        GeometryError: as ``add_crop``.
    """
    if any(plain_name(own.name) == plain_name(crop.name) for own in project.crops):
        own = find_own(project, crop.name)
        _check(crop)
        kept = replace(crop, name=own.name)
        return replace(project, crops=tuple(kept if o is own else o for o in project.crops))
    return add_crop(project, crop)


def fresh_crop(project: Project, spacing: Length) -> OwnCrop:
    """Make a crop of which nothing is known but a spacing, under a name nobody has."""
    return OwnCrop(_free_name(project, tr("new crop")), spacing)


def copy_of(project: Project, row: Crop) -> OwnCrop:
    """Make an own crop of a row of the table, the middle of each of its ranges.

    Its note says where the figures come from and which are such middles.
    """
    middles = []
    if row.days and row.days[0] != row.days[1]:
        middles.append(tr("{least} to {most} days", **_ends(row.days)))
    if row.mature_width and row.mature_width[0] != row.mature_width[1]:
        wide = tuple(float(end.exact / 10) for end in row.mature_width)
        middles.append(tr("{least} to {most} cm wide", **_ends(wide)))
    if row.grams and row.grams[0] != row.grams[1]:
        middles.append(tr("{least} to {most} g", **_ends(row.grams)))
    note = row.source
    if middles:
        note = tr("{source}; the middle of {ranges}", source=note, ranges=", ".join(middles))
    wanted = row.name if row.is_own else tr("my {crop}", crop=tr(row.name))
    return OwnCrop(
        _free_name(project, wanted),
        row.spacing,
        None if row.days is None else sum(row.days) // 2,
        _middle(row.planted_width),
        _middle(row.mature_width),
        None if row.grams is None else (row.grams[0] + row.grams[1]) / 2,
        note,
    )


def _ends(ends: Iterable[float | Fraction]) -> dict[str, str]:
    least, most = (number(float(end)) for end in ends)
    return {"least": least, "most": most}


def _middle(ends: tuple[Length, Length] | None) -> Length | None:
    if ends is None:
        return None
    least, most = ends
    return least if least == most else Length((least.exact + most.exact) / 2)


def _free_name(project: Project, wanted: str) -> str:
    taken = {plain_name(crop.name) for crop in all_crops(project.crops)}
    names = (wanted, *(f"{wanted} {n}" for n in range(2, len(taken) + 3)))
    return next(name for name in names if plain_name(name) not in taken)


def _check(crop: OwnCrop) -> None:
    if not crop.name.strip():
        raise GeometryError(tr("A crop needs a name; write one, such as red butterhead."))
    refuse_out_of_bounds(replace(crop, note=crop.note.replace("\n", " ")))


def _renamed(project: Project, old: str, new: str) -> Project:
    """Let all that names a crop name it anew: plantings, zones, measured widths, runs."""
    if old == new:
        return project
    wanted = plain_name(old)

    def anew(name: str) -> str:
        return new if plain_name(name) == wanted else name

    beds = tuple(
        replace(
            bed,
            planting=bed.planting and replace(bed.planting, crop=anew(bed.planting.crop)),
            zones=tuple(
                replace(zone, rules=replace(zone.rules, crop=anew(zone.rules.crop)))
                if zone.rules.crop is not None
                else zone
                for zone in bed.zones
            ),
        )
        for bed in project.beds
    )
    return replace(
        project,
        beds=beds,
        growth=tuple(replace(each, crop=anew(each.crop)) for each in project.growth),
        runs=tuple(replace(each, crop=anew(each.crop)) for each in project.runs),
    )


def _consistent(project: Project) -> Project:
    for fault in project_faults(project):
        raise GeometryError(f"{fault.what[:1].upper()}{fault.what[1:]}; {fault.cure}.")
    return project
