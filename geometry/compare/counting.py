"""How many plants a bed's pattern holds when one of its lengths is changed."""

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import Final, Literal

from geometry.errors import GeometryError, TooManyError
from geometry.holes.bed_ceiling import bed_ceiling
from geometry.holes.place import limits_of
from geometry.holes.rows import MOST_SITES, families_of
from geometry.holes.zones import lay_holes
from geometry.model.bed import Bed
from geometry.model.planting import Planting
from geometry.rafts.layout import RaftLayout
from geometry.rafts.split import lay_rafts
from geometry.units import Length

Knob = Literal["spacing", "edge_margin", "clearance", "joint_gap"]
"""A length of a bed or its planting that decides how many plants fit."""

_OF_THE_BED: Final = frozenset({"clearance", "joint_gap"})


@dataclass(frozen=True, slots=True)
class Counted:
    """The pattern's sites in a bed, and the rows that won ("" when no hole fits)."""

    plants: int
    pattern: str = ""
    direction: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """A bed in which every raft is laid by itself: ``rafts`` equal closed centre rectangles."""

    width: Fraction
    height: Fraction
    rafts: int


def changed(bed: Bed, knob: Knob, value: Fraction) -> Bed:
    """Return a planted bed with another length, in mm."""
    length = Length(value)
    planting = bed.planting
    match knob:
        case "clearance":
            return replace(bed, clearance=length)
        case "joint_gap":
            return replace(bed, joint_gap=length)
        case "spacing" if planting is not None:
            return replace(bed, planting=replace(planting, spacing=length))
        case "edge_margin" if planting is not None:
            return replace(bed, planting=replace(planting, edge_margin=length))
        case _:
            return bed


class BedCounter:
    """Counts the pattern's sites of one planted bed; every count is made once and remembered.

    Hand edits are not counted: they stand beside the pattern.
    """

    def __init__(self, bed: Bed, planting: Planting) -> None:
        self._planting = replace(planting, pins=(), blanks=(), round_to=None)
        self._bed = replace(bed, planting=self._planting)
        self._counts: dict[tuple[Knob, Fraction], int] = {}
        self._known: dict[tuple[Knob, Fraction], Counted] = {}

    @property
    def planting(self) -> Planting:
        """The rules that are counted with."""
        return self._planting

    def now(self, knob: Knob) -> Fraction:
        """Return the present value of a length, in mm."""
        holder = self._bed if knob in _OF_THE_BED else self._planting
        value: Length = getattr(holder, knob)
        return value.exact

    def plants(self) -> int:
        """Count the bed as it stands."""
        return self.at("spacing", self.now("spacing"))

    def at(self, knob: Knob, value: Fraction) -> int:
        """Count with another length, in mm; 0 where no raft or no hole is left."""
        key = knob, value
        if key not in self._counts:
            known = self._known.get(key)
            self._counts[key] = (known or self._count(knob, value, opens=False)).plants
        return self._counts[key]

    def counted(self, knob: Knob, value: Fraction) -> Counted:
        """Count with another length, and tell which rows won, which takes longer."""
        key = knob, value
        if key not in self._known:
            self._known[key] = self._count(knob, value, opens=True)
        return self._known[key]

    @cached_property
    def layout(self) -> RaftLayout:
        """The rafts as they lie now."""
        return lay_rafts(self._bed)

    @cached_property
    def is_quick(self) -> bool:
        """Whether a count takes no longer than a blink: plain rows on rectangles."""
        return not (self._bed.obstacles or self._bed.zones) and all(
            raft.shape.is_rectangle for raft in self.layout.rafts
        )

    @cached_property
    def room(self) -> Room | None:
        """The centre rectangles, where the bed has nothing but them; None otherwise."""
        rafts = self.layout.rafts
        if (
            not rafts
            or self._bed.obstacles
            or self._bed.zones
            or not families_of(self._planting.pattern)
        ):
            return None
        first = rafts[0].shape
        if not first.is_rectangle or any(raft.shape != first for raft in rafts):
            return None
        if len(rafts) > 1 and self._planting.joints != "separate":
            return None
        margin = limits_of(self._planting).margin
        width, height = first.length - 2 * margin, first.width - 2 * margin
        return Room(width, height, len(rafts)) if min(width, height) >= 0 else None

    def most_at(self, spacing: Fraction) -> int:
        """Return the proved ceiling at another spacing, in mm."""
        planting = replace(self._planting, spacing=Length(spacing))
        return bed_ceiling(replace(self._bed, planting=planting), self.layout) or 0

    def _count(self, knob: Knob, value: Fraction, *, opens: bool) -> Counted:
        # Opening lattices up never changes what an odd outline holds, and costs time.
        spread = self._planting.spread and any(
            raft.shape.is_rectangle for raft in self.layout.rafts
        )
        planting = replace(self._planting, spread=spread)
        try:
            bed = changed(replace(self._bed, planting=planting), knob, value)
            layout = lay_rafts(bed) if knob in _OF_THE_BED else self.layout
            found = lay_holes(bed, layout, opens=opens)
        except TooManyError:
            return Counted(MOST_SITES)
        except GeometryError:
            return Counted(0)
        plants = sum(len(sites.xy) for sites in found.sites)
        if not plants:
            return Counted(0)
        return Counted(plants, found.tried[0].pattern, found.tried[0].direction)
