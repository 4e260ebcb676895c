"""The window under a window manager: real mouse, real keys, real dialogs."""

import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QWidget

from geometry.units import Length
from layout_gui.canvas.rulers import Ruler
from layout_gui.dialogs.question import Question
from layout_gui.document.files import read_project
from layout_gui.panels.fields import LengthField
from tests.screen.hands import Hands, run_while_alive

pytestmark = pytest.mark.screen

SOURCE = Path(__file__).parent / "other_program.py"


def place_of(hands: Hands, raft: str, hole: str) -> QPoint:
    """Where a hole is on the canvas, in pixels of its viewport."""
    view = hands.window.view
    bed = hands.window.document.plan.beds[0]
    placed = next(each for each in bed.rafts if each.name == raft)
    index = placed.design.holes.names.index(hole)
    x, y = placed.design.holes.xy[index]
    return view.mapFromScene(QPointF(placed.x + x, placed.y + y))


def canvas(hands: Hands) -> QWidget:
    return hands.window.view.viewport()


def dialog(kind: type[QWidget]) -> QWidget | None:
    found = [each for each in QApplication.topLevelWidgets() if isinstance(each, kind)]
    return next((each for each in found if each.isVisible()), None)


def field(hands: Hands, name: str) -> LengthField:
    return next(each for each in hands.window.fields.findChildren(LengthField, name))


def undo_text(hands: Hands) -> str:
    return hands.window.document.undo_stack.undoText()


def test_a_hole_is_dragged_and_the_move_is_one_step(hands: Hands) -> None:
    before = hands.window.document.project
    start = place_of(hands, "R1", "B2")

    hands.drag(canvas(hands), start, start + QPoint(12, 9))
    hands.idle()

    assert undo_text(hands) == "Move hole B2"
    assert hands.window.document.undo_stack.count() == 1
    assert hands.window.selection.holes == {("R1", "B2")}
    hands.press("ctrl+z")
    hands.wait(lambda: hands.window.document.project == before)


def test_escape_takes_a_drag_back(hands: Hands) -> None:
    before = hands.window.document.project
    start = place_of(hands, "R1", "B2")

    hands.drag(
        canvas(hands), start, start + QPoint(20, 0), before_release=lambda: hands.press("Escape")
    )
    hands.idle()

    assert hands.window.document.project is before
    assert hands.window.document.undo_stack.count() == 0


def test_a_frame_selects_the_holes_within(hands: Hands) -> None:
    before, first, last = (place_of(hands, "R1", name) for name in ("A1", "B2", "C3"))

    hands.drag(canvas(hands), (before + first) / 2, last + (first - before) / 2)

    assert hands.window.selection.holes == {("R1", name) for name in ("B2", "B3", "C2", "C3")}


def test_the_wheel_zooms_at_the_pointer(hands: Hands) -> None:
    view, at = hands.window.view, place_of(hands, "R2", "A1")
    scale, under = view.pixels_per_mm, view.mapToScene(at)

    hands.wheel(canvas(hands), at, 3)
    hands.wait(lambda: view.pixels_per_mm > scale * 1.5)

    after = view.mapToScene(at)
    assert abs(after.x() - under.x()) < 2 / view.pixels_per_mm
    assert abs(after.y() - under.y()) < 2 / view.pixels_per_mm


def test_the_middle_button_and_space_move_the_bed(hands: Hands) -> None:
    view = hands.window.view
    hands.wheel(canvas(hands), canvas(hands).rect().center(), 5)
    for button, held in ((2, ""), (1, "space")):
        under = view.mapToScene(QPoint(300, 200))
        hands.click(canvas(hands), QPoint(5, 5))
        if held:
            hands.hold(held)
        hands.drag(canvas(hands), QPoint(300, 200), QPoint(240, 230), button=button)
        if held:
            hands.release(held)
        there = view.mapToScene(QPoint(240, 230))
        assert abs(there.x() - under.x()) < 3 / view.pixels_per_mm
        assert abs(there.y() - under.y()) < 3 / view.pixels_per_mm
        assert hands.window.document.undo_stack.count() == 0


def test_inches_are_typed_into_a_field_of_millimetres(hands: Hands) -> None:
    hands.press("ctrl+3")
    hands.wait(lambda: field(hands, "spacing").isVisible())
    hands.click(field(hands, "spacing"), QPoint(30, 12))
    hands.press("ctrl+a")

    hands.type('7 1/2"')
    hands.press("Return")
    hands.idle()

    planting = hands.window.document.project.beds[0].planting
    assert planting is not None
    assert planting.spacing.exact == Length.of("7.5 in").exact


