"""The help in a window of its own: contents, one page, back and forward, and a search."""

from collections.abc import Callable, Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt, QUrl
from PySide6.QtGui import (
    QImage,
    QKeySequence,
    QShortcut,
    QTextCursor,
    QTextDocument,
    QTextFormat,
    QTextImageFormat,
)
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from geometry.tongue import tr
from layout_gui.dialogs.help_pages import (
    FOLDER,
    ORDER,
    Place,
    page_text,
    page_title,
    pages_with,
    read_place,
    split_heading,
)

_SIZE: Final = QSize(980, 720)
_CONTENTS_CHARS: Final = 34
_ABOVE_HEADING: Final = 16
_MARGIN: Final = 26
_PAGE: Final = Qt.ItemDataRole.UserRole


def keys_table(rows: Sequence[tuple[str, str, str]]) -> str:
    """Write the keys as tables of Markdown, one for each place where they work."""
    lines: list[str] = []
    for where in dict.fromkeys(place for place, _, _ in rows):
        lines += ["", f"## {where}", "", f"| {tr('What it does')} | {tr('Keys')} |", "|---|---|"]
        lines += [f"| {what} | {keys} |" for place, what, keys in rows if place == where]
    return "\n".join(lines)


class HelpPage(QTextBrowser):
    """One page of the help."""

    def __init__(self, palette_name: str) -> None:
        super().__init__()
        self._pictures = FOLDER / "pictures" / palette_name
        self.setOpenLinks(False)
        self.setAccessibleName(tr("Page of the help"))
        self.document().setDocumentMargin(_MARGIN)

    def show_text(self, text: str) -> None:
        """Show a page of Markdown, its headings to be found by their names."""
        self.setMarkdown(text)
        document = self.document()
        block = document.begin()
        while block.isValid():
            if block.blockFormat().headingLevel():
                title, name = split_heading(block.text())
                cursor = QTextCursor(block)
                spaced = block.blockFormat()
                spaced.setTopMargin(_ABOVE_HEADING)
                cursor.setBlockFormat(spaced)
                cursor.setPosition(block.position() + len(title))
                cursor.movePosition(
                    QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor
                )
                cursor.removeSelectedText()
                cursor.setPosition(block.position())
                cursor.movePosition(
                    QTextCursor.MoveOperation.NextCharacter, QTextCursor.MoveMode.KeepAnchor
                )
                look = cursor.charFormat()
                look.setAnchor(True)
                look.setAnchorNames([name])
                cursor.setCharFormat(look)
            block = block.next()
        self._fit_pictures()

    def loadResource(self, kind: int, name: QUrl | str) -> object:
        """Take pictures from the folder of the palette, and nothing from anywhere else."""
        if kind != QTextDocument.ResourceType.ImageResource.value:
            return None
        path = self._pictures / QUrl(name).fileName()
        return QImage(str(path)) if path.is_file() else None

    def _fit_pictures(self) -> None:
        """Show no picture wider than the page."""
        room = max(320, self.viewport().width() - 2 * _MARGIN - 4)
        block = self.document().begin()
        while block.isValid():
            pieces = block.begin()
            while not pieces.atEnd():
                piece = pieces.fragment()
                look = piece.charFormat()
                if look.isImageFormat():
                    self._fit(piece.position(), look.toImageFormat(), room)
                pieces += 1
            block = block.next()

    def _fit(self, position: int, look: QTextImageFormat, room: int) -> None:
        path = self._pictures / QUrl(look.name()).fileName()
        width = QImage(str(path)).width()
        if width:
            look.setProperty(QTextFormat.Property.ImageWidth, min(width, room))
            cursor = QTextCursor(self.document())
            cursor.setPosition(position)
            cursor.movePosition(
                QTextCursor.MoveOperation.NextCharacter, QTextCursor.MoveMode.KeepAnchor
            )
            cursor.setCharFormat(look)


