"""What a dragged hole snaps to: rows and columns of other holes, middle lines, the tape's grid."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.plan import PlacedRaft
from geometry.units import TOLERANCE_MM, Unit
from layout_gui.canvas.places import Places, to_bed
from layout_gui.document.selection import HoleName

Axis = Literal["x", "y"]

GRID_MM: dict[Unit, float] = {"mm": 1.0, "cm": 1.0, "in": 25.4 / 16}
"""What a tape shows: whole millimetres, sixteenths of an inch."""


@dataclass(frozen=True, slots=True)
class Guide:
    """A line that a hole snapped to: x = ``at`` or y = ``at``, from ``low`` to ``high`` (mm)."""

    axis: Axis
    at: float
    low: float
    high: float

    def reaching(self, place: float) -> "Guide":
        """Return the line made long enough to reach this place along it."""
        return replace(self, low=min(self.low, place), high=max(self.high, place))


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one axis, sorted, and how far each one reaches along the other axis."""

    at: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]

    def nearest(self, value: float, reach_mm: float) -> int | None:
        """Return the index of the nearest line within reach."""
        if not len(self.at):
            return None
        gaps = np.abs(self.at - value)
        index = int(gaps.argmin())
        return index if gaps[index] <= reach_mm else None


class Snapper:
    """Snaps places on one raft. Lines win over the grid; the grid starts at the raft's datum."""

    def __init__(self, placed: PlacedRaft, lines: dict[Axis, Lines], grid_mm: float) -> None:
        self._lines = lines
        self._grid_mm = grid_mm
        ((datum_x, datum_y),) = to_bed(placed, np.zeros((1, 2))).tolist()
        self._datum: dict[Axis, float] = {"x": datum_x, "y": datum_y}

    def snap(
        self, x: float, y: float, reach_mm: float
    ) -> tuple[tuple[float, float], tuple[Guide, ...]]:
        """Return the snapped place and the lines it lies on."""
        snapped_x, line_x = self._snap_axis("x", x, reach_mm)
        snapped_y, line_y = self._snap_axis("y", y, reach_mm)
        guides = [line.reaching(snapped_y) for line in line_x]
        guides += [line.reaching(snapped_x) for line in line_y]
        return (snapped_x, snapped_y), tuple(guides)

    def _snap_axis(self, axis: Axis, value: float, reach_mm: float) -> tuple[float, list[Guide]]:
        lines = self._lines[axis]
        index = lines.nearest(value, reach_mm)
        if index is not None:
            at = float(lines.at[index])
            return at, [Guide(axis, at, float(lines.low[index]), float(lines.high[index]))]
        datum = self._datum[axis]
        return datum + round((value - datum) / self._grid_mm) * self._grid_mm, []


def make_snapper(
    places: Places, placed: PlacedRaft, *, without: frozenset[HoleName], unit: Unit
) -> Snapper:
    """Make the snapper for holes moved on one raft; the moved ones are no lines to snap to.

    Holes of the raft itself and of the rafts around it count, and the raft's two middle lines.
    """
    shape = placed.design.shape
    right, top = placed.x + float(shape.length), placed.y + float(shape.width)
    reach = max(right - placed.x, top - placed.y) / 2
    near = places.rafts_in(placed.x - reach, placed.y - reach, right + reach, top + reach)
    moved_names = {hole for _, hole in without}
    centres = [
        to_bed(other, other.design.holes.xy[_kept(other, placed, without, moved_names)])
        for other in near
    ]
    xy = np.vstack([np.empty((0, 2)), *centres])
    middle_x, middle_y = (placed.x + right) / 2, (placed.y + top) / 2
    return Snapper(
        placed,
        {
            "x": _lines(xy[:, 0], xy[:, 1], (middle_x, placed.y, top)),
            "y": _lines(xy[:, 1], xy[:, 0], (middle_y, placed.x, right)),
        },
        GRID_MM[unit],
    )


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


def _lines(
    at: NDArray[np.float64], across: NDArray[np.float64], middle: tuple[float, float, float]
) -> Lines:
    at = np.append(at, middle[0])
    low = np.append(across, middle[1])
    high = np.append(across, middle[2])
    order = np.argsort(at, kind="stable")
    at, low, high = at[order], low[order], high[order]
    first = np.append(True, np.diff(at) > 100 * TOLERANCE_MM).nonzero()[0]
    return Lines(at[first], np.minimum.reduceat(low, first), np.maximum.reduceat(high, first))
