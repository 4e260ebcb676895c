"""Writing files from the window: chosen, asked about, cancelled, failed."""

import json
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from pytestqt.qtbot import QtBot

from geometry.drawing.paper import PAPERS, PageSetup
from geometry.model.bed import Split
from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import Plan
from geometry.units import ZERO, Length
from layout_gui.document.cut_search import CutSearch
from layout_gui.output.documents import CUT_SHEET, TEMPLATE
from layout_gui.output.export import Progress
from layout_gui.panels.make_panel import MakePanel
from layout_gui.project import edits
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
    now_of,
)

pytestmark = OFFSCREEN


class Asks:
    """Answers at once; keeps what it was asked."""

    def __init__(self, folder: Path, *, agrees: bool = True) -> None:
        self._folder = folder
        self._agrees = agrees
        self.questions: list[str] = []

    def folder(self, start: Path, answer: Callable[[Path], object]) -> None:
        self.questions.append(str(start))
        answer(self._folder)

    def confirm(self, title: str, text: str, verb: str, answer: Callable[[], object]) -> None:
        self.questions.append(f"{title} {text} {verb}")
        if self._agrees:
            answer()


class Memory:
    def __init__(self, folder: Path) -> None:
        self.export_folder = folder
        self.page_texts: tuple[str, ...] = ()


def make_panel(qtbot: QtBot, folder: Path, *, agrees: bool = True) -> tuple[MakePanel, Asks]:
    document, asks = make_document(make_project()), Asks(folder, agrees=agrees)
    panel = MakePanel(document, CutSearch(document), asks, Memory(folder))
    qtbot.addWidget(panel)
    panel.show_now(now_of(document))
    panel.show()
    return panel, asks


def choose(panel: MakePanel, *kinds: str) -> None:
    for kind, switch in panel.files.switches.items():
        if switch.isChecked() is not (kind in kinds):
            switch.click()


def write(qtbot: QtBot, panel: MakePanel) -> None:
    with qtbot.waitSignal(panel.finished, timeout=20_000):
        panel.export_button.click()


def test_the_chosen_files_are_written_and_the_folder_can_be_opened(
    qtbot: QtBot, tmp_path: Path
) -> None:
    panel, asks = make_panel(qtbot, tmp_path)
    choose(panel, "holes.csv", "summary.json", ".svg")
    names = ["holes.csv", "summary.json", "bench-1.svg", "bench-2.svg"]
    assert panel.export_button.text() == "Export 4 files"

    write(qtbot, panel)

    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(names)
    assert panel.result.text() == f"Written: {', '.join(names)}."
    assert panel.open_button.isVisible()
    assert asks.questions == []
    assert len((tmp_path / "holes.csv").read_text("utf-8").splitlines()) == 1 + 18

    choose(panel, "tasks.csv", "tasks.ics")
    write(qtbot, panel)
    assert panel.result.text().startswith("Written: tasks.csv.\ntasks.ics: there is no task")


def test_letters_that_no_font_has_are_told_with_the_files(qtbot: QtBot, tmp_path: Path) -> None:
    document, asks = make_document(replace(make_project(), name="計")), Asks(tmp_path)
    panel = MakePanel(document, CutSearch(document), asks, Memory(tmp_path))
    qtbot.addWidget(panel)
    panel.show_now(now_of(document))
    choose(panel, "template.pdf")

    write(qtbot, panel)

    assert panel.result.text() == (
        "Written: template.pdf.\n"
        "No font here has all letters of “計”: shown as □. Install a font for Chinese."
    )


def test_whole_beds_are_drawn_apart_from_rafts_with_words_as_outlines(
    qtbot: QtBot, tmp_path: Path
) -> None:
    panel, _ = make_panel(qtbot, tmp_path)
    choose(panel, "holes.csv")
    assert not panel.files.outlines.isEnabled()
    choose(panel, ".bed.svg")
    assert panel.files.outlines.isEnabled()
    panel.files.outlines.click()

    write(qtbot, panel)

    (drawn,) = tmp_path.iterdir()
    assert drawn.name == "bench.bed.svg"
    assert 'class="letters text"' in drawn.read_text("utf-8")


def test_what_was_exported_is_remembered_as_this_very_project(qtbot: QtBot, tmp_path: Path) -> None:
    panel, _ = make_panel(qtbot, tmp_path)
    document = make_document(make_project())
    panel.show_now(now_of(document))
    choose(panel, "summary.json")

    assert panel.exported is None
    write(qtbot, panel)

    assert panel.exported is document.project
    document.apply("Units", edits.set_units(document.project, "in"))
    assert panel.exported is not document.project


