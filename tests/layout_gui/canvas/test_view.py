"""Events through a real view on a real document, its plans hand-made."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from geometry.units import Unit
from layout_gui.canvas import gestures
from layout_gui.canvas.places import Spot
from layout_gui.canvas.rafts import Rafts
from layout_gui.canvas.view import SLIP_PX, BedView, Pointer
from layout_gui.document.document import Document, nothing_planned
from layout_gui.document.selection import Selection
from layout_gui.project.things import Thing
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.canvas.hand_made import HandMade

NONE = Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
CTRL = Qt.KeyboardModifier.ControlModifier
ALT = Qt.KeyboardModifier.AltModifier
LEFT = Qt.MouseButton.LeftButton
MIDDLE = Qt.MouseButton.MiddleButton
NO_BUTTON = Qt.MouseButton.NoButton


class Bench:
    """A view with two rafts of 600 x 400 mm, holes at 100, 300, 500 and 100, 300."""

    def __init__(self, qtbot: QtBot, plan: HandMade, unit: Unit, patience_s: float = 10) -> None:
        self.qtbot = qtbot
        self.document = Document(make_plan=plan, patience_s=patience_s)
        self.selection = Selection()
        self.view = BedView(self.document, self.selection, LIGHT)
        qtbot.addWidget(self.view)
        self.view.resize(1200, 700)
        self.view.show()
        qtbot.waitExposed(self.view)
        self.view.setFocus()
        self.start = plan.project("North", "South", units=unit)
        self.document.start(self.start)
        self.hints: list[str] = []
        self.view.hint_changed.connect(self.hints.append)

    def pixel(self, x: float, y: float) -> QPointF:
        return self.view.viewportTransform().map(QPointF(x, y))

    def send(
        self,
        kind: QEvent.Type,
        x: float,
        y: float,
        button: Qt.MouseButton = LEFT,
        held: Qt.KeyboardModifier = NONE,
    ) -> None:
        at = self.pixel(x, y)
        buttons = NO_BUTTON if kind == QEvent.Type.MouseButtonRelease else button
        cause = NO_BUTTON if kind == QEvent.Type.MouseMove else button
        event = QMouseEvent(kind, at, self.view.mapToGlobal(at), cause, buttons, held)
        QApplication.sendEvent(self.view.viewport(), event)

    def press(self, x: float, y: float, **more: Qt.KeyboardModifier | Qt.MouseButton) -> None:
        self.send(QEvent.Type.MouseButtonPress, x, y, **more)  # type: ignore[arg-type]

    def move(self, x: float, y: float, **more: Qt.KeyboardModifier | Qt.MouseButton) -> None:
        self.send(QEvent.Type.MouseMove, x, y, **more)  # type: ignore[arg-type]

    def release(self, x: float, y: float, **more: Qt.KeyboardModifier | Qt.MouseButton) -> None:
        self.send(QEvent.Type.MouseButtonRelease, x, y, **more)  # type: ignore[arg-type]

    def click(self, x: float, y: float, held: Qt.KeyboardModifier = NONE) -> None:
        self.press(x, y, held=held)
        self.release(x, y, held=held)

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.press(*start)
        self.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        self.move(*end)
        self.release(*end)

    def drag_held(
        self, start: tuple[float, float], end: tuple[float, float], held: Qt.KeyboardModifier
    ) -> None:
        self.press(*start, held=held)
        self.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, held=held)
        self.move(*end, held=held)
        self.release(*end, held=held)

    def menu(self, reason: QContextMenuEvent.Reason, x: float, y: float) -> None:
        at = self.pixel(x, y).toPoint()
        event = QContextMenuEvent(reason, at, self.view.viewport().mapToGlobal(at), NONE)
        QApplication.sendEvent(self.view.viewport(), event)

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
            QApplication.sendEvent(self.view, QKeyEvent(kind, key, held))

    def spot(self, raft: str, hole: str) -> Spot:
        places = self.view._hands.places
        assert places is not None
        (found,) = places.spots([(raft, hole)])
        return found


@pytest.fixture
def make_bench(qtbot: QtBot) -> Callable[..., Bench]:
    def make(unit: Unit = "mm", **options: object) -> Bench:
        return Bench(qtbot, HandMade(**options), unit)  # type: ignore[arg-type]

    return make


@pytest.fixture
def bench(make_bench: Callable[..., Bench]) -> Bench:
    return make_bench()


def test_the_first_bed_is_shown_whole(bench: Bench) -> None:
    assert bench.selection.bed == "North"
    seen = bench.view.mapToScene(bench.view.viewport().rect()).boundingRect()
    assert seen.contains(bench.view._scene.outline_box)
    assert bench.view._scene.outline_box.width() / seen.width() > 0.8


def type_on(bench: Bench, text: str) -> None:
    for sign in text:
        QApplication.sendEvent(bench.view, QKeyEvent(QEvent.Type.KeyPress, 0, NONE, sign))


def pins_of(bench: Bench) -> list[tuple[float, float, bool]]:
    planting = bench.document.project.beds[0].planting
    assert planting is not None
    return [(pin.x.mm, pin.y.mm, pin.home is None) for pin in planting.pins]


def test_with_ctrl_a_drag_copies_and_the_old_hole_stays(bench: Bench) -> None:
    bench.press(110, 110, held=CTRL)
    bench.move(160, 150, held=CTRL)
    bench.move(210, 210, held=CTRL)
    bench.release(210, 210, held=CTRL)

    assert bench.document.undo_stack.undoText() == "Copy hole A1"
    added = [(x, y) for x, y, is_added in pins_of(bench) if is_added]
    assert added == [(200, 200)]
    bench.document.undo_stack.undo()
    assert pins_of(bench) == []


def test_ctrl_let_go_while_dragging_moves_after_all(bench: Bench) -> None:
    bench.click(110, 110)
    bench.press(110, 110)
    bench.move(200, 200, held=CTRL)
    bench.move(190, 170)
    bench.release(190, 170)

    assert bench.document.undo_stack.undoText() == "Move hole A1"
    assert [is_added for *_, is_added in pins_of(bench)] == [False]


def test_a_ctrl_click_still_toggles(bench: Bench) -> None:
    bench.click(110, 110, CTRL)
    bench.click(310, 110, CTRL)
    bench.click(110, 110, CTRL)

    assert bench.selection.holes == {("R1", "A2")}
    assert bench.document.undo_stack.count() == 0


def test_a_copy_belongs_to_the_raft_it_is_dropped_on(bench: Bench) -> None:
    bench.press(110, 110, held=CTRL)
    bench.move(400, 200, held=CTRL)
    bench.move(820, 220, held=CTRL)
    bench.release(820, 220, held=CTRL)

    planting = bench.document.project.beds[0].planting
    assert planting is not None
    assert [pin.raft for pin in planting.pins if pin.home is None] == ["R2"]


@pytest.mark.parametrize(
    ("typed", "x", "y"),
    [("25", 125, 100), ("2.5cm", 125, 100), ("-30", 70, 100), ("1/2in", 112.7, 100)],
)
def test_a_number_typed_while_dragging_is_how_far_the_hole_goes(
    bench: Bench, typed: str, x: float, y: float
) -> None:
    bench.press(110, 110)
    bench.move(150, 110)
    type_on(bench, typed)
    assert "along the drag" in bench.hints[-1]
    bench.key(Qt.Key.Key_Return)

    assert [(px, py) for px, py, _ in pins_of(bench)] == [(x, y)]
    assert "along the drag" not in bench.hints[-1]
    bench.release(400, 110)
    assert bench.document.undo_stack.count() == 1


def test_a_typed_distance_goes_the_way_of_the_drag(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(140, 150, held=Qt.KeyboardModifier.AltModifier)
    type_on(bench, "100")
    bench.key(Qt.Key.Key_Return)

    ((x, y, _),) = pins_of(bench)
    assert (x, y) == pytest.approx((160, 180), abs=1.5)
    assert (x - 100) ** 2 + (y - 100) ** 2 == pytest.approx(100**2, abs=0.5)


def test_two_typed_numbers_are_along_and_across(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(150, 120)
    type_on(bench, "12")
    bench.key(Qt.Key.Key_Tab)
    type_on(bench, "-7.5")
    bench.key(Qt.Key.Key_Backspace)
    type_on(bench, "5")
    assert "across" in bench.hints[-1]
    bench.key(Qt.Key.Key_Return)

    assert [(x, y) for x, y, _ in pins_of(bench)] == [(112, 92.5)]


def test_escape_forgets_what_was_typed_too(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(150, 110)
    type_on(bench, "25")
    bench.key(Qt.Key.Key_Escape)
    bench.release(150, 110)

    assert bench.document.undo_stack.count() == 0
    assert bench.document.plan.project is bench.start


def test_while_dragging_the_room_is_told(bench: Bench) -> None:
    """To A2 at 300, 100 it is 150 mm less the way; the raft's lower edge is 100 mm away."""
    bench.press(110, 110)
    bench.move(150, 110)
    bench.move(160, 110)

    assert "150 mm to A2" in bench.hints[-1]
    assert "100 mm to the edge" in bench.hints[-1]
    bench.key(Qt.Key.Key_Escape)


