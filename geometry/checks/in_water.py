"""How rafts do in the water: whether they fit at every level, float, and hold their pots.

What is found out is kept by bed and raft design, so that an edit looks only at the raft that it
changed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Self

from geometry.afloat import pots as seating
from geometry.afloat.pots import Seated
from geometry.afloat.volumes import Volumes, volumes_of
from geometry.checks.finding import Finding
from geometry.errors import OutlineError
from geometry.holes.sites import Holes
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.model.limits import Limits
from geometry.model.own_crop import OwnCrop
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.zone import all_plantings
from geometry.rafts.layout import RaftLayout, RaftShape


@dataclass(frozen=True, slots=True)
class Design:
    """The rafts of one design: its name, shape and holes, and the name of the first such raft."""

    name: str
    shape: RaftShape
    holes: Holes
    first: str
    sheet: Sheet | None
    """What it is cut from; None where sheets of several thicknesses or none would do."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """All that counts for rafts in the water besides the rafts themselves.

    ``bed`` has no hand edits, ``pots`` are those that the plantings of the bed name, in the order
    of the plantings, None where one names none.
    """

    bed: Bed
    pots: tuple[Pot | None, ...]
    crops: tuple[OwnCrop, ...]
    limits: Limits
    allowances: Allowances

    @classmethod
    def of(cls, project: Project, bed: Bed) -> Self:
        """Take what counts for one bed out of the project."""
        by_name = {pot.name: pot for pot in project.pots}
        planting = bed.planting
        if planting is not None and (planting.pins or planting.blanks):
            bed = replace(bed, planting=replace(planting, pins=(), blanks=()))
        plantings = all_plantings(planting, bed.zones) if planting is not None else ()
        pots = tuple(by_name.get(each.pot) for each in plantings)
        return cls(bed, pots, project.crops, project.limits, project.allowances)

    @property
    def plantings(self) -> tuple[Planting, ...]:
        """The bed's own planting and then those of its zones, as holes number them."""
        planting = self.bed.planting
        return all_plantings(planting, self.bed.zones) if planting is not None else ()

    @property
    def seats(self) -> tuple[Seated | None, ...]:
        """How the pot of each planting sits in its holes, as wide as they come out; None without.

        Those that stand proud hang less deep by so much.
        """
        wobble = self.allowances.wobble.mm
        return tuple(
            None
            if pot is None
            else seating.seat_of(seating.Pot.of(pot), planting.hole_diameter.mm + wobble)
            for pot, planting in zip(self.pots, self.plantings, strict=True)
        )


@dataclass(frozen=True, slots=True)
class RaftInWater:
    """What is found out about the rafts of one design."""

    design: Design
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class BedInWater:
    """What is found out about one bed and, by the names of their designs, its rafts.

    ``volumes`` are None while nobody has measured the depth, and where ``no_volumes`` says why
    they cannot be told.
    """

    surroundings: Surroundings
    rafts: Mapping[str, RaftInWater] = field(default_factory=dict)
    own: tuple[Finding, ...] = ()
    layout: RaftLayout | None = None
    volumes: Volumes | None = None
    no_volumes: str = ""

    @property
    def seats(self) -> tuple[Seated | None, ...]:
        """How the pot of each planting sits in its holes; None where none is named."""
        return self.surroundings.seats

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Those of the bed and then those of its rafts."""
        return (
            *self.own,
            *(finding for raft in self.rafts.values() for finding in raft.findings),
        )


def look_in_water(
    around: Surroundings,
    layout: RaftLayout,
    designs: Sequence[Design],
    before: BedInWater | None = None,
) -> BedInWater:
    """Find out how the rafts of a bed do; what did not change since ``before`` is taken over."""
    same = before is not None and before.surroundings == around
    if before is not None and same and before.layout is layout:
        bed = before
    else:
        bed = _with_volumes(BedInWater(around, own=_look_at_bed(around, layout), layout=layout))
    rafts: dict[str, RaftInWater] = {}
    for design in designs:
        known = before.rafts.get(design.name) if before is not None and same else None
        if known is not None and _is_same(known.design, design):
            rafts[design.name] = known
        else:
            rafts[design.name] = _look_at_raft(around, design)
    return replace(bed, rafts=rafts)


def _is_same(one: Design, other: Design) -> bool:
    return (
        one.shape is other.shape
        and one.holes is other.holes
        and (one.first, one.sheet) == (other.first, other.sheet)
    )


def _with_volumes(looked: BedInWater) -> BedInWater:
    bed = looked.surroundings.bed
    try:
        return replace(looked, volumes=volumes_of(bed.outline, bed.water))
    except OutlineError as error:
        return replace(looked, no_volumes=str(error))


def _look_at_bed(_around: Surroundings, _layout: RaftLayout) -> tuple[Finding, ...]:
    return ()


def _look_at_raft(_around: Surroundings, design: Design) -> RaftInWater:
    return RaftInWater(design)
