"""What a dragged hole snaps to, and the words for it.

Rows and columns of other holes, middle lines, edges and margins of rafts, guide lines, the grid
that is shown; where none of these is near, the marks of the tape.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from geometry.model.guide_line import Axis, GuideLine
from geometry.plan import BedPlan, PlacedRaft
from geometry.tongue import mark, tr
from geometry.units import TOLERANCE_MM, Unit
from layout_gui.canvas.places import Places, keep_mm, to_bed
from layout_gui.document.selection import HoleName

GRID_MM: dict[Unit, float] = {"mm": 1.0, "cm": 1.0, "in": 25.4 / 16}
"""What a tape shows: whole millimetres, sixteenths of an inch."""

_GUIDE_LINE = mark("guide line")
_MIDDLE = mark("middle of {raft}")
_BED_MIDDLE = mark("middle of the bed")
_EDGE = mark("edge of {raft}")
_MARGIN = mark("margin of {raft}")
_HOLE = mark("in line with {hole}")
_FAR_HOLE = mark("in line with {hole} of {raft}")
_GRID = mark("grid")
_RANKS = (_GUIDE_LINE, _MIDDLE, _BED_MIDDLE, _HOLE, _FAR_HOLE, _EDGE, _MARGIN)
"""Where lines coincide, the first of these gives the word."""


@dataclass(frozen=True, slots=True)
class Guide:
    """A line that a hole snapped to: x = ``at`` or y = ``at``, from ``low`` to ``high`` (mm).

    ``word`` says what the line is, for people; ``beside`` is where along it the hole lies.
    """

    axis: Axis
    at: float
    low: float
    high: float
    word: str = ""
    beside: float = 0.0

    def reaching(self, place: float) -> "Guide":
        """Return the line made long enough to reach this place along it."""
        return replace(self, low=min(self.low, place), high=max(self.high, place), beside=place)


def snap_words(guides: Sequence[Guide]) -> str:
    """Say what a place snapped to; empty when it is free."""
    return ", ".join(dict.fromkeys(guide.word for guide in guides if guide.word))


@dataclass(frozen=True, slots=True)
class Grid:
    """Lines every ``step_mm`` from a zero (x, y)."""

    step_mm: float
    zero: tuple[float, float] = (0.0, 0.0)

    def nearest(self, axis: Axis, value: float) -> float:
        """Return the line nearest to a value."""
        zero = self.zero[0 if axis == "x" else 1]
        return zero + round((value - zero) / self.step_mm) * self.step_mm


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one axis, sorted by where they are: ``at``, from ``low`` to ``high``.

    ``members`` are those that coincide, as ranges of the arrays; ``kinds`` is the pattern of each
    line's word, ``owners`` the raft and the hole it comes from.
    """

    at: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    kinds: Sequence[str]
    owners: Sequence[HoleName]
    first: NDArray[np.intp] = field(init=False)

    def __post_init__(self) -> None:
        starts = np.append(True, np.diff(self.at) > 100 * TOLERANCE_MM)[: len(self.at)]
        object.__setattr__(self, "first", starts.nonzero()[0])

    def nearest(self, axis: Axis, value: float, across: float, reach_mm: float) -> Guide | None:
        """Return the nearest line within reach, named after what is nearest to ``across``."""
        if not len(self.first):
            return None
        gaps = np.abs(self.at[self.first] - value)
        group = int(gaps.argmin())
        if gaps[group] > reach_mm:
            return None
        start = int(self.first[group])
        end = int(self.first[group + 1]) if group + 1 < len(self.first) else len(self.at)
        away = np.maximum(self.low[start:end] - across, across - self.high[start:end])
        best = min(
            range(start, end),
            key=lambda index: (_RANKS.index(self.kinds[index]), max(away[index - start], 0.0)),
        )
        kind, (raft, hole) = self.kinds[best], self.owners[best]
        low, high = float(self.low[best]), float(self.high[best])
        if kind in {_HOLE, _FAR_HOLE}:
            low, high = float(self.low[start:end].min()), float(self.high[start:end].max())
        words = tr(kind, raft=raft, hole=hole)
        return Guide(axis, float(self.at[best]), low, high, words)


class Snapper:
    """Snaps places on one raft. Lines win over the grid, the grid over the marks of the tape.

    The marks of the tape count from the raft's datum corner.
    """

    def __init__(
        self,
        placed: PlacedRaft,
        lines: dict[Axis, Lines],
        tape_mm: float,
        grid: Grid | None = None,
    ) -> None:
        self._lines = lines
        self._tape_mm = tape_mm
        self._grid = grid
        ((datum_x, datum_y),) = to_bed(placed, np.zeros((1, 2))).tolist()
        self._datum: dict[Axis, float] = {"x": datum_x, "y": datum_y}

    def snap(
        self, x: float, y: float, reach_mm: float
    ) -> tuple[tuple[float, float], tuple[Guide, ...]]:
        """Return the snapped place and the lines it lies on."""
        snapped_x, line_x = self._snap_axis("x", x, y, reach_mm)
        snapped_y, line_y = self._snap_axis("y", y, x, reach_mm)
        guides = [line.reaching(snapped_y) for line in line_x]
        guides += [line.reaching(snapped_x) for line in line_y]
        return (snapped_x, snapped_y), tuple(guides)

    def _snap_axis(
        self, axis: Axis, value: float, across: float, reach_mm: float
    ) -> tuple[float, list[Guide]]:
        found = self._lines[axis].nearest(axis, value, across, reach_mm)
        if found is not None:
            return found.at, [found]
        if self._grid is not None:
            at = self._grid.nearest(axis, value)
            if abs(at - value) <= reach_mm:
                return at, [Guide(axis, at, across, across, tr(_GRID))]
        datum = self._datum[axis]
        return datum + round((value - datum) / self._tape_mm) * self._tape_mm, []


