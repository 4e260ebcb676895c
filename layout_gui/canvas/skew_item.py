"""A bed that is out of square, drawn so much larger than it is that it can be seen."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.beds.outline import exact_box, found_corners
from geometry.errors import OutlineError
from geometry.model.outlines import Measured
from geometry.plan import BedPlan
from geometry.tongue import tr
from geometry.units import TOLERANCE_MM
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.tones import TEXT_PX, Tones, hairline, paint_with_halo

_LARGEST_PX: Final = 26.0
_TIMES: Final = (1, 2, 5, 10, 20, 50, 100, 200, 500)


class Skew(Overlay):
    """The outline as the tape found it, around the rectangle that rafts are made for."""

    margin_px = 180

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._safe: tuple[QPointF, ...] = ()
        self._off: tuple[QPointF, ...] = ()
        self.setVisible(False)

    @property
    def is_skew(self) -> bool:
        """Whether the bed that is shown was found out of square."""
        return bool(self._off)

    @property
    def times(self) -> int:
        """How many times as large as it is the skew is drawn."""
        largest = max((max(abs(p.x()), abs(p.y())) for p in self._off), default=0.0)
        fitting = [n for n in _TIMES if n * largest <= _LARGEST_PX * self.pixel_mm]
        return fitting[-1] if fitting else 1

    def show_bed(self, bed_plan: BedPlan | None) -> None:
        """Show how far another bed is out of square."""
        outline = bed_plan.bed.outline if bed_plan else None
        self._safe, self._off = _skew_of(outline) if isinstance(outline, Measured) else ((), ())
        box = QRectF(self._safe[0], self._safe[2]) if self._safe else QRectF()
        self.cover(box)

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the outline, and how much it is overdrawn."""
        if not self._off:
            return
        times = self.times
        corners = [safe + off * times for safe, off in zip(self._safe, self._off, strict=True)]
        painter.setPen(hairline(self.tones.warn, 1.6, dashed=True))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(QPolygonF(corners))
        words = tr("skew drawn {n} times as large", n=times)
        at = painter.transform().map(corners[0])
        painter.save()
        painter.resetTransform()
        place = QPointF(at.x(), at.y() + 2.2 * TEXT_PX)
        paint_with_halo(painter, words, place, self.tones.warn, self.tones.canvas)
        painter.restore()


def _skew_of(outline: Measured) -> tuple[tuple[QPointF, ...], tuple[QPointF, ...]]:
    """The corners of the safe rectangle, and how far off each is; nothing for a true bed."""
    try:
        found = [QPointF(float(x), float(y)) for x, y in found_corners(outline)]
        right, top = map(float, exact_box(outline))
    except OutlineError:
        return (), ()
    safe = (QPointF(0, 0), QPointF(right, 0), QPointF(right, top), QPointF(0, top))
    off = tuple(place - corner for place, corner in zip(found, safe, strict=True))
    is_true = all(max(abs(place.x()), abs(place.y())) <= TOLERANCE_MM for place in off)
    return ((), ()) if is_true else (safe, off)
