"""What if?: looking tries, using applies, undo brings the old one back."""

from collections import deque
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from geometry.compare.comparison import compare_bed
from geometry.compare.want import find_spacing
from geometry.model.bed import One
from geometry.model.outlines import Disc, Rectangle
from geometry.model.project import Choice, Project
from geometry.units import Length
from layout_gui.document.document import Document
from layout_gui.panels.choice_desk import ChoiceDesk
from layout_gui.panels.curve_reading import Reading, read
from layout_gui.panels.drawer import Drawer
from layout_gui.panels.whatif import WhatIf
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import (
    OFFSCREEN,
    keep_showing,
    make_bench,
    make_document,
    make_project,
)
from tests.layout_gui.remembered import remember

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
        self.qtbot.waitUntil(lambda: self.whatif.inside is not None, timeout=60_000)
        inside = self.whatif.inside
        assert inside is not None
        return inside

    def compared(self) -> ChoiceDesk:
        inside = self.open()
        self.qtbot.waitUntil(lambda: inside.is_complete, timeout=60_000)
        return inside


@pytest.fixture(autouse=True)
def _quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """At once instead of after a rest, and worked out once for all tests."""
    remember(monkeypatch)
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


def point(inside: ChoiceDesk, spacing: str) -> Reading:
    """Point at a spacing on the square line, as a click there would."""
    series = inside.comparison.series if inside.comparison else {}
    found = read(series, "square", Fraction(spacing))
    assert found is not None
    return found


def named(inside: ChoiceDesk, name: str) -> int:
    """The number of the row of a kept choice."""
    results = inside.comparison.results if inside.comparison else ()
    return next(at for at, result in enumerate(results) if result.choice.name == name)


def look_at(inside: ChoiceDesk, number: int) -> None:
    inside.table.setCurrentItem(inside.table.item_of(number))


def entry(inside: ChoiceDesk, words: str) -> QAction:
    """An entry of the menu of the button More, by its words without mnemonics."""
    (button,) = [b for b in inside.findChildren(QToolButton) if b.menu() is not None]
    menus = [button.menu(), *(a.menu() for a in button.menu().actions() if a.menu() is not None)]
    entries = [action for menu in menus for action in menu.actions()]  # type: ignore[union-attr]
    return next(a for a in entries if a.text().replace("&", "").split("\t")[0] == words)


def test_a_folded_drawer_compares_nothing(drawer: Pulled) -> None:
    assert drawer.whatif.inside is None
    assert not drawer.shell.is_open
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
    assert "takes the same" in inside.others.text()
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
    assert inside.sentence.text().startswith("Trying ")
    assert f"{row.text(1)} plant" in inside.sentence.text()
    press(inside, "Use this choice")
    assert drawer.document.project is not before
    assert drawer.document.undo_stack.undoText().startswith("Use ")
    drawer.document.undo_stack.undo()
    assert drawer.document.project is before


def test_going_back_to_the_first_row_or_folding_or_the_button_ends_the_try(
    drawer: Pulled,
) -> None:
    inside = drawer.compared()
    before = drawer.document.project

    for end in (
        lambda: inside.table.setCurrentItem(inside.table.topLevelItem(0)),
        lambda: press(inside, "Go back"),
        lambda: drawer.shell.set_open(is_open=False),
    ):
        inside.table.setCurrentItem(inside.table.topLevelItem(3))
        assert drawer.document.plan.project is not before
        assert inside.is_trying
        end()
        assert drawer.document.plan.project is before
        assert not inside.is_trying
        assert not inside.sentence.text().startswith("Trying")


def test_escape_ends_the_try_wherever_the_keyboard_is(drawer: Pulled) -> None:
    inside = drawer.compared()
    said: list[str] = []
    drawer.whatif.said.connect(said.append)
    drawer.shell.activateWindow()
    for holder in (inside.table, inside.curve):
        holder.setFocus()
        drawer.qtbot.waitUntil(holder.hasFocus)
        look_at(inside, 3)
        assert inside.is_trying
        QTest.keyClick(holder, Qt.Key.Key_Escape)
        assert not inside.is_trying
        assert drawer.document.plan.project is drawer.document.project
    assert said[0].startswith("Trying")
    assert said[-1] == ""