@pytest.mark.parametrize("agrees", [True, False])
def test_nothing_is_replaced_without_asking(qtbot: QtBot, tmp_path: Path, *, agrees: bool) -> None:
    panel, asks = make_panel(qtbot, tmp_path, agrees=agrees)
    choose(panel, "holes.csv")
    (tmp_path / "holes.csv").write_text("mine", "utf-8")

    if agrees:
        write(qtbot, panel)
    else:
        panel.export_button.click()

    assert "holes.csv" in asks.questions[0]
    assert ((tmp_path / "holes.csv").read_text("utf-8") == "mine") is not agrees


def test_with_nothing_chosen_there_is_nothing_to_export(qtbot: QtBot, tmp_path: Path) -> None:
    panel, _ = make_panel(qtbot, tmp_path)

    choose(panel)

    assert panel.names() == ()
    assert not panel.export_button.isEnabled()


def test_a_folder_that_cannot_be_written_is_told_in_a_sentence(
    qtbot: QtBot, tmp_path: Path
) -> None:
    (tmp_path / "a file").write_text("", "utf-8")
    panel, _ = make_panel(qtbot, tmp_path / "a file")
    choose(panel, "summary.json")

    write(qtbot, panel)

    assert panel.result.text() == (
        f"! {tmp_path / 'a file'}: cannot be written: "
        "something else stands in its place; choose another name."
    )
    assert panel.exported is None
    assert panel.export_button.isVisible()
    assert not panel.open_button.isVisible()


def test_after_a_failure_the_same_folder_or_another_is_tried(qtbot: QtBot, tmp_path: Path) -> None:
    broken, good = tmp_path / "broken", tmp_path / "good"
    broken.write_text("", "utf-8")
    panel, _ = make_panel(qtbot, broken)
    panel._asks = Asks(good)
    choose(panel, "summary.json")
    write(qtbot, panel)
    assert panel.again_button.isVisible()

    with qtbot.waitSignal(panel.finished, timeout=20_000):
        panel.again_button.click()
        assert not panel.again_button.isVisible()
    assert panel.result.text().startswith("! ")
    with qtbot.waitSignal(panel.finished, timeout=20_000):
        panel.elsewhere_button.click()

    assert [path.name for path in good.iterdir()] == ["summary.json"]
    assert panel.result.text() == "Written: summary.json."
    assert not panel.again_button.isVisible()
    assert not panel.elsewhere_button.isVisible()


def test_pictures_come_beside_what_is_written_and_are_asked_about(
    qtbot: QtBot, tmp_path: Path
) -> None:
    panel, asks = make_panel(qtbot, tmp_path)
    choose(panel, TEMPLATE, ".svg")
    assert not panel.pictures.dots.isVisible()
    panel.pictures.switch.click()
    assert panel.pictures.dots.isVisible()
    panel.pictures.dots.show_value(75)
    panel.set_pages({TEMPLATE: frozenset({2})})

    write(qtbot, panel)

    names = sorted(path.name for path in tmp_path.glob("*.png"))
    assert names == ["bench-1.png", "bench-2.png", names[2]]
    assert names[2].startswith("template-02-of-")
    assert asks.questions == []
    for path in tmp_path.glob("*.svg"):
        path.unlink()
    (tmp_path / "template-part.pdf").unlink()
    (tmp_path / "cut-sheet-1-of-9.png").write_text("not asked about")
    write(qtbot, panel)
    assert all(name in asks.questions[0] for name in names)
    assert "cut-sheet" not in asks.questions[0]


