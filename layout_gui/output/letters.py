"""How drawings for machines hold their words."""

from collections.abc import Iterator
from math import cos, radians, sin
from typing import Final, Literal

from geometry.drawing.marks import Anchor, Text
from geometry.drawing.outlining import Outlined, Step
from geometry.model.curves import Point

Letters = Literal["text", "outlines"]
"""As text, which can be changed and searched, or as outlines, which look alike everywhere."""

_SHARES: Final[dict[Anchor, float]] = {"left": 0.0, "middle": 0.5, "right": 1.0}


def placed(mark: Text, outline: Outlined) -> Iterator[Step]:
    """Give the outlines of a line of text in their place, in millimetres, y up."""
    cosine, sine = cos(radians(mark.angle)), sin(radians(mark.angle))
    back = _SHARES[mark.anchor] * outline.width

    def at(point: Point) -> Point:
        x, y = (point.x - back) * mark.height, point.y * mark.height
        return Point(mark.at.x + x * cosine - y * sine, mark.at.y + x * sine + y * cosine)

    for kind, points in outline.steps:
        yield kind, tuple(map(at, points))
