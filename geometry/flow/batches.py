"""Batches begun one after another: when each is sown, moved on and picked, and how many plants."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from geometry.errors import GeometryError
from geometry.flow.places import Stay
from geometry.flow.stages import Stage, rafts_for
from geometry.tongue import tr


@dataclass(frozen=True, slots=True)
class Pause:
    """Days, first and last included, on which nothing is sown."""

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Season:
    """A stage that begins within these days takes ``factor`` times as long, in whole days."""

    first: int
    last: int
    factor: Fraction


@dataclass(frozen=True, slots=True)
class Batch:
    """One sowing. ``begins`` is the first day of each stage, ``picked`` the day of the harvest.

    ``plants`` is how many begin each stage, in whole plants, and last how many are picked.
    """

    number: int
    begins: tuple[int, ...]
    picked: int
    plants: tuple[int, ...]

    @property
    def sown(self) -> int:
        """The day of the sowing."""
        return self.begins[0]


def sowing_days(first: int, interval: int, until: int, pauses: Iterable[Pause] = ()) -> list[int]:
    """Return the days of sowing from ``first`` to ``until``; those within a pause are left out.

    The rhythm goes on through a pause, so that the weekday stays.
    """
    if interval < 1:
        raise GeometryError(tr("There must be a day or more from one sowing to the next."))
    off = tuple(pauses)
    return [
        day
        for day in range(first, until + 1, interval)
        if not any(pause.first <= day <= pause.last for pause in off)
    ]


def grow_batches(
    days: Iterable[int], stages: Sequence[Stage], seeds: int, seasons: Iterable[Season] = ()
) -> tuple[Batch, ...]:
    """Return the batches sown on these days, each with so many seeds."""
    if not stages:
        raise GeometryError(tr("A crop needs at least one stage."))
    plants = [seeds]
    for stage in stages:
        plants.append(floor(plants[-1] * stage.survival))
    factors = tuple(seasons)
    batches: list[Batch] = []
    for number, sown in enumerate(days, start=1):
        begins = [sown]
        for stage in stages:
            begins.append(begins[-1] + days_of(stage, begins[-1], factors))
        batches.append(Batch(number, tuple(begins[:-1]), begins[-1], tuple(plants)))
    return tuple(batches)


def days_of(stage: Stage, begins: int, seasons: Iterable[Season] = ()) -> int:
    """Return how long a stage takes that begins on a day; of several seasons the first counts."""
    for season in seasons:
        if season.first <= begins <= season.last:
            return max(1, ceil(stage.days * season.factor))
    return stage.days


def last_sowing(harvest_by: int, stages: Sequence[Stage], seasons: Iterable[Season] = ()) -> int:
    """Return the last day on which to sow for a harvest no later than ``harvest_by``."""
    factors = tuple(seasons)
    longest = sum(
        max([stage.days, *(days_of(stage, season.first, (season,)) for season in factors)])
        for stage in stages
    )
    for sown in range(harvest_by, harvest_by - longest, -1):
        if grow_batches([sown], stages, 1, factors)[0].picked <= harvest_by:
            return sown
    return harvest_by - longest


def stays_of(batches: Iterable[Batch], stages: Sequence[Stage]) -> tuple[Stay, ...]:
    """Return which rafts need a place, and on which days: those of the stages that have rafts.

    A raft leaves in the morning of the day on which its batch moves on or is picked.
    """
    stays: list[Stay] = []
    for batch in batches:
        ends = (*batch.begins[1:], batch.picked)
        for number, (stage, first, end) in enumerate(zip(stages, batch.begins, ends, strict=True)):
            count = rafts_for(batch.plants[number], stage)
            stays += [Stay(batch.number, number, raft, first, end - 1) for raft in range(count)]
    return tuple(stays)
