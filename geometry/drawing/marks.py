"""Marks: what is drawn, in millimetres, y up, with a meaning instead of a colour."""

from dataclasses import dataclass
from typing import Literal

from geometry.drawing.styles import Style
from geometry.model.curves import Curve, Point

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
