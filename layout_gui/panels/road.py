"""The road: five stations down the left, each a place to go and a line of the answer."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QSizePolicy, QVBoxLayout, QWidget

from geometry.drawing.styles import Style
from geometry.tongue import mark, tr, tr_n
from layout_gui.panels.stations import STATION_WORDS, STATIONS, Sign, Station, StationName
from layout_gui.panels.words import DASH
from layout_gui.screen.theme import Theme

_SIGN_TEXT: Final[dict[Sign, str]] = {"done": "✓", "open": "", "look": "!"}
_SIGN_WORDS: Final[dict[Sign, str]] = {
    "done": mark("done"),
    "open": mark("open"),
    "look": mark("needs a look"),
}
_CHANNEL_X: Final = 34.0
_CHANNEL_WIDTH: Final = 15.0
_SIGN_RADIUS: Final = 12.5
_TEXT_X: Final = 60
_PADDING: Final = 13
_LARGEST: Final = 1.55


class StationButton(QAbstractButton):
    """One station: its sign on the water, its name, its key figure and one line."""

    def __init__(self, name: StationName, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._station = Station(name, DASH, "", "open")
        self._theme = theme
        self.setObjectName(f"station-{name}")
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def station(self) -> Station:
        """What is shown now."""
        return self._station

    def show_station(self, station: Station) -> None:
        """Show other words."""
        if station != self._station:
            self._station = station
            self.update()
        self.setAccessibleName(f"{tr(STATION_WORDS[station.name])}: {station.figure}")
        said = (station.line, tr(_SIGN_WORDS[station.sign]), to_settle(station))
        self.setAccessibleDescription("; ".join(filter(None, said)))
        self.setToolTip(f"{tr(STATION_WORDS[station.name])}: {station.figure}\n{station.line}")

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Three lines of text and some air."""
        small, large = QFontMetrics(self._small()), QFontMetrics(self._large())
        return QSize(240, 2 * small.height() + large.height() + 2 * _PADDING + 4)

    def minimumSizeHint(self) -> QSize:
        """As high as the text, less wide if need be."""
        return QSize(226, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the board, the sign and the three lines."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_board(painter)
        self._paint_sign(painter)
        self._paint_words(painter)

    def _small(self) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * 0.9)
        return font

    def _large(self) -> QFont:
        """The largest bold type in which the figure still fits."""
        font = QFont(self.font())
        font.setBold(True)
        room = self.width() - _TEXT_X - _PADDING if self.width() > _TEXT_X + 60 else 0
        size = _LARGEST
        while size > 0.7:
            font.setPointSizeF(self.font().pointSizeF() * size)
            if not room or QFontMetrics(font).horizontalAdvance(self._station.figure) < room:
                break
            size -= 0.05
        return font

    def _paint_board(self, painter: QPainter) -> None:
        theme = self._theme
        board = QRectF(self.rect()).adjusted(8.75, 1.75, -8.75, -1.75)
        if self.isChecked():
            painter.setPen(QPen(QColor(theme.accent), 1.5))
            painter.setBrush(QColor(theme.accent_soft))
            painter.drawRoundedRect(board, 9, 9)
        elif self.underMouse():
            painter.setPen(QPen(QColor(theme.line), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(board, 9, 9)
        if self.hasFocus():
            painter.setPen(QPen(QColor(theme.accent), 1, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(board.adjusted(3, 3, -3, -3), 6, 6)

    def _paint_sign(self, painter: QPainter) -> None:
        theme, sign = self._theme, self._station.sign
        colour = QColor(theme.warn if sign == "look" else theme.accent)
        centre = QRectF(
            _CHANNEL_X - _SIGN_RADIUS, self.height() / 2 - _SIGN_RADIUS,
            2 * _SIGN_RADIUS, 2 * _SIGN_RADIUS,
        )  # fmt: skip
        is_here = self.isChecked() and sign == "open"
        painter.setPen(QPen(colour, 1.8))
        painter.setBrush(QColor(theme.background))
        painter.drawEllipse(centre)
        if is_here:
            painter.setBrush(colour)
            painter.drawEllipse(centre.center(), 4, 4)
        font = QFont(self.font())
        font.setBold(True)
        painter.setFont(font)
        painter.drawText(centre, Qt.AlignmentFlag.AlignCenter, _SIGN_TEXT[sign])

    def _paint_words(self, painter: QPainter) -> None:
        station, theme = self._station, self._theme
        width = self.width() - _TEXT_X - _PADDING
        name, count, line = tr(STATION_WORDS[station.name]), to_settle(station), station.line
        if count and not self._paint_count(painter, count, name):
            line = count
        top = _PADDING
        for text, font, colour in (
            (name, self._small(), theme.quiet_text),
            (station.figure, self._large(), theme.text),
            (line, self._small(), theme.warn if line == count else theme.quiet_text),
        ):
            metrics = QFontMetrics(font)
            painter.setFont(font)
            painter.setPen(QColor(colour))
            shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, width)
            painter.drawText(_TEXT_X, top + metrics.ascent(), shown)
            top += metrics.height() + 2

    def _paint_count(self, painter: QPainter, words: str, name: str) -> bool:
        """Say at the right of the name how much is to settle, if there is room; tell whether."""
        font = QFont(self._small())
        font.setBold(True)
        metrics = QFontMetrics(font)
        painter.setFont(font)
        painter.setPen(QColor(self._theme.warn))
        left = self.width() - _PADDING - 6 - metrics.horizontalAdvance(words)
        if left < _TEXT_X + metrics.horizontalAdvance(name):
            return False
        painter.drawText(left, _PADDING + metrics.ascent(), words)
        return True


def to_settle(station: Station) -> str:
    """Say how many findings are open at a station; empty when there are none."""
    count = station.to_settle
    return tr_n("{n} to settle", "{n} to settle", count) if count else ""


class Road(QWidget):
    """The five stations on their channel of water. ``went_to`` names the station chosen."""

    went_to = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.setAccessibleName(tr("Road"))
        self.buttons: dict[StationName, StationButton] = {}
        group = QButtonGroup(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 14, 0, 14)
        column.setSpacing(0)
        for number, name in enumerate(STATIONS):
            button = StationButton(name, theme, self)
            button.toggled.connect(lambda on, name=name: self.went_to.emit(name) if on else None)
            group.addButton(button)
            column.addWidget(button)
            if number < len(STATIONS) - 1:
                column.addStretch(1)
            self.buttons[name] = button
        column.addStretch(2)

    def go_to(self, name: StationName) -> None:
        """Go to a station as if it had been clicked."""
        self.buttons[name].setChecked(True)

    def show_stations(self, stations: Sequence[Station]) -> None:
        """Show what the stations say now."""
        for station in stations:
            self.buttons[station.name].show_station(station)

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        for button in self.buttons.values():
            button.set_theme(theme)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the channel of water that the stations lie on."""
        ink = self._theme.inks[Style.WATER]
        painter = QPainter(self)
        left = _CHANNEL_X - _CHANNEL_WIDTH / 2
        painter.fillRect(
            QRectF(left, 0, _CHANNEL_WIDTH, self.height()), QColor(ink.fill or ink.line)
        )
        painter.setPen(QPen(QColor(ink.line), 1))
        for x in (left, left + _CHANNEL_WIDTH):
            painter.drawLine(round(x), 0, round(x), self.height())
