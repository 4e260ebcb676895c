"""The station Rafts: split, sheets and cutting."""

from fractions import Fraction

from pytestqt.qtbot import QtBot

from geometry.model.bed import Fit, One, Split
from geometry.model.project import Project
from geometry.model.sheet import Score
from geometry.units import Length
from layout_gui.document.cut_search import CutSearch
from layout_gui.document.document import Document
from layout_gui.panels.rafts_panel import RaftsPanel
from layout_gui.panels.words import TIMES
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)

pytestmark = OFFSCREEN


def make_panel(qtbot: QtBot, project: Project | None = None) -> tuple[RaftsPanel, Document]:
    document = make_document(project or make_project())
    search = CutSearch(document)
    search.setParent(document)
    panel = RaftsPanel(document, search)
    qtbot.addWidget(panel)
    keep_showing(document, panel.show_now)
    panel.show()
    return panel, document


def test_nothing_is_cut_off_in_a_narrow_window(qtbot: QtBot) -> None:
    panel, _ = make_panel(qtbot)

    panel.resize(316, 500)

    inside = panel.widget()
    assert inside is not None
    assert inside.width() <= panel.viewport().width()


def test_another_rule_begins_with_the_rafts_as_they_are(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)
    rule = panel.form.editor("raft-rule")

    rule.committed.emit(Fit)
    assert document.project.beds[0].rafts == Fit(Length(Fraction(1175, 2)), Length(Fraction(580)))
    assert panel.form.editor("raft-length").isVisible()
    rule.committed.emit(Split)
    assert document.project.beds[0].rafts == Split(2, 1)
    rule.committed.emit(One)
    assert document.project.beds[0].rafts == One()
    assert document.undo_stack.undoText() == "Split not at all"


def test_the_resulting_sizes_are_exact(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    assert panel.subtitle == f"2 of 587.5 {TIMES} 580 mm"
    panel.form.editor("raft-along").setValue(4)  # type: ignore[union-attr]
    assert document.project.beds[0].rafts == Split(4, 1)
    assert panel.subtitle == f"4 of 291.25 {TIMES} 580 mm"


def test_a_bed_that_holds_no_raft_says_so(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot, make_project(make_bench(clearance=Length.of(299))))

    document.apply("", make_project(make_bench(clearance=Length.of(300))))

    assert "No raft fits" in panel.result


def test_sheets_are_added_changed_doubled_and_removed(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)
    buttons, form = panel.sheets.buttons, panel.sheet_form

    buttons["Add"].click()
    form.editor("sheet-name").committed.emit("offcut")
    form.editor("sheet-length").committed.emit(Length.of(800))
    form.editor("sheet-price").committed.emit(Fraction(29, 2))
    form.editor("sheet-quantity").stepped.emit(2)  # type: ignore[union-attr]
    form.editor("sheet-thickness").committed.emit(None)

    sheet = document.project.sheets[1]
    assert (sheet.name, sheet.length, sheet.price) == ("offcut", Length.of(800), Fraction(29, 2))
    assert (sheet.quantity, sheet.thickness) == (2, None)
    buttons["Duplicate"].click()
    assert [each.name for each in document.project.sheets] == ["board", "offcut", "offcut 2"]
    panel.sheets.list.setCurrentRow(0)
    buttons["Remove"].click()
    assert [each.name for each in document.project.sheets] == ["offcut", "offcut 2"]


def test_an_inch_project_is_offered_an_inch_board(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot, make_project(units="in"))

    panel.sheets.buttons["Add"].click()

    assert document.project.sheets[1].length == Length.of("96 in")


def test_what_the_cutting_comes_to_is_said(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.sheet_form.editor("sheet-price").committed.emit(Fraction(14))
    assert panel.cut.startswith("1 sheet for 14.00; no plan needs fewer. 9% of the foam")
    panel.sheet_form.editor("sheet-length").committed.emit(Length.of(300))
    assert panel.cut == "0 sheets; 2 rafts without a sheet."
    panel.sheets.buttons["Remove"].click()
    assert document.project.sheets == ()
    assert panel.cut.startswith("Add the boards")


def test_an_offcut_on_hand_is_there_once_and_has_no_price(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.sheets.buttons["Add offcut"].click()
    sheet = document.project.sheets[1]
    assert (sheet.name, sheet.offcut, sheet.quantity) == ("offcut", True, 1)
    assert panel.sheets.list.item(1).text().endswith("on hand")
    assert panel.sheet_form.editor("sheet-price").isHidden()
    panel.sheet_form.editor("sheet-quantity").stepped.emit(None)  # type: ignore[union-attr]
    assert document.project.sheets[1].quantity == 1
    panel.sheet_form.editor("sheet-offcut").committed.emit(False)
    assert not document.project.sheets[1].offcut
    assert panel.sheet_form.editor("sheet-price").isVisible()
    document.undo_stack.undo()
    assert document.project.sheets[1].offcut


def test_tolerance_and_score_lines_of_a_sheet_are_written(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)
    form = panel.sheet_form

    form.editor("sheet-tolerance").committed.emit(Length.of(4))
    form.editor("sheet-score-across").committed.emit(Length.of("16 in"))
    form.editor("sheet-score-along").committed.emit(Length.of(300))
    sheet = document.project.sheets[0]
    assert (sheet.tolerance, sheet.score) == (
        Length.of(4),
        Score(Length.of("16 in"), Length.of(300)),
    )
    form.editor("sheet-score-across").committed.emit(None)
    assert document.project.sheets[0].score == Score(along=Length.of(300))
    form.editor("sheet-score-along").committed.emit(None)
    assert document.project.sheets[0].score is None
    form.editor("sheet-tolerance").committed.emit(Length.of(600))
    assert document.project.sheets[0].tolerance == Length.of(4)
    assert "shorter side" in form.rows["sheet-tolerance"].note.text()


def test_cost_counts_only_with_every_price(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.sheet_form.editor("sheet-price").committed.emit(Fraction(14))
    panel.sheets.buttons["Add"].click()
    note = panel.cutting_form.rows["aim"].note
    assert note.text().startswith("counts sheets until")
    panel.cutting_form.editor("aim").committed.emit("sheets")
    panel.cutting_form.editor("keep_offcut").committed.emit(Length.of(200))
    assert note.text() == ""
    cutting = document.project.cutting
    assert (cutting.aim, cutting.keep_offcut) == ("sheets", Length.of(200))


def test_the_saw_and_the_foam_are_written_and_undone(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.sheets.buttons["Add"].click()
    panel.cutting_form.editor("saw_depth").committed.emit(Length.of("1 1/2 in"))
    panel.sheet_form.editor("sheet-density").committed.emit(Fraction(32))
    assert document.project.cutting.saw_depth == Length.of("1 1/2 in")
    assert document.project.sheets[-1].density == 32
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.project.cutting.saw_depth is None
    assert document.project.sheets[-1].density is None


def test_the_rules_of_cutting_are_written(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.cutting_form.editor("kerf").committed.emit(Length.of(2))
    panel.cutting_form.editor("trim").committed.emit(Length.of(5))
    panel.cutting_form.editor("turn").committed.emit(False)

    cutting = document.project.cutting
    assert (cutting.kerf, cutting.trim, cutting.turn) == (Length.of(2), Length.of(5), False)
    assert document.undo_stack.undoText() == "May be turned off"
