"""Printing the pages in sight, and opening them as a PDF in the program that shows such files."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PySide6.QtCore import QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QLineEdit, QProgressBar, QVBoxLayout, QWidget

from geometry.drawing.paper import PageSetup
from geometry.plan import Plan
from geometry.tongue import number, tr, tr_n
from layout_gui.document.post import Post
from layout_gui.output.documents import TEMPLATE
from layout_gui.output.export import Pages, export
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.make_asks import AsksForFolder
from layout_gui.panels.parts import button, label, side_by_side, stack
from layout_gui.panels.sight import Sight
from layout_gui.panels.viewer import fresh_folder
from layout_gui.project.faults import access_error
from layout_gui.screen.pages import sent_size
from layout_gui.screen.printing import PrintJob, fit_of, loaded_paper, make_printer, size_of

_NO_NAME: Final = frozenset('/\\:*?"<>|')

ChoosesPrinter = Callable[[QPrinter, str, QWidget, Callable[[], object]], object]
"""Lets the grower set a printer up, or a file of a suggested name; calls back if it is to print."""


@dataclass(frozen=True, slots=True)
class Order:
    """What a document is written from."""

    plan: Plan
    setup: PageSetup
    pages: Pages


class Outlet(QWidget):
    """Two buttons, and below them how far the work is or what came of it."""

    finished = Signal()

    def __init__(
        self,
        asks: AsksForFolder,
        order: Callable[[], Order | None],
        parent: QWidget | None = None,
        *,
        choose: ChoosesPrinter | None = None,
        open_url: Callable[[QUrl], bool] | None = None,
    ) -> None:
        super().__init__(parent)
        self._asks = asks
        self._order = order
        self._choose = choose or choose_printer
        self._open_url = open_url or QDesktopServices.openUrl
        self._shown: Sight | None = None
        self._is_current = True
        self._is_wanted = False
        self._job: PrintJob | None = None
        self._background = Background(self)
        self._background.done.connect(self._on_written)
        self._background.failed.connect(self._on_failed)
        self._post = Post(self)
        self.print_button = button(tr("Print\u2026"), self.print_pages)
        self.print_button.setToolTip(tr("Prints the pages that are ticked, at true size (Ctrl+P)"))
        self.view_button = button(tr("Open in the viewer"), self.open_in_viewer)
        self.view_button.setToolTip(
            tr("Opens the pages that are ticked in the program that shows PDF files here")
        )
        self.progress = QProgressBar()
        self.progress.setRange(0, 1000)
        self.cancel_button = button(tr("Cancel"), self.cancel)
        self._running = stack(self.progress, side_by_side(self.cancel_button))
        self.result = label("")
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 4, 0, 0)
        box.setSpacing(6)
        box.addWidget(side_by_side(self.print_button, self.view_button))
        box.addWidget(self._running)
        box.addWidget(self.result)
        self._end("")

    @property
    def is_busy(self) -> bool:
        """Whether pages are being printed or written."""
        return self._job is not None or self._background.is_busy

    def show_sight(self, sight: Sight | None) -> None:
        """Print and open these pages from now on; None while they are being drawn."""
        self._shown = sight
        self._on_sight()

    def set_current(self, *, is_current: bool) -> None:
        """Tell whether the pages are of the project as it is, or of one that has changed since."""
        self._is_current = is_current
        self._on_sight()

    @property
    def _sight(self) -> Sight | None:
        return self._shown if self._is_current else None

    def _on_sight(self) -> None:
        self._show_buttons()
        if self._sight is not None and self._is_wanted:
            self.print_pages()

    def print_pages(self) -> None:
        """Ask for a printer, then print; pages that are not drawn yet are waited for."""
        self._is_wanted = self._sight is None
        sight = self._sight
        if sight is None or self.is_busy:
            return
        if not sight.pages:
            self._end(tr("No page is ticked."))
            return
        printer = make_printer(self._title(sight))
        self._choose(printer, sight.file, self, lambda: self._print_if_it_fits(printer, sight))

    def open_in_viewer(self) -> None:
        """Write the ticked pages to a file of the program's own and open it."""
        sight, order = self._sight, self._order()
        if sight is None or order is None or self.is_busy:
            return

        def work(is_wanted: IsWanted) -> tuple[str, tuple[Path, ...]]:
            def tell(share: float, _name: str) -> bool:
                if is_wanted():
                    self._post.send(lambda: self._on_told(share))
                return is_wanted()

            folder = fresh_folder()
            only = frozenset({sight.file})
            return sight.file, export(
                order.plan, folder, only, setup=order.setup, pages=order.pages, progress=tell
            )

        self._begin(tr("Writing the pages \u2026"))
        self._background.ask(work)

    def cancel(self) -> None:
        """Stop; what was printed or written so far is taken back as far as that can be."""
        job, self._job = self._job, None
        if job is not None:
            job.cancel()
        self._background.forget()
        self._end(tr("Stopped."))

    def _print_if_it_fits(self, printer: QPrinter, sight: Sight) -> None:
        loaded = loaded_paper(printer)
        too_large = [page for page in sight.pages if fit_of(loaded, page) == "smaller"]
        if loaded is None or not too_large:
            self._print(printer, sight)
            return
        page, paper = max(map(sent_size, too_large)), size_of(loaded)
        self._asks.confirm(
            tr("Is the right paper in the printer?"),
            tr(
                "The printer is set to {name}, {paper}. These pages measure {page}: on smaller "
                "paper they are cut off or shrunk, and nothing measures right. Put in paper of "
                "that size, or choose other paper under Make.",
                name=loaded.name(),
                paper=_size(*paper),
                page=_size(*page),
            ),
            tr("Print on paper of that size"),
            lambda: self._print(printer, sight),
        )

    def _print(self, printer: QPrinter, sight: Sight) -> None:
        target = printer.outputFileName()
        job = self._job = PrintJob(printer, sight.pages, self)
        count = len(sight.pages)
        job.told.connect(lambda at: self._on_page(at, count))
        job.done.connect(lambda: self._on_printed(target or printer.printerName(), sight))
        job.failed.connect(self._on_refused)
        self._begin("")
        job.start()

    def _on_told(self, share: float) -> None:
        self.progress.setValue(round(1000 * share))

    def _on_page(self, at: int, count: int) -> None:
        self.progress.setValue(round(1000 * (at - 1) / count))
        self.progress.setFormat(tr("page {number} of {total}", number=at, total=count))

    def _on_printed(self, where: str, sight: Sight) -> None:
        self._job = None
        sent = tr_n(
            "{n} page sent to {where}.", "{n} pages sent to {where}.", len(sight.pages), where=where
        )
        self._end(f"{sent} {_measure_first(sight.file)}".rstrip())

    def _on_refused(self, reason: str) -> None:
        self._job = None
        self._end(f"! {reason}")

    def _on_written(self, written: tuple[str, tuple[Path, ...]]) -> None:
        file, paths = written
        if not paths:
            return
        if not self._open_url(QUrl.fromLocalFile(str(paths[0]))):
            self._end(
                tr("! No program here opens PDF files. Export the pages to a folder instead.")
            )
            return
        how = tr("Print there at 100 %: choose actual size, never fit or shrink to the page.")
        self._end(f"{how} {_measure_first(file)}".rstrip())

    def _on_failed(self, error: BaseException) -> None:
        self._end("")
        if not isinstance(error, OSError):
            raise error
        self._end(f"! {access_error(error.filename or '', 'written', error)}")

    def _begin(self, words: str) -> None:
        self.progress.setValue(0)
        self.progress.setFormat(words)
        self.progress.setAccessibleName(words or tr("Print"))
        self.result.hide()
        self._running.show()
        self._show_buttons(is_busy=True)

    def _end(self, words: str) -> None:
        self._running.hide()
        self.result.setText(words)
        self.result.setVisible(bool(words))
        self._show_buttons()
        self.finished.emit()

    def _show_buttons(self, *, is_busy: bool = False) -> None:
        may = bool(self._sight and self._sight.pages) and not (is_busy or self.is_busy)
        for press in (self.print_button, self.view_button):
            press.setEnabled(may)

    def _title(self, sight: Sight) -> str:
        """Name the job with signs that any disk takes in the name of a file."""
        order = self._order()
        name = f"{order.plan.project.name} - {sight.title}" if order else sight.title
        return "".join("-" if sign in _NO_NAME else sign for sign in name)


def choose_printer(
    printer: QPrinter, file: str, parent: QWidget, go_on: Callable[[], object]
) -> None:
    """Ask with the printer dialog of the desktop; which pages is chosen by their ticks alone."""
    dialog = QPrintDialog(printer, parent)
    options = QPrintDialog.PrintDialogOption
    dialog.setOptions(options.PrintToFile | options.PrintShowPageSize)
    # Qt's own dialog names the folder of a file and leaves its name open.
    line = dialog.findChild(QLineEdit, "filename")
    if isinstance(line, QLineEdit) and line.text().endswith("/"):
        line.setText(line.text() + file)
    dialog.accepted.connect(go_on)
    dialog.finished.connect(dialog.deleteLater)
    QDialog.open(dialog)


def _measure_first(file: str) -> str:
    if file != TEMPLATE:
        return ""
    return tr("Before drilling, measure the bar on the first page: it must be 100 mm.")


def _size(width_mm: float, height_mm: float) -> str:
    return tr(
        "{width} \N{MULTIPLICATION SIGN} {height} mm",
        width=number(round(width_mm, 1)),
        height=number(round(height_mm, 1)),
    )
