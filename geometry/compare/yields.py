"""What a bed may bring: the mass of a plant at its density, and the harvest of a week.

What was published and what the grower has weighed are kept apart. None of it is a promise.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from geometry.compare.choices import ChoiceResult
from geometry.crops.table import find_crop, plain_name
from geometry.growth.harvest import (
    Law,
    NoLaw,
    Trial,
    Weighed,
    law_through,
    own_points,
    trials_of,
)
from geometry.model.bed import Bed
from geometry.model.project import Project
from geometry.model.zone import all_plantings
from geometry.plan import BedPlan, Plan

_WEEK = 7

Grams = tuple[float, float, Literal["crop", "log", "trial", "table"]]
"""What a picked plant weighs, from least to most, and who says so: the grower's own crop, their
log, a trial, or the table of crops."""


@dataclass(frozen=True, slots=True)
class Yields:
    """All that was weighed of a crop. Each trial has its own law, or why it has none."""

    crop: str
    trials: tuple[tuple[Trial, Law | NoLaw], ...]
    own: tuple[Weighed, ...]
    own_law: Law | NoLaw

    def published_at(self, density: float) -> float | None:
        """Return the mass of a plant in grams by the first trial that reaches this density."""
        return _grams_at([law for _, law in self.trials], density)

    def own_at(self, density: float) -> float | None:
        """Return the mass of a plant in grams by the grower's batches, within their densities."""
        return _grams_at([self.own_law], density)


@dataclass(frozen=True, slots=True)
class WeeklyHarvest:
    """Plants and kilograms that a bed brings in a week, from the least to the most.

    ``grams_from`` says who tells what a plant weighs, ``days_from`` who tells how often: the
    grower's run or crop, or the published table.
    """

    plants: tuple[float, float]
    kilograms: tuple[float, float]
    grams_from: frozenset[str]
    days_from: frozenset[str]


Lacking = Literal["plants", "crop", "days", "grams"]
"""What must be known before a week's harvest can be told."""


def yields_of(project: Project, crop: str) -> Yields:
    """Return what was published of a crop and what the grower has weighed of it."""
    own = own_points(project.log, project.runs, crop)
    trials = tuple((trial, law_through(trial.points)) for trial in trials_of(crop))
    return Yields(crop, trials, own, law_through(own))


def density_in_use(bed: BedPlan) -> float | None:
    """Return the plants per m² of a bed, plugged holes left out; None where crops differ.

    Trials count by the area of the bed as well, so the water between rafts belongs to it.
    """
    if len(bed.crops) != 1 or not bed.area_mm2 or not bed.plants:
        return None
    return (bed.plants - bed.plugged) / (bed.area_mm2 / 1e6)


def grams_at_choices(
    project: Project, bed: Bed, results: Sequence[ChoiceResult]
) -> tuple[tuple[float | None, float | None], ...]:
    """Return what a plant weighs at each choice's density: as published, by own batches.

    None where that density was not tried, and in a bed of several crops or with holes plugged.
    """
    planting = bed.planting
    plantings = all_plantings(planting, bed.zones) if planting is not None else ()
    crops = {each.crop.strip().casefold() for each in plantings}
    if planting is None or len(crops) != 1 or any(each.in_use != "all" for each in plantings):
        return ((None, None),) * len(results)
    found = yields_of(project, planting.crop)
    densities = [result.density_per_m2 for result in results]
    return tuple((found.published_at(each), found.own_at(each)) for each in densities)


