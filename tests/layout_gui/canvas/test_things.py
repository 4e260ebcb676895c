"""Obstacles, zones, corners and joints by pointer and keys on a real view, with real plans."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QImage, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed, Fit, Obstacle, One, Split, Spot
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    Tapered,
)
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.units import Length, Unit
from layout_gui.canvas.view import BedView
from layout_gui.document.document import Document
from layout_gui.document.selection import Selection
from layout_gui.project import edits_things
from layout_gui.project.edits_locks import set_locks
from layout_gui.project.things import Thing
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.canvas.test_view import ALT, CTRL, LEFT, NO_BUTTON, NONE, SHIFT, Bench

Key = Qt.Key


def mm(value: float | str) -> Length:
    return Length.of(value)


def spot(x: float, y: float) -> Spot:
    return Spot(mm(x), mm(y))


BED = Bed(
    "Bench",
    Rectangle(mm(1200), mm(600)),
    clearance=mm(10),
    joint_gap=mm(6),
    obstacles=(
        Obstacle("pipe", Disc(mm(60)), spot(300, 300), None, mm(20)),
        Obstacle("brace", Rectangle(mm(200), mm(100)), None, spot(800, 250)),
    ),
    rafts=Split(2, 1),
)
"""Without plants: what is drawn, pulled and nudged here hangs on none, and its plans are quick."""
PLANTED = replace(BED, planting=Planting(mm(200), mm(50), edge_margin=mm(60), joints="separate"))
PIPE, BRACE = Thing("obstacle", 0), Thing("obstacle", 1)


class Things(Bench):
    """A view of a bed of 1200 x 600 mm with a pipe in the left raft and a brace in the right."""

    def __init__(
        self, qtbot: QtBot, bed: Bed, unit: Unit = "mm", *, patience_s: float = 20
    ) -> None:
        self.qtbot = qtbot
        self.document = Document(patience_s=patience_s)
        self.selection = Selection()
        self.view = BedView(self.document, self.selection, LIGHT)
        qtbot.addWidget(self.view)
        self.view.resize(1200, 700)
        self.view.show()
        qtbot.waitExposed(self.view)
        self.view.setFocus()
        self.start = Project("Bench", unit, (bed,))
        self.document.start(self.start)
        self.hints: list[str] = []
        self.refused: list[str] = []
        self.view.hint_changed.connect(self.hints.append)
        self.document.failed.connect(self.refused.append)

    @property
    def bed(self) -> Bed:
        return self.document.project.beds[0]

    @property
    def shown(self) -> Bed:
        """The bed of the plan that is shown: of the preview, while one is on."""
        return self.document.plan.project.beds[0]

    @property
    def steps(self) -> list[str]:
        stack = self.document.undo_stack
        return [stack.text(index) for index in range(stack.count())]

    def type(self, text: str) -> None:
        for sign in text:
            for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
                QApplication.sendEvent(self.view, QKeyEvent(kind, 0, NONE, sign))

    def hover(self, x: float, y: float) -> None:
        at = self.pixel(x, y)
        event = QMouseEvent(
            QEvent.Type.MouseMove, at, self.view.mapToGlobal(at), NO_BUTTON, NO_BUTTON, NONE
        )
        QApplication.sendEvent(self.view.viewport(), event)

    def double_click(self, x: float, y: float) -> None:
        self.send(QEvent.Type.MouseButtonDblClick, x, y)
        self.release(x, y)

    def drag_on_screen(self, *places: tuple[float, float]) -> None:
        """Drag along places of the bed as it lies before: its corner may move meanwhile."""
        pixels = [self.pixel(*place) for place in places]
        kinds = [QEvent.Type.MouseButtonPress, *[QEvent.Type.MouseMove] * (len(pixels) - 1)]
        for kind, at in zip(
            (*kinds, QEvent.Type.MouseButtonRelease), (*pixels, pixels[-1]), strict=True
        ):
            cause = NO_BUTTON if kind == QEvent.Type.MouseMove else LEFT
            held = NO_BUTTON if kind == QEvent.Type.MouseButtonRelease else LEFT
            event = QMouseEvent(kind, at, self.view.mapToGlobal(at), cause, held, NONE)
            QApplication.sendEvent(self.view.viewport(), event)

    def box(self, thing: Thing) -> tuple[float, ...]:
        found = edits_things.find_standing(self.bed, thing)
        return tuple(float(side) for side in edits_things.box_of(found))


@pytest.fixture
def make(qtbot: QtBot) -> Callable[..., Things]:
    def made(unit: Unit = "mm", **changes: object) -> Things:
        return Things(qtbot, replace(BED, **changes), unit)  # type: ignore[arg-type]

    return made


@pytest.fixture
def planted(qtbot: QtBot) -> Things:
    return Things(qtbot, PLANTED)


@pytest.fixture
def bench(make: Callable[..., Things]) -> Things:
    return make()


# -- drawing ---------------------------------------------------------------------------------------


def test_with_ctrl_a_drag_copies_an_obstacle_and_a_lock_holds_it(bench: Things) -> None:
    bench.drag_held((880, 290), (950, 450), CTRL)
    assert bench.steps == ["Copy brace"]
    assert bench.selection.thing == Thing("obstacle", 2)
    old, copy = bench.bed.obstacles[1:]
    assert edits_things.box_of(old) != edits_things.box_of(copy)
    project = set_locks(bench.document.project, "Bench", "obstacle", [copy.name], locked=True)
    bench.document.apply("Lock it", project)
    assert "is locked" in bench.hints[-1]
    bench.drag((950, 450), (990, 470))

    assert bench.document.project is project
    assert "unlock it first" in bench.hints[-1]


def test_a_drag_draws_an_obstacle_shows_its_plan_and_is_one_step(planted: Things) -> None:
    before = planted.document.plan.plants
    planted.view.arm_draw("obstacle")
    planted.press(100.3, 99.8)
    planted.move(250, 180)
    planted.move(340.4, 250.3)
    assert planted.document.project is planted.start
    assert len(planted.shown.obstacles) == 3
    assert "240 mm" in planted.hints[-1]
    assert "150 mm" in planted.hints[-1]
    planted.release(340.4, 250.3)

    made = planted.bed.obstacles[2]
    assert made.shape == Rectangle(mm(240), mm(150))
    assert made.corner == spot(100, 100)
    assert planted.selection.thing == Thing("obstacle", 2)
    assert planted.steps == ["Draw obstacle 1"]
    assert planted.document.plan.plants < before
    planted.document.undo_stack.undo()
    assert planted.document.project is planted.start


def test_escape_leaves_what_is_being_drawn_and_puts_the_tool_away(bench: Things) -> None:
    bench.view.arm_draw("obstacle")
    bench.press(100, 100)
    bench.move(300, 250)
    bench.key(Key.Key_Escape)
    assert bench.document.plan.project is bench.start
    bench.release(300, 250)
    bench.drag((100, 100), (200, 200))
    assert bench.steps == []


def test_shift_draws_a_square_and_alt_does_not_snap(bench: Things) -> None:
    bench.view.arm_draw("obstacle")
    bench.press(100, 100)
    bench.move(190, 150, held=SHIFT)
    bench.release(190, 150, held=SHIFT)
    assert bench.bed.obstacles[2].shape == Rectangle(mm(90), mm(90))

    bench.view.arm_draw("obstacle")
    bench.press(100.4, 400.4, held=ALT)
    bench.move(150.2, 450.3, held=ALT)
    bench.release(150.2, 450.3, held=ALT)
    made = bench.bed.obstacles[3]
    assert isinstance(made.shape, Rectangle)
    assert made.corner is not None
    assert made.corner.x.mm == pytest.approx(100.4, abs=0.01)
    assert made.shape.length.mm == pytest.approx(49.8, abs=0.01)


def test_typed_numbers_are_width_then_height_and_are_kept_as_typed(
    make: Callable[..., Things],
) -> None:
    bench = make("in")
    bench.view.arm_draw("obstacle")
    bench.press(101.6, 101.6)
    bench.move(300, 200)
    bench.type("7 1/2")
    assert bench.shown.obstacles[2].shape.length.exact == Fraction(381, 2)  # type: ignore[union-attr]
    assert bench.view.focusNextPrevChild(True)
    bench.type("120mm")
    bench.release(300, 200)

    shape = bench.bed.obstacles[2].shape
    assert isinstance(shape, Rectangle)
    assert (shape.length.exact, shape.length.typed) == (Fraction(381, 2), "7 1/2 in")
    assert (shape.width.exact, shape.width.typed) == (120, "120mm")


def test_x_goes_on_to_the_height_backspace_takes_back_enter_is_enough(bench: Things) -> None:
    bench.view.arm_draw("obstacle")
    bench.press(100, 100)
    bench.move(200, 150)
    bench.type("805")
    bench.key(Key.Key_Backspace)
    bench.type("x60")
    bench.key(Key.Key_Return)
    assert bench.bed.obstacles[2].shape == Rectangle(mm(80), mm(60))
    bench.move(400, 400)
    bench.release(400, 400)
    assert bench.steps == ["Draw obstacle 1"]


def test_a_number_that_cannot_be_read_says_why(bench: Things) -> None:
    bench.view.arm_draw("obstacle")
    bench.press(100, 100)
    bench.move(200, 150)
    bench.type("5/0")
    assert "cannot have 0" in bench.hints[-1]
    bench.release(200, 150)
    assert bench.bed.obstacles[2].shape.length == mm(5)  # type: ignore[union-attr]


def test_without_a_mouse_typed_sizes_and_enter_draw_in_the_middle(bench: Things) -> None:
    bench.view.arm_draw("obstacle")
    bench.type("80x40")
    bench.key(Key.Key_Return)
    made = bench.bed.obstacles[2]
    assert made.shape == Rectangle(mm(80), mm(40))
    left, bottom, right, top = bench.box(Thing("obstacle", 2))
    assert (left + right) / 2 == pytest.approx(600, abs=2)
    assert (bottom + top) / 2 == pytest.approx(300, abs=2)

    bench.view.arm_draw("obstacle", "round")
    for _ in range(3):
        bench.key(Key.Key_Right, SHIFT)
    bench.key(Key.Key_Return)
    made = bench.bed.obstacles[3]
    assert made.shape == Disc(mm(100))
    assert made.centre is not None
    assert made.centre.x.mm == pytest.approx(630, abs=2)


def test_a_round_obstacle_is_dragged_from_its_middle_or_typed(bench: Things) -> None:
    bench.view.arm_draw("obstacle", "round")
    bench.press(450, 150)
    bench.move(480, 190)
    bench.release(480, 190)
    made = bench.bed.obstacles[2]
    assert (made.shape, made.centre) == (Disc(mm(100)), spot(450, 150))
    bench.view.arm_draw("obstacle", "round")
    bench.press(150, 450)
    bench.move(180, 450)
    bench.type("33")
    bench.release(180, 450)
    assert bench.bed.obstacles[3].shape == Disc(mm(33))


def test_corners_are_clicked_and_the_first_one_closes(bench: Things) -> None:
    bench.view.arm_draw("obstacle", "corners")
    for place in ((100, 100), (200, 100), (220, 180), (150, 200)):
        bench.click(*place)
        assert bench.steps == []
    bench.click(101, 101)
    shape = bench.bed.obstacles[2].shape
    assert isinstance(shape, Polygon)
    assert [(x.mm, y.mm) for x, y in shape.points] == [(0, 0), (100, 0), (120, 80), (50, 100)]
    assert bench.box(Thing("obstacle", 2)) == (100, 100, 220, 200)


def test_corners_by_keys_typed_sides_backspace_and_too_few(planted: Things) -> None:
    planted.view.arm_draw("zone", "corners")
    planted.click(100, 100)
    planted.hover(200, 101)
    planted.key(Key.Key_Return)
    planted.key(Key.Key_Backspace)
    planted.key(Key.Key_Return)
    planted.key(Key.Key_Return)
    assert any("three corners" in hint for hint in planted.hints)
    planted.key(Key.Key_Escape)

    planted.view.arm_draw("zone", "corners")
    planted.click(100, 100)
    planted.hover(300, 100)
    planted.type("250")
    planted.key(Key.Key_Return)
    planted.click(350, 400)
    planted.click(100, 400)
    planted.key(Key.Key_Return)
    (zone,) = planted.bed.zones
    assert isinstance(zone.shape, Polygon)
    assert [(x.mm, y.mm) for x, y in zone.shape.points] == [(0, 0), (250, 0), (250, 300), (0, 300)]
    assert planted.steps == ["Draw zone zone 1"]


def test_a_shape_that_crosses_itself_is_refused_and_stays_in_hand(bench: Things) -> None:
    bench.view.arm_draw("obstacle", "corners")
    for place in ((100, 100), (200, 200), (200, 100), (100, 200)):
        bench.click(*place)
    bench.key(Key.Key_Return)
    assert bench.steps == []
    assert any("crosses" in hint for hint in bench.hints)
    bench.key(Key.Key_Backspace)
    bench.key(Key.Key_Return)
    assert len(bench.bed.obstacles) == 3


def test_the_outline_gets_a_corner_where_it_is_clicked(bench: Things) -> None:
    bench.view.arm_add_corner()
    bench.hover(700, 650)
    bench.click(700, 650)
    assert isinstance(bench.bed.outline, Polygon)
    corner = bench.selection.thing
    assert corner is not None
    assert corner.kind == "corner"
    assert edits_things.exact_box(bench.bed.outline) == (1200, 650)
    assert bench.steps == ["Add a corner"]
    bench.key(Key.Key_Delete)
    assert edits_things.exact_box(bench.bed.outline) == (1200, 600)
    assert bench.selection.thing is None


def test_what_cannot_be_drawn_is_said_when_the_tool_is_chosen(make: Callable[..., Things]) -> None:
    bench = make(planting=None, outline=Disc(mm(900)), rafts=One(), obstacles=())
    bench.view.arm_draw("zone")
    assert "Plant the bed first" in bench.hints[-1]
    bench.view.arm_add_corner()
    assert "round parts" in bench.hints[-1]


# -- moving and pulling ----------------------------------------------------------------------------


def test_an_obstacle_is_dragged_and_its_plan_is_shown_meanwhile(bench: Things) -> None:
    bench.press(310, 305)
    assert bench.selection.thing == PIPE
    bench.move(360, 340)
    bench.move(402.3, 423.8)
    assert bench.document.project is bench.start
    assert bench.shown.obstacles[0].centre == spot(392, 419)
    bench.release(402.3, 423.8)
    assert bench.bed.obstacles[0].centre == spot(392, 419)
    assert bench.steps == ["Move pipe"]
    bench.document.undo_stack.undo()
    assert bench.document.project is bench.start


def test_a_press_that_hardly_moves_only_selects(bench: Things) -> None:
    bench.drag((310, 305), (311, 305))
    assert bench.selection.thing == PIPE
    assert bench.steps == []


def test_escape_takes_a_drag_back(bench: Things) -> None:
    bench.press(310, 305)
    bench.move(400, 400)
    bench.key(Key.Key_Escape)
    assert bench.document.plan.project is bench.start
    bench.release(400, 400)
    assert bench.steps == []


def test_a_dragged_obstacle_snaps_to_lines_alt_leaves_it_free_shift_straight(
    bench: Things,
) -> None:
    words: list[str] = []
    bench.view._hands.snapped.connect(words.append)
    # The pipe's lower side comes within 4 mm of the lower side of the brace, at 250.
    bench.press(300, 300)
    bench.move(400, 284)
    assert bench.shown.obstacles[0].centre == spot(400, 280)
    assert "edge of brace" in words
    bench.move(400, 284, held=ALT)
    centre = bench.shown.obstacles[0].centre
    assert centre is not None
    assert centre.y.mm == pytest.approx(284, abs=0.01)
    bench.move(400, 330, held=SHIFT)
    assert bench.shown.obstacles[0].centre == spot(400, 300)
    bench.key(Key.Key_Escape)
    bench.release(400, 330)
    assert words[-1] == ""


def test_a_number_typed_during_a_move_is_how_far_it_goes(bench: Things) -> None:
    bench.press(300, 300)
    bench.move(360, 302)
    bench.type("75")
    assert bench.shown.obstacles[0].centre == spot(375, 300)
    assert bench.view.focusNextPrevChild(True)
    bench.type("-20")
    bench.release(360, 302)
    assert bench.bed.obstacles[0].centre == spot(375, 280)
    assert bench.steps == ["Move pipe"]


def test_a_grip_pulls_a_side_or_a_corner_and_what_lies_opposite_stays(bench: Things) -> None:
    bench.selection.set_thing(BRACE)
    bench.drag((1000, 350), (1040.2, 380.4))
    assert bench.box(BRACE) == (800, 250, 1040, 380)
    bench.drag((800, 315), (770, 350))
    assert bench.box(BRACE) == (770, 250, 1040, 380)
    assert bench.steps == ["Change the size of brace"] * 2


def test_a_pulled_grip_keeps_proportions_with_shift_and_takes_typed_sizes(bench: Things) -> None:
    bench.selection.set_thing(BRACE)
    bench.press(1000, 350)
    bench.move(1100, 360, held=SHIFT)
    assert bench.shown.obstacles[1].shape == Rectangle(mm(300), mm(150))
    bench.move(1100, 360)
    bench.type("180x90")
    bench.release(1100, 360)
    assert bench.bed.obstacles[1].shape == Rectangle(mm(180), mm(90))
    assert bench.bed.obstacles[1].corner == spot(800, 250)


def test_a_round_obstacle_is_pulled_at_its_rim_and_its_middle_stays(bench: Things) -> None:
    bench.selection.set_thing(PIPE)
    bench.drag((330, 300), (345, 300))
    assert bench.bed.obstacles[0].shape == Disc(mm(90))
    assert bench.bed.obstacles[0].centre == spot(300, 300)


def test_a_grip_pulled_beyond_what_lies_opposite_is_refused_and_the_last_good_stays(
    bench: Things,
) -> None:
    bench.selection.set_thing(BRACE)
    bench.press(1000, 350)
    bench.move(915, 350)
    bench.move(700, 350)
    assert "Nothing would be left" in bench.hints[-1]
    assert bench.shown.obstacles[1].shape == Rectangle(mm(115), mm(100))
    bench.release(700, 350)
    assert bench.bed.obstacles[1].shape == Rectangle(mm(115), mm(100))
    assert bench.refused == []


def test_a_grip_can_be_taken_within_12_pixels(bench: Things) -> None:
    bench.selection.set_thing(BRACE)
    pixel = 1 / bench.view.pixels_per_mm
    bench.drag((1000 + 11 * pixel, 350 + 11 * pixel), (1040 + 11 * pixel, 350 + 11 * pixel))
    assert bench.box(BRACE)[2] == pytest.approx(1040, abs=1)


def test_zones_have_grips_too(planted: Things) -> None:
    planted.view.arm_draw("zone")
    planted.drag((60, 60), (400, 260))
    assert planted.selection.zone == "zone 1"
    planted.drag((400, 160), (460, 160))
    assert planted.bed.zones[0].shape == Rectangle(mm(400), mm(200))
    assert planted.steps[-1] == "Change the size of zone zone 1"


def test_what_is_undone_during_a_drag_stays_undone(bench: Things) -> None:
    bench.drag((300, 300), (340, 420))
    bench.press(340, 420)
    bench.move(400, 480)
    bench.document.undo_stack.undo()
    bench.release(400, 480)
    assert bench.document.project is bench.start
    assert bench.steps == ["Move pipe"]
    assert bench.document.plan.project is bench.start


def test_plans_that_take_their_time_do_not_hold_a_drag_up(qtbot: QtBot) -> None:
    bench = Things(qtbot, PLANTED, patience_s=0)
    qtbot.waitUntil(lambda: bench.document.is_worked_out, timeout=20_000)
    bench.press(300, 300)
    for step in range(5):
        bench.move(320 + 10 * step, 420)
    bench.release(360, 420)
    assert bench.bed.obstacles[0].centre == spot(360, 420)
    qtbot.waitUntil(lambda: bench.document.is_worked_out, timeout=20_000)
    assert bench.document.plan.project is bench.document.project
    assert bench.steps == ["Move pipe"]
    assert bench.selection.thing == PIPE


# -- corners of the outline ------------------------------------------------------------------------


def test_the_far_corner_of_a_rectangle_is_its_length_and_width(bench: Things) -> None:
    bench.press(1200, 600)
    bench.move(1260, 560)
    assert bench.shown.outline == Rectangle(mm(1260), mm(560))
    bench.move(1300, 570)
    bench.release(1300, 570)
    assert bench.bed.outline == Rectangle(mm(1300), mm(570))
    assert bench.steps == ["Move corner 3"]
    assert bench.selection.thing == Thing("corner", 2)


def test_the_near_corner_leaves_everything_where_it_is_on_the_screen(bench: Things) -> None:
    far, pipe = bench.pixel(1200, 600), bench.pixel(300, 300)
    bench.press(0, 0)
    bench.move(-40, -30)
    assert bench.shown.outline == Rectangle(mm(1240), mm(630))
    assert bench.shown.obstacles[0].centre == spot(340, 330)
    for before, now in ((far, bench.pixel(1240, 630)), (pipe, bench.pixel(340, 330))):
        assert abs(before.x() - now.x()) <= 1
        assert abs(before.y() - now.y()) <= 1
    # The pointer is read in the bed as it was: a second move goes on from there.
    at = QPointF(bench.pixel(40, 30))
    event = QMouseEvent(
        QEvent.Type.MouseMove, at, bench.view.mapToGlobal(at), NO_BUTTON, LEFT, NONE
    )
    QApplication.sendEvent(bench.view.viewport(), event)
    outline = bench.shown.outline
    assert isinstance(outline, Rectangle)
    assert outline.length.mm == pytest.approx(1200, abs=2)
    assert outline.width.mm == pytest.approx(600, abs=2)
    bench.key(Key.Key_Escape)
    assert abs(bench.pixel(1200, 600).x() - far.x()) <= 1
    assert bench.steps == []


@pytest.mark.parametrize(
    ("outline", "grabbed", "to", "made"),
    [
        (
            LShape(mm(1200), mm(600), mm(400), mm(250)), (800, 350), (700, 300),
            LShape(mm(1200), mm(600), mm(500), mm(300)),
        ),
        (
            Tapered(mm(1200), mm(600), mm(400)), (1200, 500), (1250, 530),
            Tapered(mm(1250), mm(600), mm(460)),
        ),
        (
            Polygon(((mm(0), mm(0)), (mm(1200), mm(0)), (mm(1100), mm(600)), (mm(0), mm(600)))),
            (1100, 600), (1150, 580),
            Polygon(((mm(0), mm(0)), (mm(1200), mm(0)), (mm(1150), mm(580)), (mm(0), mm(600)))),
        ),
        (Disc(mm(700)), (700, 350), (720, 350), Disc(mm(740))),
    ],
)  # fmt: skip
def test_corners_of_every_kind_of_outline(
    make: Callable[..., Things],
    outline: Outline,
    grabbed: tuple[float, float],
    to: tuple[float, float],
    made: Outline,
) -> None:
    bench = make(outline=outline, obstacles=(), rafts=One())
    bench.drag_on_screen(grabbed, (grabbed[0] + 8, grabbed[1] + 8), to)
    assert bench.bed.outline == made
    assert len(bench.steps) == 1


def test_the_sizes_of_the_bed_can_be_typed_while_a_corner_is_pulled(bench: Things) -> None:
    bench.press(1200, 600)
    bench.move(1250, 630)
    bench.type("1420x55cm")
    bench.release(1250, 630)
    assert bench.bed.outline == Rectangle(mm(1420), mm(550))


def test_a_bed_without_room_for_a_raft_is_refused_with_its_reason(bench: Things) -> None:
    bench.press(1200, 600)
    bench.move(1100, 600)
    bench.move(15, 600)
    assert "No raft" in bench.hints[-1]
    bench.release(15, 600)
    assert bench.bed.outline == Rectangle(mm(1100), mm(600))


def test_a_bed_held_by_the_tape_has_no_corners_to_pull(make: Callable[..., Things]) -> None:
    bench = make(outline=Measured((mm(600), mm(602)), (mm(1200),)))
    bench.key(Key.Key_C)
    assert bench.selection.thing is None
    assert "none of them" in bench.hints[-1]


def test_a_bed_that_is_shown_whole_is_fitted_once_the_corner_is_let_go(bench: Things) -> None:
    zoom = bench.view.pixels_per_mm
    bench.press(1200, 600)
    bench.move(2400, 600)
    assert bench.view.pixels_per_mm == zoom
    bench.release(2400, 600)
    assert bench.view.pixels_per_mm < zoom


# -- joints ----------------------------------------------------------------------------------------


def test_a_joint_is_dragged_in_steps_of_the_first_rafts_size(bench: Things) -> None:
    bench.press(600, 120)
    assert bench.selection.thing == Thing("along", 0)
    bench.move(640, 130)
    bench.move(650.4, 130)
    assert "637 mm" in bench.hints[-1]
    bench.release(650.4, 130)
    assert bench.bed.rafts == Split(2, 1, mm(50))
    assert bench.steps == ["Move joints along"]


def test_the_size_of_the_first_raft_can_be_typed(bench: Things) -> None:
    bench.press(600, 120)
    bench.move(620, 120)
    bench.type("500")
    bench.release(620, 120)
    assert bench.bed.rafts == Split(2, 1, mm(-87))


def test_a_joint_snaps_to_the_edge_of_an_obstacle(bench: Things) -> None:
    bench.press(600, 120)
    bench.move(700, 120)
    bench.move(796, 120)
    bench.release(796, 120)
    assert edits_things.joint_place(bench.bed, Thing("along", 0)) == 800


def test_a_joint_of_rafts_by_largest_size_becomes_one_of_a_split(
    make: Callable[..., Things],
) -> None:
    bench = make(rafts=Fit(mm(600), mm(600)), obstacles=())
    bench.drag((600, 120), (640, 120))
    assert bench.bed.rafts == Split(2, 1, mm(40))
    assert bench.steps == ["Move joints of an equal split, 2 by 1"]


def test_a_joint_pulled_over_the_last_raft_is_refused(bench: Things) -> None:
    bench.press(600, 120)
    bench.move(700, 120)
    bench.move(1198, 120)
    assert "No raft" in bench.hints[-1]
    bench.release(1198, 120)
    assert bench.bed.rafts == Split(2, 1, mm(100))


# -- keys and picking ------------------------------------------------------------------------------


def test_letters_go_through_each_kind_and_tab_through_all(bench: Things) -> None:
    seen = []
    for _ in range(3):
        bench.key(Key.Key_O)
        seen.append(bench.selection.thing)
    assert seen == [BRACE, PIPE, BRACE]
    bench.key(Key.Key_J)
    assert bench.selection.thing == Thing("along", 0)
    bench.key(Key.Key_C)
    assert bench.selection.thing == Thing("corner", 0)
    assert bench.view.focusNextPrevChild(True)
    assert bench.selection.thing == Thing("corner", 1)
    assert bench.view.focusNextPrevChild(False)
    assert bench.view.focusNextPrevChild(False)
    assert bench.selection.thing == PIPE
    bench.key(Key.Key_Z)
    assert "none of them" in bench.hints[-1]


def test_arrows_nudge_every_kind_as_one_step_and_the_next_thing_begins_another(
    bench: Things,
) -> None:
    bench.selection.set_thing(PIPE)
    bench.key(Key.Key_Right)
    bench.key(Key.Key_Right, SHIFT)
    bench.key(Key.Key_Up, CTRL)
    assert bench.bed.obstacles[0].centre == spot(311, 300.1)
    bench.selection.set_thing(Thing("corner", 2))
    bench.key(Key.Key_Right, SHIFT)
    assert bench.bed.outline == Rectangle(mm(1210), mm(600))
    bench.selection.set_thing(Thing("along", 0))
    bench.key(Key.Key_Left)
    bench.key(Key.Key_Up)
    assert bench.bed.rafts == Split(2, 1, mm(-1))
    assert bench.steps == ["Move pipe", "Move corner 3", "Move joints along"]


def test_in_inches_an_arrow_is_a_sixteenth_exactly(make: Callable[..., Things]) -> None:
    bench = make("in")
    bench.selection.set_thing(PIPE)
    for _ in range(16):
        bench.key(Key.Key_Right)
    centre = bench.bed.obstacles[0].centre
    assert centre is not None
    assert centre.x.exact == 300 + Fraction(254, 10)


def test_delete_takes_an_obstacle_out_and_says_why_a_joint_stays(bench: Things) -> None:
    bench.selection.set_thing(PIPE)
    bench.key(Key.Key_Delete)
    assert [each.name for each in bench.bed.obstacles] == ["brace"]
    assert bench.selection.thing is None
    assert bench.steps == ["Remove pipe"]
    bench.selection.set_thing(Thing("along", 0))
    bench.key(Key.Key_Delete)
    assert "fewer rafts" in bench.hints[-1]
    assert bench.steps == ["Remove pipe"]


def test_an_obstacle_is_no_longer_selected_when_its_number_is_anothers(bench: Things) -> None:
    bench.selection.set_thing(PIPE)
    project = edits_things.remove_thing(bench.document.project, "Bench", PIPE)
    bench.document.apply("Remove", project)
    assert bench.selection.thing is None


def test_repeated_clicks_go_through_what_lies_over_each_other(make: Callable[..., Things]) -> None:
    over = Obstacle("lid", Rectangle(mm(300), mm(200)), None, spot(750, 200))
    bench = make(obstacles=(*BED.obstacles, over))
    seen = []
    for _ in range(3):
        bench.click(900, 300)
        seen.append(bench.selection.thing)
    assert seen == [Thing("obstacle", 2), BRACE, Thing("obstacle", 2)]
    bench.click(760, 210)
    assert bench.selection.thing == Thing("obstacle", 2)


def test_a_click_elsewhere_does_not_go_below(make: Callable[..., Things]) -> None:
    over = Obstacle("lid", Rectangle(mm(300), mm(200)), None, spot(750, 200))
    bench = make(obstacles=(*BED.obstacles, over))
    bench.click(900, 300)
    bench.click(860, 280)
    assert bench.selection.thing == Thing("obstacle", 2)


def test_what_a_press_would_take_is_shown_before_it(bench: Things) -> None:
    def look() -> QImage:
        return bench.view.grab().toImage()

    bench.hover(450, 300)
    plain = look()
    for place in ((310, 300), (600, 120), (1195, 595)):
        bench.hover(*place)
        pointed = look()
        bench.hover(450, 300)
        # The rulers mark the pointer: only the same place may look the same.
        assert look() == plain
        assert _bed_of(pointed) != _bed_of(plain), place


def _bed_of(picture: QImage) -> QImage:
    """The picture without its rulers, which mark where the pointer is."""
    return picture.copy(60, 60, picture.width() - 60, picture.height() - 60)


def test_a_double_click_on_an_obstacle_adds_no_hole(bench: Things) -> None:
    bench.double_click(300, 300)
    assert bench.steps == []
    assert bench.selection.thing == PIPE
