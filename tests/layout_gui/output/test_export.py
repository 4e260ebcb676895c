"""Files on disk: whole or not at all, and only the work that was asked for."""

import csv
import io
import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import ezdxf
import pytest

from geometry.model.project import Details
from geometry.plan import Plan
from geometry.plan import make_plan as make_real_plan
from layout_gui.output.export import UnknownFileError, export, file_names
from layout_gui.output.svg import render_svg
from tests.builders import make_plan
from tests.layout_gui.output.pdf_reading import read
from tests.layout_gui.panels.desk import make_project

NAMES = (
    "template.pdf",
    "cut-sheet.pdf",
    "holes.csv",
    "summary.json",
    "bench-bed-1.svg",
    "bench-bed-1.dxf",
)


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan()


def test_all_files_are_written_under_their_fixed_names(plan: Plan, tmp_path: Path) -> None:
    paths = export(plan, tmp_path / "new" / "folder")

    assert tuple(path.name for path in paths) == NAMES == file_names(plan)
    assert sorted(path.name for path in (tmp_path / "new" / "folder").iterdir()) == sorted(NAMES)
    assert len(read(paths[0].read_bytes()).pages) == 13
    assert len(list(csv.reader(io.StringIO(paths[2].read_text("utf-8"))))) == 37
    assert json.loads(paths[3].read_text("utf-8"))["total"]["plants"] == 36
    assert b"<svg" in paths[4].read_bytes()
    assert not ezdxf.readfile(paths[5]).audit().errors


def test_titles_and_bookmarks_name_the_project_and_its_parts(plan: Plan, tmp_path: Path) -> None:
    template, sheet = export(plan, tmp_path, frozenset({"template.pdf", "cut-sheet.pdf"}))

    reader = read(template.read_bytes())
    assert reader.metadata.title == "North bench: Template"
    assert [item.title for item in reader.outline] == ["bench-bed-1: drill 4 of these: R1-R4"]
    titles = [item.title for item in read(sheet.read_bytes()).outline]
    assert titles == [
        "Overview",
        "Shopping list",
        "Cautions",
        "bench-bed-1: 4 rafts",
        "Bed Bench bed",
        "What if",
    ]


def test_author_and_revision_stand_in_the_files(tmp_path: Path) -> None:
    details = Details("A. Grower", "B", "Drill from the top.\nMind the pipe.")
    project = make_project()
    told = make_real_plan(replace(project, details=details), None)
    _, plain_sheet = export(
        make_real_plan(project, None), tmp_path, frozenset({"template.pdf", "cut-sheet.pdf"})
    )
    plain = read(plain_sheet.read_bytes())
    names = frozenset({"template.pdf", "cut-sheet.pdf", "summary.json"})

    template, sheet, summary = export(told, tmp_path / "told", names)

    for path in (template, sheet):
        metadata = read(path.read_bytes()).metadata
        assert (metadata.author, metadata.subject) == ("A. Grower", "revision B")
    assert plain.metadata.subject in (None, "", "unspecified")
    first = read(sheet.read_bytes()).pages[0].extract_text()
    for line in ("Revision B", "Drawn up by A. Grower", "Drill from the top.", "Mind the pipe."):
        assert line in first
        assert line not in plain.pages[0].extract_text()
    found = json.loads(summary.read_text("utf-8"))
    assert (found["author"], found["revision"]) == ("A. Grower", "B")


def test_only_what_was_asked_for_is_written(plan: Plan, tmp_path: Path) -> None:
    paths = export(plan, tmp_path, frozenset({"summary.json", "holes.csv"}))

    assert [path.name for path in paths] == ["holes.csv", "summary.json"]
    assert {path.name for path in tmp_path.iterdir()} == {"holes.csv", "summary.json"}


def test_an_unknown_file_is_refused_before_anything_is_written(plan: Plan, tmp_path: Path) -> None:
    with pytest.raises(UnknownFileError, match=r"no file holes\.txt here; there are template\.pdf"):
        export(plan, tmp_path / "out", frozenset({"holes.txt", "holes.csv"}))

    assert not (tmp_path / "out").exists()


def test_tables_need_neither_pdf_nor_dxf_library(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from tests.builders import make_plan;"
        "from layout_gui.output.export import export;"
        f"export(make_plan(), Path({str(tmp_path)!r}), "
        "frozenset({'holes.csv', 'summary.json', 'bench-bed-1.svg'}));"
        "print([name for name in sys.modules if name in ('reportlab', 'ezdxf', 'PySide6')])"
    )
    root = Path(__file__).parents[3]
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, env={"PYTHONPATH": str(root)},
        capture_output=True, check=True, text=True,
    )  # fmt: skip

    assert done.stdout.strip() == "[]"


def test_progress_rises_from_nothing_to_all(plan: Plan, tmp_path: Path) -> None:
    told: list[tuple[float, str]] = []

    def listen(share: float, words: str) -> bool:
        told.append((share, words))
        return True

    export(plan, tmp_path, progress=listen)

    shares = [share for share, _ in told]
    assert shares == sorted(shares)
    assert shares[0] == 0
    assert shares[-1] == 1
    assert list(dict.fromkeys(words for _, words in told)) == list(NAMES)


@pytest.mark.parametrize("stop_at", [0, 5, 14, 19, 21])
def test_stopping_leaves_the_folder_as_it_was(plan: Plan, tmp_path: Path, stop_at: int) -> None:
    old = tmp_path / "holes.csv"
    old.write_text("old")
    calls = iter(range(1000))

    assert export(plan, tmp_path, progress=lambda _share, _words: next(calls) < stop_at) == ()
    assert [path.name for path in tmp_path.iterdir()] == ["holes.csv"]
    assert old.read_text() == "old"


def test_a_failure_on_the_way_leaves_the_folder_as_it_was(
    plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_args: object, **_keywords: object) -> bytes:
        raise OSError("no space left")

    monkeypatch.setattr("layout_gui.output.drawings.render_svg", fail)
    with pytest.raises(OSError, match="no space"):
        export(plan, tmp_path)

    assert not list(tmp_path.iterdir())
    assert render_svg is not fail


def test_a_second_export_gives_the_same_bytes(plan: Plan, tmp_path: Path) -> None:
    first = export(plan, tmp_path / "a")
    second = export(make_plan(), tmp_path / "b")

    for one, other in zip(first, second, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name
