"""Small parts that every panel is put together from."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QEvent, QMargins, QObject, QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QLabel,
    QListWidget,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QStyle,
    QStyleOptionButton,
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
    """A button that Enter presses too, as the space bar does; long words take several lines."""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._painted = ""
        self._high = 1
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:
        """In one line; as high as its lines take at its present width."""
        hint = super().sizeHint()
        return hint.grownBy(QMargins(0, 0, 0, (self._high - 1) * self.fontMetrics().lineSpacing()))

    def minimumSizeHint(self) -> QSize:
        """As wide as the widest word."""
        words = [self._wide(word) for word in self.text().split()]
        return QSize(self._frame() + max(words, default=0), self.sizeHint().height())

    def hasHeightForWidth(self) -> bool:
        """A narrow button is a high one."""
        return True

    def heightForWidth(self, width: int) -> int:
        """How high all lines are together."""
        lines = len(self._lines(width))
        return super().sizeHint().height() + (lines - 1) * self.fontMetrics().lineSpacing()

    def initStyleOption(self, option: QStyleOptionButton) -> None:
        """Let the style paint the lines."""
        super().initStyleOption(option)
        if self._painted:
            option.text = self._painted

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break the words anew."""
        super().resizeEvent(event)
        self._break()

    def changeEvent(self, event: QEvent) -> None:
        """Break the words anew in another type."""
        super().changeEvent(event)
        if self.isVisible() and event.type() in {QEvent.Type.FontChange, QEvent.Type.StyleChange}:
            self._break()

    def showEvent(self, event: QShowEvent) -> None:
        """Break the words as they are now."""
        super().showEvent(event)
        self._break()

    def setText(self, text: str) -> None:
        """Show other words."""
        super().setText(text)
        if self.isVisible():
            self._break()

    def _break(self) -> None:
        high = len(self._lines(self.width()))
        if high != self._high:
            self._high = high
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint as many lines as it takes."""
        lines = self._lines(self.width())
        # Not looked up by ``initStyleOption`` itself: ``sizeHint`` asks that.
        self._painted = "\n".join(lines) if len(lines) > 1 else ""
        super().paintEvent(event)
        self._painted = ""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.click()
        else:
            super().keyPressEvent(event)

    def _lines(self, width: int) -> list[str]:
        if width >= super().sizeHint().width():
            return [self.text()]
        room = width - self._frame()
        lines: list[str] = []
        for word in self.text().split(" "):
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self._wide(longer) <= room:
                lines[-1] = longer
            else:
                lines.append(word)
        return lines

    def _frame(self) -> int:
        return super().sizeHint().width() - self._wide(self.text())

    def _wide(self, text: str) -> int:
        return self.fontMetrics().size(Qt.TextFlag.TextShowMnemonic, text).width()


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


class Room(QScrollArea):
    """The place of a part: it scrolls where text is large and the window small."""

    def __init__(self, view: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.view = view
        self.setFrameShape(QFrame.Shape.NoFrame)
        # It scrolls to whatever in it gets the keyboard, and needs none itself.
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(view)
        view.installEventFilter(self)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the part all the room there is."""
        super().resizeEvent(event)
        self._fit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Give it more where it needs more."""
        if watched is self.view and event.type() == QEvent.Type.LayoutRequest:
            self._fit()
        return super().eventFilter(watched, event)

    def _fit(self) -> None:
        room = self.maximumViewportSize()
        if self.least_height(room.width()) > room.height():
            bar = self.style().pixelMetric(QStyle.PixelMetric.PM_ScrollBarExtent, None, self)
            room.setWidth(room.width() - max(bar, self.verticalScrollBar().sizeHint().width()))
        width = max(room.width(), self.view.minimumSizeHint().width())
        self.view.resize(width, max(room.height(), self.least_height(width)))

    def least_height(self, width: int) -> int:
        """How high the part has to be at this width, without cutting off anything."""
        inside = self.view.layout()
        if inside is not None and inside.hasHeightForWidth():
            return inside.totalMinimumHeightForWidth(width)
        return self.view.minimumSizeHint().height()


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
