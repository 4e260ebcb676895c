"""All rafts of a bed as one item: only what is seen is painted, small holes all in one go."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QTransform
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.plan import PlacedRaft, RaftDesign
from layout_gui.canvas.dots import paint_dots
from layout_gui.canvas.layer import MOST_PARTS, Layer, rects_of
from layout_gui.canvas.overlay import Overlay, united
from layout_gui.canvas.raft_item import (
    DOTS_BELOW,
    EDGE_FROM,
    NAMES_FROM,
    TINT_BELOW,
    DesignPicture,
    changed_part,
    paint_boards,
    paint_datums,
    paint_far,
    paint_raft,
)
from layout_gui.canvas.tones import Tones

Box = tuple[float, float, float, float]

_MANY = 64
"""Where more rafts than that change, all are painted again."""


class Rafts(Overlay):
    """Foam, holes, datum corners and names of the rafts of one bed."""

    margin_px = 2

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self.placed: tuple[PlacedRaft, ...] = ()
        self._pictures: list[DesignPicture] = []
        self._by_design: dict[int, DesignPicture] = {}
        self._boards: list[QRectF] = []
        self._boxes: NDArray[np.float64] = np.empty((0, 4))
        self._largest: NDArray[np.float64] = np.empty(0)
        self._rows: list[NDArray[np.float64] | None] = []
        self._all_rows: NDArray[np.float64] | None = None
        self._layer = Layer()

    def show_rafts(self, rafts: Sequence[PlacedRaft], keep_mm: float) -> None:
        """Show these rafts; only what differs is painted again."""
        then, before = self.placed, self._pictures
        self.placed = tuple(rafts)
        self._pictures = self._pictures_of(rafts, keep_mm)
        if len(then) != len(rafts):
            self._show_all()
        else:
            pairs = zip(self.placed, then, self._pictures, before, strict=True)
            changed = [
                k
                for k, (one, other, picture, old) in enumerate(pairs)
                if one is not other or picture is not old
            ]
            if len(changed) > _MANY:
                self._show_all()
            else:
                for k in changed:
                    self._show_raft(k, then[k], before[k])
        if len(self._boxes):
            (left, bottom), (right, top) = self._boxes[:, :2].min(0), self._boxes[:, 2:].max(0)
            extent = QRectF(left, bottom, right - left, top - bottom)
        else:
            extent = QRectF()
        if extent != self.extent:
            self.cover(extent)

    def outlines(self, names: frozenset[str]) -> list[QPainterPath]:
        """Return the outlines of the named rafts as they lie in the bed."""
        return [
            _lying(placed, picture).map(picture.outline)
            for placed, picture in zip(self.placed, self._pictures, strict=True)
            if placed.name in names
        ]

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Paint what is seen, as finely as the zoom is worth."""
        parts = _parts(painter, option.exposedRect)
        widest = float(self._largest.max(initial=0.0)) * abs(painter.worldTransform().m11())
        # Names in holes are written straight to the screen, where letters are sharpest.
        if widget is None or widest >= NAMES_FROM:
            self._paint_parts(painter, parts)
        else:
            self._layer.paint(painter, parts, widget.rect(), self._paint_parts)

    def show_tones(self, tones: Tones) -> None:
        """Paint with other colours from now on."""
        super().show_tones(tones)
        self._layer.forget()

    def forget_picture(self) -> None:
        """Paint all anew: the font is another one."""
        self._layer.forget()

    def _paint_parts(self, painter: QPainter, parts: Sequence[QRectF]) -> None:
        to_screen = painter.worldTransform()
        scale = abs(to_screen.m11())
        seen = np.flatnonzero(_meet(self._boxes, parts, margin=2 * self.pixel_mm))
        across = self._largest[seen] * scale
        self._paint_far(painter, seen[across < TINT_BELOW].tolist(), scale)
        near = seen[across >= TINT_BELOW].tolist()
        if not near:
            return
        small = seen[(across >= TINT_BELOW) & (across < DOTS_BELOW)].tolist()
        plain = {k for k in small if self._pictures[k].is_rectangle}
        painter.save()
        paint_boards(painter, [self._boards[k] for k in small if k in plain], self.tones)
        for k in near:
            if k not in plain:
                placed, picture = self.placed[k], self._pictures[k]
                on_bed = _lying(placed, picture)
                painter.setWorldTransform(on_bed * to_screen)
                back, _ = on_bed.inverted()
                paint_raft(painter, picture, self.tones, back.mapRect(united(parts)))
        painter.resetTransform()
        paint_dots(painter, self.tones, to_screen, self._small_holes(small, parts))
        lying = [(self.placed[k], self._pictures[k]) for k in near]
        paint_datums(painter, lying, self.tones, to_screen)
        painter.restore()

    def _small_holes(self, rafts: Sequence[int], parts: Sequence[QRectF]) -> NDArray[np.float64]:
        """The holes of some rafts in these parts of the bed, as rows: x, y, diameter, plugged."""
        if not rafts:
            return np.empty((0, 4))
        if len(rafts) < len(self._rows):
            rows = np.concatenate([self._rows_of(k) for k in rafts])
        else:
            if self._all_rows is None:
                self._all_rows = np.concatenate([self._rows_of(k) for k in rafts])
            rows = self._all_rows
        if len(parts) == 1 and _is_within(self._boxes[rafts], parts[0]):
            return rows
        half = rows[:, 2:3] / 2
        boxes = np.column_stack([rows[:, :2] - half, rows[:, :2] + half])
        chosen: NDArray[np.float64] = rows[_meet(boxes, parts, margin=float(half.max(initial=0.0)))]
        return chosen

    def _rows_of(self, k: int) -> NDArray[np.float64]:
        """The holes of one raft in bed coordinates."""
        rows = self._rows[k]
        if rows is None:
            placed, picture = self.placed[k], self._pictures[k]
            rows = self._rows[k] = _lying_rows(placed, picture)
        return rows

    def _paint_far(self, painter: QPainter, rafts: Sequence[int], scale: float) -> None:
        """Paint rafts whose holes only darken the foam: plain ones in the bed's own coordinates."""
        alike: dict[int, list[int]] = {}
        for k in rafts:
            alike.setdefault(id(self._pictures[k]), []).append(k)
        edged: list[QRectF] = []
        for own in alike.values():
            picture = self._pictures[own[0]]
            if picture.is_rectangle:
                boards = [self._boards[k] for k in own]
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(picture.tint(self.tones))
                painter.drawRects(boards)
                if min(picture.length, picture.width) * scale >= EDGE_FROM:
                    edged += boards
                continue
            for k in own:
                painter.save()
                painter.setWorldTransform(_lying(self.placed[k], picture), combine=True)
                paint_far(painter, picture, self.tones)
                painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self.tones.foam_edge)
        painter.drawRects(edged)

    def _pictures_of(self, rafts: Sequence[PlacedRaft], keep_mm: float) -> list[DesignPicture]:
        """The picture of each raft's design, made anew only where it must be."""
        designs = {id(placed.design): placed.design for placed in rafts}
        self._by_design = {key: self._picture(one, keep_mm) for key, one in designs.items()}
        return [self._by_design[id(placed.design)] for placed in rafts]

    def _picture(self, design: RaftDesign, keep_mm: float) -> DesignPicture:
        old = self._by_design.get(id(design))
        if old is not None and old.design is design and old.keep_mm == keep_mm:
            return old
        return DesignPicture(design, keep_mm)

    def _show_all(self) -> None:
        """Paint all rafts again, whatever became of each."""
        self._boards = [
            QRectF(placed.x, placed.y, picture.length, picture.width)
            for placed, picture in zip(self.placed, self._pictures, strict=True)
        ]
        kinds = {id(picture): picture for picture in self._pictures}
        boxes = {kind: _sides(picture.box) for kind, picture in kinds.items()}
        turned = {kind: _sides(_turned(picture)) for kind, picture in kinds.items()}
        own = [
            (turned if placed.turned else boxes)[id(picture)]
            for placed, picture in zip(self.placed, self._pictures, strict=True)
        ]
        at = [(placed.x, placed.y, placed.x, placed.y) for placed in self.placed]
        self._boxes = np.array(own).reshape(-1, 4) + np.array(at).reshape(-1, 4)
        self._largest = np.array([picture.largest for picture in self._pictures])
        self._rows, self._all_rows = [None] * len(self.placed), None
        self._layer.forget()
        self.update()

    def _show_raft(self, k: int, then: PlacedRaft, before: DesignPicture) -> None:
        placed, picture = self.placed[k], self._pictures[k]
        self._boxes[k] = _sides(_lying(placed, picture).mapRect(picture.box))
        self._boards[k] = QRectF(placed.x, placed.y, picture.length, picture.width)
        self._largest[k] = picture.largest
        self._rows[k], self._all_rows = None, None
        where = placed.name, placed.x, placed.y, placed.turned
        if where == (then.name, then.x, then.y, then.turned):
            changed = changed_part(before, picture)
            if not changed.isNull():
                self._paint_again(_lying(placed, picture).mapRect(changed))
            return
        self._paint_again(_lying(then, before).mapRect(before.box))
        self._paint_again(_lying(placed, picture).mapRect(picture.box))

    def _paint_again(self, part: QRectF) -> None:
        self._layer.forget(part)
        self.update(part)


