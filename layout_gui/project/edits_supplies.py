"""Edits of what the shopping list goes by: own saws, packs, prices, spares and paint."""

from dataclasses import replace

from geometry.model.project import Project
from geometry.model.supplies import Supplies
from layout_gui.project.bounds import refuse_out_of_bounds


def set_supplies(project: Project, supplies: Supplies) -> Project:
    """Replace what the shopping list goes by; the plan stays as it is.

    Raises:
        GeometryError: a value is beyond the bounds of project files.
    """
    refuse_out_of_bounds(supplies)
    return replace(project, supplies=supplies)
