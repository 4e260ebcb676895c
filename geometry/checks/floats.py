"""Does a raft float high enough, level enough, and light enough, and do its pots reach the water?

Figures come from whatever is known; a finding wants something that the grower has noted: a pot, a
weight, a limit, or how deep the water is.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache
from math import ceil, floor
from typing import Final

from geometry.afloat.pots import Seated
from geometry.afloat.riding import Afloat, Planted, lift_of, ride
from geometry.afloat.strength import WeakLine, weakest_line
from geometry.checks.finding import Code, Finding, SetLength, TakeFoam, TakePot
from geometry.checks.surroundings import Design, Surroundings
from geometry.crops.table import plain_name
from geometry.holes.sites import Holes
from geometry.model.curves import Loop
from geometry.model.limits import Limits
from geometry.model.pot import Pot
from geometry.units import MM_PER, TOLERANCE_MM

_SOLD_MM: Final = (20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0)
"""Thicknesses of boards where millimetres are used (common practice, no source)."""

_SOLD_IN: Final = tuple(float(inches * MM_PER["in"]) for inches in (0.5, 0.75, 1, 1.5, 2, 3, 4))
"""And where inches are used (common practice, no source)."""

_NO_SEAT: Final = frozenset({"falls through", "does not go in"})


def afloat_of(
    around: Surroundings, design: Design, thickness: float | None = None
) -> Afloat | None:
    """Return how a raft rides; None while nobody has noted how thick its foam is.

    ``thickness`` stands in for that of its sheet.
    """
    sheet = design.sheet
    if sheet is None or sheet.thickness is None:
        return None
    return ride(
        design.shape.loop,
        design.holes,
        planted_in(around),
        thickness=sheet.thickness.mm if thickness is None else thickness,
        density=None if sheet.density is None else float(sheet.density),
        celsius=float(around.bed.water.celsius),
        soaked=float(around.limits.soaked),
        wobble=around.allowances.wobble.mm,
    )


def planted_in(around: Surroundings) -> tuple[Planted, ...]:
    """Return what stands in the holes of each planting, as far as it was noted."""
    heads = {plain_name(crop.name): crop.grams for crop in around.crops}
    found = []
    for planting, pot, seat in zip(around.plantings, around.pots, around.seats, strict=True):
        grams = heads.get(plain_name(planting.crop))
        head = None if grams is None else float(grams) / 1000
        found.append(_planted(pot, seat, head))
    return tuple(found)


def _planted(pot: Pot | None, seat: Seated | None, head: float | None) -> Planted:
    if pot is None or seat is None:
        return Planted(head=head)
    kg = None if pot.grams is None else float(pot.grams) / 1000
    if seat.seat in _NO_SEAT:
        return Planted(pot=kg, head=head)
    return Planted(kg, head, pot.depth.mm - seat.proud, pot.rim_height.mm + seat.proud)


def weakest_of(design: Design, around: Surroundings) -> WeakLine | None:
    """Return the weakest line of a raft design; it is looked for when it is asked for."""
    return _weakest(design.shape.loop, design.holes, around.allowances.wobble.mm)


@lru_cache(maxsize=512)
def _weakest(outline: Loop, holes: Holes, wobble: float) -> WeakLine | None:
    return weakest_line(outline, holes, wobble)


def check_afloat(
    around: Surroundings, design: Design, afloat: Afloat | None
) -> tuple[Finding, ...]:
    """Find what is wrong with the rafts of a design in the water."""
    found = [*_weak_line(around, design)]
    if afloat is not None:
        for fault in _FAULTS:
            found += (
                replace(each, cure=_thicker(around, design, fault, each))
                if each.code in _FOAM_CURES
                else each
                for each in fault(around, design, afloat)
            )
    return tuple(found)


def _sinks(around: Surroundings, design: Design, afloat: Afloat) -> Iterator[Finding]:
    """One finding for the first case in which the top is awash, or has too little above it."""
    wanted = around.limits.freeboard.mm
    typed_wanted = wanted != Limits().freeboard.mm
    typed_soaked = around.limits.soaked != Limits().soaked
    for riding in afloat.ridings:
        case = riding.case
        noted = afloat.is_noted(case) and (case != "waterlogged" or typed_soaked)
        board = riding.floating.freeboard
        sinks = board < -TOLERANCE_MM and noted
        if not sinks and not (board < wanted - TOLERANCE_MM and (noted or typed_wanted)):
            continue
        code: Code = "sinks" if board < -TOLERANCE_MM else "freeboard"
        yield Finding(
            code,
            "problem" if code == "sinks" else "question",
            around.bed.name,
            raft=design.first,
            subject=case,
            amount_mm=board,
            limit_mm=0.0 if code == "sinks" else wanted,
        )
        return


def _pots(around: Surroundings, design: Design, afloat: Afloat) -> Iterator[Finding]:
    """Find pots that hang dry, or are under water, on the day of planting."""
    wet = around.limits.wet.mm
    told: set[str] = set()
    for number, (pot, planted) in enumerate(zip(around.pots, afloat.planted, strict=True)):
        under = afloat.immersion(afloat.planting, number)
        if pot is None or planted.hangs is None or under is None or pot.name in told:
            continue
        told.add(pot.name)
        if under < wet - TOLERANCE_MM:
            deeper = pot.depth.mm * (1 + (wet - under) / planted.hangs)
            yield Finding(
                "pot-dry",
                "question" if under > 0 else "problem",
                around.bed.name,
                raft=design.first,
                subject=pot.name,
                amount_mm=under,
                limit_mm=wet,
                cure=TakePot(pot.name, float(ceil(deeper - TOLERANCE_MM))),
            )
        # Where the weight is noted, a raft that sinks is told of as such.
        over = -afloat.planting.floating.freeboard - planted.stands
        if over > TOLERANCE_MM and not afloat.is_noted("planting"):
            yield Finding(
                "pot-drowned",
                "problem",
                around.bed.name,
                raft=design.first,
                subject=pot.name,
                amount_mm=over,
                limit_mm=0.0,
            )


def _aground(around: Surroundings, design: Design, afloat: Afloat) -> Iterator[Finding]:
    """Find rafts that lie on the floor, or stand on the feet of their pots, at low water."""
    water = around.bed.water
    if water.depth is None:
        return
    left = water.depth.mm - water.low.mm
    wants, what = afloat.harvest.floating.draft, ""
    for number, pot in enumerate(around.pots):
        under = afloat.immersion(afloat.harvest, number)
        if pot is not None and under is not None and under > wants:
            wants, what = under, pot.name
    if wants <= left + TOLERANCE_MM:
        return
    fall = floor((water.depth.mm - wants) * 10) / 10
    yield Finding(
        "aground",
        "question",
        around.bed.name,
        raft=design.first,
        subject=what,
        amount_mm=left,
        limit_mm=wants,
        cure=SetLength("water.low", fall) if fall >= 0 else None,
    )


def _tilts(around: Surroundings, design: Design, afloat: Afloat) -> Iterator[Finding]:
    """Find a raft whose low end goes under, or that tips over, once one half of it is picked."""
    tilt = afloat.tilt
    level = afloat.harvest.floating.freeboard
    if not afloat.is_noted("harvest") or level < 0 or (tilt.steady and not tilt.is_wet):
        return
    yield Finding(
        "tilts",
        "question",
        around.bed.name,
        raft=design.first,
        subject="" if tilt.steady else "over",
        amount_mm=tilt.low,
        limit_mm=0.0,
        figures=(abs(tilt.slope),),
    )


def _heavy(around: Surroundings, design: Design, afloat: Afloat) -> Iterator[Finding]:
    """Ask about a raft that two people do not lift, or not one where that limit was set."""
    limits, usual = around.limits, Limits()
    one, two = float(limits.lift_one), float(limits.lift_two)
    noted = afloat.is_noted("planting") or afloat.is_noted("harvest")
    typed_one, typed_two = limits.lift_one != usual.lift_one, limits.lift_two != usual.lift_two
    kg = afloat.harvest.lift
    lift = lift_of(kg, one, two)
    if lift == "more" and (noted or typed_one or typed_two):
        severity, limit = "question", two
    elif lift != "one" and typed_one:
        severity, limit = "note", one
    else:
        return
    yield Finding(
        "heavy",
        "question" if severity == "question" else "note",
        around.bed.name,
        raft=design.first,
        subject=lift,
        figures=(kg, limit),
    )


def _weak_line(around: Surroundings, design: Design) -> Iterator[Finding]:
    sound = around.limits.sound
    if sound == Limits().sound:
        return
    line = weakest_of(design, around)
    if line is not None and line.sound < float(sound) - 1e-9:
        yield Finding(
            "weak-line",
            "question",
            around.bed.name,
            raft=design.first,
            subject=str(line.holes),
            figures=(line.sound, float(sound)),
        )


_Fault = Callable[[Surroundings, Design, Afloat], Iterator[Finding]]

_FAULTS: Final[tuple[_Fault, ...]] = (_sinks, _pots, _aground, _tilts, _heavy)

_FOAM_CURES: Final[dict[Code, frozenset[Code]]] = {
    "sinks": frozenset({"sinks", "freeboard"}),
    "freeboard": frozenset({"sinks", "freeboard"}),
    "pot-drowned": frozenset({"pot-drowned", "pot-dry"}),
    "tilts": frozenset({"tilts"}),
}
"""What a thicker board clears, and what must then be gone."""


def _thicker(
    around: Surroundings, design: Design, fault: _Fault, finding: Finding
) -> TakeFoam | None:
    """Return the thinnest board that is sold with which a fault is gone, if there is one."""
    now = design.sheet.thickness if design.sheet is not None else None
    if now is None:
        return None
    for sold in _SOLD_IN if (now.exact / MM_PER["in"] * 4).denominator == 1 else _SOLD_MM:
        afloat = afloat_of(around, design, sold) if sold > now.mm + TOLERANCE_MM else None
        if afloat is None:
            continue
        left = {each.code for each in fault(around, design, afloat)}
        if not left & _FOAM_CURES[finding.code]:
            return TakeFoam(now.mm, sold)
    return None
