"""Small parts that every panel is put together from."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QObject, QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QLabel,
    QListWidget,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import tr
from layout_gui.panels.flow import flowing
from layout_gui.panels.now import Now
from layout_gui.panels.tips import plain_tip

_OPEN: Final = "\N{BLACK DOWN-POINTING SMALL TRIANGLE}"
_CLOSED: Final = "\N{BLACK RIGHT-POINTING SMALL TRIANGLE}"
_ABOVE = 34
"""So much of what stands above a part is left in sight when it is brought up."""


def label(text: str, role: str = "", parent: QWidget | None = None) -> QLabel:
    """Make a line of text; the role ("title", "quiet", "heading" …) decides its looks."""
    made = QLabel(text, parent)
    made.setProperty("role", role)
    made.setWordWrap(True)
    made.setTextFormat(Qt.TextFormat.PlainText)
    return made


class Elided(QLabel):
    """One line that is shortened where there is no room; its tool tip has all of it."""

    def __init__(self, role: str = "quiet", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def show_text(self, text: str) -> None:
        """Show another text."""
        self.setText(text)
        self.setToolTip(plain_tip(text))

    def minimumSizeHint(self) -> QSize:
        """As high as the text; less wide if need be."""
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint as much of the text as there is room for."""
        room = self.contentsRect()
        text = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room.width())
        painter = QPainter(self)
        self.style().drawItemText(
            painter, room, int(self.alignment()), self.palette(), self.isEnabled(), text,
            self.foregroundRole(),
        )  # fmt: skip


def button(text: str, slot: Callable[[], object], role: str = "") -> QPushButton:
    """Make a button that says what it does."""
    made = Press(text)
    made.setProperty("role", role)
    made.clicked.connect(lambda _on: slot())
    return made


