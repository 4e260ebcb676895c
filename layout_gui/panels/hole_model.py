"""The table of holes as Qt asks for it: cells are worked out when they are looked at."""

from collections.abc import Iterable, Sequence
from typing import Any, Final

import numpy as np
from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from geometry.plan import BedPlan
from geometry.tongue import mark, tr
from geometry.units import Length, Unit, exact_text, format_length
from layout_gui.document.selection import HoleName
from layout_gui.panels.hole_rows import COLUMNS, Column, Floats, HoleRows, Indices
from layout_gui.project.edits import fine_length
from layout_gui.project.hole_text import state_words

Index = QModelIndex | QPersistentModelIndex

TITLES: Final[dict[Column, str]] = {
    "raft": mark("raft"),
    "hole": mark("hole"),
    "x": mark("x"),
    "y": mark("y"),
    "hole size": mark("hole size"),
    "crop": mark("crop"),
    "state": mark("state"),
    "nearest": mark("nearest"),
}
TIPS: Final[dict[Column, str]] = {
    "x": mark("From the raft's datum corner, along the raft"),
    "y": mark("From the raft's datum corner, across the raft"),
    "hole size": mark("What is drilled"),
    "state": mark("Pinned by hand or placed by the pattern"),
    "nearest": mark("To the nearest hole, centre to centre, across joints as the rafts lie"),
}
_IN_UNITS: Final = frozenset({"x", "y", "hole size", "nearest"})
_EDITED: Final = frozenset({"x", "y"})
_RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_AT_ONCE: Final = 20_000
"""The nearest neighbours of so many holes are worked out while one waits."""


