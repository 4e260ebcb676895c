"""What the yield curves say, without a picture: lines, rows of the table, and sentences."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from geometry.compare.yields import Yields, density_in_use, yields_of
from geometry.drawing.figures import KG_PER_POUND
from geometry.growth.harvest import Law, NoLaw, Weighed
from geometry.plan import BedPlan
from geometry.tongue import mark, number, tr, tr_n
from geometry.units import MM_PER, Unit, format_density
from layout_gui.panels.dates import date_text
from layout_gui.panels.now import Now

FT2: Final = (float(MM_PER["ft"]) / 1000) ** 2
"""A square foot in square metres."""

_GRAMS_PER_OUNCE: Final = KG_PER_POUND * 1000 / 16
_A_HUNDREDTH: Final = 0.01
_BEYOND: Final = 0.25
"""By so much of its range, to both sides, a curve is shown where nothing was weighed."""
_NO_LAW: Final[dict[NoLaw, str]] = {
    "one density": mark("weighed at one density only, so no curve can be drawn"),
    "no smaller where closer": mark(
        "plants are no smaller where they stand closer, so no curve can be drawn"
    ),
    "no end": mark("the points fall too steeply for the law, so no curve can be drawn"),
}


@dataclass(frozen=True, slots=True)
class Line:
    """Points that belong together, the law through them or why there is none, and their source."""

    name: str
    points: tuple[Weighed, ...]
    law: Law | NoLaw
    source: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class Scales:
    """How densities and masses are shown: so many shown units to one per m², gram or kg/m²."""

    density: float
    plant: float
    area: float
    density_unit: str
    plant_unit: str
    area_unit: str


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the sight shows. ``density`` is the present one, None where it is not one."""

    crop: str
    lines: tuple[Line, ...]
    density: float | None
    unit: Unit


def scales(unit: Unit) -> Scales:
    """Return the scales of a project in these units."""
    if unit == "in":
        return Scales(
            FT2, 1 / _GRAMS_PER_OUNCE, FT2 / KG_PER_POUND,
            tr("plants per ft²"), tr("oz"), tr("lb/ft²"),
        )  # fmt: skip
    return Scales(1, 1, 1, tr("plants per m²"), tr("g"), tr("kg/m²"))


def shown_of(now: Now) -> Shown:
    """Return what there is to show of the crop of the bed being worked on."""
    crop = now.planting.crop if now.planting is not None else ""
    plan = now.bed_plan
    density = density_in_use(plan) if plan is not None else None
    lines = lines_of(yields_of(now.project, crop)) if crop.strip() else ()
    return Shown(crop, lines, density, now.project.units)


def lines_of(found: Yields) -> tuple[Line, ...]:
    """Return the lines of a crop, the grower's own first."""
    own: tuple[Line, ...] = ()
    if found.own:
        own = (Line(tr("your log"), found.own, found.own_law, tr("your log"), is_own=True),)
    return (
        *own,
        *(
            Line(tr(trial.where), trial.points, law, trial.source, is_own=False)
            for trial, law in found.trials
        ),
    )


def reach(law: Law) -> tuple[float, float]:
    """Return from where to where a curve is shown, weighed densities and a little beyond."""
    more = (law.high - law.low) * _BEYOND
    return max(law.low - more, law.low / 2), law.high + more


def title(shown: Shown) -> str:
    """Say what is shown."""
    if not shown.crop.strip():
        return tr("What a plant weighs where plants stand closer")
    return _capital(
        tr("{crop}: what a plant weighs where plants stand closer", crop=tr(shown.crop))
    )


def sentences(shown: Shown, plan: BedPlan | None) -> tuple[str, ...]:
    """Say how the present density reads on each line, and which lines have no curve."""
    if not shown.crop.strip():
        return (tr("Name the crop at the station Holes, and what was weighed of it stands here."),)
    if not shown.lines:
        return (
            tr(
                "No trial with masses and densities of {crop} is known here. Note at your batches "
                "how many were picked, what they weighed together, and how many stood on a square "
                "metre.",
                crop=tr(shown.crop),
            ),
        )
    said = []
    if shown.density is None:
        if plan is not None and plan.plants:
            said.append(tr("This bed holds several crops, so its density is not marked."))
    else:
        said.append(_at_now(shown))
    said += [_law_words(line) for line in shown.lines]
    return tuple(said)


def weighed_words(now: Now) -> str:
    """Say what plants weighed at the density of this moment; empty where nothing was weighed."""
    shown = shown_of(now)
    told = _told_at(shown)
    return "" if not told else tr("Weighed at such a density, no promise: {told}.", told=told)


def table_rows(shown: Shown) -> tuple[tuple[str, str, str, str, str], ...]:
    """Return the points in words: whose, density, mass of a plant, mass on an area, source."""
    by = scales(shown.unit)
    return tuple(
        (
            _whose(line, point),
            format_density(point.density, shown.unit),
            _mass(point, by, per_area=False),
            _mass(point, by, per_area=True),
            line.source,
        )
        for line in shown.lines
        for point in line.points
    )


def _whose(line: Line, point: Weighed) -> str:
    day = date_text(point.day) if point.day is not None else ""
    more = ", ".join(filter(None, (day, tr(point.words) if point.words else "")))
    return f"{line.name}: {more}" if more else line.name


def _at_now(shown: Shown) -> str:
    here = format_density(shown.density or 0.0, shown.unit)
    told = _told_at(shown)
    if not told:
        return tr("This bed has {density}: no curve reaches so far.", density=here)
    return tr("This bed has {density}. {told}.", density=here, told=_capital(told))


def _told_at(shown: Shown) -> str:
    """Say what each line gives at the present density; empty where none reaches it."""
    by, density = scales(shown.unit), shown.density
    if density is None:
        return ""
    return "; ".join(
        tr(
            "{name}: {plant} a plant, {area}",
            name=line.name,
            plant=_plant_text(line.law.grams_at(density), by),
            area=_area_text(line.law.kg_at(density), by),
        )
        for line in shown.lines
        if isinstance(line.law, Law) and line.law.holds_at(density)
    )


def _law_words(line: Line) -> str:
    if not isinstance(line.law, Law):
        return f"{_capital(line.name)}: {tr(_NO_LAW[line.law])}."
    points = tr_n("{n} point", "{n} points", len(line.points))
    if len(line.points) == 2:
        return tr(
            "{name}: {points}; with two a curve always fits, and nothing tells how well.",
            name=_capital(line.name),
            points=points,
        )
    return tr(
        "{name}: {points}; the curve misses none by more than {share}.",
        name=_capital(line.name),
        points=points,
        share=f"{max(line.law.off, _A_HUNDREDTH):.0%}",
    )


def _mass(point: Weighed, by: Scales, *, per_area: bool) -> str:
    ends = [point.grams] if point.most is None else [point.grams, point.most]
    texts: Sequence[str] = [
        _area_text(grams * point.density / 1000, by) if per_area else _plant_text(grams, by)
        for grams in ends
    ]
    return texts[0] if len(texts) == 1 else tr("{least} to {most}", least=texts[0], most=texts[-1])


def _plant_text(grams: float, by: Scales) -> str:
    decimals = 0 if by.plant == 1 else 1
    return f"{number(grams * by.plant, decimals)} {by.plant_unit}"


def _area_text(kg: float, by: Scales) -> str:
    return f"{number(kg * by.area, 2)} {by.area_unit}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
