"""Work beside the window: only what was asked for last is heard."""

import threading

import pytest
from pytestqt.qtbot import QtBot

from geometry.errors import GeometryError
from layout_gui.panels.background import Background, IsWanted


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Signals from a worker need a running Qt."""


def test_the_result_comes_back_into_the_window_s_thread(qtbot: QtBot) -> None:
    background = Background()
    threads: list[int] = []
    background.done.connect(lambda _result: threads.append(threading.get_ident()))

    with qtbot.waitSignal(background.done) as heard:
        background.ask(lambda _is_wanted: threading.get_ident())

    assert heard.args is not None
    assert heard.args[0] != threading.get_ident()
    assert threads == [threading.get_ident()]
    assert not background.is_busy


def test_what_was_asked_before_is_dropped(qtbot: QtBot) -> None:
    background = Background()
    gate, results = threading.Event(), []
    background.done.connect(results.append)
    background.ask(lambda _is_wanted: gate.wait(10) and "old")

    with qtbot.waitSignal(background.done):
        background.ask(lambda _is_wanted: "new")
        gate.set()

    assert results == ["new"]


def test_running_work_learns_that_nobody_wants_it(qtbot: QtBot) -> None:
    background = Background()
    begun, answers = threading.Event(), []
    stopped = threading.Event()

    def work(is_wanted: IsWanted) -> None:
        answers.append(is_wanted())
        begun.set()
        while is_wanted():
            pass
        stopped.set()

    background.ask(work)
    assert begun.wait(10)
    background.forget()

    assert stopped.wait(10)
    assert answers == [True]
    assert not background.is_busy


def test_an_error_is_told(qtbot: QtBot) -> None:
    background = Background()

    def work(_is_wanted: IsWanted) -> None:
        raise GeometryError("There is no room.")

    with qtbot.waitSignal(background.failed) as heard:
        background.ask(work)

    assert heard.args is not None
    assert str(heard.args[0]) == "There is no room."
    assert not background.is_busy
