"""The water of a bed in words and figures, for the window and for paper alike.

Each figure says what it rests on, and what is an assumption is called one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from geometry.afloat.volumes import (
    LITRES_A_KILOGRAM,
    STONE_LITRES_A_MINUTE,
    STONE_M2,
    Volumes,
    air_stones,
    rained,
)
from geometry.afloat.water import oxygen_saturation, warmth_text
from geometry.compare.yields import WeeklyHarvest, weekly_harvest
from geometry.drawing.figures import KG_PER_POUND, length_text, litres_text, load_text, weight_text
from geometry.drawing.flow import Row, columns_of, gap, words
from geometry.drawing.styles import Style
from geometry.plan import BedPlan, Plan
from geometry.tongue import listed, mark, number, tr
from geometry.units import MM_PER, Unit

DECK_LB_FT2: Final = 40
"""What decks and balconies are to carry by the model code of many American places (International
Residential Code 2009, table R301.5); 60 for balconies in the edition of 2006."""

_NAME_MM: Final = 36.0
_VALUE_MM: Final = 40.0
_NOTE_MM: Final = 2.8
_KG_A_M2: Final = KG_PER_POUND / (float(MM_PER["ft"]) / 1000) ** 2
_SAID_BY: Final = {
    "run": mark("your run"),
    "crop": mark("your own crop"),
    "log": mark("your log"),
    "table": mark("published figures"),
    "trial": mark("a published trial"),
}


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure with its name; ``note`` says what it rests on."""

    name: str
    value: str
    note: str = ""


def no_water_words(plan: Plan, bed: BedPlan) -> str:
    """Say what must be measured, or why nothing can be told; empty where volumes are known."""
    looked = plan.water_of(bed.bed.name)
    if looked is None or looked.volumes is not None:
        return ""
    if looked.no_volumes:
        return tr("The volume cannot be told. {why}", why=looked.no_volumes)
    return tr(
        "Measure from the face of the water, at its working level, straight down to the floor, "
        "and type that as the depth under Water levels: then volume, load and doses can be told."
    )


def volumes_in(plan: Plan, bed: BedPlan) -> Volumes | None:
    """Return the volumes of a bed, where they are known."""
    looked = plan.water_of(bed.bed.name)
    return looked.volumes if looked is not None else None


def water_line(plan: Plan, bed: BedPlan) -> str:
    """Say in one breath how much water there is; empty where it is not known."""
    volumes = volumes_in(plan, bed)
    if volumes is None:
        return ""
    unit = plan.project.units
    litres = litres_text(volumes.fill, unit)
    if not bed.plants:
        return litres
    each = litres_text(volumes.fill / bed.plants, unit)
    return tr("{litres}, {each} for each site", litres=litres, each=each)


def water_facts(plan: Plan, bed: BedPlan) -> tuple[Fact, ...]:
    """Return all that is known of the water of a bed; nothing while its depth is not known."""
    volumes = volumes_in(plan, bed)
    if volumes is None:
        return ()
    unit = plan.project.units
    return (
        *_amounts(volumes, bed.plants, unit),
        _week(plan, bed),
        _stones(volumes, unit),
        _oxygen(volumes, unit),
        _weight(volumes, unit),
    )


def fact_rows(plan: Plan, bed: BedPlan, room: float) -> Iterator[Row]:
    """Set the figures beneath each other for paper: name, figure, and what it rests on."""
    for fact in water_facts(plan, bed):
        yield columns_of(
            (0, (words(fact.name, _NAME_MM - 2),)),
            (_NAME_MM, (words(fact.value, _VALUE_MM - 2, style=Style.TITLE),)),
            (
                _NAME_MM + _VALUE_MM,
                (words(fact.note, room - _NAME_MM - _VALUE_MM, height=_NOTE_MM),)
                if fact.note
                else (),
            ),
        )
    yield gap(1.5)


def dose_words(volumes: Volumes, unit: Unit) -> str:
    """Say for which amount doses are to be taken, and that the label gives them."""
    return tr(
        "Take doses for {litres}, as the label of the product you use says; none are given here.",
        litres=litres_text(volumes.fill, unit),
    )


def rain_words(volumes: Volumes, rain: float, unit: Unit) -> str:
    """Say what so many mm of rain do to a bed filled to the working level."""
    found = rained(volumes, rain)
    said = tr(
        "{rain} of rain bring {litres}: {share} of the mix would then be rain.",
        rain=length_text(rain, unit),
        litres=litres_text(found.caught, unit),
        share=_percent(found.share),
    )
    if found.over <= 0:
        return f"{said} {tr('The bed holds it below the high level.')}"
    if not volumes.headroom:
        return f"{said} {tr('No high level is noted: all of that may run over.')}"
    over = tr(
        "{litres} do not fit below the high level and run over, nutrients with them.",
        litres=litres_text(found.over, unit),
    )
    return f"{said} {over}"


