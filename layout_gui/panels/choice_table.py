"""The choices as rows: the bed as it stands on top, the others in any order."""

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, QSize, Qt, Signal
from PySide6.QtGui import QIcon, QImage, QKeyEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from geometry.compare.choices import ChoiceResult
from geometry.model.planting import Planting
from geometry.tongue import mark, tr
from geometry.units import Unit
from layout_gui.panels.choices import (
    MATTERS,
    TIPS,
    Matter,
    headers,
    known_matters,
    row_sentence,
    sort_key,
    texts,
)
from layout_gui.panels.tips import plain_tip

PICTURE: Final = QSize(80, 32)
AS_IT_STANDS: Final = mark("as it stands")
_COUNTS: Final = range(1, len(TIPS))
_NAME: Final = 0
_ALWAYS: Final = range(1, 3)
_DROPPED: Final = (4, 3, 8, 10, 7, 9, 6, 5)
"""Columns that go, in this order, where names would have too little room."""
_NAME_PX: Final = 112
"""Room for a name beside its picture."""


class ChoiceTable(QTreeWidget):
    """A row for each choice. The first one is the present state, wherever the others go.

    Enter uses the row, F2 renames a kept one, Delete removes it, Alt with Up or Down moves it.
    """

    row_changed = Signal(int)
    """The number of the result in the row that is looked at; -1 for none."""

    used = Signal()
    renamed = Signal(str, str)
    """The old name of a kept choice and the new one."""

    moved = Signal(int)
    dropped = Signal()
    ordered = Signal()
    """The rows stand in another order."""

    matters_changed = Signal()
    """There is room for all columns, or no longer; or something is known about other matters."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._results: tuple[ChoiceResult, ...] = ()
        self._rows: list[tuple[str, ...]] = []
        self._items: list[QTreeWidgetItem] = []
        self._unit: Unit = "mm"
        self._sorted_by: tuple[int, bool] | None = None
        self._pictures: dict[Planting, QIcon] = {}
        self._matter: Matter = "foam"
        self.open_matters: tuple[Matter, ...] = ()
        """The matters of which one at a time is in sight; none where all have room."""
        self.setAccessibleName(tr("Choices"))
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setWordWrap(True)
        self.setIconSize(PICTURE)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHeaderLabels(list(headers("mm")))
        head = self.header()
        head.setStretchLastSection(False)
        head.setMinimumSectionSize(36)
        head.setSectionsClickable(True)
        head.setSortIndicatorClearable(True)
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(_NAME, QHeaderView.ResizeMode.Stretch)
        for column, tip in enumerate(TIPS):
            self.headerItem().setToolTip(column, tr(tip))
        head.sectionClicked.connect(self._on_head)
        self.currentItemChanged.connect(lambda _now, _before: self.row_changed.emit(self.picked))
        self.itemChanged.connect(self._on_changed)

    @property
    def picked(self) -> int:
        """The number of the result in the row that is looked at; -1 for none."""
        item = self.currentItem()
        return self._items.index(item) if item in self._items else -1

    @property
    def sorted_by(self) -> tuple[int, bool] | None:
        """Column and whether the most comes first; None in the order of comparing."""
        return self._sorted_by

    def show_results(self, results: Sequence[ChoiceResult], unit: Unit) -> None:
        """Show these results; rows that stay the same are left alone."""
        rows = [texts(result, results[0], unit) for result in results]
        if rows:
            rows[0] = (tr(AS_IT_STANDS), *rows[0][1:])
        self.blockSignals(True)
        self._unit, self._results = unit, tuple(results)
        self.setHeaderLabels(list(headers(unit)))
        if self._rows != rows[: len(self._rows)] or self._kept_flags_differ():
            self.clear()
            self._items, self._rows = [], []
        for number in range(len(self._rows), len(rows)):
            self._items.append(self._item(number, rows[number]))
        self._rows = rows
        self._arrange()
        self.blockSignals(False)
        self._fit_columns()

    def sort_by(self, column: int | None, *, descending: bool = True) -> None:
        """Put the rows in the order of a column; None brings the order of comparing back."""
        self._sorted_by = None if column is None else (column, descending)
        order = Qt.SortOrder.DescendingOrder if descending else Qt.SortOrder.AscendingOrder
        self.header().setSortIndicatorShown(column is not None)
        self.header().setSortIndicator(-1 if column is None else column, order)
        self.blockSignals(True)
        self._arrange()
        self.blockSignals(False)
        self.ordered.emit()

    def show_pictures(self, pictures: Mapping[Planting, QImage]) -> None:
        """Show pictures in the rows of these plantings, now and when such rows come."""
        for planting, image in pictures.items():
            self._pictures[planting] = QIcon(QPixmap.fromImage(image))
        self._show_icons()

    def closeEditor(self, editor: QWidget, hint: QAbstractItemDelegate.EndEditHint) -> None:
        """End the typing of a name, and show the pictures that came meanwhile."""
        super().closeEditor(editor, hint)
        self._show_icons()

    def _show_icons(self) -> None:
        # A row that changes takes the name that is being typed back.
        if self.state() == QAbstractItemView.State.EditingState:
            return
        self.blockSignals(True)
        for item, result in zip(self._items, self._results, strict=False):
            icon = self._pictures.get(result.planting)
            if icon is not None and item.icon(_NAME).cacheKey() != icon.cacheKey():
                item.setIcon(_NAME, icon)
        self.blockSignals(False)
        self.viewport().update()

    def forget_pictures(self) -> None:
        """Another bed is compared: its pictures are other ones."""
        self._pictures.clear()

    def has_picture(self, number: int) -> bool:
        """Whether the row of a result shows its picture."""
        return not self._items[number].icon(_NAME).isNull()

    def item_of(self, number: int) -> QTreeWidgetItem:
        """Return the row of a result."""
        return self._items[number]

    def pick(self, number: int | None) -> None:
        """Look at the row of a result, without saying so; None looks at none."""
        self.blockSignals(True)
        if number is None:
            self.setCurrentIndex(QModelIndex())
        else:
            self.setCurrentItem(self._items[number])
        self.blockSignals(False)

    def rename(self) -> None:
        """Let the name of the kept choice in this row be typed anew."""
        item = self.currentItem()
        if item is not None and item.flags() & Qt.ItemFlag.ItemIsEditable:
            self.editItem(item, _NAME)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Use, rename, remove or move the row; else go through the rows."""
        key = Qt.Key(event.key())
        is_moving = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        if self.state() == QAbstractItemView.State.EditingState:
            super().keyPressEvent(event)  # the keys of a name that is typed arrive here too
        elif key in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.used.emit()
        elif key == Qt.Key.Key_F2:
            self.rename()
        elif key == Qt.Key.Key_Delete:
            self.dropped.emit()
        elif is_moving and key in {Qt.Key.Key_Up, Qt.Key.Key_Down}:
            self.moved.emit(1 if key == Qt.Key.Key_Down else -1)
        elif key == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the columns of second rank when there is no room for them."""
        super().resizeEvent(event)
        self._fit_columns()

    @property
    def matter(self) -> Matter:
        """What the columns in sight are about, where there is no room for all."""
        return self._matter

    def show_matter(self, matter: Matter) -> None:
        """Bring the columns of a matter into sight."""
        self._matter = matter
        self._fit_columns()

    def _fit_columns(self) -> None:
        head = self.header()
        widths = [
            max(self.sizeHintForColumn(column), head.sectionSizeHint(column))
            for column in range(self.columnCount())
        ]
        room = self.viewport().width() - self.iconSize().width() - _NAME_PX
        known = known_matters(self._results)
        shown = [*_ALWAYS, *(column for matter in known for column in MATTERS[matter])]
        open_matters: tuple[Matter, ...] = ()
        if len(known) > 1 and sum(widths[column] for column in shown) > room:
            open_matters = known
            matter = self._matter if self._matter in known else known[0]
            shown = [*_ALWAYS, *MATTERS[matter]]
        needed = sum(widths[column] for column in shown)
        for column in _DROPPED:
            is_hidden = column not in shown or needed > room
            self.setColumnHidden(column, is_hidden)
            needed -= widths[column] if is_hidden and column in shown else 0
        if open_matters != self.open_matters:
            self.open_matters = open_matters
            self.matters_changed.emit()

    def _item(self, number: int, row: Sequence[str]) -> QTreeWidgetItem:
        result = self._results[number]
        item = QTreeWidgetItem(list(row))
        for column in _COUNTS:
            side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            item.setTextAlignment(column, side)
        is_now = number == 0
        for column in range(len(row) if is_now else 2):
            font = item.font(column)
            font.setBold(is_now or column == 1)
            item.setFont(column, font)
        if result.choice.name:
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsEditable)
        words = row_sentence(result, self._results[0], self._unit)
        if is_now:
            words = tr("{name}: {sentence}", name=tr(AS_IT_STANDS), sentence=words)
        item.setData(_NAME, Qt.ItemDataRole.AccessibleTextRole, words)
        item.setToolTip(_NAME, plain_tip(words))
        item.setSizeHint(
            _NAME, QSize(0, max(self.iconSize().height(), 2 * self.fontMetrics().height() + 8) + 4)
        )
        icon = self._pictures.get(result.planting)
        if icon is not None:
            item.setIcon(_NAME, icon)
        return item

    def _kept_flags_differ(self) -> bool:
        """Whether a row stands for a kept choice now and did not before, or the other way."""
        return any(
            bool(item.flags() & Qt.ItemFlag.ItemIsEditable) != bool(result.choice.name)
            for item, result in zip(self._items, self._results, strict=False)
        )

    def _arrange(self) -> None:
        """Bring the rows into their order; the one that is looked at stays looked at."""
        order = list(range(len(self._items)))
        if self._sorted_by is not None and order:
            column, descending = self._sorted_by
            order[1:] = sorted(
                order[1:],
                key=lambda number: sort_key(self._results[number], column),
                reverse=descending,
            )
        current = self.currentItem()
        for at, number in enumerate(order):
            item = self._items[number]
            here = self.indexOfTopLevelItem(item)
            if here == at:
                continue
            if here >= 0:
                self.takeTopLevelItem(here)
            self.insertTopLevelItem(at, item)
        if current is not None and current is not self.currentItem():
            self.setCurrentItem(current)

    def _on_head(self, column: int) -> None:
        """Most first, least first, and back to the order of comparing."""
        if self._sorted_by is None or self._sorted_by[0] != column:
            self.sort_by(column)
        elif self._sorted_by[1]:
            self.sort_by(column, descending=False)
        else:
            self.sort_by(None)

    def _on_changed(self, item: QTreeWidgetItem, column: int) -> None:
        if column != _NAME or item not in self._items:
            return
        number = self._items.index(item)
        old, new = self._results[number].choice.name, item.text(_NAME).strip()
        self.blockSignals(True)
        item.setText(_NAME, old)  # the project says what it is called
        self.blockSignals(False)
        if old and new and new != old:
            self.renamed.emit(old, new)
