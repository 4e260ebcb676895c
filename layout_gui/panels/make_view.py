"""The station Make: the pages as they will come out, in the place of the bed."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from time import monotonic
from typing import Final

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.template import PLAIN, Template
from geometry.drawing.template_set import TemplateSet
from geometry.errors import GeometryError
from geometry.plan import Plan
from geometry.tongue import number as figure
from geometry.tongue import tr, tr_n
from geometry.watch import Stopped, watched
from layout_gui.document.post import Post
from layout_gui.output.documents import BY_FILE, DOCUMENTS, PageDocument
from layout_gui.output.page_count import count_words, paper_notes
from layout_gui.output.paper_arguments import page_ranges, read_pages
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.fields import ChoiceField
from layout_gui.panels.page_map import PageMap
from layout_gui.panels.parts import Elided, Press, button, label, side_by_side, stack
from layout_gui.panels.sight import Sight
from layout_gui.panels.tips import plain_tip
from layout_gui.screen.pages import paint_page
from layout_gui.screen.theme import Theme

_PAGE_ROLE: Final = Qt.ItemDataRole.UserRole
_BOX: Final = 17
_COLUMN: Final = 212
_CHOICE: Final = 210
_MM_PER_INCH: Final = 25.4
_ROOM: Final = 18
_TELL_S: Final = 0.15
"""How often pages that are drawn are shown while others are still to come."""
_LEAST_NEWS: Final = 0.05


@dataclass(frozen=True, slots=True)
class Drawn:
    """The pages of one document, the sets of templates that they belong to, and their count.

    A page is None until it is drawn.
    """

    pages: tuple[Page | None, ...] = ()
    sets: tuple[TemplateSet, ...] = ()
    count: str = ""
    notes: tuple[str, ...] = ()

    @property
    def is_whole(self) -> bool:
        """Whether all pages are drawn."""
        return None not in self.pages


Tell = Callable[[float, Drawn], object]
"""Hears which share is laid out, and what is drawn so far."""


def compose(
    document: PageDocument,
    plan: Plan,
    setup: PageSetup,
    is_wanted: IsWanted,
    *,
    tell: Tell | None = None,
    first: int = 1,
) -> Drawn | None:
    """Lay out and draw the pages of a document; None as soon as nobody wants them.

    ``tell`` hears of page ``first`` as soon as it is drawn, and then of the others as they come.
    """
    hear = tell or (lambda _share, _drawn: None)

    def go_on(share: float) -> bool:
        hear(share, Drawn())
        return is_wanted()

    try:
        with watched(go_on):
            laid = document.lay(plan, setup)
    except Stopped:
        return None
    pages: list[Page | None] = [None] * laid.total
    sets = laid.sets if isinstance(laid, Template) else ()
    drawn = Drawn(tuple(pages), sets, count_words(laid, setup), paper_notes(laid))
    if 1 < first <= laid.total:
        pages[first - 1] = next(laid.pages({first}))
        hear(1.0, replace(drawn, pages=tuple(pages)))
    told = 0.0
    for at, page in enumerate(laid.pages()):
        if not is_wanted():
            return None
        pages[at] = pages[at] or page
        if monotonic() - told > _TELL_S:
            hear(1.0, replace(drawn, pages=tuple(pages)))
            told = monotonic()
    return replace(drawn, pages=tuple(pages))


@dataclass(frozen=True, slots=True)
class _News:
    """What a piece of drawing has to tell: for whom, of which document, how far it is."""

    ticket: object
    name: str
    share: float
    drawn: Drawn


class PageSheet(QWidget):
    """One page at a chosen scale, on the ground of the canvas."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._page: Page | None = None
        self.setAccessibleName(tr("Page"))

    def show_page(self, page: Page | None) -> None:
        """Show another page."""
        self._page = page
        self.setAccessibleDescription(page.name if page else "")
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Paint the ground in another colour from now on; the paper stays white."""
        self._theme = theme
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the ground, the paper's edge and the page."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._theme.canvas))
        if self._page is None:
            return
        into = fitted(self._page, QRectF(self.rect()).adjusted(_ROOM, _ROOM, -_ROOM, -_ROOM))
        painter.setPen(QPen(QColor(self._theme.line), 1))
        painter.drawRect(into.adjusted(-0.5, -0.5, 0.5, 0.5))
        paint_page(painter, self._page, into)


def fitted(page: Page, room: QRectF) -> QRectF:
    """Return the largest rectangle of the page's proportions in the middle of the room."""
    scale = min(room.width() / page.width_mm, room.height() / page.height_mm)
    size = QPointF(page.width_mm * scale, page.height_mm * scale)
    return QRectF(room.center() - size / 2, room.center() + size / 2)


