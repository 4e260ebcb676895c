"""Moving marks: mirror, scale, quarter turns and shift. Text keeps reading from the bottom."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.marks import Circle, Group, Mark, Path, Text
from geometry.model.curves import Arc, Curve, Line, Point

_COSINES = (1, 0, -1, 0)
_SINES = (0, 1, 0, -1)


@dataclass(frozen=True, slots=True)
class Shift:
    """Mirror left to right, scale, turn to the left by quarters, then move by ``x``, ``y``."""

    x: float = 0.0
    y: float = 0.0
    scale: float = 1.0
    quarters: int = 0
    mirrored: bool = False

    def point(self, x: float, y: float) -> Point:
        """Return where a place goes."""
        cosine, sine = _COSINES[self.quarters % 4], _SINES[self.quarters % 4]
        x = -x if self.mirrored else x
        return Point(
            self.x + self.scale * (cosine * x - sine * y),
            self.y + self.scale * (sine * x + cosine * y),
        )

    def points(self, xy: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return where many places go."""
        cosine, sine = _COSINES[self.quarters % 4], _SINES[self.quarters % 4]
        x, y = (-xy[:, 0] if self.mirrored else xy[:, 0]), xy[:, 1]
        turned = np.column_stack((cosine * x - sine * y, sine * x + cosine * y))
        return turned * self.scale + (self.x, self.y)

    def back(self, x: float, y: float) -> Point:
        """Return the place that goes to ``x``, ``y``."""
        cosine, sine = _COSINES[self.quarters % 4], _SINES[self.quarters % 4]
        x, y = (x - self.x) / self.scale, (y - self.y) / self.scale
        along = cosine * x + sine * y
        return Point(-along if self.mirrored else along, cosine * y - sine * x)

    def curve(self, curve: Curve) -> Curve:
        """Return the curve in its new place."""
        match curve:
            case Line(start, end):
                return Line(self.point(*start), self.point(*end))
            case Arc(centre, radius, angle, sweep):
                if self.mirrored:
                    angle, sweep = pi - angle, -sweep
                turned = angle + self.quarters * pi / 2
                return Arc(self.point(*centre), radius * self.scale, turned, sweep)

    def mark(self, mark: Mark) -> Mark:
        """Return the mark in its new place; text is scaled and moved, not turned nor mirrored."""
        match mark:
            case Circle(centre, radius, style):
                return Circle(self.point(*centre), radius * self.scale, style)
            case Path(curves, style, closed):
                return Path(tuple(map(self.curve, curves)), style, closed)
            case Text(at, text, height, style, anchor, angle):
                return Text(self.point(*at), text, height * self.scale, style, anchor, angle)


def half_turn(length: float, width: float, x: float = 0.0, y: float = 0.0) -> Shift:
    """Turn a box half round in its own place, then move it by ``x``, ``y``."""
    return Shift(x + length, y + width, quarters=2)


def marks_of(groups: Sequence[Group]) -> tuple[Mark, ...]:
    """Return the marks of all groups in painting order."""
    return tuple(mark for group in groups for mark in group.marks)
