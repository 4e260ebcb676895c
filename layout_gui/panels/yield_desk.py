"""What the sight Yield shows: two plots, what they say of this bed, and the points as a table.

Importing this loads the plotting library.
"""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QHeaderView,
    QScrollArea,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import tr
from layout_gui.panels.now import Now
from layout_gui.panels.parts import label
from layout_gui.panels.yield_curve import SIGNS, YieldCurve, symbols_of
from layout_gui.panels.yield_reading import Shown, sentences, shown_of, table_rows, title
from layout_gui.screen.theme import Theme

_SIDE_BY_SIDE: Final = 420
"""So wide the sight must be for both plots beside each other."""
_MOST_ROWS: Final = 8
_BEFORE_SOURCES: Final = 0.62
_NARROWEST_PX: Final = 90
_BESIDE_PX: Final = 90
_ROOMY_PX: Final = 640
"""From so wide on the sources stand in a column of their own."""
_SOURCE: Final = 4


class YieldDesk(QWidget):
    """Two plots, sentences about this bed, and a table of the points with their sources."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: Shown | None = None
        self.title = label("", "title")
        self.words = label("", "")
        self.legend = label("", "quiet")
        self.caution = label(
            tr(
                "Curves by 1/w = a + b · density (Shinozaki and Kira 1956), fitted by least "
                "squares to 1/w; whole lines lie between densities that were weighed, dashed ones "
                "beyond them. What was weighed elsewhere or before is not a promise."
            ),
            "quiet",
        )
        self.sources = label("", "quiet")
        self._plots = QWidget()
        self._plot_row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._plots)
        self._plot_row.setContentsMargins(0, 0, 0, 0)
        self.curves = tuple(YieldCurve(theme, per_area=per_area) for per_area in (False, True))
        for curve in self.curves:
            self._plot_row.addWidget(curve, 1)
        self.table = QTreeWidget()
        self.table.setAccessibleName(tr("What was weighed"))
        self.table.setRootIsDecorated(False)
        self.table.setUniformRowHeights(True)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._name_columns("mm")
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(20, 16, 20, 16)
        column.setSpacing(8)
        for part in (self.title, self.words):
            column.addWidget(part)
        column.addWidget(self._plots, 1)
        column.addWidget(self.legend)
        column.addWidget(self.table)
        column.addWidget(self.sources)
        column.addWidget(self.caution)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inside)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(scroll)

    def set_theme(self, theme: Theme) -> None:
        """Take these colours."""
        for curve in self.curves:
            curve.set_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the plots beneath each other where there is no room beside."""
        super().resizeEvent(event)
        wide = self.width() >= _SIDE_BY_SIDE
        self._plot_row.setDirection(
            QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        )
        self._share_room()

    def _share_room(self) -> None:
        """Leave the sources some room beside the figures, or put them below."""
        table, room = self.table, self.width()
        shown = self._shown is not None and bool(self._shown.lines)
        table.setColumnHidden(_SOURCE, room < _ROOMY_PX)
        self.sources.setVisible(shown and room < _ROOMY_PX)
        figures = sum(table.sizeHintForColumn(column) for column in (1, 2, 3))
        share = _BEFORE_SOURCES if room >= _ROOMY_PX else 1.0
        room = round((room - _BESIDE_PX) * share) - figures
        table.setColumnWidth(0, max(min(table.sizeHintForColumn(0), room), _NARROWEST_PX))

    def show_now(self, now: Now) -> None:
        """Show this moment."""
        shown = shown_of(now)
        if shown == self._shown:
            return
        self._shown = shown
        for curve in self.curves:
            curve.show_lines(shown)
        self.title.setText(title(shown))
        self.words.setText("\n".join(sentences(shown, now.bed_plan)))
        for part in (self._plots, self.table, self.caution, self.legend):
            part.setVisible(bool(shown.lines))
        self._name_columns(shown.unit)
        self._say_sources(shown)
        self._fill_table(shown)
        self._say_legend(shown)

    def _fill_table(self, shown: Shown) -> None:
        rows = table_rows(shown)
        self.table.clear()
        for cells in rows:
            item = QTreeWidgetItem(list(cells))
            for column in (1, 2, 3):
                item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight)
            item.setToolTip(0, cells[0])
            item.setToolTip(_SOURCE, cells[_SOURCE])
            self.table.addTopLevelItem(item)
        self._share_room()
        height = self.table.sizeHintForRow(0) + 1 if rows else 0
        frame = 2 * self.table.frameWidth() + self.table.header().sizeHint().height()
        self.table.setFixedHeight(height * min(len(rows), _MOST_ROWS) + frame + 4)

    def _name_columns(self, unit: str) -> None:
        area = tr("on a ft²") if unit == "in" else tr("on a m²")
        self.table.setHeaderLabels(
            [tr("weighed"), tr("density"), tr("a plant"), area, tr("source")]
        )
        head = self.table.header()
        head.setStretchLastSection(True)
        for column in (1, 2, 3):
            head.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)

    def _say_sources(self, shown: Shown) -> None:
        told = [
            tr("{name}: {source}.", name=line.name, source=line.source)
            for line in shown.lines
            if not line.is_own
        ]
        self.sources.setText("\n".join(told))

    def _say_legend(self, shown: Shown) -> None:
        signs = [SIGNS[symbol] for symbol in symbols_of(shown.lines)]
        told = [f"{sign} {line.name}" for sign, line in zip(signs, shown.lines, strict=True)]
        self.legend.setText("     ".join(told))
