"""How rafts do in the water: whether they fit at every level, float, and hold their pots.

What is found out is kept by bed and raft design, so that an edit looks only at the raft that it
changed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from geometry.afloat.pots import Seated
from geometry.afloat.riding import Afloat
from geometry.afloat.volumes import Volumes, volumes_of
from geometry.checks.check_holes import CheckedHoles
from geometry.checks.fills import check_fill
from geometry.checks.finding import Finding
from geometry.checks.floats import afloat_of, check_afloat
from geometry.checks.pots import check_seats
from geometry.checks.rims import NO_RIMS, CheckedRims, check_rims
from geometry.checks.surroundings import Design, Surroundings
from geometry.errors import OutlineError
from geometry.rafts.layout import RaftLayout

__all__ = ["BedInWater", "Design", "RaftInWater", "Surroundings", "look_in_water"]


@dataclass(frozen=True, slots=True)
class RaftInWater:
    """What is found out about the rafts of one design.

    ``afloat`` is None while nobody has noted how thick its foam is.
    """

    design: Design
    findings: tuple[Finding, ...] = ()
    afloat: Afloat | None = None


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
    rims: CheckedRims = field(default=NO_RIMS, compare=False)

    @property
    def seats(self) -> tuple[Seated | None, ...]:
        """How the pot of each planting sits in its holes; None where none is named."""
        return self.surroundings.seats

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Those of the bed and then those of its rafts."""
        return (
            *self.own,
            *self.rims.findings,
            *(finding for raft in self.rafts.values() for finding in raft.findings),
        )


def look_in_water(
    around: Surroundings,
    layout: RaftLayout,
    designs: Sequence[Design],
    before: BedInWater | None = None,
    checked: CheckedHoles | None = None,
) -> BedInWater:
    """Find out how the rafts of a bed do; what did not change since ``before`` is taken over.

    ``checked`` has the rafts with their holes as they lie in the bed.
    """
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
    rims = check_rims(around, checked, before.rims if before is not None and same else NO_RIMS)
    return replace(bed, rafts=rafts, rims=rims)


def _is_same(one: Design, other: Design) -> bool:
    return (
        one.shape is other.shape
        and one.holes is other.holes
        and (one.first, one.sheet) == (other.first, other.sheet)
    )


def _with_volumes(looked: BedInWater) -> BedInWater:
    bed = looked.surroundings.bed
    try:
        volumes = volumes_of(bed.outline, bed.water)
    except OutlineError as error:
        return replace(looked, no_volumes=str(error))
    found = check_fill(bed, volumes) if volumes is not None else ()
    return replace(looked, volumes=volumes, own=(*looked.own, *found))


def _look_at_bed(around: Surroundings, _layout: RaftLayout) -> tuple[Finding, ...]:
    return (*check_seats(around),)


def _look_at_raft(around: Surroundings, design: Design) -> RaftInWater:
    afloat = afloat_of(around, design)
    return RaftInWater(design, check_afloat(around, design, afloat), afloat)
