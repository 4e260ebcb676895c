"""The raft as a drawing in raft coordinates: outline, datum corner, holes with their names."""

from functools import lru_cache
from math import sqrt

from geometry.drawing.figures import plain_size
from geometry.drawing.marks import Circle, Drawing, Group, Mark, Path, Text, polyline, stroke
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Line, Point
from geometry.plan import RaftDesign
from geometry.units import Unit

CROSS_MM = 4.0
"""Half the size of a centre mark; less in a hole that is too small for it."""

_PILOT_MM = 1.0
_DATUM_LEG_MM = 20.0
_NAME_MM = 4.0
_SMALLEST_NAME_MM = 2.0
_RIM_GAPS_MM = (1.5, 0.4)
"""What is left between a name and its rim: where it reads well, and where there is no more room."""

_SIZE_MM = 3.5


def draw_raft(design: RaftDesign, *, unit: Unit | None = None, names: bool = True) -> Drawing:
    """Draw one raft at true size, its datum corner at the origin.

    Groups in painting order: "outline", "datum", then one for each hole under the hole's name.
    With ``unit`` the raft's size is written along the lower edge, in the group "size"; with
    ``names`` each hole carries its name.
    """
    shape = design.shape
    groups = [
        Group("outline", (Path(shape.loop.curves, Style.RAFT, closed=True),)),
        Group("datum", (datum_corner(Point(0, 0), _datum_leg(design)),)),
    ]
    if unit is not None:
        text = Text(Point(2, 1.5), plain_size(shape, unit), _SIZE_MM, Style.LABEL)
        groups.append(Group("size", (text,)))
    holes = design.holes
    for name, (x, y), diameter in zip(
        holes.names, holes.xy.tolist(), holes.diameters.tolist(), strict=True
    ):
        groups.append(hole_group(name, Point(x, y), diameter / 2, shows_name=names))
    return Drawing(tuple(groups))


def datum_corner(at: Point, leg: float) -> Path:
    """Mark a datum corner by a heavy right angle that opens up and to the right."""
    return polyline((Point(at.x, at.y + leg), at, Point(at.x + leg, at.y)), Style.DATUM)


def hole_group(name: str, centre: Point, radius: float, *, shows_name: bool = True) -> Group:
    """Draw one hole: its rim, a cross at the centre, its name."""
    rim = Circle(centre, radius, Style.HOLE)
    cross = _cross(centre, cross_size(radius))
    if not shows_name:
        return Group(name, (rim, *cross))
    return Group(name, (rim, *cross, hole_name(name, centre, radius)))


def pilot_mark(centre: Point, radius: float) -> tuple[Mark, ...]:
    """Draw four strokes that point at the centre, and a ring round the place of the pilot."""
    outer = cross_size(radius)
    inner = min(_PILOT_MM, outer / 4)
    x, y = centre
    return (
        stroke(Point(x + inner, y), Point(x + outer, y), Style.CENTRE),
        stroke(Point(x, y + inner), Point(x, y + outer), Style.CENTRE),
        stroke(Point(x - inner, y), Point(x - outer, y), Style.CENTRE),
        stroke(Point(x, y - inner), Point(x, y - outer), Style.CENTRE),
        Circle(centre, inner, Style.CENTRE),
    )


def cross_size(radius: float) -> float:
    """Return half the size of the cross at the centre of a hole."""
    return min(CROSS_MM, radius * 0.8)


def hole_name(name: str, centre: Point, radius: float) -> Text:
    """Write a hole's name inside its rim at the top; above the rim where there is no room."""
    height, baseline = _name_place(text_width(name, 1), radius)
    at = Point(centre.x, centre.y + baseline)
    return Text(at, name, height, Style.LABEL, "middle")


def _cross(centre: Point, size: float) -> tuple[Path, Path]:
    x, y = centre
    return (
        Path((Line(Point(x - size, y), Point(x + size, y)),), Style.CENTRE),
        Path((Line(Point(x, y - size), Point(x, y + size)),), Style.CENTRE),
    )


@lru_cache(maxsize=1024)
def _name_place(width: float, radius: float) -> tuple[float, float]:
    """Find font size and baseline above the centre of a name so many font sizes wide."""
    height = _NAME_MM
    while height >= _SMALLEST_NAME_MM:
        half = width * height / 2 + 0.6
        if half < radius:
            top = sqrt(radius**2 - half**2) - height * CAP_HEIGHT
            for gap in _RIM_GAPS_MM:
                if top - gap >= cross_size(radius) + 0.4:
                    return height, top - gap
        height -= 0.5
    return _SMALLEST_NAME_MM, radius + 0.6


def _datum_leg(design: RaftDesign) -> float:
    return min(_DATUM_LEG_MM, float(min(design.shape.length, design.shape.width)) / 5)
