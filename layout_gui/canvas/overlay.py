"""What lies over the bed and is never exported: rings, frames, guides, the rubber band."""

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPolygonF
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from layout_gui.canvas.places import Spot
from layout_gui.canvas.snapping import Guide
from layout_gui.canvas.tones import Tones, hairline, paint_with_halo, small_font

MANY: Final = 2000
"""So many rings in sight become plain points."""

_RING_GAP_PX = 3.0
_WORD_PX: Final = 46.0
"""How far from the hole on the move the words of its lines stand."""

Circles = NDArray[np.float64] | Sequence[tuple[float, float, float]]


class Overlay(QGraphicsItem):
    """Something in bed coordinates whose details have a size in pixels.

    ``extent`` is what it covers in millimetres; ``margin_px`` is the room its details take beside
    that.
    """

    margin_px: float = 8

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__()
        self.tones = tones
        self.pixel_mm = 1.0
        self.extent = QRectF()
        self.setZValue(z)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemUsesExtendedStyleOption)
        self.setAcceptedMouseButtons(Qt.MouseButton.NoButton)

    def show_tones(self, tones: Tones) -> None:
        """Paint with other colours from now on."""
        self.tones = tones
        self.update()

    def set_pixel(self, pixel_mm: float) -> None:
        """Take note of the zoom: how many millimetres a pixel is."""
        self.prepareGeometryChange()
        self.pixel_mm = pixel_mm

    def cover(self, extent: QRectF) -> None:
        """Cover another part of the bed and paint it; nothing when it is null."""
        self.prepareGeometryChange()
        self.extent = extent
        self.update()

    def boundingRect(self) -> QRectF:
        """The extent with room for the details."""
        if self.extent.isNull():
            return QRectF()
        room = self.margin_px * self.pixel_mm
        return self.extent.adjusted(-room, -room, room, room)


class Rings(Overlay):
    """Rings around holes: the selected ones, the one under the pointer, the ones on the move."""

    def __init__(self, tones: Tones, z: float, *, width: float = 2.5, ghost: bool = False) -> None:
        super().__init__(tones, z)
        self._width = width
        self._ghost = ghost
        self._xyr = np.empty((0, 3))
        self._points = QPolygonF()

    def show_spots(self, spots: Sequence[Spot]) -> None:
        """Ring these holes and no others."""
        self.show_circles([(spot.x, spot.y, spot.radius) for spot in spots])

    def show_circles(self, circles: Circles) -> None:
        """Ring these places (x, y, radius)."""
        xyr = np.array(circles, dtype=np.float64).reshape(-1, 3)
        if np.array_equal(xyr, self._xyr):
            return
        self._xyr = xyr
        self._points = QPolygonF()
        extent = QRectF()
        if len(xyr):
            low = (xyr[:, :2] - xyr[:, 2:]).min(axis=0)
            high = (xyr[:, :2] + xyr[:, 2:]).max(axis=0)
            extent = QRectF(QPointF(*low), QPointF(*high))
        self.cover(extent)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the rings in sight."""
        part = option.exposedRect
        x, y, radius = self._xyr.T
        seen = (
            (x + radius >= part.left())
            & (x - radius <= part.right())
            & (y + radius >= part.top())
            & (y - radius <= part.bottom())
        )
        if seen.sum() > MANY:
            self._paint_points(painter)
            return
        circles = self._xyr[seen].tolist()
        gap = _RING_GAP_PX * self.pixel_mm
        painter.setBrush(_veil(self.tones.accent, 60) if self._ghost else Qt.BrushStyle.NoBrush)
        painter.setPen(hairline(self.tones.accent, self._width))
        for at_x, at_y, size in circles:
            painter.drawEllipse(QPointF(at_x, at_y), size + gap, size + gap)

    def _paint_points(self, painter: QPainter) -> None:
        """Paint all as points: where very many are in sight they are small."""
        if self._points.isEmpty():
            self._points = QPolygonF([QPointF(x, y) for x, y, _ in self._xyr.tolist()])
        width = max(1.0, 1.6 * float(self._xyr[:, 2].max()) / self.pixel_mm)
        pen = hairline(self.tones.accent, width)
        pen.setCapStyle(Qt.PenCapStyle.SquareCap)
        painter.setPen(pen)
        painter.drawPoints(self._points)


class Frames(Overlay):
    """Frames around the rafts selected as a whole."""

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._outlines: tuple[QPainterPath, ...] = ()

    def show_outlines(self, outlines: Iterable[QPainterPath]) -> None:
        """Frame these outlines (bed coordinates) and no others."""
        new = tuple(outlines)
        if new != self._outlines:
            self._outlines = new
            self.cover(united(path.boundingRect() for path in new))

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the frames."""
        pen = hairline(self.tones.accent, 2.5)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for outline in self._outlines:
            if outline.boundingRect().intersects(option.exposedRect):
                painter.drawPath(outline)


