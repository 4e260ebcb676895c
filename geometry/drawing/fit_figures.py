"""The room of rafts at each level and the light past them in words, for window and paper alike."""

from collections.abc import Iterator
from typing import Final

from geometry.beds.levels import LEVELS, PLUMB, Level, may_lean
from geometry.checks.in_water import BedInWater
from geometry.checks.levels import Fit, Widest, widest_opening
from geometry.drawing.figures import figure, length_text
from geometry.drawing.water_figures import Fact
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed
from geometry.plan import BedPlan, Plan
from geometry.rafts.play import LevelFit, Play
from geometry.tongue import listed, mark, number, tr, tr_n
from geometry.units import Unit, format_area

LEVEL_WORDS: Final[dict[Level, str]] = {
    "low": mark("Low water"),
    "working": mark("Working level"),
    "high": mark("High water"),
}
"""The levels as the names of rows."""

_WIDEST: Final[dict[str, str]] = {
    "along": mark("{width} along the bed"),
    "across": mark("{width} across the bed"),
}
_NAMES: Final = 6
"""So many rafts are named before the rest is counted."""


def fit_in(plan: Plan, bed: BedPlan) -> Fit | None:
    """How the rafts of a bed fit in; None where there are none."""
    looked = plan.water_of(bed.bed.name)
    return looked.fit if looked is not None and looked.fit.levels else None


def says_more(bed: Bed, allowances: Allowances) -> bool:
    """Tell whether the grower has given more than the gaps to reckon the room from."""
    return bool(bed.water.low.exact or bed.water.high.exact or bed.water.walls is not None) or (
        allowances != Allowances()
    )


def room_line(fit: Fit, unit: Unit) -> str:
    """Say in one breath whether rafts float free, or how much room they have."""
    stuck = [each.level for each in fit.levels if each.is_stuck]
    if stuck:
        jams = {
            "low": tr("jams at low water"),
            "working": tr("jams at the working level"),
            "high": tr("jams at high water"),
        }
        return listed([jams[level] for level in LEVELS if level in stuck])
    least = [min(each.play(axis).least for each in fit.levels) for axis in ("along", "across")]
    return tr(
        "at least {along} along, {across} across",
        along=length_text(least[0], unit),
        across=length_text(least[1], unit),
    )


def level_facts(plan: Plan, bed: BedPlan) -> Iterator[Fact]:
    """One figure for each level of the water: the room of the largest rafts, and as they are cut.

    Beneath the levels stands what the figures rest on.
    """
    fit, unit = fit_in(plan, bed), plan.project.units
    if fit is None:
        return
    for each in fit.levels:
        yield Fact(tr(LEVEL_WORDS[each.level]), level_words(each, unit), _near_words(each, unit))


def fit_lines(plan: Plan, bed: BedPlan) -> Iterator[str]:
    """Lines for paper: each level with its room, what it rests on, and how rafts come out.

    Nothing of what the grower has given no figures for.
    """
    fit = fit_in(plan, bed)
    if fit is None:
        return
    if says_more(bed.bed, plan.project.allowances):
        for fact in level_facts(plan, bed):
            line = tr("{name}: {value}.", name=fact.name, value=fact.value)
            yield f"{line} {fact.note}".rstrip()
        yield tr(
            "All the room together: try the first raft in the bed at each level before the rest "
            "is cut."
        )
    if lifting := lifting_words(fit):
        yield lifting


def level_words(fit: LevelFit, unit: Unit) -> str:
    """Write the room along and across the bed at one level."""
    return tr(
        "{along} along, {across} across",
        along=_play_words(fit.along, unit),
        across=_play_words(fit.across, unit),
    )


def _play_words(play: Play, unit: Unit) -> str:
    most = length_text(play.most, unit)
    if play.least < 0:
        return tr("{missing} missing", missing=length_text(-play.least, unit))
    if play.least == play.most:
        return most
    return tr("{least} to {most}", least=figure(play.least, unit), most=most)


def _near_words(fit: LevelFit, unit: Unit) -> str:
    if fit.near is None:
        return ""
    if fit.near.away < 0:
        return tr(
            "{raft} reaches {over} into the wall where it lies best.",
            raft=fit.near.raft,
            over=length_text(-fit.near.away, unit),
        )
    return tr(
        "{raft} comes nearest to the wall, {away} off it.",
        raft=fit.near.raft,
        away=length_text(fit.near.away, unit),
    )


