"""Where each measure of a bed's shape is taken: one picture for the screen and for paper.

Shapes lie in a box of ``LENGTH`` by ``WIDTH``, y down.
"""

from dataclasses import dataclass
from typing import Final

from geometry.beds.shapes import ShapeName

LENGTH: Final = 1.7
WIDTH: Final = 1.0
ROUND: Final = 0.22
"""Radius of rounded corners."""

_PART_X, _PART_Y = 0.8, 0.42
_CUT = 0.45
_NARROW = 0.62
_FREE: Final = ((0.0, 1.0), (1.7, 1.0), (1.45, 0.0), (0.25, 0.3))
OUT: Final = 0.17
"""How far outside the shape a line is drawn along a side of it."""

End = tuple[float, float]


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """A line that a tape is laid along: its measure's name and its two ends, y down."""

    name: str
    start: End
    end: End


def corners_of(shape: ShapeName) -> tuple[End, ...]:
    """Return the corners of a shape that has straight sides only."""
    inner = LENGTH - _PART_X
    match shape:
        case "L":
            return (
                (0, 0), (inner, 0), (inner, _PART_Y), (LENGTH, _PART_Y),
                (LENGTH, WIDTH), (0, WIDTH),
            )  # fmt: skip
        case "corner cut":
            return (
                (0, 0), (LENGTH - _CUT, 0), (LENGTH, _CUT), (LENGTH, WIDTH), (0, WIDTH),
            )  # fmt: skip
        case "tapered":
            top = (WIDTH - _NARROW) / 2
            return ((0, 0), (LENGTH, top), (LENGTH, top + _NARROW), (0, WIDTH))
        case _:
            return _FREE


def measure_lines(shape: ShapeName) -> tuple[MeasureLine, ...]:
    """Return where each measure of a shape is taken."""
    below, above = WIDTH + OUT, -OUT
    left, right = -OUT, LENGTH + OUT
    length = MeasureLine("length", (0, below), (LENGTH, below))
    width = MeasureLine("width", (left, 0), (left, WIDTH))
    match shape:
        case "rectangle":
            return (
                length,
                width,
                MeasureLine("length-2", (0, above), (LENGTH, above)),
                MeasureLine("width-2", (right, 0), (right, WIDTH)),
                MeasureLine("width-3", (LENGTH / 2, 0), (LENGTH / 2, WIDTH)),
                MeasureLine("diagonal-1", (0, WIDTH), (LENGTH, 0)),
                MeasureLine("diagonal-2", (0, 0), (LENGTH, WIDTH)),
            )
        case "rounded":
            return (length, width, MeasureLine("corner_radius", (0, above), (ROUND, above)))
        case "round":
            middle = LENGTH / 2
            half = WIDTH / 2
            return (MeasureLine("diameter", (middle - half, below), (middle + half, below)),)
        case "L" | "corner cut":
            x, y = (_PART_X, _PART_Y) if shape == "L" else (_CUT, _CUT)
            part = "notch" if shape == "L" else "cut"
            return (
                length,
                width,
                MeasureLine(f"{part}_length", (LENGTH - x, above), (LENGTH, above)),
                MeasureLine(f"{part}_width", (right, 0), (right, y)),
            )
        case "tapered":
            top = (WIDTH - _NARROW) / 2
            return (
                length,
                MeasureLine("width_start", (left, 0), (left, WIDTH)),
                MeasureLine("width_end", (right, top), (right, top + _NARROW)),
            )
        case "round ends":
            return (length, width)
        case "free":
            return ()
