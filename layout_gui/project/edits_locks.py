"""Edits of locks, and the sentence for what a lock refuses."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from geometry.errors import GeometryError
from geometry.model.lock import Lock, LockKind
from geometry.model.project import Project
from geometry.tongue import mark, tr
from layout_gui.project.bounds import MOST_LOCKS, refuse_out_of_bounds

PLACING: Final = frozenset({"shape", "centre", "corner", "rafts"})
"""What a lock keeps of an obstacle or a zone."""

_LOCKED: Final[dict[LockKind, str]] = {
    "raft": mark("Raft {name} is locked; unlock it first."),
    "obstacle": mark("The obstacle “{name}” is locked; unlock it first."),
    "zone": mark("The zone “{name}” is locked; unlock it first."),
}


def locked_names(project: Project, bed: str, kind: LockKind) -> frozenset[str]:
    """Return the names of what is locked in a bed."""
    return frozenset(lock.name for lock in project.locks if lock.bed == bed and lock.kind == kind)


def set_locks(
    project: Project, bed: str, kind: LockKind, names: Iterable[str], *, locked: bool
) -> Project:
    """Lock things of a bed, or unlock them.

    Raises:
        GeometryError: there are too many locks, or there is no such bed.
    """
    if all(each.name != bed for each in project.beds):
        raise GeometryError(tr("There is no bed “{bed}”.", bed=bed))
    wanted = [Lock(bed, kind, name) for name in sorted(set(names))]
    kept = tuple(lock for lock in project.locks if lock not in wanted)
    if not locked:
        return replace(project, locks=kept)
    for lock in wanted:
        refuse_out_of_bounds(lock)
    if len(kept) + len(wanted) > MOST_LOCKS:
        raise GeometryError(tr("There are {most} locks already; unlock some.", most=MOST_LOCKS))
    return replace(project, locks=(*kept, *wanted))


def refuse_locked(project: Project, bed: str, kind: LockKind, names: Iterable[str]) -> None:
    """Raise a GeometryError that names the first of these things that is locked."""
    for name in sorted(locked_names(project, bed, kind).intersection(names)):
        raise GeometryError(tr(_LOCKED[kind], name=name))


def renamed_locks(project: Project, bed: str, kind: LockKind, old: str, new: str) -> Project:
    """Let the lock of a thing follow its new name."""
    lock = Lock(bed, kind, old)
    if old == new or lock not in project.locks:
        return project
    return replace(
        project,
        locks=tuple(replace(each, name=new) if each == lock else each for each in project.locks),
    )
