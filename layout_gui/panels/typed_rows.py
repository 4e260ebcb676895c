"""A table whose cells are typed into."""

from collections.abc import Sequence
from typing import ClassVar

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QTableView


class TypedRows(QTableView):
    """Enter opens a cell, some keys are kept for the rows, and sizes follow the text."""

    kept_keys: ClassVar[Sequence[QKeySequence.StandardKey]] = (QKeySequence.StandardKey.SelectAll,)
    """Keys that mean the rows, though they stand in a menu too."""

    def fit_to_text(self) -> None:
        """Make rows as high and columns as wide as the text needs."""
        raise NotImplementedError

    def event(self, event: QEvent) -> bool:
        """Keep the keys for rows that stand in menus too."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and any(event.matches(key) for key in self.kept_keys)
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens a cell for typing."""
        is_enter = event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}
        is_editing = self.state() == QAbstractItemView.State.EditingState
        if is_enter and not is_editing and self.currentIndex().isValid():
            self.edit(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the size of the text."""
        super().changeEvent(event)
        if event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self.fit_to_text()
