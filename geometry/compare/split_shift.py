"""Where the joints of a split lose the fewest plants, and what moving them there costs.

Moving all joints by the same length makes the rafts at one end longer and those at the other end
shorter. How many plants fit changes only at critical shifts, where a column more fits between an
end of the bed and a joint. On plain rectangles all of them are looked at, counted in one go; on
other beds, evenly spaced shifts are tried.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import ceil, floor, sqrt
from typing import Final, Literal

import numpy as np

from geometry.errors import GeometryError
from geometry.holes.chessboard import Cells, Floats, count_through, widest_steps
from geometry.holes.joints import seam_margin
from geometry.holes.place import limits_of
from geometry.holes.rows import best_rows
from geometry.holes.zones import lay_holes
from geometry.model.bed import Bed, Split
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, Plan, make_plan, with_best_cut
from geometry.rafts.layout import RaftLayout
from geometry.rafts.split import lay_rafts
from geometry.tongue import tr
from geometry.units import MM_PER, Length

Way = Literal["along", "across"]
Tell = Callable[[float], None]
"""Called with the share of the work that is done."""

_FINALISTS: Final = 8
"""So many of the most hopeful shifts are laid out in full, each way."""
_EVENLY: Final = 5
_SAME_MM: Final = 1e-6
_MOST_SHIFTS: Final = 4000
_FEW: Final = 300


@dataclass(frozen=True, slots=True)
class SplitShift:
    """The best shift of a bed's joints that was found, beside what is now.

    ``along`` and ``across`` are whole shifts, ``along_now`` and ``across_now`` the present ones.
    Designs and sheets are those of the bed and of the whole project. ``exact`` says that every
    critical shift of each way by itself was looked at; both ways together are only ever tried.
    """

    bed: str
    along: Length
    across: Length
    along_now: Length
    across_now: Length
    plants: int
    plants_now: int
    designs: int
    designs_now: int
    sheets: int
    sheets_now: int
    exact: bool

    @property
    def gain(self) -> int:
        """How many more plants; 0 when the joints lie best where they are."""
        return self.plants - self.plants_now


def best_split_shift(project: Project, bed: Bed, tell: Tell | None = None) -> SplitShift | None:
    """Find the shift of the bed's joints with the most plants; None for a bed without joints.

    Of shifts with as many plants the one with the fewest raft designs counts, then the shortest.
    It is a whole millimetre or sixteenth of an inch where that holds as many. Where every raft
    fits a sheet now, no raft that fits none is offered.
    """
    rule, planting = bed.rafts, bed.planting
    if not isinstance(rule, Split) or planting is None or rule.along * rule.across < 2:
        return None
    still = replace(bed, planting=replace(planting, pins=(), blanks=()))
    layout = lay_rafts(still)
    if not layout.rafts:
        return None
    search = _Search(project, still, rule, tell or _quiet)
    best = search.best()
    plan, plan_now = _planned(project, bed, best), _planned(project, bed, rule)
    if _of(plan, bed).plants > _of(plan_now, bed).plants:
        plan, plan_now = with_best_cut(plan), with_best_cut(plan_now)
    else:
        best, plan = rule, plan_now
    made, now = _of(plan, bed), _of(plan_now, bed)
    return SplitShift(
        bed.name,
        best.shift_along,
        best.shift_across,
        rule.shift_along,
        rule.shift_across,
        made.plants,
        now.plants,
        len(made.designs),
        len(now.designs),
        plan.cut.sheet_count,
        plan_now.cut.sheet_count,
        exact=search.is_plain,
    )


def _quiet(_share: float) -> None:
    pass


def _planned(project: Project, bed: Bed, rule: Split) -> Plan:
    """The whole project with the bed split like this; no shift changes what is sown."""
    made = replace(bed, rafts=rule)
    beds = tuple(made if each.name == bed.name else each for each in project.beds)
    return make_plan(replace(project, beds=beds, runs=()))


def _of(plan: Plan, bed: Bed) -> BedPlan:
    return next(each for each in plan.beds if each.bed.name == bed.name)


def _shifted(plain: Split, way: Way, shift: Fraction) -> Split:
    if way == "along":
        return replace(plain, shift_along=Length(shift))
    return replace(plain, shift_across=Length(shift))


class _Search:
    """The search in one bed. Hand edits are not looked at: they stand beside the pattern."""

    def __init__(self, project: Project, bed: Bed, rule: Split, tell: Tell) -> None:
        if bed.planting is None:
            raise GeometryError(tr("A bed without plants has no holes to gain."))
        self._bed, self._rule, self._tell = bed, rule, tell
        self._planting: Planting = bed.planting
        self._step = MM_PER["in"] / 16 if project.units == "in" else Fraction(1)
        self._plain_layout = lay_rafts(replace(bed, rafts=Split(rule.along, rule.across)))
        self._known: dict[Split, tuple[int, int]] = {}
        self._sheets = [
            (sheet.length.exact - 2 * trim, sheet.width.exact - 2 * trim)
            for sheet in project.sheets
            for trim in (project.cutting.trim.exact,)
        ]
        self._may_turn = project.cutting.turn
        self._heeds_sheets = self._all_fit(lay_rafts(bed))
        self._share = 0.0

    @property
    def is_plain(self) -> bool:
        """Whether all rafts are rectangles of a plain split with nothing in the way."""
        rafts = self._plain_layout.rafts
        return not (self._bed.obstacles or self._bed.zones) and all(
            raft.shape is rafts[0].shape and raft.shape.is_rectangle for raft in rafts
        )

    def best(self) -> Split:
        """The best split found: each way by itself, then both together."""
        found: dict[Way, list[Fraction]] = {}
        ways: tuple[Way, ...] = ("along", "across")
        joined: list[Way] = [way for way in ways if getattr(self._rule, way) > 1]
        for number, way in enumerate(joined):
            self._say(number / len(joined))
            found[way] = self._best_of(way, 1 / len(joined))
        plain = Split(self._rule.along, self._rule.across)
        tried = [self._rule, plain]
        unmoved = [Fraction(0)]
        tried += [
            replace(plain, shift_along=Length(along), shift_across=Length(across))
            for along, across in product(found.get("along", unmoved), found.get("across", unmoved))
        ]
        self._say(1.0)
        return min(tried, key=self._worse)

    def _say(self, share: float) -> None:
        self._share = max(self._share, share)
        self._tell(self._share)

    def _worse(self, rule: Split) -> tuple[int, int, int, Fraction, int]:
        plants, designs = self._count(rule)
        moved = abs(rule.shift_along.exact) + abs(rule.shift_across.exact)
        shifts = (rule.shift_along.exact, rule.shift_across.exact)
        off_tape = sum((shift / self._step).denominator > 1 for shift in shifts)
        return -plants, designs, off_tape, moved, sum(shift < 0 for shift in shifts)

    def _count(self, rule: Split) -> tuple[int, int]:
        """Plants and kinds of raft when the bed is split like this."""
        if rule not in self._known:
            bed = replace(self._bed, rafts=rule, planting=replace(self._planting, spread=False))
            layout = lay_rafts(bed)
            fits = layout.rafts and (not self._heeds_sheets or self._all_fit(layout))
            sites = lay_holes(bed, layout).sites if fits else ()
            kinds = {(id(r.shape), id(s)) for r, s in zip(layout.rafts, sites, strict=False)}
            self._known[rule] = sum(map(len, sites)), len(kinds)
        return self._known[rule]

    def _all_fit(self, layout: RaftLayout) -> bool:
        """Whether every raft could be cut from some sheet."""
        sizes = {(raft.shape.length, raft.shape.width) for raft in layout.rafts}
        return all(
            any(
                (length <= long and width <= wide)
                or (self._may_turn and width <= long and length <= wide)
                for long, wide in self._sheets
            )
            for length, width in sizes
        )

    def _best_of(self, way: Way, part: float) -> list[Fraction]:
        """The best shifts one way, the other way unmoved: the best, and none at all."""
        plain = Split(self._rule.along, self._rule.across)
        begun = self._share
        finalists = list(self._finalists(way))
        best, worst = Fraction(0), self._worse(plain)
        for number, shift in enumerate(finalists):
            self._say(begun + part * (number + 1) / (len(finalists) + 1))
            for exact in self._round_near(shift):
                rule = _shifted(plain, way, exact)
                if (worse := self._worse(rule)) < worst:
                    best, worst = exact, worse
        return [Fraction(0), best]

    def _round_near(self, shift: float) -> Iterator[Fraction]:
        """A shift on the steps of the tape on either side, and as nearly as it can be written."""
        steps = Fraction(shift) / self._step
        if not self.is_plain:
            yield round(steps) * self._step
            return
        for whole in (floor(steps), ceil(steps)):
            yield whole * self._step
        hundredths = shift * 100
        for whole in {floor(hundredths + 1e-6), ceil(hundredths - 1e-6)}:
            yield Fraction(whole, 100)

    def _finalists(self, way: Way) -> Iterable[float]:
        """The most hopeful shifts."""
        rafts = self._plain_layout.rafts
        size = min(
            float(raft.shape.length if way == "along" else raft.shape.width) for raft in rafts
        )
        least = 2 * float(limits_of(self._planting).margin)
        most = min(float(limits_of(self._planting).spacing), size - max(least, 1.0))
        if most <= 0:
            return ()
        if not self.is_plain:
            steps = (most * k / _EVENLY for k in range(1, _EVENLY + 1))
            return [shift for step in steps for shift in (step, -step)]
        counter = _PlainCounter.of(self._bed, self._planting, self._plain_layout, way)
        shifts = counter.critical(most)
        plants = counter.plants(shifts)
        order = np.lexsort((np.abs(shifts), -plants))
        return [float(shifts[k]) for k in order[:_FINALISTS].tolist()]


@dataclass(frozen=True, slots=True, eq=False)
class _PlainCounter:
    """Counts the plants of a plain split for many shifts one way at once.

    ``starts`` and ``ends`` are the rafts one way without a shift, ``others`` the cells for
    centres the other way. ``seam`` is the margin at a joint when each raft is laid by itself.
    """

    planting: Planting
    way: Way
    starts: Floats
    ends: Floats
    others: Cells
    spacing: float
    row_spacing: float | None
    margin: float
    seam: float

    @classmethod
    def of(cls, bed: Bed, planting: Planting, layout: RaftLayout, way: Way) -> "_PlainCounter":
        limits = limits_of(planting)
        spans: dict[Way, dict[int, tuple[float, float]]] = {"along": {}, "across": {}}
        for raft in layout.rafts:
            x, y = float(raft.x), float(raft.y)
            spans["along"][raft.column] = x, x + float(raft.shape.length)
            spans["across"][raft.row] = y, y + float(raft.shape.width)
        own = np.array([spans[way][k] for k in sorted(spans[way])])
        other = spans["across" if way == "along" else "along"]
        margin = float(limits.margin)
        seam = max(limits.margin, seam_margin(limits.spacing, bed.joint_gap.exact))
        return cls(
            planting,
            way,
            own[:, 0],
            own[:, 1],
            [(other[k][0] + margin, other[k][1] - margin) for k in sorted(other)],
            float(limits.spacing),
            None if limits.row_spacing is None else float(limits.row_spacing),
            margin,
            margin if planting.joints == "separate" else float(seam),
        )

    def critical(self, most: float) -> Floats:
        """All shifts up to ``most``, either way, at which one of the counts may change."""
        lengths = self._lengths()
        found: list[Floats] = [np.zeros(1)]
        # Between the bed's first end and a joint, and between a joint and the last end.
        margins = {2 * self.margin, self.margin + self.seam, 2 * self.seam}
        rooms = {(1, float(end - self.starts[0])) for end in self.ends[:-1]}
        rooms |= {(-1, float(self.ends[-1] - start)) for start in self.starts[1:]}
        for (sign, room), margin in product(rooms, margins):
            for length in lengths:
                low = ceil((room - margin - most) / length)
                high = floor((room - margin + most) / length)
                numbers = np.arange(low, high + 1, dtype=np.float64)
                found.append(sign * (numbers * length - (room - margin)))
        shifts = np.concatenate(found)
        shifts = shifts[np.abs(shifts) <= most]
        _, first = np.unique(np.round(shifts / _SAME_MM), return_index=True)
        unique: Floats = shifts[first]
        if len(unique) > _MOST_SHIFTS:
            unique = unique[:: ceil(len(unique) / _MOST_SHIFTS)]
        return unique

    def _lengths(self) -> list[float]:
        """What may fit a whole number of times: spacings, halves, and steps of chessboards."""
        half = self.spacing / 2
        lengths = {self.spacing, half, self.spacing * sqrt(0.75)}
        if self.row_spacing:
            lengths.add(self.row_spacing)
        if self.planting.pattern in {"staggered", "mixed", "best"}:
            rows = widest_steps(self.others, self.spacing)
            steps = np.sqrt(np.maximum(self.spacing**2 - rows**2, 0.0))
            lengths |= {round(step, 9) for step in steps.tolist() if step > self.spacing / 20}
        return sorted(lengths)

    def plants(self, shifts: Floats) -> Floats:
        """An estimate of the plants for each shift, exact but for mixed rows through joints."""
        counts = self._raft_by_raft(shifts)
        if self.planting.joints == "bed-wide":
            return np.maximum(counts, self._through(shifts))
        return counts

    def _through(self, shifts: Floats) -> Floats:
        """The most of grids and chessboards through all joints."""
        cells = self._cells(shifts)
        most = np.zeros(len(shifts))
        gaps = [(self.spacing, self.row_spacing or self.spacing)]
        gaps += [(gap, own) for own, gap in gaps]
        if self.planting.pattern != "hexagonal":
            for own, other in gaps:
                rows = count_through(self.others, np.array([other]), 0.0)[0]
                most = np.maximum(most, rows * count_cells(cells, own, 0.0))
        if self.planting.pattern in {"square", "rectangular", "rows", "rings"}:
            return most
        steps = np.array([self.spacing / 2, self.spacing * sqrt(0.75)])
        if self.planting.pattern != "hexagonal":
            steps = np.concatenate([steps, widest_steps(self.others, self.spacing)])
        rows = count_through(self.others, steps, self.spacing)
        for step, count in zip(steps.tolist(), rows.tolist(), strict=True):
            own = sqrt(max(self.spacing**2 - step**2, 0.0))
            if own > _SAME_MM and count > 1:
                most = np.maximum(most, (count * count_cells(cells, own, self.spacing) + 1) // 2)
        return most

    def _cells(self, shifts: Floats) -> list[tuple[Floats, Floats]]:
        count = len(self.starts)
        still = np.zeros(len(shifts))
        return [
            (
                self.starts[k] + self.margin + (shifts if k else still),
                self.ends[k] - self.margin + (shifts if k < count - 1 else still),
            )
            for k in range(count)
        ]

    def _raft_by_raft(self, shifts: Floats) -> Floats:
        """Each raft by itself, with half the spacing at every joint."""
        known: dict[tuple[int, int, bool], int] = {}
        if len(shifts) > _FEW and self.planting.joints == "bed-wide":
            return np.zeros(len(shifts))  # patterns through the joints hold as many or more
        inner = self.planting.joints == "interchangeable"
        last = len(self.starts) - 1
        ends = [(k, bool(k == 0), bool(k == last)) for k in sorted({0, min(1, last), last})]
        total = np.zeros(len(shifts))
        for k, is_first, is_last in ends:
            size = float(self.ends[k] - self.starts[k])
            own = self.seam * 2
            if not inner:
                own = (self.margin if is_first else self.seam) + (
                    self.margin if is_last else self.seam
                )
            times = 1 if is_first or is_last else last - 1
            sign = is_first - is_last if last else 0
            for number, shift in enumerate(shifts.tolist()):
                room = size + sign * shift - own
                key = round(room / _SAME_MM), k, is_first
                if key not in known:
                    known[key] = self._in_all_rows(room)
                total[number] += times * known[key]
        return total

    def _in_all_rows(self, room: float) -> int:
        """The plants of the rafts of one column, across the bed, with so much room along it."""
        total = 0
        last = len(self.others) - 1
        extra = self.seam - self.margin
        seen: dict[tuple[float, int], int] = {}
        for k, (start, end) in enumerate(self.others):
            joints = (k > 0) + (k < last)
            if self.planting.joints == "interchangeable" and last:
                joints = 2
            key = round(end - start, 6), joints
            if key not in seen:
                other = end - start - joints * extra
                sides = (room, other) if self.way == "along" else (other, room)
                seen[key] = self._most_on(*sides)
            total += seen[key]
        return total

    def _most_on(self, width: float, height: float) -> int:
        limits = limits_of(self.planting)
        # A millionth more, so that what just fits is not lost to rounding.
        length, across = (Fraction(round(side * 10**6) + 1, 10**6) for side in (width, height))
        rows = best_rows(
            length,
            across,
            limits.spacing,
            pattern=self.planting.pattern,
            direction=self.planting.rows,
            row_spacing=limits.row_spacing,
        )
        return rows[0].count if rows else 0


def count_cells(cells: Sequence[tuple[Floats, Floats]], step: float, spacing: float) -> Floats:
    """The most columns in many lines of cells at once, one line for each place of the arrays."""
    counts: Floats = count_through(cells, np.full(len(cells[0][0]), step), spacing).astype(float)
    return counts