def _lying(placed: PlacedRaft, picture: DesignPicture) -> QTransform:
    """Raft coordinates to bed coordinates; a turned raft lies half round."""
    if placed.turned:
        return QTransform(-1, 0, 0, -1, placed.x + picture.length, placed.y + picture.width)
    return QTransform(1, 0, 0, 1, placed.x, placed.y)


def _turned(picture: DesignPicture) -> QRectF:
    """The box of a raft that lies half round, seen from the lower left corner of its board."""
    return QTransform(-1, 0, 0, -1, picture.length, picture.width).mapRect(picture.box)


def _sides(box: QRectF) -> Box:
    return box.left(), box.top(), box.right(), box.bottom()


def _parts(painter: QPainter, exposed: QRectF) -> list[QRectF]:
    """What is to be painted, in bed coordinates: the parts of the screen, else all around them."""
    region = painter.paintEngine().systemClip()
    if not 1 < region.rectCount() <= MOST_PARTS:
        return [exposed]
    back, _ = painter.deviceTransform().inverted()
    return [back.mapRect(QRectF(part)) for part in rects_of(region)]


def _meet(
    boxes: NDArray[np.float64], parts: Sequence[QRectF], *, margin: float
) -> NDArray[np.bool_]:
    """Which boxes (left, bottom, right, top) meet one of the parts."""
    found = np.zeros(len(boxes), dtype=np.bool_)
    for part in parts:
        found |= (
            (boxes[:, 0] <= part.right() + margin)
            & (boxes[:, 1] <= part.bottom() + margin)
            & (boxes[:, 2] >= part.left() - margin)
            & (boxes[:, 3] >= part.top() - margin)
        )
    return found


def _is_within(boxes: NDArray[np.float64], part: QRectF) -> bool:
    """Whether all boxes lie within a part of the bed."""
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    return part.contains(QRectF(QPointF(*low), QPointF(*high)))


def _lying_rows(placed: PlacedRaft, picture: DesignPicture) -> NDArray[np.float64]:
    lying = _lying(placed, picture)
    sign = -1 if placed.turned else 1
    return picture.rows * [sign, sign, 1, 1] + [lying.dx(), lying.dy(), 0, 0]
