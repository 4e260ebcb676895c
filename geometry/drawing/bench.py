"""What the pages at the bench have in common: letters for arm's length, and the datum corner."""

from collections.abc import Iterator
from typing import Final

from geometry.drawing.lettering import fitting_height, line
from geometry.drawing.marks import Box, Mark, polyline
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, drawable
from geometry.model.curves import Point
from geometry.tongue import tr

BENCH_MM: Final = 4.8
"""Font size of figures and words at the bench: capitals and figures are 3.5 mm high.

3.5 mm is a nominal size of lettering of ISO 3098 (1.8, 2.5, 3.5, 5, 7 …). Seen from 650 mm it is
18.5 minutes of arc; ISO 9241-303 asks for 16 or more. Both from memory.
"""

BENCH_LARGE_MM: Final = 6.4
"""Font size of what is looked for first: small letters too are 3.5 mm high."""

_LEG_MM = 11.0
_THICK_MM = 1.3
_ARROW_FROM_MM = 11.5
_ARROW_HEAD_MM = 3.4
_LEAST_WORD_MM = 2.6
_ASIDE_MM = 4.0


def loud_datum(corner: Point, length: float, width: float, room: float) -> Iterator[Mark]:
    """Mark the datum corner of a drawing: a black angle within it, an arrow to it and its name.

    ``length`` and ``width`` are the sides of the drawing on the page, ``room`` is what is free to
    the left of the corner.
    """
    leg, thick = _legs(length, width)
    inside = [(0, 0), (leg, 0), (leg, thick), (thick, thick), (thick, leg), (0, leg)]
    yield _solid(corner, inside)
    yield arrow(
        Point(corner.x - _ARROW_FROM_MM, corner.y - _ARROW_FROM_MM),
        Point(corner.x - 1.2, corner.y - 1.2),
    )
    rows = drawable(tr("Datum corner")).split(" ", 1)
    wide = room - _ASIDE_MM
    heights = [fitting_height(text, BENCH_MM, wide, bold=True) for text in rows]
    height = max(_LEAST_WORD_MM, min(heights))
    for number, text in enumerate(rows):
        y = corner.y - _ARROW_FROM_MM - 1.5 - height * (CAP_HEIGHT + 1.15 * number)
        yield line(
            corner.x - _ASIDE_MM, y, text, height, style=Style.TITLE, anchor="right",
            room=room,
        )  # fmt: skip


def datum_boxes(corner: Point, length: float, width: float) -> tuple[Box, Box]:
    """Return what the black angle of ``loud_datum`` covers."""
    leg, thick = _legs(length, width)
    x, y = corner
    return Box(x, y, x + leg, y + thick), Box(x, y, x + thick, y + leg)


def _legs(length: float, width: float) -> tuple[float, float]:
    leg = min(_LEG_MM, length / 3, width / 3)
    return leg, min(_THICK_MM, leg / 4)


def arrow(start: Point, end: Point) -> Mark:
    """Draw a solid arrow between two points."""
    dx, dy = end.x - start.x, end.y - start.y
    length = max((dx * dx + dy * dy) ** 0.5, 1e-9)
    along, up = dx / length, dy / length
    head = min(_ARROW_HEAD_MM, length * 0.6)
    neck, half, wing = length - head, min(0.55, length / 8), min(1.7, head / 2)
    outline = [
        (0, half), (neck, half), (neck, wing), (length, 0), (neck, -wing), (neck, -half), (0, -half)
    ]  # fmt: skip
    return _solid(start, [(along * x - up * y, up * x + along * y) for x, y in outline])


def _solid(at: Point, corners: list[tuple[float, float]]) -> Mark:
    return polyline([Point(at.x + x, at.y + y) for x, y in corners], Style.SOLID, closed=True)
