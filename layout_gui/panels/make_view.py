"""The station Make: the pages as they will come out, in the place of the bed."""

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import (
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
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

from geometry.drawing.cut_sheet import lay_cut_sheet
from geometry.drawing.marks import Text
from geometry.drawing.paper import COMMON, Page, Paper
from geometry.drawing.styles import PENS, Style
from geometry.drawing.template import lay_template
from geometry.plan import Plan
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.parts import label
from layout_gui.panels.words import counted
from layout_gui.screen.painter import paint_marks, y_up
from layout_gui.screen.theme import Ink, Theme

_PAGE_ROLE: Final = Qt.ItemDataRole.UserRole
Documents = Mapping[str, tuple[Page, ...]]
_MM_PER_INCH: Final = 25.4
_ROOM: Final = 18


def _paper_ink(style: Style) -> Ink:
    grey = QColor.fromRgbF(PENS[style].grey, PENS[style].grey, PENS[style].grey).name()
    return Ink(grey)


PAPER_INKS: Final = {style: _paper_ink(style) for style in Style}
"""Pages are black on white by day and by night, as the printer makes them."""


def paint_page(painter: QPainter, page: Page, into: QRectF) -> None:
    """Draw a page into a rectangle of the same proportions; words too small to see are left out."""
    scale = into.width() / page.width_mm
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(into, QColor("#ffffff"))
    painter.setClipRect(into, Qt.ClipOperation.IntersectClip)
    painter.setTransform(y_up(into.left(), into.bottom(), scale), combine=True)
    for picture in page.pictures:
        painter.save()
        if picture.clip is not None:
            clip = picture.clip
            corner, far = QPointF(clip.left, clip.bottom), QPointF(clip.right, clip.top)
            painter.setClipRect(QRectF(corner, far), Qt.ClipOperation.IntersectClip)
        for group in picture.drawing.groups:
            marks = [m for m in group.marks if not (isinstance(m, Text) and m.height * scale < 3)]
            paint_marks(painter, marks, PAPER_INKS)
        painter.restore()
    painter.restore()


def compose(plan: Plan, paper: Paper, is_wanted: IsWanted) -> Documents | None:
    """Lay out and draw the pages of both documents; None as soon as nobody wants them."""
    documents: dict[str, tuple[Page, ...]] = {}
    for name, laid in (
        ("Templates", lay_template(plan, paper)),
        ("Cut sheets", lay_cut_sheet(plan, paper)),
    ):
        pages: list[Page] = []
        for page in laid.pages():
            if not is_wanted():
                return None
            pages.append(page)
        documents[name] = tuple(pages)
    return documents


class PageSheet(QWidget):
    """One page at a chosen scale, on the ground of the canvas."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._page: Page | None = None
        self.setAccessibleName("Page")

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
    """Draws a page small, its name beneath; only pages in sight are drawn."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme

    def sizeHint(
        self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return QSize(124, 132 + option.fontMetrics.height())

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:  # fmt: skip
        page: Page = index.data(_PAGE_ROLE)
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
        paint_page(painter, page, into)
        painter.setPen(QColor(theme.text if is_on else theme.quiet_text))
        painter.drawText(words, Qt.AlignmentFlag.AlignCenter, f"{index.row() + 1}")
        painter.restore()


class MakeView(QWidget):
    """The pages of one document: a list of them and the one that is looked at."""

    shown = Signal()
    """Other pages are shown."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._documents: Documents = {}
        self._plan: Plan | None = None
        self._paper = COMMON
        self._background = Background(self)
        self._background.done.connect(self._on_composed)
        self._background.failed.connect(_raise)
        self._name = ""
        self._choices = QHBoxLayout()
        self._choices.setSpacing(6)
        self._group = QButtonGroup(self)
        self._count = label("", "quiet")
        self._true_size = QPushButton("True size")
        self._true_size.setCheckable(True)
        self._true_size.setToolTip("Show the page as large as it will be on paper")
        self._true_size.toggled.connect(lambda _on: self._scale())
        self.pages = QListWidget()
        self.pages.setAccessibleName("Pages")
        self.pages.setFixedWidth(150)
        self.pages.hide()
        self.pages.setFrameShape(QFrame.Shape.NoFrame)
        self.pages.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self._thumb = _Thumb(theme, self.pages)
        self.pages.setItemDelegate(self._thumb)
        self.pages.currentRowChanged.connect(self._on_row)
        self.sheet = PageSheet(theme)
        self._scroll = QScrollArea()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setAccessibleName("Page, to scroll")
        self._scroll.setWidget(self.sheet)
        self._scroll.setWidgetResizable(True)
        self._lay_out()

    @property
    def count(self) -> str:
        """How many pages there are and how large, in words."""
        return self._count.text()

    def set_plan(self, plan: Plan | None) -> None:
        """Show the pages of this plan as soon as they are drawn; None when nobody looks."""
        if plan is not None and plan is not self._plan:
            self._plan = plan
            self._ask()

    def set_paper(self, paper: Paper) -> None:
        """Lay the pages out for another paper."""
        self._paper = paper
        self._ask()

    def _ask(self) -> None:
        plan, paper = self._plan, self._paper
        if plan is not None:
            self._count.setText("Drawing the pages \u2026")
            self._background.ask(lambda is_wanted: compose(plan, paper, is_wanted))

    def _on_composed(self, documents: Documents | None) -> None:
        if documents is not None:
            self.show_pages(documents)
            self.shown.emit()

    def show_pages(self, documents: Documents) -> None:
        """Show the pages of these documents, by name; the one looked at stays if it can."""
        self._documents = documents
        name = self._name if self._name in documents else next(iter(documents), "")
        self._offer(name)
        self._show_document(name)

    def set_theme(self, theme: Theme) -> None:
        """Paint what lies around the paper in other colours from now on."""
        self._theme = theme
        self._thumb.theme = theme
        self.sheet.set_theme(theme)
        self.pages.viewport().update()

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.setContentsMargins(16, 10, 16, 8)
        bar.addLayout(self._choices)
        bar.addSpacing(10)
        bar.addWidget(self._count, 1)
        bar.addWidget(self._true_size)
        body = QHBoxLayout()
        body.setSpacing(0)
        body.addWidget(self.pages)
        body.addWidget(self._scroll, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addLayout(bar)
        box.addLayout(body, 1)

    def _offer(self, current: str) -> None:
        while self._choices.count():
            item = self._choices.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.deleteLater()
        for name in self._documents:
            press = QPushButton(name)
            press.setCheckable(True)
            press.setChecked(name == current)
            press.clicked.connect(lambda _on, name=name: self._show_document(name))
            self._group.addButton(press)
            self._choices.addWidget(press)

    def _show_document(self, name: str) -> None:
        row = max(self.pages.currentRow(), 0) if name == self._name else 0
        self._name = name
        pages: Sequence[Page] = self._documents.get(name, ())
        self.pages.blockSignals(True)
        self.pages.clear()
        for page in pages:
            item = QListWidgetItem(page.name)
            item.setData(_PAGE_ROLE, page)
            item.setToolTip(page.name)
            self.pages.addItem(item)
        self.pages.blockSignals(False)
        self.pages.setCurrentRow(min(row, len(pages) - 1))
        self._count.setText(_count_words(pages))
        self.pages.setVisible(bool(pages))
        if not pages:
            self.sheet.show_page(None)

    def _on_row(self, row: int) -> None:
        pages = self._documents.get(self._name, ())
        self.sheet.show_page(pages[row] if 0 <= row < len(pages) else None)
        self._scale()

    def _scale(self) -> None:
        row = self.pages.currentRow()
        pages = self._documents.get(self._name, ())
        is_true = self._true_size.isChecked() and 0 <= row < len(pages)
        self._scroll.setWidgetResizable(not is_true)
        if not is_true:
            return
        per_mm = self.screen().physicalDotsPerInch() / _MM_PER_INCH
        wanted = QSize(
            round(pages[row].width_mm * per_mm) + 2 * _ROOM,
            round(pages[row].height_mm * per_mm) + 2 * _ROOM,
        )
        self.sheet.resize(wanted.expandedTo(self._scroll.viewport().size()))


def _count_words(pages: Sequence[Page]) -> str:
    sizes = {(page.width_mm, page.height_mm) for page in pages}
    if not pages:
        return "no pages yet"
    if len(sizes) > 1:
        return counted(len(pages), "page")
    width, height = next(iter(sizes))
    return f"{counted(len(pages), 'page')} of {width:g} \N{MULTIPLICATION SIGN} {height:g} mm"


def _raise(error: BaseException) -> None:
    raise error