def test_the_wheel_over_a_field_without_the_keyboard_changes_nothing(hands: Hands) -> None:
    hands.press("ctrl+3")
    hands.wait(lambda: field(hands, "spacing").isVisible())
    hands.click(canvas(hands), QPoint(5, 5))

    hands.wheel(field(hands, "spacing"), QPoint(30, 12), 2)
    hands.idle()

    assert hands.window.document.undo_stack.count() == 0


def test_the_menus_are_opened_and_used_by_keys(hands: Hands) -> None:
    hands.press("alt+v")
    hands.wait(lambda: QApplication.activePopupWidget() is not None)
    hands.press("k")

    hands.wait(lambda: hands.window.theme_choice == "dark")
    assert QApplication.activePopupWidget() is None
    hands.press("alt+v", "l")
    hands.wait(lambda: hands.window.theme_choice == "light")


def test_saving_under_a_new_name_goes_through_the_dialog(hands: Hands, tmp_path: Path) -> None:
    target = tmp_path / "second.raft.json"
    hands.press("ctrl+shift+s")
    hands.wait(lambda: dialog(QFileDialog) is not None and hands.active() is dialog(QFileDialog))
    asked = dialog(QFileDialog)
    assert asked is not None
    line = asked.findChild(QLineEdit)
    hands.click(line)
    hands.press("ctrl+a")

    hands.type(str(target))
    hands.press("Return")
    hands.wait(target.is_file)

    assert read_project(target) == hands.window.document.project
    hands.wait(lambda: hands.active() is hands.window)
    assert "second" in hands.window.windowTitle() or hands.window.document.path == target


def test_closing_with_unsaved_changes_asks_and_loses_nothing(hands: Hands, project: Path) -> None:
    start = place_of(hands, "R1", "B2")
    hands.drag(canvas(hands), start, start + QPoint(12, 9))
    hands.idle()

    hands.press("alt+F4")
    hands.wait(lambda: dialog(Question) is not None and hands.active() is dialog(Question))
    hands.press("Escape")
    hands.wait(lambda: dialog(Question) is None and hands.active() is hands.window)
    assert hands.window.isVisible()

    changed = hands.window.document.project
    hands.press("alt+F4")
    hands.wait(lambda: hands.active() is dialog(Question))
    hands.press("Return")
    hands.wait(lambda: not hands.window.isVisible())
    assert read_project(project) == changed


def test_a_file_dropped_from_another_program_is_opened(hands: Hands, tmp_path: Path) -> None:
    other = tmp_path / "other.raft.json"
    sample = Path(__file__).parents[2] / "sample_projects" / "round-pool.raft.json"
    other.write_bytes(sample.read_bytes())
    corner = hands.window.frameGeometry().topRight()
    target = canvas(hands).mapToGlobal(canvas(hands).rect().center())

    command = [sys.executable, str(SOURCE), "drag", str(other)]
    places = [corner.x() + 20, 100, target.x(), target.y()]
    run_while_alive([*command, *map(str, places)], hands.qtbot)

    hands.wait(lambda: hands.window.document.path == other)
    hands.idle()
    assert hands.window.document.plan.plants > 0


def test_the_keys_go_from_part_to_part(hands: Hands) -> None:
    seen = []
    for _ in range(6):
        hands.press("F6")
        focus = QApplication.focusWidget()
        assert focus is not None
        seen.append(focus)
    assert len(set(map(id, seen))) >= 4


def test_a_maximised_window_shows_every_part(hands: Hands) -> None:
    window = hands.window
    window.showMaximized()
    hands.wait(lambda: window.isMaximized() and window.width() > 1500)

    for part in (window.road, window.view, window.fields, window.last_line):
        assert part.isVisible()
        assert window.rect().contains(part.mapTo(window, part.rect().center()))


def mid(hands: Hands, raft: str, one: str, other: str) -> QPoint:
    return (place_of(hands, raft, one) + place_of(hands, raft, other)) / 2


def drag_held(hands: Hands, key: str, start: QPoint, end: QPoint) -> None:
    """Drag with a key that is pressed once the button is down, and let go after it."""
    hands.to(canvas(hands), start)
    hands.tell("mousedown", "1")
    hands.hold(key)
    hands.to(canvas(hands), (start + end) / 2)
    hands.to(canvas(hands), end)
    hands.tell("mouseup", "1")
    hands.release(key)
    hands.idle()


