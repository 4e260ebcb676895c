"""Choices side by side and the step curve, in the words and numbers of the drawer."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from time import monotonic
from typing import Any, Final

from geometry.compare.choices import ChoiceResult
from geometry.compare.comparison import Comparison, compare_bed
from geometry.compare.thresholds import Threshold
from geometry.model.bed import Bed
from geometry.model.planting import Pattern
from geometry.model.project import Choice, Project
from geometry.tongue import tr
from geometry.units import MM_PER, Length, Unit, exact_text, format_density, format_length
from layout_gui.panels.words import PATTERN_WORDS, bare_length
from layout_gui.wording import threshold_sentence, threshold_words

_TELL_S: Final = 0.15
"""News closer together than this would be drawn for nobody."""


def compare(
    tell: Callable[[Any], None],
    project: Project,
    bed: Bed,
    series: Sequence[Pattern],
    now: ChoiceResult | None = None,
) -> Comparison:
    """Compare one bed, telling what is known so far; the work of a process of its own."""
    found, told = Comparison(), 0.0
    for found in compare_bed(project, bed, series=series, now=now):
        if monotonic() - told > _TELL_S:
            tell(found)
            told = monotonic()
    return found


def tried_choice(bed: Bed, spacing_mm: float, unit: Unit) -> Choice:
    """Return the bed's own pattern at a spacing read off the curve, in whole steps of a tape."""
    step = MM_PER["in"] / 16 if unit == "in" else Fraction(1)
    spacing = Length(max(step, round(Fraction(spacing_mm) / step) * step))
    return Choice(
        tr("spacing {spacing}", spacing=exact_text(spacing, unit)), bed.name, spacing=spacing
    )


def headers(unit: Unit) -> tuple[str, ...]:
    """Name the columns of ``texts``."""
    area = tr("per ft²") if unit == "in" else tr("per m²")
    return (tr("choice, {unit}", unit=unit), tr("plants"), area, tr("ceiling"), tr("foam"))


def choice_words(result: ChoiceResult, unit: Unit) -> str:
    """Name a choice: by its own name, or by pattern, spacing and edge margin."""
    if result.choice.name:
        return result.choice.name
    planting = result.planting
    margin = format_length(planting.edge_margin.exact, unit)
    spacing = exact_text(planting.spacing, unit)
    return tr(
        "{pattern}, {spacing}, edge {margin}",
        pattern=tr(PATTERN_WORDS[planting.pattern]),
        spacing=spacing,
        margin=margin,
    )


def texts(result: ChoiceResult, unit: Unit) -> tuple[str, ...]:
    """Write a row: name, plants, density, share of the ceiling, least foam; units as HEADERS."""
    share = f"{result.share_of_ceiling:.0%}" if result.share_of_ceiling is not None else ""
    web = bare_length(max(result.least_web_mm, 0), unit) if result.least_web_mm is not None else ""
    density = format_density(result.density_per_m2, unit).split()[0]
    planting = result.planting
    spacing, margin = (
        bare_length(length.exact, unit) for length in (planting.spacing, planting.edge_margin)
    )
    own = tr(
        "{pattern} {spacing}, edge {margin}",
        pattern=tr(PATTERN_WORDS[planting.pattern]),
        spacing=spacing,
        margin=margin,
    )
    return (result.choice.name or own, f"{result.plants}", density, share, web)


def spacing_sentence(thresholds: Sequence[Threshold], unit: Unit) -> str:
    """Say up to which spacing the same count fits, and from where on down there are more."""
    return " ".join(threshold_sentence(each, unit) for each in thresholds[:1])


def other_sentences(thresholds: Sequence[Threshold], unit: Unit) -> str:
    """Say the same of edge margin, clearance and joint gap, in one breath."""
    others = [each for each in thresholds[1:] if each.same_up_to or each.more_at]
    if not all(each.same_up_to for each in others):
        return " ".join(threshold_sentence(each, unit) for each in others)
    words = " · ".join(threshold_words(each, unit) for each in others)
    return (
        tr("The same {plants} up to {words}", plants=others[0].plants, words=words)
        if others
        else ""
    )
