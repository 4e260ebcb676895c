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
from geometry.plan import PlacedRaft
from geometry.units import Unit
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.places import to_bed
from layout_gui.canvas.snapping import Axis
from layout_gui.canvas.tones import TEXT_PX, Tones, small_font, text_width_px

ASIDE_PX: Final = 26.0
"""From the raft's edge to the line of its dimensions."""

PLATE_PX: Final = 34.0
_TICK_PX = 4.0
_GAP_PX = 6.0
_SAME_MM = 0.05


_figure = lru_cache(maxsize=4096)(figure)


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
    """The dimension lines below and left of a raft, on a plate where they cover a neighbour."""

    margin_px = ASIDE_PX + PLATE_PX

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._placed: PlacedRaft | None = None
        self._unit: Unit = "mm"
        self._stops: dict[Axis, tuple[Stop, ...]] = {"x": (), "y": ()}

    def show_raft(self, placed: PlacedRaft | None, unit: Unit, chosen: frozenset[str]) -> None:
        """Show the dimensions of this raft; None shows none."""
        if placed is None:
            if self._placed is not None:
                self._placed = None
                self.cover(QRectF())
            return
        marks: dict[Axis, tuple[Stop, ...]] = {
            "x": stops(placed, "x", unit, chosen),
            "y": stops(placed, "y", unit, chosen),
        }
        if self._placed is not None and marks == self._stops:
            return
        self._placed, self._unit, self._stops = placed, unit, marks
        shape = placed.design.shape
        box = QRectF(placed.x, placed.y, float(shape.length), float(shape.width))
        if box != self.extent:
            self.cover(box)
            return
        whole = self.boundingRect()
        self.update(QRectF(whole.topLeft(), QPointF(whole.right(), box.top())))
        self.update(QRectF(whole.topLeft(), QPointF(box.left(), whole.bottom())))

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint both lines in pixels."""
        if self._placed is None:
            return
        to_screen = painter.worldTransform()
        box = to_screen.mapRect(self.extent)
        along_x = [to_screen.map(QPointF(stop.at, 0)).x() for stop in self._stops["x"]]
        along_y = [-to_screen.map(QPointF(0, stop.at)).y() for stop in self._stops["y"]]
        datum_x, datum_y = (box.left(), -box.bottom())
        if self._placed.turned:
            datum_x, datum_y = box.right(), -box.top()
        painter.save()
        painter.resetTransform()
        painter.setFont(small_font())
        painter.translate(0, box.bottom())
        self._paint_line(painter, self._stops["x"], along_x, datum_x, side=1)
        painter.resetTransform()
        painter.translate(box.left(), 0)
        painter.rotate(-90)
        self._paint_line(painter, self._stops["y"], along_y, datum_y, side=-1)
        painter.restore()

    def _paint_line(
        self, painter: QPainter, marks: Sequence[Stop], at: list[float], datum: float, *, side: int
    ) -> None:
        """Paint one line along x; ``side`` 1 puts the figures below it, -1 above."""
        tones = self.tones
        place = dict(zip(marks, at, strict=True))
        low, high = sorted((datum, place[marks[-1]]))
        line = side * ASIDE_PX
        near, far = sorted((side * (ASIDE_PX - 8), side * (ASIDE_PX + PLATE_PX - 12)))
        plate = QColor(tones.canvas)
        plate.setAlpha(225)
        painter.fillRect(QRectF(low - 8, near, high - low + 16, far - near), plate)
        painter.setPen(QPen(tones.dimension, 1))
        ticks = [QLineF(x, line - _TICK_PX, x, line + _TICK_PX) for x in (*at, datum)]
        painter.drawLines([QLineF(low, line, high, line), *ticks])
        middle = line + side * 13
        for stop in room_for(marks, self.pixel_mm):
            painter.setPen(tones.accent if stop.is_chosen else tones.dimension)
            painter.setFont(small_font(bold=stop.is_chosen))
            x = place[stop]
            painter.drawText(
                QRectF(x - 60, middle - 10, 120, 20), Qt.AlignmentFlag.AlignCenter, stop.text
            )