def test_a_place_on_the_curve_tries_that_spacing(drawer: Pulled) -> None:
    inside = drawer.compared()

    inside.curve.picked.emit(point(inside, "150"))

    tried = drawer.document.plan.project.beds[0].planting
    assert tried is not None
    assert tried.spacing == Length.of(150)
    press(inside, "Use this choice")
    assert drawer.document.undo_stack.undoText() == "Use spacing 150 mm"


def test_the_curve_is_read_tried_and_used_by_keyboard(drawer: Pulled) -> None:
    inside = drawer.compared()
    curve = inside.curve
    steps = inside.comparison.series["square"] if inside.comparison else ()
    here = next(at for at, step in enumerate(steps) if step.spacing >= 190)
    drawer.shell.activateWindow()
    curve.setFocus()
    drawer.qtbot.waitUntil(curve.hasFocus)

    QTest.keyClick(curve, Qt.Key.Key_Left)
    assert curve.cursor_at is not None
    assert curve.cursor_at.spacing == steps[here - 1].spacing
    assert inside.sentence.text() in curve.accessibleDescription()
    assert "more than now" in inside.sentence.text()
    QTest.keyClick(curve, Qt.Key.Key_Return)

    assert inside.is_trying
    assert drawer.document.plan.plants == steps[here - 1].count
    before = drawer.document.project
    QTest.keyClick(curve, Qt.Key.Key_Return)
    assert drawer.document.project is not before
    assert drawer.document.plan.plants == steps[here - 1].count
    assert drawer.document.undo_stack.count() == 1


def test_choices_are_kept_compared_and_forgotten(drawer: Pulled) -> None:
    inside = drawer.compared()

    press(inside, "Keep the present state")
    inside = drawer.compared()
    inside.curve.picked.emit(point(inside, "150"))
    press(inside, "Keep it to compare")
    drawer.qtbot.waitUntil(lambda: inside.is_complete, timeout=60_000)

    names = [choice.name for choice in drawer.document.project.choices]
    assert names == ["as it was", "spacing 150 mm"]
    look_at(inside, named(inside, "spacing 150 mm"))
    entry(inside, "Remove").trigger()
    assert [choice.name for choice in drawer.document.project.choices] == ["as it was"]
    drawer.document.undo_stack.undo()
    assert len(drawer.document.project.choices) == 2


def test_keeping_the_present_state_is_seen_at_once_and_works_nothing_out(drawer: Pulled) -> None:
    inside = drawer.compared()
    rows = inside.table.topLevelItemCount()

    press(inside, "Keep the present state")

    assert inside.is_complete
    assert not drawer.whatif.is_working
    assert inside.table.topLevelItemCount() == rows + 1
    item = inside.table.item_of(named(inside, "as it was"))
    assert item.text(2) == "="


def keep_three(drawer: Pulled) -> ChoiceDesk:
    bed = drawer.document.project.beds[0].name
    kept = tuple(Choice(name, bed, spacing=Length.of(mm)) for name, mm in
                 (("wide", 230), ("tight", 150), ("own", 190)))  # fmt: skip
    drawer.document.apply("keep", replace(drawer.document.project, choices=kept))
    return drawer.compared()


def names_of(drawer: Pulled) -> list[str]:
    return [choice.name for choice in drawer.document.project.choices]


