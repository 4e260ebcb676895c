"""What is shown while a plan takes its time: nothing at first, then how far it is, and Stop."""

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_gui.panels.last_line import LastLine
from layout_gui.panels.working import Working
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


def test_a_plan_that_is_soon_made_says_nothing(qtbot: QtBot) -> None:
    working = Working()
    qtbot.addWidget(working)
    working.show_state(is_busy=True, is_missing=True)
    assert working.isHidden()
    working.show_state(is_busy=False, is_missing=False)
    qtbot.wait(500)
    assert working.isHidden()


def test_a_slow_plan_shows_its_share_and_can_be_stopped(qtbot: QtBot) -> None:
    working = Working()
    qtbot.addWidget(working)
    working.show_state(is_busy=True, is_missing=True)
    qtbot.waitUntil(working.isVisible, timeout=2000)
    working.show_progress(0.42)
    assert working.bar.value() == 42
    with qtbot.waitSignal(working.stop_wanted):
        qtbot.mouseClick(working.stop, Qt.MouseButton.LeftButton)


def test_a_plan_that_was_stopped_can_be_asked_for(qtbot: QtBot) -> None:
    working = Working()
    qtbot.addWidget(working)
    working.show_state(is_busy=False, is_missing=True)
    assert working.isVisible()
    assert working.words.text() == "stopped, not worked out"
    with qtbot.waitSignal(working.work_out_wanted):
        qtbot.mouseClick(working.again, Qt.MouseButton.LeftButton)


def test_the_last_line_is_as_high_with_it_as_without(qtbot: QtBot) -> None:
    line = LastLine()
    qtbot.addWidget(line)
    line.show()
    without = line.sizeHint().expandedTo(line.minimumSize()).height()
    line.working.show_state(is_busy=False, is_missing=True)
    assert line.sizeHint().expandedTo(line.minimumSize()).height() == without
