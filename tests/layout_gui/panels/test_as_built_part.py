"""As built: the selected raft is noted, measured, and its notes are shown."""

from datetime import date

from pytestqt.qtbot import QtBot

from geometry.model.log import Note
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.as_built_part import AsBuiltPart
from layout_gui.panels.made_part import MadePart
from layout_gui.project.edits_log import add_entries
from tests.layout_gui.panels.desk import make_document, make_project, now_of

DAY = date(2026, 3, 1)


def shown(qtbot: QtBot) -> tuple[AsBuiltPart, Document]:
    document = make_document(make_project())
    part = AsBuiltPart(document, today=lambda: DAY)
    qtbot.addWidget(part)
    return part, document


def test_a_raft_is_noted_measured_and_told_apart_from_its_drawing(qtbot: QtBot) -> None:
    part, document = shown(qtbot)
    part.show_now(now_of(document))
    assert part.words.text() == "Select a raft to note what it really measures."
    assert part.note_button.isHidden()

    part.show_now(now_of(document, rafts=frozenset({"R1"})))
    part.note_button.click()
    assert document.project.log.rafts[0].made == DAY

    part.show_now(now_of(document, holes=frozenset({("R1", "A1")})))
    assert part.words.text().startswith("“R1” lies here, code ")
    field = part.form.rows["built-length"]
    field.editor.committed.emit(Length.of(590))
    part.show_now(now_of(document, rafts=frozenset({"R1"})))
    assert document.project.log.rafts[0].length == Length.of(590)
    assert field.note.text().endswith("2.5 mm more than is drawn now")


def test_notes_about_rafts_of_the_design_are_shown_with_it(qtbot: QtBot) -> None:
    part, document = shown(qtbot)
    part.show_now(now_of(document, rafts=frozenset({"R1"})))
    part.note_button.click()
    noted = add_entries(document.project, "notes", [Note("split at A1", "raft", "R1")])
    document.apply("note", noted)

    part.show_now(now_of(document, rafts=frozenset({"R1"})))
    assert part.notes.text() == "Note about R1: split at A1"
    assert part.fold.note.text() == "1 note"
    part.show_now(now_of(document))
    assert part.notes.isHidden()


def test_make_notes_all_rafts_that_are_not_noted_yet(qtbot: QtBot) -> None:
    document = make_document(make_project())
    part = MadePart(document, today=lambda: DAY)
    qtbot.addWidget(part)
    part.show_now(now_of(document))
    assert part.note_button.text() == "Note 2 rafts as made"

    part.note_button.click()
    assert [made.made for made in document.project.log.rafts] == [DAY, DAY]
    part.show_now(now_of(document))
    assert part.note_button.isHidden()
    assert part.words.text() == "All rafts of the plan are noted in the log at Grow."
