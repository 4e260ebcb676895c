"""Plants wanted: typed, found, used and kept."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from geometry.compare.want import find_spacing
from geometry.model.bed import Bed, One
from geometry.model.outlines import Rectangle
from geometry.model.wanted import Density
from geometry.units import Length, Unit
from layout_gui.document.document import Document
from layout_gui.panels.wanted import LOOKING, WantedRow
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)

pytestmark = OFFSCREEN


def small_bed() -> Bed:
    return make_bench(outline=Rectangle(Length.of(1200), Length.of(600)), obstacles=(), rafts=One())


class Desk:
    def __init__(self, qtbot: QtBot, unit: Unit = "mm") -> None:
        self.qtbot = qtbot
        self.document: Document = make_document(make_project(small_bed(), units=unit))
        self.row = WantedRow(self.document)
        qtbot.addWidget(self.row)
        keep_showing(self.document, self.row.show_now)
        self.row.show()

    def type(self, text: str) -> None:
        self.row.editor.clear()
        self.qtbot.keyClicks(self.row.editor, text)
        self.qtbot.keyClick(self.row.editor, Qt.Key.Key_Return)

    def answer(self, text: str) -> str:
        self.type(text)
        self.qtbot.waitUntil(lambda: not self.row.is_looking, timeout=20_000)
        return self.row.note.text()


@pytest.fixture
def desk(qtbot: QtBot) -> Desk:
    return Desk(qtbot)


def spacing_now(desk: Desk) -> Length:
    planting = desk.document.project.beds[0].planting
    assert planting is not None
    return planting.spacing


def test_what_is_typed_is_answered_and_nothing_moves_yet(desk: Desk) -> None:
    before = desk.document.project
    answer = desk.answer("20")

    found = find_spacing(small_bed(), 20, "mm")
    assert found is not None
    assert answer.startswith(f"{found.counted.plants} plants, ")
    assert answer.endswith(", square along")
    assert desk.document.project is before


def test_one_button_uses_it_and_undo_takes_it_back(desk: Desk) -> None:
    desk.answer("20")
    before = desk.document.project

    desk.row.use_button.click()

    found = find_spacing(small_bed(), 20, "mm")
    assert found is not None
    assert spacing_now(desk) == Length(found.spacing or 0)
    assert desk.document.plan.plants >= 20
    assert desk.document.undo_stack.undoText().startswith("Spacing ")
    # The answer stands, and there is nothing left to use.
    assert not desk.row.use_button.isEnabled()
    desk.document.undo_stack.undo()
    assert desk.document.project is before
    assert desk.row.use_button.isEnabled()


def test_a_density_is_kept_to_compare(desk: Desk) -> None:
    desk.answer("24 per m²")

    desk.row.keep_button.click()

    (choice,) = desk.document.project.choices
    assert choice.density == Density(Length.of(24).exact)
    assert choice.spacing is None
    assert choice.name == "24 per m²"
    desk.answer("20")
    desk.row.keep_button.click()
    assert desk.document.project.choices[1].count == 20


def test_what_does_not_fit_says_the_most_that_does(desk: Desk) -> None:
    assert desk.answer("9000").startswith("9000 do not fit")
    assert not desk.row.use_button.isVisible()


def test_what_makes_no_sense_is_refused_under_the_field(desk: Desk) -> None:
    desk.type("plenty")

    assert desk.row.note.text().startswith("! ")
    assert "write 40" in desk.row.note.text()
    assert desk.row.editor.accessibleDescription() == desk.row.note.text()
    assert not desk.row.use_button.isVisible()
    desk.type("")
    assert desk.row.note.text() == ""


def test_the_search_can_be_stopped(desk: Desk) -> None:
    desk.type("20")
    assert desk.row.note.text().startswith(LOOKING.partition("{")[0])
    assert desk.row.stop_button.isVisible()

    desk.row.stop_button.click()

    assert not desk.row.is_looking
    assert desk.row.note.text() == "Stopped."


def test_another_bed_is_looked_at_anew(desk: Desk) -> None:

    desk.answer("20")
    project = desk.document.project
    wider = replace(project.beds[0], outline=Rectangle(Length.of(1500), Length.of(600)))
    desk.document.apply("wider", replace(project, beds=(wider,)))

    assert desk.row.is_looking
    desk.qtbot.waitUntil(lambda: not desk.row.is_looking, timeout=20_000)
    found = find_spacing(wider, 20, "mm")
    assert found is not None
    desk.row.use_button.click()
    assert spacing_now(desk) == Length(found.spacing or 0)


def test_inches_are_offered_in_feet(qtbot: QtBot) -> None:
    desk = Desk(qtbot, "in")

    assert "ft2" in desk.row.editor.placeholderText()
    assert " in, " in desk.answer("2/ft2")
