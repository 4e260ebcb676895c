"""Words as outlines for machines that know no fonts: the bundled fonts by fontTools.

What the bundled fonts cannot set comes from ``geometry.drawing.outlining``.
"""

from functools import cache, lru_cache
from typing import Final, Literal

from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont

from geometry.drawing.outlining import Outlined, Step
from geometry.drawing.text_width import drawable, text_outline, text_width
from geometry.model.curves import Point
from layout_gui.output.fonts import FILES, font_name

_UNITS: Final = 2048


def lettered(text: str, *, bold: bool) -> Outlined:
    """Return the outlines of a line of text as it can be drawn, whoever has the letters."""
    shown = drawable(text)
    return text_outline(shown, bold=bold) or _set(shown, bold=bold)


@lru_cache(maxsize=4096)
def _set(text: str, *, bold: bool) -> Outlined:
    steps: list[Step] = []
    at = 0.0
    for sign in text:
        steps += [
            (kind, tuple(Point(x + at, y) for x, y in points))
            for kind, points in _glyph(sign, bold=bold)
        ]
        at += text_width(sign, 1, bold=bold)
    drawn = tuple(steps)
    return Outlined(at, lambda: drawn)


@cache
def _font(*, bold: bool) -> TTFont:
    return TTFont(FILES[font_name(bold=bold)], lazy=True)


@cache
def _glyph(sign: str, *, bold: bool) -> tuple[Step, ...]:
    font = _font(bold=bold)
    glyphs = font.getGlyphSet()
    pen = _Pen(glyphs)
    name = font.getBestCmap().get(ord(sign))
    if name is not None:
        glyphs[name].draw(pen)
    return tuple(pen.steps)


class _Pen(BasePen):  # type: ignore[misc]  # the library has no types
    """Notes what is drawn in shares of the font size; quadratic curves come as cubic ones."""

    def __init__(self, glyphs: object) -> None:
        super().__init__(glyphs)
        self.steps: list[Step] = []

    def _moveTo(self, pt: tuple[float, float]) -> None:  # noqa: N802 - as the library calls it
        self._note("move", pt)

    def _lineTo(self, pt: tuple[float, float]) -> None:  # noqa: N802 - as the library calls it
        self._note("line", pt)

    def _curveToOne(  # noqa: N802 - as the library calls it
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        self._note("curve", pt1, pt2, pt3)

    def _note(self, kind: Literal["move", "line", "curve"], *points: tuple[float, float]) -> None:
        self.steps.append((kind, tuple(Point(x / _UNITS, y / _UNITS) for x, y in points)))
