"""The whole bed in a corner of the canvas while only a part of it is in sight."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
    QTransform,
)
from PySide6.QtWidgets import QWidget

from geometry.drawing.bed import obstacle_loops
from geometry.plan import BedPlan
from geometry.tongue import tr
from layout_gui.canvas.tones import Tones
from layout_gui.screen.painter import loop_path, y_up

SIDE_PX: Final = 150
"""How long the longer side of the bed is in the small picture."""

LEAST_PX: Final = 34
"""How wide the picture is at least, so that there is something to take hold of."""

_MARGIN_PX: Final = 9
_CORNER_PX: Final = 9.0
_FINE_PX: Final = 4.0
"""Rafts of fewer pixels across have no edges: these would be all there is to see."""


class SmallBed(QWidget):
    """Water, foam and obstacles in small, with corners around the part in sight.

    Pressing or dragging looks there: ``wanted``. The keys for that are those of the menu Bed.
    """

    wanted = Signal(QPointF)
    """A place of the bed that is to come into the middle."""

    def __init__(self, tones: Tones, parent: QWidget) -> None:
        super().__init__(parent)
        self._tones = tones
        self._plan: BedPlan | None = None
        self._box = QRectF()
        self._seen = QRectF()
        self._picture: QPixmap | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(tr("The whole bed in small"))
        self.setToolTip(tr("The whole bed: press or drag to look there"))
        self.hide()

    def set_tones(self, tones: Tones) -> None:
        """Paint with other colours."""
        self._tones, self._picture = tones, None
        self.update()

    def show_bed(self, plan: BedPlan | None, box: QRectF) -> None:
        """Picture another plan; ``box`` is that of its water."""
        before, self._plan = self._plan, plan
        if before is not None and plan is not None and box == self._box:
            is_same = before.layout is plan.layout and before.bed.obstacles == plan.bed.obstacles
            if is_same:
                return
        self._box, self._picture = box, None
        self.resize(self.sizeHint())
        self.update()

    def show_seen(self, seen: QRectF) -> None:
        """Put the corners around this part of the bed."""
        if seen != self._seen:
            self._seen = seen
            self.update()

    @property
    def is_worth_it(self) -> bool:
        """Whether some of the bed is out of sight."""
        return not self._box.isEmpty() and not self._seen.contains(self._box)

    def sizeHint(self) -> QSize:
        """As large as the bed is in small, with its margin."""
        inside = self._box.size() * self._scale()
        margin = 2 * _MARGIN_PX
        wide, high = (max(round(side), LEAST_PX) for side in (inside.width(), inside.height()))
        return QSize(wide + margin, high + margin)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the bed, which is kept as a picture, and the corners."""
        if self._picture is None or self._picture.deviceIndependentSize() != self.size():
            self._picture = self._painted()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawPixmap(0, 0, self._picture)
        inside = QRectF(self.rect()).adjusted(4, 4, -4, -4)
        frame = self._at(self._seen).intersected(inside)
        veil = QPainterPath()
        veil.addRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        veil.addRect(frame)
        shade = QColor(self._tones.canvas)
        shade.setAlpha(120)
        painter.fillPath(veil, shade)
        leg = min(_CORNER_PX, frame.width() / 2, frame.height() / 2)
        for colour, width in ((self._tones.surface, 5.0), (self._tones.accent, 2.5)):
            painter.setPen(QPen(colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
            for x, right in ((frame.left(), leg), (frame.right(), -leg)):
                for y, down in ((frame.top(), leg), (frame.bottom(), -leg)):
                    corner = QPointF(x, y)
                    angle = [corner + QPointF(right, 0), corner, corner + QPointF(0, down)]
                    painter.drawPolyline(angle)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Look there."""
        self._look(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Look there while the button is held."""
        self._look(event)

    def _look(self, event: QMouseEvent) -> None:
        if event.buttons() & Qt.MouseButton.LeftButton and not self._box.isEmpty():
            at = event.position() - self._corner()
            scale = self._scale()
            x, y = self._box.left() + at.x() / scale, self._box.bottom() - at.y() / scale
            box = self._box
            x = min(max(x, box.left()), box.right())
            self.wanted.emit(QPointF(x, min(max(y, box.top()), box.bottom())))

    def _scale(self) -> float:
        """Pixels a millimetre."""
        longer = max(self._box.width(), self._box.height())
        return SIDE_PX / longer if longer > 0 else 1.0

    def _corner(self) -> QPointF:
        """Where the upper left corner of the water is."""
        room = self.size() - (self._box.size() * self._scale()).toSize()
        return QPointF(room.width() / 2, room.height() / 2)

    def _at(self, part: QRectF) -> QRectF:
        """Where a part of the bed is in the picture."""
        scale, corner = self._scale(), self._corner()
        return QRectF(
            corner.x() + (part.left() - self._box.left()) * scale,
            corner.y() + (self._box.bottom() - part.bottom()) * scale,
            part.width() * scale,
            part.height() * scale,
        )

    def _painted(self) -> QPixmap:
        ratio, tones = self.devicePixelRatioF(), self._tones
        picture = QPixmap(self.size() * ratio)
        picture.setDevicePixelRatio(ratio)
        picture.fill(tones.surface)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(tones.theme.edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        if self._plan is not None:
            scale, corner = self._scale(), self._corner()
            left, low = corner.x() - self._box.left() * scale, corner.y()
            painter.setTransform(y_up(left, low + self._box.bottom() * scale, scale))
            painter.setPen(tones.foam_edge)
            painter.setBrush(tones.water)
            painter.drawPath(loop_path([self._plan.layout.outline]))
            painter.setBrush(tones.foam)
            if _least_side(self._plan) * scale < _FINE_PX:
                painter.setPen(Qt.PenStyle.NoPen)
            for raft in self._plan.rafts:
                loop = loop_path([raft.design.shape.loop])
                if raft.turned:
                    shape = raft.design.shape
                    far = raft.x + float(shape.length), raft.y + float(shape.width)
                    painter.drawPath(_turned(loop, *far))
                else:
                    painter.drawPath(loop.translated(raft.x, raft.y))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(tones.warn)
            for _, standing in obstacle_loops(self._plan.bed):
                painter.drawPath(loop_path([standing]))
        painter.end()
        return picture


def _least_side(plan: BedPlan) -> float:
    sides = [min(each.shape.length, each.shape.width) for each in plan.designs]
    return float(min(sides, default=0))


def _turned(path: QPainterPath, x: float, y: float) -> QPainterPath:
    """Turn a path half round, its own 0, 0 coming to this place."""
    return QTransform(-1, 0, 0, -1, x, y).map(path)