def make_snapper(
    places: Places,
    placed: PlacedRaft,
    *,
    without: frozenset[HoleName],
    unit: Unit,
    guide_lines: Iterable[GuideLine] = (),
    grid: Grid | None = None,
) -> Snapper:
    """Make the snapper for holes moved on one raft; the moved ones are no lines to snap to.

    Holes and edges of the raft itself and of the rafts around it count, the raft's middle lines
    and margins, the bed's middle lines, and the guide lines.
    """
    left, bottom = placed.x, placed.y
    right, top = _far_corner(placed)
    reach = max(right - left, top - bottom) / 2
    near = places.rafts_in(left - reach, bottom - reach, right + reach, top + reach)
    found = _Found()
    moved_names = {hole for _, hole in without}
    for other in near:
        found.add_holes(other, _kept(other, placed, without, moved_names), is_own=other is placed)
        found.add_box(_EDGE, other.name, (other.x, other.y, *_far_corner(other)))
    middle = (left + right) / 2, (bottom + top) / 2
    found.add("x", _MIDDLE, placed.name, middle[0], bottom, top)
    found.add("y", _MIDDLE, placed.name, middle[1], left, right)
    _add_margins(found, places.bed_plan, placed)
    box = places.box
    found.add("x", _BED_MIDDLE, "", (box[0] + box[2]) / 2, box[1], box[3])
    found.add("y", _BED_MIDDLE, "", (box[1] + box[3]) / 2, box[0], box[2])
    for line in guide_lines:
        low, high = (box[1], box[3]) if line.axis == "x" else (box[0], box[2])
        found.add(line.axis, _GUIDE_LINE, "", line.at.mm, low, high)
    return Snapper(placed, {"x": found.lines("x"), "y": found.lines("y")}, GRID_MM[unit], grid)


class _Found:
    """Lines as they are found; ``lines`` sorts them."""

    def __init__(self) -> None:
        self._rows: dict[Axis, list[tuple[float, float, float]]] = {"x": [], "y": []}
        self._kinds: dict[Axis, list[str]] = {"x": [], "y": []}
        self._owners: dict[Axis, list[HoleName]] = {"x": [], "y": []}

    def add(self, axis: Axis, kind: str, raft: str, at: float, low: float, high: float) -> None:
        """Add one line."""
        self._rows[axis].append((at, low, high))
        self._kinds[axis].append(kind)
        self._owners[axis].append((raft, ""))

    def add_box(self, kind: str, raft: str, box: tuple[float, float, float, float]) -> None:
        """Add the four sides of a box: left, bottom, right, top."""
        left, bottom, right, top = box
        for at in (left, right):
            self.add("x", kind, raft, at, bottom, top)
        for at in (bottom, top):
            self.add("y", kind, raft, at, left, right)

    def add_holes(self, placed: PlacedRaft, kept: NDArray[np.intp], *, is_own: bool) -> None:
        """Add a column and a row for each of these holes of a raft."""
        names = placed.design.holes.names
        owners = [(placed.name, names[index]) for index in kept.tolist()]
        kind = _HOLE if is_own else _FAR_HOLE
        for x, y in to_bed(placed, placed.design.holes.xy[kept]).tolist():
            self._rows["x"].append((x, y, y))
            self._rows["y"].append((y, x, x))
        for axis in self._rows:
            self._kinds[axis] += [kind] * len(owners)
            self._owners[axis] += owners

    def lines(self, axis: Axis) -> Lines:
        """Return the lines of one axis in order."""
        rows = np.array(self._rows[axis], dtype=np.float64).reshape(-1, 3)
        order = np.argsort(rows[:, 0], kind="stable")
        at, low, high = rows[order].T
        kinds, owners = self._kinds[axis], self._owners[axis]
        ranked = order.tolist()
        return Lines(at, low, high, [kinds[i] for i in ranked], [owners[i] for i in ranked])


def _add_margins(found: _Found, bed_plan: BedPlan, placed: PlacedRaft) -> None:
    """Add the lines at which a centre is as near to the edge as the rules let it."""
    keep = keep_mm(bed_plan.bed.planting)
    right, top = _far_corner(placed)
    box = (placed.x + keep, placed.y + keep, right - keep, top - keep)
    if placed.design.shape.is_rectangle and keep and box[0] < box[2] and box[1] < box[3]:
        found.add_box(_MARGIN, placed.name, box)


def _far_corner(placed: PlacedRaft) -> tuple[float, float]:
    shape = placed.design.shape
    return placed.x + float(shape.length), placed.y + float(shape.width)


def _kept(
    other: PlacedRaft, placed: PlacedRaft, without: frozenset[HoleName], moved_names: Iterable[str]
) -> NDArray[np.intp]:
    """Leave out what moves along: on rafts of the same design the holes of the same names."""
    same_design = other.design is placed.design
    return np.array(
        [
            index
            for index, name in enumerate(other.design.holes.names)
            if (other.name, name) not in without and not (same_design and name in moved_names)
        ],
        dtype=np.intp,
    )
