"""Looking and measuring in the whole window: strip, typed places, last line, menus."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QMenu, QToolButton
from pytestqt.qtbot import QtBot

from geometry.units import Length
from layout_gui.canvas.view import Pointer
from layout_gui.document.aids import CORNER
from layout_gui.document.selection import Selection
from layout_gui.panels.length_dialog import LengthDialog
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_document, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_settings, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.document.start(make_project())
    made.resize(1400, 850)
    yield made
    discard(made)


def mm(value: float) -> Length:
    return Length.of(value)


def dialog(window: MainWindow) -> LengthDialog:
    (found,) = [each for each in window.findChildren(LengthDialog) if each.isVisible()]
    return found


def trigger(window: MainWindow, name: str) -> None:
    window.actions_.by_id[name].trigger()


def test_the_strip_shows_the_tool_in_hand_until_escape(window: MainWindow) -> None:
    strip = window.looking.strip
    assert {"Add a hole", "Measure", "Guide line"} <= set(strip.words)

    trigger(window, "measure")
    assert strip.armed == "measure"
    trigger(window, "add-hole")
    assert strip.armed == "add-hole"
    assert window.view.tool == ""
    QTest.keyClick(window.view, Qt.Key.Key_Escape)
    assert strip.armed == ""
    assert not window.view.is_armed


def test_tools_beside_the_strip_are_in_hand_too(window: MainWindow) -> None:
    strip = window.looking.strip
    trigger(window, "draw-obstacle-round")
    assert strip.armed == "draw-obstacle-round"
    assert not any(tool.isChecked() for tool in strip.tools)
    trigger(window, "zoom-frame")
    assert strip.armed == "zoom-frame"
    trigger(window, "measure")
    trigger(window, "guide-line")
    dialog(window).reject()
    assert (strip.armed, window.view.tool) == ("measure", "measure")


def test_a_tool_is_put_away_by_its_own_button_and_by_escape_on_it(window: MainWindow) -> None:
    strip = window.looking.strip
    button = next(each for each in strip.findChildren(QToolButton) if each.text() == "Measure")

    button.click()
    assert (window.view.tool, button.isChecked()) == ("measure", True)
    button.click()
    assert (window.view.tool, button.isChecked()) == ("", False)
    button.click()
    QTest.keyClick(button, Qt.Key.Key_Escape)
    assert (window.view.tool, strip.armed) == ("", "")


def test_keys_on_the_strip_do_nothing_to_the_bed(window: MainWindow) -> None:
    window.selection.set_holes([("R1", "A1")])
    button = next(
        each for each in window.looking.strip.findChildren(QToolButton) if each.text() == "Measure"
    )

    for key in (Qt.Key.Key_Delete, Qt.Key.Key_Right, Qt.Key.Key_P):
        QTest.keyClick(button, key)

    assert window.document.undo_stack.count() == 0


def test_the_strip_folds_when_it_is_narrow(window: MainWindow) -> None:
    strip = window.looking.strip
    whole = strip.words
    assert "More" not in whole

    strip.resize(240, strip.height())
    QApplication.sendEvent(strip, QResizeEvent(strip.size(), QSize(900, 30)))
    assert strip.words[-1] == "More"
    shown = len(strip.words) - 1
    (more,) = [each for each in strip.findChildren(QToolButton) if each.text() == "More"]
    assert [action.objectName() for action in more.menu().actions()] == [
        action.objectName() for action in list(strip._actions.values())[shown:]
    ]
    trigger(window, "guide-line")
    strip.resize(1200, strip.height())
    QApplication.sendEvent(strip, QResizeEvent(strip.size(), QSize(240, 30)))
    assert strip.words == whole


def test_the_strip_is_reached_by_tab(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    strip = window.looking.strip
    buttons = [each for each in strip.findChildren(QToolButton) if each.isVisible()]
    buttons[0].setFocus(Qt.FocusReason.TabFocusReason)
    assert window.focusWidget() is buttons[0]
    QTest.keyClick(buttons[0], Qt.Key.Key_Tab)
    assert window.focusWidget() is not buttons[0]
    assert window.looking.strip.isAncestorOf(window.focusWidget())
    assert not window.selection.holes
    last = [each for each in strip.tools if each.isVisible() and each.isEnabled()][-1]
    last.setFocus(Qt.FocusReason.TabFocusReason)
    QTest.keyClick(last, Qt.Key.Key_Tab)
    assert window.focusWidget() is window.view
    # With nothing selected Escape lets Tab leave the bed.
    QTest.keyClick(window.view, Qt.Key.Key_Escape)
    QTest.keyClick(window.view, Qt.Key.Key_Backtab)
    assert window.focusWidget() is last


def test_letters_are_keys_on_the_bed_only(qtbot: QtBot, window: MainWindow) -> None:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    zoom = window.last_line.zoom
    zoom.setFocus()
    zoom.selectAll()
    QTest.keyClick(zoom, Qt.Key.Key_M)
    assert (zoom.text(), window.view.tool) == ("m", "")
    window.view.setFocus()
    QTest.keyClick(window.view, Qt.Key.Key_M)
    assert window.view.tool == "measure"
    QTest.keyClick(window.view, Qt.Key.Key_M)
    QTest.keyClick(window.view, Qt.Key.Key_F)
    assert window.view.tool == "frame"
    QTest.keyClick(window.view, Qt.Key.Key_Escape)
    window.view.set_zoom(1)
    before = window.view.seen().center().y()
    QTest.keyClick(window.view, Qt.Key.Key_PageUp)
    assert window.view.seen().center().y() > before


def test_a_guide_line_is_typed_and_then_moved_by_typing(window: MainWindow) -> None:
    trigger(window, "guide-line")
    asked = dialog(window)
    asked.option.setCurrentIndex(1)
    asked.fields[0].lineEdit().setText("7 1/2 in")
    asked.accept()
    (line,) = window.document.project.guide_lines
    assert (line.axis, line.at) == ("y", Length.of("7.5 in"))
    assert window.view.aids.picked == line

    trigger(window, "guide-line")
    moving = dialog(window)
    moving.fields[0].lineEdit().setText("nonsense")
    moving.accept()
    assert moving.isVisible()
    assert "nonsense" in moving.reason.text()
    moving.fields[0].lineEdit().setText("30 cm")
    moving.accept()
    assert [each.at for each in window.document.project.guide_lines] == [mm(300)]
    assert window.document.undo_stack.count() == 2


def test_guide_lines_are_locked_and_taken_out_by_rows(window: MainWindow) -> None:
    by_id = window.actions_.by_id
    assert not by_id["lock-guide-line"].isEnabled()
    for at in (100, 200):
        window.view.add_guide_line("x", mm(at))

    by_id["lock-guide-line"].trigger()
    assert by_id["lock-guide-line"].isChecked()
    assert [line.locked for line in window.document.project.guide_lines] == [False, True]
    by_id["remove-guide-line"].trigger()
    assert len(window.document.project.guide_lines) == 2
    by_id["remove-guide-lines"].trigger()
    assert window.document.project.guide_lines == ()
    assert not by_id["remove-guide-lines"].isEnabled()


def test_the_rulers_begin_where_it_is_typed(window: MainWindow) -> None:
    words = window.looking.pointer_words
    over_water = Pointer(700, 300)
    assert words(over_water) == "x 700 mm  y 300 mm from the bed's corner"
    trigger(window, "zero")
    asked = dialog(window)
    asked.fields[0].lineEdit().setText("600")
    asked.fields[1].lineEdit().setText("-5 cm")
    asked.accept()
    assert window.view.aids.zero("Bench") == (mm(600), mm(-50))
    assert words(over_water) == "x 100 mm  y 350 mm from the rulers' zero"
    trigger(window, "zero-back")
    assert window.view.aids.zero("Bench") == CORNER
    assert not window.actions_.by_id["zero-back"].isEnabled()


def heard(window: MainWindow) -> Callable[[], str]:
    """What the last line says can be done, by its accessible name."""
    start = "What can be done: "

    def said() -> str:
        names = [part.accessibleName() for part in window.last_line.findChildren(QLabel)]
        return next(name.removeprefix(start) for name in names if name.startswith(start))

    return said


def test_a_zoom_that_is_none_is_refused_with_a_reason_that_stays(
    qtbot: QtBot, window: MainWindow
) -> None:
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    trigger(window, "type-zoom")

    window.last_line.zoom.setText("wide")
    QTest.keyClick(window.last_line.zoom, Qt.Key.Key_Return)

    assert window.view.hasFocus()
    assert "“wide” is no zoom" in heard(window)()


def test_grid_and_snapping_are_switched_by_rows_and_remembered(
    qapp: QApplication, tmp_path: Path
) -> None:
    first = make_window(tmp_path, settings=make_settings(tmp_path))
    first.document.start(make_project())
    said = heard(first)
    trigger(first, "snaps")
    assert said() == "Snapping is off"
    trigger(first, "grid-step")
    asked = dialog(first)
    asked.fields[0].lineEdit().setText("0")
    asked.accept()
    assert "1 mm" in asked.reason.text()
    asked.fields[0].lineEdit().setText("3/4 in")
    asked.accept()
    assert first.actions_.by_id["grid"].isChecked()
    discard(first)

    second = make_window(tmp_path, settings=make_settings(tmp_path))
    second.document.start(make_project())
    aids = second.view.aids
    assert (aids.snaps, aids.has_grid, aids.grid_step("mm")) == (False, True, Length.of("3/4 in"))
    assert not second.actions_.by_id["snaps"].isChecked()
    trigger(second, "grid")
    assert not aids.has_grid
    discard(second)


def test_the_zoom_is_shown_and_typed_in_the_last_line(window: MainWindow) -> None:
    zoom = window.last_line.zoom
    trigger(window, "type-zoom")
    for typed, share, shown in (
        ("150 %", 1.5, "150 %"),
        ("1:5", 0.2, "20 %"),
        ("40", 0.4, "40 %"),
    ):
        zoom.setText(typed)
        QTest.keyClick(zoom, Qt.Key.Key_Return)
        assert window.view.zoom == pytest.approx(share)
        assert zoom.text() == shown
    zoom.setText("wide")
    QTest.keyClick(zoom, Qt.Key.Key_Return)
    assert window.view.zoom == pytest.approx(0.4)
    assert zoom.text() == "40 %"
    window.view.zoom_100()
    assert zoom.text() == "100 %"


def test_the_last_line_tells_what_is_selected_and_what_is_snapped(window: MainWindow) -> None:
    line = window.last_line
    window.selection.set_holes([("R1", "A1")])
    assert line.picked.startswith("1 hole, ")
    window.view.snapped.emit("middle of R1")
    assert line.picked == "snapped: middle of R1"
    window.view.snapped.emit("")
    assert line.picked.startswith("1 hole, ")
    window.selection.set_holes([("R1", "A1"), ("R1", "A2")])
    assert "apart" in line.picked
    assert "foam between" in line.picked
    window.selection.clear()
    assert line.picked == ""


@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_the_menu_on_the_canvas_opens_with_the_rows_of_its_kind(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.show()
    window.view.menu_wanted.emit("hole", QPoint(300, 300))
    menu = next(each for each in window.findChildren(QMenu, "canvas menu"))
    qtbot.waitUntil(menu.isVisible)
    assert [action.objectName() for action in menu.actions()] == [
        "copy",
        "leave-out",
        "pin",
        "measure",
        "fit-selection",
    ]
    menu.close()


def test_another_project_begins_with_its_rulers_in_the_corner(window: MainWindow) -> None:
    aids = window.view.aids
    aids.set_zero("Bench", (mm(10), mm(20)))
    window.set_units("cm")
    window.document.undo_stack.undo()
    assert aids.zero("Bench") == (mm(10), mm(20))
    window.document.start(make_project(name="Another"))
    assert aids.zero("Bench") == CORNER


def test_with_larger_text_strip_and_rulers_make_room(
    qapp: QApplication, window: MainWindow
) -> None:
    qapp.setStyleSheet("")  # a style that a test before has left would keep its own font
    window.show()
    view, strip = window.view, window.looking.strip
    usual = qapp.font()
    twice = qapp.font()
    twice.setPointSizeF(2 * usual.pointSizeF())
    qapp.setFont(twice)
    try:
        qapp.processEvents()
        view.resize(view.width() - 1, view.height())
        large = strip.height()
        assert large >= strip.sizeHint().height()
        assert view._top.height() >= 1.8 * 24
        assert view._left.width() == view._top.height()
        inside = view.viewport().geometry()
        assert inside.top() == strip.height() + view._top.height()
        assert view._top.geometry().bottom() < inside.top()
    finally:
        qapp.setFont(usual)
        qapp.processEvents()
    assert strip.height() < large
    assert view.viewport().geometry().top() == strip.height() + view._top.height() < inside.top()


def test_right_to_left_the_bed_stays_as_it_is(qapp: QApplication, window: MainWindow) -> None:
    window.show()
    strip = window.looking.strip
    first = strip.findChildren(QToolButton)
    shown = [each for each in first if not each.isHidden()]
    left_to_right = [each.geometry().left() for each in shown]
    zero = window.view._top.grab().toImage()
    qapp.setLayoutDirection(Qt.LayoutDirection.RightToLeft)
    try:
        qapp.processEvents()
        assert [each.geometry().left() for each in shown] != left_to_right
        assert shown[0].geometry().left() > shown[-1].geometry().left()
        assert window.view._left.geometry().left() == 0
        assert window.view._top.grab().toImage() == zero
    finally:
        qapp.setLayoutDirection(Qt.LayoutDirection.LeftToRight)
        qapp.processEvents()


def test_the_keyboard_goes_to_the_bed_when_it_comes_into_sight(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path
) -> None:
    document = make_document()
    # As the program starts: what shows a bed is made after the window is shown.
    empty = MainWindow(document, Selection(), make_settings(tmp_path), Answers(), furnished=False)
    with qtbot.waitActive(empty):
        empty.show()
        empty.activateWindow()
    assert empty.start.isAncestorOf(empty.focusWidget())
    empty.furnish()
    empty.document.start(make_project())
    assert empty.focusWidget() is empty.view
    discard(empty)
