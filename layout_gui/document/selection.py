"""What is selected: one bed, some of its rafts or holes, or one of its other things."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import lru_cache

from PySide6.QtCore import QObject, Signal

from layout_gui.project.things import Thing

HoleName = tuple[str, str]
"""The raft's name and the hole's name on it."""

Picked = tuple[frozenset[str], frozenset[HoleName], Thing | None]
"""Rafts selected as a whole, holes, a thing: at most one of them is not empty."""


@lru_cache(maxsize=1)
def by_raft(holes: frozenset[HoleName]) -> Mapping[str, set[str]]:
    """Return the names of holes, raft by raft. Whoever shows a selection asks for the same one."""
    found: dict[str, set[str]] = defaultdict(set)
    for raft, hole in holes:
        found[raft].add(hole)
    return found


class Selection(QObject):
    """The names of what is selected, shared by the canvas and the panels.

    Names only: what they stand for is looked up in the current plan. Of holes, whole rafts and a
    thing (obstacle, zone, corner of the outline, joint), selecting one kind unselects the others;
    another bed starts with nothing selected.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bed = ""
        self._rafts: frozenset[str] = frozenset()
        self._holes: frozenset[HoleName] = frozenset()
        self._thing: Thing | None = None

    @property
    def bed(self) -> str:
        """The name of the bed that is shown; empty before a bed was chosen."""
        return self._bed

    @property
    def rafts(self) -> frozenset[str]:
        """Names of the rafts selected as a whole."""
        return self._rafts

    @property
    def holes(self) -> frozenset[HoleName]:
        """The selected holes."""
        return self._holes

    @property
    def thing(self) -> Thing | None:
        """The selected obstacle, zone, corner or joint."""
        return self._thing

    @property
    def zone(self) -> str:
        """The name of the selected zone; empty when there is none."""
        return str(self._thing.key) if self._thing and self._thing.kind == "zone" else ""

    @property
    def picked(self) -> Picked:
        """All that is selected in the bed, to be brought back later."""
        return self._rafts, self._holes, self._thing

    def bring_back(self, picked: Picked) -> None:
        """Select again what was selected before."""
        self._become(self._bed, *picked)

    def set_bed(self, bed: str) -> None:
        """Turn to another bed, with nothing selected in it."""
        if bed != self._bed:
            self._become(bed, frozenset(), frozenset())

    def set_holes(self, holes: Iterable[HoleName]) -> None:
        """Select exactly these holes."""
        self._become(self._bed, frozenset(), frozenset(holes))

    def toggle(self, raft: str, hole: str) -> None:
        """Select the hole if it is not selected, otherwise unselect it."""
        self.set_holes(self._holes ^ {(raft, hole)})

    def set_rafts(self, rafts: Iterable[str]) -> None:
        """Select exactly these rafts as a whole."""
        self._become(self._bed, frozenset(rafts), frozenset())

    def set_zone(self, zone: str) -> None:
        """Select this zone, nothing else; an empty name selects nothing."""
        self.set_thing(Thing("zone", zone) if zone else None)

    def set_thing(self, thing: Thing | None) -> None:
        """Select this thing, nothing else; None selects nothing."""
        self._become(self._bed, frozenset(), frozenset(), thing)

    def clear(self) -> None:
        """Select nothing; the bed stays."""
        self._become(self._bed, frozenset(), frozenset())

    def _become(
        self,
        bed: str,
        rafts: frozenset[str],
        holes: frozenset[HoleName],
        thing: Thing | None = None,
    ) -> None:
        if (bed, rafts, holes, thing) != (self._bed, self._rafts, self._holes, self._thing):
            self._bed, self._rafts, self._holes, self._thing = bed, rafts, holes, thing
            self.changed.emit()
