"""Long work for the window: news arrives, stopping is real, the window stays alive."""

import os
import subprocess
import sys
import time
from itertools import pairwise
from pathlib import Path

import pytest
import shiboken6
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from layout_gui.document.child import Child
from tests.layout_gui import child_work
from tests.layout_gui.processes import goes_within, is_there

pytestmark = pytest.mark.usefixtures("fresh_children")

ROOT = Path(__file__).parents[3]
PATIENCE_MS = 20_000
PROGRAM = """
import sys
from PySide6.QtCore import QTimer
from layout_gui.app import make_application, make_window
from layout_gui.document.child import Child
from tests.layout_gui.child_work import burn_for_ever
app = make_application()
window = make_window()
window.show()
child = Child(window)
def told(pid):
    print(pid, flush=True)
    QTimer.singleShot(0, window.close)
child.progress.connect(told)
child.start(burn_for_ever)
sys.exit(app.exec())
"""


def at_home_in(folder: Path) -> dict[str, str]:
    homes = {f"XDG_{kind}_HOME": str(folder) for kind in ("CONFIG", "DATA", "STATE", "CACHE")}
    return {**os.environ, **homes, "QT_QPA_PLATFORM": "offscreen", "HOME": str(folder)}


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Timers need a running Qt."""


def burning(qtbot: QtBot, child: Child) -> int:
    """Start work without an end; return its process."""
    with qtbot.waitSignal(child.progress, timeout=PATIENCE_MS) as told:
        child.start(child_work.burn_for_ever)
    assert isinstance(told.args, list)
    return int(told.args[0])


def test_progress_arrives_in_order_and_then_the_result(qtbot: QtBot) -> None:
    child = Child()
    told: list[int] = []
    child.progress.connect(told.append)

    with qtbot.waitSignal(child.done, timeout=PATIENCE_MS) as done:
        child.start(child_work.count_up, 3)

    assert told == [0, 1, 2]
    assert done.args == [3]
    assert child.best == 3
    assert not child.is_running


def test_cancelling_takes_less_than_half_a_second_and_keeps_the_best_so_far(qtbot: QtBot) -> None:
    child = Child()
    pid = burning(qtbot, child)
    heard: list[object] = []
    child.done.connect(heard.append)
    child.failed.connect(heard.append)

    begun = time.monotonic()
    child.cancel()

    assert time.monotonic() - begun < 0.5
    assert not is_there(pid)
    assert not child.is_running
    assert child.best == pid
    qtbot.wait(100)
    assert heard == []


def test_an_error_is_told_and_the_best_so_far_stays(qtbot: QtBot) -> None:
    child = Child()

    with qtbot.waitSignal(child.failed, timeout=PATIENCE_MS) as failed:
        child.start(child_work.refuse, "The bed holds nothing.")

    assert failed.args == ["The bed holds nothing."]
    assert child.best == "something"
    assert not child.is_running


def test_the_window_stays_alive_while_the_child_burns(qtbot: QtBot) -> None:
    child = Child()
    pid = burning(qtbot, child)
    turns: list[float] = []
    timer = QTimer()
    timer.timeout.connect(lambda: turns.append(time.monotonic()))
    timer.start(10)

    qtbot.wait(1000)
    child.cancel()

    pauses = [later - sooner for sooner, later in pairwise(turns)]
    assert len(turns) > 30
    assert max(pauses) < 0.25
    assert not is_there(pid)


def test_starting_anew_ends_the_work_before(qtbot: QtBot) -> None:
    child = Child()
    pid = burning(qtbot, child)

    with qtbot.waitSignal(child.done, timeout=PATIENCE_MS) as done:
        child.start(child_work.count_up, 0)

    assert done.args == [0]
    assert not is_there(pid)


def test_cancelling_from_within_news_is_the_end_of_it(qtbot: QtBot) -> None:
    child = Child()
    told: list[int] = []
    child.progress.connect(told.append)
    child.progress.connect(lambda _: child.cancel())

    with qtbot.waitSignal(child.progress, timeout=PATIENCE_MS):
        child.start(child_work.count_up, 1000)
    qtbot.wait(100)

    assert told == [0]
    assert not child.is_running


def test_the_work_ends_with_the_widget_it_belongs_to(qtbot: QtBot) -> None:
    window = QWidget()
    pid = burning(qtbot, Child(window))

    shiboken6.delete(window)

    assert not is_there(pid)


def test_closing_the_window_in_the_middle_of_work_leaves_no_process(tmp_path: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        cwd=ROOT,
        env=at_home_in(tmp_path),
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )

    assert ended.returncode == 0, ended.stderr
    assert goes_within(int(ended.stdout), 1)
    assert ended.stderr == ""
