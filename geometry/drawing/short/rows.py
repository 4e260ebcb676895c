"""The rows in which the holes of a raft stand, as one strip that is laid again and again."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.short.slips import Place
from geometry.holes.sites import Holes

FIT_MM: Final = 0.3
"""A hole this near a mark of the strip is the hole of that mark; the stated error adds it."""

_LEVEL_MM: Final = 0.02
_LEAST_COVERED: Final = 0.5

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class StripRow:
    """One laying of the strip: its line is ``level`` mm from the datum edge that it runs along.

    ``start`` is where the strip's first mark then lies, from the other datum edge. ``holes`` are
    the places in the raft's holes that it marks and ``marks`` those of the strip's marks.
    """

    level: float
    start: float
    holes: tuple[int, ...]
    marks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """The step from one row to the next: two ``pins`` on the strip lie on holes of the row before.

    ``gap`` is the distance of the two lines, ``shift`` how far the strip moves along its line.
    """

    gap: float
    shift: float
    pins: tuple[float, float]


@dataclass(frozen=True)
class RowPlan:
    """The rows of a raft. Rows of an ``upright`` plan run along the raft's width, else its length.

    ``strip`` are the places of its marks, the first one 0. ``strays`` are the holes that no row
    of the strip marks. ``off_mm`` is the most that a hole lies beside its mark.
    """

    upright: bool
    strip: tuple[float, ...]
    rows: tuple[StripRow, ...]
    strays: tuple[int, ...]
    off_mm: float

    @property
    def side(self) -> int:
        """On which side of the strip, seen along it, the row before lies: -1 right, 1 left."""
        return 1 if self.upright else -1

    @property
    def least_pitch(self) -> float:
        """The least distance of two marks of the strip."""
        return min(after - before for before, after in pairwise(self.strip))

    def place(self, row: StripRow, mark: Place) -> Place:
        """Return where a place on the strip lies on the raft while the strip marks a row."""
        along, aside = mark
        if self.upright:
            return row.level - aside, row.start + along
        return row.start + along, row.level + aside

    @cached_property
    def steps(self) -> tuple[Step | None, ...]:
        """The step to each row after the first; None where no two marks would lie on holes."""
        kinds: dict[tuple[float, float], set[float]] = {}
        keys: list[tuple[float, float]] = []
        for before, row in pairwise(self.rows):
            shift, gap = row.start - before.start, row.level - before.level
            key = (round(gap, 1), round(shift, 1))
            seen = {
                round(self.strip[mark] - shift, 3)
                for mark in before.marks
                if -FIT_MM <= self.strip[mark] - shift <= self.strip[-1] + FIT_MM
            }
            kinds[key] = kinds[key] & seen if key in kinds else seen
            keys.append(key)
        pins = dict(self._pins(kinds))
        return tuple(
            Step(row.level - before.level, row.start - before.start, pins[key])
            if key in pins
            else None
            for (before, row), key in zip(pairwise(self.rows), keys, strict=True)
        )

    @staticmethod
    def _pins(
        kinds: dict[tuple[float, float], set[float]],
    ) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
        """Find two places for each kind of step, the same for all kinds of a gap if that goes."""
        for gap in {gap for gap, _ in kinds}:
            own = {key: places for key, places in kinds.items() if key[0] == gap}
            shared = set.intersection(*own.values())
            for key, places in own.items():
                chosen = shared if len(shared) > 1 else places
                if len(chosen) > 1:
                    yield key, (min(chosen), max(chosen))


@lru_cache(maxsize=16)
def row_plan(holes: Holes, *, upright: bool) -> RowPlan | None:
    """Find the rows of holes; None where the holes do not stand in rows that are alike.

    The strip is the first of the longest rows. Half of the holes at least must be its own.
    """
    if len(holes) < 2:
        return None
    along, level = holes.xy[:, ::-1].T if upright else holes.xy.T
    groups = [group[np.argsort(along[group], kind="stable")] for group in _levels(level)]
    longest = max(groups, key=len)
    if len(longest) < 2:
        return None
    strip = along[longest] - along[longest[0]]
    rows: list[StripRow] = []
    strays: list[int] = []
    off = 0.0
    fits: dict[bytes, tuple[float, NDArray[np.int64]]] = {}
    for group in groups:
        own = along[group] - along[group[0]]
        key = np.round(own, 6).tobytes()
        if key not in fits:
            fits[key] = _fitted(own, strip)
        start, marks = fits[key][0] + float(along[group[0]]), fits[key][1]
        found = marks >= 0
        if not found.any():
            strays += group.tolist()
            continue
        off = max(off, float(np.abs(along[group][found] - start - strip[marks[found]]).max()))
        off = max(off, float(np.ptp(level[group]) / 2))
        rows.append(
            StripRow(
                float(level[group].mean()),
                start,
                tuple(group[found].tolist()),
                tuple(marks[found].tolist()),
            )
        )
        strays += group[~found].tolist()
    kept = [row for row in rows if len(row.holes) > 1 or _is_in_line(row, rows)]
    strays += [hole for row in rows if row not in kept for hole in row.holes]
    if len(strays) > len(holes) * (1 - _LEAST_COVERED):
        return None
    places = tuple(round(place, 6) for place in strip.tolist())
    return RowPlan(upright, places, tuple(kept), tuple(sorted(strays)), off)


def _levels(level: Floats) -> list[NDArray[np.int64]]:
    """Put the holes whose lines are the same together, the line nearest to the datum first."""
    order = np.argsort(level, kind="stable")
    cuts = np.flatnonzero(np.diff(level[order]) > _LEVEL_MM) + 1
    return list(np.split(order, cuts))


def _fitted(along: Floats, strip: Floats) -> tuple[float, NDArray[np.int64]]:
    """Lay the strip so that the most marks lie on holes, its first marks if there is a choice.

    Returns where the first mark then lies, and for each hole the number of its mark or -1.
    """
    starts = np.sort((along[:, None] - strip[None, :]).ravel())
    ends = np.searchsorted(starts, starts + 2 * FIT_MM - 1e-9, side="right")
    many = ends - np.arange(len(starts))
    first = int(np.flatnonzero(many == many.max())[-1])
    start = float((starts[first] + starts[ends[first] - 1]) / 2)
    nearest = np.abs(along[:, None] - start - strip[None, :]).argmin(axis=1)
    away = np.abs(along - start - strip[nearest])
    return start, np.where(away <= FIT_MM, nearest, -1)


def _is_in_line(row: StripRow, rows: Sequence[StripRow]) -> bool:
    """Tell whether a single hole stands where a longer row would put it."""
    return any(len(other.holes) > 1 and abs(other.start - row.start) <= FIT_MM for other in rows)
