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

from tests.screen.hands import Hands

if os.environ.get("QT_QPA_PLATFORM") != "xcb":
    collect_ignore_glob = ["test_*"]

SAMPLES = Path(__file__).parents[2] / "sample_projects"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A sample in a folder of its own."""
    return Path(shutil.copy(SAMPLES / "school-bench.raft.json", tmp_path / "bench.raft.json"))


@pytest.fixture
def empty(qapp: QApplication, qtbot: QtBot) -> Iterator[Hands]:
    """The program's window on a screen, without a project, and hands on mouse and keys."""
    from layout_gui.app import make_window  # noqa: PLC0415  only on a screen
    from tests.layout_gui.windows.open_window import discard  # noqa: PLC0415  only on a screen

    window = make_window()
    window.resize(1300, 820)
    with qtbot.waitActive(window, timeout=10_000):
        window.show()
    made = Hands(qtbot, window)
    made.let_go()
    yield made
    made.let_go()
    for dialog in QApplication.topLevelWidgets():
        if dialog is not window:
            dialog.close()
    discard(window)


@pytest.fixture
def hands(empty: Hands, qtbot: QtBot, project: Path) -> Hands:
    """The same with a project that is worked out."""
    window = empty.window
    window.files.open_path(project)
    empty.wait(lambda: bool(window.document.project.beds))
    empty.idle()
    window.drawer.set_open(is_open=False)
    return empty
