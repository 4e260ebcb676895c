"""Every second site in use: which holes of a raft hold a plant now and which are plugged."""

from collections.abc import Sequence
from math import inf, sqrt

import numpy as np
from numpy.typing import NDArray

from geometry.holes.pairs import Indices, near_pairs
from geometry.holes.sites import Coordinates, Holes, Sites
from geometry.model.planting import Planting
from geometry.units import TOLERANCE_MM

_REACH = 2.5
"""Up to so many spacings pairs of sites are looked at: two used ones are never farther apart."""

_LEAST_SHARE = 0.25
"""Halves with less than this on one side are none: only a few sites had to be kept apart."""


def plugged_sites(sites: Sites, plantings: Sequence[Planting]) -> NDArray[np.bool_] | None:
    """Mark the sites that are plugged now, planting by planting; None where there are none."""
    plugged = np.zeros(len(sites), dtype=np.bool_)
    numbers = np.zeros(len(sites), np.int64) if sites.plantings is None else sites.plantings
    for number, planting in enumerate(plantings):
        if planting.in_use == "every second":
            own = np.flatnonzero(numbers == number)
            used = every_second(sites.xy[own], sites.rows[own], planting.spacing.mm)
            plugged[own[~used]] = True
    return plugged if plugged.any() else None


def every_second(xy: Coordinates, rows: Indices, spacing: float) -> NDArray[np.bool_]:
    """Choose half of the sites, as far apart from each other as halves can be.

    Neighbours nearer than some distance are never both chosen, and that distance is the largest
    for which the sites fall into two such halves; the larger half is used, or the one with the
    first site. Straight rows give a checkerboard, with the diagonal as its least distance. Where
    three sites are each other's nearest, as in hexagonal rows, no half can do better than the
    spacing: then every second row, every second place or both in turn, whatever is best.
    """
    if len(xy) < 2:
        return np.ones(len(xy), dtype=np.bool_)
    first, second = near_pairs(xy, _REACH * spacing)
    gaps = np.hypot(*(xy[first] - xy[second]).T)
    order = np.argsort(gaps, kind="stable")
    first, second, gaps = first[order], second[order], gaps[order]
    # Gaps that differ by rounding only belong together.
    steps = np.append(np.flatnonzero(np.diff(gaps) > TOLERANCE_MM) + 1, len(gaps))
    low, high = 0, len(steps)
    halves: NDArray[np.bool_] | None = None
    while low < high:
        middle = (low + high + 1) // 2
        upto = steps[middle - 1]
        tried = _two_halves(len(xy), first[:upto], second[:upto])
        if tried is None:
            high = middle - 1
        else:
            low, halves = middle, tried
    if halves is not None and _LEAST_SHARE <= halves.mean() <= 1 - _LEAST_SHARE:
        return halves
    return _by_row_and_place(xy, rows)


def least_in_use(holes: Holes) -> float | None:
    """Return the least distance of two plants of a paired planting on a raft, plugs left out.

    Without plugged holes it is that of all holes; None where there are not two plants.
    """
    if holes.plugged is None:
        return _least(holes.xy) if len(holes) > 1 else None
    paired = np.unique(holes.numbers[holes.plugged])
    used = [holes.xy[(holes.numbers == number) & ~holes.plugged] for number in paired.tolist()]
    least = min((_least(xy) for xy in used), default=inf)
    return None if least == inf else least


def _two_halves(count: int, first: Indices, second: Indices) -> NDArray[np.bool_] | None:
    """Choose one end of every pair, if that can be; of each group the larger half.

    Every site stands twice, as chosen and as not; each pair ties one of the first to one of the
    second. Where a site hangs together with its own double, there are no halves.
    """
    labels = np.arange(2 * count)
    one = np.concatenate([first, first + count])
    other = np.concatenate([second + count, second])
    while True:
        least = np.minimum(labels[one], labels[other])
        after = labels.copy()
        np.minimum.at(after, labels[one], least)
        np.minimum.at(after, labels[other], least)
        after = after[after]
        if np.array_equal(after, labels):
            break
        labels = after
    chosen, left = labels[:count], labels[count:]
    if (chosen == left).any():
        return None
    group = np.minimum(chosen, left)
    with_first = chosen == group
    of_first = np.bincount(group[with_first], minlength=count)
    of_others = np.bincount(group[~with_first], minlength=count)
    halves: NDArray[np.bool_] = with_first == (of_first >= of_others)[group]
    return halves


def _by_row_and_place(xy: Coordinates, rows: Indices) -> NDArray[np.bool_]:
    """Every second row, place, or both in turn: what leaves the largest least distance."""
    starts = np.append(True, rows[1:] != rows[:-1])
    begin = np.maximum.accumulate(np.where(starts, np.arange(len(rows)), 0))
    places = np.arange(len(rows)) - begin
    ranks = np.cumsum(starts) - 1
    tried = [way % 2 == 0 for way in (ranks + places, places, ranks)]
    return max(tried, key=lambda used: (round(_least(xy[used]), 6), -abs(2 * used.sum() - len(xy))))


def _least(xy: Coordinates) -> float:
    """The least distance of points; infinite for a single one."""
    if len(xy) < 2:
        return inf
    sides = xy.max(axis=0) - xy.min(axis=0)
    reach = 2 * sqrt(float(sides[0] * sides[1]) / len(xy)) + float(sides.max()) / len(xy)
    while True:
        first, second = near_pairs(xy, reach)
        if len(first):
            return float(np.hypot(*(xy[first] - xy[second]).T).min())
        reach *= 2
