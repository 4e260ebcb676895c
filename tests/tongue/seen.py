"""What can be seen of a window: every text with the widget that shows it, and what is cut off."""

from collections.abc import Iterator
from typing import NamedTuple

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QMenu,
    QMenuBar,
    QProgressBar,
    QPushButton,
    QToolButton,
    QTreeWidget,
    QTreeWidgetItem,
    QWidget,
)

from layout_gui.panels.fields import SwitchField
from layout_gui.panels.last_line import LastLine
from layout_gui.panels.parts import Elided, Press


class Seen(NamedTuple):
    """A text and where it stands."""

    text: str
    where: str


def texts(root: QWidget) -> Iterator[Seen]:
    """Read every text of a window and its menus: on screen, in tool tips, for a screen reader."""
    for widget in (root, *root.findChildren(QWidget)):
        where = f"{type(widget).__name__} {widget.objectName()}"
        for text in _said(widget):
            yield Seen(text, where)
        if widget is root or widget.isVisibleTo(root):
            for text in _shown(widget):
                yield Seen(text, where)
    # The plotting library makes actions for menus that are never shown.
    for action in filter(QAction.associatedObjects, root.findChildren(QAction)):
        for text in (action.text(), action.toolTip()):
            yield Seen(text, f"QAction {action.objectName()}")


def _said(widget: QWidget) -> Iterator[str]:
    yield widget.toolTip()
    yield widget.accessibleName()
    yield widget.accessibleDescription()


def _shown(widget: QWidget) -> Iterator[str]:
    match widget:
        case QMenu():
            yield widget.title()
        case QLabel() | QAbstractButton():
            yield widget.text()
        case QLineEdit():
            yield widget.placeholderText()
        case QComboBox():
            yield widget.placeholderText()
            yield from (widget.itemText(at) for at in range(widget.count()))
        case QListWidget():
            yield from (widget.item(at).text() for at in range(widget.count()))
        case QTreeWidget():
            yield from _item_texts(widget.headerItem())
            for at in range(widget.topLevelItemCount()):
                yield from _item_texts(widget.topLevelItem(at))
        case QAbstractSpinBox():
            yield widget.specialValueText()
        case QProgressBar():
            yield widget.format()
        case _:
            pass
    if widget.isWindow():
        yield widget.windowTitle()


def _item_texts(item: QTreeWidgetItem) -> Iterator[str]:
    for column in range(item.columnCount()):
        yield item.text(column)
        yield item.toolTip(column)


def cut_off(root: QWidget) -> Iterator[str]:
    """Name what has less room than its words need."""
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or not widget.visibleRegion().boundingRect().isValid():
            continue
        if isinstance(widget, QMenuBar):
            ends = [widget.actionGeometry(action).right() for action in widget.actions()]
            if min(ends) <= 0 or max(ends) > widget.width():
                yield f"{len(ends)} menus have {widget.width()}"
        room, wants = widget.size(), _wanted(widget)
        if wants.width() > room.width() or wants.height() > room.height():
            sizes = f"{room.width()} x {room.height()} for {wants.width()} x {wants.height()}"
            yield f"{type(widget).__name__}: {_words(widget)!r} has {sizes}"


def _words(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""


def _wanted(widget: QWidget) -> QSize:
    match widget:
        case QLabel() if not widget.text() or _gives_way(widget):
            return QSize(0, 0)
        case QLabel() if widget.wordWrap():
            box = widget.fontMetrics().boundingRect(
                0, 0, widget.contentsRect().width(), 10_000,
                Qt.TextFlag.TextWordWrap, widget.text(),
            )  # fmt: skip
            return QSize(box.width(), box.height())
        case Press() | SwitchField():
            least = widget.minimumSizeHint().width()
            return QSize(least, widget.heightForWidth(widget.width()))
        case QLabel() | QPushButton() | QToolButton() | QCheckBox():
            metrics = widget.fontMetrics()
            lines = _words(widget).replace("&", "").split("\n")
            wide = max((metrics.horizontalAdvance(line) for line in lines), default=0)
            return QSize(wide, min(metrics.height(), metrics.ascent() + metrics.descent()))
        case _:
            return QSize(0, 0)


def _gives_way(widget: QLabel) -> bool:
    """Whether a text is made to be shortened, with the whole of it in its tool tip."""
    short = isinstance(widget, Elided) or isinstance(widget.parentWidget(), LastLine)
    return short and bool(widget.toolTip())
