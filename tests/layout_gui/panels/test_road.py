"""The road: places to go that say what they have to say without colour."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_gui.panels.road import Road
from layout_gui.panels.stations import STATIONS, Station
from layout_gui.panels.words import TIMES
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


def make_road(qtbot: QtBot) -> Road:
    road = Road(LIGHT)
    qtbot.addWidget(road)
    road.resize(260, 700)
    with qtbot.waitActive(road):
        road.show()
        road.activateWindow()
    return road


def test_going_to_a_station_leaves_the_one_before(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    went: list[object] = []
    road.went_to.connect(went.append)

    road.go_to("Holes")
    road.buttons["Make"].click()
    road.buttons["Make"].click()

    assert went == ["Holes", "Make"]
    assert [name for name in STATIONS if road.buttons[name].isChecked()] == ["Make"]


def test_the_arrow_keys_walk_the_road(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    road.go_to("Bed")
    road.buttons["Bed"].setFocus()

    QTest.keyClick(road.buttons["Bed"], Qt.Key.Key_Down)
    assert road.buttons["Rafts"].isChecked()
    QTest.keyClick(road.buttons["Rafts"], Qt.Key.Key_Up)
    assert road.buttons["Bed"].isChecked()


def test_a_screen_reader_hears_figure_line_and_sign(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    button = road.buttons["Holes"]

    road.show_stations([Station("Holes", "36 plants", "26.3 per m²", "look")])

    assert button.accessibleName() == "Holes: 36 plants"
    assert button.accessibleDescription() == "26.3 per m²; needs a look"
    assert button.station.sign == "look"


def test_signs_differ_in_shape_and_not_only_in_colour(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    button = road.buttons["Rafts"]
    seen = set()

    for sign in ("done", "open", "look"):
        road.show_stations([Station("Rafts", "4", "", sign)])  # type: ignore[list-item]
        image = button.grab().toImage()
        grey = image.convertToFormat(image.Format.Format_Mono)
        seen.add(bytes(grey.constBits()))

    assert len(seen) == 3


def test_a_long_figure_still_fits_its_button(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    button = road.buttons["Rafts"]
    short = Station("Rafts", "4", "", "done")
    long = Station("Rafts", f"1234 of 92 15/16 {TIMES} 22 13/16 in", "", "done")

    road.show_stations([short])
    size = button.sizeHint()
    road.show_stations([long])

    assert button.sizeHint().width() == size.width()


def test_another_theme_paints_anew(qtbot: QtBot) -> None:
    road = make_road(qtbot)
    light = road.grab().toImage()

    road.set_theme(DARK)

    assert road.grab().toImage() != light
