"""The log in the window: rafts noted, cells typed, rows removed, figures taken over, undone."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.log import BatchGrown
from geometry.model.run import Run, RunStage
from layout_gui.document.selection import Selection
from layout_gui.panels.log_view import LogView
from layout_gui.project.edits_log import add_entries
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN

DAY = date(2026, 3, 1)


@pytest.fixture
def view(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> LogView:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    run = Run("heads", stages=(RunStage("trays", 14), RunStage("afloat", 21, bed="Bench")))
    document = make_document(replace(make_project(), runs=(run,)))
    selection = Selection()
    selection.set_bed("Bench")
    view = LogView(document, selection, today=lambda: DAY, open_url=lambda _url: True)
    qtbot.addWidget(view)
    keep_showing(document, view.show_now)
    view.resize(900, 600)
    view.show()
    return view


def test_rafts_are_noted_with_one_press_and_typed_into(view: LogView) -> None:
    document, model = view._document, view.models["rafts"]
    assert view.note_button.text() == "Note 2 rafts as made"
    view.note_button.click()

    assert [made.label for made in document.project.log.rafts] == ["R1", "R2"]
    assert view.tabs["rafts"].text() == "Rafts made (2)"
    assert view.note_button.isHidden()
    sites = [each.key for each in model.columns].index("sites")
    model.setData(model.index(1, sites), "8")
    assert document.project.log.rafts[1].sites == 8
    model.setData(model.index(1, sites), "eight")
    assert view.message.text() == "“eight” is no count; write a whole number, or nothing."

    view.tables["rafts"].selectRow(1)
    view.wash_button.click()
    assert (document.project.log.rafts[1].washes, document.project.log.rafts[1].washed) == (1, DAY)
    view.remove_button.click()
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert len(document.project.log.rafts) == 2
    assert document.project.log.rafts[1].washes is None


def test_a_raft_is_printed_as_it_was_made(qtbot: QtBot, view: LogView) -> None:
    opened: list[str] = []
    view._open_url = lambda url: bool(opened.append(url.fileName()) or True)
    view.note_button.click()
    view.tables["rafts"].selectRow(0)
    view.print_button.click()
    qtbot.waitUntil(lambda: "are open in the viewer" in view.message.text(), timeout=20_000)
    assert opened == ["template.pdf", "cut-sheet.pdf"]


def test_a_note_about_a_raft_is_begun_beside_it(view: LogView) -> None:
    view.note_button.click()
    view.tables["rafts"].selectRow(0)
    view.about_button.click()

    assert view.kind == "notes"
    note = view._document.project.log.notes[0]
    assert (note.about, note.of, note.day) == ("raft", "R1", DAY)


def test_figures_of_batches_are_taken_over_in_one_step(view: LogView) -> None:
    document = view._document
    project = add_entries(document.project, "batches", [BatchGrown("heads", DAY, 100, 90, 81, 77)])
    document.apply("log", project)
    view.see("batches")

    press = next(
        each
        for each in view.measured.findChildren(type(view.add_button))
        if each.text() == "Use what you measured"
    )
    press.click()
    stages = document.project.runs[0].stages
    assert [float(stage.survival) for stage in stages] == [0.81, 0.951]
    document.undo_stack.undo()
    assert document.project == project


def test_rows_out_of_a_spreadsheet_come_in_as_one_step(view: LogView) -> None:
    view.see("batches")
    view.paste_text("heads\t2026-03-01\t40\t38\nrubbish\n")

    assert view._document.project.log.batches[0].up == 38
    assert view.message.text().splitlines() == [
        "1 rows added, 0 changed.",
        "Line 2: The column “sown on” is empty.",
    ]
    view._document.undo_stack.undo()
    assert not view._document.project.log.batches
