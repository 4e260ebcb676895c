"""The station Rafts: split, sheets and cutting."""

from fractions import Fraction

from pytestqt.qtbot import QtBot

from geometry.model.bed import Fit, One, Split
from geometry.model.project import Project
from geometry.units import Length
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
    panel = RaftsPanel(document)
    qtbot.addWidget(panel)
    keep_showing(document, panel.show_now)
    panel.show()
    return panel, document


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
    assert panel.cut == "1 sheet to cut, 14.00 in all."
    panel.sheet_form.editor("sheet-length").committed.emit(Length.of(300))
    assert panel.cut == "0 sheets to cut, 2 rafts without a sheet."
    panel.sheets.buttons["Remove"].click()
    assert document.project.sheets == ()
    assert panel.cut.startswith("Add the boards")


def test_the_rules_of_cutting_are_written(qtbot: QtBot) -> None:
    panel, document = make_panel(qtbot)

    panel.cutting_form.editor("kerf").committed.emit(Length.of(2))
    panel.cutting_form.editor("trim").committed.emit(Length.of(5))
    panel.cutting_form.editor("turn").committed.emit(False)

    cutting = document.project.cutting
    assert (cutting.kerf, cutting.trim, cutting.turn) == (Length.of(2), Length.of(5), False)
    assert document.undo_stack.undoText() == "May be turned off"
