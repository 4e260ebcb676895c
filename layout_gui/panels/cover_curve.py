"""How much of the water leaves cover from day to day: a small curve, and what it says in words."""

from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtGui import QPolygonF as Polyline
from PySide6.QtWidgets import QSizePolicy, QWidget

from geometry.compare.growing import Growing
from geometry.growth.cover import RESPACE_COVER
from geometry.tongue import number, tr
from layout_gui.wording.leaves import percent

_HIGH: Final = 150
_SHARES: Final = (0.0, 0.5, RESPACE_COVER)
_ABOVE: Final = 0.88
_BELOW: Final = 0.22
"""At these shares there is room for words beside a curve that rises like an S."""
_SMALL: Final = 0.88
_STEPS: Final = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageDown: -7,
    Qt.Key.Key_PageUp: 7,
}


class CoverCurve(QWidget):
    """Draws the share by day with the day in sight; a click or the arrow keys choose another."""

    day_wanted = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._found: Growing | None = None
        self._day: int | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Water covered by leaves, day by day"))

    def show_cover(self, found: Growing | None, day: int | None) -> None:
        """Show this curve, with the ``day`` that the leaves on the bed are drawn of."""
        self._found, self._day = found, day
        self.setAccessibleDescription(self.words)
        self.setToolTip(self.words)
        self.update()

    @property
    def words(self) -> str:
        """What stands at the day in sight."""
        found = self._found
        if found is None or self._day is None or not found.first <= self._day <= found.last:
            return ""
        return tr(
            "day {day}: {share} of the water covered",
            day=self._day,
            share=percent(found.cover[self._day - found.first]),
        )

    def sizeHint(self) -> QSize:
        """As wide as there is room."""
        return QSize(240, _HIGH)

    def minimumSizeHint(self) -> QSize:
        """Narrower, never less high."""
        return QSize(140, _HIGH)

    def changeEvent(self, event: QEvent) -> None:
        """Paint in the colours of another theme."""
        super().changeEvent(event)
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the day that is pointed at."""
        self._choose(self._day_at(event.position().x()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Choose days while the button is held."""
        self._choose(self._day_at(event.position().x()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """The day is chosen already."""
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go a day or a week on or back, or to either end."""
        found = self._found
        if found is None:
            super().keyPressEvent(event)
            return
        now = found.first if self._day is None else self._day
        match Qt.Key(event.key()):
            case Qt.Key.Key_Home:
                self._choose(found.first)
            case Qt.Key.Key_End:
                self._choose(found.last)
            case key if key in _STEPS:
                self._choose(now + _STEPS[key])
            case _:
                super().keyPressEvent(event)

    def _choose(self, day: int) -> None:
        if self._found is not None:
            self.day_wanted.emit(min(max(day, self._found.first), self._found.last))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the frame, the curve, both marks and the day in sight."""
        found = self._found
        if found is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        palette, room = self.palette(), self._room()
        quiet, strong = palette.placeholderText().color(), palette.windowText().color()
        metrics = QFontMetricsF(self.font())
        painter.setPen(QPen(quiet, 1))
        for share in _SHARES:
            y = room.bottom() - share * room.height()
            painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
            words = percent(share)
            left = room.left() - 6 - metrics.horizontalAdvance(words)
            painter.drawText(QPointF(left, y + metrics.ascent() / 2 - 1), words)
        for day in sorted({found.first, found.last}):
            words = number(day)
            x = self._x(day) - metrics.horizontalAdvance(words) / 2
            painter.drawText(QPointF(x, room.bottom() + metrics.ascent() + 3), words)
        places = [
            QPointF(self._x(found.first + at), room.bottom() - share * room.height())
            for at, share in enumerate(found.cover)
        ]
        painter.setPen(QPen(palette.accent().color(), 2))
        if len(places) > 1:
            painter.drawPolyline(Polyline(places))
        else:
            painter.drawEllipse(places[0], 2, 2)
        painter.setPen(QPen(strong, 1))
        self._paint_marks(painter, found, metrics)
        if self._day is not None and found.first <= self._day <= found.last:
            x, share = self._x(self._day), found.cover[self._day - found.first]
            painter.setPen(QPen(strong, 1, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))
            painter.setBrush(palette.accent())
            painter.setPen(QPen(strong, 1))
            painter.drawEllipse(QPointF(x, room.bottom() - share * room.height()), 4, 4)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(palette.accent().color(), 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _paint_marks(self, painter: QPainter, found: Growing, metrics: QFontMetricsF) -> None:
        """A line up to the curve, a number and words for the day of touching and of moving apart.

        The words of the first stand above the curve, to the left, those of the second below it.
        """
        room, ends = self._room(), {found.first, found.last}
        taken: list[QRectF] = [self._label(day, metrics) for day in ends]
        small = QFont(self.font())
        small.setPointSizeF(small.pointSizeF() * _SMALL)
        marks = (
            (found.touch_day, tr("leaves touch"), _ABOVE),
            (found.respace_day, tr("98 % covered"), _BELOW),
        )
        for day, words, share in marks:
            if day is None:
                continue
            x, wide = self._x(day), QFontMetricsF(small).horizontalAdvance(words)
            top = room.bottom() - found.cover[day - found.first] * room.height()
            painter.drawLine(QPointF(x, top), QPointF(x, room.bottom() + 2))
            box = self._label(day, metrics)
            if not any(box.intersects(other) for other in taken):
                foot = box.bottom() - metrics.descent()
                painter.drawText(QPointF(box.left() + 2, foot), number(day))
                taken.append(box)
            left = x - wide - 5 if share == _ABOVE else x + 5
            if room.left() < left and left + wide < room.right():
                y = room.bottom() - share * room.height() + metrics.ascent() / 2
                painter.setFont(small)
                painter.drawText(QPointF(left, y), words)
                painter.setFont(self.font())

    def _label(self, day: int, metrics: QFontMetricsF) -> QRectF:
        wide = metrics.horizontalAdvance(number(day)) + 4
        top = self._room().bottom() + 3
        return QRectF(self._x(day) - wide / 2, top, wide, metrics.height())

    def _room(self) -> QRectF:
        metrics = QFontMetricsF(self.font())
        left = metrics.horizontalAdvance(percent(RESPACE_COVER)) + 8
        return QRectF(self.rect()).adjusted(left, 8, -12, -metrics.height() - 6)

    def _x(self, day: int) -> float:
        room, found = self._room(), self._found
        days = max(found.last - found.first, 1) if found is not None else 1
        first = found.first if found is not None else 0
        return room.left() + (day - first) / days * room.width()

    def _day_at(self, x: float) -> int:
        room, found = self._room(), self._found
        if found is None or room.width() <= 0:
            return 0
        return found.first + round((x - room.left()) / room.width() * (found.last - found.first))
