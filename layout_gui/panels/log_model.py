"""One of the three lists of the log as Qt asks for it."""

from datetime import date
from functools import partial
from typing import Any, Final

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
    Signal,
)

from geometry.model.project import Project
from geometry.tongue import tr
from layout_gui.panels.dates import date_text, read_day
from layout_gui.project.edits_log import Entry, Kind
from layout_gui.project.log_cells import COLUMNS, Column, Ways

Index = QModelIndex | QPersistentModelIndex

_RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_KEY: Final = Qt.ItemDataRole.UserRole


def ways_here(project: Project) -> Ways:
    """Return how values are written and read in this window."""
    return Ways(project, date_text, read_day)


class LogModel(QAbstractTableModel):
    """The entries of one kind, in the order in which they were written down.

    ``typed`` carries the number of an entry, the key of a column and the text.
    """

    typed = Signal(int, str, str)

    def __init__(self, kind: Kind, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.kind: Kind = kind
        self.columns: tuple[Column, ...] = COLUMNS[kind]
        self._ways = ways_here(Project(""))
        self._entries: tuple[Entry, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """What is shown."""
        return self._entries

    def show_project(self, project: Project) -> None:
        """Show the entries of a project; where there are as many, the rows stay as they are."""
        entries: tuple[Entry, ...] = getattr(project.log, self.kind)
        if entries is self._entries and project.units == self._ways.unit:
            self._ways = ways_here(project)
            return
        same = len(entries) == len(self._entries)
        if not same:
            self.beginResetModel()
        self._entries, self._ways = entries, ways_here(project)
        if not same:
            self.endResetModel()
        elif entries:
            last = self.index(len(entries) - 1, len(self.columns) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)

    def rowCount(self, parent: Index | None = None) -> int:
        """How many entries there are."""
        return 0 if parent is not None and parent.isValid() else len(self._entries)

    def columnCount(self, parent: Index | None = None) -> int:
        """How many columns there are."""
        return 0 if parent is not None and parent.isValid() else len(self.columns)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """All can be selected, and most typed into."""
        flags = super().flags(index)
        if index.isValid() and self.columns[index.column()].read is not None:
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Name the columns, with the unit of those that are lengths."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role == Qt.ItemDataRole.DisplayRole:
            title = tr(column.title)
            return f"{title} ({self._ways.unit})" if column.is_length else title
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if column.is_number else _LEFT
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows, takes, says or is sorted by."""
        if not index.isValid() or index.row() >= len(self._entries):
            return None
        column, entry = self.columns[index.column()], self._entries[index.row()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if column.is_number else _LEFT
        if role in {Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole}:
            return column.write(entry, self._ways)
        if role == Qt.ItemDataRole.ToolTipRole and column.key in {"text", "where"}:
            return column.write(entry, self._ways)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{tr(column.title)} {column.write(entry, self._ways) or tr('empty')}"
        if role == _KEY:
            return self._sort_key(column, entry)
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Hand on what was typed; the project that follows from it shows it."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        column = self.columns[index.column()]
        text = str(value)
        if text == column.write(self._entries[index.row()], self._ways):
            return False
        self.typed.emit(index.row(), column.key, text)
        return True

    def _sort_key(self, column: Column, entry: Entry) -> object:
        if column.sort_key is None:
            return column.write(entry, self._ways).casefold()
        value = column.sort_key(entry)
        if isinstance(value, date):
            return value.toordinal()
        return -1.0 if value is None else float(value)  # type: ignore[arg-type]  # all are numbers


class SortedLog(QSortFilterProxyModel):
    """The same entries in the order of a column, and only those that hold what is looked for."""

    def __init__(self, model: LogModel, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.setSourceModel(model)
        self.setSortRole(_KEY)
        self.setDynamicSortFilter(False)
        self.setFilterKeyColumn(-1)
        self.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.number_of = partial(_number_of, self)


def _number_of(model: QSortFilterProxyModel, row: int) -> int:
    """The number of the entry in a row."""
    return model.mapToSource(model.index(row, 0)).row()
