"""How rafts go through a bed from week to week."""

from dataclasses import replace

from geometry.errors import GeometryError
from geometry.model.bed import Pushed
from geometry.model.project import Project
from geometry.tongue import tr


def push_rafts(project: Project, bed: str, pushed: Pushed) -> Project:
    """Let the rafts of a bed stay where they are set, or be pushed to one of its ends.

    Raises:
        GeometryError: There is no such bed.
    """
    if all(each.name != bed for each in project.beds):
        raise GeometryError(tr("There is no bed “{bed}”.", bed=bed))
    beds = tuple(
        replace(each, pushed=pushed) if each.name == bed else each for each in project.beds
    )
    return replace(project, beds=beds)