def grams_of(project: Project, crop: str, density: float | None) -> Grams | None:
    """Return what a plant of a crop weighs when it is picked; None where nobody says so."""
    known = find_crop(crop, project.crops)
    if known is not None and known.is_own and known.grams is not None:
        return float(known.grams[0]), float(known.grams[1]), "crop"
    wanted = plain_name(crop)
    runs = {run.name for run in project.runs if plain_name(run.crop) == wanted}
    logged = [each for each in project.log.batches if each.run in runs]
    weighed = [each for each in logged if each.grams and each.picked]
    if weighed:
        plants = sum(each.picked or 0 for each in weighed)
        mean = float(sum(each.grams or 0 for each in weighed)) / plants
        return mean, mean, "log"
    published = yields_of(project, crop).published_at(density) if density else None
    if published is not None:
        return published, published, "trial"
    row = find_crop(crop)
    if row is not None and row.grams is not None:
        return float(row.grams[0]), float(row.grams[1]), "table"
    return None


def weekly_harvest(plan: Plan, bed: BedPlan) -> WeeklyHarvest | tuple[Lacking, str]:
    """Estimate the harvest of a week, or say what must be known first, and of which crop.

    Runs that end in this bed and have a target tell how many plants; where they end in several
    beds, each has its share by plants. Otherwise all plants in use follow each other without a
    break, every so many days as their run stays here, or as their crop takes.
    """
    density = density_in_use(bed)
    parts = _by_runs(plan, bed) or _by_days(plan.project, bed)
    if not parts:
        return "plants", ""
    fewest = most = lightest = heaviest = 0.0
    said_grams, said_days = set[str](), set[str]()
    for crop, few, many, days_from in parts:
        if not days_from:
            return ("days" if crop else "crop"), crop
        grams = grams_of(plan.project, crop, density)
        if grams is None:
            return ("grams" if crop else "crop"), crop
        light, heavy, said = grams
        fewest, most = fewest + few, most + many
        lightest, heaviest = lightest + few * light / 1000, heaviest + many * heavy / 1000
        said_grams.add(said)
        said_days.add(days_from)
    return WeeklyHarvest(
        (fewest, most), (lightest, heaviest), frozenset(said_grams), frozenset(said_days)
    )


_Part = tuple[str, float, float, str]
"""A crop, its plants a week from least to most, and who says how often; empty: nobody."""


def _by_runs(plan: Plan, bed: BedPlan) -> list[_Part]:
    held = {each.bed.name: each.plants for each in plan.beds}
    own = bed.bed.planting.crop if bed.bed.planting else ""
    parts: list[_Part] = []
    for run in plan.project.runs:
        last = next((stage for stage in reversed(run.stages) if stage.bed), None)
        beds = (last.bed, *last.more_beds) if last is not None else ()
        together = sum(held.get(name, 0) for name in beds)
        if bed.bed.name in beds and run.target and together:
            plants = run.target * _WEEK / run.every * bed.plants / together
            parts.append((run.crop or own, plants, plants, "run"))
    return parts


def _by_days(project: Project, bed: BedPlan) -> list[_Part]:
    parts: list[_Part] = []
    for count in bed.crops:
        in_use = count.plants - count.plugged
        if not in_use:
            continue
        days = _days_in(project, bed.bed.name, count.crop)
        if days:
            parts.append((count.crop, in_use * _WEEK / days, in_use * _WEEK / days, "run"))
            continue
        crop = find_crop(count.crop, project.crops)
        if crop is None or crop.days is None:
            parts.append((count.crop, 0.0, 0.0, ""))
            continue
        shortest, longest = crop.days
        said = "crop" if crop.is_own else "table"
        parts.append((count.crop, in_use * _WEEK / longest, in_use * _WEEK / shortest, said))
    return parts


def _days_in(project: Project, bed: str, crop: str) -> int:
    """Return how long the one run of a crop stays in a bed; 0 where it is not one run."""
    wanted = plain_name(crop)
    runs = [run for run in project.runs if plain_name(run.crop) == wanted]
    stays = [
        sum(stage.days for stage in run.stages if bed in (stage.bed, *stage.more_beds))
        for run in runs
    ]
    return stays[0] if len(stays) == 1 else 0


def _grams_at(laws: Sequence[Law | NoLaw], density: float) -> float | None:
    for law in laws:
        if isinstance(law, Law) and law.holds_at(density):
            return law.grams_at(density)
    return None
