"""What a bed may bring: the mass of a plant at its density, and the harvest of a week.

What was published and what the grower has weighed are kept apart. None of it is a promise.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from geometry.compare.choices import ChoiceResult
from geometry.crops.table import find_crop
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
from geometry.plan import BedPlan

_WEEK = 7

Grams = tuple[float, Literal["crop", "log", "trial"]]
"""What a picked plant weighs, and who says so: the grower's own crop, their log, or a trial."""


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
    wanted = crop.strip().casefold()
    own = next((each for each in project.crops if each.name.strip().casefold() == wanted), None)
    if own is not None and own.grams is not None:
        return float(own.grams), "crop"
    runs = {run.name for run in project.runs if run.crop.strip().casefold() == wanted}
    logged = [each for each in project.log.batches if each.run in runs]
    weighed = [each for each in logged if each.grams and each.picked]
    if weighed:
        plants = sum(each.picked or 0 for each in weighed)
        return float(sum(each.grams or 0 for each in weighed)) / plants, "log"
    published = yields_of(project, crop).published_at(density) if density else None
    return (published, "trial") if published is not None else None


def weekly_harvest(project: Project, bed: BedPlan) -> WeeklyHarvest | tuple[Lacking, str]:
    """Estimate the harvest of a week, or say what must be known first, and of which crop.

    Runs that end in this bed and have a target tell how many plants; otherwise all plants in use
    follow each other without a break, every so many days as their crop takes.
    """
    density = density_in_use(bed)
    parts = _by_runs(project, bed) or _by_days(project, bed)
    if not parts:
        return "plants", ""
    told: list[tuple[float, float, Grams, str]] = []
    for crop, least, most, days_from in parts:
        if not days_from:
            return ("days" if crop else "crop"), crop
        grams = grams_of(project, crop, density)
        if grams is None:
            return ("grams" if crop else "crop"), crop
        told.append((least, most, grams, days_from))
    return WeeklyHarvest(
        (sum(each[0] for each in told), sum(each[1] for each in told)),
        (
            sum(each[0] * each[2][0] for each in told) / 1000,
            sum(each[1] * each[2][0] for each in told) / 1000,
        ),
        frozenset(each[2][1] for each in told),
        frozenset(each[3] for each in told),
    )


_Part = tuple[str, float, float, str]
"""A crop, its plants a week from least to most, and who says how often; empty: nobody."""


def _by_runs(project: Project, bed: BedPlan) -> list[_Part]:
    parts: list[_Part] = []
    own = bed.bed.planting.crop if bed.bed.planting else ""
    for run in project.runs:
        last = next((stage.bed for stage in reversed(run.stages) if stage.bed), "")
        if last == bed.bed.name and run.target:
            plants = run.target * _WEEK / run.every
            parts.append((run.crop or own, plants, plants, "run"))
    return parts


def _by_days(project: Project, bed: BedPlan) -> list[_Part]:
    parts: list[_Part] = []
    for count in bed.crops:
        in_use = count.plants - count.plugged
        if not in_use:
            continue
        days, said = _days_of(project, count.crop)
        if not days:
            parts.append((count.crop, 0.0, 0.0, ""))
        else:
            shortest, longest = days
            parts.append((count.crop, in_use * _WEEK / longest, in_use * _WEEK / shortest, said))
    return parts


def _days_of(project: Project, crop: str) -> tuple[tuple[int, int] | None, str]:
    wanted = crop.strip().casefold()
    own = next((each for each in project.crops if each.name.strip().casefold() == wanted), None)
    if own is not None and own.days is not None:
        return (own.days, own.days), "crop"
    row = find_crop(crop)
    return (row.days, "table") if row is not None and row.days is not None else (None, "")


def _grams_at(laws: Sequence[Law | NoLaw], density: float) -> float | None:
    for law in laws:
        if isinstance(law, Law) and law.holds_at(density):
            return law.grams_at(density)
    return None
