"""What is thrown away ends in the window's own thread."""

import gc
import threading
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from layout_gui.windows.collecting import Collector


class Ring:
    """Refers to itself, so that only the collector can end it; notes in which thread that was."""

    def __init__(self, ended: list[str]) -> None:
        self.me = self
        self._ended = ended

    def __del__(self) -> None:
        self._ended.append(threading.current_thread().name)


@pytest.fixture
def collected_by_python() -> Iterator[None]:
    gc.collect()  # nothing is due, so that the next to allocate much collects
    gc.enable()
    yield
    gc.disable()


def allocate() -> None:
    kept = [[number] for number in range(50_000)]
    del kept


def test_no_other_thread_collects(qtbot: QtBot, collected_by_python: None) -> None:
    ended: list[str] = []
    collector = Collector()
    Ring(ended)

    worker = threading.Thread(target=allocate, name="worker")
    worker.start()
    worker.join()
    assert ended == []

    kept = [[number] for number in range(50_000)]
    qtbot.waitUntil(lambda: bool(ended), timeout=5_000)
    assert ended == [threading.main_thread().name]
    assert len(kept) == 50_000
    collector.deleteLater()


def test_python_itself_would_collect_there(collected_by_python: None) -> None:
    """The reason for all this."""
    ended: list[str] = []
    Ring(ended)

    worker = threading.Thread(target=allocate, name="worker")
    worker.start()
    worker.join()

    assert ended == ["worker"]
