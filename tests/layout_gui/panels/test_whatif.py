"""What if?: looking tries, using applies, undo brings the old one back."""

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from geometry.compare.want import find_spacing
from geometry.model.bed import One
from geometry.model.outlines import Rectangle
from geometry.model.project import Choice, Project
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.drawer import Drawer
from layout_gui.panels.whatif import ChoiceDesk, WhatIf
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)

pytestmark = OFFSCREEN


class Pulled:
    def __init__(self, qtbot: QtBot, project: Project) -> None:
        self.qtbot = qtbot
        self.document: Document = make_document(project)
        self.whatif = WhatIf(self.document, LIGHT, series=("square",))
        self.shell = Drawer([self.whatif])
        qtbot.addWidget(self.shell)
        keep_showing(self.document, self.shell.show_now)
        self.shell.resize(900, 400)
        self.shell.show()

    def open(self) -> ChoiceDesk:
        self.shell.set_open(is_open=True)
        self.qtbot.waitUntil(lambda: self.whatif.inside is not None, timeout=20_000)
        inside = self.whatif.inside
        assert inside is not None
        return inside

    def compared(self) -> ChoiceDesk:
        inside = self.open()
        self.qtbot.waitUntil(lambda: inside.is_complete, timeout=20_000)
        return inside


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """At once instead of after a rest."""
    monkeypatch.setattr("layout_gui.panels.whatif.PAUSE_MS", 0)


@pytest.fixture
def drawer(qtbot: QtBot) -> Pulled:
    small = make_bench(outline=Rectangle(Length.of(700), Length.of(600)), obstacles=(), rafts=One())
    return Pulled(qtbot, make_project(small))


def press_on(whole: Drawer, words: str) -> None:
    next(b for b in whole.findChildren(QPushButton) if b.text() == words).click()


def press(inside: ChoiceDesk, words: str) -> None:
    button = next(b for b in inside.findChildren(QPushButton) if b.text() == words)
    assert button.isEnabled()
    button.click()


def test_a_folded_drawer_compares_nothing(drawer: Pulled) -> None:
    assert drawer.whatif.inside is None
    assert not drawer.whatif.is_open
    assert drawer.shell.maximumHeight() < 100


def test_the_bed_as_it_stands_is_the_first_row(drawer: Pulled) -> None:
    inside = drawer.compared()
    first = inside.table.topLevelItem(0)

    assert first is not None
    assert (first.text(0), first.text(1)) == ("as it stands", str(drawer.document.plan.plants))
    assert inside.table.topLevelItemCount() > 3
    assert inside.sentence.text().startswith(
        f"The same {drawer.document.plan.plants} plants fit up to"
    )
    assert "edge margin" in inside.others.text()
    assert inside.curve.isVisible()


def test_a_row_is_tried_and_only_using_it_changes_the_project(drawer: Pulled) -> None:
    inside = drawer.compared()
    before = drawer.document.project
    row = inside.table.topLevelItem(3)
    assert row is not None

    inside.table.setCurrentItem(row)

    assert drawer.document.project is before
    assert str(drawer.document.plan.plants) == row.text(1)
    assert drawer.document.plan.project is not before
    press(inside, "Use this choice")
    assert drawer.document.project is not before
    assert drawer.document.undo_stack.undoText().startswith("Use ")
    drawer.document.undo_stack.undo()
    assert drawer.document.project is before


def test_going_back_to_the_first_row_or_folding_ends_the_try(drawer: Pulled) -> None:
    inside = drawer.compared()
    before = drawer.document.project

    for end in (
        lambda: inside.table.setCurrentItem(inside.table.topLevelItem(0)),
        lambda: drawer.shell.set_open(is_open=False),
    ):
        inside.table.setCurrentItem(inside.table.topLevelItem(3))
        assert drawer.document.plan.project is not before
        end()
        assert drawer.document.plan.project is before


