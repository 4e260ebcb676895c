"""New, open, save and revert throw nothing away without asking."""

from pathlib import Path

import pytest
from PySide6.QtCore import QSettings

from geometry.model.project import Project
from layout_gui.document.document import Document
from layout_gui.project import edits
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
