"""F1: everything that can have the keyboard has a place in the help."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.help_pages import Place, page_text, split_heading
from layout_gui.windows import helping
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.document.start(make_project())
    qtbot.waitUntil(lambda: not made.document.is_busy, timeout=20_000)
    yield made
    discard(made)


def is_there(place: Place) -> bool:
    lines = [line for line in page_text(place.page).splitlines() if line.startswith("#")]
    return bool(lines) and (
        not place.name or place.name in [split_heading(line)[1] for line in lines]
    )


def test_every_place_of_the_tables_is_there() -> None:
    for place in helping._PARTS.values():
        assert is_there(place), place
    for page, fields in helping._FIELDS.items():
        for name in fields.values():
            assert is_there(Place(page, name)), (page, name)


@pytest.mark.parametrize(
    ("station", "field", "place"),
    [
        ("Holes", "spacing", Place("holes", "spacing")),
        ("Holes", "edge_margin", Place("holes", "margins")),
        ("Rafts", "kerf", Place("rafts", "cutting")),
        ("Bed", "clearance", Place("bed", "clearance")),
        ("Make", "bar-across", Place("make", "printer")),
    ],
)
def test_f1_opens_the_help_for_the_field(
    qtbot: QtBot, window: MainWindow, station: str, field: str, place: Place
) -> None:
    window.go_to(station)
    editor = next(each for each in window.fields.findChildren(QWidget, field))
    editor.setFocus()

    QTest.keyClick(editor, Qt.Key.Key_F1)

    opened = window.helping.window
    assert opened is not None
    assert opened.isVisible()
    assert opened.place == place


def test_f1_on_the_bed_and_in_a_question(qtbot: QtBot, window: MainWindow) -> None:
    window.view.setFocus()
    QTest.keyClick(window.view, Qt.Key.Key_F1)
    opened = window.helping.window
    assert opened is not None
    assert opened.place.page == "drawing"

    window.show_about()
    question = next(each for each in window.findChildren(QWidget) if each.isModal())
    QTest.keyClick(question, Qt.Key.Key_F1)
    assert opened.place == Place("files", "saving")
