"""Which printer the pages are made for: choosing, naming and removing those that were measured."""

from collections.abc import Callable, Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from geometry.drawing.paper import PageSetup, Paper
from geometry.drawing.printer import Printer, doubts, find_printer
from geometry.errors import GeometryError
from geometry.tongue import number, tr
from geometry.units import Unit
from layout_gui.panels.fields import ChoiceField, TextField
from layout_gui.panels.parts import button, label, side_by_side, stack
from layout_gui.panels.printer_dialog import PrinterDialog
from layout_gui.project.faults import access_error
from layout_gui.project.printer_file import KnownPrinters, NoPrinterError, PrinterFile

BARS = ""
"""Stands for no printer: templates are corrected by the bars of their first page, if at all."""


def today() -> str:
    """Return the day as the wall calendar has it, as 2026-11-25."""
    return date.today().isoformat()  # noqa: DTZ011  the grower's own day


class PrinterPart(QWidget):
    """The choice of a printer, what was measured of it, and what speaks against that."""

    chosen = Signal(object)
    """The Printer that is meant now, None for the bars."""

    def __init__(
        self,
        file: PrinterFile,
        setup: PageSetup,
        day: Callable[[], str] = today,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._file = file
        self._day = day
        self._known = file.read()
        self._setup = setup
        self._name = setup.stamp.printer if setup.stamp else BARS
        self._before: tuple[Sequence[Printer], str] | None = None
        self._unit: Unit = "mm"
        self.folder: Callable[[], object] = lambda: None
        self.dialog: PrinterDialog | None = None
        self.choice = ChoiceField()
        self.choice.setObjectName("printer")
        self.choice.setAccessibleName(tr("Printer"))
        self.choice.committed.connect(self._on_choice)
        title = QLabel(tr("Printer"))
        title.setBuddy(self.choice)
        self.name = TextField()
        self.name.setObjectName("printer-name")
        self.name.setAccessibleName(tr("Name of the printer"))
        self.name.committed.connect(self._on_name)
        self.name.refused.connect(self._refuse_name)
        name_title = QLabel(tr("Name of the printer"))
        name_title.setBuddy(self.name)
        self._name_reason = label("", "warn")
        self._named = stack(name_title, self.name, self._name_reason)
        self._facts = label("", "quiet")
        self._doubts = label("", "warn")
        self.measure_button = button(
            tr("Measure this printer\N{HORIZONTAL ELLIPSIS}"), self.measure, "link"
        )
        self.remove_button = button(tr("Remove it"), self._on_remove, "link")
        self._said = label("", "quiet")
        self.back_button = button(tr("Take it back"), self._on_back, "link")
        self._undo = stack(self._said, side_by_side(self.back_button))
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(6)
        for part in (
            title, self.choice, self._named, self._facts, self._doubts,
            side_by_side(self.measure_button, self.remove_button), self._undo,
        ):  # fmt: skip
            box.addWidget(part)
        self._show()

    @property
    def printer(self) -> Printer | None:
        """The printer that is chosen, as measured with the paper in use if it was."""
        return find_printer(self._known.printers, self._name, self._setup.paper)

    @property
    def words(self) -> str:
        """Everything that stands here beside the fields."""
        parts = (self._facts, self._doubts, self._said, self._name_reason)
        return "\n".join(part.text() for part in parts if part.isVisibleTo(self))

    def set_unit(self, unit: Unit) -> None:
        """Read lengths in this unit from now on."""
        self._unit = unit

    def show_setup(self, setup: PageSetup) -> None:
        """Show what is known for a setup."""
        self._setup = setup
        self._show()

    def for_paper(self, paper: Paper) -> Printer | None:
        """Return the chosen printer as it is known for another paper; None for the bars."""
        return find_printer(self._known.printers, self._name, paper)

    def measure(self) -> None:
        """Ask for what was read off a printed page."""
        if self.dialog is not None:
            self.dialog.raise_()
            return
        self.dialog = dialog = PrinterDialog(
            self._known.printers,
            self._name,
            self._setup.paper,
            self._unit,
            self._day(),
            self.folder,
            self.window(),
        )
        dialog.measured.connect(self._on_measured)
        dialog.finished.connect(self._on_dialog_closed)
        dialog.open()

    def showEvent(self, event: QShowEvent) -> None:
        """Look again at the file: another window may have changed it."""
        super().showEvent(event)
        known = self._file.read()
        if known != self._known:
            self._take(known)

    def _on_dialog_closed(self) -> None:
        self.dialog = None
        self.measure_button.setFocus()

    def _on_choice(self, name: object) -> None:
        self._name = str(name)
        self._before = None
        self._show()
        self.chosen.emit(self.printer)

    def _on_measured(self, printer: Printer) -> None:
        def keep() -> str:
            self._file.keep(printer)
            self._name = printer.name
            return tr(
                "Kept: {printer} with {paper}.", printer=printer.name, paper=printer.paper.said
            )

        self._do(keep)

    def _on_remove(self) -> None:
        printer = self.printer
        if printer is None:
            return

        def remove() -> str:
            self._file.remove(printer.name, printer.paper)
            return tr(
                "Removed: {printer} with {paper}.", printer=printer.name, paper=printer.paper.said
            )

        self._do(remove)

    def _on_name(self, to: object) -> None:
        before, name = self._name, str(to).strip()

        def rename() -> str:
            self._file.rename(before, name)
            self._name = name
            return tr("{before} is now called {name}.", before=before, name=name)

        self._do(rename)

    def _do(self, change: Callable[[], str]) -> None:
        """Change the file; what was before can be brought back, until something else is done."""
        before = self._file.read().printers, self._name
        try:
            words = change()
        except (GeometryError, NoPrinterError) as error:
            self._refuse_name(str(error))
            return
        except OSError as error:
            self._say(str(access_error(error.filename or self._file.path, "written", error)), None)
            return
        self._say(words, before)
        self._take(self._file.read())

    def _on_back(self) -> None:
        if self._before is None:
            return
        printers, name = self._before
        try:
            self._file.put_back(printers)
        except OSError as error:
            self._say(str(access_error(error.filename or self._file.path, "written", error)), None)
            return
        self._name = name
        self._say(tr("Taken back."), None)
        self._take(self._file.read())
        self.choice.setFocus()

    def _say(self, words: str, before: tuple[Sequence[Printer], str] | None) -> None:
        self._before = before
        self._said.setText(words)
        self.back_button.setVisible(before is not None)

    def _take(self, known: KnownPrinters) -> None:
        self._known = known
        if self._name not in known.names:
            self._name = BARS
        self._show()
        self.chosen.emit(self.printer)

    def _refuse_name(self, reason: str) -> None:
        self._name_reason.setText(f"! {reason}" if reason else "")
        self._name_reason.setVisible(bool(reason))
        self.name.setAccessibleDescription(reason)

    def _show(self) -> None:
        printer = self.printer
        bars = (BARS, tr("not measured, or by the bars"))
        self.choice.set_options((bars, *((name, name) for name in self._known.names)))
        self.choice.show_value(self._name if printer else BARS)
        self.name.show_value(printer.name if printer else "")
        self._refuse_name("")
        facts = _facts(printer) if printer else ""
        found = doubts(printer, self._setup, self._day()) if printer else ()
        warnings = "\n".join(filter(None, (*found, self._known.trouble)))
        self._facts.setText(facts)
        self._doubts.setText(f"! {warnings}" if warnings else "")
        self.choice.setAccessibleDescription(f"{facts} {warnings}".strip())
        self._facts.setVisible(bool(facts))
        self._doubts.setVisible(bool(warnings))
        self._named.setVisible(printer is not None)
        self.remove_button.setVisible(printer is not None)
        self.measure_button.setText(
            tr("Measure this printer\N{HORIZONTAL ELLIPSIS}")
            if printer
            else tr("Measure a printer\N{HORIZONTAL ELLIPSIS}")
        )
        if printer is not None:
            self.remove_button.setAccessibleName(
                tr("Remove {printer} with {paper}", printer=printer.name, paper=printer.paper.said)
            )
        self._undo.setVisible(bool(self._said.text()))


def _facts(printer: Printer) -> str:
    facts = tr(
        "{paper}, measured {day}. Templates are sent {across} across and {along} along; {white} mm "
        "stay white.",
        paper=printer.paper.said,
        day=printer.day or tr("on an unknown day"),
        across=larger(printer.across),
        along=larger(printer.along),
        white=number(printer.border_mm),
    )
    note = tr("Note: {note}.", note=printer.note) if printer.note else ""
    return f"{facts} {note}".rstrip()


def larger(factor: float) -> str:
    """Say by how much something is sent larger or smaller."""
    percent = (factor - 1) * 100
    if percent == 0:
        return tr("as they are")
    if percent > 0:
        return tr("{percent} % larger", percent=number(percent, 2))
    return tr("{percent} % smaller", percent=number(-percent, 2))
