"""What the menus do with the selected obstacle, zone, corner or joint."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING, Final  # noqa: TID251  edits are loaded with the first bed

from geometry.errors import GeometryError
from geometry.model.lock import LockKind
from geometry.tongue import tr
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.stations import StationName
from layout_gui.panels.words import counted
from layout_gui.project.things import Thing, ThingKind

if TYPE_CHECKING:
    from geometry.model.project import Project
    from layout_gui.project.grips import Way

_FEW: Final = 3
"""So many rafts are named in an undo step; more are counted."""

_STATIONS: Final[dict[ThingKind, StationName]] = {
    "obstacle": "Bed",
    "corner": "Bed",
    "zone": "Holes",
    "along": "Rafts",
    "across": "Rafts",
}


def station_of(selection: Selection) -> StationName | None:
    """Return the station whose fields are about what is selected; None when any will do."""
    if selection.holes:
        return "Holes"
    return _STATIONS[selection.thing.kind] if selection.thing is not None else None


def stands(selection: Selection) -> bool:
    """Tell whether an obstacle or a zone is selected."""
    return selection.thing is not None and selection.thing.stands


class Things:
    """Duplicates, mirrors and turns the selected thing; every time one undo step."""

    def __init__(
        self, document: Document, selection: Selection, refuse: Callable[[str], object]
    ) -> None:
        self._document = document
        self._selection = selection
        self._refuse = refuse

    def duplicate(self) -> None:
        """Put a copy beside the selected obstacle or zone and select it."""
        from layout_gui.project import edits_things  # noqa: PLC0415  see above

        project, bed, thing = self._document.project, self._selection.bed, self._selection.thing
        if thing is None or not thing.stands:
            return
        try:
            made, copy = edits_things.duplicate_beside(project, bed, thing)
        except GeometryError as error:
            self._refuse(str(error))
            return
        self._document.apply(tr("Duplicate {thing}", thing=self._name(thing)), made)
        self._selection.set_thing(copy)

    def mirror(self, way: Way) -> None:
        """Mirror the selected obstacle or zone to the other half of the bed."""
        from layout_gui.project import edits_things  # noqa: PLC0415  see above

        self._change(
            tr("Mirror {thing}"),
            lambda project, bed, thing: edits_things.mirror_standing(project, bed, thing, way),
        )

    def turn(self) -> None:
        """Turn the selected obstacle or zone a quarter against the clock."""
        from layout_gui.project import edits_things  # noqa: PLC0415  see above

        self._change(
            tr("Turn {thing}"),
            lambda project, bed, thing: edits_things.turn_standing(
                project, bed, thing, Fraction(90)
            ),
        )

    @property
    def can_lock(self) -> bool:
        """Whether rafts, an obstacle or a zone is selected."""
        return bool(self._lockable()[1])

    @property
    def is_locked(self) -> bool:
        """Whether all that is selected and can be locked is locked."""
        kind, names = self._lockable()
        if not names:
            return False
        bed = self._selection.bed
        locks = self._document.project.locks
        return names <= {lock.name for lock in locks if lock.bed == bed and lock.kind == kind}

    def lock(self) -> None:
        """Lock the selected rafts, obstacle or zone; unlock them if all of them are locked."""
        from layout_gui.project import edits_locks  # noqa: PLC0415  see above

        kind, names = self._lockable()
        if not names:
            return
        is_locked = not self.is_locked
        project, bed = self._document.project, self._selection.bed
        try:
            made = edits_locks.set_locks(project, bed, kind, names, locked=is_locked)
        except GeometryError as error:
            self._refuse(str(error))
            return
        name = ", ".join(sorted(names)) if len(names) <= _FEW else counted(len(names), "raft")
        words = tr("Lock {thing}", thing=name) if is_locked else tr("Unlock {thing}", thing=name)
        self._document.apply(words, made)

    def _lockable(self) -> tuple[LockKind, frozenset[str]]:
        """What is selected and can be locked."""
        thing, bed = self._selection.thing, self._selection.bed
        if thing is None or not thing.stands:
            return "raft", self._selection.rafts
        if thing.kind == "zone":
            return "zone", frozenset([str(thing.key)])
        beds = [each for each in self._document.project.beds if each.name == bed]
        obstacles = beds[0].obstacles if beds else ()
        there = obstacles[thing.number : thing.number + 1]
        return "obstacle", frozenset(each.name for each in there)

    def remove(self) -> None:
        """Take the selected thing out."""
        from layout_gui.project import edits_things  # noqa: PLC0415  see above

        if self._change(tr("Remove {thing}"), edits_things.remove_thing):
            self._selection.clear()

    def _change(self, text: str, edit: Callable[[Project, str, Thing], Project]) -> bool:
        thing = self._selection.thing
        if thing is None:
            return False
        name = self._name(thing)
        try:
            project = edit(self._document.project, self._selection.bed, thing)
        except GeometryError as error:
            self._refuse(str(error))
            return False
        self._document.apply(text.format(thing=name), project)
        return True

    def _name(self, thing: Thing) -> str:
        from layout_gui.project import edits, edits_things  # noqa: PLC0415  see above

        bed = edits.find_bed(self._document.project, self._selection.bed)
        return edits_things.thing_words(bed, thing) if edits_things.has_thing(bed, thing) else ""
