"""Running dimensions of one raft on the canvas, each measured from the datum corner."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.drawing.figures import figure
from geometry.model.guide_line import Axis
from geometry.plan import PlacedRaft
from geometry.units import Unit
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.places import to_bed
from layout_gui.canvas.tones import TEXT_PX, Tones, small_font, text_scale, text_width_px

ASIDE_PX: Final = 18.0
"""From the edge of the water to the line of dimensions."""

END_PX: Final = 40.0
"""How far the figures may reach beyond the raft."""

_TICK_PX = 4.0
_FIGURE_PX = 12.0
_GAP_PX = 6.0
_SAME_MM = 0.05


_figure = lru_cache(maxsize=4096)(figure)


def plate_px() -> float:
    """Return how wide a dimension line is with its figures."""
    return 8 + 20 * text_scale()


def room_px() -> float:
    """Return how far the dimensions of a raft reach beyond the water, left of it and below."""
    return ASIDE_PX + plate_px() - 2


@dataclass(frozen=True, slots=True)
class Stop:
    """One figure along a dimension line: where it stands in the bed, and what it says."""

    at: float
    text: str
    is_chosen: bool


def stops(
    placed: PlacedRaft, axis: Axis, unit: Unit, chosen: frozenset[str] = frozenset()
) -> tuple[Stop, ...]:
    """Return the figures of one raft along x or y, the far edge last.

    Holes less than 0.05 mm apart share a figure. Columns or rows of the ``chosen`` holes are
    marked.
    """
    column = 0 if axis == "x" else 1
    shape, holes = placed.design.shape, placed.design.holes
    far = float(shape.length if axis == "x" else shape.width)
    values = holes.xy[:, column]
    wanted = np.array([name in chosen for name in holes.names], dtype=np.bool_)
    found: list[tuple[float, bool]] = []
    order = np.argsort(values, kind="stable")
    for value, is_chosen in zip(values[order].tolist(), wanted[order].tolist(), strict=True):
        if found and value - found[-1][0] < _SAME_MM:
            found[-1] = (found[-1][0], found[-1][1] or is_chosen)
        else:
            found.append((value, is_chosen))
    places = np.zeros((len(found) + 1, 2))
    places[:, column] = [value for value, _ in found] + [far]
    at = to_bed(placed, places)[:, column].tolist()
    texts = [_figure(value, unit) for value, _ in found] + [_figure(far, unit)]
    chosen_flags = [flag for _, flag in found] + [False]
    return tuple(map(Stop, at, texts, chosen_flags))


def room_for(marks: Sequence[Stop], pixel_mm: float) -> Iterator[Stop]:
    """Yield the figures that can be written side by side; chosen ones and the far edge first."""
    last = marks[-1]
    ranked = sorted(marks, key=lambda stop: (not stop.is_chosen, stop is not last))
    kept: list[tuple[float, float]] = []
    for stop in ranked:
        half = (text_width_px(stop.text, TEXT_PX) + _GAP_PX) / 2 * pixel_mm
        low, high = stop.at - half, stop.at + half
        if all(high <= other_low or low >= other_high for other_low, other_high in kept):
            kept.append((low, high))
            yield stop


class Dimensions(Overlay):
    """The dimension lines of a raft, outside the bed, or at the edge of the view when nearer.

    They stand below and left of the bed, in line with the raft, so that they hide no hole; where
    that is out of sight they keep within it, on a plate.
    """

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._placed: PlacedRaft | None = None
        self._stops: dict[Axis, tuple[Stop, ...]] = {"x": (), "y": ()}
        self._outline = QRectF()
        self._seen = QRectF()
        self._painted: tuple[QRectF, ...] = ()

    def show_raft(self, placed: PlacedRaft | None, unit: Unit, chosen: frozenset[str]) -> None:
        """Show the dimensions of this raft; None shows none."""
        marks: dict[Axis, tuple[Stop, ...]] = {"x": (), "y": ()}
        if placed is not None:
            marks = {axis: stops(placed, axis, unit, chosen) for axis in marks}
        before, then = self._stops, self._placed
        is_there = placed is not None and then is not None and _box(placed) == _box(then)
        if is_there and marks == before:
            return
        self._placed, self._stops = placed, marks
        if is_there and all(before[axis][-1] == marks[axis][-1] for axis in marks):
            self._refresh_stops(before)
        else:
            self._refresh()

    def show_bed(self, outline: QRectF) -> None:
        """Stand outside this box of the bed."""
        self._outline = outline
        self._refresh()

    def show_view(self, seen: QRectF) -> None:
        """Keep within this part of the bed, the one in sight."""
        self._seen = seen
        if not self.extent.contains(seen):
            self.cover(self.extent.united(seen))
        self._refresh()

    def set_pixel(self, pixel_mm: float) -> None:
        """Take note of the zoom."""
        super().set_pixel(pixel_mm)
        self._refresh()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint both lines in pixels."""
        placed = self._placed
        if placed is None or not any(part.intersects(option.exposedRect) for part in self._parts()):
            return
        to_screen = painter.worldTransform()
        box = to_screen.mapRect(self._raft_box())
        corner = to_screen.map(QPointF(*self._corner()))
        datum_x, datum_y = (box.left(), -box.bottom())
        if placed.turned:
            datum_x, datum_y = box.right(), -box.top()
        painter.save()
        painter.resetTransform()
        painter.setPen(QPen(self.tones.dimension, 1, Qt.PenStyle.DotLine))
        for x in (box.left(), box.right()):
            painter.drawLine(QLineF(x, box.bottom(), x, corner.y()))
        for y in (box.top(), box.bottom()):
            painter.drawLine(QLineF(box.left(), y, corner.x(), y))
        along_x = [to_screen.map(QPointF(stop.at, 0)).x() for stop in self._stops["x"]]
        painter.translate(0, corner.y())
        self._paint_line(painter, self._stops["x"], along_x, datum_x, side=1)
        along_y = [-to_screen.map(QPointF(0, stop.at)).y() for stop in self._stops["y"]]
        painter.resetTransform()
        painter.translate(corner.x(), 0)
        painter.rotate(-90)
        self._paint_line(painter, self._stops["y"], along_y, datum_y, side=-1)
        painter.restore()

    def _raft_box(self) -> QRectF:
        return QRectF() if self._placed is None else _box(self._placed)

    def _corner(self) -> tuple[float, float]:
        """Return where the two lines would meet, in bed coordinates."""
        aside, room = ASIDE_PX * self.pixel_mm, plate_px() * self.pixel_mm
        return (
            max(self._outline.left() - aside, self._seen.left() + room),
            max(self._outline.top() - aside, self._seen.top() + room),
        )

    def _parts(self) -> tuple[QRectF, ...]:
        """Return what the lines cover, figures and dotted lines included."""
        if self._placed is None:
            return ()
        box, (x, y) = self._raft_box(), self._corner()
        room, ends = plate_px() * self.pixel_mm, END_PX * self.pixel_mm
        half = 2 * self.pixel_mm
        down = [QRectF(side - half, y, 2 * half, box.top() - y) for side in _ends_of(box, "x")]
        left = [QRectF(x, side - half, box.left() - x, 2 * half) for side in _ends_of(box, "y")]
        return (
            QRectF(box.left() - ends, y - room, box.width() + 2 * ends, 1.5 * room),
            QRectF(x - room, box.top() - ends, 1.5 * room, box.height() + 2 * ends),
            *(part.normalized() for part in (*down, *left)),
        )

    def _refresh(self) -> None:
        """Paint again what was covered and what is covered now, no more."""
        before, self._painted = self._painted, self._parts()
        for part in {*map(_sides, before), *map(_sides, self._painted)}:
            self.update(*part)

    def _refresh_stops(self, before: dict[Axis, tuple[Stop, ...]]) -> None:
        """Paint again the figures and ticks that changed; the lines are where they were."""
        pixel, (left, low) = self.pixel_mm, self._corner()
        room = plate_px() * pixel
        for axis, marks in self._stops.items():
            shown = {*room_for(before[axis], pixel)} ^ {*room_for(marks, pixel)}
            for stop in shown | ({*before[axis]} ^ {*marks}):
                # Bold figures are a little wider than their width says.
                half = (text_width_px(stop.text, TEXT_PX) / 2 + 2 * _GAP_PX) * pixel
                if axis == "x":
                    self.update(QRectF(stop.at - half, low - room, 2 * half, 1.5 * room))
                else:
                    self.update(QRectF(left - room, stop.at - half, 1.5 * room, 2 * half))

    def _paint_line(
        self, painter: QPainter, marks: Sequence[Stop], at: list[float], datum: float, *, side: int
    ) -> None:
        """Paint one line along x; ``side`` 1 puts the figures below it, -1 above."""
        tones = self.tones
        place = dict(zip(marks, at, strict=True))
        low, high = sorted((datum, place[marks[-1]]))
        near, far = sorted((-8 * side, side * (plate_px() - 6)))
        plate = QColor(tones.canvas)
        plate.setAlpha(225)
        painter.fillRect(QRectF(low - 8, near, high - low + 16, far - near), plate)
        painter.setPen(QPen(tones.dimension, 1))
        ticks = [QLineF(x, -_TICK_PX, x, _TICK_PX) for x in (*at, datum)]
        painter.drawLines([QLineF(low, 0, high, 0), *ticks])
        for stop in room_for(marks, self.pixel_mm):
            painter.setPen(tones.accent if stop.is_chosen else tones.dimension)
            painter.setFont(small_font(bold=stop.is_chosen))
            box = QRectF(place[stop] - 90, _FIGURE_PX * text_scale() * side - 15, 180, 30)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, stop.text)


def _box(placed: PlacedRaft) -> QRectF:
    shape = placed.design.shape
    return QRectF(placed.x, placed.y, float(shape.length), float(shape.width))


def _ends_of(box: QRectF, axis: Axis) -> tuple[float, float]:
    return (box.left(), box.right()) if axis == "x" else (box.top(), box.bottom())


def _sides(box: QRectF) -> tuple[float, float, float, float]:
    return box.x(), box.y(), box.width(), box.height()
