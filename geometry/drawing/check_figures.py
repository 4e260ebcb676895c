"""Figures that show whether a page came out at true size."""

from math import pi
from typing import Final

from geometry.drawing.lettering import line
from geometry.drawing.marks import Mark, Path, stroke
from geometry.drawing.styles import Style
from geometry.model.curves import Arc, Line, Point
from geometry.tongue import tr
from geometry.units import MM_PER

FOUR_INCHES_MM: Final = 4 * float(MM_PER["in"])

# ISO/IEC 7810, format ID-1: every bank card; the corner radius is between 2.88 and 3.48 mm
CARD_MM: Final = (85.60, 53.98)
CARD_RADIUS_MM: Final = 3.18

_TICK_MM: Final = 1.5
_NAME_MM: Final = 2.6
_CARD_TEXT_MM: Final = 3.1


def metric_bar(start: Point, *, upright: bool, ticks: bool = True) -> tuple[Mark, ...]:
    """Draw a bar of exactly 100 mm, one stroke, with a tick each centimetre above or left of it."""
    return _bar(start, 100.0, [10.0 * n for n in range(11)] if ticks else [], upright=upright)


def inch_bar(start: Point, *, upright: bool, ticks: bool = True) -> tuple[Mark, ...]:
    """Draw a bar of exactly 4 in, one stroke, with a tick each half inch above or left of it."""
    half = float(MM_PER["in"]) / 2
    steps = [half * n for n in range(9)] if ticks else []
    return _bar(start, FOUR_INCHES_MM, steps, upright=upright)


def bar_name(start: Point, text: str, *, upright: bool) -> Mark:
    """Write what a bar measures beside its start, on the side without ticks."""
    if upright:
        return line(start.x + 3.4, start.y + 1, text, _NAME_MM, angle=90)
    return line(start.x + 1, start.y - 3.2, text, _NAME_MM)


def card_outline(left: float, bottom: float) -> Path:
    """Draw the outline of a bank card at true size."""
    width, height = CARD_MM
    radius = CARD_RADIUS_MM
    right, top = left + width, bottom + height
    return Path(
        (
            Line(Point(left + radius, bottom), Point(right - radius, bottom)),
            Arc(Point(right - radius, bottom + radius), radius, -pi / 2, pi / 2),
            Line(Point(right, bottom + radius), Point(right, top - radius)),
            Arc(Point(right - radius, top - radius), radius, 0, pi / 2),
            Line(Point(right - radius, top), Point(left + radius, top)),
            Arc(Point(left + radius, top - radius), radius, pi / 2, pi / 2),
            Line(Point(left, top - radius), Point(left, bottom + radius)),
            Arc(Point(left + radius, bottom + radius), radius, pi, pi / 2),
        ),
        Style.CHECK_BAR,
        closed=True,
    )


def check_block(left: float, top: float) -> tuple[tuple[Mark, ...], float]:
    """Draw two bars each way and the outline of a bank card between them.

    Returns the marks and where they end below; they are 120 mm wide.
    """
    corner = Point(left + 16, top - FOUR_INCHES_MM - 6)
    marks: list[Mark] = []
    for bar, text, aside in ((metric_bar, "100 mm", 0.0), (inch_bar, "4 in", 9.0)):
        across = Point(corner.x, corner.y - aside)
        upright = Point(corner.x - 4 - aside, corner.y + 4)
        marks.extend(bar(across, upright=False))
        marks.extend(bar(upright, upright=True))
        marks.append(bar_name(across, text, upright=False))
        marks.append(bar_name(upright, text, upright=True))
    card = (corner.x + 8, corner.y + 22)
    marks.append(card_outline(*card))
    words = (
        tr("A bank card (85.60 \N{MULTIPLICATION SIGN} 53.98 mm)"),
        tr("laid here fills the outline"),
        tr("to half a millimetre."),
    )
    for row, text in enumerate(words):
        at = (card[0] + CARD_MM[0] / 2, card[1] + CARD_MM[1] / 2 + 4 - row * 4.6)
        marks.append(line(*at, text, _CARD_TEXT_MM, anchor="middle"))
    return tuple(marks), corner.y - 13


def _bar(start: Point, length: float, ticks: list[float], *, upright: bool) -> tuple[Mark, ...]:
    def at(along: float, aside: float) -> Point:
        if upright:
            return Point(start.x - aside, start.y + along)
        return Point(start.x + along, start.y + aside)

    marks = [stroke(start, at(length, 0), Style.CHECK_BAR)]
    for number, along in enumerate(ticks):
        is_end = number in {0, len(ticks) - 1}
        size = _TICK_MM * (1.6 if is_end else 1)
        marks.append(stroke(at(along, 0), at(along, size), Style.CHECK_BAR))
    return tuple(marks)
