"""Looking and measuring through a real view: rulers, guide lines, tape, zoom."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPointingDevice,
    QWheelEvent,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from geometry.model.guide_line import GuideLine
from geometry.model.project import Project
from geometry.units import Length, Unit
from layout_gui.canvas.measuring import between, foam_between
from layout_gui.document.aids import CORNER
from tests.layout_gui.canvas.hand_made import HandMade
from tests.layout_gui.canvas.test_view import ALT, CTRL, LEFT, MIDDLE, NO_BUTTON, NONE, SHIFT, Bench

# Two rafts of 600 x 400 at (10, 10) and (615, 10); holes of 50 at 100, 300, 500 and 100, 300 in
# each; the bed is 1225 x 420.


@pytest.fixture
def make_bench(qtbot: QtBot) -> Callable[..., Bench]:
    def make(unit: Unit = "mm", **plan: object) -> Bench:
        return Bench(qtbot, HandMade(**plan), unit)  # type: ignore[arg-type]

    return make


@pytest.fixture
def bench(make_bench: Callable[..., Bench]) -> Bench:
    return make_bench()


def mm(value: float) -> Length:
    return Length.of(value)


def lines(bench: Bench) -> list[tuple[str, float]]:
    return [(line.axis, line.at.mm) for line in bench.document.project.guide_lines]


def handle(
    bench: Bench,
    part: QWidget,
    kind: QEvent.Type,
    at: QPointF,
    held: Qt.KeyboardModifier = NONE,
) -> None:
    """Send a mouse event to a ruler or the corner; ``at`` is a pixel of the canvas."""
    there = bench.view.viewport().mapToGlobal(at)
    here = part.mapFromGlobal(there)
    cause = NO_BUTTON if kind == QEvent.Type.MouseMove else LEFT
    buttons = NO_BUTTON if kind == QEvent.Type.MouseButtonRelease else LEFT
    QApplication.sendEvent(part, QMouseEvent(kind, here, there, cause, buttons, held))


PRESS, MOVE = QEvent.Type.MouseButtonPress, QEvent.Type.MouseMove
RELEASE, DOUBLE = QEvent.Type.MouseButtonRelease, QEvent.Type.MouseButtonDblClick


def pull(bench: Bench, part: QWidget, x: float, y: float, held: Qt.KeyboardModifier = NONE) -> None:
    """Drag from a ruler, or from the corner, to a place of the bed."""
    end = bench.pixel(x, y)
    outside = QPointF(end.x(), -8) if part is bench.view._top else QPointF(-8, end.y())
    handle(bench, part, PRESS, outside, held)
    handle(bench, part, MOVE, (outside + end) / 2, held)
    handle(bench, part, MOVE, end, held)
    handle(bench, part, RELEASE, end, held)


# -- guide lines -------------------------------------------------------------------------------


def test_a_guide_line_is_dragged_out_of_each_ruler(bench: Bench) -> None:
    pull(bench, bench.view._top, 200, 183)
    assert lines(bench) == [("y", 183)]
    assert bench.document.undo_stack.undoText() == "Guide line at 183 mm"
    pull(bench, bench.view._left, 251, 180)
    assert lines(bench) == [("y", 183), ("x", 251)]
    assert bench.view.aids.picked == GuideLine("North", "x", mm(251))
    bench.document.undo_stack.undo()
    assert lines(bench) == [("y", 183)]
    assert bench.view.aids.picked is None


def test_in_inches_a_guide_line_lies_on_a_sixteenth_exactly(
    make_bench: Callable[..., Bench],
) -> None:
    bench = make_bench("in")
    pull(bench, bench.view._top, 200, 187.9)
    ((_, at),) = [(line.axis, line.at.exact) for line in bench.document.project.guide_lines]
    assert (at / Length.of("1/16 in").exact).denominator == 1
    assert float(at) == pytest.approx(187.9, abs=0.8)


def test_a_guide_line_snaps_to_what_lies_there_unless_alt_is_held(bench: Bench) -> None:
    words: list[str] = []
    bench.view.snapped.connect(words.append)
    pull(bench, bench.view._top, 200, 112)
    assert lines(bench) == [("y", 110)]
    assert "in line with A1" in words
    assert words[-1] == ""
    pull(bench, bench.view._left, 306.25, 200, ALT)
    assert lines(bench)[1][1] == pytest.approx(306.25, abs=0.6)


def test_the_place_of_a_guide_line_is_typed_while_it_is_dragged(bench: Bench) -> None:
    handle(bench, bench.view._top, PRESS, QPointF(200, -8))
    handle(bench, bench.view._top, MOVE, QPointF(200, 80))
    for sign in "12.55cm":
        QApplication.sendEvent(bench.view, QKeyEvent(QEvent.Type.KeyPress, 0, NONE, sign))
    bench.key(Qt.Key.Key_Backspace)
    handle(bench, bench.view._top, MOVE, QPointF(200, 120))
    assert "12.55c" in bench.hints[-1]
    bench.key(Qt.Key.Key_Backspace)
    bench.key(Qt.Key.Key_Return)
    handle(bench, bench.view._top, RELEASE, QPointF(200, 120))

    assert lines(bench) == [("y", 12.55)]
    assert bench.document.undo_stack.count() == 1
    assert "12.55 mm" in bench.hints[-1] or "12.6 mm" in bench.hints[-1]


def test_let_go_over_its_ruler_a_line_is_none_or_gone(bench: Bench) -> None:
    handle(bench, bench.view._top, PRESS, QPointF(200, -8))
    handle(bench, bench.view._top, MOVE, QPointF(200, 80))
    handle(bench, bench.view._top, RELEASE, QPointF(200, -8))
    assert lines(bench) == []
    bench.view.add_guide_line("y", mm(183))
    bench.press(200, 183)
    bench.move(200, 250)
    top = bench.view.mapToScene(0, -8)
    bench.move(200, top.y())
    bench.release(200, top.y())
    assert lines(bench) == []
    assert bench.document.undo_stack.undoText() == "Remove guide line"


def test_a_guide_line_is_moved_by_drag_and_escape_leaves_it(bench: Bench) -> None:
    bench.view.add_guide_line("x", mm(200))
    bench.press(200, 200)
    bench.move(240, 200)
    bench.key(Qt.Key.Key_Escape)
    bench.release(240, 200)
    assert lines(bench) == [("x", 200)]
    bench.drag((200, 200), (243, 200))
    assert lines(bench) == [("x", 243)]
    assert bench.document.undo_stack.undoText() == "Move guide line to 243 mm"


def test_a_guide_line_is_picked_nudged_locked_and_removed_by_keys(bench: Bench) -> None:
    for at in (400, 200):
        bench.view.add_guide_line("x", mm(at))
    bench.view.next_guide_line()
    assert bench.view.aids.picked is not None
    steps = bench.document.undo_stack.count()
    while bench.view.aids.picked.at != mm(200):
        bench.view.next_guide_line()
    for _ in range(3):
        bench.key(Qt.Key.Key_Right)
    bench.key(Qt.Key.Key_Right, SHIFT)
    bench.key(Qt.Key.Key_Up)
    assert sorted(at for _, at in lines(bench)) == [213, 400]
    assert bench.document.undo_stack.count() == steps + 1
    bench.view.lock_guide_line()
    bench.key(Qt.Key.Key_Delete)
    bench.key(Qt.Key.Key_Left)
    assert "locked" in bench.hints[-1]
    assert sorted(at for _, at in lines(bench)) == [213, 400]
    bench.view.lock_guide_line()
    bench.key(Qt.Key.Key_Delete)
    assert lines(bench) == [("x", 400)]
    assert bench.view.aids.picked is None


def test_holes_win_over_the_guide_line_on_them(bench: Bench) -> None:
    bench.view.add_guide_line("x", mm(110))
    bench.view.aids.pick(None)
    bench.click(110, 110)
    assert bench.selection.holes == {("R1", "A1")}
    assert bench.view.aids.picked is None
    bench.click(110, 200)
    assert bench.view.aids.picked is not None
    assert not bench.selection.holes


def test_the_pointer_tells_which_line_can_be_dragged(bench: Bench) -> None:
    bench.view.add_guide_line("x", mm(250))
    bench.view.add_guide_line("y", mm(110))

    def pointer(x: float, y: float) -> Qt.CursorShape:
        bench.move(x, y)
        return bench.view.viewport().cursor().shape()

    assert pointer(250, 180) is Qt.CursorShape.SizeHorCursor
    assert pointer(200, 110) is Qt.CursorShape.SizeVerCursor
    assert pointer(110, 110) is Qt.CursorShape.ArrowCursor  # a hole comes first
    bench.view.lock_guide_line()
    assert pointer(200, 110) is Qt.CursorShape.ArrowCursor


def test_a_typed_line_out_of_bounds_is_refused_with_its_reason(bench: Bench) -> None:
    assert "1000 m" in bench.view.add_guide_line("x", Length.of(10_000_000))
    assert lines(bench) == []


# -- the rulers' zero --------------------------------------------------------------------------


def test_the_zero_is_dragged_from_the_corner_and_put_back(bench: Bench) -> None:
    corner = bench.view._corner
    pull(bench, corner, 201, 183)
    assert bench.view.aids.zero("North") == (mm(201), mm(183))
    assert bench.view._top._zero == pytest.approx(bench.pixel(201, 0).x())
    assert bench.view._left._zero == pytest.approx(bench.pixel(0, 183).y())
    handle(bench, corner, DOUBLE, QPointF(-5, -5))
    assert bench.view.aids.zero("North") == CORNER
    assert bench.document.undo_stack.count() == 0


def test_escape_takes_a_dragged_zero_back(bench: Bench) -> None:
    corner = bench.view._corner
    handle(bench, corner, PRESS, QPointF(-5, -5))
    handle(bench, corner, MOVE, bench.pixel(201, 183))
    assert bench.view.aids.zero("North") != CORNER
    bench.key(Qt.Key.Key_Escape)
    assert bench.view.aids.zero("North") == CORNER
    handle(bench, corner, RELEASE, bench.pixel(201, 183))
    assert bench.view.aids.zero("North") == CORNER


def test_each_bed_has_a_zero_of_its_own(bench: Bench) -> None:
    bench.view.aids.set_zero("North", (mm(100), mm(50)))
    bench.view.set_bed("South")
    assert bench.view._top._zero == pytest.approx(bench.pixel(0, 0).x())
    bench.view.set_bed("North")
    assert bench.view._top._zero == pytest.approx(bench.pixel(100, 0).x())


# -- snapping and grid -------------------------------------------------------------------------


def test_switched_off_nothing_snaps(bench: Bench) -> None:
    bench.view.aids.set_snaps(False)
    bench.press(110, 110)
    bench.move(201.25, 303.25)
    assert bench.spot("R1", "A1").y == pytest.approx(303.25, abs=0.01)
    assert bench.view._scene.guides._guides == ()
    bench.release(201.25, 303.25)


def test_a_dragged_hole_says_what_it_snapped_to(bench: Bench) -> None:
    words: list[str] = []
    bench.view.snapped.connect(words.append)
    bench.view.add_guide_line("x", mm(203))
    bench.press(110, 110)
    bench.move(204, 212)
    assert words[-1] == "guide line, middle of R1"
    assert (bench.spot("R1", "A1").x, bench.spot("R1", "A1").y) == pytest.approx((203, 210))
    bench.release(204, 212)
    assert words[-1] == ""


def test_the_grid_that_is_shown_attracts(bench: Bench) -> None:
    bench.view.aids.set_grid(True, mm(40))
    bench.press(110, 110)
    bench.move(162, 178)
    bench.release(162, 178)
    moved = bench.spot("R1", "A1")
    assert (moved.x, moved.y) == pytest.approx((160, 178))


# -- measuring ---------------------------------------------------------------------------------


def tape(bench: Bench) -> tuple[str, ...]:
    return bench.view._scene.tape.words


def test_the_tape_goes_from_hole_to_hole_with_the_foam_between(bench: Bench) -> None:
    bench.view.measure()
    bench.drag((112, 108), (313, 311))
    start, end = bench.view._eyes.tape_ends
    assert start is not None
    assert end is not None
    assert (start.hole, end.hole) == (("R1", "A1"), ("R1", "B2"))
    # 3-4-5 with sides of 200: the diagonal of a square, 200 times the root of 2.
    assert tape(bench)[0].startswith("282.8 mm = 11 1/8 in")
    assert tape(bench)[1].startswith("foam 232.8 mm")
    assert tape(bench)[2] == "along 200 mm, across 200 mm"
    assert bench.document.undo_stack.count() == 0
    assert bench.view.tool == "measure"


def test_from_a_hole_to_an_edge_the_tape_takes_the_shortest_way(bench: Bench) -> None:
    bench.view.measure()
    bench.drag((110, 110), (11, 118))
    _, end = bench.view._eyes.tape_ends
    assert end is not None
    assert (end.x, end.y) == pytest.approx((10, 110))
    assert end.words == "edge of R1"
    assert tape(bench)[:2] == ("100 mm = 3 15/16 in", "foam 75 mm = 2 15/16 in + 0.4 mm")


def test_two_clicks_measure_too_and_the_third_begins_anew(bench: Bench) -> None:
    bench.view.measure()
    bench.click(110, 110)
    bench.move(200, 200)
    bench.click(310, 110)
    assert tape(bench)[0].startswith("200 mm = 7 7/8 in")
    bench.move(500, 300)
    assert tape(bench)[0].startswith("200 mm")
    bench.click(510, 310)
    assert tape(bench) == ()


def test_rims_edges_and_nothing_are_told_apart(bench: Bench) -> None:
    bench.view.measure()
    bench.drag((110, 134.5), (200, 200.2))
    start, end = bench.view._eyes.tape_ends
    assert start is not None
    assert end is not None
    assert start.is_rim
    assert start.y == pytest.approx(135, abs=0.1)
    assert start.words == "rim of A1 on R1"
    assert end.words == ""
    assert foam_between(start, end) is None
    bench.press(110, 134.5, held=ALT)
    bench.release(110, 134.5, held=ALT)
    free, _ = bench.view._eyes.tape_ends
    assert free is not None
    assert not free.is_rim


def test_shift_keeps_the_tape_straight(bench: Bench) -> None:
    bench.view.measure()
    bench.press(110, 110)
    bench.move(300, 150, held=SHIFT)
    bench.release(290, 150, held=SHIFT)
    _, end = bench.view._eyes.tape_ends
    assert end is not None
    assert end.y == pytest.approx(110)


def test_the_tape_is_moved_by_keys_alone(bench: Bench) -> None:
    bench.view.measure()
    assert bench.view.focusNextPrevChild(True)
    assert bench.view.focusNextPrevChild(True)
    assert tape(bench)[0].startswith("200 mm")
    bench.key(Qt.Key.Key_Right)
    bench.key(Qt.Key.Key_Right, CTRL)
    assert tape(bench)[0].startswith("201.1 mm")
    bench.key(Qt.Key.Key_Return)
    bench.key(Qt.Key.Key_Left, SHIFT)
    assert tape(bench)[0].startswith("211.1 mm")
    bench.key(Qt.Key.Key_Escape)
    assert bench.view.tool == ""
    assert tape(bench) == ()
    assert bench.document.undo_stack.count() == 0


def test_with_two_holes_selected_the_tape_lies_on_them(bench: Bench) -> None:
    bench.click(110, 110)
    bench.click(310, 110, held=SHIFT)
    bench.view.measure()
    assert tape(bench)[0].startswith("200 mm")
    bench.view.measure()
    assert bench.view.tool == ""


def test_the_tape_follows_its_hole_and_lets_go_of_one_that_is_gone(bench: Bench) -> None:
    bench.view.measure()
    bench.drag((110, 110), (310, 110))
    bench.selection.set_holes([("R1", "A2")])
    bench.view.delete_selected()
    assert bench.view._eyes.tape_ends == (None, None)
    bench.document.undo_stack.undo()
    bench.drag((110, 110), (310, 110))
    assert tape(bench)[0].startswith("200 mm")


def test_two_selected_things_are_told_apart_in_the_last_line(bench: Bench) -> None:
    assert bench.view.selection_words() == ""
    bench.click(110, 110)
    assert bench.view.selection_words() == "1 hole, 50 mm \N{MULTIPLICATION SIGN} 50 mm"
    bench.click(310, 110, held=SHIFT)
    assert bench.view.selection_words() == "2 holes, 200 mm apart, 150 mm foam between"
    bench.click(510, 110, held=SHIFT)
    assert bench.view.selection_words() == "3 holes, 450 mm \N{MULTIPLICATION SIGN} 50 mm"
    bench.selection.set_rafts(["R1", "R2"])
    assert bench.view.selection_words() == "2 rafts, gap 5 mm"
    bench.selection.set_rafts(["R1"])
    places = bench.view._hands.places
    assert places is not None
    assert between(places, bench.selection, "mm") == ""
    assert bench.view.selection_words() == "1 raft, 600 mm \N{MULTIPLICATION SIGN} 400 mm"


def test_a_tool_for_drawing_puts_the_tape_away_and_the_other_way_round(bench: Bench) -> None:
    bench.view.measure()
    bench.view.arm_add_hole()
    assert bench.view.tool == ""
    assert bench.view.is_armed
    bench.view.measure()
    assert bench.view.tool == "measure"
    bench.click(200, 180)
    assert bench.document.undo_stack.count() == 0
    bench.view.disarm()
    assert not bench.view.is_armed


# -- zoom and pan ------------------------------------------------------------------------------


def test_a_frame_is_zoomed_to(bench: Bench) -> None:
    bench.view.arm_frame()
    bench.drag((100, 100), (300, 300))
    assert bench.view.tool == ""
    assert bench.view.seen().contains(QRectF(100, 100, 200, 200))
    assert bench.view.seen().height() < 260
    assert bench.view.seen().center().x() == pytest.approx(200, abs=2)
    assert not bench.selection.holes
    scale = bench.view.pixels_per_mm
    bench.view.arm_frame()
    bench.click(200, 200)
    assert bench.view.tool == "frame"
    bench.key(Qt.Key.Key_Escape)
    assert bench.view.pixels_per_mm == scale


def test_the_selection_is_shown_as_large_as_it_goes(bench: Bench) -> None:
    before = bench.view.pixels_per_mm
    bench.view.fit_selection()
    assert bench.view.pixels_per_mm == before
    bench.click(110, 110)
    bench.click(310, 310, held=SHIFT)
    bench.view.fit_selection()
    seen = bench.view.seen()
    assert seen.contains(QRectF(85, 85, 250, 250))
    assert seen.height() < 330


def test_the_zoom_can_be_set_and_is_told(bench: Bench) -> None:
    told: list[float] = []
    bench.view.zoom_changed.connect(told.append)
    bench.view.set_zoom(0.5)
    assert bench.view.zoom == pytest.approx(0.5)
    assert told[-1] == pytest.approx(0.5)
    bench.view.zoom_100()
    assert told[-1] == pytest.approx(1)
    bench.view.set_zoom(1e9)
    assert bench.view.pixels_per_mm == 60


def test_pinching_zooms_at_the_fingers(bench: Bench) -> None:
    at = bench.pixel(110, 110)
    before = bench.view.pixels_per_mm
    event = QNativeGestureEvent(
        Qt.NativeGestureType.ZoomNativeGesture,
        QPointingDevice.primaryPointingDevice(),
        2,
        at,
        at,
        QPointF(bench.view.viewport().mapToGlobal(at.toPoint())),
        1.0,
        QPointF(),
    )
    QApplication.sendEvent(bench.view.viewport(), event)
    assert bench.view.pixels_per_mm == pytest.approx(2 * before)
    assert bench.pixel(110, 110).x() == pytest.approx(at.x(), abs=2)


def test_two_fingers_move_the_view_and_come_nearer_where_they_are(bench: Bench) -> None:
    """The first finger comes down on a hole, alone; the hole stays where it is."""
    pad, view = bench.view.viewport(), bench.view
    fingers = QTest.createTouchDevice()

    def touch(kind: str, one: QPointF, other: QPointF | None) -> None:
        event = QTest.touchEvent(pad, fingers)
        getattr(event, kind)(0, one.toPoint(), pad)
        if other is not None:
            getattr(event, kind)(1, other.toPoint(), pad)
        event.commit()
        QApplication.processEvents()

    start = bench.pixel(110, 110)
    middle, scale = view.mapToScene((start + QPointF(40, 0)).toPoint()), view.pixels_per_mm
    touch("press", start, None)
    touch("press", start, start + QPointF(80, 0))
    for step in range(1, 9):
        touch("move", start - QPointF(5 * step, 0), start + QPointF(80 + 5 * step, 0))
    assert view.pixels_per_mm > 1.5 * scale
    under = view.mapToScene((start + QPointF(40, 0)).toPoint())
    assert abs(under.x() - middle.x()) < 6 / view.pixels_per_mm
    scale = view.pixels_per_mm
    for step in range(1, 9):
        by = QPointF(4 * step, 3 * step)
        touch("move", start - QPointF(40, 0) + by, start + QPointF(120, 0) + by)
    touch("release", start - QPointF(8, -24), start + QPointF(152, 24))
    there = view.mapToScene((start + QPointF(40 + 32, 24)).toPoint())
    assert view.pixels_per_mm == pytest.approx(scale)
    assert abs(there.x() - under.x()) + abs(there.y() - under.y()) < 10 / scale
    assert bench.document.undo_stack.count() == 0


def test_a_touch_pad_moves_the_view_and_with_ctrl_comes_nearer(bench: Bench) -> None:
    view = bench.view
    view.set_zoom(view.zoom * 3)
    at = bench.pixel(110, 110)
    for held in (NONE, CTRL):
        before, scale = view.seen().topLeft(), view.pixels_per_mm
        wheel = QWheelEvent(
            at,
            QPointF(view.viewport().mapToGlobal(at.toPoint())),
            QPoint(12, 0),
            QPoint(0, 120),
            NO_BUTTON,
            held,
            Qt.ScrollPhase.ScrollUpdate,
            False,
        )
        QApplication.sendEvent(view.viewport(), wheel)
        moved = (before.x() - view.seen().left()) * scale
        assert (view.pixels_per_mm > scale) is (held == CTRL)
        assert held == CTRL or moved == pytest.approx(12, abs=1)


def test_the_whole_bed_in_the_corner_shows_the_way(bench: Bench) -> None:
    view, small = bench.view, bench.view._small
    view.aids.set_small_bed(True)
    assert not small.isVisible()
    view.set_zoom(view.zoom * 6)
    assert small.isVisible()
    assert view.rect().contains(small.geometry())
    for at, is_left in ((QPointF(12, 12), True), (QPointF(small.rect().bottomRight()), False)):
        there = QPointF(small.mapToGlobal(at.toPoint()))
        press = QMouseEvent(PRESS, at, there, LEFT, LEFT, NONE)
        QApplication.sendEvent(small, press)
        box, centre = view._scene.outline_box, view.seen().center()
        assert (centre.x() < box.center().x()) is is_left
        assert (centre.y() > box.center().y()) is is_left
    view.aids.set_small_bed(False)
    assert not small.isVisible()


def test_the_holes_of_a_hidden_raft_are_out_of_reach_until_it_is_shown(bench: Bench) -> None:
    view = bench.view
    bench.click(110, 110)
    view.aids.hide("North", {"R1"})
    assert bench.selection.holes == frozenset()
    bench.click(110, 110)
    assert bench.selection.rafts == {"R1"}
    view.select_all()
    assert {raft for raft, _ in bench.selection.holes} == {"R2"}
    view.aids.hide("North", ())
    bench.click(110, 110)
    assert bench.selection.holes == {("R1", "A1")}


def test_pages_look_further(bench: Bench) -> None:
    bench.view.set_zoom(bench.view.zoom * 4)
    before = bench.view.seen().center()
    bench.view.look_further(1, 1)
    after = bench.view.seen().center()
    assert after.x() > before.x()
    assert after.y() > before.y()
    bench.view.look_further(-1, -1)
    assert bench.view.seen().center().x() == pytest.approx(before.x(), abs=2)


def test_the_middle_button_and_space_drag_the_view(bench: Bench) -> None:
    bench.view.set_zoom(bench.view.zoom * 3)
    for button, key in ((MIDDLE, None), (LEFT, Qt.Key.Key_Space)):
        before = bench.view.seen().center().x()
        if key is not None:
            QApplication.sendEvent(bench.view, QKeyEvent(QEvent.Type.KeyPress, key, NONE))
        middle = bench.view.seen().center()
        at = bench.pixel(middle.x(), middle.y())
        for kind, x in ((PRESS, 0), (MOVE, 60), (RELEASE, 60)):
            place = bench.view.mapToScene((at + QPointF(x, 0)).toPoint())
            bench.send(kind, place.x(), place.y(), button)
        if key is not None:
            QApplication.sendEvent(bench.view, QKeyEvent(QEvent.Type.KeyRelease, key, NONE))
        assert bench.view.seen().center().x() < before


# -- menus -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("x", "y", "kind"),
    [
        (110, 110, "hole"),
        (200, 200, "raft"),
        (-30, 200, "nothing"),
        (2, 2, "corner"),
        (403, 200, "guide line"),
    ],
)
def test_the_menu_is_for_what_lies_under_the_pointer(
    bench: Bench, x: float, y: float, kind: str
) -> None:
    asked: list[str] = []
    bench.view.menu_wanted.connect(lambda kind, _at: asked.append(kind))
    bench.view.add_guide_line("x", mm(403))
    at = bench.pixel(x, y).toPoint()
    there = bench.view.viewport().mapToGlobal(at)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, there, NONE)
    QApplication.sendEvent(bench.view.viewport(), event)
    assert asked == [kind]
    assert (bench.selection.holes == {("R1", "A1")}) is (kind == "hole")
    assert (bench.selection.rafts == {"R1"}) is (kind == "raft")
    assert (bench.view.aids.picked is not None) is (kind == "guide line")


def test_the_menu_key_asks_for_what_is_selected(bench: Bench) -> None:
    asked: list[str] = []
    bench.view.menu_wanted.connect(lambda kind, _at: asked.append(kind))
    for names in ([("R1", "A1")], []):
        bench.selection.set_holes(names)
        event = QContextMenuEvent(
            QContextMenuEvent.Reason.Keyboard,
            QPointF(5, 5).toPoint(),
            QPointF(5, 5).toPoint(),
            NONE,
        )
        QApplication.sendEvent(bench.view.viewport(), event)
    assert asked == ["hole", "nothing"]


def test_without_a_bed_nothing_fails(bench: Bench) -> None:
    bench.document.start(Project(""))
    view = bench.view
    view.show_box(QRectF(0, 0, 10, 10))
    view.set_zoom(2)
    view.fit_selection()
    view.look_further(1, 1)
    view.next_guide_line()
    view.lock_guide_line()
    assert "no bed" in view.add_guide_line("x", mm(10))
    view.measure()
    bench.drag((0, 0), (10, 10))
    bench.key(Qt.Key.Key_Right)
    assert not view.focusNextPrevChild(True) or view.tool == "measure"
    view.arm_frame()
    bench.drag((0, 0), (100, 100))
    bench.key(Qt.Key.Key_Escape)
    pull(bench, view._top, 5, 5)
    pull(bench, view._corner, 5, 5)
    assert view.selection_words() == ""
    assert bench.document.project == Project("")
