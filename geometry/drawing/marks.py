"""Marks: what is drawn, in millimetres, y up, with a meaning instead of a colour."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from geometry.drawing.styles import Style
from geometry.model.curves import Curve, Line, Point

Anchor = Literal["left", "middle", "right"]


@dataclass(frozen=True, slots=True)
class Circle:
    """A true circle."""

    centre: Point
    radius: float
    style: Style


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and arcs head to tail; filled paths are closed."""

    curves: tuple[Curve, ...]
    style: Style
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``at`` is the baseline point, ``height`` the font size in millimetres."""

    at: Point
    text: str
    height: float
    style: Style
    anchor: Anchor = "left"
    angle: float = 0.0
    """Degrees, counter-clockwise."""


Mark = Circle | Path | Text


@dataclass(frozen=True, slots=True)
class Group:
    """Marks that belong to one thing, named by its id ("R1", "R1 A1", "outline")."""

    id: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Drawing:
    """Groups in painting order."""

    groups: tuple[Group, ...]


class Box(NamedTuple):
    """An upright rectangle by its sides, in millimetres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From the left side to the right one."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From the bottom to the top."""
        return self.top - self.bottom

    def grown(self, by: float) -> "Box":
        """Return the box with every side moved outwards, or inwards where ``by`` is below zero."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: "Box") -> bool:
        """Tell whether the two have more than their borders in common."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


def stroke(start: Point, end: Point, style: Style) -> Path:
    """Make a single straight stroke."""
    return Path((Line(start, end),), style)


def polyline(points: Sequence[Point], style: Style, *, closed: bool = False) -> Path:
    """Make a path of straight lines through the points, back to the first one if closed."""
    corners = [*points, points[0]] if closed else list(points)
    lines = tuple(Line(start, end) for start, end in pairwise(corners))
    return Path(lines, style, closed)


def frame(box: Box, style: Style) -> Path:
    """Make the four sides of a box."""
    left, bottom, right, top = box
    corners = (Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top))
    return polyline(corners, style, closed=True)
