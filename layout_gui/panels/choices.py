"""Choices side by side and the step curve, in the words and numbers of the drawer."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from time import monotonic
from typing import Any, Final, Literal

from geometry.afloat.riding import Afloat
from geometry.compare.choices import ChoiceResult, result_of
from geometry.compare.comparison import BOTH, Comparison, Share, compare_bed
from geometry.compare.growing import Growing
from geometry.compare.thresholds import Threshold
from geometry.drawing.choice_drawing import draw_choice
from geometry.drawing.figures import length_text, weight_text
from geometry.drawing.marks import Drawing
from geometry.model.bed import Bed
from geometry.model.planting import Pattern, Planting
from geometry.model.project import Choice, Project
from geometry.plan import BedPlan
from geometry.tongue import mark, number, tr, tr_n
from geometry.units import Unit, exact_text, format_density, format_length
from layout_gui.panels.curve_reading import difference_words
from layout_gui.panels.now import Now
from layout_gui.panels.words import DASH, PATTERN_WORDS, bare_length
from layout_gui.wording.leaves import growing_sentences, percent
from layout_gui.wording.thresholds import threshold_sentence, threshold_words

MINUS: Final = "\N{MINUS SIGN}"
_TELL_S: Final = 0.15
"""News closer together than this would be drawn for nobody."""


@dataclass(frozen=True, slots=True)
class Compared:
    """What is known so far, and the drawings of the choices that were planned since the last news.

    A drawing is found by the planting of its choice's result.
    """

    known: Comparison
    drawings: Mapping[Planting, Drawing] = field(default_factory=dict)


def compare(
    tell: Callable[[Any], None],
    project: Project,
    bed: Bed,
    series: Sequence[Pattern],
    now: ChoiceResult | None = None,
    before: Comparison | None = None,
    shares: Sequence[Share] = BOTH,
) -> Compared:
    """Compare one bed, telling what is known so far; the work of a process of its own."""
    fresh: dict[Planting, Drawing] = {}

    def look(result: ChoiceResult, planned: BedPlan) -> None:
        drawing = draw_choice(planned)
        if drawing is not None:
            fresh[result.planting] = drawing

    found, told = Comparison(), 0.0
    for found in compare_bed(
        project, bed, series=series, now=now, look=look, before=before, shares=shares
    ):
        if monotonic() - told > _TELL_S:
            tell(Compared(found, dict(fresh)))
            fresh.clear()
            told = monotonic()
    return Compared(found, fresh)


def headers(unit: Unit) -> tuple[str, ...]:
    """Name the columns of ``texts``."""
    area = tr("per ft²") if unit == "in" else tr("per m²")
    return (
        tr("choice, {unit}", unit=unit), tr("plants"), tr("±"), area, tr("ceiling"), tr("foam"),
        tr("touch"), tr("covered"), tr("move"), tr("freeboard"), tr("to lift"),
    )  # fmt: skip


TIPS: Final = (
    mark("Pattern, spacing and edge margin; kept choices by their names"),
    mark("Plants in the whole bed"),
    mark("Plants more or fewer than the bed holds as it stands"),
    mark("Plants for each unit of water"),
    mark("Share of the most that any arrangement could hold"),
    mark("Least foam left between two rims or at an edge, and the difference to now"),
    mark("Day on the water on which leaves first touch"),
    mark("Share of the water under leaves at harvest"),
    mark("Day on which 98 % of the water is covered: the day to move plants apart"),
    mark("Foam above the water at harvest, under the raft that weighs the most"),
    mark("What that raft weighs at harvest, lifted out"),
)
Matter = Literal["foam", "leaves", "float"]
"""What some columns are about."""

MATTERS: Final[dict[Matter, range]] = {
    "foam": range(3, 6),
    "leaves": range(6, 9),
    "float": range(9, 11),
}
"""The columns of each matter; those before them are always in sight."""


def known_matters(results: Sequence[ChoiceResult]) -> tuple[Matter, ...]:
    """Return the matters that something is known about in some of these."""
    has_leaves = any(result.growing is not None for result in results)
    has_float = any(result.afloat is not None for result in results)
    known: list[Matter] = ["foam"]
    known += ["leaves"] if has_leaves else []
    known += ["float"] if has_float else []
    return tuple(known)


def choice_words(result: ChoiceResult, unit: Unit) -> str:
    """Name a choice: by its own name, or by pattern, spacing and edge margin."""
    if result.choice.name:
        return result.choice.name
    planting = result.planting
    return tr(
        "{pattern}, {spacing}, edge {margin}",
        pattern=tr(PATTERN_WORDS[planting.pattern]),
        spacing=exact_text(planting.spacing, unit),
        margin=format_length(planting.edge_margin.exact, unit),
    )


def texts(result: ChoiceResult, now: ChoiceResult, unit: Unit) -> tuple[str, ...]:
    """Write a row as ``headers`` names it; lengths without their unit.

    Name, plants, difference to now, density, share of the ceiling, least foam with its difference;
    the day on which leaves touch, what they cover at harvest, the day to move plants apart; foam
    above the water and weight of the heaviest raft at harvest.
    """
    planting = result.planting
    own = tr(
        "{pattern} {spacing}\nedge {margin}",
        pattern=tr(PATTERN_WORDS[planting.pattern]),
        spacing=bare_length(planting.spacing.exact, unit),
        margin=bare_length(planting.edge_margin.exact, unit),
    )
    share = result.share_of_ceiling
    more = result.plants - now.plants
    return (
        result.choice.name or own,
        f"{result.plants}",
        "" if result is now else signed(more),
        format_density(result.density_per_m2, unit).split()[0],
        "" if share is None else f"{share:.0%}",
        _foam(result, now, unit),
        *_leaves(result.growing),
        *_float(result.afloat, unit),
    )


def _leaves(found: Growing | None) -> tuple[str, str, str]:
    if found is None:
        return "", "", ""
    days = (
        number(day) if day is not None else DASH for day in (found.touch_day, found.respace_day)
    )
    touch, move = days
    return touch, "" if found.at_harvest is None else percent(found.at_harvest), move


def _float(found: Afloat | None, unit: Unit) -> tuple[str, str]:
    if found is None:
        return "", ""
    at = found.harvest
    return bare_length(at.floating.freeboard, unit), weight_text(at.lift, unit)


def signed(more: int) -> str:
    """Write a difference with its sign; "=" where there is none."""
    if not more:
        return "="
    return f"+{more}" if more > 0 else f"{MINUS}{-more}"


def _foam(result: ChoiceResult, now: ChoiceResult, unit: Unit) -> str:
    if result.least_web_mm is None:
        return ""
    foam = bare_length(max(result.least_web_mm, 0), unit)
    if result is now or now.least_web_mm is None:
        return foam
    more = result.least_web_mm - now.least_web_mm
    size = bare_length(abs(more), unit)
    if size == bare_length(0, unit):
        return foam
    sign = "+" if more > 0 else MINUS
    return f"{foam}  ({sign}{size})"


def sort_key(result: ChoiceResult, column: int) -> Any:
    """Return what a row is sorted by in a column of ``headers``."""
    foam = result.least_web_mm
    share, grown, ride = result.share_of_ceiling, result.growing, result.afloat
    never = float("inf")
    return (
        (result.choice.name or result.planting.pattern, result.planting.spacing.exact),
        result.plants,
        result.plants,
        result.density_per_m2,
        -1.0 if share is None else share,
        -1.0 if foam is None else foam,
        never if grown is None or grown.touch_day is None else grown.touch_day,
        -1.0 if grown is None or grown.at_harvest is None else grown.at_harvest,
        never if grown is None or grown.respace_day is None else grown.respace_day,
        -never if ride is None else ride.harvest.floating.freeboard,
        -never if ride is None else ride.harvest.lift,
    )[column]


def row_sentence(result: ChoiceResult, now: ChoiceResult, unit: Unit) -> str:
    """Say a row in one breath, for a screen reader and for a choice that is tried."""
    words = choice_words(result, unit)
    plants = tr_n(
        "{choice}: {n} plant{difference}.",
        "{choice}: {n} plants{difference}.",
        result.plants,
        choice=words,
        difference="" if result is now else difference_words(result.plants - now.plants),
    )
    parts = [plants]
    if result.least_web_mm is not None:
        foam = format_length(max(result.least_web_mm, 0), unit)
        parts = [tr("{plants} Least foam {foam}.", plants=plants, foam=foam)]
    if result.growing is not None:
        parts += growing_sentences(result.growing)
    if result.afloat is not None:
        at = result.afloat.harvest
        parts.append(
            tr(
                "At harvest {freeboard} of freeboard, {kg} to lift.",
                freeboard=length_text(at.floating.freeboard, unit),
                kg=weight_text(at.lift, unit),
            )
        )
    return " ".join(parts)


def spacing_sentence(thresholds: Sequence[Threshold], unit: Unit) -> str:
    """Say up to which spacing the same count fits, and from where on down there are more."""
    return " ".join(threshold_sentence(each, unit) for each in thresholds[:1])


def other_sentences(thresholds: Sequence[Threshold], unit: Unit) -> str:
    """Say the same of edge margin, clearance and joint gap, in one breath."""
    others = [each for each in thresholds[1:] if each.same_up_to or each.more_at]
    if not all(each.same_up_to for each in others):
        return " ".join(threshold_sentence(each, unit) for each in others)
    words = " · ".join(threshold_words(each, unit) for each in others)
    if not others:
        return ""
    return tr("The same {plants} up to {words}", plants=others[0].plants, words=words)


def known_result(now: Now) -> ChoiceResult | None:
    """Return what the bed as it stands gives, once its plan is made."""
    if now.bed_plan is None or now.planting is None or now.plan.project is not now.project:
        return None
    return result_of(now.bed_plan, Choice("", now.bed_plan.bed.name), now.planting)
