"""Printing and opening from the window: asked about, warned of, stopped, and told what to do."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QUrl
from PySide6.QtGui import QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.drawing.template import compose_template
from geometry.plan import make_plan
from layout_gui.document.state import state_folder
from layout_gui.output.documents import CUT_SHEET, TEMPLATE
from layout_gui.panels.outlet import Order, Outlet, choose_printer
from layout_gui.panels.sight import Sight
from layout_gui.screen.printing import make_printer
from tests.layout_gui.panels.desk import OFFSCREEN, make_project

pytestmark = OFFSCREEN
PLAN = make_plan(make_project())
SETUP = PageSetup(PAPERS["A4"])
PAGES = compose_template(PLAN, SETUP)[:3]
TIMES = "\N{MULTIPLICATION SIGN}"
SIGHT = Sight(TEMPLATE, "Template", PAGES)


class Asks:
    def __init__(self, *, agrees: bool = True) -> None:
        self.questions: list[str] = []
        self._agrees = agrees

    def folder(self, _start: Path, _answer: Callable[[Path], object]) -> None:
        raise AssertionError

    def confirm(self, _title: str, text: str, _verb: str, answer: Callable[[], object]) -> None:
        self.questions.append(text)
        if self._agrees:
            answer()


class Chooses:
    """A printer dialog that hands back a file, or a printer that is none, and other paper."""

    def __init__(self, file: Path | None, paper: QPageSize.PageSizeId | None = None) -> None:
        self._file = file
        self._paper = paper
        self.titles: list[str] = []

    def __call__(
        self, printer: QPrinter, _file: str, _parent: QWidget, go_on: Callable[[], object]
    ) -> None:
        self.titles.append(printer.docName())
        if self._file is not None:
            printer.setOutputFileName(str(self._file))
        if self._paper is not None:
            printer.setPageSize(QPageSize(self._paper))
        go_on()


def make_outlet(
    qtbot: QtBot,
    chooses: Chooses,
    *,
    asks: Asks | None = None,
    open_url: Callable[[QUrl], bool] | None = None,
    order: Order | None = None,
) -> Outlet:
    made = order or Order(PLAN, SETUP, {})
    outlet = Outlet(asks or Asks(), lambda: made, choose=chooses, open_url=open_url)
    qtbot.addWidget(outlet)
    outlet.show()
    return outlet


def test_the_ticked_pages_are_printed_and_how_to_check_them_is_said(
    qtbot: QtBot, tmp_path: Path
) -> None:
    chooses = Chooses(tmp_path / "out.pdf")
    outlet = make_outlet(qtbot, chooses)
    assert not outlet.print_button.isEnabled()
    outlet.show_sight(SIGHT)

    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.print_button.click()
        assert outlet.is_busy
        assert outlet.progress.isVisible()
        assert not outlet.print_button.isEnabled()

    assert chooses.titles == ["Bench test - Template"]
    assert len(PdfReader(tmp_path / "out.pdf").pages) == 3
    assert outlet.result.text() == (
        f"3 pages sent to {tmp_path / 'out.pdf'}. "
        "Before drilling, measure the bar on the first page: it must be 100 mm."
    )
    assert outlet.print_button.isEnabled()
    assert not outlet.progress.isVisible()


def test_a_job_is_named_so_that_it_may_name_a_file(qtbot: QtBot, tmp_path: Path) -> None:
    chooses = Chooses(tmp_path / "out.pdf")
    plan = make_plan(make_project(name="West/East: 2"))
    outlet = make_outlet(qtbot, chooses, order=Order(plan, SETUP, {}))
    outlet.show_sight(SIGHT)

    outlet.print_button.click()
    outlet.cancel()

    assert chooses.titles == ["West-East- 2 - Template"]


def test_pages_that_are_still_drawn_are_waited_for(qtbot: QtBot, tmp_path: Path) -> None:
    chooses = Chooses(tmp_path / "out.pdf")
    outlet = make_outlet(qtbot, chooses)

    outlet.print_pages()
    assert chooses.titles == []
    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.show_sight(SIGHT)
    outlet.show_sight(SIGHT)

    assert len(chooses.titles) == 1


def test_pages_of_a_project_that_has_changed_since_are_not_printed(
    qtbot: QtBot, tmp_path: Path
) -> None:
    chooses = Chooses(tmp_path / "out.pdf")
    outlet = make_outlet(qtbot, chooses)
    outlet.show_sight(SIGHT)

    outlet.set_current(is_current=False)
    outlet.print_pages()
    assert not outlet.print_button.isEnabled()
    assert chooses.titles == []
    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.set_current(is_current=True)

    assert len(chooses.titles) == 1


def test_without_a_ticked_page_nothing_is_printed(qtbot: QtBot, tmp_path: Path) -> None:
    chooses = Chooses(tmp_path / "out.pdf")
    outlet = make_outlet(qtbot, chooses)
    outlet.show_sight(Sight(TEMPLATE, "Template", ()))

    outlet.print_pages()

    assert chooses.titles == []
    assert outlet.result.text() == "No page is ticked."
    assert not outlet.print_button.isEnabled()
    assert not outlet.view_button.isEnabled()


@pytest.mark.parametrize("agrees", [True, False])
def test_smaller_paper_in_the_printer_is_warned_of(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, *, agrees: bool
) -> None:
    jobs: list[int] = []
    monkeypatch.setattr(
        Outlet, "_print", lambda _self, _printer, sight: jobs.append(len(sight.pages))
    )
    asks = Asks(agrees=agrees)
    outlet = make_outlet(qtbot, Chooses(None, QPageSize.PageSizeId.Letter), asks=asks)
    outlet.show_sight(SIGHT)

    outlet.print_button.click()

    assert len(asks.questions) == 1
    assert f"215.9 {TIMES} 279.4 mm" in asks.questions[0]
    assert f"210 {TIMES} 297 mm" in asks.questions[0]
    assert jobs == ([3] if agrees else [])


def test_the_right_paper_is_no_question(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    jobs: list[int] = []
    monkeypatch.setattr(Outlet, "_print", lambda _self, _printer, _sight: jobs.append(1))
    asks = Asks()
    for paper in (QPageSize.PageSizeId.A4, QPageSize.PageSizeId.A3):
        outlet = make_outlet(qtbot, Chooses(None, paper), asks=asks)
        outlet.show_sight(SIGHT)
        outlet.print_button.click()

    assert asks.questions == []
    assert jobs == [1, 1]


def test_printing_can_be_stopped(qtbot: QtBot, tmp_path: Path) -> None:
    outlet = make_outlet(qtbot, Chooses(tmp_path / "out.pdf"))
    outlet.show_sight(SIGHT)

    outlet.print_button.click()
    outlet.cancel_button.click()

    assert outlet.result.text() == "Stopped."
    assert not outlet.is_busy
    assert outlet.print_button.isEnabled()
    qtbot.wait(20)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_cannot_be_printed_to_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "out.pdf").mkdir()
    outlet = make_outlet(qtbot, Chooses(tmp_path / "out.pdf"))
    outlet.show_sight(SIGHT)

    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.print_button.click()

    assert outlet.result.text().startswith("! ")
    assert "it is a folder" in outlet.result.text()
    assert outlet.print_button.isEnabled()


@pytest.mark.parametrize(("file", "says_bar"), [(TEMPLATE, True), (CUT_SHEET, False)])
def test_the_viewer_gets_a_file_of_the_programs_own(
    qtbot: QtBot, tmp_path: Path, file: str, *, says_bar: bool
) -> None:
    opened: list[Path] = []

    def open_url(url: QUrl) -> bool:
        opened.append(Path(url.toLocalFile()))
        return True

    order = Order(PLAN, SETUP, {file: frozenset({1})})
    outlet = make_outlet(qtbot, Chooses(None), open_url=open_url, order=order)
    outlet.show_sight(Sight(file, "x", PAGES[:1]))
    old = state_folder() / "viewer" / "old"
    old.mkdir(parents=True, exist_ok=True)
    (old / "template.pdf").write_text("yesterday's")
    ago = time.time() - 2 * 24 * 3600
    os.utime(old, (ago, ago))

    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.view_button.click()

    (path,) = opened
    assert path.is_relative_to(state_folder() / "viewer")
    assert len(PdfReader(path).pages) == 1
    assert outlet.result.text().startswith("Print there at 100 %: choose actual size")
    assert ("measure the bar" in outlet.result.text()) is says_bar
    assert not old.exists()


def test_without_a_program_for_pdf_files_the_way_on_is_said(qtbot: QtBot) -> None:
    outlet = make_outlet(qtbot, Chooses(None), open_url=lambda _url: False)
    outlet.show_sight(SIGHT)

    with qtbot.waitSignal(outlet.finished, timeout=20_000):
        outlet.view_button.click()

    assert outlet.result.text().startswith("! No program here opens PDF files.")


def test_a_state_folder_that_cannot_be_written_is_told(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setattr("layout_gui.panels.viewer.state_folder", lambda: tmp_path / "file")
    outlet = make_outlet(qtbot, Chooses(None), open_url=lambda _url: True)
    outlet.show_sight(SIGHT)

    outlet.view_button.click()
    qtbot.waitUntil(lambda: outlet.result.text().startswith("! "), timeout=10_000)

    assert "cannot be written" in outlet.result.text()


def test_the_dialog_of_the_desktop_offers_no_pages_of_its_own(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    printer = make_printer("Bench test: Template")
    went_on: list[bool] = []

    choose_printer(printer, TEMPLATE, parent, lambda: went_on.append(True))
    dialog = parent.findChild(QPrintDialog)

    assert dialog is not None
    assert not dialog.testOption(QPrintDialog.PrintDialogOption.PrintPageRange)
    line = dialog.findChild(QLineEdit, "filename")
    assert line is not None
    assert line.text().endswith("/template.pdf")
    dialog.reject()
    assert went_on == []
    assert printer.duplex() is QPrinter.DuplexMode.DuplexNone
