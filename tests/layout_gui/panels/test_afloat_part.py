"""How rafts ride, typed and read in the window."""

from dataclasses import replace
from fractions import Fraction

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from geometry.model.own_crop import OwnCrop
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.water import Water
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.afloat_part import SOON_DONE, AfloatPart
from layout_gui.panels.side_sight import SideSight
from layout_gui.screen.theme import DARK
from tests.layout_gui.panels.desk import OFFSCREEN, keep_showing, make_bench, make_document
from tests.layout_gui.panels.desk import make_project as make_plain

pytestmark = OFFSCREEN
mm = Length.of


def make_project(**changes: object) -> Project:
    bench = make_bench(water=Water(mm(200), mm(30)))
    planting = bench.planting
    assert planting is not None
    bench = replace(bench, planting=replace(planting, pot="net pot"))
    pot = Pot("net pot", mm(48), mm(60), mm(36), mm(56), mm(2))
    return replace(make_plain(bench), pots=(pot,), **changes)  # type: ignore[arg-type]


def make_part(qtbot: QtBot, project: Project) -> tuple[AfloatPart, Document]:
    document = make_document(project)
    part = AfloatPart(document)
    qtbot.addWidget(part)
    keep_showing(document, part.show_now)
    part.show()
    part.fold.press.click()
    return part, document


def enter(part: AfloatPart, name: str, text: str) -> None:
    form = part.head if name == "head-grams" else part.limit_form
    editor = form.editor(name)
    assert isinstance(editor, QLineEdit)
    editor.setText(text)
    editor.editingFinished.emit()


def test_figures_and_assumptions_stand_there_with_what_they_rest_on(qtbot: QtBot) -> None:
    part, _ = make_part(qtbot, make_project())

    facts = {fact.name: fact.value for fact in part.figures.facts}
    assert {"Draft", "Freeboard", "To lift", "Weakest line", "One half picked"} <= facts.keys()
    assert "“net pot” in the water" in facts
    for words in ("32 kg/m³", "200 g", "120 g", "without a source"):
        assert words in part.assumed.text()
    assert "one person" in part.fold.note.text()


def test_what_a_head_weighs_is_typed_for_a_crop_of_ones_own(qtbot: QtBot) -> None:
    own = OwnCrop("lettuce, head", mm(190))
    part, document = make_part(qtbot, make_project(crops=(own,)))
    before = {fact.name: fact.value for fact in part.figures.facts}["To lift"]

    enter(part, "head-grams", "350")

    assert document.project.crops[0].grams == 350
    assert {fact.name: fact.value for fact in part.figures.facts}["To lift"] != before
    assert "200 g" not in part.assumed.text()


@pytest.mark.parametrize(
    ("name", "text", "field", "value"),
    [
        ("limit-lift_one", "20", "lift_one", Fraction(20)),
        ("limit-lift_two", "", "lift_two", Fraction(30)),
        ("limit-sound", "62,5", "sound", Fraction(5, 8)),
        ("limit-soaked", "60", "soaked", Fraction(60)),
    ],
)
def test_limits_are_typed_and_taken_back(
    qtbot: QtBot, name: str, text: str, field: str, value: Fraction
) -> None:
    part, document = make_part(qtbot, make_project())

    enter(part, name, text)

    assert getattr(document.project.limits, field) == value
    if text:
        document.undo_stack.undo()
        assert document.project == make_project()


def test_the_figures_of_a_raft_with_many_holes_come_from_a_worker(qtbot: QtBot) -> None:
    project = make_project()
    planting = project.beds[0].planting
    assert planting is not None
    bed = replace(project.beds[0], planting=replace(planting, spacing=mm(60), hole_diameter=mm(30)))
    part, document = make_part(qtbot, replace(project, beds=(bed,)))
    assert len(document.plan.beds[0].designs[0].holes) > SOON_DONE

    qtbot.waitUntil(lambda: bool(part.figures.facts))

    assert "Weakest line" in {fact.name for fact in part.figures.facts}


def test_without_a_thickness_it_says_what_to_type(qtbot: QtBot) -> None:
    project = make_project()
    sheets = tuple(replace(sheet, thickness=None) for sheet in project.sheets)
    part, _ = make_part(qtbot, replace(project, sheets=sheets))

    assert "thick" in part.missing.text()
    assert {fact.name for fact in part.figures.facts} == {"Weakest line", "Longest span"}


def test_from_the_side_the_close_look_goes_where_it_is_sent(qtbot: QtBot) -> None:
    document = make_document(make_project())
    view = SideSight()
    qtbot.addWidget(view)
    view.resize(700, 500)
    view.set_theme(DARK)
    keep_showing(document, view.show_now)
    view.show()
    first = view.whole.frame
    assert first is not None
    assert view.near.drawing() is not None

    qtbot.keyClick(view.whole, Qt.Key.Key_End)

    last = view.whole.frame
    assert last is not None
    assert last.left > first.left
    box = view.whole.section.box if view.whole.section is not None else None
    assert box is not None
    assert last.right == pytest.approx(box.right)
    view.level.setCurrentIndex(1)
    view.level.activated.emit(1)
    assert view.whole.section is not None
    assert view.whole.section.water == -30
    assert not view.grab().isNull()