def test_a_picture_that_would_be_too_large_is_told(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("layout_gui.output.pictures.MOST_PIXELS", 100_000)
    panel, _ = make_panel(qtbot, tmp_path)
    choose(panel, TEMPLATE)
    panel.pictures.switch.click()

    write(qtbot, panel)

    assert panel.result.text().startswith("! template-01-of-")
    assert list(tmp_path.iterdir()) == []
    assert panel.export_button.isVisible()


def test_another_folder_is_remembered(qtbot: QtBot, tmp_path: Path) -> None:
    document, memory = make_document(make_project()), Memory(Path("/before"))
    panel = MakePanel(document, CutSearch(document), Asks(tmp_path), memory)
    qtbot.addWidget(panel)

    panel.folder_button.click()

    assert memory.export_folder == tmp_path


def test_a_cancelled_export_leaves_everything_as_it_was(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    running, told, answers = threading.Event(), threading.Event(), []

    def slow(
        _plan: Plan,
        out: Path,
        only: frozenset[str],
        *,
        setup: object,
        pages: object,
        letters: object,
        pictures: object,
        progress: Progress,
        left_out: object,
    ) -> tuple[Path, ...]:
        answers.append(progress(0.5, "holes.csv"))
        running.set()
        while progress(0.6, "holes.csv"):
            pass
        told.set()
        return ()

    monkeypatch.setattr("layout_gui.panels.make_panel.export", slow)
    panel, _ = make_panel(qtbot, tmp_path)
    choose(panel, "holes.csv")
    panel.export_button.click()
    assert running.wait(10)
    qtbot.waitUntil(lambda: panel.progress.value() >= 500)
    assert panel.progress.isVisible()
    assert not panel.export_button.isVisible()

    panel.cancel_button.click()

    assert told.wait(10)
    assert answers == [True]
    assert panel.result.text() == "Nothing was written."
    assert panel.export_button.isVisible()
    assert panel.exported is None
    assert list(tmp_path.iterdir()) == []


def test_another_paper_is_announced(qtbot: QtBot, tmp_path: Path) -> None:
    panel, _ = make_panel(qtbot, tmp_path)
    assert panel.page_setup.setup.paper.name.startswith("A4 or Letter")

    with qtbot.waitSignal(panel.setup_chosen) as heard:
        panel.page_setup.choice.setCurrentIndex(1)
        panel.page_setup.choice.activated.emit(1)

    assert heard.args == [PageSetup(PAPERS["A4"])]


def test_only_the_ticked_pages_are_written_into_a_file_apart(qtbot: QtBot, tmp_path: Path) -> None:
    panel, asks = make_panel(qtbot, tmp_path)
    choose(panel, TEMPLATE)
    (tmp_path / TEMPLATE).write_text("the whole template, printed yesterday")
    panel.set_pages({TEMPLATE: frozenset({1, 3}), CUT_SHEET: frozenset()})

    write(qtbot, panel)

    assert asks.questions == []
    assert (tmp_path / TEMPLATE).read_text() == "the whole template, printed yesterday"
    assert len(PdfReader(tmp_path / "template-part.pdf").pages) == 2
    choose(panel, CUT_SHEET)
    assert panel.names() == ()
    assert not panel.export_button.isEnabled()


def test_what_was_written_before_is_asked_about_by_the_name_it_has(
    qtbot: QtBot, tmp_path: Path
) -> None:
    panel, asks = make_panel(qtbot, tmp_path, agrees=False)
    choose(panel, TEMPLATE)
    panel.set_pages({TEMPLATE: frozenset({2})})
    (tmp_path / "template-part.pdf").write_text("before")

    panel.export_button.click()

    assert "template-part.pdf" in asks.questions[0]
    assert (tmp_path / "template-part.pdf").read_text() == "before"


def hard_bench(sheets: tuple[Sheet, ...]) -> Project:
    # Source: the reference cutting case raft-cut-10: rows need 13 sheets, the optimum is 11.
    beds = tuple(
        make_bench(
            name=f"tank {number}",
            outline=Rectangle(Length.of(long), Length.of(wide)),
            clearance=ZERO,
            joint_gap=ZERO,
            obstacles=(),
            rafts=split,
            planting=None,
        )
        for number, (long, wide, split) in enumerate(
            ((1800, 1200, Split(4, 4)), (2320, 840, Split(4, 3)), (1400, 1050, Split(4, 3)))
        )
    )
    return Project("Hard", beds=beds, sheets=sheets, cutting=Cutting(Length.of(3)))


@pytest.mark.parametrize("stops", [False, True])
def test_files_wait_for_the_best_cut_plan_or_for_the_stop(
    qtbot: QtBot, tmp_path: Path, *, stops: bool
) -> None:
    board = Sheet("board", Length.of(1200), Length.of(600))
    document = make_document()
    search = CutSearch(document, document, pause_ms=60_000 if stops else 0)
    document.start(hard_bench((board,)))
    panel = MakePanel(document, search, Asks(tmp_path), Memory(tmp_path))
    qtbot.addWidget(panel)
    keep_showing(document, panel.show_now)
    choose(panel, "summary.json")

    panel.export_button.click()
    assert not list(tmp_path.iterdir())
    if stops:
        panel.status.stop_button.click()
    qtbot.waitUntil(lambda: panel.exported is document.project, timeout=60_000)

    total = json.loads((tmp_path / "summary.json").read_text("utf-8"))["total"]
    assert (total["sheets"], total["proved"]) == ((13, False) if stops else (11, True))
    assert panel.status.go_on_button.isHidden() is not stops


def test_the_cut_plan_is_said_before_it_is_printed(qtbot: QtBot, tmp_path: Path) -> None:
    panel, _ = make_panel(qtbot, tmp_path)

    assert panel.status.words.startswith("1 sheet; no plan needs fewer.")
