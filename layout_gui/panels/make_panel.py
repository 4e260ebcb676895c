"""The fields of the station Make: paper, what to write, where to, and the writing itself."""

from pathlib import Path
from typing import Final

from PySide6.QtCore import QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QProgressBar, QWidget

from geometry.drawing.paper import PageSetup
from geometry.model.project import Project
from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document
from layout_gui.document.post import Post
from layout_gui.output.drawings import kind_of
from layout_gui.output.export import (
    Pages,
    UnknownFileError,
    export,
    offered_names,
    tells_cuts,
    written_as,
)
from layout_gui.output.lacking import lacking
from layout_gui.output.pictures import PictureError
from layout_gui.panels.background import Background, IsWanted
from layout_gui.panels.cut_status import CutStatus
from layout_gui.panels.files_part import FilesPart
from layout_gui.panels.made_part import MadePart
from layout_gui.panels.make_asks import AsksForFolder, RemembersMaking
from layout_gui.panels.now import Now
from layout_gui.panels.outlet import Order, Outlet
from layout_gui.panels.page_setup import PageSetupPart, kept_bars, read_setup
from layout_gui.panels.parts import Column, Fold, button, label, side_by_side, stack
from layout_gui.panels.picture_part import PicturePart
from layout_gui.panels.supplies_part import SuppliesPart
from layout_gui.panels.templates_part import TemplatesPart
from layout_gui.panels.tips import plain_tip
from layout_gui.panels.words import counted
from layout_gui.project.faults import access_error
from layout_gui.project.printer_file import PrinterFile

_MOST_NAMES: Final = 6
_Written = tuple[tuple[Path, ...], tuple[str, ...]]
"""The files, and what to know: what was left out, letters that no font here has."""


