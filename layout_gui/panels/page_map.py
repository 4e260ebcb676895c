"""A small picture of how the pages of one template lie on its raft; a click goes to a page."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QWidget

from geometry.drawing.page_map import MapSize, large_map, left_out_words, map_size
from geometry.drawing.styles import Style
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.tiles import Cell
from geometry.tongue import tr
from layout_gui.screen.painter import paint_marks, y_up
from layout_gui.screen.theme import Ink, Theme

_PX_PER_MM: Final = 4.0
"""The map is composed as on the cover, where its letters are 2.8 mm high."""
_EDGE_MM: Final = (6.0, 3.0, 6.0, 3.0)
"""Room left, right, below and above the grid for the names of its lines."""
_HIGHEST: Final = 210


class PageMap(QWidget):
    """The grid of pages over the raft: the one looked at shaded, those not wanted crossed out."""

    went_to = Signal(int)
    """The number of the page that was clicked."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._set: TemplateSet | None = None
        self._here = 0
        self._left_out: frozenset[int] = frozenset()
        self.setAccessibleName(tr("Map of the pages"))

    def set_theme(self, theme: Theme) -> None:
        """Paint in other colours from now on."""
        self._theme = theme
        self.update()

    def show_set(self, template: TemplateSet | None, here: int, left_out: frozenset[int]) -> None:
        """Show a set with the page of this number shaded; nothing hides the map."""
        self._set, self._here, self._left_out = template, here, left_out
        self.setVisible(template is not None)
        if template is not None:
            tiling = template.tiling
            blank = left_out_words(tiling.blank)
            shown = tr(
                "{columns} columns and {rows} rows; page {page} is shown",
                columns=tiling.columns,
                rows=tiling.rows,
                page=here,
            )
            self.setAccessibleDescription(f"{shown}. {blank}".strip())
            self.setToolTip(blank)
        self._fit()
        self.update()

    def cell_box(self, cell: Cell) -> QRectF:
        """Return where a cell of the grid is, in pixels of this widget; empty without a set."""
        size = self._size()
        if self._set is None or size is None:
            return QRectF()
        tiling = self._set.tiling
        width = tiling.step_x * size.scale * _PX_PER_MM
        height = tiling.step_y * size.scale * _PX_PER_MM
        foot = self.height() - _EDGE_MM[2] * _PX_PER_MM
        column, row = cell
        left = _EDGE_MM[0] * _PX_PER_MM + column * width
        return QRectF(left, foot - (row + 1) * height, width, height)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the page under the pointer."""
        numbers = self._set.numbers if self._set is not None else {}
        for cell, number in numbers.items():
            if self.cell_box(cell).contains(event.position()):
                self.went_to.emit(number)
                return

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the height that the grid needs."""
        super().resizeEvent(event)
        self._fit()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the shade, the map, and the crosses."""
        size = self._size()
        if self._set is None or size is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        numbers = self._set.numbers
        for cell, number in numbers.items():
            if number == self._here:
                painter.fillRect(self.cell_box(cell), QColor(self._theme.accent_soft))
        painter.save()
        painter.setTransform(y_up(0, self.height(), _PX_PER_MM), combine=True)
        marks = large_map(
            self._set.design, self._set.tiling, numbers, _EDGE_MM[0], _EDGE_MM[2], size
        )
        paint_marks(painter, marks, _inks(self._theme))
        painter.restore()
        for cell, number in numbers.items():
            box = self.cell_box(cell)
            if number in self._left_out:
                painter.setPen(QPen(QColor(self._theme.quiet_text), 1.5))
                painter.drawLine(box.topLeft(), box.bottomRight())
                painter.drawLine(box.topRight(), box.bottomLeft())
            if number == self._here:
                painter.setPen(QPen(QColor(self._theme.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(box)

    def _size(self) -> MapSize | None:
        if self._set is None:
            return None
        left, right, below, above = _EDGE_MM
        room = QPointF(self.width(), _HIGHEST) / _PX_PER_MM
        return map_size(self._set.tiling, room.x() - left - right, room.y() - below - above)

    def _fit(self) -> None:
        size = self._size()
        if size is not None:
            wanted = QSize(0, round((size.height + _EDGE_MM[2] + _EDGE_MM[3]) * _PX_PER_MM))
            self.setFixedHeight(wanted.height())


def _inks(theme: Theme) -> dict[Style, Ink]:
    """Lines alone, so that the raft hides neither the grid nor the numbers of the pages."""
    lines = {style: Ink(ink.line) for style, ink in theme.inks.items()}
    return {**lines, Style.PAGE_NAME: Ink(theme.quiet_text), Style.CENTRE: Ink(theme.accent)}
