"""Work in a process of its own, without Qt."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from layout_gui.child_process import ChildProcess, News
from tests.layout_gui import child_work
from tests.layout_gui.processes import goes_within, is_there

pytestmark = pytest.mark.usefixtures("fresh_children")

ROOT = Path(__file__).parents[2]
PATIENCE_S = 20
PARENT = """
import signal, sys, time
from layout_gui.child_process import ChildProcess
from tests.layout_gui.child_work import burn_for_ever
signal.signal(signal.SIGINT, signal.default_int_handler)  # even where the tests run without it
child = ChildProcess(burn_for_ever)
print(next(child.news(20))[1], flush=True)
time.sleep(60)
"""


def all_news(child: ChildProcess) -> list[News]:
    heard: list[News] = []
    while not heard or heard[-1][0] == "told":
        fresh = list(child.news(PATIENCE_S))
        assert fresh, "no news came"
        heard += fresh
    return heard


def test_news_come_in_their_order_and_the_result_is_the_last() -> None:
    heard = all_news(ChildProcess(child_work.count_up, 3))

    assert heard == [("told", 0), ("told", 1), ("told", 2), ("done", 3)]


def test_a_refusal_is_told_as_its_sentence() -> None:
    heard = all_news(ChildProcess(child_work.refuse, "The bed holds nothing."))

    assert heard == [("told", "something"), ("failed", "The bed holds nothing.")]


def test_too_little_memory_is_told() -> None:
    (heard,) = all_news(ChildProcess(child_work.eat_all_memory))

    assert heard[0] == "failed"
    assert "memory" in heard[1]


def test_a_process_that_falls_over_leaves_what_it_told_and_a_sentence() -> None:
    *told, last = all_news(ChildProcess(child_work.fall_over))

    assert told == [("told", "half of it")]
    assert last[0] == "failed"
    assert "code 3" in last[1]


def test_the_child_loads_neither_qt_nor_what_it_does_not_need() -> None:
    (heard,) = all_news(ChildProcess(child_work.loaded_modules))

    assert not {"PySide6", "pydantic", "reportlab", "scipy", "pytest"} & set(heard[1])


@pytest.mark.parametrize("work", [child_work.burn_for_ever, child_work.sleep_deaf])
def test_stopping_ends_the_process_within_half_a_second(work: child_work.Work) -> None:
    child = ChildProcess(work)
    ((_, pid),) = child.news(PATIENCE_S)
    assert is_there(pid)

    begun = time.monotonic()
    child.stop()

    assert time.monotonic() - begun < 0.5
    assert not is_there(pid)
    assert list(child.news()) == []
    child.stop()


def test_the_process_ends_with_the_work() -> None:
    child = ChildProcess(child_work.count_up, 1)
    all_news(child)

    assert list(child.news(0.1)) == []


@pytest.mark.skipif(sys.platform == "win32", reason="signals are POSIX's")
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_the_child_ends_with_its_parent_however_that_ends(how: signal.Signals) -> None:
    parent = subprocess.Popen(
        [sys.executable, "-c", PARENT],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    assert parent.stdout is not None
    pid = int(parent.stdout.readline())
    assert is_there(pid)

    os.kill(parent.pid, how)
    parent.communicate(timeout=PATIENCE_S)

    assert goes_within(pid, 2)
