"""Marks on the screen: circles, paths and text in millimetres, y up, drawn by a QPainter.

The painter that comes in already maps millimetres to the screen with y upwards (``y_up``); that
is the one flip. Widths are those of the pens on paper; a line thinner than a pixel is drawn one
pixel wide, and dashes are drawn out until they can be told apart.
"""

import threading
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from math import ceil, cos, hypot, pi, sin, tan
from pathlib import Path as FilePath
from typing import Final, Literal

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QPainter,
    QPainterPath,
    QPen,
    QRawFont,
    QTransform,
)

from geometry.drawing.marks import Circle, Mark, Path, Text
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import is_set, text_width
from geometry.model.curves import Arc, Curve, Line, Loop
from layout_gui.screen.outlines import outline_text
from layout_gui.screen.theme import Ink

FONTS: Final = FilePath(__file__).parent.parent / "resources" / "fonts"
SHORTEST_DASH: Final = 3.0
"""Pixels that the shortest part of a dash pattern takes at least."""

Words = Literal["outlines", "text"]
"""How words are drawn: as shapes, alike everywhere, or as text of the bundled font, for printers
and files that keep it as text. Scripts that the font lacks are shapes in either case."""

_EM: Final = 1000.0
_FILES: Final = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
_SHARE: Final = {"left": 0.0, "middle": 0.5, "right": 1.0}


def y_up(left: float, bottom: float, pixels_per_mm: float) -> QTransform:
    """Return the flip: millimetres, y up, with 0, 0 at this place of the screen (pixels)."""
    return QTransform(pixels_per_mm, 0, 0, -pixels_per_mm, left, bottom)


def paint_marks(
    painter: QPainter,
    marks: Iterable[Mark],
    inks: Mapping[Style, Ink],
    words: Words = "outlines",
) -> None:
    """Draw marks in order. The painter's pen, brush and transform are as before afterwards."""
    painter.save()
    pixel = 1 / pixels_per_mm(painter.deviceTransform())
    pen, brush, style = QPen(), QBrush(), None
    for mark in marks:
        if mark.style is not style:
            style = mark.style
            pen, brush = pen_of(style, inks[style], pixel), brush_of(style, inks[style])
            painter.setPen(pen)
        match mark:
            case Circle(centre, radius):
                painter.setBrush(brush)
                painter.drawEllipse(QPointF(*centre), radius, radius)
            case Path(curves, _, closed):
                painter.setBrush(brush if closed else Qt.BrushStyle.NoBrush)
                painter.drawPath(path_of(curves, closed=closed))
            case Text():
                colour = QColor(inks[style].line)
                if words == "text" and is_set(mark.text):
                    _write(painter, mark, colour)
                    painter.setPen(pen)
                else:
                    painter.fillPath(text_path(mark), colour)
    painter.restore()


def pixels_per_mm(transform: QTransform) -> float:
    """Return how many device pixels a millimetre takes."""
    return hypot(transform.m11(), transform.m12())


def pen_of(style: Style, ink: Ink, pixel_mm: float) -> QPen:
    """Return the pen of a meaning; ``pixel_mm`` is the width of a pixel, the thinnest line."""
    pen = PENS[style]
    if pen.filled:
        return QPen(Qt.PenStyle.NoPen)
    width = max(pen.width_mm, pixel_mm)
    line = QPen(QColor(ink.line), width)
    line.setCapStyle(Qt.PenCapStyle.FlatCap)
    line.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if pen.dash_mm:
        longer = max(1.0, SHORTEST_DASH * pixel_mm / min(pen.dash_mm))
        line.setDashPattern([dash * longer / width for dash in pen.dash_mm])
    return line


def brush_of(style: Style, ink: Ink) -> QBrush:
    """Return what fills the closed marks of a meaning."""
    colour = ink.line if PENS[style].filled else ink.fill
    return QBrush(QColor(colour)) if colour else QBrush(Qt.BrushStyle.NoBrush)


def loop_path(loops: Iterable[Loop]) -> QPainterPath:
    """Return closed outlines as one painter path."""
    path = QPainterPath()
    for loop in loops:
        path.addPath(path_of(loop.curves, closed=True))
    return path