def test_kept_choices_are_renamed_by_typing(drawer: Pulled) -> None:
    inside = keep_three(drawer)
    number = named(inside, "tight")
    look_at(inside, number)
    drawer.shell.activateWindow()
    inside.table.setFocus()

    QTest.keyClick(inside.table, Qt.Key.Key_F2)
    (field,) = inside.table.findChildren(QLineEdit)
    field.selectAll()
    QTest.keyClicks(field, "for basil")
    QTest.keyClick(field, Qt.Key.Key_Return)
    drawer.qtbot.waitUntil(lambda: "tight" not in names_of(drawer))

    assert names_of(drawer) == ["wide", "for basil", "own"]
    assert drawer.document.undo_stack.undoText() == "Call a choice for basil"
    assert inside.is_complete
    assert inside.table.item_of(named(inside, "for basil")).text(0) == "for basil"
    drawer.document.undo_stack.undo()
    assert names_of(drawer) == ["wide", "tight", "own"]


def test_two_kept_choices_cannot_have_one_name(drawer: Pulled) -> None:
    inside = keep_three(drawer)
    told: list[str] = []
    drawer.document.failed.connect(told.append)

    inside.table.item_of(named(inside, "tight")).setText(0, "wide")

    assert told == ["Another kept choice is called “wide”."]
    assert inside.table.item_of(named(inside, "tight")).text(0) == "tight"


def test_only_kept_choices_are_renamed(drawer: Pulled) -> None:
    inside = drawer.compared()
    look_at(inside, 2)

    inside.table.rename()

    assert inside.table.findChildren(QLineEdit) == []
    assert not entry(inside, "Rename").isEnabled()