class Press(QPushButton):
    """A button that Enter presses too, as the space bar does."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        else:
            super().keyPressEvent(event)


class Fold(QWidget):
    """A line to press and, beneath it while it is open, parts that are not always wanted.

    ``note`` stands beneath the words: what counts while nobody looks.
    """

    def __init__(self, words: str, *parts: QWidget) -> None:
        super().__init__()
        self._words = words
        self.press = button("", self.toggle, "link")
        self.note = label("", "quiet")
        self.note.hide()
        self.inside = stack(*parts)
        self.inside.hide()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(4)
        box.addWidget(side_by_side(self.press))
        box.addWidget(self.note)
        box.addWidget(self.inside)
        self._show()

    @property
    def is_open(self) -> bool:
        """Whether the parts are in sight."""
        return not self.inside.isHidden()

    def set_note(self, note: str) -> None:
        """Put another note beneath the words."""
        self.note.setText(note)
        self.note.setVisible(bool(note))
        self._show()

    def toggle(self) -> None:
        """Open or close it."""
        self.inside.setVisible(not self.is_open)
        self._show()

    def _show(self) -> None:
        sign = _OPEN if self.is_open else _CLOSED
        said = " \N{MIDDLE DOT} ".join(filter(None, (self._words, self.note.text())))
        self.press.setText(f"{sign} {self._words}")
        state = tr("open") if self.is_open else tr("closed")
        self.press.setAccessibleName(f"{said}, {state}")


def unfold(part: QWidget) -> None:
    """Open every fold that a part lies in."""
    above: QObject | None = part.parent()
    while above is not None:
        if isinstance(above, Fold) and not above.is_open:
            above.toggle()
        above = above.parent()


def rule() -> QFrame:
    """Make a hairline."""
    made = QFrame()
    made.setProperty("role", "rule")
    made.setFixedHeight(1)
    return made


def stack(*parts: QWidget) -> QWidget:
    """Put parts beneath each other."""
    made = QWidget()
    box = QVBoxLayout(made)
    box.setContentsMargins(0, 0, 0, 0)
    box.setSpacing(6)
    for part in parts:
        box.addWidget(part)
    return made


def side_by_side(*parts: QWidget) -> QWidget:
    """Put parts beside each other, to the left, in more lines where there is no room."""
    return flowing(*parts)


def stacked(*parts: QWidget) -> QStackedWidget:
    """Put parts into one place, one of them in sight."""
    made = QStackedWidget()
    for part in parts:
        made.addWidget(part)
    return made


def focus_into(pane: QWidget) -> bool:
    """Give the keyboard to the first thing in a pane that takes it; tell whether there was one."""
    wanted = [pane, *pane.findChildren(QWidget)]
    for part in wanted:
        takes = part.focusPolicy() & Qt.FocusPolicy.TabFocus
        if takes and part.isVisible() and part.isEnabled() and not isinstance(part, Column):
            part.setFocus(Qt.FocusReason.TabFocusReason)
            return True
    return False


class Column(QScrollArea):
    """A column of parts that scrolls when there is no room for all of them."""

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        # It scrolls to whatever in it gets the keyboard, and needs none itself.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(title)
        inside = QWidget()
        self._column = QVBoxLayout(inside)
        self._column.setContentsMargins(20, 18, 20, 18)
        self._column.setSpacing(6)
        self._title = label(title, "title")
        self._subtitle = label("", "quiet")
        self._column.addWidget(self._title)
        self._column.addWidget(self._subtitle)
        self._column.addSpacing(8)
        self._column.addStretch(1)
        self.setWidget(inside)

    def show_now(self, now: Now) -> None:
        """Show this moment; every kind of column knows how."""
        raise NotImplementedError

    @property
    def subtitle(self) -> str:
        """The line beneath the title."""
        return self._subtitle.text()

    def set_title(self, title: str, subtitle: str) -> None:
        """Say what the column is about."""
        self._title.setText(title)
        self._subtitle.setText(subtitle)
        self._subtitle.setVisible(bool(subtitle))

    def bring(self, part: QWidget, down_to: QWidget | None = None) -> None:
        """Scroll so that a part is seen from its top, once it has its place; not if it is seen.

        What stands from there ``down_to`` another part is to be seen too, as far as there is room.
        """
        QTimer.singleShot(0, self, lambda: self._bring(part, down_to or part))

    def _bring(self, part: QWidget, last: QWidget) -> None:
        inside = self.widget()
        if inside is None or not part.isVisibleTo(self):
            return
        top, end = (each.mapTo(inside, QPoint(0, 0)).y() for each in (part, last))
        bar, room = self.verticalScrollBar(), self.viewport().height()
        bottom = min(end + last.height(), top - _ABOVE + room)
        if not bar.value() <= top <= bottom <= bar.value() + room:
            bar.setValue(top - _ABOVE)

    def add(self, part: QWidget) -> None:
        """Add a part beneath the others."""
        self._column.insertWidget(self._column.count() - 1, part)

    def add_heading(self, text: str) -> QLabel:
        """Add a heading with air above it."""
        self._column.insertSpacing(self._column.count() - 1, 10)
        heading = label(text, "heading")
        self.add(heading)
        return heading


class ItemList(QWidget):
    """A short list of things with a name, and buttons that add, double or remove one.

    ``title`` and the words of the ``buttons`` are marked; the buttons are known by their words.
    """

    picked = Signal(int)

    def __init__(
        self,
        title: str,
        buttons: Sequence[tuple[str, Callable[[], object]]],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        self.list = QListWidget()
        self.list.setAccessibleName(tr(title))
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.list.currentRowChanged.connect(self.picked)
        box.addWidget(self.list)
        self.buttons: dict[str, QPushButton] = {}
        for text, slot in buttons:
            self.buttons[text] = button(tr(text), slot, "link")
            self.buttons[text].setAccessibleName(f"{tr(text)} {tr(title).lower()}")
        box.addWidget(flowing(*self.buttons.values()))

    @property
    def row(self) -> int:
        """The row that is picked; -1 for none."""
        return self.list.currentRow()

    def show_items(self, texts: Sequence[str], row: int) -> None:
        """Show these things with one of them picked; a list without things hides."""
        self.list.blockSignals(True)
        if [self.list.item(at).text() for at in range(self.list.count())] != list(texts):
            self.list.clear()
            self.list.addItems(list(texts))
        self.list.setCurrentRow(min(row, len(texts) - 1))
        self.list.blockSignals(False)
        self.list.setVisible(bool(texts))
        height = sum(self.list.sizeHintForRow(at) for at in range(min(len(texts), 5)))
        self.list.setFixedHeight(height + 2 * self.list.frameWidth() + 2)
