"""Edits of the choices that are kept to compare: their names and their order."""

from dataclasses import replace

from geometry.errors import GeometryError
from geometry.model.project import Choice, Project
from geometry.tongue import tr
from layout_gui.project.bounds import refuse_out_of_bounds


def rename_choice(project: Project, bed: str, name: str, new: str) -> Project:
    """Give a kept choice of a bed another name.

    Raises:
        GeometryError: There is no such choice, another has the name, or the name is no name.
    """
    at = _place(project, bed, name)
    if not new.strip():
        raise GeometryError(tr("A kept choice needs a name; write one, such as wide rows."))
    if any(each.name == new for each in project.choices if each.name != name):
        raise GeometryError(tr("Another kept choice is called “{name}”.", name=new))
    choice = replace(project.choices[at], name=new)
    refuse_out_of_bounds(choice)
    return replace(project, choices=(*project.choices[:at], choice, *project.choices[at + 1 :]))


def move_choice(project: Project, bed: str, name: str, by: int) -> Project:
    """Move a kept choice so many places down among those of its bed, or up (negative).

    At either end it stays there. The choices of other beds keep their places.
    """
    at = _place(project, bed, name)
    own = [number for number, each in enumerate(project.choices) if each.bed == bed]
    order: list[Choice] = [project.choices[number] for number in own]
    here = own.index(at)
    moved = order.pop(here)
    order.insert(min(max(here + by, 0), len(order)), moved)
    choices = list(project.choices)
    for number, choice in zip(own, order, strict=True):
        choices[number] = choice
    return replace(project, choices=tuple(choices))


def _place(project: Project, bed: str, name: str) -> int:
    for at, choice in enumerate(project.choices):
        if (choice.bed, choice.name) == (bed, name):
            return at
    raise GeometryError(tr("No choice “{name}” is kept for “{bed}”.", name=name, bed=bed))