class HoleModel(QAbstractTableModel):
    """Rows of holes in the order asked for. ``typed`` carries a text and where it was typed."""

    typed = Signal(object, str, str)
    """The hole's name, "x" or "y", and the text."""

    gaps_wanted = Signal()
    """The distances to the nearest holes are to be worked out beside the window."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: HoleRows | None = None
        self._order: Indices = np.empty(0, np.int64)
        self._place_of: Indices = np.empty(0, np.int64)
        self._unit: Unit = "mm"
        self._column: Column = "raft"
        self._descending = False
        self._raft = ""
        self._is_stale = False

    @property
    def rows(self) -> HoleRows | None:
        """The holes; None without a bed."""
        return self._rows

    @property
    def raft(self) -> str:
        """The raft whose holes alone are shown; empty for all."""
        return self._raft

    @property
    def order(self) -> tuple[Column, bool]:
        """The column that the rows are sorted by, and whether downwards."""
        return self._column, self._descending

    def show_plan(self, plan: BedPlan | None, unit: Unit, *, resort: bool) -> None:
        """Show the holes of a plan.

        Without ``resort`` they keep their places if they are the same: while a hole is dragged,
        its row stays where it is.
        """
        before = self._rows
        same_unit, self._unit = unit == self._unit, unit
        if not same_unit:
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(COLUMNS) - 1)
        if before is not None and plan is before.plan and not (resort and self._is_stale):
            if not same_unit:
                self._tell_changed()
            return
        rows = HoleRows(plan) if plan is not None else None
        self._is_stale = not resort
        is_same = before is not None and rows is not None and _are_alike(before, rows)
        if is_same and rows is not None:
            self._rows = rows
            order = self._sorted(rows) if resort else self._order
            if np.array_equal(order, self._order):
                self._tell_changed()
                return
        self.beginResetModel()
        self._rows = rows
        self._arrange()
        self.endResetModel()

    def show_raft(self, raft: str) -> None:
        """Show the holes of one raft alone, or of all."""
        if raft != self._raft:
            self.beginResetModel()
            self._raft = raft
            self._arrange()
            self.endResetModel()

    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        """Sort by a column."""
        if not 0 <= column < len(COLUMNS):
            return
        self.beginResetModel()
        self._column = COLUMNS[column]
        self._descending = order == Qt.SortOrder.DescendingOrder
        self._arrange()
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:
        """How many holes are shown."""
        return 0 if parent is not None and parent.isValid() else len(self._order)

    def columnCount(self, parent: Index | None = None) -> int:
        """How many columns there are."""
        return 0 if parent is not None and parent.isValid() else len(COLUMNS)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """All can be selected, places can be typed."""
        flags = super().flags(index)
        if index.isValid() and COLUMNS[index.column()] in _EDITED:
            return flags | Qt.ItemFlag.ItemIsEditable
        return flags

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Name the columns, with the unit of those that are lengths."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(COLUMNS):
            return None
        column = COLUMNS[section]
        if role == Qt.ItemDataRole.DisplayRole:
            title = tr(TITLES[column])
            return f"{title} ({self._unit})" if column in _IN_UNITS else title
        if role == Qt.ItemDataRole.ToolTipRole and column in TIPS:
            return tr(TIPS[column])
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if column in _IN_UNITS else _LEFT
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows, takes or says."""
        rows = self._rows
        if rows is None or not index.isValid() or index.row() >= len(self._order):
            return None
        column = COLUMNS[index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if column in _IN_UNITS else _LEFT
        hole = int(self._order[index.row()])
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(rows, hole, column)
        if role == Qt.ItemDataRole.EditRole:
            return self._edit_text(rows, hole, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            raft, name = rows.name(hole)
            return tr(
                "{column} {value}, hole {hole} of raft {raft}",
                column=self.headerData(index.column(), Qt.Orientation.Horizontal),
                value=self._text(rows, hole, column),
                hole=name,
                raft=raft,
            )
        return None

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Hand on what was typed; the plan that follows from it shows the new place."""
        rows = self._rows
        if rows is None or role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        hole, column = int(self._order[index.row()]), COLUMNS[index.column()]
        text = str(value)
        if column not in _EDITED or text == self._edit_text(rows, hole, column):
            return False
        self.typed.emit(rows.name(hole), column, text)
        return True

    def names(self, spans: Iterable[tuple[int, int]]) -> list[HoleName]:
        """Return the names of the holes in these rows, first and last of each span."""
        if self._rows is None:
            return []
        chosen = [self._order[first : last + 1] for first, last in spans]
        return self._rows.names(np.concatenate([np.empty(0, np.int64), *chosen]))

    def name_at(self, row: int) -> HoleName | None:
        """Return the names of the hole in a row."""
        if self._rows is None or not 0 <= row < len(self._order):
            return None
        return self._rows.name(int(self._order[row]))

    def spans(self, names: Iterable[HoleName]) -> Sequence[tuple[int, int]]:
        """Return the rows of named holes as spans, first and last of each; hidden ones left out."""
        if self._rows is None:
            return []
        rows = self._place_of[self._rows.numbers(names)]
        rows = np.sort(rows[rows >= 0])
        if not len(rows):
            return []
        breaks = np.flatnonzero(np.diff(rows) > 1)
        first = rows[np.concatenate([[0], breaks + 1])]
        last = rows[np.concatenate([breaks, [len(rows) - 1]])]
        return list(zip(first.tolist(), last.tolist(), strict=True))

    def take_gaps(self, rows: HoleRows, gaps: Floats) -> None:
        """Take over distances that were worked out beside the window."""
        rows.take_gaps(gaps)
        if rows is self._rows:
            if self._column == "nearest":
                self.sort(COLUMNS.index("nearest"), _order_of(descending=self._descending))
            else:
                self._tell_changed()

    def _text(self, rows: HoleRows, hole: int, column: Column) -> str:
        match column:
            case "raft":
                return rows.name(hole)[0]
            case "hole":
                return rows.name(hole)[1]
            case "x":
                return self._length(float(rows.xy[hole, 0]))
            case "y":
                return self._length(float(rows.xy[hole, 1]))
            case "hole size":
                return self._length(float(rows.diameters[hole]))
            case "crop":
                return rows.plan.plantings[int(rows.plantings[hole])].crop
            case "state":
                raft = int(rows.raft[hole])
                return state_words(rows.rafts[raft], hole - int(rows.starts[raft]))
            case "nearest":
                gaps = self._gaps_of(rows)
                if gaps is None:
                    return "\N{HORIZONTAL ELLIPSIS}"
                gap = float(gaps[hole])
                return self._length(gap) if np.isfinite(gap) else ""

    def _edit_text(self, rows: HoleRows, hole: int, column: Column) -> str:
        if column not in _EDITED:
            return self._text(rows, hole, column)
        value = float(rows.xy[hole, 0 if column == "x" else 1])
        return exact_text(Length(fine_length(value).exact), self._unit)

    def _length(self, mm: float) -> str:
        text = format_length(mm, self._unit, decimals=2)
        return text.removesuffix(f" {self._unit}")

    def _gaps_of(self, rows: HoleRows) -> Floats | None:
        if rows.gaps is None:
            if len(rows) > _AT_ONCE:
                self.gaps_wanted.emit()
                return None
            rows.measure()
        return rows.gaps

    def _sorted(self, rows: HoleRows) -> Indices:
        column = self._column
        if column == "nearest" and self._gaps_of(rows) is None:
            column = "raft"  # until the distances are there
        return rows.sorted(column, descending=self._descending, raft=self._raft)

    def _arrange(self) -> None:
        rows = self._rows
        if rows is None:
            self._order = self._place_of = np.empty(0, np.int64)
            return
        if self._raft and all(raft.name != self._raft for raft in rows.rafts):
            self._raft = ""
        self._order = self._sorted(rows)
        self._place_of = np.full(len(rows), -1, np.int64)
        self._place_of[self._order] = np.arange(len(self._order))

    def _tell_changed(self) -> None:
        if len(self._order):
            last = self.index(len(self._order) - 1, len(COLUMNS) - 1)
            self.dataChanged.emit(self.index(0, 0), last)


def _are_alike(one: HoleRows, other: HoleRows) -> bool:
    """Whether two plans have holes of the same names."""
    if one.plan.bed.name != other.plan.bed.name or len(one.rafts) != len(other.rafts):
        return False
    return all(
        a.name == b.name and (a.design is b.design or a.design.holes.names == b.design.holes.names)
        for a, b in zip(one.rafts, other.rafts, strict=True)
    )


def _order_of(*, descending: bool) -> Qt.SortOrder:
    return Qt.SortOrder.DescendingOrder if descending else Qt.SortOrder.AscendingOrder