class MakePanel(Column):
    """Chooses paper and files, and writes them in a worker while the window stays alive."""

    setup_chosen = Signal(object)
    finished = Signal()

    def __init__(
        self,
        document: Document,
        search: CutSearch,
        asks: AsksForFolder,
        settings: RemembersMaking,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tr("Make"), parent)
        self._document = document
        self._search = search
        self._waiting: tuple[str, ...] = ()
        self._asks = asks
        self._settings = settings
        self._plan: Plan | None = None
        self._writing: Project | None = None
        self._folder = settings.export_folder
        self.exported: Project | None = None
        self._background = Background(self)
        self._background.done.connect(self._on_done)
        self._background.failed.connect(self._on_failed)
        self._post = Post(self)
        search.changed.connect(self._on_searched)
        self.status = CutStatus(search)
        printers = PrinterFile()
        setup = read_setup(settings.page_texts, printers.read().printers)
        bars = kept_bars(settings.page_texts)
        self.page_setup = PageSetupPart(setup, self, printers=printers, bars=bars)
        self.page_setup.printer.folder = lambda: self._folder
        self.supplies = SuppliesPart(document)
        self.made = MadePart(document)
        self.compared = TemplatesPart(setup)
        self.compared.pegs_meant.connect(self.page_setup.set_pegs)
        self.templates = Fold(tr("Templates compared"), self.compared)
        self.outlet = Outlet(asks, self._order)
        self._pages: Pages = {}
        self._pages_words = label("", "quiet")
        self.files = FilesPart()
        self.files.changed.connect(self._show_button)
        self.files.period.meant.connect(self.page_setup.set_period)
        self.pictures = PicturePart()
        self._where = label("", "quiet")
        self.folder_button = button(tr("Choose another folder\u2026"), self._ask_folder, "link")
        self.export_button = button(tr("Export"), self.start, "primary")
        self.progress = QProgressBar()
        self.progress.setAccessibleName(tr("Export"))
        self.progress.setRange(0, 1000)
        self.cancel_button = button(tr("Cancel"), self.cancel)
        self._running = stack(self.progress, side_by_side(self.cancel_button))
        self.result = label("")
        self.open_button = button(tr("Open the folder"), self._open_folder, "link")
        self.again_button = button(tr("Try again"), self.start)
        self.elsewhere_button = button(tr("Another folder\u2026"), self._ask_elsewhere)
        self._ways_on = side_by_side(self.again_button, self.elsewhere_button)
        self._fill()

    def set_pages(self, pages: Pages) -> None:
        """Write only these pages of these documents from now on."""
        self._pages = pages
        self._pages_words.setVisible(bool(pages))
        self._pages_words.setText(
            tr("Not all pages are ticked: those that are go into a file apart.")
        )
        self._show_button()

    def show_now(self, now: Now) -> None:
        """Show what this moment's plan can be written as."""
        self._plan = now.plan
        self.status.show_plan(now.plan)
        self.page_setup.set_unit(now.project.units)
        self.supplies.show_now(now)
        self.made.show_now(now)
        self.compared.set_unit(now.project.units)
        self.compared.show_plan(now.plan)
        self.outlet.set_current(is_current=now.plan.project is now.project)
        self._show_button()

    def set_folder(self, folder: Path) -> None:
        """Write into another folder from now on."""
        self._folder = folder
        self._settings.export_folder = folder
        self._where.setText(str(folder))
        self._where.setToolTip(plain_tip(str(folder)))

    @property
    def is_writing(self) -> bool:
        """Whether files are being written, or are waiting for the best cut plan."""
        return bool(self._waiting) or self._background.is_busy or self.outlet.is_busy

    def stop(self) -> None:
        """Stop whatever is being written or printed."""
        if self._waiting or self._background.is_busy:
            self.cancel()
        if self.outlet.is_busy:
            self.outlet.cancel()

    def _order(self) -> Order | None:
        plan = self._plan
        return Order(plan, self.page_setup.setup, self._pages) if plan is not None else None

    def names(self) -> tuple[str, ...]:
        """Return the names of the files that are chosen."""
        if self._plan is None:
            return ()
        kinds = self.files.kinds
        names = offered_names(self._plan) if kinds else ()
        chosen = (name for name in names if kind_of(name) in kinds)
        return tuple(name for name in chosen if self._pages.get(name, True))

    def start(self) -> None:
        """Write the chosen files, after asking about those that are there already."""
        names = self.names()
        written = [written_as(name, self._pages) for name in names]
        there = [name for name in written if (self._folder / name).exists()]
        there += self.pictures.there(self._folder, names)
        if not there:
            self._write(names)
            return
        self._asks.confirm(
            tr("Replace files?"),
            tr("In {folder} there is already {names}.", folder=self._folder, names=_listed(there)),
            tr("Replace"),
            lambda: self._write(names),
        )

    def cancel(self) -> None:
        """Stop writing; the files that were there before stay as they were."""
        self._waiting = ()
        self._background.forget()
        self._end(tr("Nothing was written."), was_written=False)

    def _fill(self) -> None:
        self.set_title(tr("Make"), tr("The pages as the printer will bring them, always at 100 %."))
        self.page_setup.changed.connect(self._on_setup)
        self.add(self.page_setup.paper)
        self.add(self.outlet)
        self.add_heading(tr("Cutting"))
        self.add(self.status)
        self.add_heading(tr("Files to write"))
        self.add(self.files)
        self.add(self.templates)
        self.add(self.pictures)
        self._pages_words.hide()
        self.add(self._pages_words)
        self.add_heading(tr("Into the folder"))
        self.add(self._where)
        self.add(side_by_side(self.folder_button))
        for part in (
            self.export_button,
            self._running,
            self.result,
            side_by_side(self.open_button),
            self._ways_on,
        ):
            self.add(part)
        self.add_heading(tr("When the rafts are drilled"))
        self.add(self.made)
        self.add_heading(tr("For the shopping list"))
        self.add(self.supplies)
        self.add_heading(tr("Borders and printer"))
        self.add(self.page_setup.details)
        self.set_folder(self._folder)
        self._end("", was_written=False)

    def _on_setup(self, setup: PageSetup) -> None:
        self._settings.page_texts = self.page_setup.texts
        self.compared.show_setup(setup)
        self.setup_chosen.emit(setup)

    def _ask_folder(self) -> None:
        self._asks.folder(self._folder, self.set_folder)

    def _ask_elsewhere(self) -> None:
        def go_on(folder: Path) -> None:
            self.set_folder(folder)
            self.start()

        self._asks.folder(self._folder, go_on)

    def _open_folder(self) -> None:
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._folder)))

    def _show_button(self) -> None:
        count = len(self.names())
        self.export_button.setText(
            tr("Export {files}", files=counted(count, "file")) if count else tr("Export")
        )
        self.export_button.setEnabled(count > 0 and not self._background.is_busy)

    def _write(self, names: tuple[str, ...]) -> None:
        plan, folder = self._plan, self._folder
        setup, pages = self.page_setup.setup, self._pages
        letters = self.files.letters
        pictures = self.pictures.wish()
        if plan is None:
            return
        self.result.setText("")
        self.open_button.hide()
        self._ways_on.hide()
        self.export_button.hide()
        self._running.show()
        if self._search.state == "searching" and tells_cuts(names):
            # Files tell of the best cut plan; it comes, or the search for it is stopped.
            self._waiting = names
            self._on_told(0.0, tr("looking for the best cut plan \N{HORIZONTAL ELLIPSIS}"))
            return
        self._writing = plan.project
        self._on_told(0.0, names[0])

        def work(is_wanted: IsWanted) -> _Written:
            def tell(share: float, name: str) -> bool:
                if is_wanted():
                    self._post.send(lambda: self._on_told(share, name))
                return is_wanted()

            missing: list[str] = []
            paths = export(
                plan,
                folder,
                frozenset(names),
                setup=setup,
                pages=pages,
                letters=letters,
                pictures=pictures,
                progress=tell,
                left_out=missing.append,
            )
            return paths, (*missing, *lacking(plan.project, paths, letters))

        self._background.ask(work)

    def _on_searched(self) -> None:
        if self._waiting:
            self._waiting = ()
            self._plan = self._document.settled
            self._write(self.names())

    def _on_told(self, share: float, name: str) -> None:
        self.progress.setValue(round(share * 1000))
        self.progress.setFormat(name)

    def _on_done(self, written: _Written) -> None:
        self.exported = self._writing
        paths, lacks = written
        words = tr("Written: {names}.", names=_listed([path.name for path in paths]))
        self._end("\n".join((words, *lacks)), was_written=True)

    def _on_failed(self, error: BaseException) -> None:
        if isinstance(error, (PictureError, UnknownFileError)):
            self._end(f"! {error}", was_written=False)
            self.bring(self.result)
            return
        if not isinstance(error, OSError):
            raise error
        reason = access_error(error.filename or self._folder, "written", error)
        self._end(f"! {reason}", was_written=False)
        self._ways_on.show()
        self.bring(self.result, self._ways_on)

    def _end(self, words: str, *, was_written: bool) -> None:
        self._running.hide()
        self._ways_on.hide()
        self.export_button.show()
        self.result.setText(words)
        self.result.setVisible(bool(words))
        self.open_button.setVisible(was_written)
        self._show_button()
        self.finished.emit()


def _listed(names: list[str]) -> str:
    shown = ", ".join(names[:_MOST_NAMES])
    more = len(names) - _MOST_NAMES
    return tr("{shown} and {more} more", shown=shown, more=more) if more > 0 else shown