class Guides(Overlay):
    """The lines that a dragged hole snapped to, each with its word where there is one."""

    margin_px = 240

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._guides: tuple[Guide, ...] = ()

    def show_guides(self, guides: tuple[Guide, ...]) -> None:
        """Show these lines and no others."""
        if guides != self._guides:
            self._guides = guides
            self.cover(united(QRectF(line.p1(), line.p2()) for line in map(_line, guides)))

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the lines, a little longer than what they join."""
        pen = hairline(self.tones.accent, 1.5, dashed=True)
        painter.setPen(pen)
        for guide in self._guides:
            painter.drawLine(_line(guide))
        to_screen = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setFont(small_font())
        tones = self.tones
        for guide in self._guides:
            place = (guide.at, guide.beside) if guide.axis == "x" else (guide.beside, guide.at)
            aside = QPointF(8, -_WORD_PX) if guide.axis == "x" else QPointF(_WORD_PX, -6)
            at = to_screen.map(QPointF(*place)) + aside
            paint_with_halo(painter, guide.word, at, tones.accent, tones.surface)
        painter.restore()


class Band(Overlay):
    """The rubber band."""

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self.setVisible(False)

    def show_band(self, box: QRectF | None) -> None:
        """Show the band around this part of the bed; None hides it."""
        self.setVisible(box is not None)
        self.cover(box or QRectF())

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the band."""
        painter.setPen(hairline(self.tones.accent, 1.5))
        painter.setBrush(_veil(self.tones.accent, 28))
        painter.drawRect(self.extent)


class Flash(Overlay):
    """A soft ring that shows a place and fades."""

    margin_px = 40

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._strength = 0.0

    def show_place(self, x: float, y: float, strength: float) -> None:
        """Show the place with this strength, from 1 down to 0, where it is gone."""
        self._strength = strength
        nothing = 1e-9
        self.cover(QRectF(x, y, nothing, nothing) if strength > 0 else QRectF())

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the ring, wider as it fades."""
        radius = (34 - 12 * self._strength) * self.pixel_mm
        colour = QColor(self.tones.accent)
        colour.setAlphaF(self._strength)
        painter.setPen(hairline(colour, 3))
        painter.setBrush(_veil(self.tones.accent, round(50 * self._strength)))
        painter.drawEllipse(self.extent.topLeft(), radius, radius)


def united(boxes: Iterable[QRectF]) -> QRectF:
    """Return the box around boxes; a line counts although it is no wider than nothing."""
    sides = [(b.left(), b.top(), b.right(), b.bottom()) for b in map(QRectF.normalized, boxes)]
    if not sides:
        return QRectF()
    left, top, right, bottom = zip(*sides, strict=True)
    return QRectF(QPointF(min(left), min(top)), QPointF(max(right), max(bottom)))


def _line(guide: Guide) -> QLineF:
    if guide.axis == "x":
        return QLineF(guide.at, guide.low, guide.at, guide.high)
    return QLineF(guide.low, guide.at, guide.high, guide.at)


def _veil(colour: QColor, alpha: int) -> QColor:
    thin = QColor(colour)
    thin.setAlpha(alpha)
    return thin
