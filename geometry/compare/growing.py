"""How the leaves of a bed close over the water: when they first touch, how much they cover by day.

Looking at very many plants takes a moment; nothing of it belongs into the making of a plan.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any, Final

import numpy as np
import shapely

from geometry.compare.courses import Course
from geometry.growth.cover import RESPACE_COVER, Floats, how_far, look_at
from geometry.holes.convex_cover import wrapped
from geometry.holes.pairs import nearest_gaps
from geometry.plan import BedPlan, PlacedRaft
from geometry.units import TOLERANCE_MM

_PLACES: Final = 20_000
"""So many places of the water are looked at; the share is good to half a hundredth."""
_AT_ONCE: Final = 20_000

Nearest = dict[tuple[int, int], float]
"""The least distance (mm) of two plants of two plantings, by the numbers of these, least first."""


@dataclass(frozen=True, slots=True)
class Growing:
    """How the leaves of one bed grow together; days count from planting onto the water.

    ``cover`` is the share of the water under leaves, from day ``first`` on, one value a day.
    ``touch_day`` is the first day on which two plants touch, ``respace_day`` the first with 98 %
    of the water covered (``growth.cover.RESPACE_COVER``), ``at_harvest`` the share on
    ``harvest_day``; None for what never comes within these days, or is not known. ``nearest`` is
    the least distance of two plants (mm).
    """

    first: int
    cover: tuple[float, ...]
    nearest: float | None
    touch_day: int | None
    respace_day: int | None
    harvest_day: int | None
    at_harvest: float | None

    @property
    def last(self) -> int:
        """The last day that is known."""
        return self.first + len(self.cover) - 1


def growing(planned: BedPlan, courses: Sequence[Course | None]) -> Growing | None:
    """Follow the leaves of a bed from day to day; ``courses`` has one for each planting.

    None for a bed without plants, where the leaves of a planting are not known, or where no day is
    known of all of them. Plugged holes hold no plant.
    """
    plants = _plants(planned, len(courses))
    grown = [number for number, xy in enumerate(plants) if len(xy)]
    known = {number: course for number, course in enumerate(courses) if course is not None}
    if not grown or not known.keys() >= set(grown):
        return None
    first = max(known[number].first for number in grown)
    last = min(known[number].last for number in grown)
    if first > last:
        return None
    gaps = nearest_between(plants, _likely(planned))
    water: Any = wrapped(planned.layout.outline)  # one piece: outlines are loops
    shade = look_at(water, [plants[number] for number in grown], _PLACES)
    cover = tuple(
        shade.cover([known[number].width_on(day) for number in grown])
        for day in range(first, last + 1)
    )
    harvest = known[grown[0]].harvest
    if harvest is not None and not first <= harvest <= last:
        harvest = None
    return Growing(
        first,
        cover,
        min(gaps.values(), default=None),
        _touch_day(gaps, known, range(first, last + 1)),
        next((first + at for at, share in enumerate(cover) if share >= RESPACE_COVER), None),
        harvest,
        None if harvest is None else cover[harvest - first],
    )


def nearest_between(plants: Sequence[Floats], likely_mm: float) -> Nearest:
    """Return how near plants of the same and of unlike plantings come to each other.

    ``likely_mm`` is about how far plants are apart; it only decides how long it takes.
    """
    gaps: Nearest = {}
    for number, xy in enumerate(plants):
        if len(xy) > 1:
            gaps[number, number] = float(nearest_gaps(xy, likely_mm).min())
    for one, other in combinations(range(len(plants)), 2):
        if len(plants[one]) and len(plants[other]):
            here, there = plants[one], plants[other]
            parts = np.array_split(there, 1 + len(there) // _AT_ONCE)
            gaps[one, other] = float(
                min(how_far(shapely.points(part), here).min() for part in parts)
            )
    return gaps


def _touch_day(gaps: Nearest, courses: dict[int, Course], days: range) -> int | None:
    found = []
    for (one, other), gap in gaps.items():
        if one == other:
            day = courses[one].day_at(gap - TOLERANCE_MM)
            found += [] if day is None else [max(day, days[0])]
            continue
        for day in days:
            widths = [courses[number].width_on(day) or 0.0 for number in (one, other)]
            if sum(widths) / 2 >= gap - TOLERANCE_MM:
                found.append(day)
                break
    return min((day for day in found if day in days), default=None)


def _plants(planned: BedPlan, count: int) -> list[Floats]:
    """Return the centres of the plants of each planting in bed coordinates (mm)."""
    parts: list[list[Floats]] = [[np.empty((0, 2))] for _ in range(count)]
    for raft in planned.rafts:
        holes = raft.design.holes
        held = np.ones(len(holes), dtype=bool) if holes.plugged is None else ~holes.plugged
        xy = _in_bed(raft)
        for number in np.unique(holes.numbers[held]).tolist():
            parts[number].append(xy[held & (holes.numbers == number)])
    return [np.concatenate(part) for part in parts]


def _in_bed(raft: PlacedRaft) -> Floats:
    xy: Floats = raft.design.holes.xy
    if raft.turned:
        shape = raft.design.shape
        xy = np.array([float(shape.length), float(shape.width)]) - xy
    moved: Floats = xy + np.array([raft.x, raft.y])
    return moved


def _likely(planned: BedPlan) -> float:
    pitch = planned.tried[0].pitch_mm if planned.tried else 0.0
    return pitch or 100.0
