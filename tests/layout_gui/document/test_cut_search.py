"""Better cut plans come by themselves, can be stopped, and are not lost by edits beside them."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import Plan
from geometry.units import Length
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document

PATIENCE_MS = 60_000
mm = Length.of


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Timers need a running Qt."""


def tanks(*sizes: tuple[int, int, Split]) -> tuple[Bed, ...]:
    return tuple(
        Bed(f"tank {number}", Rectangle(mm(long), mm(wide)), rafts=split)
        for number, (long, wide, split) in enumerate(sizes)
    )


# Source: the reference cutting case raft-cut-10: rows need 13 sheets, the proved optimum is 11.
HARD = Project(
    "North",
    beds=tanks((1800, 1200, Split(4, 4)), (2320, 840, Split(4, 3)), (1400, 1050, Split(4, 3))),
    sheets=(Sheet("board", mm(1200), mm(600)),),
    cutting=Cutting(mm(3)),
)
EASY = replace(HARD, beds=tanks((1200, 600, Split(2, 1))), cutting=Cutting())


def searching(project: Project, *, pause_ms: int = 0) -> tuple[Document, CutSearch]:
    document = Document(patience_s=60)
    search = CutSearch(document, document, pause_ms=pause_ms)
    document.start(project)
    return document, search


def test_a_better_plan_takes_the_place_of_the_plain_one(qtbot: QtBot) -> None:
    document, search = searching(HARD)
    assert search.state == "searching"
    plain = document.plan.cut.sheet_count

    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)

    cut = document.plan.cut
    assert plain > cut.sheet_count == 11
    assert cut.proved
    assert cut.searched
    assert document.plan.project is document.project
    assert not document.is_modified


def test_a_plan_that_areas_prove_needs_no_search() -> None:
    document, search = searching(EASY)

    assert search.state == "idle"
    assert document.plan.cut.proved
    assert document.plan.cut.searched


def test_edits_beside_rafts_and_sheets_keep_the_plan_that_was_found(qtbot: QtBot) -> None:
    document, search = searching(HARD)
    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)
    shown: list[Plan] = []
    document.plan_changed.connect(shown.append)

    document.apply("Rename", replace(HARD, name="South"))

    assert [plan.cut.sheet_count for plan in shown] == [11]
    assert search.state == "idle"


def test_undo_finds_the_plan_again_without_a_search(qtbot: QtBot) -> None:
    document, search = searching(HARD)
    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)

    document.apply("Saw", replace(HARD, cutting=Cutting(mm(4))))
    assert search.state == "searching"
    document.undo_stack.undo()

    assert search.state == "idle"
    assert document.plan.cut.sheet_count == 11
    assert document.plan.cut.searched


def test_a_preview_begins_no_search(qtbot: QtBot) -> None:
    document, search = searching(HARD)
    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)

    document.preview(replace(HARD, cutting=Cutting(mm(4))))
    assert search.state == "idle"
    document.preview(None)

    assert document.plan.cut.sheet_count == 11


def test_a_plan_found_while_a_preview_is_on_is_shown_after_it(qtbot: QtBot) -> None:
    document, search = searching(HARD)
    tried = replace(HARD, cutting=Cutting(mm(4)))
    document.preview(tried)

    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)

    assert document.plan.project is tried
    document.preview(None)
    assert document.plan.cut.sheet_count == 11


def test_stopping_keeps_the_best_so_far_until_one_searches_on(qtbot: QtBot) -> None:
    document, search = searching(HARD, pause_ms=PATIENCE_MS)
    plain = document.plan.cut

    search.stop()

    assert search.state == "stopped"
    assert document.plan.cut == replace(plain, searched=True)
    document.apply("Saw", replace(HARD, cutting=Cutting(mm(4))))
    document.undo_stack.undo()
    assert search.state == "stopped"
    assert document.plan.cut.searched

    search.go_on()
    assert search.state == "searching"
    qtbot.waitUntil(lambda: search.state == "idle", timeout=PATIENCE_MS)
    assert document.plan.cut.sheet_count == 11


def test_without_sheets_there_is_nothing_to_search_for() -> None:
    _, search = searching(replace(HARD, sheets=()))

    assert search.state == "idle"