def test_a_click_selects_shift_adds_ctrl_toggles_and_water_clears(bench: Bench) -> None:
    bench.click(110, 110)
    assert bench.selection.holes == {("R1", "A1")}
    bench.click(310, 110, SHIFT)
    bench.click(720, 110, CTRL)
    assert bench.selection.holes == {("R1", "A1"), ("R1", "A2"), ("R2", "A1")}
    bench.click(310, 110, CTRL)
    assert bench.selection.holes == {("R1", "A1"), ("R2", "A1")}
    bench.click(110, 110)
    assert bench.selection.holes == {("R1", "A1")}
    bench.click(3, 3)
    assert bench.selection.holes == frozenset()
    assert bench.document.undo_stack.count() == 0


def test_a_click_on_foam_selects_the_raft(bench: Bench) -> None:
    bench.click(200, 200)
    assert bench.selection.rafts == {"R1"}
    bench.click(800, 200, SHIFT)
    assert bench.selection.rafts == {"R1", "R2"}
    bench.click(200, 200, CTRL)
    assert bench.selection.rafts == {"R2"}


def test_the_rubber_band_selects_the_centres_it_holds(bench: Bench) -> None:
    bench.drag((60, 60), (330, 330))
    assert bench.selection.holes == {("R1", "A1"), ("R1", "A2"), ("R1", "B1"), ("R1", "B2")}
    assert bench.document.undo_stack.count() == 0
    bench.press(440, 60, held=SHIFT)
    bench.move(560, 200, held=SHIFT)
    bench.release(560, 200, held=SHIFT)
    assert len(bench.selection.holes) == 5
    bench.press(440, 60)
    bench.move(560, 200)
    bench.key(Qt.Key.Key_Escape)
    bench.release(560, 200)
    assert not bench.view._scene.band.isVisible()


