"""The bed under and over its rafts: water and wall, obstacles, canopies, findings."""

from collections.abc import Sequence
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.checks.finding import Finding, Severity
from geometry.drawing.marks import Circle, Drawing, Mark, Path, Text
from geometry.drawing.styles import Style
from geometry.drawing.transforms import marks_of
from geometry.plan import BedPlan
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.stamps import stamps
from layout_gui.canvas.tones import (
    TEXT_PX,
    Tones,
    hairline,
    paint_with_halo,
    small_font,
    text_width_px,
)
from layout_gui.screen.painter import loop_path, paint_marks, path_of

WALL_PX: Final = 9.0
BADGE_PX: Final = 8.0
BADGE_ASIDE_PX: Final = 15.0
_SIGNS: Final[dict[Severity, str]] = {"problem": "!", "question": "?", "note": "i"}


class Water(Overlay):
    """The water and, around it, a hint of the wall."""

    margin_px = WALL_PX + 4

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._outline = QPainterPath()

    def show_bed(self, bed_plan: BedPlan | None) -> None:
        """Show another outline."""
        self._outline = loop_path([bed_plan.layout.outline]) if bed_plan else QPainterPath()
        self.cover(self._outline.boundingRect())

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the wall as two wide lines and the water over their inner halves."""
        tones = self.tones
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for colour, width in ((tones.line, 2 * WALL_PX + 2), (tones.surface, 2 * WALL_PX)):
            pen = hairline(colour, width)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            painter.setPen(pen)
            painter.drawPath(self._outline)
        painter.setPen(hairline(QColor(tones.theme.inks[Style.WATER].line)))
        painter.setBrush(tones.water)
        painter.drawPath(self._outline)


class Obstacles(Overlay):
    """What stands in the water, with the line its clearance keeps, and its name."""

    margin_px = 180

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._marks: tuple[Mark, ...] = ()
        self._names: tuple[tuple[str, QPointF], ...] = ()

    def show_drawing(self, drawing: Drawing | None, outline: QRectF) -> None:
        """Show the obstacles of a bed drawing; ``outline`` is the box of the water."""
        groups = [g for g in drawing.groups if g.id.startswith("obstacle ")] if drawing else []
        self._marks = marks_of(groups)
        named: list[tuple[str, QPointF]] = []
        for group in groups:
            box = _box(group.marks[0])
            named.append((group.id.removeprefix("obstacle "), QPointF(box.center().x(), box.top())))
        self._names = tuple(named)
        self.cover(outline if groups else QRectF())

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the obstacles; their names stand below them."""
        paint_marks(painter, self._marks, self.tones.theme.inks)
        to_screen = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setFont(small_font())
        colour = QColor(self.tones.theme.inks[Style.OBSTACLE].line)
        for name, at in self._names:
            place = to_screen.map(at) + QPointF(0, 16)
            paint_with_halo(painter, name, place, colour, self.tones.surface, share=0.5)
        painter.restore()


class FindingMarks(Overlay):
    """A badge at each finding: a diamond for a problem, a circle for a question, a square."""

    margin_px = 3 * BADGE_PX

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._places: list[tuple[Severity, float, float]] = []
        self._xy = np.empty((0, 2))

    def show_findings(self, findings: Sequence[Finding], outline: QRectF) -> None:
        """Show these findings; only the badges that come or go are painted."""
        places = {
            (finding.severity, *finding.place) for finding in findings if finding.place is not None
        }
        changed = places.symmetric_difference(self._places)
        extent = outline
        if changed:
            self._places = sorted(places, key=_weight)
            self._xy = np.array([(x, y) for _, x, y in self._places]).reshape(-1, 2)
        if places:
            _, xs, ys = zip(*places, strict=True)
            around = QRectF(QPointF(min(xs), min(ys)), QPointF(max(xs), max(ys)))
            extent = self.extent.united(outline).united(around)
        if extent != self.extent:
            self.cover(extent)
            return
        room = self.margin_px * self.pixel_mm
        for _, x, y in changed:
            self.update(QRectF(x - room, y - room, 2 * room, 2 * room))

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the badges in sight, at most one in each spot of the screen."""
        room = self.margin_px * self.pixel_mm
        part = option.exposedRect.adjusted(-room, -room, room, room)
        to_screen = painter.worldTransform()
        seen = (
            (self._xy[:, 0] >= part.left())
            & (self._xy[:, 0] <= part.right())
            & (self._xy[:, 1] >= part.top())
            & (self._xy[:, 1] <= part.bottom())
        )
        scale = np.array([to_screen.m11(), to_screen.m22()])
        at = self._xy[seen] * scale + np.array([to_screen.dx(), to_screen.dy()])
        cells = (at // (2 * BADGE_PX)).astype(np.int64).tolist()
        painter.save()
        painter.resetTransform()
        taken: set[tuple[int, int]] = set()
        spots: dict[Severity, list[QPointF]] = {severity: [] for severity in _SIGNS}
        for index, (column, row), place in zip(
            np.flatnonzero(seen).tolist(), cells, at.tolist(), strict=True
        ):
            if (column, row) not in taken:
                taken.add((column, row))
                spots[self._places[index][0]].append(QPointF(*place))
        for severity, places in spots.items():
            paint_badges(painter, self.tones, severity, places)
        painter.restore()


_RANKS: Final = {severity: rank for rank, severity in enumerate(_SIGNS)}


def _weight(key: tuple[Severity, float, float]) -> tuple[int, float, float]:
    return _RANKS[key[0]], key[1], key[2]


def paint_badges(
    painter: QPainter, tones: Tones, severity: Severity, places: Sequence[QPointF]
) -> None:
    """Paint the badge of a finding beside each place: shape and sign tell how grave it is."""
    reach = BADGE_ASIDE_PX + 2 * BADGE_PX
    box = QRectF(-6, -reach, reach + 6, reach + 6)
    key = "badge", tones, severity, text_width_px(_SIGNS[severity], TEXT_PX)
    stamps(painter, places, key, box, lambda own: _draw_badge(own, tones, severity))


def _draw_badge(painter: QPainter, tones: Tones, severity: Severity) -> None:
    size = BADGE_PX
    colour = tones.warn if severity != "note" else tones.quiet_text
    place, at = QPointF(0, 0), QPointF(BADGE_ASIDE_PX, -BADGE_ASIDE_PX)
    painter.setFont(small_font(TEXT_PX, bold=True))
    painter.setPen(QPen(tones.foam, 3.5))
    painter.drawLine(place, at)
    painter.setPen(QPen(colour, 1.5))
    painter.drawLine(place, at)
    painter.setPen(QPen(tones.foam, 1.5))
    painter.setBrush(colour)
    painter.drawEllipse(place, 3, 3)
    if severity == "problem":
        reach = size * 1.45
        corners = ((0, -reach), (reach, 0), (0, reach), (-reach, 0))
        painter.drawPolygon(QPolygonF([at + QPointF(x, y) for x, y in corners]))
    elif severity == "question":
        painter.drawEllipse(at, size, size)
    else:
        painter.drawRect(QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size))
    painter.setPen(tones.foam)
    box = QRectF(at.x() - size, at.y() - size, 2 * size, 2 * size)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, _SIGNS[severity])


def _box(mark: Mark) -> QRectF:
    match mark:
        case Path(curves, _, closed):
            return path_of(curves, closed=closed).boundingRect()
        case Circle(centre, radius):
            return QRectF(centre.x - radius, centre.y - radius, 2 * radius, 2 * radius)
        case Text(at):
            return QRectF(QPointF(*at), QPointF(*at))