def _amounts(volumes: Volumes, plants: int, unit: Unit) -> tuple[Fact, ...]:
    reckoned = litres_text(volumes.working, unit)
    facts = [
        Fact(
            tr("It holds"),
            litres_text(volumes.fill, unit),
            tr("by length, width and depth; what a meter says counts for more")
            if volumes.metered is None
            else tr(
                "as metered; by length, width and depth {reckoned}, so the bed takes {share} of "
                "that",
                reckoned=reckoned,
                share=_percent(volumes.ratio),
            ),
        )
    ]
    if plants:
        facts.append(Fact(tr("For each site"), litres_text(volumes.fill / plants, unit)))
    if volumes.low < volumes.working:
        facts.append(
            Fact(
                tr("At low water"),
                litres_text(volumes.low * volumes.ratio, unit),
                tr("{litres} fill it up again", litres=litres_text(volumes.top_up, unit)),
            )
        )
    if volumes.high > volumes.working:
        facts.append(
            Fact(
                tr("At high water"),
                litres_text(volumes.high * volumes.ratio, unit),
                tr(
                    "{litres} between low and high water",
                    litres=litres_text(volumes.swing, unit),
                ),
            )
        )
    return tuple(facts)


def _week(plan: Plan, bed: BedPlan) -> Fact:
    name, unit = tr("Used in a week"), plan.project.units
    found = weekly_harvest(plan, bed)
    if not isinstance(found, WeeklyHarvest):
        lacking, crop = found
        return Fact(name, tr("not known"), _lacking_words(lacking, crop))
    litres = [kilograms * LITRES_A_KILOGRAM for kilograms in found.kilograms]
    note = tr(
        "an estimate: {mass} of plants a week by {said}, {per} for each {one} (Barbosa and others "
        "2015)",
        mass=_span([weight_text(each, unit) for each in found.kilograms]),
        said=listed(tr(_SAID_BY[each]) for each in sorted(found.days_from | found.grams_from)),
        per=litres_text(LITRES_A_KILOGRAM * (KG_PER_POUND if unit == "in" else 1), unit),
        one="lb" if unit == "in" else "kg",
    )
    return Fact(name, _span([litres_text(each, unit) for each in litres]), note)


def _lacking_words(lacking: str, crop: str) -> str:
    match lacking:
        case "plants":
            return tr("plant the bed first")
        case "crop":
            return tr("name the crop at the station Holes")
        case "days":
            return tr(
                "note how many days {crop} stands on the water, as a crop of your own",
                crop=tr(crop),
            )
        case _:
            return tr(
                "note what {crop} weighs when it is picked, as a crop of your own", crop=tr(crop)
            )


def _stones(volumes: Volumes, unit: Unit) -> Fact:
    least, most = air_stones(volumes.area)
    close, wide = STONE_M2
    return Fact(
        tr("Air stones"),
        f"{least}" if least == most else tr("{least} to {most}", least=least, most=most),
        tr(
            "of about {litres} L/min, one for {close} to {wide} (FAO Technical Paper 589); away "
            "from joints and roots that hang low",
            litres=STONE_LITRES_A_MINUTE,
            close=_area_text(close, unit),
            wide=_area_text(wide, unit),
        ),
    )


def _area_text(m2: float, unit: Unit) -> str:
    if unit == "in":
        return tr("{area} ft²", area=number(m2 / (float(MM_PER["ft"]) / 1000) ** 2, 0))
    return tr("{area} m²", area=number(m2))


def _oxygen(volumes: Volumes, unit: Unit) -> Fact:
    return Fact(
        tr("Oxygen at most"),
        tr("{milligrams} mg/L", milligrams=number(oxygen_saturation(volumes.celsius), 1)),
        tr(
            "in fresh water of {warmth} at sea level (APHA 1985); warm water holds less",
            warmth=warmth_text(volumes.celsius, unit),
        ),
    )


def _weight(volumes: Volumes, unit: Unit) -> Fact:
    return Fact(
        tr("The water weighs"),
        _heavy_text(volumes.kilograms, unit),
        tr(
            "{load} where it is deepest, tank and frame not counted; decks are often made for "
            "{deck} (IRC 2009), so ask who answers for the floor",
            load=load_text(volumes.kilograms_a_m2, unit),
            deck=load_text(DECK_LB_FT2 * _KG_A_M2, unit),
        ),
    )


def _heavy_text(kg: float, unit: Unit) -> str:
    if unit == "in":
        return tr("{pounds} lb", pounds=number(kg / KG_PER_POUND, 0))
    return tr("{kilograms} kg", kilograms=number(kg, 0))


def _span(texts: list[str]) -> str:
    least, most = texts[0], texts[-1]
    return least if least == most else tr("{least} to {most}", least=least, most=most)


def _percent(share: float) -> str:
    return f"{share:.0%}"
