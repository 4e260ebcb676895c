"""Edits of guide lines: each returns a project that has the line, moved, locked or gone.

A bed has a line once: what would be a second one in the same place is that line.
"""

from dataclasses import replace

from geometry.errors import GeometryError
from geometry.model.guide_line import GuideLine
from geometry.model.project import Project
from geometry.tongue import tr
from geometry.units import Length
from layout_gui.project.bounds import MOST_GUIDE_LINES, refuse_out_of_bounds


def guide_lines_of(project: Project, bed: str) -> tuple[GuideLine, ...]:
    """Return the guide lines of a bed."""
    return tuple(line for line in project.guide_lines if line.bed == bed)


def add_guide_line(project: Project, line: GuideLine) -> Project:
    """Add a guide line; one that lies there already stays as it is.

    Raises:
        GeometryError: there is no such bed, the place is out of bounds, or there are too many.
    """
    refuse_out_of_bounds(line)
    if all(bed.name != line.bed for bed in project.beds):
        raise GeometryError(tr("There is no bed “{bed}”.", bed=line.bed))
    if _at(project, line) is not None:
        return project
    if len(project.guide_lines) >= MOST_GUIDE_LINES:
        raise GeometryError(
            tr("There are {most} guide lines already; remove some first.", most=MOST_GUIDE_LINES)
        )
    return replace(project, guide_lines=(*project.guide_lines, line))


def move_guide_line(project: Project, line: GuideLine, at: Length) -> Project:
    """Move a guide line; onto another one it becomes one with it.

    Raises:
        GeometryError: the line is locked, is not there, or the place is out of bounds.
    """
    _refuse_locked(line)
    moved = replace(line, at=at)
    refuse_out_of_bounds(moved)
    if moved == line:
        return project
    if _at(project, moved) is not None:
        return remove_guide_line(project, line)
    return _with(project, line, moved)


def lock_guide_line(project: Project, line: GuideLine, *, locked: bool) -> Project:
    """Lock a guide line where it is, or unlock it."""
    return _with(project, line, replace(line, locked=locked))


def remove_guide_line(project: Project, line: GuideLine) -> Project:
    """Take a guide line out.

    Raises:
        GeometryError: the line is locked, or is not there.
    """
    _refuse_locked(line)
    return _with(project, line, None)


def remove_guide_lines(project: Project, bed: str) -> Project:
    """Take all guide lines of a bed out, locked ones too."""
    return replace(
        project, guide_lines=tuple(line for line in project.guide_lines if line.bed != bed)
    )


def _at(project: Project, line: GuideLine) -> GuideLine | None:
    return next(
        (
            other
            for other in project.guide_lines
            if (other.bed, other.axis, other.at) == (line.bed, line.axis, line.at)
        ),
        None,
    )


def _with(project: Project, line: GuideLine, other: GuideLine | None) -> Project:
    if line not in project.guide_lines:
        raise GeometryError(tr("This guide line is gone."))
    changed = [
        other if each == line else each
        for each in project.guide_lines
        if each != line or other is not None
    ]
    return replace(project, guide_lines=tuple(each for each in changed if each is not None))


def _refuse_locked(line: GuideLine) -> None:
    if line.locked:
        raise GeometryError(tr("This guide line is locked; unlock it first."))
