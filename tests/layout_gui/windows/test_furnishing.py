"""A window without a bed: it does all it offers, and furnishes itself with the first bed."""

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.panels.station_facts import stations
from layout_gui.panels.stations import STATIONS, no_stations
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project, now_of
from tests.layout_gui.windows.open_window import discard, make_settings

pytestmark = OFFSCREEN


@pytest.fixture(params=[0.0, 10.0], ids=["plan later", "plan at once"])
def bare(
    request: pytest.FixtureRequest, qapp: QApplication, tmp_path: Path
) -> Iterator[MainWindow]:
    gc.collect()  # windows of tests before are not dressed anew
    document = Document(patience_s=request.param)
    made = MainWindow(document, Selection(), make_settings(tmp_path), furnished=False)
    made.show()
    yield made
    discard(made)
    qapp.setStyleSheet("")


def test_without_a_bed_the_stations_say_the_same_before_the_plan_is_loaded() -> None:
    assert no_stations() == stations(now_of(make_document()), made=False, grow=("", ""))


def test_what_it_offers_before_the_first_bed_works(bare: MainWindow) -> None:
    actions = bare.actions_.by_id
    for name in ("theme-dark", "theme-light", "next-pane", "part-fields", "part-fields"):
        actions[name].trigger()
    for station in STATIONS:
        bare.go_to(station)
    bare.resize(900, 620)
    bare.resize(1400, 800)

    assert not bare.is_furnished
    assert not bare.is_open("drawer")
    assert bare.stack.currentWidget() is bare.start


def test_the_drawer_is_made_when_it_is_asked_for(bare: MainWindow) -> None:
    was_open = bare.width() >= 1180

    bare.fold("drawer")

    assert bare.is_furnished
    assert bare.is_open("drawer") is not was_open


def test_the_first_bed_furnishes_the_window_at_the_station_that_was_chosen(
    bare: MainWindow,
) -> None:
    bare.go_to("Holes")

    bare.document.start(make_project())

    assert bare.is_furnished
    assert bare.stack.currentWidget() is bare.view
    assert bare.fields.currentWidget() is bare.fields.panel("Holes")
    assert bare.selection.bed == "Bench"


def test_a_window_that_closes_without_a_bed_keeps_the_columns_of_before(
    bare: MainWindow, tmp_path: Path
) -> None:
    settings = make_settings(tmp_path)
    settings.set_bytes("columns", QByteArray(b"of before"))

    bare.close()

    assert make_settings(tmp_path).bytes("columns") == QByteArray(b"of before")
    assert not make_settings(tmp_path).bytes("geometry").isEmpty()


def test_what_shows_a_bed_stays_out_of_sight_until_there_is_one(bare: MainWindow) -> None:
    bare.furnish()

    for part in (bare.drawer, bare.fields, bare.findings, bare.last_line.zoom):
        assert not part.isVisibleTo(bare)
    bare.document.start(make_project())
    for part in (bare.drawer, bare.fields, bare.findings, bare.last_line.zoom):
        assert part.isVisibleTo(bare)


def test_a_bed_that_comes_up_has_the_keyboard(qtbot: QtBot, bare: MainWindow) -> None:
    with qtbot.waitActive(bare):
        bare.activateWindow()
    bare.furnish()

    bare.document.start(make_project())

    assert bare.focusWidget() is bare.view