def test_kept_choices_change_their_order_by_key_and_menu(drawer: Pulled) -> None:
    inside = keep_three(drawer)
    drawer.shell.activateWindow()
    inside.table.setFocus()
    look_at(inside, named(inside, "own"))

    QTest.keyClick(inside.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert names_of(drawer) == ["wide", "own", "tight"]
    assert not drawer.whatif.is_working
    entry(inside, "Move up").trigger()
    assert names_of(drawer) == ["own", "wide", "tight"]
    entry(inside, "Move down").trigger()
    assert names_of(drawer) == ["wide", "own", "tight"]
    assert drawer.document.undo_stack.undoText() == "Move own"
    rows = [inside.table.topLevelItem(at).text(0) for at in (1, 2, 3)]  # type: ignore[union-attr]
    assert rows == ["wide", "own", "tight"]


def test_rows_are_sorted_and_the_present_state_stays_on_top(drawer: Pulled) -> None:
    inside = keep_three(drawer)
    table = inside.table

    def column(number: int) -> list[int]:
        items = [table.topLevelItem(at) for at in range(table.topLevelItemCount())]
        return [int(item.text(number)) for item in items if item is not None]

    head = table.header()
    natural = column(1)
    head.sectionClicked.emit(1)
    assert column(1)[1:] == sorted(natural[1:], reverse=True)
    assert column(1)[0] == natural[0]
    head.sectionClicked.emit(1)
    assert column(1)[1:] == sorted(natural[1:])
    head.sectionClicked.emit(1)
    assert column(1) == natural
    entry(inside, "Most plants first").trigger()
    assert column(1)[1:] == sorted(natural[1:], reverse=True)
    entry(inside, "As they were compared").trigger()
    assert column(1) == natural


def test_a_sorted_row_tries_its_own_choice(drawer: Pulled) -> None:
    inside = keep_three(drawer)
    inside.table.sort_by(1, descending=False)

    row = inside.table.topLevelItem(1)
    assert row is not None
    inside.table.setCurrentItem(row)

    assert str(drawer.document.plan.plants) == row.text(1)


def test_every_row_gets_a_picture_of_its_own_plan(drawer: Pulled) -> None:
    inside = drawer.compared()
    rows = range(inside.table.topLevelItemCount())

    drawer.qtbot.waitUntil(
        lambda: all(inside.table.has_picture(row) for row in rows), timeout=10_000
    )

    plants = {inside.table.item_of(row).text(1): row for row in rows}
    assert len(plants) > 1
    images = [inside.table.item_of(row).icon(0).pixmap(80, 32).toImage() for row in plants.values()]
    assert all(one != other for one, other in combinations(images, 2))


def test_using_a_choice_and_taking_it_back_works_nothing_out_again(drawer: Pulled) -> None:
    inside = drawer.compared()
    look_at(inside, 3)
    press(inside, "Use this choice")
    drawer.qtbot.waitUntil(lambda: inside.is_complete, timeout=60_000)

    drawer.document.undo_stack.undo()

    assert inside.is_complete
    assert not drawer.whatif.is_working
    first = inside.table.topLevelItem(0)
    assert first is not None
    assert first.text(1) == str(drawer.document.plan.plants)


def test_an_odd_bed_is_compared_by_two_processes_with_the_same_outcome(qtbot: QtBot) -> None:
    round_bed = make_bench(outline=Disc(Length.of(450)), obstacles=(), rafts=One())
    project = make_project(round_bed)
    pulled = Pulled(qtbot, project)
    inside = pulled.open()
    qtbot.waitUntil(lambda: inside.is_complete, timeout=120_000)

    alone = deque(compare_bed(project, project.beds[0], series=("square",)), maxlen=1)[0]
    found = inside.comparison
    assert found is not None
    assert found.series == alone.series
    assert found.thresholds == alone.thresholds
    assert [result.plants for result in found.results] == [r.plants for r in alone.results]


def test_export_is_asked_for_once_something_is_compared(drawer: Pulled) -> None:
    inside = drawer.compared()
    asked: list[str] = []
    drawer.whatif.export_wanted.connect(asked.append)

    entry(inside, "Export as a page…").trigger()
    entry(inside, "Export as a table…").trigger()

    assert asked == ["pdf", "csv"]


def test_a_kept_number_of_plants_is_tried_and_used_with_the_spacing_it_finds(
    drawer: Pulled,
) -> None:
    bed = drawer.document.project.beds[0].name
    kept = Choice("a dozen", bed, count=12)
    drawer.document.apply("keep", replace(drawer.document.project, choices=(kept,)))
    inside = drawer.compared()
    dozen = inside.table.item_of(named(inside, "a dozen"))
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
    inside.curve.picked.emit(point(inside, "150"))
    press(inside, "Use this choice")

    drawer.qtbot.waitUntil(lambda: inside.is_complete, timeout=60_000)

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
    drawer.qtbot.waitUntil(lambda: drawer.whatif.is_working, timeout=60_000)

    drawer.shell.set_open(is_open=False)
    assert not drawer.whatif.is_working

    assert drawer.compared().is_complete


def test_work_can_be_stopped_and_keeps_what_is_known(drawer: Pulled) -> None:
    inside = drawer.open()
    drawer.qtbot.waitUntil(lambda: drawer.whatif.is_working, timeout=60_000)

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


def test_two_ends_are_no_curve_yet_and_nothing_stands_there_of_another_bed(drawer: Pulled) -> None:
    inside = drawer.compared()
    known = inside.comparison
    assert known is not None
    ends = (known.series["square"][0], known.series["square"][-1])

    inside.show_comparison(
        replace(known, series={"square": ends}, thresholds=(), is_complete=False, share=0.25)
    )

    assert not inside.curve.isVisible()
    assert "25% done" in "".join(each.text() for each in inside.findChildren(QLabel))
    inside.show_comparison(known)
    assert inside.curve.isVisible()
    inside.show_busy()
    assert not inside.curve.isVisible()
    assert inside.table.topLevelItemCount() == 0


def test_what_was_left_half_way_stands_there_until_more_is_known(drawer: Pulled) -> None:
    inside = drawer.compared()
    whole = inside.comparison
    assert whole is not None
    half = replace(whole, thresholds=(), is_complete=False, share=0.5)
    early = replace(half, results=whole.results[:1], series={}, share=0.1)
    drawer.whatif._known.clear()
    drawer.whatif._show(half, {})

    drawer.whatif._show(early, {})

    assert inside.comparison is half
    drawer.whatif._show(whole, {})
    assert inside.comparison is whole