class HelpWindow(QDialog):
    """Contents at the left, the page at the right; stays open beside the work."""

    def __init__(
        self,
        palette_name: str,
        keys: Callable[[], Sequence[tuple[str, str, str]]],
        parent: QWidget | None = None,
    ) -> None:
        """``keys`` tells the present ones whenever they are shown: where, what, keys."""
        super().__init__(parent)
        self._keys = keys
        self.setWindowTitle(tr("Help"))
        self.setModal(False)
        self.resize(_SIZE)
        self._history: list[Place] = []
        self._at = -1
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Search the help"))
        self.search.setAccessibleName(tr("Search the help"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._on_search)
        self.contents = QListWidget()
        self.contents.setAccessibleName(tr("Contents"))
        self.contents.setWordWrap(True)
        self.contents.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.contents.currentItemChanged.connect(self._on_picked)
        self.page = HelpPage(palette_name)
        self.page.anchorClicked.connect(self._on_link)
        self.back = self._button(tr("Back"), self.go_back, QKeySequence.StandardKey.Back)
        self.forward = self._button(
            tr("Forward"), self.go_forward, QKeySequence.StandardKey.Forward
        )
        self.larger = self._button(tr("Larger"), self.page.zoomIn, "Ctrl++")
        self.smaller = self._button(tr("Smaller"), self.page.zoomOut, "Ctrl+-")
        find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        find.activated.connect(self.search.setFocus)
        self._lay_out()
        self._list(ORDER)
        self.page.setFocus()

    @property
    def place(self) -> Place:
        """What is shown."""
        return self._history[self._at] if self._history else Place(ORDER[0])

    def go_to(self, place: Place) -> None:
        """Show a place, and remember the way."""
        if not self._history or place != self.place:
            del self._history[self._at + 1 :]
            self._history.append(place)
            self._at += 1
        self._show()

    def go_back(self) -> None:
        """Show what was shown before."""
        self._at = max(self._at - 1, 0)
        self._show()

    def go_forward(self) -> None:
        """Show again what Back left."""
        self._at = min(self._at + 1, len(self._history) - 1)
        self._show()

    def _show(self) -> None:
        place = self.place
        self.page.show_text(page_text(place.page).replace("{keys}", keys_table(self._keys())))
        if place.name:
            self.page.scrollToAnchor(place.name)
        self.setWindowTitle(tr("{page} – Help", page=page_title(place.page)))  # noqa: RUF001
        self.back.setEnabled(self._at > 0)
        self.forward.setEnabled(self._at + 1 < len(self._history))
        self.contents.blockSignals(True)
        for row in range(self.contents.count()):
            if self.contents.item(row).data(_PAGE) == place.page:
                self.contents.setCurrentRow(row)
        self.contents.blockSignals(False)
        self._mark_found()

    def _mark_found(self) -> None:
        """Select the first place where the searched word stands."""
        words = self.search.text().split()
        if words:
            self.page.moveCursor(QTextCursor.MoveOperation.Start)
            self.page.find(words[0])

    def _list(self, pages: tuple[str, ...]) -> None:
        self.contents.blockSignals(True)
        self.contents.clear()
        for page in pages:
            item = QListWidgetItem(page_title(page))
            item.setData(_PAGE, page)
            self.contents.addItem(item)
        self.contents.blockSignals(False)

    def _on_search(self, words: str) -> None:
        self._list(pages_with(words) if words.strip() else ORDER)

    def _on_picked(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.go_to(Place(item.data(_PAGE)))

    def _on_link(self, link: QUrl) -> None:
        place = read_place(link.toString(), self.place.page)
        if place is not None:
            self.go_to(place)

    def _button(
        self, words: str, slot: object, keys: QKeySequence.StandardKey | str
    ) -> QPushButton:
        made = QPushButton(words)
        made.setAutoDefault(False)
        made.clicked.connect(slot)
        made.setShortcut(QKeySequence(keys))
        made.setToolTip(
            f"{words} ({made.shortcut().toString(QKeySequence.SequenceFormat.NativeText)})"
        )
        return made

    def _lay_out(self) -> None:
        bar = QHBoxLayout()
        bar.setSpacing(6)
        for part in (self.back, self.forward):
            bar.addWidget(part)
        bar.addStretch(1)
        for part in (self.smaller, self.larger):
            bar.addWidget(part)
        left = QVBoxLayout()
        left.addWidget(self.search)
        left.addWidget(self.contents, 1)
        self.contents.setFixedWidth(_CONTENTS_CHARS * self.fontMetrics().averageCharWidth())
        self.search.setFixedWidth(self.contents.width())
        right = QVBoxLayout()
        right.addLayout(bar)
        right.addWidget(self.page, 1)
        row = QHBoxLayout(self)
        row.addLayout(left)
        row.addLayout(right, 1)
