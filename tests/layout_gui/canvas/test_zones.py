"""Zones by pointer and keys on a real view, with the hand-made plan."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from geometry.model.outlines import Rectangle
from geometry.model.zone import Zone
from geometry.units import Length
from layout_gui.project import edits
from tests.layout_gui.canvas.hand_made import HandMade
from tests.layout_gui.canvas.test_view import Bench


def mm(value: float) -> Length:
    return Length.of(value)


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot, HandMade(), "mm")


@pytest.fixture
def zoned(bench: Bench) -> Bench:
    """A zone of 300 x 200 mm whose lower left corner is at 150, 150 of the bed."""
    shape = Rectangle(mm(300), mm(200))
    bed = edits.find_bed(bench.document.project, "North")
    zone = edits.fresh_zone(bed, shape=shape, corner=(mm(150), mm(150)))
    bench.document.apply("Add", edits.add_zone(bench.document.project, "North", zone))
    return bench


def zones(bench: Bench) -> tuple[Zone, ...]:
    return bench.document.project.beds[0].zones


def corner(bench: Bench) -> tuple[float, float]:
    at = zones(bench)[0].corner
    assert at is not None
    return at[0].mm, at[1].mm


def test_a_drag_with_the_tool_draws_a_zone_in_one_undo_step(bench: Bench) -> None:
    bench.view.arm_draw_zone()
    bench.press(150.3, 150.2)
    bench.move(300, 250)
    assert any("150 mm" in hint for hint in bench.hints)
    bench.move(450.4, 349.6)
    bench.release(450.4, 349.6)

    (zone,) = zones(bench)
    assert zone.shape == Rectangle(mm(300), mm(200))
    assert corner(bench) == (150, 150)
    assert bench.selection.zone == zone.name
    assert bench.document.undo_stack.undoText() == f"Draw zone {zone.name}"
    assert bench.document.undo_stack.count() == 1
    bench.document.undo_stack.undo()
    assert zones(bench) == ()


def test_after_the_zone_the_tool_is_put_away(bench: Bench) -> None:
    bench.view.arm_draw_zone()
    bench.drag((150, 150), (450, 350))
    bench.drag((20, 20), (60, 60))

    assert len(zones(bench)) == 1


def test_a_click_keeps_the_tool_and_escape_puts_it_away(bench: Bench) -> None:
    bench.view.arm_draw_zone()
    bench.click(200, 200)
    assert zones(bench) == ()
    assert any("Drag from one corner" in hint for hint in bench.hints)

    bench.key(Qt.Key.Key_Escape)
    bench.drag((150, 150), (450, 350))
    assert zones(bench) == ()


def test_escape_in_the_middle_of_a_drag_leaves_everything(bench: Bench) -> None:
    bench.view.arm_draw_zone()
    bench.press(150, 150)
    bench.move(450, 350)
    bench.key(Qt.Key.Key_Escape)
    bench.release(450, 350)

    assert zones(bench) == ()
    assert bench.document.undo_stack.count() == 0


def test_a_click_on_the_outline_selects_the_zone(zoned: Bench) -> None:
    zoned.click(200, 150)

    assert zoned.selection.zone == "zone 1"
    zoned.click(250, 250)
    assert zoned.selection.zone == ""


def test_a_drag_at_the_outline_moves_the_zone_in_whole_millimetres(zoned: Bench) -> None:
    zoned.drag((200, 150), (230.3, 139.8))

    assert corner(zoned) == (180, 140)
    assert zoned.document.undo_stack.undoText() == "Move zone zone 1"
    zoned.document.undo_stack.undo()
    assert corner(zoned) == (150, 150)


def test_escape_while_dragging_a_zone_puts_it_back(zoned: Bench) -> None:
    steps = zoned.document.undo_stack.count()
    zoned.press(200, 150)
    zoned.move(260, 190)
    zoned.key(Qt.Key.Key_Escape)
    zoned.release(260, 190)

    assert corner(zoned) == (150, 150)
    assert zoned.document.undo_stack.count() == steps


def test_arrow_keys_move_the_selected_zone_as_one_step(zoned: Bench) -> None:
    zoned.selection.set_zone("zone 1")
    steps = zoned.document.undo_stack.count()
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Up):
        zoned.key(key)

    assert corner(zoned) == (152, 151)
    assert zoned.document.undo_stack.count() == steps + 1


def test_delete_removes_the_selected_zone(zoned: Bench) -> None:
    zoned.selection.set_zone("zone 1")
    zoned.view.delete_selected()

    assert zones(zoned) == ()
    assert zoned.selection.zone == ""
    assert zoned.document.undo_stack.undoText() == "Remove zone zone 1"


def test_a_zone_of_whole_rafts_cannot_be_dragged(bench: Bench) -> None:
    bed = edits.find_bed(bench.document.project, "North")
    zone = edits.fresh_zone(bed, rafts=("R1",))
    bench.document.apply("Add", edits.add_zone(bench.document.project, "North", zone))
    bench.selection.set_zone(zone.name)
    bench.key(Qt.Key.Key_Right)

    assert zones(bench) == (zone,)
    assert any("made of whole rafts" in hint for hint in bench.hints)


def test_selecting_holes_or_rafts_unselects_the_zone(zoned: Bench) -> None:
    for select in (
        lambda: zoned.selection.set_rafts(["R1"]),
        lambda: zoned.selection.set_holes([("R1", "A1")]),
        zoned.selection.clear,
    ):
        zoned.selection.set_zone("zone 1")
        choose: Callable[[], None] = select
        choose()
        assert zoned.selection.zone == ""
