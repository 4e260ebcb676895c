"""Outlines of words in any script, shaped by Qt with whatever fonts this computer has.

They serve the pages that the bundled fonts cannot set; see ``geometry.drawing.outlining``.
"""

import sys
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from threading import Lock
from typing import Final

from PySide6.QtCore import QLoggingCategory, QPointF, Qt
from PySide6.QtGui import (
    QFont,
    QFontDatabase,
    QGlyphRun,
    QGuiApplication,
    QPainterPath,
    QTextLayout,
    QTextOption,
)

from geometry.drawing.outlining import Outlined, Step
from geometry.model.curves import Point

FONTS: Final = Path(__file__).parent.parent / "resources" / "fonts"

_EM: Final = 1000
_WIDEST: Final = 1e7
_lock = Lock()
# One line at a time: Qt's fonts are shared by all threads.


@dataclass(frozen=True, slots=True)
class _Glyph:
    """A drawn shape, where it stands, and the text's UTF-16 unit that its cluster begins with."""

    path: QPainterPath
    at: QPointF
    unit: int
    is_box: bool


@cache
def application() -> QGuiApplication:
    """Return Qt's application; without a window it is started without a screen."""
    # Qt grumbles about each font that lacks a script before it takes the next one.
    QLoggingCategory.setFilterRules("qt.text.font.db=false")
    found = QGuiApplication.instance()
    if isinstance(found, QGuiApplication):
        return found
    app = QGuiApplication([*sys.argv[:1], "-platform", "offscreen"])
    for path in sorted(FONTS.glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(path))
    return app


def outline_text(text: str, bold: bool) -> Outlined:  # noqa: FBT001 - as outliners are asked
    """Shape one line of text and return its outlines, the bundled fonts first of all.

    The line reads from the left or from the right as its first letter does. What no font here has
    is named, and drawn as boxes.
    """
    application()
    with _lock:
        layout, width = _laid_out(text, bold=bold)
        up = layout.lineAt(0).ascent()
        runs = layout.glyphRuns(-1, -1, QTextLayout.GlyphRunRetrievalFlag.RetrieveAll)
        glyphs = [glyph for run in runs for glyph in _glyphs(run)]
    glyphs.sort(key=lambda glyph: (glyph.at.x(), glyph.unit))  # runs come in any order
    path = QPainterPath()
    for glyph in glyphs:
        path.addPath(glyph.path.translated(glyph.at - QPointF(0, up)))
    return Outlined(width / _EM, tuple(_steps(path)), _missing(text, glyphs))


def _laid_out(text: str, *, bold: bool) -> tuple[QTextLayout, float]:
    font = QFont("DejaVu Sans")
    font.setPixelSize(_EM)
    font.setBold(bold)
    font.setKerning(False)  # as everywhere: widths are sums of advances
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    option = QTextOption()
    option.setTextDirection(Qt.LayoutDirection.LayoutDirectionAuto)
    option.setWrapMode(QTextOption.WrapMode.NoWrap)
    layout = QTextLayout(text, font)
    layout.setTextOption(option)
    layout.beginLayout()
    line = layout.createLine()
    line.setLineWidth(_WIDEST)
    layout.endLayout()
    return layout, line.naturalTextWidth()


def _glyphs(run: QGlyphRun) -> Iterator[_Glyph]:
    font, numbers = run.rawFont(), run.glyphIndexes()
    # Where no font has the script, Qt hands out boxes, numbered 1, from a font without tables.
    # (Asking that one for its name ends the program.)
    boxes = font.fontTable("head").isEmpty() and set(numbers) == {1}
    for number, at, unit in zip(numbers, run.positions(), run.stringIndexes(), strict=True):
        yield _Glyph(font.pathForGlyph(number), at, unit, boxes or number == 0)


def _missing(text: str, glyphs: Sequence[_Glyph]) -> str:
    """Return the characters that are shown as boxes, or not at all, each once."""
    signs = [sign for sign in text for _ in sign.encode("utf-16-le", "surrogatepass")[::2]]
    begins = sorted({glyph.unit for glyph in glyphs})
    missing: list[str] = []
    for begin, end in zip(begins, [*begins[1:], len(signs)], strict=True):
        cluster = [glyph for glyph in glyphs if glyph.unit == begin]
        # Letters that are pictures in colours have no outline.
        if any(glyph.is_box for glyph in cluster) or all(glyph.path.isEmpty() for glyph in cluster):
            missing += filter(_is_visible, signs[begin:end])
    return "".join(dict.fromkeys(missing))


def _is_visible(sign: str) -> bool:
    is_selector = "\ufe00" <= sign <= "\ufe0f" or "\U000e0100" <= sign <= "\U000e01ef"
    return not is_selector and unicodedata.category(sign) not in {"Cc", "Cf", "Zs", "Zl", "Zp"}


def _steps(path: QPainterPath) -> Iterator[Step]:
    """Turn a painter's path, y down, into shares of the font size, y up."""
    pulls: list[Point] = []
    for number in range(path.elementCount()):
        element = path.elementAt(number)
        point = Point(element.x / _EM, -element.y / _EM)
        if element.isMoveTo():
            yield "move", (point,)
        elif element.isLineTo():
            yield "line", (point,)
        else:
            pulls.append(point)
            if len(pulls) == 3:
                yield "curve", tuple(pulls)
                pulls = []