def test_escape_in_a_band_brings_back_the_raft_that_was_selected(bench: Bench) -> None:
    bench.click(200, 200)
    bench.press(60, 60)
    bench.move(330, 330)
    bench.key(Qt.Key.Key_Escape)
    bench.release(330, 330)

    assert bench.selection.rafts == {"R1"}


def test_the_right_button_does_not_disturb_a_drag(bench: Bench) -> None:
    asked: list[str] = []
    bench.view.menu_wanted.connect(lambda kind, _at: asked.append(kind))
    bench.press(110, 110)
    bench.move(150, 150)
    bench.menu(QContextMenuEvent.Reason.Mouse, 150, 150)
    assert asked == []
    bench.release(150, 150)

    assert bench.document.undo_stack.undoText() == "Move hole A1"


def test_a_button_let_go_where_nobody_told_us_takes_the_drag_back(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(150, 150)
    bench.move(400, 200, button=NO_BUTTON)
    bench.move(500, 300, button=NO_BUTTON)

    assert bench.document.plan.project is bench.start
    bench.click(3, 3)
    assert bench.document.undo_stack.count() == 0


def test_the_middle_button_moves_the_view_in_the_midst_of_a_drag(bench: Bench) -> None:
    bench.view.zoom_in()
    bench.press(110, 110)
    bench.move(150, 150)
    before = bench.view.seen().left()
    bench.press(150, 150, button=MIDDLE)
    bench.move(120, 150, button=LEFT | MIDDLE)
    bench.release(120, 150, button=MIDDLE)
    assert bench.view.seen().left() > before
    bench.move(170, 150)
    bench.release(170, 150)

    assert bench.document.undo_stack.undoText() == "Move hole A1"


@pytest.mark.parametrize("by_menu_key", [True, False])
def test_the_menu_asked_for_by_a_key_opens_beside_what_is_selected(
    bench: Bench, by_menu_key: bool
) -> None:
    asked: list[tuple[str, QPoint]] = []
    bench.view.menu_wanted.connect(lambda kind, at: asked.append((kind, at)))
    bench.click(310, 110)
    if by_menu_key:
        bench.menu(QContextMenuEvent.Reason.Keyboard, 0, 0)
    else:
        bench.key(Qt.Key.Key_F10, SHIFT)

    ((kind, at),) = asked
    assert kind == "hole"
    away = bench.view.viewport().mapFromGlobal(at) - bench.pixel(310, 110).toPoint()
    assert away.manhattanLength() <= 3


def test_what_an_undo_takes_away_is_not_selected_any_more(bench: Bench) -> None:
    bench.drag_held((110, 110), (210, 210), CTRL)
    assert len(bench.selection.holes) == 1
    bench.document.undo_stack.undo()

    assert bench.selection.holes == frozenset()
    assert bench.hints[-1].startswith("Click a hole")


def test_a_band_around_very_many_takes_them_when_it_is_let_go(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(gestures, "MOST_LIVE", 3)
    bench.press(60, 60)
    bench.move(330, 330)
    assert not bench.selection.holes
    assert bench.hints[-1] == "Let go to take 4 holes"
    bench.release(330, 330)
    assert len(bench.selection.holes) == 4


def test_dragging_shows_the_move_live_and_letting_go_makes_it_a_step(bench: Bench) -> None:
    told: list[Pointer | None] = []
    bench.view.pointer_moved.connect(told.append)
    bench.press(112, 108)
    bench.move(150, 130)
    bench.move(162, 138)
    assert bench.document.project is bench.start
    assert bench.document.plan.project is not bench.start
    assert (bench.spot("R1", "A1").x, bench.spot("R1", "A1").y) == pytest.approx((160, 140))
    assert told[-1] == Pointer(160, 140, "R1", 150, 130)
    assert "to the edge" in bench.hints[-1]
    bench.release(162, 138)

    assert bench.document.undo_stack.undoText() == "Move hole A1"
    assert bench.document.undo_stack.count() == 1
    assert (bench.spot("R1", "A1").x, bench.spot("R1", "A1").y) == pytest.approx((160, 140))
    assert bench.selection.holes == {("R1", "A1")}
    bench.document.undo_stack.undo()
    assert bench.document.project is bench.start
    assert (bench.spot("R1", "A1").x, bench.spot("R1", "A1").y) == pytest.approx((110, 110))


def test_a_press_that_hardly_moves_is_a_click(bench: Bench) -> None:
    pixel = 1 / bench.view.pixels_per_mm
    bench.drag((110, 110), (110 + 2 * pixel, 110))
    assert bench.document.undo_stack.count() == 0
    assert bench.selection.holes == {("R1", "A1")}


def test_escape_takes_a_drag_back_without_a_trace(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(180, 170)
    bench.key(Qt.Key.Key_Escape)
    assert bench.document.plan.project is bench.start
    assert bench.document.undo_stack.count() == 0
    bench.release(180, 170)
    assert bench.document.undo_stack.count() == 0


def test_several_holes_move_together(bench: Bench) -> None:
    bench.drag((60, 60), (330, 330))
    bench.drag((110, 110), (137, 128))
    assert bench.document.undo_stack.undoText() == "Move 4 holes"
    moved = bench.spot("R1", "B2")
    assert (moved.x, moved.y) == pytest.approx((337, 328))
    assert len(bench.selection.holes) == 4


def test_a_dragged_hole_snaps_to_a_row_unless_alt_is_held(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(201, 304)
    guides = bench.view._scene.guides._guides
    assert [(guide.axis, guide.at) for guide in guides] == [("y", 310)]
    assert bench.spot("R1", "A1").y == pytest.approx(310)
    bench.move(201.25, 303.25, held=ALT)
    assert bench.view._scene.guides._guides == ()
    assert bench.spot("R1", "A1").y == pytest.approx(303.25, abs=0.01)
    bench.release(201.25, 303.25, held=ALT)


def test_shift_keeps_a_drag_straight(bench: Bench) -> None:
    bench.press(110, 110)
    bench.move(180, 130, held=SHIFT)
    bench.release(180, 130, held=SHIFT)
    moved = bench.spot("R1", "A1")
    assert (moved.x, moved.y) == pytest.approx((180, 110))


def test_holes_of_a_turned_raft_follow_the_pointer(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(turned=frozenset({"R1"}))
    first = bench.spot("R1", "A1")
    assert (first.x, first.y) == (510, 310)
    bench.drag((510, 310), (471, 279))
    moved = bench.spot("R1", "A1")
    assert (moved.x, moved.y) == pytest.approx((471, 279))


@pytest.mark.parametrize(
    ("unit", "held", "step"),
    [
        ("mm", NONE, 1), ("mm", SHIFT, 10), ("mm", CTRL, 0.1), ("cm", NONE, 1),
        ("in", NONE, 25.4 / 16), ("in", SHIFT, 25.4), ("in", CTRL, 25.4 / 64),
    ],
)  # fmt: skip
def test_arrow_keys_nudge(
    make_bench: Callable[..., Bench], unit: Unit, held: Qt.KeyboardModifier, step: float
) -> None:
    bench = make_bench(unit)
    bench.click(110, 110)
    bench.key(Qt.Key.Key_Right, held)
    bench.key(Qt.Key.Key_Up, held)
    moved = bench.spot("R1", "A1")
    assert (moved.x, moved.y) == pytest.approx((110 + step, 110 + step), abs=0.002)


def test_nudges_in_a_row_are_one_step_and_back_again_none(bench: Bench) -> None:
    bench.click(110, 110)
    for _ in range(5):
        bench.key(Qt.Key.Key_Right)
    assert bench.document.undo_stack.count() == 1
    assert bench.spot("R1", "A1").x == pytest.approx(115)
    bench.click(310, 110)
    bench.key(Qt.Key.Key_Right)
    assert bench.document.undo_stack.count() == 2
    bench.click(110, 110)
    bench.click(115, 110)
    bench.key(Qt.Key.Key_Up)
    assert bench.document.undo_stack.count() == 3
    bench.document.undo_stack.undo()
    bench.document.undo_stack.undo()
    bench.document.undo_stack.undo()
    assert bench.document.project is bench.start


def test_arrow_keys_pan_where_nothing_is_selected(bench: Bench) -> None:
    bench.view.zoom_in()
    bench.view.zoom_in()
    before = bench.view.mapToScene(0, 0)
    bench.key(Qt.Key.Key_Right)
    bench.key(Qt.Key.Key_Up)
    after = bench.view.mapToScene(0, 0)
    assert after.x() > before.x()
    assert after.y() > before.y()
    assert bench.document.undo_stack.count() == 0


def test_a_double_click_on_foam_adds_a_hole_and_on_a_hole_none(bench: Bench) -> None:
    bench.click(200, 200)
    bench.send(QEvent.Type.MouseButtonDblClick, 200.3, 180.2)
    bench.release(200, 180)
    assert bench.document.undo_stack.undoText() == "Add a hole"
    ((raft, hole),) = bench.selection.holes
    added = bench.spot(raft, hole)
    assert (added.x, added.y) == pytest.approx((200, 180), abs=0.6)
    bench.send(QEvent.Type.MouseButtonDblClick, 110, 110)
    bench.release(110, 110)
    bench.send(QEvent.Type.MouseButtonDblClick, 3, 3)
    bench.release(3, 3)
    assert bench.document.undo_stack.count() == 1


def test_an_armed_hole_goes_where_the_click_is_or_back_with_escape(bench: Bench) -> None:
    bench.view.arm_add_hole()
    bench.key(Qt.Key.Key_Escape)
    bench.click(200, 180)
    assert bench.document.undo_stack.count() == 0
    bench.view.arm_add_hole()
    bench.move(3, 3)
    bench.click(3, 3)
    assert bench.document.undo_stack.count() == 0
    assert "foam" in bench.hints[-1]
    bench.click(200, 180)
    assert bench.document.undo_stack.count() == 1
    assert bench.document.plan.plants == 25
    assert not bench.view._hands.is_busy
    bench.click(200, 280)
    assert bench.document.undo_stack.count() == 1


def test_a_hole_can_be_added_by_keys_alone(bench: Bench) -> None:
    bench.view.arm_add_hole()
    hands = bench.view._hands
    assert hands._adding is not None
    x, y = hands._adding.at
    for _ in range(4):
        bench.key(Qt.Key.Key_Left, SHIFT)
    bench.key(Qt.Key.Key_Down)
    bench.key(Qt.Key.Key_Return)
    ((raft, hole),) = bench.selection.holes
    added = bench.spot(raft, hole)
    assert (added.x, added.y) == pytest.approx((x - 40, y - 1), abs=0.001)


def test_delete_leaves_out_and_undo_brings_back(bench: Bench) -> None:
    bench.click(110, 110)
    bench.key(Qt.Key.Key_Delete)
    assert bench.document.plan.plants == 23
    assert bench.document.undo_stack.undoText() == "Leave out hole A1"
    assert bench.selection.holes == frozenset()
    bench.view.select_all()
    bench.view.delete_selected()
    assert bench.document.plan.plants == 12
    assert bench.document.undo_stack.undoText() == "Leave out 11 holes"
    bench.document.undo_stack.undo()
    bench.document.undo_stack.undo()
    assert bench.document.project is bench.start


def test_p_pins_and_unpins(bench: Bench) -> None:
    bench.click(110, 110)
    bench.key(Qt.Key.Key_P)
    planting = bench.document.project.beds[0].planting
    assert planting is not None
    assert len(planting.pins) == 1
    assert bench.document.undo_stack.undoText() == "Pin hole A1"
    bench.key(Qt.Key.Key_P)
    assert bench.document.undo_stack.undoText() == "Unpin hole A1"
    assert bench.document.project == bench.start


def test_tab_walks_through_the_holes_and_out(make_bench: Callable[..., Bench]) -> None:
    bench = make_bench(columns=2, rows=1)
    walked = []
    for _ in range(4):
        assert bench.view.focusNextPrevChild(True)
        walked.append(*bench.selection.holes)
    assert walked == [("R1", "A1"), ("R1", "A2"), ("R2", "A1"), ("R2", "A2")]
    assert bench.view.focusNextPrevChild(False)
    assert bench.selection.holes == {("R2", "A1")}
    assert bench.view._hands.tab(1)
    for corner in range(4):
        assert bench.view._hands.tab(1)
        assert bench.selection.thing == Thing("corner", corner)
    assert not bench.view._hands.tab(1)


def test_tab_goes_back_from_the_first_thing_to_the_last_hole(bench: Bench) -> None:
    bench.selection.set_thing(Thing("corner", 0))
    assert bench.view.focusNextPrevChild(False)
    assert bench.selection.holes == {("R2", "B3")}


def test_escape_twice_lets_tab_leave(bench: Bench) -> None:
    bench.view._hands.tab(1)
    bench.key(Qt.Key.Key_Escape)
    assert bench.selection.holes == frozenset()
    bench.key(Qt.Key.Key_Escape)
    assert not bench.view._hands.tab(1)


def test_enter_keeps_a_hole_while_tab_goes_on(bench: Bench) -> None:
    bench.view._hands.tab(1)
    bench.key(Qt.Key.Key_Return)
    bench.view._hands.tab(1)
    bench.view._hands.tab(1)
    assert bench.selection.holes == {("R1", "A1"), ("R1", "A3")}


def test_r_goes_from_raft_to_raft(bench: Bench) -> None:
    bench.click(715, 110)
    seen = []
    for _ in range(3):
        bench.key(Qt.Key.Key_R)
        seen.append(*bench.selection.rafts)
    assert seen == ["R2", "R1", "R2"]


def test_the_wheel_keeps_the_place_under_the_pointer(bench: Bench) -> None:
    at = QPointF(333, 222)
    for turned in (120, 120, 240, -120, 480):
        before = bench.view.mapToScene(at.toPoint())
        event = QWheelEvent(
            at, bench.view.mapToGlobal(at), QPoint(), QPoint(0, turned), NO_BUTTON, NONE,
            Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(bench.view.viewport(), event)
        after = bench.view.mapToScene(at.toPoint())
        pixel = 1 / bench.view.pixels_per_mm
        assert abs(after.x() - before.x()) <= (SLIP_PX + 1) * pixel
        assert abs(after.y() - before.y()) <= (SLIP_PX + 1) * pixel


def test_zoom_steps_have_ends(bench: Bench) -> None:
    whole = bench.view.pixels_per_mm
    for _ in range(60):
        bench.view.zoom_in()
    nearest = bench.view.pixels_per_mm
    assert nearest == pytest.approx(60)
    for _ in range(60):
        bench.view.zoom_out()
    assert 0.15 * whole < bench.view.pixels_per_mm < whole
    bench.view.fit()
    assert bench.view.pixels_per_mm == pytest.approx(whole)
    bench.view.zoom_100()
    dots = bench.view.screen().physicalDotsPerInch() / bench.view.devicePixelRatioF()
    assert bench.view.pixels_per_mm == pytest.approx(dots / 25.4)


def test_a_whole_bed_stays_whole_when_the_window_changes_size(bench: Bench) -> None:
    bench.view.resize(700, 500)
    seen = bench.view.mapToScene(bench.view.viewport().rect()).boundingRect()
    assert seen.contains(bench.view._scene.outline_box)
    bench.view.zoom_in()
    scale = bench.view.pixels_per_mm
    bench.view.resize(900, 600)
    assert bench.view.pixels_per_mm == scale


@pytest.mark.parametrize("with_space", [False, True])
def test_the_bed_is_pushed_along(bench: Bench, with_space: bool) -> None:
    bench.view.zoom_in()
    bench.view.zoom_in()
    before = bench.view.mapToScene(400, 300)
    button = LEFT if with_space else MIDDLE
    if with_space:
        QApplication.sendEvent(bench.view, QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Space, NONE))
    bench.press(300, 200, button=button)
    bench.move(340, 230, button=button)
    bench.release(340, 230, button=button)
    after = bench.view.mapToScene(400, 300)
    pixel = 1 / bench.view.pixels_per_mm
    assert after.x() - before.x() == pytest.approx(-40, abs=3 * pixel)
    assert after.y() - before.y() == pytest.approx(-30, abs=3 * pixel)
    assert bench.selection.holes == frozenset()
    assert bench.document.undo_stack.count() == 0


def test_the_pointer_is_told_with_its_raft(bench: Bench) -> None:
    told: list[Pointer | None] = []
    bench.view.pointer_moved.connect(told.append)
    bench.move(3, 4)
    bench.move(715, 60)
    QApplication.sendEvent(bench.view.viewport(), QEvent(QEvent.Type.Leave))
    water, foam, gone = told
    assert water is not None
    assert foam is not None
    assert (water.raft, water.raft_x) == ("", None)
    assert (water.x, water.y) == pytest.approx((3, 4), abs=1)
    assert foam.raft == "R2"
    assert (foam.raft_x, foam.raft_y) == pytest.approx((100, 50), abs=1)
    assert gone is None


def test_one_moved_hole_is_painted_anew_where_it_was_and_is(
    make_bench: Callable[..., Bench], monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = make_bench(along=4, across=3)
    bench.click(110, 110)
    painted: list[QRectF] = []
    update = Rafts.update

    def spy(item: Rafts, *part: QRectF) -> None:
        painted.extend(part or [item.boundingRect()])
        update(item, *part)

    monkeypatch.setattr(Rafts, "update", spy)
    bench.key(Qt.Key.Key_Right)
    (part,) = painted
    assert part.contains(QPointF(110, 110))
    assert part.width() < 60


def test_nothing_is_edited_while_the_plan_is_still_being_made(bench: Bench) -> None:
    bench.click(110, 110)
    shown = bench.document.plan
    bench.document._shown = nothing_planned(bench.start)
    bench.drag((110, 110), (160, 150))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Delete, Qt.Key.Key_P):
        bench.key(key)
    assert bench.document.undo_stack.count() == 0
    bench.document._shown = shown
    bench.key(Qt.Key.Key_Right)
    assert bench.document.undo_stack.count() == 1


def test_a_drag_whose_plans_come_late_ends_where_it_was_let_go(qtbot: QtBot) -> None:
    bench = Bench(qtbot, HandMade(), "mm", patience_s=0)
    qtbot.waitUntil(lambda: not bench.document.is_busy)
    bench.press(110, 110)
    for step in range(1, 20):
        bench.move(110 + step * 3, 110 + step * 2)
    bench.release(167, 148)
    assert bench.document.undo_stack.count() == 1
    qtbot.waitUntil(lambda: not bench.document.is_busy)
    moved = bench.spot("R1", "A1")
    assert (moved.x, moved.y) == pytest.approx((167, 148))
    assert bench.selection.holes == {("R1", "A1")}
    bench.document.undo_stack.undo()
    qtbot.waitUntil(lambda: not bench.document.is_busy)
    assert bench.document.plan.project is bench.start


def test_another_bed_is_shown_whole_and_unselected(bench: Bench) -> None:
    bench.click(110, 110)
    bench.view.zoom_in()
    bench.view.set_bed("South")
    assert bench.selection.holes == frozenset()
    seen = bench.view.mapToScene(bench.view.viewport().rect()).boundingRect()
    assert seen.contains(bench.view._scene.outline_box)
    bench.click(110, 110)
    bench.key(Qt.Key.Key_Delete)
    north, south = bench.document.project.beds
    assert north.planting == bench.start.beds[0].planting
    assert south.planting != bench.start.beds[1].planting


def test_a_bed_that_goes_leaves_the_next_one(bench: Bench) -> None:
    bench.document.apply("Take out", Project("Bench", beds=bench.start.beds[1:]))
    assert bench.selection.bed == "South"
    bench.document.apply("Take out", Project("Bench"))
    assert bench.view._bed_plan is None
    bench.click(110, 110)
    bench.view.fit()
    bench.view.zoom_in()
    bench.view.select_all()
    bench.view.delete_selected()
    bench.view.toggle_pins()
    bench.view.arm_add_hole()
    bench.key(Qt.Key.Key_Right)
    bench.document.undo_stack.undo()
    bench.document.undo_stack.undo()
    assert bench.view._bed_plan is not None


def test_a_place_is_brought_to_the_middle_and_marked_once(bench: Bench) -> None:
    bench.view.show_place("South", (700, 300))
    assert bench.selection.bed == "South"
    middle = bench.view.mapToScene(bench.view.viewport().rect().center())
    assert (middle.x(), middle.y()) == pytest.approx((700, 300), abs=2)
    flash = bench.view._scene.flash
    bench.qtbot.waitUntil(lambda: not flash.extent.isNull())
    bench.qtbot.waitUntil(lambda: flash.extent.isNull(), timeout=5000)  # noqa: PLW0108  another extent each time


def test_holes_that_move_while_selected_stay_selected_through_undo(bench: Bench) -> None:
    bench.drag((110, 110), (160, 150))
    bench.document.undo_stack.undo()
    assert bench.selection.holes == {("R1", "A1")}
    ring = bench.view._scene.rings._xyr
    assert ring[0, :2].tolist() == pytest.approx([110, 110])


def test_the_canvas_has_a_name_and_shows_its_focus(bench: Bench) -> None:
    assert bench.view.accessibleName() == "The bed"
    assert "Tab" in bench.view.accessibleDescription()
    focused = bench.view.viewport().grab().toImage().pixelColor(1, 300)
    bench.view.clearFocus()
    blurred = bench.view.viewport().grab().toImage().pixelColor(1, 300)
    assert focused.name() == LIGHT.accent
    assert blurred.name() == LIGHT.canvas


def test_the_theme_can_change(bench: Bench) -> None:
    bench.view.clearFocus()
    bench.view.set_theme(DARK)
    picture = bench.view.viewport().grab().toImage()
    assert picture.pixelColor(3, 3).name() == DARK.canvas


def test_canopies_come_and_go(bench: Bench) -> None:
    before = bench.view.viewport().grab().toImage()
    bench.view.set_canopy((140.0,))
    with_leaves = bench.view.viewport().grab().toImage()
    at = bench.pixel(110, 160).toPoint()
    assert with_leaves.pixelColor(at) != before.pixelColor(at)
    bench.view.set_canopy(None)
    assert bench.view.viewport().grab().toImage() == before
