"""Edits of the room that rafts have: walls that lean, what makes rafts larger."""

from dataclasses import replace
from typing import Any, Final

from geometry.beds.levels import may_lean, top_sizes
from geometry.errors import GeometryError
from geometry.model.outlines import Disc
from geometry.model.project import Project
from geometry.model.water import Walls
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.project.bounds import refuse_out_of_bounds
from layout_gui.project.edits import find_bed
from layout_gui.project.edits_water import set_water

_USUAL_DEPTH: Final = {"mm": Length.of(100), "cm": Length.of(100), "in": Length.of("4 in")}


def set_allowances(project: Project, **changes: Any) -> Project:
    """Reckon with other growth of rafts and holes."""
    allowances = replace(project.allowances, **changes)
    refuse_out_of_bounds(allowances)
    return replace(project, allowances=allowances)


def lean_walls(project: Project, bed: str, *, lean: bool) -> Project:
    """Begin a second measuring of the walls, at first just like the outline, or drop it.

    Raises:
        GeometryError: Two sizes are not enough for walls of this shape.
    """
    if not lean:
        return set_water(project, bed, walls=None)
    found = find_bed(project, bed)
    if not may_lean(found.outline):
        raise GeometryError(
            tr("For this shape two sizes are not enough: measure it all at the lowest water.")
        )
    length, width = top_sizes(found.outline)
    depth = found.water.depth or _USUAL_DEPTH[project.units]
    return set_water(project, bed, walls=Walls(depth, Length(length), Length(width)))


def set_walls(project: Project, bed: str, **changes: Any) -> Project:
    """Change the second measuring of a bed's walls; a round bed is as long as it is wide."""
    found = find_bed(project, bed)
    if found.water.walls is None:
        raise GeometryError(tr("The walls are straight; say first that they lean."))
    walls = replace(found.water.walls, **changes)
    if isinstance(found.outline, Disc) and "width" in changes:
        walls = replace(walls, length=walls.width)
    return set_water(project, bed, walls=walls)
