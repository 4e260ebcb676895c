"""What obstacles, zones, corners and joints snap to, exactly: lines first, then grid and tape."""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.beds.outline import exact_box
from geometry.errors import GeometryError
from geometry.model.guide_line import Axis, GuideLine
from geometry.plan import BedPlan
from geometry.tongue import tr
from geometry.units import Length, Unit
from layout_gui.canvas.snapping import Guide
from layout_gui.project.edits_things import Standing, box_of
from layout_gui.project.grips import corner_grips
from layout_gui.project.things import Thing

TAPE: Final[dict[Unit, Fraction]] = {
    "mm": Fraction(1),
    "cm": Fraction(1),
    "in": Fraction(254, 160),
}
"""What a tape shows: whole millimetres, sixteenths of an inch."""


@dataclass(frozen=True, slots=True, order=True)
class Line:
    """A line to snap to: where it is, how far it reaches along the other axis, what it is."""

    at: Fraction
    low: float = 0.0
    high: float = 0.0
    word: str = ""


class ThingSnapper:
    """Snaps places in the bed. ``grid`` is the step that is shown and where it counts from."""

    def __init__(
        self,
        lines: dict[Axis, Sequence[Line]],
        unit: Unit,
        grid: tuple[Fraction, Fraction, Fraction] | None = None,
    ) -> None:
        self._lines = {axis: sorted(found) for axis, found in lines.items()}
        self._at = {axis: [line.at for line in found] for axis, found in self._lines.items()}
        self.tape = TAPE[unit]
        self._grid = grid

    def snap(
        self, axis: Axis, values: Sequence[Fraction], reach_mm: float
    ) -> tuple[Fraction, tuple[Guide, ...]]:
        """Return how far on one of these places snaps; else the first one to the tape.

        The places belong to one thing that moves as a whole, such as the sides of its box.
        """
        best: tuple[float, Fraction, Line] | None = None
        for value in values:
            line = self._nearest(axis, value)
            if line is None:
                continue
            off = line.at - value
            if abs(off) <= reach_mm and (best is None or abs(off) < best[0]):
                best = float(abs(off)), off, line
        if best is not None:
            line = best[2]
            return best[1], (Guide(axis, float(line.at), line.low, line.high, line.word),)
        return self.to_tape(axis, values[0], reach_mm)

    def to_tape(
        self, axis: Axis, value: Fraction, reach_mm: float
    ) -> tuple[Fraction, tuple[Guide, ...]]:
        """Return how far to move a place to the grid that is shown, or to the marks of the tape."""
        if self._grid is not None:
            step, zero = self._grid[0], self._grid[1 if axis == "x" else 2]
            at = zero + round((value - zero) / step) * step
            if abs(at - value) <= reach_mm:
                return at - value, (Guide(axis, float(at), 0, 0, tr("grid")),)
        return self.whole(value) - value, ()

    def whole(self, mm: Fraction) -> Fraction:
        """Return the nearest mark of a tape that begins at nothing."""
        return round(mm / self.tape) * self.tape

    def _nearest(self, axis: Axis, value: Fraction) -> Line | None:
        lines, places = self._lines[axis], self._at[axis]
        if not lines:
            return None
        index = bisect_left(places, value)
        around = lines[max(index - 1, 0) : index + 1]
        nearest = min(around, key=lambda line: abs(line.at - value))
        return lines[bisect_left(places, nearest.at)]


def free_place(mm: float | Fraction) -> Fraction:
    """Return a place that snaps to nothing, to 0.001 mm."""
    return Length.rounded(float(mm)).exact


def thing_snapper(
    plan: BedPlan,
    unit: Unit,
    *,
    without: Thing | None = None,
    guide_lines: Iterable[GuideLine] = (),
    grid: tuple[Fraction, Fraction, Fraction] | None = None,
) -> ThingSnapper:
    """Make the snapper of a bed; the thing that moves is nothing to snap to.

    Walls, corners and middle lines of the bed count, edges and middle lines of rafts, sides and
    middle lines of other obstacles and zones, and guide lines.
    """
    lines: dict[Axis, list[Line]] = {"x": [], "y": []}

    def add(box: tuple[Fraction, Fraction, Fraction, Fraction], edge: str, middle: str) -> None:
        left, bottom, right, top = box
        low_x, high_x, low_y, high_y = map(float, (left, right, bottom, top))
        lines["x"] += [Line(at, low_y, high_y, edge) for at in (left, right)]
        lines["y"] += [Line(at, low_x, high_x, edge) for at in (bottom, top)]
        lines["x"].append(Line((left + right) / 2, low_y, high_y, middle))
        lines["y"].append(Line((bottom + top) / 2, low_x, high_x, middle))

    bed = plan.bed
    zero = Fraction(0)
    length, width = exact_box(bed.outline)
    is_joint = without is not None and without.is_joint
    is_corner = without is not None and without.kind == "corner"
    if not is_corner:
        add((zero, zero, length, width), tr("wall"), tr("middle of the bed"))
    for number, grip in enumerate(corner_grips(bed.outline)):
        if is_corner and without is not None and number == without.number:
            continue
        words = tr("corner {n}", n=number + 1)
        if is_corner or grip.x not in {zero, length}:  # the walls are there already
            lines["x"].append(Line(grip.x, float(grip.y), float(grip.y), words))
        if is_corner or grip.y not in {zero, width}:
            lines["y"].append(Line(grip.y, float(grip.x), float(grip.x), words))
    if not (is_joint or is_corner):
        rafts = plan.layout.rafts
        across, along = (0.0, float(width)), (0.0, float(length))
        lines["x"] += _raft_lines(((raft.x, raft.shape.length) for raft in rafts), across)
        lines["y"] += _raft_lines(((raft.y, raft.shape.width) for raft in rafts), along)
    standing: list[tuple[Thing, Standing]] = [
        (Thing("obstacle", number), each) for number, each in enumerate(bed.obstacles)
    ]
    standing += [(Thing("zone", zone.name), zone) for zone in bed.zones if zone.shape is not None]
    for thing, each in standing:
        if thing != without:
            with suppress(GeometryError):
                words = tr("edge of {raft}", raft=each.name)
                add(box_of(each), words, tr("middle of {raft}", raft=each.name))
    for guide in guide_lines:
        reach = float(width if guide.axis == "x" else length)
        lines[guide.axis].append(Line(guide.at.exact, 0.0, reach, tr("guide line")))
    return ThingSnapper({"x": lines["x"], "y": lines["y"]}, unit, grid)


def _raft_lines(
    spans: Iterable[tuple[Fraction, Fraction]], reach: tuple[float, float]
) -> Iterator[Line]:
    """Yield edges and middle lines of rafts along one axis; columns and rows share theirs."""
    edge, middle = tr("edge of a raft"), tr("middle of a raft")
    # Floats tell thousands of rafts apart quicker than fractions do.
    for start, size in {(float(at), float(size)): (at, size) for at, size in spans}.values():
        yield Line(start, *reach, edge)
        yield Line(start + size, *reach, edge)
        yield Line(start + size / 2, *reach, middle)
