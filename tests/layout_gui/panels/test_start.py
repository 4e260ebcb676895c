"""The first bed: from two inside measurements to a bed full of holes."""

from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from geometry.model.outlines import Rectangle
from geometry.model.project import Project
from geometry.units import Length, Unit
from layout_gui.panels.start import StartPage, usual_unit
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


def make_page(qtbot: QtBot) -> StartPage:
    page = StartPage(
        [("School bench", Path("/samples/school.raft.json"))],
        [("Round tank", Path("/ready/round.raft.json"))],
    )
    qtbot.addWidget(page)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    page.begin()
    return page


def click(page: StartPage, words: str) -> None:
    next(b for b in page.findChildren(QPushButton) if b.text() == words).click()


def test_two_numbers_and_a_button_are_enough(qtbot: QtBot) -> None:
    page = make_page(qtbot)
    started: list[Project] = []
    page.started.connect(started.append)
    page.choose_unit("mm")

    page.length.setFocus()
    QTest.keyClicks(page.length, "2360")
    page.width_field.setFocus()
    QTest.keyClicks(page.width_field, "58 cm")
    QTest.keyClick(page.width_field, Qt.Key.Key_Return)
    click(page, "Fill this bed")

    (project,) = started
    assert project.units == "mm"
    assert project.beds[0].outline == Rectangle(Length.of(2360), Length.of(580))


def test_a_missing_or_unreadable_length_is_asked_for_in_words(qtbot: QtBot) -> None:
    page = make_page(qtbot)
    started: list[Project] = []
    page.started.connect(started.append)

    click(page, "Fill this bed")
    assert page.reading == "! Length inside is needed: a length above zero."
    QTest.keyClicks(page.length, "long")
    QTest.keyClick(page.length, Qt.Key.Key_Return)
    assert page.reading.startswith("! “long” is no length")
    click(page, "Fill this bed")

    assert started == []


def test_a_bare_number_is_read_in_the_unit_that_was_chosen(qtbot: QtBot) -> None:
    page = make_page(qtbot)
    page.choose_unit("in")

    QTest.keyClicks(page.length, "93")
    assert page.reading == "2362.2 mm = 93 in"
    QTest.keyClick(page.length, Qt.Key.Key_Return)

    assert page.length.value() == Length.of("93 in")


@pytest.mark.parametrize(
    ("locale", "unit"), [("de_DE", "mm"), ("ja_JP", "mm"), ("en_GB", "mm"), ("en_US", "in")]
)
def test_the_unit_is_guessed_from_the_language_of_the_desktop(locale: str, unit: Unit) -> None:
    assert usual_unit(QLocale(locale)) == unit


def test_projects_and_samples_are_doors_too(qtbot: QtBot) -> None:
    page = make_page(qtbot)
    went: list[object] = []
    page.open_wanted.connect(lambda: went.append("open"))
    page.sample_wanted.connect(went.append)
    page.file_wanted.connect(went.append)
    page.ready_wanted.connect(went.append)

    page.forget_wanted.connect(lambda: went.append("forget"))

    gone = Path("/old/gone.raft.json")
    page.show_recent([Path("/old/bench.raft.json"), gone], gone=[gone])
    for words in ("Open a project…", "School bench", "bench", "gone (not there now)", "Round tank"):
        click(page, words)
    click(page, "Clear this list")

    assert went.pop() == "forget"
    assert went == [
        "open",
        Path("/samples/school.raft.json"),
        Path("/old/bench.raft.json"),
        Path("/ready/round.raft.json"),
    ]


def test_the_way_into_the_guide_has_the_keyboard_and_enter_takes_it(qtbot: QtBot) -> None:
    page = make_page(qtbot)
    wanted: list[bool] = []
    page.guide_wanted.connect(lambda: wanted.append(True))

    assert page.guide.hasFocus()
    QTest.keyClick(page.guide, Qt.Key.Key_Return)

    assert wanted == [True]
