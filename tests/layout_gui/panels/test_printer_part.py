"""Choosing, measuring, naming and removing printers in the window."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from geometry.drawing.paper import COMMON, PAPERS, PageSetup
from geometry.drawing.printer import Printer
from layout_gui.panels.page_setup import PageSetupPart, read_setup, setup_texts
from layout_gui.panels.parts import stack
from layout_gui.panels.printer_dialog import PrinterDialog
from layout_gui.panels.printer_part import PrinterPart
from layout_gui.project.printer_file import PrinterFile
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

A4, LETTER = PAPERS["A4"], PAPERS["Letter"]
HALL = Printer("Hall", A4, 1.004, 0.998, 5, "2026-11-20", "tray 2")


@dataclass
class Desk:
    """The fields of the pages, and the file of the printers."""

    file: PrinterFile
    setup: PageSetupPart

    @property
    def part(self) -> PrinterPart:
        return self.setup.printer

    @property
    def dialog(self) -> PrinterDialog:
        assert self.part.dialog is not None
        return self.part.dialog

    def choose(self, name: str) -> None:
        names = ["", *self.file.read().names]
        self.part.choice.setCurrentIndex(names.index(name))
        self.part.choice.activated.emit(names.index(name))


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Iterator[Desk]:
    file = PrinterFile(tmp_path / "printers.json")
    file.keep(HALL)
    setup = PageSetupPart(PageSetup(across=1.01), printers=file)
    setup.printer._day = lambda: "2026-11-25"
    setup.printer.folder = lambda: tmp_path
    everything = stack(setup.paper, setup.details)
    qtbot.addWidget(everything)
    everything.show()
    yield Desk(file, setup)
    everything.close()


def fill(dialog: PrinterDialog, **texts: str) -> None:
    dialog.name.setText(texts.get("name", dialog.name.text()))
    dialog.note.setText(texts.get("note", ""))
    for way in ("across", "along"):
        dialog.lengths[way].lineEdit().setText(texts.get(way, ""))
    at = (2, 4, 6, 8, 10, 12).index(int(texts["white"])) if "white" in texts else -1
    dialog.white.setCurrentIndex(at)


def test_a_chosen_printer_brings_its_correction_and_border(desk: Desk) -> None:
    heard: list[PageSetup] = []
    desk.setup.changed.connect(heard.append)

    desk.choose("Hall")

    assert heard == [HALL.on(PageSetup())]
    assert "0.40 % larger across and 0.20 % smaller along; 5 mm stay white. Note: tray 2." in (
        desk.part.words
    )
    desk.choose("")
    assert heard[1:] == [PageSetup(across=1.01, border_mm=5)]


def test_what_the_bars_told_is_kept_while_a_printer_is_chosen(desk: Desk) -> None:
    desk.choose("Hall")
    texts = desk.setup.texts
    known = desk.file.read().printers

    assert read_setup(texts, known) == HALL.on(PageSetup())
    assert read_setup(texts) == PageSetup(across=1.01, border_mm=5)
    assert read_setup(setup_texts(PageSetup(across=1.01))) == PageSetup(across=1.01)


def test_another_paper_is_told_and_has_its_own_measures(desk: Desk) -> None:
    desk.choose("Hall")
    desk.file.keep(replace(HALL, paper=LETTER, across=1.001, border_mm=7))
    desk.part.hide()
    desk.part.show()
    for key, words in (("A3", "not with A3"), ("Letter", ""), ("common", "")):
        at = list(PAPERS).index(key)
        desk.setup.choice.setCurrentIndex(at)
        desk.setup.choice.activated.emit(at)
        assert ("! Hall" in desk.part.words) is bool(words)
        assert words in desk.part.words
        if key == "Letter":
            assert (desk.setup.setup.across, desk.setup.setup.border_mm) == (1.001, 7)
    assert desk.setup.setup.paper == COMMON


def test_an_old_measure_is_told(desk: Desk) -> None:
    desk.part._day = lambda: "2027-11-21"
    desk.choose("Hall")

    assert "more than a year ago" in desk.part.words


def test_measuring_says_what_was_understood_and_keeps_it(qtbot: QtBot, desk: Desk) -> None:
    desk.part.measure_button.click()
    dialog = desk.dialog
    dialog.paper.setCurrentIndex(list(PAPERS).index("Letter"))
    fill(dialog, name="Office", across="190.5", along="255.2", white="6", note="by hand")
    assert "191 mm came out as 190.50 mm and is sent 0.26 % larger" in (
        dialog.lengths["across"].accessibleDescription()
    )
    assert "counts as true" in dialog.reasons["along"].text()
    assert dialog.all_switch.isVisible()
    assert "meant: 255 mm" in dialog.lengths["along"].accessibleName()

    dialog.keep_button.click()

    kept = next(one for one in desk.file.read().printers if one.name == "Office")
    assert kept == Printer("Office", LETTER, 1.002625, 1.0, 6, "2026-11-25", "by hand")
    assert desk.part.printer == kept
    assert desk.setup.setup.stamp == kept.stamp
    assert "Kept: Office with Letter." in desk.part.words

    desk.part.back_button.click()
    assert desk.file.read().printers == (HALL,)
    assert desk.setup.setup == PageSetup(across=1.01, border_mm=6)


def test_inches_are_typed_where_the_project_is_in_inches(desk: Desk) -> None:
    desk.setup.set_unit("in")
    desk.part.measure_button.click()

    fill(desk.dialog, across="7 5/16", along="10")
    assert "186 mm = 7 5/16 in + 0.3 mm" in desk.dialog.lengths["across"].accessibleName()
    assert "186 mm came out as 185.74 mm" in desk.dialog.reasons["across"].text()


@pytest.mark.parametrize(
    ("texts", "reason", "field"),
    [
        ({"name": " "}, "Give the printer a name", "name"),
        ({"across": "170"}, "91.4 %. This looks like page scaling: set 100 %", "across"),
        ({"along": ""}, "Type what the rule shows", "along"),
        ({"along": "long"}, "no length", "along"),
        ({"white": ""}, "first tick", "white"),
        ({"note": "x" * 41}, "40 signs", "note"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    qtbot: QtBot, desk: Desk, texts: dict[str, str], reason: str, field: str
) -> None:
    desk.part.measure_button.click()
    dialog = desk.dialog
    good = {"name": "Office", "across": "186", "along": "255", "white": "4"}
    given = {key: text for key, text in {**good, **texts}.items() if text}
    fill(dialog, **given)

    dialog.keep_button.click()

    assert dialog.isVisible()
    assert reason in dialog.wrong.text()
    fields = {"name": dialog.name, "note": dialog.note, "white": dialog.white, **dialog.lengths}
    assert dialog.focusWidget() is fields[field]
    assert desk.file.read().printers == (HALL,)
    dialog.reject()
    assert desk.part.dialog is None


def test_a_fitted_page_is_pointed_out(desk: Desk) -> None:
    desk.part.measure_button.click()
    fill(desk.dialog, across="178.6", along="244.8")

    assert "made to fit" in desk.dialog.hint.text()
    assert desk.dialog.hint.isVisible()
    fill(desk.dialog, across="178.6", along="255")
    assert not desk.dialog.hint.isVisible()


def test_the_page_is_written_beside_others_and_opened(
    qtbot: QtBot, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    monkeypatch.setattr(
        QDesktopServices, "openUrl", lambda url: bool(opened.append(url.toLocalFile())) or True
    )
    (tmp_path / "printer-page-A4-or-Letter.pdf").write_text("mine", "utf-8")
    desk.part.measure_button.click()
    dialog = desk.dialog

    for _ in range(2):
        with qtbot.waitSignal(dialog._background.done, timeout=20_000):
            dialog.open_button.click()
        qtbot.waitUntil(dialog.open_button.isEnabled)

    name = str(tmp_path / "printer-page-A4-or-Letter-2.pdf")
    assert opened == [name, name]
    assert "Printer page: A4 or Letter" in PdfReader(name).pages[0].extract_text()
    assert (tmp_path / "printer-page-A4-or-Letter.pdf").read_text("utf-8") == "mine"
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".json", ".pdf", ".pdf"]


def test_a_folder_that_cannot_be_written_is_told(qtbot: QtBot, desk: Desk, tmp_path: Path) -> None:
    desk.part.folder = lambda: tmp_path / "printers.json"
    desk.part.measure_button.click()
    dialog = desk.dialog

    with qtbot.waitSignal(dialog._background.failed, timeout=20_000):
        dialog.open_button.click()

    qtbot.waitUntil(lambda: dialog.page_words.text().startswith("! Not written"))


def test_a_printer_is_renamed_and_that_is_taken_back(qtbot: QtBot, desk: Desk) -> None:
    desk.choose("Hall")
    rename(qtbot, desk.part.name, "Office")
    assert desk.file.read().names == ("Office",)
    assert desk.setup.setup.stamp == replace(HALL, name="Office").stamp

    desk.part.back_button.click()

    assert desk.file.read().printers == (HALL,)
    desk.file.keep(replace(HALL, name="Barn"))
    rename(qtbot, desk.part.name, "Barn")
    assert "already" in desk.part.words
    assert desk.file.read().names == ("Barn", "Hall")


def test_a_printer_is_removed_and_brought_back(qtbot: QtBot, desk: Desk) -> None:
    desk.choose("Hall")
    qtbot.keyClick(desk.part.remove_button, Qt.Key.Key_Return)
    assert desk.file.read().printers == ()
    assert desk.setup.setup == PageSetup(across=1.01, border_mm=5)
    assert not desk.part.remove_button.isVisible()

    qtbot.keyClick(desk.part.back_button, Qt.Key.Key_Return)

    assert desk.file.read().printers == (HALL,)
    assert desk.setup.setup == HALL.on(PageSetup())


def test_a_damaged_file_is_told_in_the_panel(qtbot: QtBot, tmp_path: Path) -> None:
    file = PrinterFile(tmp_path / "printers.json")
    file.path.write_text("{", "utf-8")
    setup = PageSetupPart(PageSetup(), printers=file)
    qtbot.addWidget(setup.details)
    setup.details.show()

    assert "damaged" in setup.printer.words
    assert "damaged" in setup.printer.choice.accessibleDescription()


def rename(qtbot: QtBot, field: QLineEdit, name: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, name)
    qtbot.keyClick(field, Qt.Key.Key_Return)
