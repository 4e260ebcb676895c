"""A strip of weeks to step through, with what is picked in each."""

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from geometry.flow.period import Week
from geometry.tongue import number, tr
from layout_gui.panels.dates import day_and_month
from layout_gui.screen.theme import LIGHT, Theme

_WIDE: Final = 64
_STEPS: Final = {
    Qt.Key.Key_Left: -1,
    Qt.Key.Key_Right: 1,
    Qt.Key.Key_PageUp: -4,
    Qt.Key.Key_PageDown: 4,
}


class WeekStrip(QWidget):
    """Weeks side by side, the chosen one in the middle; arrow keys and clicks choose another."""

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._week: Week | None = None
        self._today: Week | None = None
        self._picked: Mapping[Week, int] = {}
        self._theme = LIGHT
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("Weeks"))

    def show_week(self, week: Week, today: Week, picked: Mapping[Week, int]) -> None:
        """Show a week among its neighbours; ``picked`` is how many plants each brings."""
        self._week, self._today, self._picked = week, today, picked
        self.setAccessibleDescription(tr("Week {number}", number=week.number))
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Three lines of text high."""
        return QSize(320, 3 * QFontMetrics(self.font()).height() + 10)

    def minimumSizeHint(self) -> QSize:
        """As wide as one week."""
        return QSize(_WIDE, self.sizeHint().height())

    def week_at(self, x: float) -> Week | None:
        """Return the week at a place of the strip."""
        if self._week is None:
            return None
        return self._week.after(round((x - self.width() / 2) / self._step()))

    def _step(self) -> float:
        plain, bold = QFont(self.font()), QFont(self.font())
        bold.setBold(True)
        most = max(self._picked.values(), default=0)
        return max(
            _WIDE,
            QFontMetrics(bold).horizontalAdvance(tr("Week {number}", number=53)) + 16,
            QFontMetrics(plain).horizontalAdvance(_pick_words(most)) + 16,
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint as many weeks as there is room for."""
        if self._week is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        step = self._step()
        aside = int(self.width() / 2 / step) + 1
        for offset in range(-aside, aside + 1):
            middle = self.width() / 2 + offset * step
            box = QRectF(middle - step / 2 + 2, 3, step - 4, self.height() - 6)
            self._paint_week(painter, self._week.after(offset), box, is_chosen=not offset)

    def _paint_week(self, painter: QPainter, week: Week, box: QRectF, *, is_chosen: bool) -> None:
        theme = self._theme
        edge = theme.accent if is_chosen else theme.line
        wide = 2.0 if is_chosen else 1.0
        if is_chosen and self.hasFocus():
            wide = 3.0
        painter.setPen(QPen(QColor(edge), wide))
        painter.setBrush(QColor(theme.accent_soft if is_chosen else theme.surface))
        painter.drawRoundedRect(box, 6, 6)
        font = painter.font()
        lines = [
            (tr("Week {number}", number=week.number), theme.text, is_chosen),
            (day_and_month(week.first), theme.quiet_text, False),
        ]
        if week == self._today:
            lines[1] = (tr("this week"), theme.text, False)
        if count := self._picked.get(week, 0):
            lines.append((_pick_words(count), theme.text, False))
        high = box.height() / 3
        for at, (text, colour, is_bold) in enumerate(lines):
            font.setBold(is_bold)
            painter.setFont(font)
            painter.setPen(QColor(colour))
            row = QRectF(box.left() + 2, box.top() + at * high, box.width() - 4, high)
            shown = painter.fontMetrics().elidedText(
                text, Qt.TextElideMode.ElideRight, int(row.width())
            )
            painter.drawText(row, Qt.AlignmentFlag.AlignCenter, shown)
        font.setBold(False)
        painter.setFont(font)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the week that is clicked."""
        place: QPointF = event.position()
        if event.button() is Qt.MouseButton.LeftButton and (week := self.week_at(place.x())):
            self.chosen.emit(week)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step by a week with the arrows, by four with the page keys."""
        by = _STEPS.get(Qt.Key(event.key()))
        if by is None or self._week is None:
            super().keyPressEvent(event)
        else:
            self.chosen.emit(self._week.after(by))

    def event(self, event: QEvent) -> bool:
        """Show whether the keyboard is here."""
        if event.type() in {QEvent.Type.FocusIn, QEvent.Type.FocusOut}:
            self.update()
        return super().event(event)


def _pick_words(count: int) -> str:
    return tr("pick {count}", count=number(count, 0))
