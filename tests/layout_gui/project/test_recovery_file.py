"""A recovery file gives the project back as it was, and says whose it is."""

import errno
import os
import stat
import sys
from pathlib import Path

import pytest
from hypothesis import given

from geometry.model.project import Project
from layout_gui import renaming
from layout_gui.project import writing
from layout_gui.project.faults import ProjectFileError
from layout_gui.project.file import loads
from layout_gui.project.recovery_file import Head, read_head, read_work, write_recovery
from tests.layout_gui.panels.desk import make_project
from tests.strategies import projects

HEAD = Head("a1", "North “bench”", "/home/me/ä\nb.raft.json", 1_700_000_000.5, "0.1.0")


@given(project=projects)
def test_what_is_written_is_read_back(
    tmp_path_factory: pytest.TempPathFactory, project: Project
) -> None:
    file = tmp_path_factory.mktemp("state") / "deeper" / "a1.recovery"

    write_recovery(file, HEAD, project)

    assert read_head(file) == HEAD
    assert read_work(file) == project


def test_below_its_first_line_it_is_a_project_file_as_it_stands(tmp_path: Path) -> None:
    write_recovery(tmp_path / "x.recovery", HEAD, make_project())

    _, rest = (tmp_path / "x.recovery").read_bytes().split(b"\n", 1)

    assert loads(rest, "x.raft.json") == make_project()


@pytest.mark.skipif(sys.platform == "win32", reason="mode bits are POSIX")
def test_only_this_person_may_read_it(tmp_path: Path) -> None:
    write_recovery(tmp_path / "x.recovery", HEAD, make_project())

    assert stat.S_IMODE((tmp_path / "x.recovery").stat().st_mode) == 0o600


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", "null", "not json", '{"recovery": "other"}', '{"recovery": "raftwright"}',
     '{"recovery": "raftwright", "id": 1, "name": "", "path": "", "time": 1, "program": ""}',
     '{"recovery": "raftwright", "id": "", "name": "", "path": "", "time": "1", "program": ""}',
     "[" * 5000],
)  # fmt: skip
def test_what_is_no_recovery_file_has_no_head_and_no_work(tmp_path: Path, text: str) -> None:
    (tmp_path / "x.recovery").write_text(text)

    assert read_head(tmp_path / "x.recovery") is None
    with pytest.raises(ProjectFileError):
        read_work(tmp_path / "x.recovery")


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
def test_a_disk_that_gives_out_leaves_the_older_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    file = tmp_path / "x.recovery"
    write_recovery(file, HEAD, make_project())

    def give_out(_handle: int) -> None:
        raise OSError(number, "gives out")

    monkeypatch.setattr(os, "fsync", give_out)
    with pytest.raises(OSError, match="gives out"):
        write_recovery(file, HEAD, Project("newer"))

    assert read_work(file) == make_project()
    assert [each.name for each in tmp_path.iterdir()] == ["x.recovery"]


@pytest.mark.parametrize("refusals", [0, 1, 2, 3])
def test_a_name_that_is_held_for_a_moment_is_tried_three_times(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refusals: int
) -> None:
    target = tmp_path / "x"
    target.write_bytes(b"old")
    left = [OSError(errno.EBUSY, "held")] * refusals
    rename = Path.replace

    def refuse(part: Path, name: Path) -> Path:
        if left:
            raise left.pop()
        return rename(part, name)

    monkeypatch.setattr(renaming, "PAUSES_S", (0, 0))
    monkeypatch.setattr(Path, "replace", refuse)
    if refusals < 3:
        writing.replace_file(target, b"new")
        assert target.read_bytes() == b"new"
    else:
        with pytest.raises(OSError, match="held"):
            writing.replace_file(target, b"new")
        assert target.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["x"]
