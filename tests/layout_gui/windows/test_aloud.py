"""What a screen reader is told: what has the keyboard, and what came of a key."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from layout_gui.panels import aloud
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.document.start(make_project())
    made.go_to("Holes")
    qtbot.waitUntil(lambda: made.document.is_worked_out and not made.document.is_busy)
    yield made
    discard(made)


def test_what_came_of_a_key_is_said(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[tuple[str, bool]] = []

    def keep(event: QAccessibleAnnouncementEvent) -> None:
        urgent = event.politeness() == QAccessible.AnnouncementPoliteness.Assertive
        said.append((event.message(), urgent))

    window.selection.clear()
    window.view.setFocus()
    QTest.keyClick(window.view, Qt.Key.Key_Tab)  # nobody listens: nothing is made
    monkeypatch.setattr(aloud, "is_heard", lambda: True)
    monkeypatch.setattr(aloud, "send", keep)
    QTest.keyClick(window.view, Qt.Key.Key_Tab)
    (_, hole) = next(iter(window.selection.holes))
    assert any(hole in words for words, _ in said), said
    assert hole in window.view.accessibleDescription()

    said.clear()
    QTest.keyClick(window.view, Qt.Key.Key_Delete)
    qtbot.waitUntil(lambda: window.document.plan.plants == 17 and not window.document.is_busy)
    assert any(words.startswith("17 plants") for words, _ in said), said

    said.clear()
    window.notice.say("The folder is locked.")
    assert said == [("The folder is locked.", True)]


def test_what_is_drawn_has_a_name_a_state_and_a_role(window: MainWindow) -> None:
    for part in (window.view, window.last_line.truth, window.road.buttons["Holes"]):
        seen = QAccessible.queryAccessibleInterface(part)
        assert seen.text(QAccessible.Text.Name)
        assert seen.role() != QAccessible.Role.NoRole
    station = QAccessible.queryAccessibleInterface(window.road.buttons["Holes"])
    assert station.state().checked
    assert station.state().focusable
    assert "18 plants" in station.text(QAccessible.Text.Name)
