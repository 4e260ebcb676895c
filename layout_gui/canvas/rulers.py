"""Rulers along the top and the left of the canvas, in the grower's units."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, log10
from typing import Final, Literal

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.canvas.tones import TEXT_PX, Tones, small_font, text_scale

RULER_PX: Final = 24
"""How wide a ruler is while text has its usual size; see ``ruler_px``."""

LABEL_PX: Final = 64.0
"""Figures stand at least so far apart."""

TICK_PX: Final = 7.0
INCH_MM: Final = 25.4
_INCH_STEPS: Final = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 24, 60, 120, 240, 600, 1200, 2400)

Edge = Literal["top", "left"]


@dataclass(frozen=True, slots=True)
class Steps:
    """Figures every ``label`` units and ticks every ``tick`` units of ``unit_mm``."""

    label: float
    tick: float
    unit_mm: float


def ruler_px() -> int:
    """Return how wide a ruler is, in pixels: wider where people have asked for larger text."""
    return round(RULER_PX * text_scale())


def steps_for(unit: Unit, pixels_per_mm: float, label_px: float = LABEL_PX) -> Steps:
    """Choose the distances of figures and ticks so that neither crowd."""
    unit_mm = {"mm": 1.0, "cm": 10.0, "in": INCH_MM}[unit]
    pixels = pixels_per_mm * unit_mm
    ladder = _INCH_STEPS if unit == "in" else _decimal_ladder(label_px / pixels)
    label = next((step for step in ladder if step * pixels >= label_px), ladder[-1])
    finer = [
        step
        for step in ladder
        if step * pixels >= TICK_PX and abs(label / step - round(label / step)) < 1e-9
    ]
    return Steps(label, finer[0] if finer else label, unit_mm)


def _decimal_ladder(least: float) -> tuple[float, ...]:
    power = floor(log10(least)) - 2
    return tuple(
        part * 10.0**exponent for exponent in range(power, power + 5) for part in (1, 2, 5)
    )


def figure_text(value: float, unit: Unit) -> str:
    """Write a figure of the ruler: a decimal, or a mixed number of inches."""
    sign = "\N{MINUS SIGN}" if value < 0 else ""
    if unit != "in":
        return sign + f"{abs(value):.6f}".rstrip("0").rstrip(".")
    whole, part = divmod(Fraction(round(abs(value) * 16), 16), 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


class Handle(QWidget):
    """Something at the edge of the canvas that a drag begins on."""

    handled = Signal(QMouseEvent)
    """A press, a move, a release or a double click."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a drag."""
        self.handled.emit(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with it."""
        self.handled.emit(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End it."""
        self.handled.emit(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Hand on a double click."""
        self.handled.emit(event)


class RulerCorner(Handle):
    """Where the rulers meet: their zero is dragged from here, and a double click brings it back."""

    def __init__(self, tones: Tones, parent: QWidget) -> None:
        super().__init__(parent)
        self._tones = tones
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setAccessibleName(tr("Zero of the rulers"))
        self.setToolTip(tr("Drag to where the rulers are to begin; double-click: the bed's corner"))

    def set_tones(self, tones: Tones) -> None:
        """Paint with other colours."""
        self._tones = tones
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint two crossing hairlines."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self._tones.theme.background))
        painter.setPen(QPen(self._tones.quiet_text, 1))
        x, y = self.width() * 2 // 3 + 0.5, self.height() * 2 // 3 + 0.5
        painter.drawLines([QLineF(x, 4, x, self.height()), QLineF(4, y, self.width(), y)])
        painter.end()


class Ruler(Handle):
    """One ruler; it shows the stretch of the bed that the view shows, and where the pointer is.

    A drag out of it pulls a guide line.
    """

    def __init__(self, edge: Edge, tones: Tones, parent: QWidget) -> None:
        super().__init__(parent)
        self._edge = edge
        self._tones = tones
        self._unit: Unit = "mm"
        self._zero = 0.0
        self._scale = 1.0
        self._pointer: float | None = None
        self._is_moved = False
        self.setToolTip(tr("Drag a guide line out of the ruler"))
        self.setAccessibleName(
            tr("Ruler along the bed") if edge == "top" else tr("Ruler across the bed")
        )
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def set_tones(self, tones: Tones) -> None:
        """Paint with other colours."""
        self._tones = tones
        self.update()

    def set_unit(self, unit: Unit) -> None:
        """Count in another unit."""
        if unit != self._unit:
            self._unit = unit
            self.update()

    def set_view(self, zero: float, scale: float, *, moved: bool = False) -> None:
        """Count from this pixel of the ruler, so many pixels a millimetre.

        ``moved`` says that the zero is not the bed's corner; then it is marked.
        """
        if (zero, scale, moved) != (self._zero, self._scale, self._is_moved):
            self._zero, self._scale, self._is_moved = zero, scale, moved
            self.update()

    def set_pointer(self, at: float | None) -> None:
        """Mark this pixel of the ruler; None marks none."""
        if at == self._pointer:
            return
        for place in (self._pointer, at):
            if place is not None:
                self.update(self._strip(place))
        self._pointer = at

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ticks and figures of the part that is exposed."""
        painter = QPainter(self)
        # Millimetres run to the right in every script.
        painter.setLayoutDirection(Qt.LayoutDirection.LeftToRight)
        painter.fillRect(event.rect(), QColor(self._tones.theme.background))
        painter.setFont(small_font(TEXT_PX))
        steps = steps_for(self._unit, self._scale, LABEL_PX * text_scale())
        way = 1 if self._edge == "top" else -1
        per_unit = way * self._scale * steps.unit_mm
        size = self.width() if self._edge == "top" else self.height()
        begin, end = self._exposed(event.rect())
        low, high = sorted(((begin - self._zero) / per_unit, (end - self._zero) / per_unit))
        every = round(steps.label / steps.tick)
        # A figure reaches as far as the next one from its tick.
        first, last = floor(low / steps.tick) - every, ceil(high / steps.tick) + every
        scale = text_scale()
        places = {
            number: self._zero + number * steps.tick * per_unit for number in range(first, last + 1)
        }
        painter.setPen(QPen(self._tones.quiet_text, 1))
        thick = self._thick
        painter.drawLines(
            [
                self._tick(at, (5 if number % every else 11) * scale, thick)
                for number, at in places.items()
            ]
        )
        for number, at in places.items():
            if number % every == 0 and 0 <= at <= size:
                self._paint_figure(painter, at, figure_text(number * steps.tick, self._unit))
        if self._is_moved:
            painter.setPen(QPen(self._tones.accent, 2))
            painter.drawLine(self._tick(self._zero, thick, thick))
        if self._pointer is not None:
            self._paint_pointer(painter, self._pointer)
        painter.end()

    @property
    def _thick(self) -> int:
        return self.height() if self._edge == "top" else self.width()

    def _exposed(self, part: QRect) -> tuple[int, int]:
        """The stretch of the ruler, in its pixels, that is to be painted."""
        if self._edge == "top":
            return part.left(), part.right() + 1
        return part.top(), part.bottom() + 1

    def _tick(self, at: float, length: float, thick: int) -> QLineF:
        at = floor(at) + 0.5
        if self._edge == "top":
            return QLineF(at, thick, at, thick - length)
        return QLineF(thick, at, thick - length, at)

    def _paint_figure(self, painter: QPainter, at: float, text: str) -> None:
        painter.setPen(self._tones.quiet_text)
        align = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        wide, high = LABEL_PX * text_scale(), self._thick - 8 * text_scale()
        if self._edge == "top":
            painter.drawText(QRectF(at + 3, 0, wide, high), align, text)
            return
        painter.save()
        painter.translate(0, at)
        painter.rotate(-90)
        painter.drawText(QRectF(3, 0, wide, high), align, text)
        painter.restore()

    def _paint_pointer(self, painter: QPainter, at: float) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._tones.accent)
        tip = self._thick
        corners = ((at, tip), (at - 4.5, tip - 7), (at + 4.5, tip - 7))
        places = [QPointF(x, y) if self._edge == "top" else QPointF(y, x) for x, y in corners]
        painter.drawPolygon(QPolygonF(places))

    def _strip(self, at: float) -> QRect:
        if self._edge == "top":
            return QRect(int(at) - 7, 0, 14, self.height())
        return QRect(0, int(at) - 7, self.width(), 14)