def path_of(curves: Iterable[Curve], *, closed: bool) -> QPainterPath:
    """Return lines and arcs, head to tail, as a painter path."""
    path = QPainterPath()
    for curve in curves:
        match curve:
            case Line(start, end):
                if path.elementCount() == 0:
                    path.moveTo(*start)
                path.lineTo(*end)
            case Arc():
                _add_arc(path, curve)
    if closed:
        path.closeSubpath()
    return path


def _add_arc(path: QPainterPath, arc: Arc) -> None:
    """Add cubic curves of at most an eighth of a circle: off by 4e-6 of the radius.

    Qt's own arcs end up to 5e-4 of the radius beside their place.
    """
    pieces = max(1, ceil(abs(arc.sweep) / (pi / 4) - 1e-9))
    step = arc.sweep / pieces
    pull = 4 / 3 * tan(step / 4)

    def at(angle: float, aside: float) -> QPointF:
        return QPointF(
            arc.centre.x + arc.radius * (cos(angle) - aside * sin(angle)),
            arc.centre.y + arc.radius * (sin(angle) + aside * cos(angle)),
        )

    if path.elementCount() == 0:
        path.moveTo(at(arc.angle, 0))
    for piece in range(pieces):
        start = arc.angle + piece * step
        path.cubicTo(at(start, pull), at(start + step, -pull), at(start + step, 0))


def text_place(text: Text) -> QTransform:
    """Map the outlines of a line of text, 1000 units high and y down, to their place."""
    bold = PENS[text.style].bold
    left = -_SHARE[text.anchor] * text_width(text.text, text.height, bold=bold)
    place = QTransform().translate(*text.at).rotate(text.angle).translate(left, 0)
    scale = text.height / _EM
    return place.scale(scale, -scale)


def text_path(text: Text) -> QPainterPath:
    """Return the outlines of a line of text in its place, in millimetres, y up.

    The glyphs stand as far apart as ``text_width`` says, in every back end alike.
    """
    return text_place(text).map(_outlines.of(text.text, bold=PENS[text.style].bold))


def _write(painter: QPainter, text: Text, colour: QColor) -> None:
    painter.save()
    painter.setTransform(text_place(text), combine=True)
    painter.setFont(_font(bold=PENS[text.style].bold))
    painter.setPen(colour)
    painter.drawText(QPointF(0, 0), text.text)
    painter.restore()


@cache
def _font(*, bold: bool) -> QFont:
    """Return the bundled font itself, its signs as far apart as ``text_width`` says."""
    number = QFontDatabase.addApplicationFont(str(FONTS / _FILES[bold]))
    font = QFont(QFontDatabase.applicationFontFamilies(number))
    font.setBold(bold)
    font.setPixelSize(int(_EM))
    font.setKerning(False)
    for feature in ("liga", "clig"):
        font.setFeature(QFont.Tag(feature), 0)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setStyleStrategy(QFont.StyleStrategy.NoFontMerging)
    return font


def _foreign(text: str, *, bold: bool) -> QPainterPath:
    """Return the outlines that the PDF has too, of what the bundled fonts cannot set."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    for kind, points in outline_text(text, bold).steps:
        places = [QPointF(x, -y) * _EM for x, y in points]
        if kind == "move":
            path.moveTo(*places)
        elif kind == "line":
            path.lineTo(*places)
        else:
            path.cubicTo(*places)
    return path


class _Outlines(threading.local):
    """Outlines of words, for each thread its own: Qt binds fonts to threads."""

    def __init__(self) -> None:
        self._fonts: dict[bool, QRawFont] = {}
        self.of = lru_cache(maxsize=4096)(self._draw)

    def _draw(self, text: str, *, bold: bool) -> QPainterPath:
        path = QPainterPath()
        if not is_set(text):
            return _foreign(text, bold=bold)
        font_file = self._font(bold=bold)
        at = 0.0
        for sign in text:
            for index in font_file.glyphIndexesForString(sign):
                path.addPath(font_file.pathForGlyph(index).translated(at, 0))
            at += text_width(sign, _EM, bold=bold)
        return path

    def _font(self, *, bold: bool) -> QRawFont:
        if bold not in self._fonts:
            no_hints = QFont.HintingPreference.PreferNoHinting
            self._fonts[bold] = QRawFont(str(FONTS / _FILES[bold]), _EM, no_hints)
        return self._fonts[bold]


_outlines = _Outlines()
