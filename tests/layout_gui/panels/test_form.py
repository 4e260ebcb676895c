"""A form made from descriptions: one committed field is one undo step."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy, QTest
from pytestqt.qtbot import QtBot

from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.fields import CountField, LengthField
from layout_gui.panels.form import Field, Form
from layout_gui.panels.now import Now
from layout_gui.project import edits
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_document, make_project

pytestmark = OFFSCREEN

SPACING = Field(
    "spacing",
    "Spacing",
    "length",
    read=lambda now: now.bed.planting.spacing,
    write=lambda now, value: edits.set_planting(now.project, now.bed.name, spacing=value),
    follows=lambda now: f"{now.bed_plan.plants} plants",
)
ALONG = Field(
    "along",
    "Along",
    "count",
    read=lambda now: now.bed.rafts.along,
    write=lambda now, value: edits.set_bed(
        now.project, now.bed.name, rafts=type(now.bed.rafts)(value, 1)
    ),
)
MARGIN = Field(
    "margin",
    "Margin",
    "length",
    read=lambda now: now.bed.planting.edge_margin,
    write=lambda now, value: edits.set_planting(now.project, now.bed.name, edge_margin=value),
    shown=lambda now: now.bed.planting.pattern == "square",
)


def make_form(qtbot: QtBot) -> tuple[Form, Document, LengthField]:
    document = make_document(make_project())
    form = Form((SPACING, ALONG, MARGIN), document)
    qtbot.addWidget(form)
    keep_showing(document, form.show_now)
    with qtbot.waitActive(form):
        form.show()
        form.activateWindow()
    editor = form.editor("spacing")
    assert isinstance(editor, LengthField)
    editor.setFocus()
    return form, document, editor


def test_a_refused_text_takes_back_what_its_beginning_showed(qtbot: QtBot) -> None:
    _, document, editor = make_form(qtbot)
    plants = document.plan.plants

    QTest.keyClicks(editor, "300")
    qtbot.waitUntil(lambda: document.plan.plants != plants)
    QTest.keyClicks(editor, " x")

    assert document.plan.project is document.project
    assert document.plan.plants == plants


def test_a_committed_field_is_one_named_undo_step(qtbot: QtBot) -> None:
    _, document, editor = make_form(qtbot)
    before = document.project

    QTest.keyClicks(editor, "170")
    QTest.keyClick(editor, Qt.Key.Key_Return)

    assert document.undo_stack.undoText() == "Spacing 170 mm"
    assert document.project.beds[0].planting.spacing == Length.of(170)
    assert editor.text() == "170 mm"
    document.undo_stack.undo()
    assert document.project is before
    assert not document.undo_stack.canUndo()
    assert editor.text() == "190 mm"


def test_a_pause_in_typing_previews_and_escape_takes_it_back(qtbot: QtBot) -> None:
    _, document, editor = make_form(qtbot)
    before = document.project

    with qtbot.waitSignal(document.plan_changed):
        QTest.keyClicks(editor, "150")

    assert document.plan.project.beds[0].planting.spacing == Length.of(150)
    assert document.project is before
    QTest.keyClick(editor, Qt.Key.Key_Escape)
    assert document.plan.project is before
    assert not document.undo_stack.canUndo()


def test_what_is_typed_is_read_back_while_its_plan_is_shown(qtbot: QtBot) -> None:
    form, document, editor = make_form(qtbot)
    note = form.rows["spacing"].note

    with qtbot.waitSignal(document.plan_changed):
        QTest.keyClicks(editor, "10 in")
    plants = document.plan.plants

    assert plants != document.settled.plants
    assert note.text() == f"254 mm = 10 in · {plants} plants"
    QTest.keyClick(editor, Qt.Key.Key_Escape)
    assert note.text() == "≈ 7 1/2 in · 18 plants"


def test_a_tenth_of_the_value_is_read_but_not_previewed(qtbot: QtBot) -> None:
    form, document, editor = make_form(qtbot)

    QTest.keyClicks(editor, "19")
    with qtbot.waitSignal(form._pause.timeout):
        pass

    assert document.plan.project is document.project
    assert form.rows["spacing"].note.text().startswith("19 mm")


def test_what_was_understood_stands_beneath_in_both_systems(qtbot: QtBot) -> None:
    form, _, editor = make_form(qtbot)
    note = form.rows["spacing"].note

    assert note.text() == "≈ 7 1/2 in · 18 plants"
    QTest.keyClicks(editor, "7 1/2 in")

    assert note.text() == "190.5 mm = 7 1/2 in"


def test_a_refused_text_says_why_and_leaves_the_project_alone(qtbot: QtBot) -> None:
    form, document, editor = make_form(qtbot)
    before = document.project
    row = form.rows["spacing"]

    QTest.keyClicks(editor, "19 feets")
    QTest.keyClick(editor, Qt.Key.Key_Return)

    assert document.project is before
    assert "feets" in row.note.text()
    assert row.note.text().startswith("!")
    assert editor.property("refused") is True
    assert editor.accessibleDescription() == row.note.text()
    QTest.keyClick(editor, Qt.Key.Key_Escape)
    assert row.note.text() == "≈ 7 1/2 in · 18 plants"
    assert editor.property("refused") is False


def test_a_value_that_no_project_can_have_is_refused_by_its_edit(qtbot: QtBot) -> None:
    form, document, editor = make_form(qtbot)
    before = document.project

    QTest.keyClicks(editor, "0")
    QTest.keyClick(editor, Qt.Key.Key_Return)

    assert document.project is before
    assert editor.text() == "0"
    assert form.rows["spacing"].note.text().startswith("!")


def test_steps_in_a_row_are_one_undo_step_and_a_typed_value_ends_the_run(qtbot: QtBot) -> None:
    _, document, editor = make_form(qtbot)
    stack = document.undo_stack

    for _ in range(5):
        QTest.keyClick(editor, Qt.Key.Key_Up)
    assert document.project.beds[0].planting.spacing == Length.of(195)
    assert stack.count() == 1
    QTest.keyClick(editor, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(editor, "180")
    QTest.keyClick(editor, Qt.Key.Key_Return)
    QTest.keyClick(editor, Qt.Key.Key_Up)

    assert stack.count() == 3
    for expected in (180, 195, 190):
        stack.undo()
        assert document.project.beds[0].planting.spacing == Length.of(expected)


def test_a_count_is_applied_at_once(qtbot: QtBot) -> None:
    form, document, _ = make_form(qtbot)
    editor = form.editor("along")
    assert isinstance(editor, CountField)
    spy = QSignalSpy(document.plan_changed)

    editor.setValue(3)

    assert document.project.beds[0].rafts.along == 3
    assert document.undo_stack.undoText() == "Along 3"
    assert spy.count() == 1


def test_a_field_that_does_not_apply_is_hidden_with_its_label(qtbot: QtBot) -> None:
    form, document, _ = make_form(qtbot)
    row = form.rows["margin"]
    assert row.editor.isVisible()

    project = edits.set_planting(document.project, "Bench", pattern="hexagonal")
    document.apply("Pattern", project)

    assert not row.editor.isVisible()
    assert not row.label.isVisible()
    assert not row.note.isVisible()


def test_every_editor_has_a_name_and_a_label_that_leads_to_it(qtbot: QtBot) -> None:
    form, _, _ = make_form(qtbot)

    for row in form.rows.values():
        assert row.editor.accessibleName() == row.field.label
        assert row.label.buddy() is row.editor


def test_another_unit_shows_the_same_lengths_in_other_words(qtbot: QtBot) -> None:
    form, document, editor = make_form(qtbot)
    before = document.project.beds

    document.apply("Units", edits.set_units(document.project, "in"))

    assert document.project.beds == before
    assert editor.text() == "190 mm"
    assert form.editor("margin").text() == "60 mm"
    document.apply(
        "Spacing", edits.set_planting(document.project, "Bench", spacing=Length.of("8 in"))
    )
    assert editor.text() == "8 in"


def test_the_moment_tells_the_bed_it_is_about() -> None:
    document = make_document()
    empty = Now(document.project, document.plan)

    assert (empty.bed, empty.planting, empty.bed_plan) == (None, None, None)
