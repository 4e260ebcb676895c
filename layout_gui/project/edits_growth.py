"""Edits of the leaf widths that the grower has measured."""

from dataclasses import replace

from geometry.crops.leaves import record_of
from geometry.errors import GeometryError
from geometry.model.growth import Growth, LeafWidth
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.project.bounds import refuse_out_of_bounds

LAST_DAY = 1000
"""No crop stands on the water longer than that."""


def growth_of(project: Project, crop: str) -> Growth:
    """Return what was measured of a crop; capitals do not matter. Empty where nothing was."""
    return record_of(project.growth, crop)


def note_width(project: Project, crop: str, day: int, width: Length) -> Project:
    """Note how wide the leaves of a crop were on a day; a new width replaces an old one.

    Raises:
        GeometryError: The crop has no name, or day or width are beyond the bounds.
    """
    if not crop.strip():
        raise GeometryError(tr("Choose a crop first; its leaves are noted under its name."))
    if not 0 <= day <= LAST_DAY:
        raise GeometryError(tr("Give a day from 0 to {last}.", last=LAST_DAY))
    refuse_out_of_bounds(width, "width")
    if width.exact <= 0:
        raise GeometryError(tr("Leaves need a width above 0."))
    before = growth_of(project, crop)
    kept = [each for each in before.widths if each.day != day]
    widths = sorted([*kept, LeafWidth(day, width)], key=lambda each: each.day)
    return _with(project, Growth(before.crop, tuple(widths)))


def drop_width(project: Project, crop: str, day: int) -> Project:
    """Forget the width of a crop's leaves on a day."""
    before = growth_of(project, crop)
    kept = tuple(each for each in before.widths if each.day != day)
    return _with(project, Growth(before.crop, kept))


def _with(project: Project, growth: Growth) -> Project:
    wanted = growth.crop.strip().casefold()
    known = [each.crop.strip().casefold() for each in project.growth]
    if wanted not in known:
        return replace(project, growth=(*project.growth, growth))
    made = tuple(
        growth if crop == wanted else each for crop, each in zip(known, project.growth, strict=True)
    )
    return replace(project, growth=tuple(each for each in made if each.widths))
