"""How rafts ride and how they are lifted, in words and figures, for the window and paper alike.

Each figure says what it rests on, and what is an assumption is called one.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from geometry.afloat.riding import (
    USUAL_FOAM,
    USUAL_HEAD,
    USUAL_POT,
    Afloat,
    Assumption,
    Lift,
    Riding,
    lift_of,
)
from geometry.checks.floats import weakest_of
from geometry.checks.in_water import RaftInWater
from geometry.drawing.figures import (
    KG_PER_POUND,
    figure,
    length_text,
    share_text,
    slope_text,
    weight_text,
)
from geometry.drawing.section import Axis, State
from geometry.drawing.water_figures import Fact
from geometry.model.limits import Limits
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import listed, mark, number, plural, signed, tr
from geometry.units import MM_PER, Unit

_LIFTS: Final[dict[Lift, str]] = {
    "one": mark("one person"),
    "two": mark("two people"),
    "more": mark("more than two people, or smaller rafts"),
}
_Measure = Callable[[Riding], float]

_LB_FT3: Final = KG_PER_POUND / (float(MM_PER["ft"]) / 1000) ** 3


def worst_design(plan: Plan, bed: BedPlan) -> RaftDesign | None:
    """Return the raft design of a bed that weighs the most at the harvest, the first if unknown."""
    looked = plan.water_of(bed.bed.name)
    if looked is None or not bed.designs:
        return None

    def weight(design: RaftDesign) -> float:
        raft = looked.rafts.get(design.name)
        return raft.afloat.harvest.lift if raft is not None and raft.afloat is not None else 0.0

    return max(bed.designs, key=weight)


def raft_in_water(plan: Plan, bed: BedPlan, design: RaftDesign) -> RaftInWater | None:
    """Return what is found out about a raft design in the water."""
    looked = plan.water_of(bed.bed.name)
    return looked.rafts.get(design.name) if looked is not None else None


def no_float_words(afloat: Afloat | None) -> str:
    """Say what must be typed before anything can be told of a raft; empty where it is known."""
    if afloat is not None:
        return ""
    return tr(
        "Type how thick the foam is, at the sheets: then draft, freeboard, pots and weight can be "
        "told."
    )


def float_line(afloat: Afloat | None, limits: Limits, unit: Unit) -> str:
    """Say in one breath how a raft rides at the harvest; empty where it is not known."""
    if afloat is None:
        return ""
    at = afloat.harvest
    if at.floating.sinks:
        return tr("sinks at the harvest")
    return tr(
        "{freeboard} of freeboard at the harvest, {kg} to lift: {who}",
        freeboard=length_text(at.floating.freeboard, unit),
        kg=weight_text(at.lift, unit),
        who=lift_words(at.lift, limits),
    )


def state_line(afloat: Afloat, state: State, axis: Axis, unit: Unit) -> str:
    """Say how a raft lies in one of the states in which it can be drawn."""
    if state == "half picked":
        tilt = afloat.along if axis == "along" else afloat.across
        if not tilt.steady:
            return tr("tips over")
        return tr(
            "slopes {slope}, its low end {low} above the water"
            if not tilt.is_wet
            else "slopes {slope}, its low end {low} under water",
            slope=slope_text(abs(tilt.slope), unit),
            low=length_text(abs(tilt.low), unit),
        )
    at = {"planting": afloat.planting, "waterlogged": afloat.waterlogged}.get(state, afloat.harvest)
    if at.floating.sinks:
        return tr("sinks")
    return tr(
        "draft {draft}, freeboard {freeboard}, {kg} to lift",
        draft=length_text(at.floating.draft, unit),
        freeboard=length_text(at.floating.freeboard, unit),
        kg=weight_text(at.lift, unit),
    )


def lift_words(kg: float, limits: Limits) -> str:
    """Say who lifts so much."""
    return tr(_LIFTS[lift_of(kg, float(limits.lift_one), float(limits.lift_two))])


def float_facts(plan: Plan, bed: BedPlan, design: RaftDesign) -> tuple[Fact, ...]:
    """Tell all that is known of a raft design in the water."""
    raft = raft_in_water(plan, bed, design)
    if raft is None:
        return ()
    unit, limits = plan.project.units, plan.project.limits
    facts = [*_strength(plan, bed, raft, unit)]
    if raft.afloat is not None:
        afloat = raft.afloat
        facts = [
            *_riding(afloat, unit),
            *_pots(plan, bed, afloat, unit),
            _tilt(afloat, unit),
            *_lifting(afloat, limits, unit),
            *facts,
        ]
    return tuple(facts)


def _riding(afloat: Afloat, unit: Unit) -> Iterator[Fact]:
    yield Fact(
        tr("Draft"),
        _from_to(afloat, lambda at: at.floating.draft, unit),
        tr("on the day of planting, and at the harvest"),
    )
    yield Fact(tr("Freeboard"), _from_to(afloat, lambda at: at.floating.freeboard, unit))
    yield Fact(
        tr("Freeboard on old foam"),
        length_text(afloat.waterlogged.floating.freeboard, unit),
        tr("at the harvest, once the foam is waterlogged"),
    )
    yield Fact(
        tr("Carries at most"),
        weight_text(max(afloat.most, 0.0), unit),
        tr(
            "until its top is awash; {load} stand on it at the harvest. Holes take {share} of it.",
            load=weight_text(afloat.harvest.load, unit),
            share=signed(f"{afloat.hole_share:.1%}"),
        ),
    )


def _from_to(afloat: Afloat, measure: _Measure, unit: Unit) -> str:
    return _two_lengths(measure(afloat.planting), measure(afloat.harvest), unit)


def _two_lengths(first: float, last: float, unit: Unit) -> str:
    before, after = figure(first, unit), length_text(last, unit)
    same = before == figure(last, unit)
    return after if same else f"{before} \N{RIGHTWARDS ARROW} {after}"


def _pots(plan: Plan, bed: BedPlan, afloat: Afloat, unit: Unit) -> Iterator[Fact]:
    looked = plan.water_of(bed.bed.name)
    pots = looked.surroundings.pots if looked is not None else ()
    told: set[str] = set()
    for kind, pot in enumerate(pots):
        first, last = (afloat.immersion(at, kind) for at in (afloat.planting, afloat.harvest))
        if pot is None or first is None or last is None or pot.name in told:
            continue
        told.add(pot.name)
        yield Fact(
            tr("“{pot}” in the water", pot=pot.name),
            _two_lengths(max(first, 0.0), max(last, 0.0), unit),
            tr("its lowest part that is wet")
            if first > 0
            else tr("it hangs {height} too high to touch it", height=length_text(-first, unit)),
        )


def _tilt(afloat: Afloat, unit: Unit) -> Fact:
    tilt = afloat.tilt
    if not tilt.steady:
        return Fact(tr("One half picked"), tr("tips over"), tr("too narrow for what stands on it"))
    low = length_text(abs(tilt.low), unit)
    return Fact(
        tr("One half picked"),
        slope_text(abs(tilt.slope), unit),
        tr("its low end is {low} under water; pick from both ends in turn", low=low)
        if tilt.is_wet
        else tr("its low end stays {low} above the water", low=low),
    )


def _lifting(afloat: Afloat, limits: Limits, unit: Unit) -> Iterator[Fact]:
    first, last = (weight_text(at.lift, unit) for at in (afloat.planting, afloat.harvest))
    yield Fact(
        tr("To lift"),
        f"{first} \N{RIGHTWARDS ARROW} {last}",
        tr(
            "foam, wet pots and heads; the water in the roots comes on top. At the harvest: {who}.",
            who=lift_words(afloat.harvest.lift, limits),
        ),
    )


def _strength(plan: Plan, bed: BedPlan, raft: RaftInWater, unit: Unit) -> Iterator[Fact]:
    looked = plan.water_of(bed.bed.name)
    line = weakest_of(raft.design, looked.surroundings) if looked is not None else None
    if line is not None:
        yield Fact(
            tr("Weakest line"),
            tr("{share} foam", share=share_text(line.sound)),
            tr(
                "the straight line from edge to edge through {holes}; {wanted} is common "
                "practice, no source",
                holes=plural(line.holes, "hole"),
                wanted=share_text(float(plan.project.limits.sound)),
            ),
        )
    shape = raft.design.shape
    yield Fact(tr("Longest span"), length_text(max(shape.length, shape.width), unit))


def assumption_words(assumed: Sequence[Assumption], unit: Unit) -> str:
    """Name the masses that stand in for what nobody has noted; empty where there are none."""
    if not assumed:
        return ""
    said = {
        "foam": tr(
            "foam {density}",
            density=tr("{pounds} lb/ft³", pounds=number(USUAL_FOAM / _LB_FT3, 1))
            if unit == "in"
            else tr("{kilograms} kg/m³", kilograms=number(USUAL_FOAM, 0)),
        ),
        "head": tr("a head {kg}", kg=_small_weight(USUAL_HEAD, unit)),
        "pot": tr("a wet pot with its plug {kg}", kg=_small_weight(USUAL_POT, unit)),
    }
    return tr(
        "Assumed, common practice without a source: {what}.",
        what=listed([said[each] for each in assumed]),
    )


def _small_weight(kg: float, unit: Unit) -> str:
    if unit == "in":
        return tr("{ounces} oz", ounces=number(kg / KG_PER_POUND * 16, 1))
    return tr("{grams} g", grams=number(kg * 1000, 0))


def raft_lines(plan: Plan, bed: BedPlan, design: RaftDesign) -> tuple[str, ...]:
    """Say on the page of a raft how it rides and who lifts it; nothing where it is not known."""
    raft = raft_in_water(plan, bed, design)
    if raft is None or raft.afloat is None or not len(design.holes):
        return ()
    unit, afloat = plan.project.units, raft.afloat
    at, limits = afloat.harvest, plan.project.limits
    floats = (
        tr("It sinks at the harvest.")
        if at.floating.sinks
        else tr(
            "It floats {draft} deep at the harvest, {freeboard} above the water.",
            draft=length_text(at.floating.draft, unit),
            freeboard=length_text(at.floating.freeboard, unit),
        )
    )
    lifts = tr(
        "It weighs about {kg} at the harvest and the water in its roots on top: {who}. Two hands "
        "under its long edges; local rules decide.",
        kg=weight_text(at.lift, unit),
        who=lift_words(at.lift, limits),
    )
    assumed = assumption_words(afloat.assumed, unit)
    return tuple(filter(None, (floats, lifts, assumed)))
