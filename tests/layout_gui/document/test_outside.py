"""What another program does to the open file is heard when it matters, and only then."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.document.document import Document
from layout_gui.document.files import write_project
from layout_gui.document.outside import News, Outside
from layout_gui.project import edits
from tests.layout_gui.panels.desk import make_project


class Desk:
    """A document on a real file, and what is heard about it."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / "bench.raft.json"
        write_project(self.path, make_project())
        self.document = Document(patience_s=10)
        self.outside = Outside(self.document, settle_s=0.03, parent=self.document)
        self.heard: list[News] = []
        self.outside.heard.connect(self.heard.append)
        assert self.document.open(self.path)

    def kinds(self) -> list[str]:
        return [news.kind for news in self.heard]


@pytest.fixture
def desk(qapp: object, tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path)
    yield made
    made.document.deleteLater()


def _rewrite(path: Path) -> None:
    path.write_text(path.read_text().replace("Bench test", "Theirs"))


def _replace(path: Path) -> None:
    write_project(path, make_project(name="Theirs"))


@pytest.mark.parametrize("change", [_rewrite, _replace])
def test_another_project_in_the_file_is_heard(
    qtbot: QtBot, desk: Desk, change: Callable[[Path], None]
) -> None:
    change(desk.path)

    qtbot.waitUntil(lambda: desk.kinds() == ["changed"])

    assert desk.heard[0].project == make_project(name="Theirs")
    change(desk.path)  # the watch is on the new file too
    write_project(desk.path, make_project(name="Theirs again"))
    qtbot.waitUntil(lambda: desk.heard[-1].project == make_project(name="Theirs again"))


def _touch(path: Path) -> None:
    os.utime(path, (1, 1))


def _reformat(path: Path) -> None:
    path.write_text(path.read_text().replace("\n", "\n "))


def _replace_by_itself(path: Path) -> None:
    copy = path.with_name("copy")
    copy.write_bytes(path.read_bytes())
    copy.replace(path)


@pytest.mark.parametrize("change", [_touch, _reformat, _replace_by_itself])
def test_what_means_the_same_is_no_news(
    qtbot: QtBot, desk: Desk, change: Callable[[Path], None]
) -> None:
    with qtbot.waitSignal(desk.outside.looked):
        change(desk.path)

    assert desk.heard == []
    _rewrite(desk.path)
    qtbot.waitUntil(lambda: desk.kinds() == ["changed"])


def test_own_saves_are_no_news(qtbot: QtBot, desk: Desk) -> None:
    for name in ("one", "two", "three"):
        desk.document.apply("Rename", edits.rename_project(desk.document.project, name))
        with qtbot.waitSignal(desk.outside.looked):
            assert desk.document.save()

    assert desk.heard == []
    assert desk.outside.look_now() is None


def test_a_file_that_is_gone_is_heard_once_and_so_is_its_return(qtbot: QtBot, desk: Desk) -> None:
    away = desk.path.with_name("away")
    desk.path.rename(away)
    qtbot.waitUntil(lambda: desk.kinds() == ["gone"])
    with qtbot.waitSignal(desk.outside.looked):
        (desk.path.parent / "something else").touch()
    assert desk.kinds() == ["gone"]

    away.rename(desk.path)

    qtbot.waitUntil(lambda: desk.kinds() == ["gone", "same"])


def test_a_file_that_is_no_project_any_more_is_heard(qtbot: QtBot, desk: Desk) -> None:
    desk.path.write_text("{")

    qtbot.waitUntil(lambda: desk.kinds() == ["broken"])
    news = desk.outside.look_now()
    assert news is not None
    assert news.kind == "broken"


def test_a_save_looks_first_even_before_the_news_is_out(desk: Desk) -> None:
    _replace(desk.path)

    news = desk.outside.look_now()

    assert news is not None
    assert news.project == make_project(name="Theirs")
    desk.outside.settle(news)
    assert desk.outside.look_now() is None


def test_what_was_settled_is_not_heard_again(qtbot: QtBot, desk: Desk) -> None:
    _replace(desk.path)
    qtbot.waitUntil(lambda: desk.kinds() == ["changed"])
    desk.outside.settle(desk.heard[0])

    with qtbot.waitSignal(desk.outside.looked):
        _touch(desk.path)

    assert desk.kinds() == ["changed"]


def test_what_is_taken_in_is_an_undo_step_and_saved(qtbot: QtBot, desk: Desk) -> None:
    mine = edits.rename_project(desk.document.project, "Mine")
    desk.document.apply("Rename", mine)
    _replace(desk.path)
    qtbot.waitUntil(lambda: desk.kinds() == ["changed"])
    theirs = desk.heard[0].project
    assert theirs is not None
    desk.outside.settle(desk.heard[0])

    desk.document.take_in("Read again", theirs)

    assert desk.document.project == theirs
    assert not desk.document.is_modified
    desk.document.undo_stack.undo()
    assert desk.document.project is mine
    assert desk.document.is_modified


def test_a_project_without_a_file_is_not_watched(qtbot: QtBot, desk: Desk) -> None:
    desk.document.start(Project("new"))
    _replace(desk.path)
    other = desk.path.with_name("other.raft.json")
    write_project(other, make_project())
    assert desk.document.open(other)
    _rewrite(other)

    qtbot.waitUntil(lambda: desk.kinds() == ["changed"])
    assert desk.heard[0].path == other
    desk.document.start(Project("new"))
    assert desk.outside.look_now() is None
