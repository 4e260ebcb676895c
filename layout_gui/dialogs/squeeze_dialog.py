"""Squeezing as the grower sees it: how the search stands, then what it offers."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from geometry.drawing.styles import Style
from geometry.holes.sites import Coordinates
from geometry.model.curves import Loop
from geometry.model.measure import bounds
from geometry.tongue import number, plural, tr
from layout_gui.screen.painter import loop_path
from layout_gui.screen.theme import Theme

_STEPS: Final = 1000
_PICTURE: Final = QSize(392, 236)


class RaftPicture(QWidget):
    """One raft, small, with the holes that it has so far and what they keep away from."""

    def __init__(
        self, loop: Loop, diameter_mm: float, theme: Theme, obstacles: Sequence[Loop] = ()
    ) -> None:
        super().__init__()
        self._obstacles = obstacles
        self._loop = loop
        self._radius = diameter_mm / 2
        self._theme = theme
        self._holes: Sequence[tuple[float, float]] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("The raft with its holes"))

    def show_holes(self, xy: Coordinates) -> None:
        """Show these holes."""
        self._holes = [(x, y) for x, y in xy.tolist()]
        self.setAccessibleDescription(plural(len(self._holes), "hole"))
        self.update()

    def sizeHint(self) -> QSize:
        """As large as a dialog bears, and no higher than the raft needs."""
        left, bottom, right, top = bounds(self._loop)
        height = round(_PICTURE.width() * (top - bottom) / max(right - left, 1e-9))
        return QSize(_PICTURE.width(), max(60, min(_PICTURE.height(), height)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the raft as large as there is room."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        left, bottom, right, top = bounds(self._loop)
        wide, high = max(right - left, 1e-9), max(top - bottom, 1e-9)
        scale = min((self.width() - 4) / wide, (self.height() - 4) / high)
        painter.translate(self.width() / 2, self.height() / 2)
        painter.scale(scale, -scale)
        painter.translate(-(left + right) / 2, -(bottom + top) / 2)
        inks = self._theme.inks
        foam, hole = inks[Style.RAFT], inks[Style.HOLE]
        painter.setPen(QPen(QColor(foam.line), 1.2 / scale))
        painter.setBrush(QColor(foam.fill or self._theme.surface))
        painter.drawPath(loop_path([self._loop]))
        self._draw_obstacles(painter, scale)
        painter.setPen(QPen(QColor(hole.line), 1 / scale))
        painter.setBrush(QColor(hole.fill or hole.line))
        for x, y in self._holes:
            painter.drawEllipse(QPointF(x, y), self._radius, self._radius)
        painter.end()

    def _draw_obstacles(self, painter: QPainter, scale: float) -> None:
        ink = self._theme.inks[Style.OBSTACLE]
        painter.save()
        painter.setClipPath(loop_path([self._loop]))
        painter.setPen(QPen(QColor(ink.line), 1 / scale))
        painter.setBrush(QColor(ink.fill or ink.line))
        for obstacle in self._obstacles:
            painter.drawPath(loop_path([obstacle]))
        painter.restore()


class SqueezeDialog(QDialog):
    """Shows a search while it goes on, then its offer, or that there is none.

    ``stop_wanted``: the search is to end with what it has. ``use_wanted``: the offer is taken.
    Closing the dialog leaves everything as it is.
    """

    stop_wanted = Signal()
    use_wanted = Signal()

    def __init__(
        self,
        raft: str,
        picture: RaftPicture,
        seconds: float,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._seconds = seconds
        self.setWindowTitle(tr("Squeeze in more holes"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFixedWidth(_PICTURE.width() + 52)
        self.title = _line(tr("Looking for more room on raft {raft}", raft=raft), "title")
        self.text = _line("")
        self.picture = picture
        self.progress = QProgressBar()
        self.progress.setRange(0, _STEPS)
        self.progress.setAccessibleName(tr("Time used"))
        self.stop_button = QPushButton(tr("Stop and keep the best"))
        self.stop_button.clicked.connect(lambda _on: self._on_stop())
        self.leave_button = QPushButton(tr("Leave it as it is"))
        self.leave_button.clicked.connect(lambda _on: self.reject())
        self.use_button = QPushButton(tr("Use these holes"))
        self.use_button.setProperty("role", "primary")
        self.use_button.clicked.connect(lambda _on: self._on_use())
        self._lay_out()
        self._show_buttons(self.stop_button)

    def show_start(self, now: int) -> None:
        """Show that the search is getting ready: holes there are."""
        self.text.setText(tr("It holds {now} now.", now=now))
        self.progress.setValue(0)  # a bar without a value shows no words
        self.progress.setFormat(tr("getting ready"))

    def show_search(self, now: int, best: int, left_s: float) -> None:
        """Show how the search stands: holes there are, the most found, seconds left."""
        self.text.setText(
            tr("It holds {now} now. Best so far: {best}.", now=now, best=best)
            if best > now
            else tr("It holds {now} now.", now=now)
        )
        self.progress.setValue(round(_STEPS * (1 - left_s / self._seconds)))
        self.progress.setFormat(
            tr("{seconds} s left", seconds=number(left_s, 0))
            if left_s >= 0.5
            else tr("nearly done")
        )

    def show_finishing(self) -> None:
        """Show that the places found are being made fit to be marked."""
        self.stop_button.setEnabled(False)
        self.progress.setValue(_STEPS)
        self.progress.setFormat(tr("rounding the places"))

    def show_offer(self, title: str, text: str, xy: Coordinates) -> None:
        """Show what was found; it can be used or left."""
        self.picture.show_holes(xy)
        self._show_end(title, text)
        self._show_buttons(self.leave_button, self.use_button)
        self.use_button.setFocus()

    def show_nothing(self, title: str, text: str) -> None:
        """Show that nothing was won, and why."""
        self._show_end(title, text)
        self.leave_button.setText(tr("Close"))
        self._show_buttons(self.leave_button)
        self.leave_button.setFocus()

    def _show_end(self, title: str, text: str) -> None:
        self.title.setText(title)
        self.text.setText(text)
        self.progress.hide()
        self.adjustSize()

    def _show_buttons(self, *shown: QPushButton) -> None:
        for each in (self.stop_button, self.leave_button, self.use_button):
            each.setVisible(each in shown)
            each.setAutoDefault(each is shown[-1])
            each.setDefault(each is shown[-1])

    def _on_stop(self) -> None:
        self.show_finishing()
        self.stop_wanted.emit()

    def _on_use(self) -> None:
        self.use_wanted.emit()
        self.accept()

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(26, 24, 26, 20)
        box.setSpacing(10)
        for part in (self.title, self.text, self.picture, self.progress):
            box.addWidget(part)
        box.addSpacing(10)
        row = QHBoxLayout()
        row.addStretch(1)
        for each in (self.stop_button, self.leave_button, self.use_button):
            row.addWidget(each)
        box.addLayout(row)


def _line(words: str, role: str = "") -> QLabel:
    line = QLabel(words)
    line.setProperty("role", role)
    line.setWordWrap(True)
    line.setTextFormat(Qt.TextFormat.PlainText)
    return line
