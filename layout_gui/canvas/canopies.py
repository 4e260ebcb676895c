"""Leaves on the bed: a circle for each plant, hatched where two of them overlap."""

from math import acos, atan2, degrees, hypot, pi
from typing import Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPainterPath, QPolygonF
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.compare.crowding import MOST_SPACINGS, LeafWidths, overlapping, raft_leaves
from geometry.errors import TooManyError
from geometry.holes.pairs import Floats
from geometry.holes.sites import Coordinates
from geometry.plan import BedPlan
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.tones import Tones, hairline

_SPECK_PX: Final = 5
"""Leaves of fewer pixels across are points."""
_LINES_FROM_PX: Final = 24
"""Leaves of so many pixels have an outline, and hatching where they overlap."""
_MOST_HATCHED: Final = 1500
"""With more plants in sight no overlap is hatched: their fill alone darkens it."""


class Canopies(Overlay):
    """The leaves of every plant as a circle, a breath of green; hatched where two overlap."""

    margin_px = 2

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._bed_plan: BedPlan | None = None
        self._radii = np.zeros(1)

    def show_canopies(
        self, bed_plan: BedPlan | None, leaves: LeafWidths | None, outline: QRectF
    ) -> None:
        """Show circles on all plants, of one width a planting; None shows none."""
        self._bed_plan = bed_plan
        self._radii = np.array([(width or 0.0) / 2 for width in leaves or (0.0,)])
        room = float(self._radii.max())
        shown = bed_plan is not None and room > 0
        self.cover(outline.adjusted(-room, -room, room, room) if shown else QRectF())

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the circles in sight; where they are tiny, only their inside."""
        if self._bed_plan is None:
            return
        widest = 2 * float(self._radii.max())
        pixels = widest / self.pixel_mm
        xy, radii = self._in_sight(option.exposedRect)
        places = [QPointF(x, y) for x, y in xy.tolist()]
        if pixels < _SPECK_PX:
            painter.setPen(hairline(self.tones.canopy, max(1.0, pixels * 0.9)))
            painter.drawPoints(QPolygonF(places))
            return
        painter.setBrush(self.tones.canopy)
        line = hairline(self.tones.canopy_line, dashed=True)
        painter.setPen(line if pixels >= _LINES_FROM_PX else Qt.PenStyle.NoPen)
        for place, radius in zip(places, radii.tolist(), strict=True):
            painter.drawEllipse(place, radius, radius)
        if pixels >= _LINES_FROM_PX and len(places) <= _MOST_HATCHED:
            self._paint_overlaps(painter, xy, radii)

    def _in_sight(self, part: QRectF) -> tuple[Coordinates, Floats]:
        reach = float(self._radii.max())
        low = np.array([part.left() - reach, part.top() - reach])
        high = np.array([part.right() + reach, part.bottom() + reach])
        places, radii = [np.empty((0, 2))], [np.empty(0)]
        for placed in self._bed_plan.rafts if self._bed_plan else ():
            shape = placed.design.shape
            box = QRectF(placed.x, placed.y, float(shape.length), float(shape.width))
            if box.adjusted(-reach, -reach, reach, reach).intersects(part):
                xy, own = raft_leaves(placed, self._radii)
                seen = ((xy >= low) & (xy <= high)).all(axis=1)
                places.append(xy[seen])
                radii.append(own[seen])
        return np.concatenate(places), np.concatenate(radii)

    def _paint_overlaps(self, painter: QPainter, xy: Coordinates, radii: Floats) -> None:
        """Hatch what lies within two circles."""
        hatch = QBrush(self.tones.canopy_line, Qt.BrushStyle.BDiagPattern)
        back, _ = painter.worldTransform().inverted()
        hatch.setTransform(back)  # as fine at every zoom
        painter.setBrush(hatch)
        painter.setPen(hairline(self.tones.canopy_line))
        if 2 * float(self._radii.max()) > MOST_SPACINGS * _least_pitch(self._bed_plan):
            return
        try:
            first, second, _depth = overlapping(xy, radii)
        except TooManyError:
            return
        for one, other in zip(first.tolist(), second.tolist(), strict=True):
            painter.drawPath(lens(xy[one], radii[one], xy[other], radii[other]))


def lens(
    one: Coordinates, one_radius: float, other: Coordinates, other_radius: float
) -> QPainterPath:
    """Return what lies within two circles that overlap: two arcs, or the smaller circle whole."""
    path = QPainterPath()
    dx, dy = float(other[0] - one[0]), float(other[1] - one[1])
    apart = hypot(dx, dy)
    if apart <= abs(one_radius - other_radius):
        centre, radius = (one, one_radius) if one_radius < other_radius else (other, other_radius)
        path.addEllipse(QPointF(*centre.tolist()), float(radius), float(radius))
        return path
    along = (apart**2 + one_radius**2 - other_radius**2) / (2 * apart)
    towards = atan2(dy, dx)
    here = acos(max(-1.0, min(1.0, along / one_radius)))
    there = acos(max(-1.0, min(1.0, (apart - along) / other_radius)))
    # Qt counts angles against the y axis.
    _arc(path, one, one_radius, -(towards - here), -2 * here)
    _arc(path, other, other_radius, -(towards + pi - there), -2 * there)
    path.closeSubpath()
    return path


def _arc(
    path: QPainterPath, centre: Coordinates, radius: float, begin: float, sweep: float
) -> None:
    x, y, r = float(centre[0]), float(centre[1]), float(radius)
    box = QRectF(x - r, y - r, 2 * r, 2 * r)
    if path.elementCount() == 0:
        path.arcMoveTo(box, degrees(begin))
    path.arcTo(box, degrees(begin), degrees(sweep))


def _least_pitch(bed_plan: BedPlan | None) -> float:
    tried = bed_plan.tried if bed_plan is not None else ()
    return tried[0].pitch_mm if tried and tried[0].pitch_mm else 1.0
