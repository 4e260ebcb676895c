"""The rows of one list of the log: typed into, copied and pasted by the keyboard alone."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from PySide6.QtCore import (
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from geometry.tongue import tr
from layout_gui.panels.log_model import LogModel, SortedLog
from layout_gui.panels.typed_rows import TypedRows

Options = Callable[[str], Sequence[str]]
"""What is offered in a column of this key; none where anything may be typed."""

_CHARACTERS: Final = {
    "label": 18, "where": 20, "design": 18, "code": 9, "run": 20, "text": 60, "about": 26,
    "made": 11, "washed": 11, "sown": 11, "picked_on": 11, "day": 11,
}  # fmt: skip
"""How many characters a column has room for; those that hold a figure need less."""
_UNIT: Final = 7
"""So many more a heading takes for its unit and the sign of sorting."""
_PADDING_PX: Final = 20
"""What a cell keeps free beside its text."""
_USUAL: Final = 7


class _Offering(QStyledItemDelegate):
    """Lets a cell be typed into; where there is something to choose from, it is offered."""

    def __init__(self, columns: Sequence[str], options: Options, parent: QWidget) -> None:
        super().__init__(parent)
        self._columns = columns
        self._options = options

    def createEditor(
        self,
        parent: QWidget,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> QWidget:
        """Make what the cell is edited with."""
        offered = self._options(self._columns[index.column()])
        if not offered:
            return super().createEditor(parent, option, index)
        made = QComboBox(parent)
        made.setEditable(True)
        made.addItems(list(offered))
        made.setFrame(False)
        return made

    def setEditorData(self, editor: QWidget, index: QModelIndex | QPersistentModelIndex) -> None:
        """Begin with what stands in the cell."""
        if isinstance(editor, QComboBox):
            editor.setEditText(str(index.data(Qt.ItemDataRole.EditRole)))
            line = editor.lineEdit()
            if line is not None:
                line.selectAll()
        else:
            super().setEditorData(editor, index)

    def setModelData(
        self, editor: QWidget, model: Any, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Hand on what was typed or chosen."""
        if isinstance(editor, QComboBox):
            model.setData(index, editor.currentText())
        else:
            super().setModelData(editor, model, index)


class LogTable(TypedRows):
    """The rows of one list, in the order of the column that was pressed."""

    kept_keys = (
        QKeySequence.StandardKey.SelectAll,
        QKeySequence.StandardKey.Copy,
        QKeySequence.StandardKey.Paste,
        QKeySequence.StandardKey.Delete,
    )

    copy_wanted = Signal()
    paste_wanted = Signal()
    remove_wanted = Signal()
    chosen_changed = Signal()

    def __init__(self, model: LogModel, title: str, options: Options) -> None:
        super().__init__()
        self.entries = model
        self.order = SortedLog(model, self)
        self.setModel(self.order)
        self.setAccessibleName(title)
        self.setAccessibleDescription(
            tr(
                "One row an entry. Enter or F2 edits a cell; Del removes rows; Ctrl+C copies rows, "
                "Ctrl+V pastes them."
            )
        )
        self.setItemDelegate(_Offering([each.key for each in model.columns], options, self))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(
            triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed
        )
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.verticalHeader().hide()
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        header.setMinimumSectionSize(44)
        # With the rows' own selection it would ask every row for every heading it paints.
        header.setSelectionModel(QItemSelectionModel(self.order, header))
        self.setSortingEnabled(True)
        header.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        header.setSortIndicatorClearable(True)
        self.order.sort(-1)
        self.selectionModel().selectionChanged.connect(lambda _on, _off: self.chosen_changed.emit())
        self.fit_to_text()

    @property
    def numbers(self) -> list[int]:
        """The numbers of the entries in the selected rows, in their order."""
        rows = sorted(index.row() for index in self.selectionModel().selectedRows())
        return [self.order.number_of(row) for row in rows]

    def show_entry(self, number: int, key: str = "", *, edit: bool = False) -> None:
        """Bring an entry into sight and select it; with ``edit``, begin to type into a cell."""
        keys = [each.key for each in self.entries.columns]
        index = self.order.mapFromSource(self.entries.index(number, keys.index(key) if key else 0))
        self.setCurrentIndex(index)
        self.scrollTo(index)
        if edit:
            self.setFocus()
            self.edit(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens a cell for typing; rows are copied, pasted and removed."""
        if self.state() == QAbstractItemView.State.EditingState:
            super().keyPressEvent(event)
        elif event.matches(QKeySequence.StandardKey.Copy):
            self.copy_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste_wanted.emit()
        elif event.matches(QKeySequence.StandardKey.Delete):
            self.remove_wanted.emit()
        else:
            super().keyPressEvent(event)

    def fit_to_text(self) -> None:
        """Make rows as high and columns as wide as the text needs."""
        metrics = self.fontMetrics()
        vertical = self.verticalHeader()
        vertical.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        vertical.setDefaultSectionSize(metrics.height() + 9)
        for at, column in enumerate(self.entries.columns):
            digit = metrics.horizontalAdvance("0")
            room = max(_CHARACTERS.get(column.key, _USUAL), len(tr(column.title)) + _UNIT)
            self.setColumnWidth(at, room * digit + _PADDING_PX)
