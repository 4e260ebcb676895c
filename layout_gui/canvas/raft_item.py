"""One raft on the canvas: foam, holes, datum corner, names. Its design's picture is shared."""

from collections.abc import Iterable, Sequence
from functools import cached_property, partial
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPainterPath,
    QPainterPathStroker,
    QPen,
    QPolygonF,
    QTransform,
)

from geometry.drawing.crop_marks import inner_share, rings_of
from geometry.holes.sites import Coordinates, Holes
from geometry.plan import PlacedRaft, RaftDesign
from layout_gui.canvas.dots import SPECK_BELOW
from layout_gui.canvas.stamps import stamp, stamps
from layout_gui.canvas.tones import (
    TEXT_PX,
    Tones,
    small_font,
    text_width_px,
)
from layout_gui.screen.painter import loop_path

TINT_BELOW: Final = 1.5
"""Holes of fewer pixels across only darken the foam."""

EDGE_FROM: Final = 6.0
"""Rafts of so many pixels across have an edge even when their holes are not seen."""

DOTS_BELOW: Final = 14.0
"""Holes of fewer pixels across are small ready-made pictures; larger ones are drawn in full."""

NAME_LIFT_PX: Final = 7.0
"""From the datum corner up and along to the name of the raft."""

NAME_HIGH_PX: Final = 14.0
NAMES_FROM: Final = 24.0
"""Holes of so many pixels across carry their names."""

NAME_SHARE: Final = 0.92

_DATUM_FROM = 36.0
"""Rafts of so many pixels across have their datum corner marked."""

_INSET = 4.0
_ZOOMS_KEPT: Final = 16


class DesignPicture:
    """What is worked out once for a design and used by all rafts of it."""

    def __init__(self, design: RaftDesign, keep_mm: float) -> None:
        self.design = design
        self.keep_mm = keep_mm
        self.length, self.width = float(design.shape.length), float(design.shape.width)
        holes = design.holes
        self.largest = float(holes.diameters.max()) if len(holes) else 0.0
        self._tints: dict[Tones, QColor] = {}
        self._name_places: dict[tuple[float, float], float] = {}
        self.board = self.box = QRectF(0, 0, self.length, self.width)
        if len(holes):
            radii = holes.diameters[:, None] / 2
            low, high = (holes.xy - radii).min(axis=0), (holes.xy + radii).max(axis=0)
            self.box = self.box.united(QRectF(QPointF(*low), QPointF(*high)))

    @cached_property
    def outline(self) -> QPainterPath:
        """The raft's edge."""
        return loop_path([self.design.shape.loop])

    @cached_property
    def centre_region(self) -> QPainterPath:
        """Where the edge rules let a hole's centre lie."""
        keep = self.keep_mm
        if self.design.shape.is_rectangle:
            path = QPainterPath()
            inner = self.board.adjusted(keep, keep, -keep, -keep)
            if inner.width() > 0 and inner.height() > 0:
                path.addRect(inner)
            return path
        stroker = QPainterPathStroker()
        stroker.setWidth(2 * keep)
        stroker.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        return self.outline.subtracted(stroker.createStroke(self.outline))

    @cached_property
    def rows(self) -> NDArray[np.float64]:
        """The holes in raft coordinates as rows: x, y, diameter, plugged or not."""
        holes = self.design.holes
        return np.column_stack([holes.xy, holes.diameters, _plugs(holes)])

    @cached_property
    def hole_share(self) -> float:
        """Share of the foam that is holes."""
        return float((self.design.holes.diameters**2).sum()) * pi / 4 / (self.length * self.width)

    @cached_property
    def is_rectangle(self) -> bool:
        """Whether the raft is a rectangle, which is painted sooner."""
        return self.design.shape.is_rectangle

    def name_place(self, width: float, inset: float, scale: float) -> float:
        """Return what ``name_place`` says, kept for the zooms of late."""
        key = width, scale
        if key not in self._name_places:
            if len(self._name_places) >= _ZOOMS_KEPT:
                self._name_places.clear()
            self._name_places[key] = name_place(self, width, inset, scale)
        return self._name_places[key]

    def tint(self, tones: Tones) -> QColor:
        """Return the colour of the raft when its holes are too small to be seen."""
        if tones not in self._tints:
            self._tints[tones] = tones.foam_with_holes(self.hole_share)
        return self._tints[tones]


def changed_part(old: DesignPicture, new: DesignPicture) -> QRectF:
    """Return the part of a raft, in raft coordinates, where two designs look different."""
    one, other = old.design.holes, new.design.holes
    if (
        old.design.shape != new.design.shape
        or old.keep_mm != new.keep_mm
        or one.names != other.names
    ):
        return old.box.united(new.box)
    differs = (
        (one.xy != other.xy).any(axis=1)
        | (one.diameters != other.diameters)
        | (one.pinned != other.pinned)
        | (one.numbers != other.numbers)
        | (_plugs(one) != _plugs(other))
    )
    places = np.vstack([one.xy[differs], other.xy[differs]])
    if not len(places):
        return QRectF()
    room = max(old.largest, new.largest) / 2 + 1
    low, high = places.min(axis=0) - room, places.max(axis=0) + room
    return QRectF(QPointF(*low), QPointF(*high))


