"""The window under a window manager: real mouse, real keys, real dialogs."""

import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtWidgets import QApplication, QFileDialog, QLineEdit, QWidget

from geometry.units import Length
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