def test_shift_keeps_a_drag_straight_ctrl_copies_and_alt_is_free_of_lines(hands: Hands) -> None:
    """A window manager takes Alt and the button together: it is held once the drag has begun."""
    start = place_of(hands, "R1", "B2")
    for key, told in (("shift", "Move hole B2"), ("ctrl", "Copy hole B2"), ("alt", "Move hole B2")):
        drag_held(hands, key, start, start + QPoint(19, 7))
        assert undo_text(hands) == told
        planting = hands.window.document.project.beds[0].planting
        assert planting is not None
        pin = planting.pins[-1]  # beside a copy its neighbours are pinned, and stand before it
        moved = abs(pin.y.mm - 280)
        assert (moved < 1e-6) is (key == "shift"), key
        hands.press("ctrl+z")
        hands.idle()


def test_a_number_typed_in_a_drag_is_how_far_the_hole_goes(hands: Hands) -> None:
    start = place_of(hands, "R1", "B2")

    def typed() -> None:
        hands.type("12.5")
        hands.press("Return")

    hands.drag(canvas(hands), start, start + QPoint(20, 0), before_release=typed)
    hands.idle()

    planting = hands.window.document.project.beds[0].planting
    assert planting is not None
    (pin,) = planting.pins
    assert pin.home is not None
    assert pin.x.exact - pin.home[0].exact == Fraction(25, 2)
    assert hands.window.document.undo_stack.count() == 1


def test_an_obstacle_is_drawn_with_a_typed_size_copied_and_locked(hands: Hands) -> None:
    hands.press("ctrl+shift+d")
    start = mid(hands, "R1", "A1", "B2")

    def typed() -> None:
        hands.type("60\t40")
        hands.press("Return")

    hands.drag(canvas(hands), start, start + QPoint(30, -20), before_release=typed)
    hands.idle()
    (obstacle,) = hands.window.document.project.beds[0].obstacles
    assert (obstacle.shape.length.mm, obstacle.shape.width.mm) == (60, 40)

    at = start + QPoint(6, -4)
    drag_held(hands, "ctrl", at, at + QPoint(60, 0))
    assert len(hands.window.document.project.beds[0].obstacles) == 2
    assert undo_text(hands).startswith("Copy")
    hands.press("ctrl+k")
    hands.idle()
    locked = hands.window.document.project
    hands.press("Right")
    hands.idle()
    assert hands.window.document.project is locked


def test_the_menu_key_and_the_right_button_open_the_menu_of_a_hole(hands: Hands) -> None:
    at = place_of(hands, "R1", "B2")
    hands.click(canvas(hands), at, button=3)
    hands.wait(lambda: QApplication.activePopupWidget() is not None)
    by_mouse = [each.text() for each in QApplication.activePopupWidget().actions()]
    hands.press("Escape")
    hands.wait(lambda: QApplication.activePopupWidget() is None)

    hands.press("shift+F10")
    hands.wait(lambda: QApplication.activePopupWidget() is not None)
    menu = QApplication.activePopupWidget()
    assert [each.text() for each in menu.actions()] == by_mouse
    away = menu.pos() - canvas(hands).mapToGlobal(at)
    assert away.manhattanLength() < 12
    hands.press("Escape")


def test_holes_go_to_another_program_and_come_back_by_the_clipboard(hands: Hands) -> None:
    hands.click(canvas(hands), place_of(hands, "R1", "B2"))
    hands.press("ctrl+c")
    read = run_while_alive([sys.executable, str(SOURCE), "read"], hands.qtbot)
    assert read.splitlines()[-1].split("\t")[1:3] == ["R1", "B2"] or "B2" in read

    rows = read.replace("B2", "X9")
    command = [sys.executable, str(SOURCE), "copy", rows]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as other:
        hands.wait(lambda: QApplication.clipboard().text() == rows)
        hands.to(canvas(hands), mid(hands, "R1", "A1", "B2"))
        hands.press("ctrl+v")
        hands.idle()
        other.terminate()

    assert undo_text(hands) == "Paste 1 hole"


def test_a_guide_line_comes_out_of_a_ruler_at_a_typed_place(hands: Hands) -> None:
    view = hands.window.view
    ruler = view.findChildren(Ruler)[0]
    hands.to(ruler, QPoint(200, 8))
    hands.tell("mousedown", "1")
    hands.to(canvas(hands), QPoint(200, 60))
    hands.to(canvas(hands), QPoint(200, 90))
    hands.type("123.4")
    hands.press("Return")
    hands.tell("mouseup", "1")
    hands.idle()

    (line,) = hands.window.document.project.guide_lines
    assert (line.axis, line.at.mm) == ("y", pytest.approx(123.4))
