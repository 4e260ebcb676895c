"""The measured printers on the disk: several, with papers; renamed, removed; damaged files."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from geometry.drawing.paper import PAPERS, own_paper
from geometry.drawing.printer import Printer
from geometry.errors import GeometryError
from layout_gui.project.kept_file import settings_folder
from layout_gui.project.printer_file import NoPrinterError, PrinterFile

HALL = Printer("Hall", PAPERS["A4"], 1.004, 0.998, 5, "2026-11-25", "tray 2")
HALL_LETTER = replace(HALL, paper=PAPERS["Letter"], across=1.001)
SHED = Printer("Shed Ørsted", own_paper(609.6, 1200), 0.99, 1.01, 12, "2025-01-01")


@pytest.fixture
def file(tmp_path: Path) -> PrinterFile:
    made = PrinterFile(tmp_path / "settings" / "printers.json")
    for printer in (SHED, HALL, HALL_LETTER):
        made.keep(printer)
    return made


def test_two_printers_and_their_papers_are_kept_exactly(file: PrinterFile) -> None:
    known = PrinterFile(file.path).read()

    assert set(known.printers) == {HALL, HALL_LETTER, SHED}
    assert known.names == ("Hall", "Shed Ørsted")
    assert known.trouble == ""
    assert [path.name for path in file.path.parent.iterdir()] == ["printers.json"]


def test_measuring_again_takes_the_place_of_the_same_name_and_paper(file: PrinterFile) -> None:
    again = replace(HALL, across=1.01, day="2027-01-01")
    file.keep(again)

    assert set(file.read().printers) == {again, HALL_LETTER, SHED}


def test_renaming_takes_all_papers_along(file: PrinterFile) -> None:
    file.rename("Hall", " Office ")

    assert file.read().names == ("Office", "Shed Ørsted")
    with pytest.raises(NoPrinterError, match="already"):
        file.rename("Office", SHED.name)
    with pytest.raises(GeometryError):
        file.rename("Office", " ")
    with pytest.raises(NoPrinterError, match="those measured are Office"):
        file.rename("Hall", "Barn")


def test_what_is_removed_can_be_put_back(file: PrinterFile) -> None:
    before = file.read().printers
    assert file.remove("Hall", PAPERS["Letter"]) == (HALL_LETTER,)
    assert set(file.read().printers) == {HALL, SHED}

    file.put_back(before)

    assert file.read().printers == before
    with pytest.raises(NoPrinterError):
        file.remove("Hall", PAPERS["A3"])


def test_no_file_is_no_trouble(tmp_path: Path) -> None:
    known = PrinterFile(tmp_path / "none.json").read()

    assert (known.printers, known.trouble) == ((), "")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"printers": 3}',
        "[" * 5000,
        '{"format": "x"}',
        "\0\0",
        "{" * 2000000,
    ],
)
def test_a_damaged_file_is_told_and_put_aside(tmp_path: Path, text: str) -> None:
    file = PrinterFile(tmp_path / "printers.json")
    file.path.write_text(text, "utf-8")

    assert "damaged" in file.read().trouble
    file.keep(HALL)
    file.path.write_text(text, "utf-8")
    file.keep(SHED)

    assert file.read().printers == (SHED,)
    for number in (1, 2):
        aside = tmp_path / f"printers-unread-{number}.json"
        assert aside.read_text("utf-8") == text


@pytest.mark.parametrize(
    "wrong",
    [
        {"across": 2},
        {"along": "NaN"},
        {"border_mm": None},
        {"name": 3},
        {"day": "yesterday"},
        {"paper_mm": [1, 2]},
        {"paper_mm": 3},
        {"paper_mm": [1e999, 2]},
        {"note": ["x"]},
    ],
)
def test_one_bad_row_costs_no_other(file: PrinterFile, wrong: dict[str, object]) -> None:
    content = json.loads(file.path.read_text("utf-8"))
    content["printers"][0].update(wrong)
    file.path.write_text(json.dumps(content), "utf-8")

    known = file.read()

    assert len(known.printers) == 2
    assert "1 measured printer" in known.trouble
    file.keep(HALL)
    aside = file.path.with_name("printers-unread-1.json")
    assert json.loads(aside.read_text("utf-8")) == json.loads(json.dumps(content))


def test_a_newer_file_is_left_alone(file: PrinterFile) -> None:
    content = json.loads(file.path.read_text("utf-8")) | {"version": 2}
    file.path.write_text(json.dumps(content), "utf-8")

    assert "newer" in file.read().trouble


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    known = PrinterFile(tmp_path).read()

    assert known.printers == ()
    assert "folder" in known.trouble


def test_the_folder_is_that_of_the_desktop(tmp_path: Path) -> None:
    assert settings_folder({"XDG_CONFIG_HOME": str(tmp_path)}) == tmp_path / "Raftwright"
