"""Files are read and written beside the window when that takes long, in order, never given up."""

import subprocess
import sys
import threading
from collections.abc import Iterator
from concurrent.futures import Future
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.document.document import Document
from layout_gui.document.errands import Errands
from tests.layout_gui.panels.desk import make_project


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Signals need a running Qt."""


class Disk:
    """A disk that holds everything up until it is let go."""

    def __init__(self) -> None:
        self.go_on = threading.Event()
        self.written: list[tuple[Path, Project]] = []
        self.refusal: OSError | None = None

    def read(self, path: Path) -> Project:
        self.go_on.wait(20)
        return make_project(name=path.name)

    def write(self, path: Path, project: Project) -> None:
        self.go_on.wait(20)
        if self.refusal is not None:
            raise self.refusal
        self.written.append((path, project))


@pytest.fixture
def disk() -> Iterator[Disk]:
    made = Disk()
    yield made
    made.go_on.set()


@pytest.fixture
def document(disk: Disk) -> Iterator[Document]:
    made = Document(read=disk.read, write=disk.write, patience_s=0.01)
    yield made
    made.deleteLater()


PATH = Path("/disk/x.raft.json")


def test_quick_work_is_done_at_once() -> None:
    errands = Errands(patience_s=10)
    results: list[int] = []

    errands.run(lambda: 7, lambda done: results.append(done.result()))

    assert results == [7]
    assert not errands.is_busy


def test_slow_work_comes_back_in_order(qtbot: QtBot) -> None:
    errands = Errands(patience_s=0.01)
    go_on = threading.Event()
    results: list[object] = []

    def take(done: Future[Any]) -> None:
        results.append(done.exception() or done.result())

    errands.run(lambda: go_on.wait(20), take)
    errands.run(lambda: 1 // 0, take)
    errands.run(lambda: 3, take)
    assert results == []
    assert errands.is_busy
    go_on.set()

    qtbot.waitUntil(lambda: len(results) == 3)
    assert results[0] is True
    assert isinstance(results[1], ZeroDivisionError)
    assert results[2] == 3
    assert not errands.is_busy


def test_a_slow_save_leaves_the_window_alive_and_ends_clean(
    qtbot: QtBot, disk: Disk, document: Document
) -> None:
    document.start(make_project(), modified=True)
    told: list[bool] = []

    document.save_then(PATH, told.append)

    assert told == []
    assert document.is_at_the_disk
    assert document.is_modified
    disk.go_on.set()
    qtbot.waitUntil(lambda: told == [True])
    assert document.path == PATH
    assert not document.is_modified
    assert disk.written == [(PATH, make_project())]


def test_what_is_changed_during_a_save_is_unsaved(
    qtbot: QtBot, disk: Disk, document: Document
) -> None:
    document.start(make_project(), modified=True)
    document.save_then(PATH, lambda _ok: None)
    later = make_project(name="Later")
    document.apply("Rename", later)
    disk.go_on.set()

    qtbot.waitUntil(lambda: document.path == PATH)
    assert document.is_modified
    assert document.saved == make_project()
    document.undo_stack.undo()
    assert document.is_modified  # the steps do not know where the file was written


def test_a_slow_save_that_fails_says_so(qtbot: QtBot, disk: Disk, document: Document) -> None:
    document.start(make_project(), modified=True)
    disk.refusal = OSError("The disk is full.")
    failures: list[str] = []
    told: list[bool] = []
    document.failed.connect(failures.append)
    document.save_then(PATH, told.append)
    disk.go_on.set()

    qtbot.waitUntil(lambda: told == [False])
    assert failures == ["The disk is full."]
    assert document.is_modified
    assert document.path is None


def test_a_save_of_a_project_that_was_replaced_is_written_and_changes_nothing_else(
    qtbot: QtBot, disk: Disk, document: Document
) -> None:
    document.start(make_project(), modified=True)
    document.save_then(PATH, lambda _ok: None)
    document.start(Project("another"), modified=True)
    disk.go_on.set()

    qtbot.waitUntil(lambda: disk.written == [(PATH, make_project())])
    qtbot.waitUntil(lambda: not document.is_at_the_disk)
    assert document.path is None
    assert document.is_modified


def test_what_waits_for_the_disk_is_done_after_it(
    qtbot: QtBot, disk: Disk, document: Document
) -> None:
    done: list[str] = []
    document.when_settled(lambda: done.append("at once"))
    document.read_then(PATH, lambda project: done.append(project.name if project else ""))
    document.when_settled(lambda: done.append("after"))
    assert done == ["at once"]
    disk.go_on.set()

    qtbot.waitUntil(lambda: done == ["at once", "x.raft.json", "after"])


ENDING = """
import sys, time
from pathlib import Path
from PySide6.QtCore import QCoreApplication
from layout_gui.document.document import Document
from layout_gui.document.files import read_project, write_project
app = QCoreApplication([])
def slowly(path, project):
    time.sleep(0.5)
    write_project(path, project)
document = Document(write=slowly, patience_s=0.01)
document.start(read_project(Path(sys.argv[1])), modified=True)
document.save_then(Path(sys.argv[2]), print)
print(document.is_at_the_disk)
"""


def test_a_program_that_ends_finishes_its_save(tmp_path: Path) -> None:
    sample = Path(__file__).parents[3] / "sample_projects" / "school-bench.raft.json"
    target = tmp_path / "x.raft.json"
    done = subprocess.run(
        [sys.executable, "-c", ENDING, sample, target], capture_output=True, text=True, check=True
    )
    assert done.stdout == "True\n"
    assert target.exists()
