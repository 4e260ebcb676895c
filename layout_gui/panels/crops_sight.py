"""Crops, a sight of the station Grow: all there are, what sources say of each, and one's own."""

from collections.abc import Callable
from functools import partial
from typing import Any, Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGridLayout,
    QHeaderView,
    QLineEdit,
    QMenu,
    QSplitter,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from geometry.crops.table import plain_name
from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.tongue import mark, tr
from geometry.units import Unit, exact_text
from layout_gui.document.document import Document
from layout_gui.panels.crop_words import Entry, blocks, cells, entries, figure, headers, origin
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.panels.parts import Column, button, label, side_by_side
from layout_gui.panels.sight_view import SightView
from layout_gui.project import edits_crops
from layout_gui.project.crop_file import CropFile
from layout_gui.project.faults import why_not
from layout_gui.project.first import first_values, with_crop
from layout_gui.screen.theme import Theme

_NARROW: Final = 940
_NAME_LETTERS: Final = 22
_NOT_KNOWN: Final = mark("not known")


class CropsSight(SightView):
    """The table of crops, and beside it the one that is picked."""

    def __init__(
        self, document: Document, file: CropFile | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._file = file if file is not None else CropFile()
        self._now: Now | None = None
        self._shown: tuple[tuple[Entry, ...], Unit] | None = None
        self._picked = ""
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(tr("Find a crop or a source"))
        self.filter.setAccessibleName(tr("Find a crop or a source"))
        self.filter.setClearButtonEnabled(True)
        self.filter.textChanged.connect(lambda _text: self._fill())
        self.table = _Table()
        self.table.currentItemChanged.connect(lambda _now, _before: self._on_row())
        self.table.on_enter = self._plant
        self.fresh = button(tr("New crop"), self._add)
        self.taking = QMenu(self)
        self.taking.aboutToShow.connect(self._fill_taking)
        self.take = button(tr("Take one you kept\N{HORIZONTAL ELLIPSIS}"), self._open_taking)
        left = QWidget()
        box = QVBoxLayout(left)
        box.setContentsMargins(16, 14, 12, 14)
        box.setSpacing(8)
        for part in (self.filter, self.table, side_by_side(self.fresh, self.take)):
            box.addWidget(part)
        self.details = CropDetails(document)
        self.details.plant.clicked.connect(self._plant)
        self.details.copy.clicked.connect(self._copy)
        self.details.remove.clicked.connect(self._remove)
        self.details.keep.clicked.connect(self._keep)
        self.details.forget.clicked.connect(self._forget)
        self.details.renamed = self._pick
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(left)
        self._split.addWidget(self.details)
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 2)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self._split)

    @property
    def picked(self) -> str:
        """The name of the crop that is picked."""
        return self._picked

    def show_now(self, now: Now) -> None:
        """Show this moment; at first the crop of the bed is picked."""
        self._now = now
        if not self._picked and now.planting is not None:
            self._picked = now.planting.crop
        self._fill()

    def set_theme(self, theme: Theme) -> None:
        """Colours come with the palette."""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the details beneath the table where there is no room beside it."""
        super().resizeEvent(event)
        sides = Qt.Orientation.Horizontal, Qt.Orientation.Vertical
        wanted = sides[self.width() < _NARROW]
        if self._split.orientation() is not wanted:
            self._split.setOrientation(wanted)

    def _pick(self, name: str) -> None:
        self._picked = name

    def _fill(self) -> None:
        now = self._now
        if now is None:
            return
        found, unit = entries(now.project, self.filter.text()), now.project.units
        if self._shown != (found, unit):
            self._shown = found, unit
            self.table.show_entries(found, unit)
        row = next(
            (
                at
                for at, each in enumerate(found)
                if plain_name(self._picked) in {plain_name(each.name), plain_name(each.crop.name)}
            ),
            0,
        )
        self.table.pick(row if found else -1)
        self._show_details()

    def _entry(self) -> Entry | None:
        found = self._shown[0] if self._shown is not None else ()
        row = self.table.row
        return found[row] if 0 <= row < len(found) else None

    def _on_row(self) -> None:
        entry = self._entry()
        if entry is not None:
            self._picked = entry.crop.name
        self._show_details()

    def _show_details(self) -> None:
        if self._now is not None:
            kept = {plain_name(crop.name) for crop in self._file.read().crops}
            self.details.show_entry(self._entry(), self._now, kept)

    # -- what is done ----------------------------------------------------------------------------

    def _apply(self, words: str, make: Callable[[Project], Project]) -> bool:
        try:
            project = make(self._document.project)
        except GeometryError as error:
            self._document.failed.emit(str(error))
            return False
        self._document.apply(words, project)
        return True

    def _add(self) -> None:
        now = self._now
        if now is None:
            return
        made = edits_crops.fresh_crop(now.project, first_values(now.project.units).spacing)
        self.filter.clear()
        self._picked = made.name
        self._apply(tr("New crop"), lambda project: edits_crops.add_crop(project, made))
        self.details.form.editor("crop-name").setFocus()

    def _copy(self) -> None:
        entry, now = self._entry(), self._now
        if entry is None or now is None:
            return
        made = edits_crops.copy_of(now.project, entry.crop)
        self.filter.clear()
        self._picked = made.name
        self._apply(
            tr("Copy {crop}", crop=entry.name),
            lambda project: edits_crops.add_crop(project, made),
        )

    def _remove(self) -> None:
        entry = self._entry()
        if entry is not None and entry.crop.is_own:
            name = entry.crop.name
            self._apply(
                tr("Remove {crop}", crop=name), lambda each: edits_crops.remove_crop(each, name)
            )

    def _plant(self) -> None:
        entry, now = self._entry(), self._now
        bed = now.bed if now is not None else None
        if entry is None or bed is None or entry.is_bare:
            return
        name = entry.crop.name
        if self._apply(
            tr("Plant {crop}", crop=entry.name), lambda project: with_crop(project, bed, name)
        ):
            self.said.emit(tr("{bed} is planted with {crop}.", bed=bed.name, crop=entry.name))

    def _keep(self) -> None:
        entry, now = self._entry(), self._now
        if entry is None or now is None or not entry.crop.is_own:
            return
        own = edits_crops.find_own(now.project, entry.crop.name)
        self._write(
            lambda: self._file.keep(own), tr("{crop} is kept for other projects.", crop=own.name)
        )

    def _forget(self) -> None:
        entry = self._entry()
        if entry is not None:
            name = entry.crop.name
            self._write(lambda: self._file.forget(name), tr("{crop} is kept no longer.", crop=name))

    def _write(self, work: Callable[[], None], words: str) -> None:
        trouble = self._file.read().trouble
        try:
            work()
        except OSError as error:
            why = why_not(error)
            self._document.failed.emit(tr("The crop could not be kept: {why}.", why=why))
            return
        self.said.emit(" ".join(filter(None, (words, trouble))))
        self._show_details()

    def _open_taking(self) -> None:
        self.taking.popup(self.take.mapToGlobal(self.take.rect().bottomLeft()))

    def _fill_taking(self) -> None:
        """Offer what is kept; a crop of the same name takes the place of the project's."""
        self.taking.clear()
        known = self._file.read()
        for crop in known.crops:
            action = self.taking.addAction(crop.name.replace("&", "&&"))
            action.triggered.connect(partial(self._take, crop))
        if not known.crops:
            empty = tr("None kept yet: “Keep for other projects” does it")
            self.taking.addAction(empty).setEnabled(False)
        if known.trouble:
            self._document.failed.emit(known.trouble)

    def _take(self, crop: Any) -> None:
        self.filter.clear()
        self._picked = crop.name
        self._apply(
            tr("Take {crop}", crop=crop.name),
            lambda project: edits_crops.take_crop(project, crop),
        )


