"""What sources say of crops, in words; without Qt."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.crops.facts import (
    KINDS,
    STANDING_WORDS,
    TOPICS,
    Fact,
    Topic,
    apart,
    facts_of,
    row_of,
    square_grid,
    unlike,
)
from geometry.crops.table import CROPS, Crop, all_crops
from geometry.model.project import Project
from geometry.tongue import mark, number, tr
from geometry.units import Length, Unit, format_density
from layout_gui.panels.words import DASH, bare_length

TOPIC_WORDS: Final[dict[Topic, str]] = {
    "spacing": mark("Spacing"),
    "density": mark("Density"),
    "nursery": mark("Days in the nursery"),
    "days": mark("Days on the water"),
    "width": mark("Width of a grown plant"),
    "grams": mark("Mass of a plant"),
}
_SHORT: Final = 42
"""Where two sources are set against each other so many letters of each have to do."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the table. One of the table's kinds alone (``is_bare``) has to be copied first."""

    crop: Crop
    is_bare: bool = False

    @property
    def name(self) -> str:
        """What the line is called."""
        return self.crop.name if self.crop.is_own else tr(self.crop.name)

    @property
    def standing(self) -> str:
        """Whose crop it is."""
        return tr("your own") if self.crop.is_own else tr("published")


def entries(project: Project, wanted: str = "") -> tuple[Entry, ...]:
    """Return own crops, the table, and kinds of which only figures are known.

    With ``wanted`` only those in whose name, kind or source each of its words is found.
    """
    with_rows = {crop.kind for crop in CROPS}
    bare = (row_of(kind) for kind in KINDS if kind not in with_rows)
    found = [
        *(Entry(crop) for crop in all_crops(project.crops)),
        *(Entry(crop, is_bare=True) for crop in bare if crop is not None),
    ]
    words = wanted.casefold().split()
    return tuple(each for each in found if all(word in _searched(each) for word in words))


def _searched(entry: Entry) -> str:
    crop = entry.crop
    kind = tr(KINDS[crop.kind]) if crop.kind else ""
    return f"{entry.name} {kind} {crop.kind} {crop.source} {entry.standing}".casefold()


def headers() -> tuple[str, ...]:
    """Name the columns of ``cells``."""
    return (
        tr("Crop"), tr("Spacing"), tr("Density"), tr("Days"), tr("Grown width"), tr("A plant")
    )  # fmt: skip


def cells(entry: Entry, unit: Unit) -> tuple[str, ...]:
    """Write a line of the table; empty where nothing is known."""
    crop = entry.crop
    spacing = crop.spacing_range or (crop.spacing, crop.spacing)
    return (
        entry.name,
        _widths(spacing, unit),
        _density(*crop.density_per_m2, unit) if crop.density_per_m2 else "",
        _numbers(*crop.days) if crop.days else "",
        _widths(crop.mature_width, unit) if crop.mature_width else "",
        tr("{n} g", n=_numbers(*crop.grams)) if crop.grams else "",
    )


def figure(fact: Fact, unit: Unit) -> str:
    """Write a figure with its unit."""
    match fact.topic:
        case "spacing" | "width":
            return _lengths(fact.low, fact.high, unit)
        case "density":
            return _density(float(fact.low), float(fact.high), unit)
        case "nursery" | "days":
            return tr("{n} days", n=_numbers(fact.low, fact.high))
        case "grams":
            return tr("{n} g", n=_numbers(fact.low, fact.high))


def origin(fact: Fact) -> str:
    """Say where a figure comes from, of what it holds, and how far it can be trusted."""
    parts = [fact.source, tr(fact.note) if fact.note else "", tr(STANDING_WORDS[fact.standing])]
    return "; ".join(filter(None, parts))


def blocks(kind: str, unit: Unit) -> tuple[tuple[str, tuple[Fact, ...], tuple[str, ...]], ...]:
    """Return for each topic its heading, its figures, and where sources do not go together."""
    found = []
    every = facts_of(kind)
    for topic in TOPICS:
        facts = facts_of(kind, topic)
        if not facts:
            continue
        said = _apart_words(facts, unit)
        if topic == "density":
            said = [*said, *(_unlike_words(one, other, unit) for one, other in unlike(every))]
        found.append((tr(TOPIC_WORDS[topic]), facts, tuple(said)))
    return tuple(found)


def _apart_words(facts: Sequence[Fact], unit: Unit) -> list[str]:
    """Set the two figures that are farthest apart against each other; more would be a list."""
    pairs = apart(facts)
    if not pairs:
        return []
    far = max(
        pairs, key=lambda pair: max(pair[0].low, pair[1].low) / min(each.high for each in pair)
    )
    low, high = sorted(far, key=lambda fact: fact.low)
    return [
        tr(
            "No value in common: {low} ({first}) and {high} ({second}).",
            low=figure(low, unit),
            first=_short(low.source),
            high=figure(high, unit),
            second=_short(high.source),
        )
    ]


def _unlike_words(spacing: Fact, density: Fact, unit: Unit) -> str:
    return tr(
        "Its spacing and its density do not follow from each other: square grids of {spacing} have "
        "{grid}, {source} says {density}.",
        spacing=figure(spacing, unit),
        grid=_density(*square_grid(spacing.low, spacing.high), unit),
        source=_short(density.source),
        density=figure(density, unit),
    )


def _short(source: str) -> str:
    head = source.partition(":")[0].partition(",")[0]
    return head if len(head) <= _SHORT else f"{head[: _SHORT - 1]}\N{HORIZONTAL ELLIPSIS}"


def _widths(ends: tuple[Length, Length], unit: Unit) -> str:
    return _lengths(ends[0].exact, ends[1].exact, unit)


def _lengths(low: Fraction, high: Fraction, unit: Unit) -> str:
    least, most = (bare_length(end, unit) for end in (low, high))
    return f"{least} {unit}" if least == most else f"{least}{DASH}{most} {unit}"


def _density(low: float, high: float, unit: Unit) -> str:
    least, most = (format_density(end, unit) for end in (low, high))
    return least if least == most else f"{least.split()[0]}{DASH}{most}"


def _numbers(low: float | Fraction, high: float | Fraction) -> str:
    least, most = number(float(low)), number(float(high))
    return least if least == most else f"{least}{DASH}{most}"