class _Thumb(QStyledItemDelegate):
    """Draws a page small, with its tick and its number; only pages in sight are drawn."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.blank = Page(PLAIN.paper.width_mm, PLAIN.paper.height_mm, "", ())

    def sizeHint(
        self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return QSize(124, 132 + option.fontMetrics.height())

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:  # fmt: skip
        page: Page = index.data(_PAGE_ROLE) or self.blank
        theme, rect = self.theme, QRectF(option.rect).adjusted(4, 3, -4, -3)
        is_on = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if is_on:
            painter.setPen(QPen(QColor(theme.accent), 1.5))
            painter.setBrush(QColor(theme.accent_soft))
            painter.drawRoundedRect(rect, 7, 7)
        words = rect.adjusted(6, rect.height() - option.fontMetrics.height() - 5, -6, -3)
        into = fitted(page, rect.adjusted(9, 9, -9, -option.fontMetrics.height() - 10))
        painter.setPen(QPen(QColor(theme.line), 1))
        painter.drawRect(into)
        is_wanted = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked.value
        painter.setOpacity(1.0 if is_wanted else 0.35)
        paint_page(painter, page, into)
        painter.setOpacity(1.0)
        painter.setPen(QColor(theme.text if is_on else theme.quiet_text))
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, f"{index.row() + 1}")
        box = _tick_box(option)
        painter.setPen(QPen(QColor(theme.accent if is_wanted else theme.quiet_text), 1.4))
        painter.setBrush(QColor(theme.field))
        painter.drawRoundedRect(box, 4, 4)
        if is_wanted:
            painter.setPen(QPen(QColor(theme.accent), 2))
            at = box.topLeft()
            places = ((4.2, 9.2), (7.6, 12.6), (13.4, 5.4))
            painter.drawPolyline([QPointF(at.x() + x, at.y() + y) for x, y in places])
        painter.restore()

    def editorEvent(
        self, event: QEvent, model: QAbstractItemModel, option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> bool:  # fmt: skip
        """Tick a page or take it off, by a click on its box or by the space bar."""
        if isinstance(event, QMouseEvent):
            is_meant = _tick_box(option).adjusted(-4, -4, 4, 4).contains(event.position())
            is_meant = is_meant and event.type() == QEvent.Type.MouseButtonRelease
        else:
            is_meant = isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Space
        if is_meant:
            is_on = index.data(Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked.value
            state = Qt.CheckState.Unchecked if is_on else Qt.CheckState.Checked
            model.setData(index, state.value, Qt.ItemDataRole.CheckStateRole)
        return is_meant


def _tick_box(option: QStyleOptionViewItem) -> QRectF:
    return QRectF(option.rect.left() + 9, option.rect.top() + 8, _BOX, _BOX)


class MakeView(QWidget):
    """The pages of one document: a map and a list of them, and the one that is looked at."""

    shown = Signal()
    """Other pages are shown."""

    pages_chosen = Signal(object)
    """Which pages are wanted, by the file name of their document; left out: all of them."""

    in_sight = Signal(object)
    """The Sight of the document that is looked at; None while it is being drawn."""

    def __init__(
        self, theme: Theme, setup: PageSetup = PLAIN, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawn: dict[str, Drawn] = {}
        self._left_out: dict[str, set[int]] = {}
        self._plan: Plan | None = None
        self._setup = setup
        self._background = Background(self)
        self._background.done.connect(self._on_composed)
        self._background.failed.connect(_raise)
        self._ticket = object()
        self._share = 0.0
        self._said_ranges = ""
        self._post = Post(self)
        self._name = DOCUMENTS[0].file
        self.choice = ChoiceField()
        self.choice.setAccessibleName(tr("Document"))
        self.choice.setMinimumWidth(_CHOICE)
        self.choice.set_options([(each.file, tr(each.title)) for each in DOCUMENTS])
        self.choice.show_value(self._name)
        self.choice.committed.connect(self._on_chosen)
        self._count = Elided()
        self._count.setContentsMargins(16, 0, 16, 8)
        self._notes = label("", "quiet")
        self._notes.setContentsMargins(16, 0, 16, 8)
        self._notes.hide()
        self._true_size = Press(tr("True size"))
        self._true_size.setCheckable(True)
        self._true_size.setToolTip(tr("Show the page as large as it will be on paper"))
        self._true_size.toggled.connect(lambda _on: self._scale())
        self.pages = QListWidget()
        self.pages.setAccessibleName(tr("Pages"))
        self.pages.setFrameShape(QFrame.Shape.NoFrame)
        self.pages.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self._thumb = _Thumb(theme, self.pages)
        self.pages.setItemDelegate(self._thumb)
        self.pages.currentRowChanged.connect(self._on_row)
        self.pages.itemChanged.connect(self._on_ticked)
        self.map = PageMap(theme)
        self.map.went_to.connect(lambda number: self.pages.setCurrentRow(number - 1))
        self._ticks = stack(
            side_by_side(
                button(tr("All"), lambda: self._tick(lambda _row: True), "link"),
                button(tr("None"), lambda: self._tick(lambda _row: False), "link"),
            ),
            side_by_side(button(tr("Only this"), self._tick_this, "link")),
        )
        for press, words in zip(
            self._ticks.findChildren(QPushButton),
            (
                tr("Tick all pages"),
                tr("Tick no page"),
                tr("Tick only the page that is shown"),
            ),
            strict=True,
        ):
            press.setAccessibleName(words)
            press.setToolTip(words)
        self.range = QLineEdit()
        self.range.setAccessibleName(tr("Pages that are ticked"))
        self.range.setToolTip(tr("Type which pages to tick, such as 1, 3-5"))
        self.range.editingFinished.connect(self._on_range)
        self._range_fault = label("", "quiet")
        self._range_fault.hide()
        title = QLabel(tr("Ticked"))
        title.setBuddy(self.range)
        ticked = QWidget()
        in_line = QHBoxLayout(ticked)
        in_line.setContentsMargins(7, 0, 0, 4)
        in_line.addWidget(title)
        in_line.addWidget(self.range, 1)
        self._ranges = stack(ticked, self._range_fault)
        self._column = QWidget()
        self._column.setFixedWidth(_COLUMN)
        self._column.hide()
        self.sheet = PageSheet(theme)
        self._scroll = QScrollArea()
        self._scroll.setProperty("role", "page")
        self._scroll.setAccessibleName(tr("Page, to scroll"))
        self._scroll.setWidget(self.sheet)
        self._scroll.setWidgetResizable(True)
        self._lay_out()

    @property
    def count(self) -> str:
        """How many pages there are and how large, in words."""
        return self._count.text()

    def set_plan(self, plan: Plan | None) -> None:
        """Show the pages of this plan as soon as they are drawn; None when nobody looks."""
        if plan is None or plan is self._plan:
            return
        before, self._plan = self._plan, plan
        if before is not None and before.project is plan.project and before.beds is plan.beds:
            self._take_other_cut()
        else:
            self._begin_anew()

    def set_setup(self, setup: PageSetup) -> None:
        """Lay the pages out in another way."""
        self._setup = setup
        self._begin_anew()

    def _take_other_cut(self) -> None:
        """Draw anew only what tells of the cut plan, which alone has changed."""
        for name in [name for name in self._drawn if BY_FILE[name].tells_cuts]:
            del self._drawn[name]
            self._left_out.pop(name, None)
        is_drawing = self._background.is_busy and not BY_FILE[self._name].tells_cuts
        if self._name not in self._drawn and not is_drawing:
            self._ask()

    def _begin_anew(self) -> None:
        """Forget what was drawn of another plan or for other paper; all pages are ticked again."""
        self._drawn = {}
        self._left_out = {}
        self.pages_chosen.emit({})
        self._ask()

    def _ask(self) -> None:
        plan, setup, name = self._plan, self._setup, self._name
        if plan is None:
            return
        self._share = 0.0
        self._say_drawing()
        self.in_sight.emit(None)
        self._thumb.blank = Page(setup.paper.width_mm, setup.paper.height_mm, "", ())
        ticket = self._ticket = object()
        first = max(self.pages.currentRow(), 0) + 1

        def work(is_wanted: IsWanted) -> tuple[str, Drawn | None]:
            def tell(share: float, drawn: Drawn) -> None:
                self._post.send(lambda: self._on_came(_News(ticket, name, share, drawn)))

            return name, compose(BY_FILE[name], plan, setup, is_wanted, tell=tell, first=first)

        self._background.ask(work)

    def _on_came(self, news: _News) -> None:
        """Show what is drawn so far."""
        if news.ticket is not self._ticket or news.name != self._name:
            return
        if not news.drawn.pages:
            if news.share - self._share >= _LEAST_NEWS:
                self._share = news.share
                self._say_drawing()
            return
        self._take_in(news.name, news.drawn)

    def _on_composed(self, composed: tuple[str, Drawn | None]) -> None:
        name, drawn = composed
        self._ticket = object()
        if drawn is not None:
            self._take_in(name, drawn)
            self._tell_sight()
            self.shown.emit()

    def _take_in(self, name: str, drawn: Drawn) -> None:
        before = self._drawn.get(name)
        self._drawn[name] = drawn
        if before is None or len(before.pages) != len(drawn.pages):
            self._show_document(max(self.pages.currentRow(), 0))
            return
        for row, (old, page) in enumerate(zip(before.pages, drawn.pages, strict=True)):
            if page is not old and page is not None:
                self._fill(self.pages.item(row), page)
        here = self.pages.currentRow()
        if before.pages[here] is not drawn.pages[here]:
            self._on_row(here)
        self._say_count()

    def _say_drawing(self) -> None:
        words = tr("Drawing the pages \u2026")
        share = f" {figure(round(100 * self._share))} %" if self._share else ""
        self._count.show_text(f"{words}{share}")

    def _on_chosen(self, name: object) -> None:
        """Look at another document; its pages are drawn when they are first looked at."""
        self._name = str(name)
        self._show_document(0)
        if self._name in self._drawn and self._drawn[self._name].is_whole:
            self._background.forget()
            self._tell_sight()
            self.shown.emit()
        else:
            self._ask()

    @property
    def _pages(self) -> tuple[Page | None, ...]:
        return self._drawn.get(self._name, Drawn()).pages

    def set_theme(self, theme: Theme) -> None:
        """Paint what lies around the paper in other colours from now on."""
        self._theme = theme
        self._thumb.theme = theme
        self.sheet.set_theme(theme)
        self.map.set_theme(theme)
        self.pages.viewport().update()

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.setContentsMargins(16, 10, 16, 6)
        bar.addWidget(self.choice)
        bar.addStretch(1)
        bar.addWidget(self._true_size)
        column = QVBoxLayout(self._column)
        column.setContentsMargins(8, 0, 4, 0)
        column.setSpacing(2)
        column.addWidget(self.map)
        column.addWidget(self._ticks)
        column.addWidget(self._ranges)
        column.addWidget(self.pages, 1)
        body = QHBoxLayout()
        body.setSpacing(0)
        body.addWidget(self._column)
        body.addWidget(self._scroll, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addLayout(bar)
        box.addWidget(self._count)
        box.addWidget(self._notes)
        box.addLayout(body, 1)

    def _show_document(self, row: int) -> None:
        pages = self._pages
        left_out = self._left_out.get(self._name, set())
        self.pages.blockSignals(True)
        self.pages.clear()
        for number, page in enumerate(pages, start=1):
            item = QListWidgetItem(f"{number}")
            if page is not None:
                self._fill(item, page)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(_tick_state(is_on=number not in left_out))
            self.pages.addItem(item)
        self.pages.blockSignals(False)
        self.pages.setCurrentRow(min(row, len(pages) - 1))
        self._say_count()
        self._column.setVisible(bool(pages))
        if not pages:
            self.sheet.show_page(None)

    def _fill(self, item: QListWidgetItem, page: Page) -> None:
        self.pages.blockSignals(True)
        item.setText(page.name)
        item.setData(_PAGE_ROLE, page)
        item.setToolTip(plain_tip(page.name))
        self.pages.blockSignals(False)

    def _on_row(self, row: int) -> None:
        pages = self._pages
        self.sheet.show_page(pages[row] if 0 <= row < len(pages) else None)
        self._show_map()
        self._scale()

    def _show_map(self) -> None:
        number = self.pages.currentRow() + 1
        sets = self._drawn.get(self._name, Drawn()).sets
        here = next((each for each in sets if each.cover <= number <= each.last), None)
        self.map.show_set(here, number, frozenset(self._left_out.get(self._name, ())))

    def _on_ticked(self, item: QListWidgetItem) -> None:
        number = self.pages.row(item) + 1
        left_out = self._left_out.setdefault(self._name, set())
        (left_out.discard if _is_ticked(item) else left_out.add)(number)
        self._tell_ticks()

    def _tick(self, is_wanted: Callable[[int], bool]) -> None:
        self.pages.blockSignals(True)
        for row in range(self.pages.count()):
            self.pages.item(row).setCheckState(_tick_state(is_on=is_wanted(row)))
        self.pages.blockSignals(False)
        self.pages.viewport().update()
        self._left_out[self._name] = {
            row + 1 for row in range(self.pages.count()) if not is_wanted(row)
        }
        self._tell_ticks()

    def _tick_this(self) -> None:
        here = self.pages.currentRow()
        self._tick(lambda row: row == here)

    def _on_range(self) -> None:
        """Tick the pages that are typed."""
        text = self.range.text().strip()
        if text == self._said_ranges:
            self._refuse_range("")
            return
        total = self.pages.count()
        try:
            wanted = read_pages(text) if text else frozenset()
        except GeometryError as error:
            self._refuse_range(str(error))
            return
        if wanted and max(wanted) > total:
            self._refuse_range(tr_n("There is {n} page.", "There are {n} pages.", total))
            return
        self._tick(lambda row: row + 1 in wanted)

    def _refuse_range(self, reason: str) -> None:
        self._range_fault.setText(f"! {reason}" if reason else "")
        self._range_fault.setVisible(bool(reason))
        self.range.setAccessibleDescription(reason)

    def _tell_ticks(self) -> None:
        self._say_count()
        self._show_map()
        self.pages_chosen.emit(
            {
                name: frozenset(range(1, len(drawn.pages) + 1)) - self._left_out[name]
                for name, drawn in self._drawn.items()
                if self._left_out.get(name)
            }
        )
        self._tell_sight()

    def _tell_sight(self) -> None:
        if not self._drawn.get(self._name, Drawn()).is_whole:
            return
        left_out = self._left_out.get(self._name, set())
        pages = enumerate(self._pages, start=1)
        ticked = (page for at, page in pages if page is not None and at not in left_out)
        self.in_sight.emit(Sight(self._name, tr(BY_FILE[self._name].title), tuple(ticked)))

    def _say_count(self) -> None:
        pages = self._pages
        left_out = len(self._left_out.get(self._name, ()))
        drawn = self._drawn.get(self._name, Drawn())
        words = [drawn.count if pages else tr("no pages yet")]
        if left_out:
            words.append(tr_n("{n} ticked", "{n} ticked", len(pages) - left_out))
        if not drawn.is_whole:
            words.append(tr("drawing \u2026"))
        self._count.show_text(" \N{MIDDLE DOT} ".join(words))
        ticks = (
            at for at in range(1, len(pages) + 1) if at not in self._left_out.get(self._name, ())
        )
        self._said_ranges = page_ranges(ticks)
        self.range.setText(self._said_ranges)
        self._refuse_range("")
        self._notes.setText("\n".join(drawn.notes))
        self._notes.setVisible(bool(drawn.notes))

    def _scale(self) -> None:
        row = self.pages.currentRow()
        pages = self._pages
        page = pages[row] if 0 <= row < len(pages) else None
        is_true = self._true_size.isChecked() and page is not None
        self._scroll.setWidgetResizable(not is_true)
        if page is None or not is_true:
            return
        per_mm = self.screen().physicalDotsPerInch() / _MM_PER_INCH
        wanted = QSize(
            round(page.width_mm * per_mm) + 2 * _ROOM,
            round(page.height_mm * per_mm) + 2 * _ROOM,
        )
        self.sheet.resize(wanted.expandedTo(self._scroll.viewport().size()))


def _is_ticked(item: QListWidgetItem) -> bool:
    return item.checkState() is Qt.CheckState.Checked


def _tick_state(*, is_on: bool) -> Qt.CheckState:
    return Qt.CheckState.Checked if is_on else Qt.CheckState.Unchecked


def _raise(error: BaseException) -> None:
    raise error
