"""How rafts do in the water: whether they fit at every level, float, and hold their pots.

What is found out is kept by bed and raft design, so that an edit looks only at the raft that it
changed.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from geometry.afloat.pots import Seated
from geometry.afloat.riding import Afloat
from geometry.afloat.volumes import Volumes, volumes_of
from geometry.checks.as_built import check_made
from geometry.checks.check_holes import CheckedHoles
from geometry.checks.fills import check_fill
from geometry.checks.finding import Finding
from geometry.checks.floats import afloat_of, check_afloat
from geometry.checks.levels import (
    NO_RAFTS,
    Fit,
    check_above,
    check_light,
    fit_of,
    fits_alike,
)
from geometry.checks.open_water import ALL_DARK, HoleLight, in_holes
from geometry.checks.pots import check_seats
from geometry.checks.rims import NO_RIMS, CheckedRims, check_rims
from geometry.checks.surroundings import Design, Surroundings
from geometry.errors import OutlineError
from geometry.rafts.layout import RaftLayout

__all__ = ["BedInWater", "Design", "RaftInWater", "Surroundings", "look_in_water"]


@dataclass(frozen=True, slots=True)
class RaftInWater:
    """What is found out about the rafts of one design.

    ``afloat`` is None while nobody has noted how thick its foam is. ``light`` is what one of them
    lets through its holes.
    """

    design: Design
    findings: tuple[Finding, ...] = ()
    afloat: Afloat | None = None
    light: HoleLight = ALL_DARK


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
    fit: Fit = NO_RAFTS
    of_fit: tuple[Finding, ...] = ()

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
            *self.of_fit,
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
        own, fit = _look_at_bed(around), _fit(around, layout, before)
        bed = _with_volumes(BedInWater(around, own=own, layout=layout, fit=fit))
    rafts: dict[str, RaftInWater] = {}
    for design in designs:
        known = before.rafts.get(design.name) if before is not None and same else None
        if known is not None and _is_same(known.design, design):
            rafts[design.name] = known
        else:
            rafts[design.name] = _look_at_raft(around, design)
    rims = check_rims(around, checked, before.rims if before is not None and same else NO_RIMS)
    fit = _with_holes(bed.fit, rafts.values())
    of_fit = _look_at_fit(around, layout, fit, designs)
    return replace(bed, rafts=rafts, rims=rims, fit=fit, of_fit=of_fit)


def _is_same(one: Design, other: Design) -> bool:
    return (
        one.shape is other.shape
        and one.holes is other.holes
        and (one.first, one.sheet, one.uses) == (other.first, other.sheet, other.uses)
    )


def _fit(around: Surroundings, layout: RaftLayout, before: BedInWater | None) -> Fit:
    """How the rafts fit in; what is planted does not matter for it."""
    if before is not None and before.layout is layout:
        then = before.surroundings
        if then.allowances == around.allowances and fits_alike(then.bed, around.bed):
            return before.fit
    return fit_of(around.bed, layout, around.allowances)


def _with_holes(fit: Fit, rafts: Collection[RaftInWater]) -> Fit:
    loose = sum(each.light.loose * each.design.uses for each in rafts)
    plugged = sum(each.light.plugged * each.design.uses for each in rafts)
    if (loose, plugged) == (fit.light.loose, fit.light.plugged):
        return fit
    return replace(fit, light=replace(fit.light, loose=loose, plugged=plugged))


def _with_volumes(looked: BedInWater) -> BedInWater:
    bed = looked.surroundings.bed
    try:
        volumes = volumes_of(bed.outline, bed.water)
    except OutlineError as error:
        return replace(looked, no_volumes=str(error))
    found = check_fill(bed, volumes) if volumes is not None else ()
    return replace(looked, volumes=volumes, own=(*looked.own, *found))


def _look_at_bed(around: Surroundings) -> tuple[Finding, ...]:
    return (*check_seats(around),)


def _look_at_fit(
    around: Surroundings, layout: RaftLayout, fit: Fit, designs: Sequence[Design]
) -> tuple[Finding, ...]:
    """What keeps rafts from floating free and from coming out, and what lets light past them."""
    sheets = {design.sheet for design in designs}
    foam = next(iter(sheets)) if len(sheets) == 1 else None
    return (
        *fit.findings,
        *check_above(around.bed, fit, foam),
        *check_light(around.bed, layout, fit, around.limits, around.allowances),
        *check_made(around.bed, layout, fit, around.made),
    )


def _look_at_raft(around: Surroundings, design: Design) -> RaftInWater:
    afloat = afloat_of(around, design)
    light = in_holes(design.holes, around.pots, around.allowances.wobble.mm)
    return RaftInWater(design, check_afloat(around, design, afloat), afloat, light)