def room_basis(plan: Plan, bed: BedPlan) -> str:
    """Say what the figures of the levels rest on."""
    own, water = bed.bed, bed.bed.water
    parts = [
        tr("All the room together: both gaps at the walls and the joints."),
        tr("From the largest rafts, painted, soaked and warm, to rafts as they are cut.")
        if plan.project.allowances != Allowances()
        else tr("Of rafts as they are cut; what makes them larger is typed below."),
    ]
    if water.walls is not None and not may_lean(own.outline):
        parts.append(tr("For this shape two sizes are not enough: its walls count as plumb."))
    elif water.walls is not None and water.high.exact:
        parts.append(tr("Above the working level the walls are taken to go straight on."))
    return " ".join(parts)


def lifting_words(fit: Fit) -> str:
    """Say whether rafts come out from under what lies above them; empty where nothing does."""
    lifting = fit.lifting
    if not lifting.covered:
        return ""
    words = [
        tr_n(
            "{n} raft lies under {things}.",
            "{n} rafts lie under {things}.",
            len(lifting.covered),
            things=listed(lifting.things),
        )
    ]
    if lifting.slid:
        words.append(tr("{rafts}: slide it aside, then lift.", rafts=_named(lifting.slid)))
    if lifting.after:
        words.append(tr("{rafts}: only once its neighbours are out.", rafts=_named(lifting.after)))
    if lifting.trapped:
        names = tuple(each.raft for each in lifting.trapped)
        words.append(tr("{rafts}: does not come out.", rafts=_named(names)))
    words.append(tr("Judged by boxes, each raft lifted level; tilting is not tried."))
    return " ".join(words)


def _named(names: tuple[str, ...]) -> str:
    if len(names) <= _NAMES:
        return ", ".join(names)
    return tr("{names} and {n} more", names=", ".join(names[:_NAMES]), n=len(names) - _NAMES)


def light_line(fit: Fit) -> str:
    """Say in one breath how much of the water lies open to light."""
    return tr("{share} % of the water lies open", share=_percent(fit.light.open_share))


def light_facts(plan: Plan, bed: BedPlan) -> Iterator[Fact]:
    """Where light reaches the water: each part with its share, and what would save it."""
    looked, unit = plan.water_of(bed.bed.name), plan.project.units
    if looked is None or not looked.fit.levels:
        return
    light = looked.fit.light
    widest = widest_opening(looked.fit)
    if widest is not None:
        yield Fact(tr("Widest gap"), _widest_words(widest, unit), _widest_note(widest))
    yield Fact(
        tr("At the wall"),
        _part(light.wall, light.share(light.wall), unit),
        tr("Closed by the strip.") if light.sealed else tr("A strip at the wall would close it."),
    )
    if light.joints > 0:
        yield Fact(tr("Between rafts"), _part(light.joints, light.share(light.joints), unit))
    if any(pot is not None for pot in looked.surroundings.pots):
        yield Fact(tr("Around pots"), _part(light.loose, light.share(light.loose), unit))
    elif bed.plants:
        yield Fact(
            tr("Around pots"), tr("not known"), tr("Name the pot at Holes; until then holes count "
            "as filled.")
        )  # fmt: skip
    if light.plugged:
        yield Fact(
            tr("In plugged holes"),
            _part(light.plugged, light.share(light.plugged), unit),
            tr("Dark as long as they are plugged; not counted as open."),
        )
    yield Fact(tr("Open in all"), _part(light.open, light.open_share, unit), _levels_note(looked))


def _levels_note(looked: BedInWater) -> str:
    light = looked.fit.light
    others = {
        "low": mark("{share} % at low water"),
        "high": mark("{share} % at high water"),
    }
    shares = [
        tr(others[each.level], share=_percent(light.at(each.water_mm2)))
        for each in looked.fit.levels
        if each.level != "working" and each.lean != PLUMB and not each.is_stuck
    ]
    return listed(shares) if shares else ""


def _widest_words(widest: Widest, unit: Unit) -> str:
    return tr(_WIDEST[widest.axis], width=length_text(widest.mm, unit))


def _widest_note(widest: Widest) -> str:
    levels = {
        "low": mark("At low water, with all rafts drifted to one side."),
        "working": mark("With all rafts drifted to one side."),
        "high": mark("At high water, with all rafts drifted to one side."),
    }
    return tr(levels[widest.fit.level])


def _part(mm2: float, share: float, unit: Unit) -> str:
    return tr("{share} %, {area}", share=_percent(share), area=format_area(mm2, unit))


def _percent(share: float) -> str:
    return number(100 * share, 1)
