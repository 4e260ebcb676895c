"""Real windows: these run under an X server with a window manager, and nowhere else.

``tests/layout_gui/test_on_a_screen.py`` starts both and runs this folder there.
"""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from layout_gui.app import make_window
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.windows.open_window import discard
from tests.screen.hands import Hands

if os.environ.get("QT_QPA_PLATFORM") != "xcb":
    collect_ignore_glob = ["test_*"]

SAMPLES = Path(__file__).parents[2] / "sample_projects"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A sample in a folder of its own."""
    return Path(shutil.copy(SAMPLES / "school-bench.raft.json", tmp_path / "bench.raft.json"))


def show(qtbot: QtBot) -> MainWindow:
    """The program's window on the screen, with the keyboard."""
    window = make_window()
    window.resize(1300, 820)
    with qtbot.waitActive(window, timeout=10_000):
        window.show()
    return window


def put_away(window: MainWindow) -> None:
    """Close what the program has opened, and let go of its window."""
    for dialog in QApplication.topLevelWidgets():
        if dialog is not window:
            dialog.close()
    discard(window)


@pytest.fixture
def empty(qapp: QApplication, qtbot: QtBot) -> Iterator[Hands]:
    """A window without a project, and hands on mouse and keys."""
    window = show(qtbot)
    made = Hands(qtbot, window)
    made.let_go()
    yield made
    made.let_go()
    put_away(window)


@pytest.fixture(scope="module")
def windows(qapp: QApplication) -> Iterator[list[MainWindow]]:
    """The window that the tests of a module share; another one once it is closed."""
    kept: list[MainWindow] = []
    yield kept
    for window in kept:
        put_away(window)


@pytest.fixture
def hands(windows: list[MainWindow], qtbot: QtBot, project: Path) -> Iterator[Hands]:
    """Hands on the window of the module, with a project that is worked out."""
    if not windows or not windows[-1].isVisible():
        windows.append(show(qtbot))
    window = windows[-1]
    made = Hands(qtbot, window)
    made.let_go()
    window.document.undo_stack.setClean()
    window.files.open_path(project)
    made.wait(lambda: window.document.path == project)
    made.idle()
    window.go_to("Bed")
    window.drawer.set_open(is_open=False)
    window.selection.clear()
    window.view.fit()
    window.view.setFocus()
    yield made
    made.let_go()
    if window.isMaximized():
        window.showNormal()
