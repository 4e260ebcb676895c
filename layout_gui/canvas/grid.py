"""The grid over the bed: lines every so many millimetres, as many as there is room for."""

from math import ceil, floor
from typing import Final

from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.units import Unit
from layout_gui.canvas.overlay import Overlay
from layout_gui.canvas.snapping import Grid
from layout_gui.canvas.tones import Tones, hairline

LEAST_PX: Final = 9.0
"""Lines stand at least so far apart; in between some are left out."""

_TIMES: Final[dict[Unit, tuple[int, ...]]] = {
    "mm": (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000),
    "cm": (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000),
    "in": (1, 2, 6, 12, 24, 60, 120, 240, 600, 1200),
}
_STRONG: Final[dict[Unit, int]] = {"mm": 5, "cm": 5, "in": 6}
"""Each so manieth line is stronger."""


def every(grid: Grid, pixel_mm: float, unit: Unit) -> int:
    """Return which lines are drawn: each one, or each so manieth where they would crowd."""
    apart = grid.step_mm / pixel_mm
    times = _TIMES[unit]
    return next((count for count in times if count * apart >= LEAST_PX), times[-1])


def line_places(grid: Grid, count: int, low: float, high: float, zero: float) -> list[int]:
    """Return the numbers of the lines between two places, counted from the grid's zero."""
    step = grid.step_mm * count
    first, last = ceil((low - zero) / step - 1e-9), floor((high - zero) / step + 1e-9)
    return [number * count for number in range(first, last + 1)]


class GridLines(Overlay):
    """Thin lines over water and foam, each fifth (sixth in inches) a little stronger."""

    margin_px = 0

    def __init__(self, tones: Tones, z: float) -> None:
        super().__init__(tones, z)
        self._grid: Grid | None = None
        self._unit: Unit = "mm"

    def show_grid(self, grid: Grid | None, unit: Unit, box: QRectF) -> None:
        """Show this grid over a part of the bed; None shows none."""
        extent = box if grid is not None else QRectF()
        if (grid, unit, extent) != (self._grid, self._unit, self.extent):
            self._grid, self._unit = grid, unit
            self.cover(extent)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the lines in sight."""
        if self._grid is None:
            return
        part = option.exposedRect.intersected(self.extent)
        count = every(self._grid, self.pixel_mm, self._unit)
        strong = _STRONG[self._unit] * count
        zero_x, zero_y = self._grid.zero
        step = self._grid.step_mm
        thin: list[QLineF] = []
        thick: list[QLineF] = []
        for number in line_places(self._grid, count, part.left(), part.right(), zero_x):
            x = zero_x + number * step
            lines = thick if number % strong == 0 else thin
            lines.append(QLineF(x, part.top(), x, part.bottom()))
        for number in line_places(self._grid, count, part.top(), part.bottom(), zero_y):
            y = zero_y + number * step
            lines = thick if number % strong == 0 else thin
            lines.append(QLineF(part.left(), y, part.right(), y))
        for lines, strength in ((thin, 0.3), (thick, 0.6)):
            colour = self.tones.grid
            colour.setAlphaF(strength)
            painter.setPen(hairline(colour))
            painter.drawLines(lines)