def _plugs(holes: Holes) -> NDArray[np.bool_]:
    return np.zeros(len(holes), dtype=np.bool_) if holes.plugged is None else holes.plugged


def paint_far(painter: QPainter, picture: DesignPicture, tones: Tones) -> None:
    """Paint one raft whose holes are too small to be seen; the painter is as for ``paint_raft``."""
    _paint_foam(painter, picture, picture.tint(tones))
    scale = abs(painter.worldTransform().m11())
    if min(picture.length, picture.width) * scale >= EDGE_FROM:
        _paint_edge(painter, picture, tones)


def paint_raft(painter: QPainter, picture: DesignPicture, tones: Tones, exposed: QRectF) -> None:
    """Paint one raft without its small holes; the painter maps raft coordinates to pixels.

    Small holes are painted for all rafts together, and datum corner and name after them. So are
    plain boards with small holes, by ``paint_boards``.
    """
    to_screen = painter.worldTransform()
    scale = abs(to_screen.m11())
    across = picture.largest * scale
    # Smooth edges of a plain fill cost time and hide under the outline anyway.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, not picture.design.shape.is_rectangle)
    _paint_foam(painter, picture, tones.foam)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    _paint_edge(painter, picture, tones)
    if across >= NAMES_FROM and picture.keep_mm:
        painter.setPen(tones.keep_out)
        painter.drawPath(picture.centre_region)
    if across >= DOTS_BELOW:
        _paint_holes(painter, picture, tones, to_screen, _visible(picture, exposed))


def paint_boards(painter: QPainter, boards: Sequence[QRectF], tones: Tones) -> None:
    """Paint foam and edges of rectangular rafts, as ``paint_raft`` does, all in one go."""
    if not boards:
        return
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(tones.foam)
    painter.drawRects(boards)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(tones.foam_edge)
    painter.drawRects(boards)


def _paint_foam(painter: QPainter, picture: DesignPicture, colour: QColor) -> None:
    if picture.design.shape.is_rectangle:
        painter.fillRect(picture.board, colour)
    else:
        painter.fillPath(picture.outline, colour)


def _paint_edge(painter: QPainter, picture: DesignPicture, tones: Tones) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(tones.foam_edge)
    if picture.design.shape.is_rectangle:
        painter.drawRect(picture.board)
    else:
        painter.drawPath(picture.outline)


def _visible(picture: DesignPicture, exposed: QRectF) -> list[int]:
    xy = picture.design.holes.xy
    reach = picture.largest
    inside = (
        (xy[:, 0] > exposed.left() - reach)
        & (xy[:, 0] < exposed.right() + reach)
        & (xy[:, 1] > exposed.top() - reach)
        & (xy[:, 1] < exposed.bottom() + reach)
    )
    return np.flatnonzero(inside).tolist()


def _on_screen(xy: Coordinates, to_screen: QTransform) -> Coordinates:
    """Map places to pixels; the canvas knows shift, scale and half turn, no more."""
    scale = np.array([to_screen.m11(), to_screen.m22()])
    places: Coordinates = xy * scale + np.array([to_screen.dx(), to_screen.dy()])
    return places


def _paint_holes(
    painter: QPainter,
    picture: DesignPicture,
    tones: Tones,
    to_screen: QTransform,
    visible: list[int],
) -> None:
    holes = picture.design.holes
    scale = abs(to_screen.m11())
    painter.save()
    painter.resetTransform()
    centres = _on_screen(holes.xy[visible], to_screen).tolist()
    radii = (holes.diameters[visible] * scale / 2).tolist()
    painter.setPen(QPen(tones.hole_line, 1))
    painter.setBrush(tones.hole_brush)
    for (x, y), radius in zip(centres, radii, strict=True):
        painter.drawEllipse(QPointF(x, y), radius, radius)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(tones.hole_name, 1.2))
    for index in np.flatnonzero(holes.pinned[visible]).tolist():
        # A pinned hole has a second rim.
        inner = radii[index] - max(2.0, radii[index] * 0.16)
        painter.drawEllipse(QPointF(*centres[index]), inner, inner)
    _paint_crops_and_plugs(painter, holes, visible, centres, radii, tones)
    size = max(TEXT_PX, min(15, round(picture.largest * scale * 0.28)))
    painter.setFont(small_font(size))
    cross = QPen(tones.cross, 1)
    name_pen = QPen(tones.hole_name)
    for index, (x, y), radius in zip(visible, centres, radii, strict=True):
        name = holes.names[index]
        if 2 * radius >= NAMES_FROM and text_width_px(name, size) < 2 * radius * NAME_SHARE:
            painter.setPen(name_pen)
            box = QRectF(x - radius, y - radius, 2 * radius, 2 * radius)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name)
        else:
            painter.setPen(cross)
            arm = min(4.0, radius * 0.45)
            painter.drawLines([QLineF(x - arm, y, x + arm, y), QLineF(x, y - arm, x, y + arm)])
    painter.restore()


