"""Outlines of words in any script, shaped by Qt with whatever fonts this computer has.

They serve the pages that the bundled fonts cannot set; see ``geometry.drawing.outlining``.
"""

import sys
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache, partial
from pathlib import Path
from threading import Lock
from typing import Final

from PySide6.QtCore import QLoggingCategory, Qt
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


_shapes: dict[tuple[bytes, bool, int], tuple[Step, ...]] = {}
"""Letters drawn once, by what tells their font file apart, boldness and number."""


@dataclass(frozen=True, slots=True)
class _Glyph:
    """A shape, where it stands (shares of the font size), and the UTF-16 unit it begins with."""

    shape: tuple[Step, ...]
    x: float
    y: float
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
    width, glyphs = _shaped(text, bold=bold)
    return Outlined(width, partial(_drawn, text, bold=bold), _missing(text, glyphs))


@lru_cache(maxsize=1024)
def _drawn(text: str, *, bold: bool) -> tuple[Step, ...]:
    _, glyphs = _shaped(text, bold=bold)
    return tuple(
        (kind, tuple(Point(glyph.x + x, glyph.y + y) for x, y in points))
        for glyph in glyphs
        for kind, points in glyph.shape
    )


def _shaped(text: str, *, bold: bool) -> tuple[float, list[_Glyph]]:
    """Lay out a line; return its width as a share of the font size, and its glyphs."""
    application()
    with _lock:
        layout, width = _laid_out(text, bold=bold)
        up = layout.lineAt(0).ascent()
        runs = layout.glyphRuns(-1, -1, QTextLayout.GlyphRunRetrievalFlag.RetrieveAll)
        glyphs = [glyph for run in runs for glyph in _glyphs(run, up, bold=bold)]
    glyphs.sort(key=lambda glyph: (glyph.x, glyph.unit))  # runs come in any order
    return width / _EM, glyphs


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


def _glyphs(run: QGlyphRun, up: float, *, bold: bool) -> Iterator[_Glyph]:
    font, numbers = run.rawFont(), run.glyphIndexes()
    # Where no font has the script, Qt hands out boxes, numbered 1, from a font without tables.
    # (Asking that one for its name ends the program.)
    head = bytes(font.fontTable("head").data())
    boxes = not head and set(numbers) == {1}
    for number, at, unit in zip(numbers, run.positions(), run.stringIndexes(), strict=True):
        shape = _shapes.get((head, bold, number))
        if shape is None:
            shape = tuple(_steps(font.pathForGlyph(number)))
            if head:
                _shapes[head, bold, number] = shape
        yield _Glyph(shape, at.x() / _EM, (up - at.y()) / _EM, unit, boxes or number == 0)


def _missing(text: str, glyphs: Sequence[_Glyph]) -> str:
    """Return the characters that are shown as boxes, or not at all, each once."""
    signs = [sign for sign in text for _ in sign.encode("utf-16-le", "surrogatepass")[::2]]
    clusters: dict[int, list[_Glyph]] = {}
    for glyph in glyphs:
        clusters.setdefault(glyph.unit, []).append(glyph)
    begins = sorted(clusters)
    missing: list[str] = []
    for begin, end in zip(begins, [*begins[1:], len(signs)], strict=True):
        cluster = clusters[begin]
        # Letters that are pictures in colours have no outline.
        if any(glyph.is_box for glyph in cluster) or not any(glyph.shape for glyph in cluster):
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
