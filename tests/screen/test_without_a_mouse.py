"""The whole job by keys alone: from an empty window to files for the workshop."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel, QLineEdit

from layout_gui.document.files import read_project
from layout_gui.panels.make_panel import MakePanel
from tests.screen.hands import Hands

pytestmark = pytest.mark.screen

MOST_TABS = 60


def file_dialog() -> QFileDialog | None:
    found = [each for each in QApplication.topLevelWidgets() if isinstance(each, QFileDialog)]
    return next((each for each in found if each.isVisible()), None)


def question(hands: Hands) -> str:
    """Which question the guide asks."""
    words = [each.text() for each in hands.window.findChildren(QLabel) if each.isVisible()]
    return next(each for each in words if each.startswith(("Question", "All questions")))


def tab_to(hands: Hands, name: str) -> None:
    """Press Tab until the control of this name has the keyboard."""
    for _ in range(MOST_TABS):
        focus = QApplication.focusWidget()
        if focus is not None and name in (focus.accessibleName() or getattr(focus, "text", str)()):
            return
        hands.press("Tab")
    raise AssertionError(f"{MOST_TABS} times Tab do not come to {name}")


def test_the_whole_job_without_a_mouse(empty: Hands, tmp_path: Path) -> None:
    hands, window = empty, empty.window
    hands.press("Return")
    hands.wait(lambda: window.is_guided)
    hands.press("alt+n")
    hands.wait(lambda: bool(window.document.project.beds))
    hands.type("7ft 9in\t")
    hands.type("23in\t")
    for _ in range(4):
        before = question(hands)
        hands.press("alt+n")
        hands.wait(lambda before=before: question(hands) != before)
        hands.idle()
    assert window.document.plan.plants > 0
    outline = window.document.project.beds[0].outline
    assert outline.length.mm == pytest.approx(93 * 25.4)

    hands.press("ctrl+e")
    panel = window.fields.panel("Make")
    assert isinstance(panel, MakePanel)
    panel.set_folder(tmp_path / "out")
    hands.wait(lambda: window.make_view.pages.count() > 0, timeout=60_000)
    hands.press("F6")
    tab_to(hands, "Export ")
    hands.press("Return")
    hands.wait((tmp_path / "out" / "template.pdf").is_file, timeout=60_000)

    target = tmp_path / "mine.raft.json"
    hands.press("ctrl+s")
    hands.wait(lambda: file_dialog() is not None and hands.active() is file_dialog())
    asked = file_dialog()
    assert asked is not None
    line = asked.findChild(QLineEdit)
    assert line is not None
    tab_to(hands, line.accessibleName() or line.text())
    hands.press("ctrl+a")
    hands.type(str(target))
    hands.press("Return")
    hands.wait(target.is_file)
    assert read_project(target) == window.document.project

    hands.press("ctrl+q")
    hands.wait(lambda: not window.isVisible())
