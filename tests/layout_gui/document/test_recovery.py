"""Unsaved work outlives the program; what a running program keeps is nobody else's."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.document.autosave import Autosave
from layout_gui.document.document import Document
from layout_gui.document.files import write_project
from layout_gui.document.recovery import Slot, left_over, what_differs
from layout_gui.project import edits
from layout_gui.project.recovery_file import Head, read_head, read_work
from tests.layout_gui.panels.desk import make_document, make_project

HEAD = Head("x", "Bench", "", 1_700_000_000, "0.1.0")


@pytest.fixture(autouse=True)
def _application(qapp: object) -> None:
    """Timers need a running Qt."""


@pytest.fixture
def document() -> Iterator[Document]:
    made = make_document(make_project(), files={})
    yield made
    made.deleteLater()


def change(document: Document, name: str) -> Project:
    project = edits.rename_project(document.project, name)
    document.apply("Rename", project)
    return project


def make_autosave(
    document: Document, folder: Path, *, quiet_s: float = 0.02, latest_s: float = 60
) -> Autosave:
    return Autosave(document, folder, quiet_s=quiet_s, latest_s=latest_s, parent=document)


def kept(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.recovery"))


def test_a_change_is_kept_soon_after_the_last_one(
    qtbot: QtBot, document: Document, tmp_path: Path
) -> None:
    autosave = make_autosave(document, tmp_path)
    change(document, "first")
    second = change(document, "second")

    qtbot.waitUntil(autosave.file.exists)

    assert read_work(autosave.file) == second
    head = read_head(autosave.file)
    assert head is not None
    assert (head.name, head.path) == ("second", "")
    third = change(document, "third")
    qtbot.waitUntil(lambda: read_work(autosave.file) == third)
    assert len(kept(tmp_path)) == 1


def test_changes_that_never_pause_are_kept_all_the_same(
    qtbot: QtBot, document: Document, tmp_path: Path
) -> None:
    autosave = make_autosave(document, tmp_path, quiet_s=1000, latest_s=0.05)
    change(document, "on and on")

    qtbot.waitUntil(autosave.file.exists)


def test_without_changes_nothing_is_to_be_written(document: Document, tmp_path: Path) -> None:
    autosave = make_autosave(document, tmp_path)

    document.preview(edits.rename_project(document.project, "only tried"))
    assert not autosave.is_waiting

    change(document, "changed")
    assert autosave.is_waiting


@pytest.mark.parametrize("way", ["save", "undo", "start", "finish"])
def test_the_file_goes_with_the_need_for_it(
    qtbot: QtBot, document: Document, tmp_path: Path, way: str
) -> None:
    autosave = make_autosave(document, tmp_path)
    change(document, "changed")
    qtbot.waitUntil(lambda: len(kept(tmp_path)) == 1)

    match way:
        case "save":
            document.save(Path("/disk/x.raft.json"))
        case "undo":
            document.undo_stack.undo()
        case "start":
            document.start(Project("another"))
        case _:
            autosave.finish()

    qtbot.waitUntil(lambda: list(tmp_path.iterdir()) == [])


def test_a_save_that_fails_keeps_the_file(qtbot: QtBot, document: Document, tmp_path: Path) -> None:
    autosave = make_autosave(document, tmp_path)
    changed = change(document, "changed")
    qtbot.waitUntil(autosave.file.exists)

    assert not document.save(Path("/locked/x.raft.json"))
    assert autosave.write_now() == autosave.file  # what was asked of the worker before is done

    assert read_work(autosave.file) == changed


def test_a_project_that_was_never_saved_is_kept_from_the_start(
    qtbot: QtBot, document: Document, tmp_path: Path
) -> None:
    autosave = make_autosave(document, tmp_path)

    document.start(make_project(name="guide"), modified=True)

    qtbot.waitUntil(autosave.file.exists)
    assert read_work(autosave.file).name == "guide"


def test_trouble_is_told_once_and_over_when_it_works_again(
    qtbot: QtBot, document: Document, tmp_path: Path
) -> None:
    folder = tmp_path / "state"
    folder.write_text("a file stands where the folder should be")
    autosave = make_autosave(document, folder)
    told: list[str] = []
    autosave.troubled.connect(told.append)

    with qtbot.waitSignal(autosave.troubled):
        change(document, "first")
    change(document, "second")
    assert autosave.write_now() is None
    assert told == ["something else stands in its place"]
    folder.unlink()
    third = change(document, "third")

    qtbot.waitUntil(lambda: told[1:] == [""])
    assert read_work(autosave.file) == third


def test_after_trouble_a_save_still_takes_the_older_file_away(
    qtbot: QtBot, document: Document, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    autosave = make_autosave(document, tmp_path)
    change(document, "first")
    qtbot.waitUntil(autosave.file.exists)

    def refuse(*_given: object) -> None:
        raise OSError(28, "full")

    monkeypatch.setattr(Slot, "write", refuse)
    with qtbot.waitSignal(autosave.troubled):
        change(document, "second")
    document.save(Path("/disk/x.raft.json"))

    qtbot.waitUntil(lambda: list(tmp_path.iterdir()) == [])


def test_work_can_be_kept_at_once(document: Document, tmp_path: Path) -> None:
    autosave = make_autosave(document, tmp_path, quiet_s=1000)
    assert autosave.write_now() is None

    changed = change(document, "at once")

    kept_in = autosave.write_now()
    assert kept_in is not None
    assert read_work(kept_in) == changed


def test_the_work_of_a_running_program_is_not_left_over(tmp_path: Path) -> None:
    slot = Slot(tmp_path)
    slot.write(HEAD, make_project())

    assert left_over(tmp_path) == ()
    assert left_over(tmp_path / "nowhere") == ()

    assert slot.lock is not None
    slot.lock.unlock()  # as if the program had ended
    (left,) = left_over(tmp_path)
    assert left.head == HEAD
    assert left.path is None
    assert left.read() == make_project()


def test_left_over_work_is_taken_over_by_one_only(tmp_path: Path) -> None:
    slot = Slot(tmp_path)
    slot.write(HEAD, make_project())
    assert slot.lock is not None
    slot.lock.unlock()
    (left,) = left_over(tmp_path)

    claimed = left.claim()

    assert claimed is not None
    assert left.claim() is None
    assert not left.throw_away()
    assert left.file.exists()
    claimed.drop()
    assert list(tmp_path.iterdir()) == []


def test_only_what_is_thrown_away_is_gone(tmp_path: Path) -> None:
    for name in ("one", "two"):
        slot = Slot(tmp_path, name)
        slot.write(HEAD, make_project(name=name))
        assert slot.lock is not None
        slot.lock.unlock()
    (tmp_path / "broken.recovery").write_text("nonsense")
    assert len(left_over(tmp_path)) == 3

    found = {left.file.stem: left for left in left_over(tmp_path)}
    assert found["one"].throw_away()

    assert {left.file.stem for left in left_over(tmp_path)} == {"two", "broken"}
    with pytest.raises(ValueError, match="broken"):
        what_differs(found["broken"])


def test_what_differs_is_told_against_the_saved_file(tmp_path: Path) -> None:
    saved = tmp_path / "bench.raft.json"
    write_project(saved, make_project())
    slot = Slot(tmp_path)
    slot.write(Head("x", "", str(saved), 0, ""), make_project(name="Newer"))
    assert slot.lock is not None
    slot.lock.unlock()
    (left,) = left_over(tmp_path)

    assert what_differs(left) == ("the name: “Bench test” became “Newer”",)
    saved.unlink()
    assert what_differs(left) is None


def test_adopted_work_goes_when_it_is_saved(
    qtbot: QtBot, document: Document, tmp_path: Path
) -> None:
    slot = Slot(tmp_path)
    slot.write(HEAD, make_project(name="left"))
    assert slot.lock is not None
    slot.lock.unlock()
    (left,) = left_over(tmp_path)
    claimed = left.claim()
    assert claimed is not None
    autosave = make_autosave(document, tmp_path)

    document.start(left.read(), modified=True)
    autosave.adopt(claimed)
    assert not autosave.is_waiting
    assert kept(tmp_path) == [left.file]
    changed = change(document, "gone on with")
    qtbot.waitUntil(lambda: read_work(left.file) == changed)
    document.save(Path("/disk/x.raft.json"))

    qtbot.waitUntil(lambda: list(tmp_path.iterdir()) == [])


KEEPER = """
import sys, time
from dataclasses import replace
from pathlib import Path
from layout_gui.document.recovery import Slot
from layout_gui.project.file import load
from layout_gui.project.recovery_file import Head
project = load(Path(sys.argv[1]))
slot = Slot(Path(sys.argv[2]), "x")
for number in range(10**9):
    slot.write(Head("x", "", sys.argv[1], time.time(), "1"), replace(project, name=str(number)))
    print(number, flush=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such kill there")
def test_a_kill_while_work_is_kept_leaves_the_newest_whole_version(tmp_path: Path) -> None:
    saved, state = tmp_path / "bench.raft.json", tmp_path / "state"
    write_project(saved, make_project())
    before = saved.read_bytes()
    with subprocess.Popen(
        [sys.executable, "-c", KEEPER, saved, state], stdout=subprocess.PIPE, text=True
    ) as keeper:
        assert keeper.stdout is not None
        for _ in range(5):
            keeper.stdout.readline()
        assert left_over(state) == ()
        keeper.kill()
        told = [line for line in keeper.stdout if line.endswith("\n")]

    (left,) = left_over(state)
    work = left.read()
    assert work.beds == make_project().beds
    assert int(work.name) >= int(told[-1] if told else 4)
    assert saved.read_bytes() == before


@pytest.mark.skipif(sys.platform != "linux", reason="a disk in memory is Linux")
def test_a_full_disk_is_named_and_costs_nothing(
    qtbot: QtBot, document: Document, tmp_path: Path, small_disk: Path
) -> None:
    path = small_disk / "bench.raft.json"
    real = Document(parent=document)
    real.start(make_project(name="small"), modified=True)
    assert real.save(path)
    before = path.read_bytes()
    (small_disk / "ballast").write_bytes(bytes(64 * 1024 - len(before) // 4096 * 4096 - 4096))
    failures: list[str] = []
    real.failed.connect(failures.append)
    change(real, "larger")

    assert not real.save()

    assert "the disk is full" in failures[0]
    assert path.read_bytes() == before
    assert real.is_modified
    assert not [each for each in small_disk.iterdir() if each.name.endswith(".part")]
    autosave = make_autosave(real, small_disk / "recovery")
    with qtbot.waitSignal(autosave.troubled):
        change(real, "larger still")
    (small_disk / "ballast").unlink()
    assert real.save()
