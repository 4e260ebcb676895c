"""Obstacles, corners and joints in the whole window: menus, fields and canvas are one thing."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Disc, Polygon, Rectangle
from geometry.units import Length
from layout_gui.panels.bed_panel import BedPanel
from layout_gui.panels.holes_panel import HolesPanel
from layout_gui.panels.outlines import outline_of_kind
from layout_gui.panels.rafts_panel import RaftsPanel
from layout_gui.project import edits
from layout_gui.project.things import Thing
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN

PIPE = Thing("obstacle", 0)
FREE = Polygon(
    tuple((Length.of(x), Length.of(y)) for x, y in ((0, 0), (1200, 0), (1200, 600), (0, 600)))
)


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.document.start(make_project())
    yield made
    discard(made)


def bed(window: MainWindow) -> Bed:
    return window.document.project.beds[0]


def steps(window: MainWindow) -> list[str]:
    stack = window.document.undo_stack
    return [stack.text(index) for index in range(stack.count())]


def trigger(window: MainWindow, name: str) -> None:
    window.refresh()
    assert window.actions_.by_id[name].isEnabled(), name
    window.actions_.by_id[name].trigger()


def test_each_drawing_row_takes_its_tool_in_hand(window: MainWindow) -> None:
    hints: list[str] = []
    window.view.hint_changed.connect(hints.append)
    for name, words in (
        ("draw-zone", "from one corner"),
        ("draw-zone-round", "from its middle"),
        ("draw-zone-corners", "Click its corners"),
        ("draw-obstacle", "from one corner"),
        ("draw-obstacle-round", "from its middle"),
        ("draw-obstacle-corners", "Click its corners"),
        ("draw-corner", "Corner at"),
    ):
        hints.clear()
        trigger(window, name)
        assert any(words in hint for hint in hints), name


def test_a_drawing_row_brings_the_bed_into_sight(window: MainWindow) -> None:
    window.go_to("Make")
    assert window.stack.currentWidget() is not window.view
    trigger(window, "draw-obstacle")
    assert window.stack.currentWidget() is window.view


def test_what_is_selected_on_the_bed_opens_its_fields(window: MainWindow) -> None:
    window.go_to("Holes")
    window.selection.set_thing(PIPE)
    panel = window.fields.currentWidget()
    assert isinstance(panel, BedPanel)
    assert panel.obstacles.row == 0
    window.selection.set_thing(Thing("along", 0))
    rafts = window.fields.currentWidget()
    assert isinstance(rafts, RaftsPanel)
    assert rafts.joints_part.items.row == 0
    assert rafts.joints_part.form.editor("joint-at").value() == Length.of(600)
    window.selection.set_holes([("R1", "A1")])
    assert isinstance(window.fields.currentWidget(), HolesPanel)


def test_the_fields_of_what_is_selected_are_scrolled_into_sight(
    window: MainWindow, qtbot: QtBot
) -> None:
    window.resize(1300, 700)
    window.show()
    window.selection.set_thing(PIPE)
    bed_panel = window.fields.currentWidget()
    assert isinstance(bed_panel, BedPanel)
    qtbot.waitUntil(lambda: not bed_panel.obstacles.visibleRegion().isEmpty())
    window.document.start(make_project(make_bench(outline=FREE, obstacles=())))
    window.selection.set_thing(Thing("corner", 3))
    qtbot.waitUntil(lambda: not bed_panel.corners.items.visibleRegion().isEmpty())
    window.selection.set_thing(Thing("along", 0))
    rafts = window.fields.currentWidget()
    assert isinstance(rafts, RaftsPanel)
    qtbot.waitUntil(lambda: not rafts.joints_part.form.visibleRegion().isEmpty())


def test_what_is_picked_in_the_fields_is_selected_on_the_bed(window: MainWindow) -> None:
    window.go_to("Bed")
    panel = window.fields.currentWidget()
    assert isinstance(panel, BedPanel)
    panel.obstacles.buttons["Add"].click()
    assert window.selection.thing == Thing("obstacle", 1)
    panel.obstacles.list.setCurrentRow(0)
    assert window.selection.thing == PIPE
    window.go_to("Rafts")
    rafts = window.fields.currentWidget()
    assert isinstance(rafts, RaftsPanel)
    rafts.joints_part.items.list.setCurrentRow(0)
    assert window.selection.thing == Thing("along", 0)


def test_the_picked_joint_is_moved_by_typing(window: MainWindow) -> None:
    window.selection.set_thing(Thing("along", 0))
    rafts = window.fields.currentWidget()
    assert isinstance(rafts, RaftsPanel)
    rafts.joints_part.form.editor("joint-at").committed.emit(Length.of(640))
    assert bed(window).rafts == Split(2, 1, Length.of(40))
    rafts.joints_part.form.editor("joint-at").committed.emit(Length.of(3))
    assert rafts.joints_part.form.rows["joint-at"].note.text().startswith("! No raft")


def test_a_free_corner_is_one_in_list_and_bed(window: MainWindow) -> None:
    free = outline_of_kind(bed(window).outline, Polygon)
    window.document.apply("Free", edits.set_outline(window.document.project, "Bench", free))
    window.selection.set_thing(Thing("corner", 2))
    panel = window.fields.currentWidget()
    assert isinstance(panel, BedPanel)
    assert panel.corners.items.row == 2
    panel.corners.items.list.setCurrentRow(1)
    assert window.selection.thing == Thing("corner", 1)
    # Typed to the left of the datum corner: the pipe stays where it stands in the water.
    panel.corners.items.list.setCurrentRow(0)
    panel.corners.form.editor("corner-x").committed.emit(Length.of(-50))
    centre = bed(window).obstacles[0].centre
    assert centre is not None
    assert centre.x == Length.of(70)


def test_rows_double_mirror_turn_and_take_away_the_selected_thing(window: MainWindow) -> None:
    window.selection.set_thing(PIPE)
    trigger(window, "thing-double")
    assert window.selection.thing == Thing("obstacle", 1)
    assert bed(window).obstacles[1].name == "pipe 2"
    trigger(window, "thing-mirror-along")
    trigger(window, "thing-mirror-across")
    centre = bed(window).obstacles[1].centre
    assert centre is not None
    assert (centre.x, centre.y) == (Length.of(1160), Length.of(580))
    trigger(window, "take-away")
    assert len(bed(window).obstacles) == 1
    assert window.selection.thing is None
    assert steps(window) == [
        "Duplicate pipe", "Mirror pipe 2", "Mirror pipe 2", "Remove pipe 2",
    ]  # fmt: skip
    window.refresh()
    assert not window.actions_.by_id["thing-double"].isEnabled()


def test_a_quarter_by_the_menu_and_any_angle_by_the_field(window: MainWindow) -> None:
    window.selection.set_thing(PIPE)
    panel = window.fields.currentWidget()
    assert isinstance(panel, BedPanel)
    panel.obstacle_form.editor("obstacle-kind").committed.emit(Rectangle)
    panel.obstacle_form.editor("obstacle-length").committed.emit(Length.of(100))
    trigger(window, "thing-turn")
    assert bed(window).obstacles[0].shape == Rectangle(Length.of(20), Length.of(100))
    turn = panel.obstacle_form.editor("obstacle-turn")
    turn.committed.emit("-30°")
    shape = bed(window).obstacles[0].shape
    assert isinstance(shape, Polygon)
    assert len(shape.points) == 4
    turn.committed.emit("half")
    assert panel.obstacle_form.rows["obstacle-turn"].note.text().startswith("! “half” is no angle")
    assert steps(window)[-2:] == ["Turn pipe", "Turn by -30°"]


def test_what_cannot_be_is_said_and_changes_nothing(window: MainWindow) -> None:
    zone = edits.fresh_zone(bed(window), rafts=("R1",))
    window.document.apply("Zone", edits.add_zone(window.document.project, "Bench", zone))
    window.selection.set_zone(zone.name)
    before = window.document.project
    trigger(window, "thing-double")
    assert window.document.project is before
    assert window.notice.isVisibleTo(window)


def test_a_round_obstacle_keeps_its_shape_when_the_kind_of_thing_changes(
    window: MainWindow,
) -> None:
    window.selection.set_thing(PIPE)
    trigger(window, "thing-turn")
    assert bed(window).obstacles[0].shape == Disc(Length.of(20))
    assert steps(window) == []


def test_a_bench_without_obstacles_shows_no_obstacle_to_double(window: MainWindow) -> None:
    window.document.start(make_project(make_bench(obstacles=())))
    window.go_to("Bed")
    panel = window.fields.currentWidget()
    assert isinstance(panel, BedPanel)
    assert not panel.obstacles.buttons["Duplicate"].isEnabled()
