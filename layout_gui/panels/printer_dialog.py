"""Measuring a printer: its page to print, the figures read off it, and what follows from them."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from geometry.drawing.paper import PAPERS, Paper, is_same_size
from geometry.drawing.printer import (
    TICKS_MM,
    MeasuredLine,
    Printer,
    Way,
    check_name,
    fit_hint,
    is_short,
    judged_printer,
    meant_words,
    measured_line,
)
from geometry.errors import GeometryError
from geometry.tongue import mark, number, tr
from geometry.units import Length, Unit, both_units, parse_length
from layout_gui.output.printer_pdf import write_printer_pages
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.fields import ChoiceField, LengthField, SwitchField
from layout_gui.panels.parts import button, label, side_by_side
from layout_gui.project.faults import why_not

_EMS: Final = 30
"""How wide the dialog is, in heights of a line."""

_MOST_NAMED: Final = 100
_FIELDS: Final[dict[Way, str]] = {
    "across": mark("The line across measures"),
    "along": mark("The line along measures"),
}


class PrinterDialog(QDialog):
    """Takes the figures of one printer and one paper; ``measured`` carries the Printer to keep."""

    measured = Signal(object)

    def __init__(
        self,
        known: Sequence[Printer],
        name: str,
        paper: Paper,
        unit: Unit,
        day: str,
        folder: Callable[[], object],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._known = known
        self._unit: Unit = unit
        self._day = day
        self._folder = folder
        self._background = Background(self)
        self._background.done.connect(self._on_written)
        self._background.failed.connect(self._on_not_written)
        self._papers = list(PAPERS.values())
        if paper not in self._papers:
            self._papers.append(paper)
        self.setWindowTitle(tr("Measure a printer"))
        self.name = QLineEdit(name)
        self.name.setPlaceholderText(tr("such as: hall printer"))
        self.note = QLineEdit()
        self.note.setPlaceholderText(tr("such as: lower tray"))
        self.paper = ChoiceField()
        self.paper.set_options([(each, each.said) for each in self._papers])
        self.paper.show_value(paper)
        self.open_button = button(tr("Write and open the page"), self._write)
        self.page_words = label("", "quiet")
        self.lengths: dict[Way, LengthField] = {way: LengthField() for way in _FIELDS}
        self.reasons: dict[Way, QLabel] = {way: label("", "quiet") for way in _FIELDS}
        self.white = ChoiceField()
        self.white.set_options([(far, tr("{mm} mm", mm=number(far))) for far in TICKS_MM])
        self.white.setPlaceholderText(tr("choose"))
        self.white.setCurrentIndex(-1)
        self.all_switch = SwitchField()
        self.all_switch.setText(tr("Correct even less than a rule can show"))
        self.hint = label("", "warn")
        self.replaces = label("", "quiet")
        self.wrong = label("", "warn")
        self._lay_out()
        self._connect()
        self._show()
        (self.name if not name else self.open_button).setFocus()

    @property
    def chosen_paper(self) -> Paper:
        """The paper that is measured with."""
        return self._papers[max(self.paper.currentIndex(), 0)]

    def accept(self) -> None:
        """Keep what was measured, or say what is missing beside it."""
        lines = {way: self._line(way) for way in _FIELDS}
        try:
            check_name(self.name.text())
        except GeometryError as error:
            self._refuse(str(error), self.name)
            return
        for way, line in lines.items():
            if line is None:
                self._refuse(self.reasons[way].text().removeprefix("! "), self.lengths[way])
                return
        if not isinstance(far := self.white.value(), int):
            self._refuse(tr("Choose the first tick that is whole."), self.white)
            return
        across, along = lines["across"], lines["along"]
        if across is None or along is None:
            return
        try:
            printer = judged_printer(
                self.name.text(),
                across,
                along,
                self.chosen_paper,
                [Length.of(far)],
                day=self._day,
                note=self.note.text(),
                corrects_all=self.all_switch.isChecked(),
            )
        except GeometryError as error:
            self._refuse(str(error), self.name if is_short(self.note.text()) else self.note)
            return
        super().accept()
        self.measured.emit(printer)

    def _line(self, way: Way) -> MeasuredLine | None:
        """Return what was typed of a line; None, with the reason beneath it, if it is none."""
        field, note = self.lengths[way], self.reasons[way]
        line: MeasuredLine | None = None
        role, reading = "warn", ""
        if not field.text().strip():
            words = tr("Type what the rule shows.")
            role = "quiet"
        else:
            try:
                length = parse_length(field.text(), self._unit)
                reading = f"{both_units(length)} · "
                line = measured_line(self.chosen_paper, way, length)
                means = line.words(corrects_all=self.all_switch.isChecked())
                words = f"{reading}{means}"
                role = "quiet"
            except GeometryError as error:
                words = f"! {reading}{error}"
        note.setText(words)
        field.setAccessibleDescription(words)
        if note.property("role") != role:
            note.setProperty("role", role)
            note.style().unpolish(note)
            note.style().polish(note)
        return line

    def _show(self) -> None:
        """Show what was understood so far."""
        lines = [self._line(way) for way in _FIELDS]
        across, along = lines
        hint = fit_hint(across, along) if across is not None and along is not None else ""
        self.hint.setText(f"! {hint}" if hint else "")
        self.hint.setVisible(bool(hint))
        self.all_switch.setVisible(
            any(line is not None and line.is_true and line.factor != 1 for line in lines)
        )
        for way, words in _FIELDS.items():
            meant = meant_words(self.chosen_paper, way, self._unit)
            self._titles[way].setText(tr("{field} (meant: {meant})", field=tr(words), meant=meant))
            self.lengths[way].setAccessibleName(self._titles[way].text())
        before = next(
            (
                each
                for each in self._known
                if each.name == self.name.text().strip()
                and is_same_size(each.paper, self.chosen_paper)
            ),
            None,
        )
        self.replaces.setVisible(before is not None)
        if before is not None:
            self.replaces.setText(
                tr(
                    "This takes the place of what was measured {day}.",
                    day=before.day or tr("on an unknown day"),
                )
            )
        self.wrong.hide()
        self._fit()

    def _refuse(self, reason: str, field: QWidget) -> None:
        self.wrong.setText(f"! {reason}")
        self.wrong.show()
        self._fit()
        self._scroll.ensureWidgetVisible(self.wrong)
        field.setFocus()

    def _write(self) -> None:
        folder, paper, unit = self._folder(), self.chosen_paper, self._unit
        if not isinstance(folder, Path):
            folder = Path.home()
        self.open_button.setEnabled(False)

        def work(_is_wanted: IsWanted) -> Path:
            return _written(folder, paper, unit)

        self._background.ask(work)

    def _on_written(self, path: Path) -> None:
        self.open_button.setEnabled(True)
        self.page_words.setText(tr("Written: {names}.", names=str(path)))
        self.page_words.show()
        self._fit()
        if not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))):
            self.page_words.setText(
                tr("Written: {names}. Open it with a PDF reader.", names=str(path))
            )

    def _on_not_written(self, error: BaseException) -> None:
        if not isinstance(error, OSError):
            raise error
        self.open_button.setEnabled(True)
        reason = why_not(error)
        self.page_words.setText(
            tr("! Not written: {reason}. Choose another folder.", reason=reason)
        )
        self.page_words.show()
        self._fit()

    def _connect(self) -> None:
        for field in self.lengths.values():
            field.set_unit(self._unit)
            field.lineEdit().textChanged.connect(lambda _text: self._show())
        self.paper.committed.connect(lambda _paper: self._show())
        self.white.committed.connect(lambda _far: self._show())
        self.name.textChanged.connect(lambda _text: self._show())
        self.note.textChanged.connect(lambda _text: self.wrong.hide())
        self.all_switch.committed.connect(lambda _on: self._show())

    def _lay_out(self) -> None:
        inside = QWidget()
        self._box = box = QVBoxLayout(inside)
        box.setContentsMargins(26, 24, 26, 12)
        box.setSpacing(8)
        box.addWidget(label(tr("Measure a printer"), "title"))
        box.addWidget(label(tr("1  Print its page at 100 %, never fitted"), "heading"))
        self._titles: dict[Way, QLabel] = {}
        box.addLayout(
            _grid(
                (tr("Name of the printer"), self.name),
                (tr("Note"), self.note),
                (tr("Paper"), self.paper),
            )
        )
        box.addWidget(side_by_side(self.open_button))
        self.page_words.hide()
        box.addWidget(self.page_words)
        box.addSpacing(6)
        box.addWidget(label(tr("2  Type what you read off it"), "heading"))
        for way, field in self.lengths.items():
            title = self._titles[way] = QLabel()
            title.setBuddy(field)
            for part in (title, field, self.reasons[way]):
                box.addWidget(part)
        white = label(tr("First whole tick, the largest of the four edges"))
        white.setBuddy(self.white)
        self.white.setAccessibleName(white.text())
        box.addWidget(white)
        box.addWidget(self.white)
        box.addWidget(self.all_switch)
        for words in (self.hint, self.replaces, self.wrong):
            box.addWidget(words)
        self._scroll = QScrollArea()
        self._scroll.setWidget(inside)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.buttons = QDialogButtonBox()
        self.keep_button = self.buttons.addButton(
            tr("Keep it"), QDialogButtonBox.ButtonRole.AcceptRole
        )
        self.keep_button.setProperty("role", "primary")
        self.buttons.addButton(tr("Cancel"), QDialogButtonBox.ButtonRole.RejectRole)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self.buttons.setContentsMargins(26, 4, 26, 20)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._scroll)
        whole.addWidget(self.buttons)
        self.setFixedWidth(_EMS * self.fontMetrics().height())

    def _fit(self) -> None:
        """Be as high as what is said, or as high as the screen: then it scrolls."""
        wanted = self._box.totalHeightForWidth(self.width()) + self.buttons.sizeHint().height()
        self.resize(self.width(), min(wanted + 4, self.screen().availableSize().height() - 48))


def _grid(*rows: tuple[str, QWidget]) -> QGridLayout:
    grid = QGridLayout()
    grid.setColumnStretch(1, 1)
    grid.setVerticalSpacing(8)
    for row, (words, field) in enumerate(rows):
        title = QLabel(words)
        title.setBuddy(field)
        field.setAccessibleName(words)
        grid.addWidget(title, row, 0)
        grid.addWidget(field, row, 1)
    return grid


def _written(folder: Path, paper: Paper, unit: Unit) -> Path:
    """Write the page where no other file stands; one that says the same is taken as it is."""
    for count in range(1, _MOST_NAMED):
        more = f"-{count}" if count > 1 else ""
        stem = paper.name.replace(" ", "-") if paper in PAPERS.values() else "own"
        path = folder / f"printer-page-{stem}{more}.pdf"
        trial = path.with_name(f".{path.name}.trial")
        trial.unlink(missing_ok=True)
        try:
            write_printer_pages((paper,), trial, unit=unit)
            if not path.exists():
                return trial.replace(path)
            if path.read_bytes() == trial.read_bytes():
                return path
        finally:
            trial.unlink(missing_ok=True)
    raise FileExistsError(tr("Too many printer pages are there already."))
