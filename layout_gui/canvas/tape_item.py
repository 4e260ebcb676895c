"""The tape on the canvas: a line between its ends, marks on them, and the figures on a plate."""

from math import hypot
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from layout_gui.canvas.measuring import End
from layout_gui.canvas.overlay import Overlay, united
from layout_gui.canvas.tones import Tones, small_font

_MARK_PX: Final = 7.0
_PAD_PX: Final = 6.0
_ASIDE_PX: Final = 18.0


class TapeItem(Overlay):
    """Shows both ends, or only where the first would lie."""

    margin_px = 420

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._start: End | None = None
        self._end: End | None = None
        self._words: tuple[str, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """The figures that are shown, line by line."""
        return self._words

    def show_tape(self, start: End | None, end: End | None, words: tuple[str, ...]) -> None:
        """Show the tape from one end to the other with these figures; None hides it."""
        self._start, self._end, self._words = start, end, words
        ends = [QRectF(each.x, each.y, 1e-9, 1e-9) for each in (start, end) if each is not None]
        self.cover(united(ends))

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint it in pixels."""
        if self._start is None:
            return
        to_screen = painter.worldTransform()
        one = to_screen.map(QPointF(self._start.x, self._start.y))
        end = self._end or self._start
        other = to_screen.map(QPointF(end.x, end.y))
        painter.save()
        painter.resetTransform()
        line = QLineF(one, other)
        for colour, width in ((self.tones.surface, 5.0), (self.tones.accent, 2.0)):
            painter.setPen(QPen(colour, width))
            painter.drawLine(line)
            for at, each in ((one, self._start), (other, end)):
                _paint_mark(painter, at, line, each)
        if self._words:
            self._paint_plate(painter, line)
        painter.restore()

    def _paint_plate(self, painter: QPainter, line: QLineF) -> None:
        font = small_font()
        bold = small_font(bold=True)
        wide = max(QFontMetricsF(bold).horizontalAdvance(text) for text in self._words)
        high = QFontMetricsF(font).lineSpacing()
        size = QRectF(0, 0, wide + 2 * _PAD_PX, high * len(self._words) + 2 * _PAD_PX)
        # Beside the line, so that it hides neither end.
        middle = line.center()
        away = line.length() or 1.0
        normal = QPointF(-line.dy() / away, line.dx() / away)
        if normal.y() > 0:
            normal = -normal
        reach = abs(normal.x()) * size.width() / 2 + abs(normal.y()) * size.height() / 2
        size.moveCenter(middle + normal * (reach + _ASIDE_PX))
        size = _within(size, QRectF(painter.viewport()))
        painter.setPen(QPen(self.tones.accent, 1))
        painter.setBrush(self.tones.surface)
        painter.drawRoundedRect(size, 4, 4)
        painter.setPen(self.tones.text)
        for number, text in enumerate(self._words):
            painter.setFont(font if number else bold)
            place = QRectF(
                size.left() + _PAD_PX, size.top() + _PAD_PX + number * high, wide + 1, high
            )
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, text)


def _within(box: QRectF, room: QRectF) -> QRectF:
    """Move a box into the room there is."""
    room = room.adjusted(_PAD_PX, _PAD_PX, -_PAD_PX, -_PAD_PX)
    right = max(0.0, room.left() - box.left()) - max(0.0, box.right() - room.right())
    down = max(0.0, room.top() - box.top()) - max(0.0, box.bottom() - room.bottom())
    return box.translated(right, down)


def _paint_mark(painter: QPainter, at: QPointF, line: QLineF, end: End) -> None:
    """A ring on the centre of a hole, a bar on an edge, a cross on nothing."""
    away = hypot(line.dx(), line.dy()) or 1.0
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if end.radius:
        painter.drawEllipse(at, _MARK_PX * 0.7, _MARK_PX * 0.7)
    elif end.edge is not None or end.is_rim:
        across = QPointF(-line.dy() / away, line.dx() / away) * _MARK_PX
        if across.isNull():
            across = QPointF(0, _MARK_PX)
        painter.drawLine(QLineF(at - across, at + across))
    else:
        arm = _MARK_PX * 0.8
        painter.drawLine(QLineF(at - QPointF(arm, arm), at + QPointF(arm, arm)))
        painter.drawLine(QLineF(at - QPointF(arm, -arm), at + QPointF(arm, -arm)))
