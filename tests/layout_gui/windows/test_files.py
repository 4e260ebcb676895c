"""New, open, save and revert throw nothing away without asking."""

import errno
import os
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from geometry.model.log import Note
from geometry.model.project import Project
from layout_gui import renaming
from layout_gui.document.document import Document
from layout_gui.document.file_lock import FileLock
from layout_gui.document.files import read_project, write_project
from layout_gui.project import edits
from layout_gui.project.edits_log import add_entries
from layout_gui.windows.files import Files, ready_beds, sample_files
from layout_gui.windows.settings import Settings
from tests.layout_gui.panels.desk import make_document, make_project
from tests.layout_gui.windows.open_window import Answers


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Signals need a running Qt."""


class Desk:
    """A document with an imaginary disk."""

    def __init__(self, tmp_path: Path) -> None:
        self.bench = tmp_path / "bench.raft.json"
        self.disk: dict[Path, Project] = {self.bench: make_project()}
        self.document: Document = make_document(files=self.disk)
        self.asks = Answers()
        self.settings = Settings(
            QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
        )
        self.files = Files(self.document, self.asks, self.settings)
        self.failures: list[str] = []
        self.document.failed.connect(self.failures.append)

    def change(self) -> Project:
        project = edits.rename_project(self.document.project, "Changed")
        self.document.apply("Rename", project)
        return project


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def test_opening_remembers_the_file_and_its_folder(desk: Desk) -> None:
    desk.asks.path = desk.bench

    desk.files.open()

    assert desk.document.project == make_project()
    assert desk.document.path == desk.bench
    assert desk.settings.recent == (desk.bench,)
    assert desk.settings.folder == desk.bench.parent


def test_a_file_that_cannot_be_read_changes_nothing(desk: Desk) -> None:
    desk.files.open_path(desk.bench)
    before = desk.document.project

    desk.files.open_path(desk.bench.with_name("gone.raft.json"))

    assert desk.document.project is before
    assert desk.settings.recent == (desk.bench,)
    assert "not there" in desk.failures[0]


@pytest.mark.parametrize("answer", ["save", "discard", "cancel"])
def test_unsaved_changes_are_asked_about_first(desk: Desk, answer: str) -> None:
    desk.files.open_path(desk.bench)
    changed = desk.change()
    desk.asks.unsaved_answer = answer

    desk.files.new()

    assert desk.asks.asked == ["unsaved Changed"]
    assert (desk.document.project is changed) is (answer == "cancel")
    assert (desk.disk[desk.bench] is changed) is (answer == "save")


def test_without_changes_nothing_is_asked(desk: Desk) -> None:
    desk.files.open_path(desk.bench)

    desk.files.new()

    assert desk.asks.asked == []
    assert desk.document.project == Project("")


def test_a_first_save_asks_where_and_adds_the_ending(desk: Desk, tmp_path: Path) -> None:
    desk.document.start(make_project(name="North / bench"), modified=True)
    desk.asks.path = tmp_path / "mine"
    said: list[str] = []
    desk.files.said.connect(said.append)

    desk.files.save()

    assert desk.asks.asked == ["save North - bench.raft.json"]
    assert tmp_path / "mine.raft.json" in desk.disk
    assert not desk.document.is_modified
    assert said == ["Saved to mine.raft.json."]
    desk.change()
    desk.files.save()
    assert desk.disk[tmp_path / "mine.raft.json"].name == "Changed"
    assert len(desk.asks.asked) == 1


def test_a_save_that_fails_stops_what_was_to_follow(desk: Desk) -> None:
    desk.document.start(make_project(), modified=True)
    desk.asks.unsaved_answer, desk.asks.path = "save", Path("/locked/mine.raft.json")
    went_on: list[bool] = []

    desk.files.guarded(lambda: went_on.append(True))

    assert went_on == []
    assert desk.document.is_modified
    assert "locked" in desk.failures[0]


def test_save_as_leaves_the_old_file_as_it_was(desk: Desk, tmp_path: Path) -> None:
    desk.files.open_path(desk.bench)
    before = desk.disk[desk.bench]
    desk.change()
    desk.asks.path = tmp_path / "copy.raft.json"

    desk.files.save_as()

    assert desk.asks.asked == ["save bench.raft.json"]
    assert desk.disk[desk.bench] is before
    assert desk.document.path == tmp_path / "copy.raft.json"


def test_a_copy_says_which_notes_of_the_log_go_along(desk: Desk, tmp_path: Path) -> None:
    desk.files.open_path(desk.bench)
    noted = add_entries(desk.document.project, "notes", [Note("split at A1", "raft", "R1")])
    desk.document.apply("note", noted)
    desk.asks.path = tmp_path / "copy.raft.json"
    said: list[str] = []
    desk.files.said.connect(said.append)

    desk.files.save_as()
    assert said == ["Saved to copy.raft.json. A note goes along: R1: split at A1"]
    desk.change()
    desk.files.save()
    assert said[1:] == ["Saved to copy.raft.json."]


@pytest.mark.parametrize("agrees", [True, False])
def test_reverting_asks_and_goes_back_to_the_file(desk: Desk, *, agrees: bool) -> None:
    desk.files.revert()
    assert desk.asks.asked == []
    desk.files.open_path(desk.bench)
    desk.change()
    desk.asks.agrees = agrees

    desk.files.revert()

    assert "will be lost" in desk.asks.asked[0]
    assert (desk.document.project.name == "Bench test") is agrees
    assert desk.document.is_modified is not agrees


def test_a_sample_is_opened_as_a_project_without_a_file(desk: Desk) -> None:
    desk.files.open_sample(desk.bench)

    assert desk.document.project == make_project()
    assert desk.document.path is None
    assert desk.settings.recent == ()


def test_the_program_comes_with_samples() -> None:
    assert len(sample_files()) >= 3


def test_the_recent_list_can_be_cleared(desk: Desk) -> None:
    desk.files.open_path(desk.bench)
    changed: list[bool] = []
    desk.files.recent_changed.connect(lambda: changed.append(True))

    desk.files.forget_recent()

    assert desk.settings.recent == ()
    assert changed == [True]


def test_the_name_is_the_project_s_or_the_file_s(desk: Desk) -> None:
    assert desk.files.name == "New project"
    desk.disk[desk.bench] = make_project(name="")
    desk.files.open_path(desk.bench)
    assert desk.files.name == "bench"
    desk.change()
    assert desk.files.name == "Changed"


def test_a_ready_bed_begins_a_new_project_in_the_growers_unit(desk: Desk) -> None:
    files = ready_beds()
    assert len(files) >= 4
    assert all(path.is_file() for _, path in files)
    desk.disk[files[0][1]] = make_project()

    desk.files.open_ready(files[0][1], "in")

    assert desk.document.path is None
    assert desk.document.project == edits.set_units(make_project(), "in")
    assert desk.settings.recent == ()


class RealDesk(Desk):
    """The same on a real disk."""

    def __init__(self, tmp_path: Path) -> None:
        super().__init__(tmp_path)
        write_project(self.bench, make_project())
        self.document = Document(patience_s=10)
        self.state = tmp_path / "state"
        self.files = self.window()
        self.document.failed.connect(self.failures.append)
        self.said: list[str] = []
        self.files.said.connect(self.said.append)
        self.ways: dict[str, Callable[[], object]] = {}
        self.files.ways_on.connect(self.ways.update)

    def window(self) -> Files:
        return Files(self.document, self.asks, self.settings, state=self.state)

    def is_held(self) -> bool:
        lock = FileLock(self.bench, self.state)
        lock.release()
        return lock.holder is not None


@pytest.fixture
def real(tmp_path: Path) -> RealDesk:
    return RealDesk(tmp_path)


def test_an_open_file_is_held_and_let_go_with_the_next_one(real: RealDesk, tmp_path: Path) -> None:
    real.files.open_path(real.bench)
    assert real.is_held()
    real.files.revert()
    assert real.is_held()
    copy = tmp_path / "copy.raft.json"
    real.asks.path = copy

    real.files.save_as()

    assert not real.is_held()
    assert FileLock(copy, real.state).holder is not None
    real.files.new()
    assert FileLock(copy, real.state).holder is None


def test_a_sample_that_is_opened_as_it_lies_there_is_held_elsewhere(real: RealDesk) -> None:
    sample = sample_files()[0]
    before = set(sample.parent.iterdir())

    real.files.open_path(sample)

    assert set(sample.parent.iterdir()) == before
    assert FileLock(sample, real.state, is_beside=False).holder is not None
    real.files.release()


@pytest.mark.parametrize("answer", ["copy", "look", "cancel"])
def test_a_file_that_is_open_elsewhere_is_asked_about(
    real: RealDesk, tmp_path: Path, answer: str
) -> None:
    other = FileLock(real.bench, real.state)
    real.asks.choice = answer

    real.files.open_path(real.bench)

    assert "is open in another window" in real.asks.asked[0]
    assert "['look', 'cancel', 'copy']" in real.asks.asked[0]
    document = real.document
    assert (document.project == make_project()) is (answer != "cancel")
    assert document.path == (real.bench if answer == "look" else None)
    assert document.is_read_only is (answer == "look")
    other.release()


def test_a_lock_that_another_machine_has_left_can_be_taken_over(real: RealDesk) -> None:
    # As Qt writes a lock: process, program, machine.
    place = real.bench.with_name(f".{real.bench.name}.lock")
    place.write_text("4242\nraftwright\nfield-laptop\n", encoding="utf-8")
    real.asks.choice = "take"

    real.files.open_path(real.bench)

    assert "field-laptop was switched off" in real.asks.asked[0]
    assert "['take', 'look', 'cancel', 'copy']" in real.asks.asked[0]
    assert real.document.path == real.bench
    assert not real.document.is_read_only
    assert real.is_held()
    real.files.save()
    assert real.failures == []


def test_what_is_only_looked_at_is_saved_under_another_name(real: RealDesk, tmp_path: Path) -> None:
    other = FileLock(real.bench, real.state)
    real.asks.choice = "look"
    real.files.open_path(real.bench)
    real.change()
    before = real.bench.read_bytes()
    real.asks.path = real.bench

    real.files.save()

    assert "only looked at" in real.failures[0]
    assert real.bench.read_bytes() == before
    real.asks.path = tmp_path / "mine.raft.json"
    real.ways["Save elsewhere…"]()
    assert read_project(real.asks.path).name == "Changed"
    assert not real.document.is_read_only
    assert real.document.path == real.asks.path
    other.release()


def test_nobody_saves_over_a_file_that_is_open_elsewhere(real: RealDesk) -> None:
    other = FileLock(real.bench, real.state)
    real.document.start(make_project(name="Mine"), modified=True)
    real.asks.path = real.bench

    real.files.save()

    assert "is open in another window: it cannot be saved to" in real.failures[0]
    assert read_project(real.bench).name == "Bench test"
    other.release()


def test_a_file_that_may_not_be_written_is_opened_to_look_at(
    real: RealDesk, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The tests may run as a user who may write everything.
    monkeypatch.setattr(os, "access", lambda *_: False)

    real.files.open_path(real.bench)

    assert real.document.is_read_only
    assert real.said == ["bench.raft.json can only be looked at; saving asks for a place."]


def test_a_save_that_is_refused_can_go_elsewhere_or_be_tried_again(
    real: RealDesk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real.files.open_path(real.bench)
    real.change()

    def refuse(_part: Path, _target: Path) -> Path:
        raise PermissionError(errno.EACCES, "held")

    with monkeypatch.context() as patched:
        patched.setattr(renaming, "PAUSES_S", (0, 0))
        patched.setattr(Path, "replace", refuse)
        real.files.save()
    assert "cannot be saved" in real.failures[0]
    assert real.document.is_modified
    assert read_project(real.bench).name == "Bench test"
    assert real.is_held()

    real.ways["Try again"]()
    assert read_project(real.bench).name == "Changed"
    real.asks.path = tmp_path / "elsewhere.raft.json"
    real.ways["Save elsewhere…"]()
    assert read_project(real.asks.path).name == "Changed"


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("folder", "it is a folder"),
        ("x" * 260, "its name is too long"),
        ("no/where", "its folder is not there"),
    ],
)
def test_a_place_that_is_none_is_named(real: RealDesk, name: str, reason: str) -> None:
    (real.bench.parent / "folder.raft.json").mkdir()
    real.document.start(make_project(), modified=True)
    real.asks.path = real.bench.parent / f"{name}.raft.json"

    real.files.save()

    assert reason in real.failures[0]
    assert real.document.is_modified
    assert "Save elsewhere…" in real.ways


def test_the_version_from_before_the_first_save_comes_back_as_a_step(real: RealDesk) -> None:
    real.files.open_path(real.bench)
    real.files.bring_back()
    assert real.said == ["No earlier version is kept beside bench.raft.json yet"]
    for name in ("first", "second", "third"):
        real.document.apply("Rename", edits.rename_project(real.document.project, name))
        real.files.save()
    real.asks.choice = "bring"

    real.files.bring_back()

    assert "bench.raft.json~" in real.asks.asked[-1]
    assert real.document.project == make_project()
    assert real.document.is_modified
    assert read_project(real.bench).name == "third"
    real.document.undo_stack.undo()
    assert real.document.project.name == "third"
    assert not real.document.is_modified


def test_opening_again_begins_a_new_version_to_go_back_to(real: RealDesk) -> None:
    for name in ("first", "second"):
        real.files.open_path(real.bench)
        real.document.apply("Rename", edits.rename_project(real.document.project, name))
        real.files.save()

    assert read_project(real.bench.with_name("bench.raft.json~")).name == "first"


@pytest.mark.parametrize("agrees", [True, False])
def test_a_name_that_gets_its_ending_replaces_nothing_unasked(real: RealDesk, agrees: bool) -> None:
    real.document.start(make_project(name="Mine"), modified=True)
    real.asks.path, real.asks.agrees = real.bench.with_name("bench"), agrees

    real.files.save()

    assert "bench.raft.json" in real.asks.asked[-1]
    assert read_project(real.bench).name == ("Mine" if agrees else "Bench test")


def test_a_name_with_a_point_in_it_gets_its_ending_too(real: RealDesk, tmp_path: Path) -> None:
    real.document.start(make_project(), modified=True)
    real.asks.path = tmp_path / "bed 2.5"

    real.files.save()

    assert real.document.path == tmp_path / "bed 2.5.raft.json"


class SlowDesk(RealDesk):
    """The same on a disk that can be held up."""

    def __init__(self, tmp_path: Path) -> None:
        super().__init__(tmp_path)
        self.go_on = threading.Event()
        self.go_on.set()
        self.document = Document(read=self.read, write=self.write, patience_s=0.01)
        self.files = self.window()

    def read(self, path: Path) -> Project:
        self.go_on.wait(20)
        return read_project(path)

    def write(self, path: Path, project: Project) -> None:
        self.go_on.wait(20)
        write_project(path, project)


@pytest.fixture
def slow(tmp_path: Path) -> Iterator[SlowDesk]:
    made = SlowDesk(tmp_path)
    yield made
    made.go_on.set()
    made.document.deleteLater()


def test_closing_during_a_slow_save_waits_and_asks_nothing(qtbot: QtBot, slow: SlowDesk) -> None:
    slow.document.start(make_project(name="Mine"), slow.bench, modified=True)
    slow.go_on.clear()
    closed: list[bool] = []

    slow.files.save()
    slow.files.guarded(lambda: closed.append(True))

    assert closed == slow.asks.asked == []
    slow.go_on.set()
    qtbot.waitUntil(lambda: closed == [True])
    assert slow.asks.asked == []
    assert read_project(slow.bench).name == "Mine"


def test_work_done_while_a_file_is_read_is_asked_about(qtbot: QtBot, slow: SlowDesk) -> None:
    slow.go_on.clear()
    slow.files.open_path(slow.bench)
    slow.document.apply("Begin", make_project(name="Meanwhile"))
    slow.go_on.set()

    qtbot.waitUntil(lambda: slow.asks.asked == ["unsaved Meanwhile"])
    assert slow.document.project.name == "Meanwhile"


def test_of_two_files_that_are_read_the_last_one_is_opened(qtbot: QtBot, slow: SlowDesk) -> None:
    other = slow.bench.with_name("other.raft.json")
    write_project(other, make_project(name="Other"))
    slow.go_on.clear()
    slow.files.open_path(slow.bench)
    slow.files._read(other, slow.document.start)
    slow.go_on.set()

    qtbot.waitUntil(lambda: not slow.document.is_at_the_disk)
    assert slow.document.project.name == "Other"