def _paint_crops_and_plugs(
    painter: QPainter,
    holes: Holes,
    visible: list[int],
    centres: list[list[float]],
    radii: list[float],
    tones: Tones,
) -> None:
    """Rings tell the crops of zones apart; four ticks mark a hole that is plugged for now."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if holes.plantings is not None:
        painter.setPen(QPen(tones.crop_ring, 1.3))
        for index, number in enumerate(holes.plantings[visible].tolist()):
            for ring in range(1, rings_of(number) + 1):
                inner = radii[index] * inner_share(ring)
                painter.drawEllipse(QPointF(*centres[index]), inner, inner)
    if holes.plugged is not None:
        painter.setPen(QPen(tones.plug, 2.2))
        for index in np.flatnonzero(holes.plugged[visible]).tolist():
            (x, y), radius = centres[index], radii[index]
            near, far = radius * 0.5, radius * 0.7
            painter.drawLines(
                [
                    QLineF(x + right * near, y + up * near, x + right * far, y + up * far)
                    for right, up in ((1, 1), (1, -1), (-1, 1), (-1, -1))
                ]
            )


def paint_datums(
    painter: QPainter,
    rafts: Iterable[tuple[PlacedRaft, DesignPicture]],
    tones: Tones,
    to_screen: QTransform,
) -> None:
    """A right angle in each datum corner with the raft's name beside it, where there is room.

    The painter has no transform; ``to_screen`` maps bed coordinates to pixels, shift and scale
    alone.
    """
    scale = to_screen.m11()
    left, top = to_screen.dx(), to_screen.dy()
    angles: dict[tuple[float, int], list[QPointF]] = {}
    for placed, picture in rafts:
        room = min(picture.length, picture.width) * scale
        if room < _DATUM_FROM:
            continue
        way, x, y = 1, placed.x, placed.y
        if placed.turned:
            way, x, y = -1, x + picture.length, y + picture.width
        datum = QPointF(left + x * scale + way * _INSET, top - y * scale - way * _INSET)
        angles.setdefault((round(min(12.0, room / 6), 1), way), []).append(datum)
        _paint_name(painter, placed, picture, tones, datum, scale)
    for (leg, way), places in angles.items():
        draw = partial(_draw_angle, tones=tones, leg=leg, way=way)
        stamps(painter, places, ("angle", tones, leg, way), QRectF(-14, -14, 28, 28), draw)


def _draw_angle(painter: QPainter, *, tones: Tones, leg: float, way: int) -> None:
    pen = QPen(tones.datum, 2)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    up, along = QPointF(0, -way * leg), QPointF(way * leg, 0)
    painter.drawPolyline(QPolygonF([up, QPointF(0, 0), along]))


def _paint_name(
    painter: QPainter,
    placed: PlacedRaft,
    picture: DesignPicture,
    tones: Tones,
    datum: QPointF,
    scale: float,
) -> None:
    """The name of a raft beside its datum corner (pixels), turned with it but for the letters."""
    name, width = placed.name, text_width_px(placed.name, TEXT_PX)
    if width + 3 * _INSET >= picture.length * scale / 2:
        return
    is_dense = picture.largest * scale < SPECK_BELOW
    along = NAME_LIFT_PX if is_dense else picture.name_place(width, _INSET, scale)
    if placed.turned:
        at = QPointF(datum.x() - along - width, datum.y() + NAME_LIFT_PX + 8)
    else:
        at = QPointF(datum.x() + along, datum.y() - NAME_LIFT_PX)
    is_on_foam = picture.is_rectangle

    def draw_name(own: QPainter) -> None:
        if is_on_foam:
            own.fillRect(QRectF(-2, -10, width + 4, NAME_HIGH_PX - 2), tones.foam)
        own.setFont(small_font())
        own.setPen(tones.label)
        own.drawText(QPointF(0, 0), name)

    box = QRectF(-4, -3 * NAME_HIGH_PX, width + 8, 4 * NAME_HIGH_PX)
    stamp(painter, at, ("name", tones, name, width, is_on_foam), box, draw_name)


def name_place(picture: DesignPicture, width: float, inset: float, scale: float) -> float:
    """Return how far along from the datum corner a name of this width hides no hole (pixels).

    The nearest such place in the first half of the raft; right at the corner where there is none.
    """
    holes = picture.design.holes
    low, high = inset, inset + NAME_LIFT_PX + NAME_HIGH_PX
    radii = holes.diameters * scale / 2 + 2
    x, y = holes.xy.T * scale
    near = (y + radii > low) & (y - radii < high)
    x, y, radii = x[near], y[near], radii[near]
    down = np.maximum(np.maximum(low - y, y - high), 0)
    along = np.arange(NAME_LIFT_PX, picture.length * scale / 2 - width, 4.0)
    left = inset + along[:, None]
    aside = np.maximum(np.maximum(left - x, x - left - width), 0)
    free = along[(np.hypot(aside, down) >= radii).all(axis=1)]
    return float(free[0]) if len(free) else NAME_LIFT_PX
