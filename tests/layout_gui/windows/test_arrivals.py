"""Whatever is dropped is opened, or it is said why not and how to go on."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtWidgets import QApplication

from geometry.model.project import Project
from layout_gui.document.document import Document
from layout_gui.document.files import write_project
from layout_gui.panels.notice import Notice
from layout_gui.windows.arrivals import Arrivals
from layout_gui.windows.files import Files
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import Answers, make_settings

pytestmark = OFFSCREEN


class Desk:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.document = Document(patience_s=10)
        self.asks = Answers()
        self.files = Files(
            self.document, self.asks, make_settings(folder), self.document, state=folder / "state"
        )
        self.notice = Notice()
        self.windows: list[Path | None] = []
        self.arrivals = Arrivals(
            self.files, self.notice, self.document, open_window=self.windows.append
        )
        self.document.failed.connect(self.notice.say)
        self.files.ways_on.connect(self.notice.offer)

    def project(self, name: str) -> Path:
        path = self.folder / f"{name}.raft.json"
        write_project(path, make_project(name=name))
        return path

    def drop(self, *paths: Path | str) -> str:
        data = QMimeData()
        data.setUrls(
            [QUrl.fromLocalFile(str(p)) if isinstance(p, Path) else QUrl(p) for p in paths]
        )
        self.notice.say("")
        self.arrivals.take_dropped(data)
        return self.notice.text.text().removeprefix("!  ")


@pytest.fixture
def desk(qapp: QApplication, tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path)
    yield made
    made.files.release()
    made.notice.deleteLater()
    made.document.deleteLater()


def test_one_project_is_opened(desk: Desk) -> None:
    assert desk.drop(desk.project("bench")) == ""
    assert desk.document.project.name == "bench"


def test_changes_are_asked_about_first(desk: Desk) -> None:
    desk.document.start(make_project(name="Mine"), modified=True)

    desk.drop(desk.project("bench"))
    assert desk.asks.asked == ["unsaved Mine"]
    assert desk.document.project.name == "Mine"

    desk.asks.unsaved_answer = "discard"
    desk.drop(desk.project("bench"))
    assert desk.document.project.name == "bench"


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("pond.PNG", "“pond.PNG” is a picture"),
        ("template.pdf", "can be written, not read"),
        ("letter.odt", "“letter.odt” is no project"),
    ],
)
def test_other_files_are_named_with_a_way_on(desk: Desk, name: str, words: str) -> None:
    assert words in desk.drop(desk.folder / name)

    desk.asks.path = desk.project("bench")
    desk.notice.buttons["Open a project…"].click()
    assert desk.document.project.name == "bench"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ({"hello": 1}, "/format: is missing"),
        ({"format": "raftwright", "version": 99}, "made by a newer program"),
        ("[", "is not JSON"),
        ("\0\1", "is not"),
    ],
)
def test_a_json_file_that_is_no_project_is_named_with_a_way_on(
    desk: Desk, content: object, words: str
) -> None:
    path = desk.folder / "x.json"
    path.write_text(content if isinstance(content, str) else json.dumps(content))

    assert words in desk.drop(path)

    assert desk.document.project == Project("")
    assert list(desk.notice.buttons) == ["Open another…"]


def test_a_folder_can_be_looked_into(desk: Desk) -> None:
    assert "is a folder" in desk.drop(desk.folder)

    desk.notice.buttons["Look into it…"].click()

    assert desk.asks.asked == [f"open {desk.folder}"]


def test_two_projects_can_be_opened_side_by_side(desk: Desk) -> None:
    one, two = desk.project("one"), desk.project("two")
    assert desk.drop(one, two) == "These are 2 projects, and a window holds one."
    assert desk.document.project == Project("")

    desk.notice.buttons["Open each in its own window"].click()

    assert desk.document.project.name == "one"
    assert desk.windows == [two]
    desk.drop(two, one)
    desk.notice.buttons["Open two.raft.json here"].click()
    assert desk.document.project.name == "two"


def test_the_one_project_among_other_files_is_offered(desk: Desk) -> None:
    one = desk.project("one")

    assert desk.drop(desk.folder / "pond.png", one) == "One of these files is a project."
    assert list(desk.notice.buttons) == ["Open one.raft.json here"]
    assert "None of these 2 files" in desk.drop(desk.folder / "a.png", desk.folder / "b.png")


def test_what_is_not_on_this_machine_is_told(desk: Desk) -> None:
    assert "on this machine" in desk.drop("https://example.org/bench.raft.json")


def test_the_version_kept_beside_a_file_is_opened_as_a_new_project(desk: Desk) -> None:
    path = desk.project("bench")
    path.rename(desk.folder / "bench.raft.json~")

    desk.drop(desk.folder / "bench.raft.json~")

    assert desk.document.project.name == "bench"
    assert desk.document.path is None


def test_further_files_get_windows_of_their_own(desk: Desk) -> None:
    desk.arrivals.open_others([Path("a"), Path("b")])
    desk.arrivals.open_fresh()

    assert desk.windows == [Path("a"), Path("b"), None]
