"""Pages on a printer at true size: which paper, and one page after the other without blocking."""

import os
from collections.abc import Generator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Final, Literal

from PySide6.QtCore import QMarginsF, QObject, QSizeF, QTimer, Signal
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from geometry.drawing.paper import Page
from geometry.tongue import tr
from layout_gui.output.landing import Landing
from layout_gui.project.faults import access_error
from layout_gui.screen.pages import page_steps, sent_size, sent_transform

Fit = Literal["same", "larger", "smaller"]
"""How large a printer's paper is beside the page."""

_ALIKE_MM: Final = 1.0
"""Printers know their paper to the point or to the tenth of an inch."""
_MM_PER_INCH: Final = 25.4
_END: Final = b"%%EOF"
"""What a whole PDF ends with."""


def make_printer(title: str) -> QPrinter:
    """Return the usual printer of this machine at its finest, for a document of this title."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setCreator("Raftwright")
    printer.setDuplex(QPrinter.DuplexMode.DuplexNone)
    return printer


def loaded_paper(printer: QPrinter) -> QPageSize | None:
    """Return the paper that a printer expects; None for a file, which takes every page as it is."""
    return None if printer.outputFileName() else printer.pageLayout().pageSize()


def size_of(paper: QPageSize) -> tuple[float, float]:
    """Return the width and height of paper in millimetres, upright."""
    size = paper.size(QPageSize.Unit.Millimeter)
    return size.width(), size.height()


def fit_of(loaded: QPageSize | None, page: Page) -> Fit:
    """Tell whether a page finds room on the paper that is loaded."""
    if loaded is None:
        return "same"
    paper, sent = sorted(size_of(loaded)), sorted(sent_size(page))
    rooms = [have - need for have, need in zip(paper, sent, strict=True)]
    if all(abs(room) <= _ALIKE_MM for room in rooms):
        return "same"
    return "larger" if all(room >= -_ALIKE_MM for room in rooms) else "smaller"


def set_page(printer: QPrinter, page: Page, loaded: QPageSize | None) -> tuple[float, float]:
    """Set the printer to a page without margins; return where the page begins, left and top, in mm.

    A page that finds room on larger paper that is ``loaded`` is put in its middle; else the paper
    is the page's own. A dialog may have set anything, so that this comes after it.
    """
    width, height = sent_size(page)
    is_turned, left, top = False, 0.0, 0.0
    if loaded is not None and fit_of(loaded, page) == "larger":
        paper = loaded
        across, along = size_of(paper)
        is_turned = (width > height) != (across > along)
        if is_turned:
            across, along = along, across
        left, top = (across - width) / 2, (along - height) / 2
    else:
        paper = page_size(width, height)
    printer.setFullPage(True)
    printer.setPageLayout(
        QPageLayout(
            paper,
            QPageLayout.Orientation.Landscape if is_turned else QPageLayout.Orientation.Portrait,
            QMarginsF(),
        )
    )
    return left, top


def page_size(width_mm: float, height_mm: float) -> QPageSize:
    """Return a size of paper: a standard one by its name, so that printers know it."""
    size = QSizeF(round(width_mm, 3), round(height_mm, 3))
    millimetres = QPageSize.Unit.Millimeter
    known = QPageSize.id(size, millimetres, QPageSize.SizeMatchPolicy.ExactMatch)
    if known is not QPageSize.PageSizeId.Custom:
        return QPageSize(known)
    return QPageSize(size, millimetres, "", QPageSize.SizeMatchPolicy.ExactMatch)


class PrintJob(QObject):
    """Draws pages on a printer, a part of a page each time the window has nothing else to do.

    ``told`` carries the number of the page, from 1, that is being drawn. Then comes ``done`` or
    ``failed`` (with a sentence), or nothing where the job was cancelled. Printing into a file
    leaves a whole file or none.
    """

    told = Signal(int)
    done = Signal()
    failed = Signal(str)

    def __init__(
        self, printer: QPrinter, pages: Sequence[Page], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._printer = printer
        self._pages = tuple(pages)
        self._painter: QPainter | None = None
        self._steps: Generator[int] | None = None
        self._told = 0
        self._loaded: QPageSize | None = None
        self._file = ExitStack()
        self._landing: Landing | None = None

    @property
    def is_running(self) -> bool:
        """Whether pages are still to come."""
        return self._painter is not None

    def start(self) -> None:
        """Begin; the printer's paper is set here, after the dialog."""
        target = self._printer.outputFileName()
        self._loaded = loaded_paper(self._printer)
        try:
            if target:
                self._write_beside(Path(target))
        except OSError as error:
            self.failed.emit(str(access_error(target, "written", error)))
            return
        set_page(self._printer, self._pages[0], self._loaded)
        painter = QPainter()
        if not painter.begin(self._printer):
            self._file.close()
            self.failed.emit(self._no_page())
            return
        self._painter = painter
        self._steps = self._draw(painter)
        QTimer.singleShot(0, self, self._step)

    def cancel(self) -> None:
        """Stop; the printer is told to forget what it has got."""
        if self._painter is not None:
            self._printer.abort()
            self._end()
            self._file.close()

    def _write_beside(self, target: Path) -> None:
        landing = self._file.enter_context(Landing(target.parent))
        part = self._file.enter_context(landing.writing(target.name))
        self._printer.setOutputFileName(str(part))
        self._printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        self._landing = landing

    def _step(self) -> None:
        if self._steps is None:
            return
        try:
            number = next(self._steps, 0)
        except BaseException:  # Qt does not survive a painter that outlives its printer
            self.cancel()
            self.failed.emit(tr("The pages could not be drawn."))
            raise
        if not number:
            self._finish()
            return
        if number != self._told:
            self._told = number
            self.told.emit(number)
        QTimer.singleShot(0, self, self._step)

    def _draw(self, painter: QPainter) -> Generator[int]:
        for number, page in enumerate(self._pages, start=1):
            left, top = set_page(self._printer, page, self._loaded)
            if number > 1 and not self._printer.newPage():
                self._printer.abort()
                return
            across = self._printer.logicalDpiX() / _MM_PER_INCH
            along = self._printer.logicalDpiY() / _MM_PER_INCH
            yield number
            to_device = sent_transform(page, across, along, left, top)
            for _ in page_steps(painter, page, to_device, "text"):
                yield number

    def _end(self) -> None:
        painter, self._painter = self._painter, None
        steps, self._steps = self._steps, None
        if steps is not None:
            steps.close()
        if painter is not None:
            painter.end()

    def _finish(self) -> None:
        self._end()
        good = {QPrinter.PrinterState.Idle, QPrinter.PrinterState.Active}
        is_good = self._printer.printerState() in good and self._is_whole()
        reason = "" if is_good else self._no_page()
        try:
            if self._landing is not None and not reason:
                self._landing.land()
        except OSError as error:
            reason = str(access_error(error.filename, "written", error))
        self._file.close()
        if reason:
            self.failed.emit(reason)
        else:
            self.done.emit()

    def _is_whole(self) -> bool:
        """Look at how the file ends: of a full disk Qt says nothing."""
        if self._landing is None:
            return True
        try:
            with Path(self._printer.outputFileName()).open("rb") as file:
                file.seek(-min(file.seek(0, os.SEEK_END), len(_END) + 2), os.SEEK_END)
                return _END in file.read()
        except OSError:
            return False

    def _no_page(self) -> str:
        if self._landing is not None:
            return tr(
                "The file of the pages cannot be written whole; make room on the disk, or choose "
                "another folder."
            )
        return tr(
            "The printer “{name}” takes no pages; see that it is on and ready, then try again.",
            name=self._printer.printerName(),
        )
