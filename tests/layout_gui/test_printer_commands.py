"""The commands about printers, as they are typed."""

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from layout_gui.__main__ import main
from layout_gui.project.kept_file import settings_folder

NAME = "printers.json"

SAMPLE = str(Path(__file__).parents[2] / "sample_projects" / "school-bench.raft.json")
HALL = ("Hall printer", "--paper", "A4", "--across", "185.3", "--along", "273.5", "--border")


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setattr("sys.platform", "linux")
    return settings_folder({"XDG_CONFIG_HOME": str(tmp_path / "config")})


def do(*arguments: str) -> int:
    try:
        return main(arguments)
    except SystemExit as end:
        return int(str(end.code))


def test_a_page_is_written_for_each_paper_and_never_over_a_file(tmp_path: Path) -> None:
    out = str(tmp_path / "page.pdf")

    assert do("printer", "page", "--paper", "A4,Letter,610x1200", "--out", out) == 0
    assert len(PdfReader(out).pages) == 3
    assert do("printer", "page", "--out", out) == 2
    assert do("printer", "page", "--out", str(tmp_path / "page.txt")) == 2
    assert do("printer", "page", "--out", str(tmp_path / "no" / "page.pdf")) == 2
    assert do("printer", "page", "--paper", "A9", "--out", str(tmp_path / "b.pdf")) == 2


def test_a_page_that_cannot_be_written_is_told_by_its_own_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").touch()
    for folder in ("missing", "file"):
        assert main(["printer", "page", "--out", str(tmp_path / folder / "page.pdf")]) == 2
        told = capsys.readouterr().err
        assert f"{folder}/page.pdf: cannot be written" in told
        assert ".part" not in told


def test_what_was_measured_is_told_kept_and_used(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert (
        do("printer", "measure", *HALL, "4,5,6,4", "--day", "2026-11-20", "--note", "tray 2") == 0
    )
    told = capsys.readouterr()
    assert "186 mm came out as 185.30 mm and is sent 0.38 % larger" in told.out
    assert told.err == ""

    assert do("printer", "list") == 0
    assert "Hall printer, A4, measured 2026-11-20: 1.0038" in capsys.readouterr().out
    assert do("printer", "list", "--json") == 0
    (row,) = json.loads(capsys.readouterr().out)["printers"]
    assert (row["across"], row["border_mm"], row["note"]) == (1.003778, 6, "tray 2")

    out = str(tmp_path / "out")
    given = ("export", SAMPLE, "--out", out, "--only", "template.pdf", "--pages", "1")
    assert do(*given, "--paper", "A4", "--printer", "Hall printer") == 0
    words = PdfReader(tmp_path / "out" / "template-part.pdf").pages[0].extract_text()
    assert "Corrected for Hall printer, A4, measured 2026-11-20: 1.0038" in " ".join(words.split())
    assert "Hall printer" not in capsys.readouterr().err
    assert do(*given, "--paper", "A3", "--printer", "Hall printer", "--border", "4") == 0
    told_err = capsys.readouterr().err
    assert "measured with A4, not with A3" in told_err
    assert "leaves 6 mm white" in told_err
    assert do(*given, "--printer", "Barn") == 2
    assert "those measured are Hall printer" in capsys.readouterr().err
    assert do(*given, "--printer", "Hall printer", "--bars", "99,99") == 2


@pytest.mark.parametrize(
    ("arguments", "reason"),
    [
        (("--across", "173.7"), "93.4 %"),
        (("--along", "x"), "no length"),
        (("--border", "13"), "12 mm white at the most"),
        (("--day", "yesterday"), "2026-11-25"),
        (("--note", "x" * 41), "40 signs"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_kept(
    home: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], reason: str
) -> None:
    assert do("printer", "measure", *HALL, "5", *arguments) == 2

    assert reason in capsys.readouterr().err
    assert not (home / NAME).exists()


def test_a_fitted_page_is_kept_but_told(capsys: pytest.CaptureFixture[str]) -> None:
    fitted = ("--across", "178.6", "--along", "262.1")
    assert do("printer", "measure", *HALL, "5", *fitted) == 0

    assert "made to fit" in capsys.readouterr().err


def test_less_than_a_rule_can_show_is_corrected_on_demand(
    capsys: pytest.CaptureFixture[str],
) -> None:
    small = ("--across", "185.8", "--along", "273")
    assert do("printer", "measure", *HALL, "5", *small) == 0
    assert "it counts as true" in capsys.readouterr().out
    assert do("printer", "measure", *HALL, "5", *small, "--even-small") == 0
    assert "0.11 % larger" in capsys.readouterr().out
    assert do("printer", "list") == 0
    assert capsys.readouterr().out.count("Hall printer") == 1


def test_printers_are_renamed_and_removed(capsys: pytest.CaptureFixture[str]) -> None:
    do("printer", "measure", *HALL, "5")
    assert do("printer", "rename", "Hall printer", "Office") == 0
    assert do("printer", "rename", "Hall printer", "Barn") == 2
    assert do("printer", "remove", "Office", "--paper", "Letter") == 2
    capsys.readouterr()

    assert do("printer", "remove", "Office") == 0
    assert "Office, A4" in capsys.readouterr().out
    assert do("printer", "list", "--language", "es") == 0
    assert "Aún no se ha medido" in capsys.readouterr().out


def test_a_damaged_file_is_told_and_nothing_lost(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home.mkdir(parents=True)
    (home / NAME).write_text("{", "utf-8")

    assert do("printer", "list") == 0
    assert "damaged" in capsys.readouterr().err
    assert do("printer", "measure", *HALL, "5") == 0
    assert "damaged" in capsys.readouterr().err
    assert {path.name for path in home.iterdir()} == {NAME, "printers-unread-1.json"}
    (home / NAME).write_text("{", "utf-8")
    assert do("export", SAMPLE, "--out", str(home / "x"), "--printer", "Hall printer") == 2
    assert not (home / "x").exists()