def test_a_place_on_the_curve_tries_that_spacing(drawer: Pulled) -> None:
    inside = drawer.compared()

    inside.curve.picked.emit(150.3)

    tried = drawer.document.plan.project.beds[0].planting
    assert tried is not None
    assert tried.spacing == Length.of(150)
    press(inside, "Use this choice")
    assert drawer.document.undo_stack.undoText() == "Use spacing 150 mm"


def test_choices_are_kept_compared_and_forgotten(drawer: Pulled) -> None:
    inside = drawer.compared()

    press(inside, "Keep the present state")
    inside = drawer.compared()
    inside.curve.picked.emit(150)
    press(inside, "Keep it to compare")
    drawer.qtbot.waitUntil(lambda: inside.is_complete, timeout=20_000)

    names = [choice.name for choice in drawer.document.project.choices]
    assert names == ["as it was", "spacing 150 mm"]
    rows = [inside.table.topLevelItem(at) for at in range(inside.table.topLevelItemCount())]
    kept = next(row for row in rows if row is not None and row.text(0) == "spacing 150 mm")
    inside.table.setCurrentItem(kept)
    press(inside, "Remove")
    assert [choice.name for choice in drawer.document.project.choices] == ["as it was"]


def test_a_kept_number_of_plants_is_tried_and_used_with_the_spacing_it_finds(
    drawer: Pulled,
) -> None:
    bed = drawer.document.project.beds[0].name
    kept = Choice("a dozen", bed, count=12)
    drawer.document.apply("keep", replace(drawer.document.project, choices=(kept,)))
    inside = drawer.compared()
    rows = [inside.table.topLevelItem(at) for at in range(inside.table.topLevelItemCount())]
    dozen = next(row for row in rows if row is not None and row.text(0) == "a dozen")
    assert int(dozen.text(1)) >= 12

    inside.table.setCurrentItem(dozen)
    press(inside, "Use this choice")

    found = find_spacing(drawer.document.project.beds[0], 12, "mm")
    planting = drawer.document.project.beds[0].planting
    assert found is not None
    assert planting is not None
    assert planting.spacing == Length(found.spacing or 0)
    assert drawer.document.project.choices == (kept,)


def test_a_change_of_the_project_is_compared_anew(drawer: Pulled) -> None:
    inside = drawer.compared()
    inside.curve.picked.emit(150)
    press(inside, "Use this choice")

    drawer.qtbot.waitUntil(lambda: inside.is_complete, timeout=20_000)

    first = inside.table.topLevelItem(0)
    assert first is not None
    assert first.text(1) == str(drawer.document.plan.plants)


def test_the_bed_as_it_stands_is_shown_before_anything_is_worked_out(drawer: Pulled) -> None:
    inside = drawer.open()

    first = inside.table.topLevelItem(0)
    assert first is not None
    assert first.text(1) == str(drawer.document.plan.plants)
    assert not inside.is_complete


def test_folding_the_drawer_ends_the_work_and_opening_begins_anew(drawer: Pulled) -> None:
    drawer.open()
    drawer.qtbot.waitUntil(lambda: drawer.whatif.is_working, timeout=20_000)

    drawer.shell.set_open(is_open=False)
    assert not drawer.whatif.is_working

    assert drawer.compared().is_complete


def test_work_can_be_stopped_and_keeps_what_is_known(drawer: Pulled) -> None:
    inside = drawer.open()
    drawer.qtbot.waitUntil(lambda: drawer.whatif.is_working, timeout=20_000)

    press_on(drawer.shell, "Stop")

    assert not drawer.whatif.is_working
    assert inside.table.topLevelItemCount() >= 1
    assert "Working" not in inside.sentence.text()


def test_a_bed_without_planting_says_what_would_stand_here(qtbot: QtBot) -> None:
    inside = Pulled(qtbot, make_project(make_bench(planting=None))).open()

    assert "Plant this bed" in inside.sentence.text()
    assert not inside.curve.isVisible()


def test_the_theme_follows(drawer: Pulled) -> None:
    inside = drawer.compared()
    light = inside.curve.grab().toImage()

    drawer.shell.set_theme(DARK)

    assert inside.curve.grab().toImage() != light
