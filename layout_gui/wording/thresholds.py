"""Thresholds, and spacings for wanted plants."""

from fractions import Fraction
from math import floor

from geometry.compare.counting import Knob
from geometry.compare.thresholds import Threshold, fine_step
from geometry.compare.want import Found
from geometry.drawing.pattern_names import rows_name
from geometry.tongue import mark, plural, tr
from geometry.units import Length, Unit, exact_text, format_density

_KNOBS: dict[Knob, str] = {
    "spacing": mark("spacing"),
    "edge_margin": mark("edge margin"),
    "clearance": mark("clearance"),
    "joint_gap": mark("joint gap"),
}
_SAME_UP_TO: dict[Knob, tuple[str, str]] = {
    "spacing": (
        mark("The one plant fits up to {at}"),
        mark("The same {count} plants fit up to {at}"),
    ),
    "edge_margin": (
        mark("The one plant up to an edge margin of {at}"),
        mark("The same {count} plants up to an edge margin of {at}"),
    ),
    "clearance": (
        mark("The one plant up to a clearance of {at}"),
        mark("The same {count} plants up to a clearance of {at}"),
    ),
    "joint_gap": (
        mark("The one plant up to a joint gap of {at}"),
        mark("The same {count} plants up to a joint gap of {at}"),
    ),
}
_MORE_AT: dict[Knob, str] = {
    "spacing": mark("at {at} you gain {more}"),
    "edge_margin": mark("with {at} edge margin you gain {more}"),
    "clearance": mark("with {at} clearance you gain {more}"),
    "joint_gap": mark("with {at} joint gap you gain {more}"),
}


def threshold_sentence(threshold: Threshold, unit: Unit) -> str:
    """Say how far a length may go with the same plants, and where there are more; may be empty."""
    parts: list[str] = []
    count = threshold.plants
    if threshold.same_up_to is not None:
        at = rounded_down(threshold.same_up_to, unit)
        parts.append(tr(_SAME_UP_TO[threshold.knob][count != 1], count=count, at=at))
    if threshold.more_at is not None:
        at = rounded_down(threshold.more_at, unit)
        parts.append(tr(_MORE_AT[threshold.knob], at=at, more=threshold.more_plants - count))
    sentence = "; ".join(parts)
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else ""


def threshold_words(threshold: Threshold, unit: Unit) -> str:
    """Name a length, the largest that holds the same plants, and where there are more."""
    parts = []
    if threshold.same_up_to is not None:
        parts.append(rounded_down(threshold.same_up_to, unit))
    if threshold.more_at is not None:
        more = threshold.more_plants - threshold.plants
        parts.append(
            tr("at {more_at} {more} more", more_at=rounded_down(threshold.more_at, unit), more=more)
        )
    return f"{tr(_KNOBS[threshold.knob])} {', '.join(parts)}" if parts else ""


def rounded_down(mm: Fraction, unit: Unit) -> str:
    """Write a threshold to 0.1 mm or 1/32 in, never above it."""
    step = fine_step(unit)
    return exact_text(Length(floor(mm / step) * step), unit)


def found_sentence(found: Found, unit: Unit) -> str:
    """Say what came of a wanted number of plants."""
    counted = found.counted
    if found.spacing is None:
        return tr(
            "{wanted} do not fit: holes and foam leave room for {most} at most",
            wanted=found.wanted,
            most=plural(counted.plants, "plant"),
        )
    per_area = format_density(found.density_per_m2, unit)
    return tr(
        "{plants}, {per_area}: spacing up to {spacing}, {rows}",
        plants=plural(counted.plants, "plant"),
        per_area=per_area,
        spacing=rounded_down(found.spacing, unit),
        rows=rows_name(counted.pattern, counted.direction),
    )
