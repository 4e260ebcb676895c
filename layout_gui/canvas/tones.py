"""The theme as pens and brushes, and the small pictures of holes that are drawn many times."""

from functools import lru_cache
from typing import Final

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontInfo,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
)

from geometry.drawing.styles import Style
from layout_gui.screen.theme import Theme

TEXT_PX: Final = 11
USUAL_PX: Final = 13
"""How large the program's text is while nobody asks for larger."""


class Tones:
    """Pens, brushes and fonts of one theme, ready for use."""

    def __init__(self, theme: Theme) -> None:
        self.theme = theme
        inks = theme.inks
        hole, canopy = inks[Style.HOLE], inks[Style.CANOPY]
        self.water = QColor(inks[Style.WATER].fill or theme.canvas)
        self.foam = QColor(inks[Style.RAFT].fill or theme.surface)
        self.foam_edge = hairline(QColor(inks[Style.RAFT].line))
        self.hole = QColor(hole.fill or hole.line)
        self.hole_brush = QBrush(self.hole)
        self.hole_line = QColor(hole.line)
        self.speck = self.hole if self._stands_out(self.hole) else self.hole_line
        self.hole_name = QColor(theme.hole_name)
        self.crop_ring = QColor(inks[Style.CROP].line)
        self.plug = QColor(inks[Style.PLUG].line)
        self.cross = QColor(inks[Style.CENTRE].line)
        self.canopy = QColor(canopy.fill or canopy.line)
        self.canopy_line = QColor(canopy.line)
        self.label = QColor(inks[Style.LABEL].line)
        self.dimension = QColor(inks[Style.DIMENSION].line)
        self.keep_out = hairline(QColor(inks[Style.KEEP_OUT].line), dashed=True)
        self.datum = QColor(inks[Style.DATUM].line)
        self.accent = QColor(theme.accent)
        self.warn = QColor(theme.warn)
        self.text = QColor(theme.text)
        self.quiet_text = QColor(theme.quiet_text)
        self.canvas = QColor(theme.canvas)
        self.surface = QColor(theme.surface)
        self.line = QColor(theme.line)

    def _stands_out(self, colour: QColor) -> bool:
        """Whether a colour alone is told from foam, without a rim."""
        return abs(colour.lightnessF() - self.foam.lightnessF()) > 0.4

    @property
    def grid(self) -> QColor:
        """The colour of the grid, to be made as strong as it is meant."""
        return QColor(self.theme.inks[Style.KEEP_OUT].line)

    def foam_with_holes(self, share: float) -> QColor:
        """Return the colour of foam seen from far, ``share`` of it being holes."""
        return mix(self.foam, self.speck, share)


def mix(one: QColor, other: QColor, share: float) -> QColor:
    """Return a colour between two; ``share`` 0 is the first."""
    return QColor.fromRgbF(
        one.redF() + share * (other.redF() - one.redF()),
        one.greenF() + share * (other.greenF() - one.greenF()),
        one.blueF() + share * (other.blueF() - one.blueF()),
    )


def hairline(colour: QColor, width: float = 1, *, dashed: bool = False) -> QPen:
    """Return a pen so many pixels wide at every zoom."""
    pen = QPen(colour, width)
    pen.setCosmetic(True)
    if dashed:
        pen.setDashPattern([4, 4])
    return pen


def forget_fonts() -> None:
    """Measure text anew: the program's font is another one now."""
    for known in (text_scale, text_width_px, _letters):
        known.cache_clear()


@lru_cache(maxsize=1)
def text_scale() -> float:
    """Return how much larger than usual the program's text is; at least 1."""
    return max(1.0, QFontInfo(QFont()).pixelSize() / USUAL_PX)


def small_font(pixels: float = TEXT_PX, *, bold: bool = False) -> QFont:
    """Return the program's font at a size in pixels, larger where all text is."""
    font = QFont()
    font.setPixelSize(round(pixels * text_scale()))
    font.setBold(bold)
    return font


@lru_cache(maxsize=4096)
def text_width_px(text: str, pixels: int) -> float:
    """Return how wide a text is in the program's font."""
    return QFontMetricsF(small_font(pixels)).horizontalAdvance(text)


def paint_with_halo(
    painter: QPainter, text: str, at: QPointF, colour: QColor, halo: QColor, *, share: float = 0
) -> None:
    """Paint a line of small text set off from what lies under it.

    ``at`` is the baseline point with ``share`` of the text's width left of it.
    """
    path = _letters(text).translated(at - QPointF(text_width_px(text, TEXT_PX) * share, 0))
    pen = QPen(halo, 4)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.strokePath(path, pen)
    painter.fillPath(path, colour)


@lru_cache(maxsize=4096)
def _letters(text: str) -> QPainterPath:
    path = QPainterPath()
    path.addText(0, 0, small_font(), text)
    return path