class _Table(QTreeWidget):
    """Crops in lines; Enter plants the one that is picked."""

    def __init__(self) -> None:
        super().__init__()
        self.on_enter: Callable[[], None] = lambda: None
        self.setAccessibleName(tr("Crops"))
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAllColumnsShowFocus(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHeaderLabels(list(headers()))
        head = self.header()
        head.setStretchLastSection(False)
        head.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        head.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        head.setMinimumSectionSize(40)

    @property
    def row(self) -> int:
        """The number of the line that is picked; -1 for none."""
        item = self.currentItem()
        return self.indexOfTopLevelItem(item) if item is not None else -1

    def show_entries(self, found: tuple[Entry, ...], unit: Unit) -> None:
        """Show these crops, without saying that another one is picked."""
        self.blockSignals(True)
        self.clear()
        for entry in found:
            texts = cells(entry, unit)
            item = QTreeWidgetItem(list(texts))
            font = item.font(0)
            font.setBold(entry.crop.is_own)
            item.setFont(0, font)
            named = zip(headers()[1:], texts[1:], strict=True)
            said = [f"{entry.name}, {entry.standing}", *(f"{a} {b}" for a, b in named if b)]
            item.setData(0, Qt.ItemDataRole.AccessibleTextRole, ", ".join(said))
            for column in range(1, len(texts)):
                side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
                item.setTextAlignment(column, side)
            self.addTopLevelItem(item)
        self.blockSignals(False)
        self._fit_columns()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out the last columns where there is no room for them."""
        super().resizeEvent(event)
        self._fit_columns()

    def _fit_columns(self) -> None:
        head = self.header()
        room = self.viewport().width() - _NAME_LETTERS * self.fontMetrics().averageCharWidth()
        for column in range(1, self.columnCount()):
            room -= max(self.sizeHintForColumn(column), head.sectionSizeHint(column))
            self.setColumnHidden(column, room < 0 and column > 1)

    def pick(self, row: int) -> None:
        """Pick a line without saying so."""
        if row != self.row:
            self.blockSignals(True)
            self.setCurrentIndex(self.model().index(row, 0))
            self.blockSignals(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plant with Enter; else go through the lines."""
        if event.key() in {Qt.Key.Key_Return, Qt.Key.Key_Enter}:
            self.on_enter()
        else:
            super().keyPressEvent(event)


class CropDetails(Column):
    """One crop: the figures of every source, or the fields of an own one."""

    def __init__(self, document: Document) -> None:
        super().__init__(tr("The crop that is picked"))
        self._name = ""
        self._drawn: tuple[str, Unit] | None = None
        self.renamed: Callable[[str], None] = lambda _name: None
        self.plant = button(tr("Plant it in this bed"), lambda: None, "primary")
        self.copy = button(tr("Copy to your crops"), lambda: None)
        self.keep = button(tr("Keep for other projects"), lambda: None)
        self.forget = button(tr("Keep no longer"), lambda: None, "link")
        self.remove = button(tr("Remove"), lambda: None, "link")
        self.form = Form(self._fields(), document)
        self.figures, self._grid = _fresh_grid()
        self.add(side_by_side(self.plant, self.copy, self.keep, self.forget, self.remove))
        self.add(self.form)
        self.add(self.figures)

    def show_now(self, now: Now) -> None:
        """Shown by ``show_entry`` alone."""

    @property
    def words(self) -> str:
        """All that is said of the figures."""
        items = (self._grid.itemAt(at) for at in range(self._grid.count()))
        return "\n".join(item.widget().text() for item in items)  # type: ignore[union-attr]  # labels

    def show_entry(self, entry: Entry | None, now: Now, kept: set[str]) -> None:
        """Show a crop; ``kept`` are the names of those that are kept for other projects."""
        is_own = entry is not None and entry.crop.is_own
        self._name = entry.crop.name if entry is not None else ""
        self.plant.setVisible(entry is not None and not entry.is_bare)
        self.plant.setEnabled(now.bed is not None)
        self.copy.setVisible(entry is not None and not is_own)
        for part in (self.keep, self.remove, self.form):
            part.setVisible(is_own)
        self.forget.setVisible(is_own and plain_name(self._name) in kept)
        self.figures.setVisible(entry is not None and not is_own)
        if entry is None:
            self.set_title(tr("No crop found"), tr("Write less, or another word."))
            return
        if is_own:
            self.set_title(
                entry.name, tr("Your own. It stands in this project and goes before the table.")
            )
            self.form.show_now(now)
            return
        self.set_title(entry.name, _source_words(entry, now.project.units))
        self._show_figures(entry.crop.kind, now.project.units)

    def _show_figures(self, kind: str, unit: Unit) -> None:
        """Set the figures of all sources side by side, with what does not go together."""
        if self._drawn == (kind, unit):
            return
        self._drawn = kind, unit
        # Filled before it comes into sight, for a column does not heed lines that grow in it.
        old, (self.figures, self._grid) = self.figures, _fresh_grid()
        row = 0
        for heading, facts, said in blocks(kind, unit):
            self._grid.addWidget(label(heading, "heading"), row, 0, 1, 2)
            for fact in facts:
                row += 1
                value = label(figure(fact, unit))
                value.setWordWrap(False)
                top = Qt.AlignmentFlag.AlignTop
                self._grid.addWidget(value, row, 0, top)
                self._grid.addWidget(label(origin(fact), "quiet"), row, 1)
            for words in said:
                row += 1
                self._grid.addWidget(label(words, "warn"), row, 0, 1, 2)
            row += 1
        self.add(self.figures)
        old.hide()
        old.deleteLater()

    def _fields(self) -> list[Field]:
        unknown = {"empty_means": _NOT_KNOWN}
        return [
            self._field("name", mark("Name"), "text"),
            self._field("spacing", mark("Spacing"), "length"),
            self._field("days", mark("Days on the water"), "count", most=3650, **unknown),
            self._field(
                "planted_width", mark("Width when planted"), "length",
                hint=mark("Of the leaves, on the day a plant comes onto the water"), **unknown,
            ),
            self._field("mature_width", mark("Width when grown up"), "length", **unknown),
            self._field("grams", mark("Grams when picked"), "number", **unknown),
            self._field("note", mark("Where from"), "text", empty_means=mark("your own figures")),
        ]  # fmt: skip

    def _field(self, name: str, words: str, kind: Any, **more: Any) -> Field:
        def read(now: Now) -> Any:
            own = (each for each in now.project.crops if each.name == self._name)
            return next((getattr(each, name) for each in own), None)

        def write(now: Now, value: Any) -> Project:
            changed = edits_crops.set_crop(
                now.project, self._name, **{name: value or "" if kind == "text" else value}
            )
            if name == "name":
                self._name = value
                self.renamed(value)
            return changed

        return Field(f"crop-{name}", words, kind, read=read, write=write, **more)


def _fresh_grid() -> tuple[QWidget, QGridLayout]:
    made = QWidget()
    grid = QGridLayout(made)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(14)
    grid.setVerticalSpacing(6)
    grid.setColumnStretch(1, 1)
    return made, grid


def _source_words(entry: Entry, unit: Unit) -> str:
    crop = entry.crop
    if entry.is_bare:
        return tr("Only figures that nobody read again; copy it and check them first.")
    source = tr("From: {source}.", source=crop.source)
    if not crop.chosen:
        return source
    return tr(
        "{source} Planted at {spacing}, {chosen}.",
        source=source,
        spacing=exact_text(crop.spacing, unit),
        chosen=tr(crop.chosen),
    )
