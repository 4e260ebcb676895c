"""Edits of the water of a bed."""

from dataclasses import replace
from typing import Any

from geometry.model.project import Project
from layout_gui.project.edits import find_bed, set_bed


def set_water(project: Project, bed: str, **changes: Any) -> Project:
    """Change values of a bed's water, named as in the model.

    Raises:
        GeometryError: A value is beyond the bounds, or two of them forbid each other.
    """
    return set_bed(project, bed, water=replace(find_bed(project, bed).water, **changes))
