"""The best place for stacks of rows: no other shift of them puts more sites into the region.

For rows at given heights the best shift along them is exact: every free stretch holds a number of
sites for sure and one more for some shifts, and the most windows that share a shift are found by
sorting their ends. For rows whose heights are known within a range only, the same count over all
that they find free in the range is an upper bound. So the range of heights is halved where the
bound leaves hope, and the rest is given up unseen. When a range is as short as the tolerance, its
bound is a count.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.chords import NEARLY_MM, Chords, Indices, Stretches, turned
from geometry.holes.sites import Coordinates
from geometry.holes.stack import RowStack
from geometry.model.edges import Floats
from geometry.watch import look_up

_FIRST_RANGES: Final = 2
_RANGES: Final = 128
"""About so many ranges are looked at together; the fewer there are, the finer they are cut."""
_LOOKS: Final = 96
"""At the middles of about so many ranges a count is taken, to compare the bounds with."""
_ROWS_AT_ONCE: Final = 30_000
_TOO_MANY: Final = 256
"""When more ranges than this are left, they are looked at along leaning walls as well."""
_MOST_RANGES: Final = 1_000
"""More ranges stay in doubt only where rows of sites nearly fit between leaning walls."""
_BELOW_ONE: Final = 1 - 1e-11


@dataclass(frozen=True, slots=True)
class Shift:
    """A stack, by its number, moved ``up`` across its rows; it holds ``count`` sites there.

    Then all its distances are made ``ratio`` times as large, about the region's middle.
    """

    stack: int
    up: float
    count: int
    ratio: float = 1.0


class MostOfEach:
    """Looks for the most sites in each group of stacks, in excess of what is known."""

    def __init__(self, groups: Sequence[int], known: Sequence[int]) -> None:
        self._group = np.array(groups, dtype=np.int64)
        self._most = np.array(known, dtype=np.int64)
        self.in_doubt = np.zeros(len(known), dtype=np.int64)
        self.best: dict[int, Shift] = {}

    def hopeful(self, stack: Indices, bound: Indices) -> NDArray[np.bool_]:
        """Only what may hold more than the best of its group."""
        hope: NDArray[np.bool_] = bound > self._most[self._group[stack]]
        return hope

    def most_hopeful(self, stack: Indices, bound: Indices) -> Indices:
        """Which ranges are worth a look at their middles: those of the highest bounds, by group."""
        group = self._group[stack]
        order = np.lexsort((-bound, group))
        firsts = np.flatnonzero(np.diff(group[order], prepend=-1))
        rank = np.arange(len(order)) - np.repeat(firsts, np.diff(np.append(firsts, len(order))))
        return np.asarray(order[rank < max(2, _LOOKS // len(firsts))])

    def few_enough(
        self, stack: Indices, bound: Indices, kept: NDArray[np.bool_]
    ) -> NDArray[np.bool_]:
        """Give up all but the most hopeful ranges where far too many are left.

        Then ``in_doubt`` has, for each group, how many sites the ranges given up might hold.
        """
        some = np.flatnonzero(kept)
        if len(some) <= _MOST_RANGES:
            return kept
        lost = some[np.argsort(-bound[some], kind="stable")[_MOST_RANGES:]]
        np.maximum.at(self.in_doubt, self._group[stack[lost]], bound[lost])
        kept = kept.copy()
        kept[lost] = False
        return kept

    def learn(self, stack: Indices, up: Floats, count: Indices) -> None:
        """Remember the best of each group, the first of equals."""
        for k in np.lexsort((stack, -count)).tolist():
            group = int(self._group[stack[k]])
            if count[k] > self._most[group]:
                self._most[group] = count[k]
                self.best[group] = Shift(int(stack[k]), float(up[k]), int(count[k]))


class Search:
    """Stacks of rows over one region."""

    def __init__(self, chords: Chords, stacks: Sequence[RowStack]) -> None:
        self.chords, self.stacks = chords, stacks
        ways = {angle: way for way, angle in enumerate(chords.angles)}
        self._way = np.array([ways[stack.angle] for stack in stacks], dtype=np.int64)
        rows = [
            stack.rows(*chords.reaches[way].tolist())
            for stack, way in zip(stacks, self._way.tolist(), strict=True)
        ]
        self._number = np.array([len(levels) for levels, _, _ in rows], dtype=np.int64)
        self._first = np.cumsum(self._number) - self._number
        self._level = np.concatenate([np.empty(0), *(levels for levels, _, _ in rows)])
        self._aside = np.concatenate([np.empty(0), *(shifts for _, shifts, _ in rows)])
        self._span = np.array([span for _, _, span in rows])
        self._pitch = np.array([stack.pitch for stack in stacks])
        self._alone = np.array([stack.alone for stack in stacks], dtype=np.bool_)

    def run(self, judge: MostOfEach) -> None:
        """Let the judge learn the counts of all that it is hopeful about, whatever the shift."""
        gaps = np.array([stack.gap for stack in self.stacks])
        cuts = np.ceil(_FIRST_RANGES * self._span / gaps).astype(np.int64)
        stack = np.repeat(np.arange(len(self.stacks)), cuts)
        place = np.arange(len(stack)) - np.repeat(np.cumsum(cuts) - cuts, cuts)
        width = (self._span / np.maximum(cuts, 1))[stack]
        low, is_first = place * width, True
        while len(stack):
            bound = self.counts(stack, low, low + width, shares=is_first)
            is_first = False
            kept = judge.hopeful(stack, bound)
            stack, low, width, bound = stack[kept], low[kept], width[kept], bound[kept]
            if not len(stack):
                return
            look = judge.most_hopeful(stack, bound)
            middle = (low + width / 2)[look]
            judge.learn(stack[look], middle, self.counts(stack[look], middle, middle))
            # As short as this a range has one count, whatever the place in it.
            last = width <= NEARLY_MM
            judge.learn(stack[last], (low + width / 2)[last], bound[last])
            kept = ~last & judge.hopeful(stack, bound)
            if kept.sum() > _TOO_MANY:
                kept = self._followed(judge, stack, low, low + width, kept)
                kept = judge.few_enough(stack, bound, kept)
            look_up(1 - len(np.unique(stack[kept])) / len(self.stacks))
            stack, low, width = stack[kept], low[kept], width[kept]
            parts = max(2, min(64, _RANGES // max(1, len(stack))))
            width = np.repeat(width / parts, parts)
            low = np.repeat(low, parts) + width * np.tile(np.arange(parts), len(stack))
            stack = np.repeat(stack, parts)

    def _followed(
        self,
        judge: MostOfEach,
        stack: Indices,
        low: Floats,
        high: Floats,
        kept: NDArray[np.bool_],
    ) -> NDArray[np.bool_]:
        """Give up more ranges: those without hope once rows are followed along a leaning wall.

        Sites that fit exactly between leaning walls, or nearly so, do so at all heights; a bound
        that lets them slip along the wall while the rows rise would leave hope everywhere.
        """
        kept = kept.copy()
        for lean in self.chords.leans.T:
            some = np.flatnonzero(kept & (lean[self._way[stack]] != 0))
            if len(some):
                here = stack[some]
                bound = self.counts(here, low[some], high[some], leans=lean[self._way[here]])
                kept[some] = judge.hopeful(here, bound)
        return kept

    def height(self, stack: int) -> float:
        """From the lowest to the highest place that rows of a stack can take."""
        low, high = self.chords.reaches[self._way[stack]]
        return float(high - low)

    def span(self, stack: int) -> float:
        """How far a stack has to be moved across its rows until all was seen."""
        return float(self._span[stack])

    def counts(
        self,
        stack: Indices,
        low: Floats,
        high: Floats,
        ratios: tuple[Floats, Floats] | None = None,
        *,
        leans: Floats | None = None,
        shares: bool = False,
    ) -> Indices:
        """The most sites of stacks moved up by no less than ``low`` and no more than ``high``.

        With ``ratios``, the least and the most of each, they are also opened by no less and no
        more. Where low and high, least and most are one, the count is reached; else it is a bound.
        With ``leans`` rows are followed along walls that lean so; they are for bounds only.
        """
        size = int(max(1, _ROWS_AT_ONCE // max(1, self._number[stack].max(initial=1))))
        parts = [slice(k, k + size) for k in range(0, len(stack), size)]
        counts: list[Indices] = []
        for number, part in enumerate(parts):
            look_up(number / len(parts) / 2 if shares else 0.0)
            of = ratios and (ratios[0][part], ratios[1][part])
            lean = None if leans is None else leans[part]
            counts.append(self._counts(stack[part], low[part], high[part], of, lean))
        return np.concatenate([np.empty(0, np.int64), *counts])

    def _counts(
        self,
        stack: Indices,
        low: Floats,
        high: Floats,
        ratios: tuple[Floats, Floats] | None,
        lean: Floats | None,
    ) -> Indices:
        job, row, found = self._found(stack, low, high, ratios, lean)
        alone = self._alone[stack]
        if not alone.any():
            return _shared(job, self._aside[row], self._pitch[stack], found)
        count = _by_themselves(job, self._pitch[stack], found)
        if not alone.all():
            count = np.where(
                alone, count, _shared(job, self._aside[row], self._pitch[stack], found)
            )
        return count

    def _found(
        self,
        stack: Indices,
        low: Floats,
        high: Floats,
        ratios: tuple[Floats, Floats] | None = None,
        lean: Floats | None = None,
    ) -> tuple[Indices, Indices, Stretches]:
        """Free stretches with the range and the row that each belongs to.

        Rather than opening the rows the region is shrunk.
        """
        number = self._number[stack]
        job = np.repeat(np.arange(len(stack)), number)
        ahead = self._first[stack] - (np.cumsum(number) - number)
        row = np.arange(len(job)) + np.repeat(ahead, number)
        level = self._level[row]
        lower, upper = level + low[job], level + high[job]
        if ratios is not None:
            least, most = ratios[0][job], ratios[1][job]
            across = self.chords.middles[self._way[stack], 1][job]
            lower, upper = lower - across, upper - across
            lower = across + np.where(lower < 0, most, least) * lower
            upper = across + np.where(upper > 0, most, least) * upper
        lowest, highest = self.chords.reaches[self._way[stack]].T
        seen = np.flatnonzero(
            (upper > (lowest - NEARLY_MM)[job]) & (lower < (highest + NEARLY_MM)[job])
        )
        job, row = job[seen], row[seen]
        leans = None if lean is None else lean[job]
        found = self.chords.stretches(self._way[stack][job], lower[seen], upper[seen], leans)
        job, row = job[found.row], row[found.row]
        if ratios is None:
            return job, row, found
        least, most = ratios[0][job], ratios[1][job]
        middle = self.chords.middles[self._way[stack], 0][job]
        start, end = found.start - middle, found.end - middle
        shrunk = Stretches(
            found.row,
            middle + start / np.where(start < 0, least, most),
            middle + end / np.where(end > 0, least, most),
            found.longest / least,
        )
        return job, row, shrunk

    def sites(self, shift: Shift) -> Coordinates:
        """The sites of a stack where it was found best, row by row.

        They are allowed, but for those that only the tolerance of the search let in.
        """
        stack, up = self.stacks[shift.stack], np.array([shift.up])
        ratio = np.array([shift.ratio])
        job, row, found = self._found(np.array([shift.stack]), up, up, (ratio, ratio))
        if not len(job):
            return np.empty((0, 2))
        if stack.alone:
            places, count = filled(found.row, found.start, found.end, stack.pitch)
        else:
            aside = self._aside[row]
            along = _best_along(found, aside, stack.pitch)
            first = np.ceil((found.start - aside - along) / stack.pitch)
            places = aside + along + first * stack.pitch
            count = np.floor((found.end - places) / stack.pitch).astype(np.int64) + 1
            count = np.maximum(count, 0)
        which = np.repeat(np.arange(len(count)), count)
        number = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
        height = (self._level[row] + shift.up)[which]
        middle = self.chords.middles[self._way[shift.stack]]
        placed = np.column_stack([places[which] + number * stack.pitch, height])
        placed = middle + (placed - middle) * shift.ratio
        xy: Coordinates = placed @ turned(stack.angle)
        return xy


def filled(
    row: Indices, start: Floats, end: Floats, pitch: Floats | float
) -> tuple[Floats, Indices]:
    """Fill the stretches of rows from the left: the first place in each, and how many it holds.

    The places of a row are a pitch apart across the gaps between its stretches too.
    """
    fresh = np.append(True, row[1:] != row[:-1])
    rank = np.arange(len(row)) - np.maximum.accumulate(np.where(fresh, np.arange(len(row)), 0))
    pitches = np.broadcast_to(pitch, row.shape)
    first, count = start.copy(), np.zeros(len(row), dtype=np.int64)
    free_from = np.full(len(row), -np.inf)
    for k in range(int(rank.max(initial=-1)) + 1):
        here = np.flatnonzero(rank == k)
        if k:
            first[here] = np.maximum(start[here], free_from[here - 1])
        held = np.floor((end[here] - first[here]) / pitches[here]) + 1
        count[here] = np.maximum(held, 0).astype(np.int64)
        after = np.where(count[here] > 0, first[here] + count[here] * pitches[here], -np.inf)
        free_from[here] = np.maximum(after, free_from[here - 1]) if k else after
    return first, count


def _by_themselves(job: Indices, pitch: Floats, found: Stretches) -> Indices:
    """The most sites of rows of which every stretch is filled by itself."""
    if not len(job):
        return np.zeros(len(pitch), dtype=np.int64)
    pitches = pitch[job]
    _, count = filled(found.row, found.start, found.end, pitches)
    count = np.minimum(count, np.floor(found.longest / pitches).astype(np.int64) + 1)
    return np.bincount(job, count, minlength=len(pitch)).astype(np.int64)


def _windows(
    aside: Floats, pitch: Floats, found: Stretches
) -> tuple[Indices, Floats, Floats, NDArray[np.bool_]]:
    """For each stretch the sites that it surely holds, and the shifts that give it one more.

    The window of those shifts begins and ends at shares of the pitch below 1; the last part of the
    answer tells which stretches have one.
    """
    sure = np.floor(found.longest / pitch)
    window = (found.end - found.start) / pitch - sure
    always = window >= _BELOW_ONE
    begin = np.minimum(np.mod((found.start - aside) / pitch, 1.0), _BELOW_ONE)
    return (sure + always).astype(np.int64), begin, begin + window, ~always


def _shared(job: Indices, aside: Floats, pitch: Floats, found: Stretches) -> Indices:
    """The most sites of rows that move along together."""
    sure, begin, end, some = _windows(aside, pitch[job], found)
    total = np.bincount(job, sure, minlength=len(pitch)).astype(np.int64)
    job, begin, end = job[some], begin[some], end[some]
    if not len(job):
        return total
    over = end >= _BELOW_ONE
    end = np.where(over, np.maximum(end - 1.0, 0.0), end)
    # Every range has as many beginnings as ends, so ranks among all tell those in the own range.
    begins, ends = np.sort(begin + job), np.sort(end + job)
    shared = np.arange(1, len(job) + 1) - np.searchsorted(ends, begins, "left")
    firsts = np.flatnonzero(np.append(True, np.diff(job) > 0))
    shared += np.bincount(job, over, minlength=len(pitch)).astype(np.int64)[job]
    total[job[firsts]] += np.maximum.reduceat(shared, firsts)
    return total


def _best_along(found: Stretches, aside: Floats, pitch: float) -> float:
    """A shift along the rows that gives the most sites: the middle of all such shifts there."""
    _, begin, end, some = _windows(aside, np.full(len(aside), pitch), found)
    if not some.any():
        return 0.0
    begin, end = begin[some], end[some]
    inside = (np.mod(begin[:, None] - begin[None], 1.0) <= (end - begin)[None]).sum(axis=1)
    at = begin[int(inside.argmax())]
    until = np.mod(end - at, 1.0).min()
    return float((at + until / 2) * pitch)
