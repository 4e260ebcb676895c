"""A row of parts that goes on in the next line where there is no room left."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QLayout,
    QLayoutItem,
    QSizePolicy,
    QStyle,
    QWidget,
)

_GAP = 6


class Flow(QLayout):
    """Lays parts out from left to right, as high as their line, line beneath line."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Add a part at the end."""
        self._items.append(item)

    def count(self) -> int:
        """How many parts there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return a part; None beyond the last one."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take a part out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Take no more room than is needed."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """A narrow row is a high one."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high all lines are together."""
        around = self.contentsMargins()
        inner = QRect(0, 0, width - around.left() - around.right(), 0)
        return self._lay(inner, is_real=False) + around.top() + around.bottom()

    def setGeometry(self, rect: QRect) -> None:
        """Lay the parts out."""
        super().setGeometry(rect)
        self._lay(rect.marginsRemoved(self.contentsMargins()), is_real=True)

    def sizeHint(self) -> QSize:
        """All in one line."""
        shown = [item.sizeHint() for item in self._items if not item.isEmpty()]
        return QSize(
            sum(size.width() + _GAP for size in shown), max((s.height() for s in shown), default=0)
        )

    def minimumSize(self) -> QSize:
        """The widest part in a line by itself."""
        shown = [item.minimumSize() for item in self._items if not item.isEmpty()]
        return QSize(
            max((size.width() for size in shown), default=0),
            max((size.height() for size in shown), default=0),
        )

    def _lay(self, rect: QRect, *, is_real: bool) -> int:
        x, y, high = rect.x(), rect.y(), 0
        line: list[tuple[QLayoutItem, QRect]] = []
        for item in self._items:
            if item.isEmpty():
                continue
            size = item.sizeHint()
            if line and x + size.width() > rect.right() + 1:
                self._place(line, high, rect, is_real=is_real)
                x, y, high, line = rect.x(), y + high + _GAP, 0, []
            width = min(size.width(), max(rect.width(), 1))
            is_narrow = width < size.width() and item.hasHeightForWidth()
            height = item.heightForWidth(width) if is_narrow else size.height()
            line.append((item, QRect(QPoint(x, y), QSize(width, height))))
            x += width + _GAP
            high = max(high, height)
        self._place(line, high, rect, is_real=is_real)
        return y + high - rect.y()

    def _place(
        self, line: list[tuple[QLayoutItem, QRect]], high: int, rect: QRect, *, is_real: bool
    ) -> None:
        """Give the parts of a line their places; where people read to the left, from the right."""
        if not is_real:
            return
        owner = self.parentWidget()
        way = owner.layoutDirection() if owner is not None else Qt.LayoutDirection.LeftToRight
        for item, box in line:
            middle = box.translated(0, (high - box.height()) // 2)
            item.setGeometry(QStyle.visualRect(way, rect, middle))


def flowing(*parts: QWidget) -> QWidget:
    """Put parts into such a row."""
    made = QWidget()
    flow = Flow(made)
    for part in parts:
        flow.addWidget(part)
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    made.setSizePolicy(policy)
    return made


def named(words: str, field: QWidget) -> QWidget:
    """Put a word before a field, as its buddy."""
    made = QWidget()
    row = QHBoxLayout(made)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(6)
    name = QLabel(words)
    name.setBuddy(field)
    row.addWidget(name)
    row.addWidget(field)
    return made
