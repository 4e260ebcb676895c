"""A file that is open in one program is held, and says by whom; a dead program holds nothing."""

import getpass
import platform
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QLockFile

from layout_gui.document import file_lock
from layout_gui.document.file_lock import FileLock, Holder, never_stale

HOLDER = """
import sys
from pathlib import Path
from layout_gui.document.file_lock import FileLock
lock = FileLock(Path(sys.argv[1]), Path(sys.argv[2]))
print(lock.holder, flush=True)
sys.stdin.read()
"""


def test_a_file_is_held_until_it_is_let_go(tmp_path: Path) -> None:
    path, state = tmp_path / "bench.raft.json", tmp_path / "state"
    path.touch()
    first = FileLock(path, state)
    assert first.holder is None

    second = FileLock(path, state)

    assert second.holder is not None
    assert second.holder.is_me
    second.release()
    assert FileLock(path, state).holder is not None
    first.release()
    assert FileLock(path, state).holder is None


def test_a_link_to_a_file_is_the_file(tmp_path: Path) -> None:
    path = tmp_path / "bench.raft.json"
    path.touch()
    link = tmp_path / "link.raft.json"
    link.symlink_to(path)
    lock = FileLock(path, tmp_path)

    assert lock.is_for(link)
    assert FileLock(link, tmp_path).holder is not None


def test_a_folder_that_may_not_be_written_has_its_locks_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, state = tmp_path / "locked" / "bench.raft.json", tmp_path / "state"

    def refuse(place: Path) -> QLockFile:
        # The tests may run as a user who may write everywhere.
        return never_stale(Path("/nowhere/x") if place.parent == path.parent else place)

    monkeypatch.setattr(file_lock, "never_stale", refuse)

    first, second = FileLock(path, state), FileLock(path, state)

    assert first.holder is None
    assert second.holder is not None
    assert [each.suffix for each in (state / "locks").iterdir()] == [".lock"]


def test_without_any_place_for_a_lock_the_file_can_still_be_used(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.touch()

    assert FileLock(blocked / "x.raft.json", blocked / "state").holder is None


def test_a_program_that_was_killed_holds_nothing(tmp_path: Path) -> None:
    path, state = tmp_path / "bench.raft.json", tmp_path / "state"
    path.touch()
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, path, state],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "None\n"
        found = FileLock(path, state).holder
        assert found is not None
        assert found.machine == platform.node()
        assert found.user == getpass.getuser()
        holder.kill()

    assert FileLock(path, state).holder is None


def test_another_person_or_machine_is_not_me() -> None:
    assert not Holder("somebody else", platform.node()).is_me
    assert not Holder(getpass.getuser(), "far away").is_me
