"""Files come together or not at all, whatever the disk has against them."""

import errno
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from geometry.plan import Plan
from layout_gui.output.export import export
from layout_gui.output.landing import HalfLandedError, Landing
from layout_gui.project.faults import access_error
from tests.builders import make_plan

TABLES = frozenset({"holes.csv", "summary.json", "bench-bed-1.svg"})


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan()


def seen(folder: Path) -> dict[str, str]:
    return {path.name: path.read_text("utf-8") for path in folder.iterdir()}


def land(out: Path, **files: str) -> tuple[Path, ...]:
    with Landing(out) as landing:
        for name, text in files.items():
            with landing.writing(name) as part:
                part.write_text(text)
        return landing.land()


def hold(monkeypatch: pytest.MonkeyPatch, *names: str, number: int = errno.EACCES) -> None:
    """Let no file take these names, as where another program has them open."""
    replace = Path.replace

    def refuse(self: Path, target: Path) -> Path:
        if target.name in names:
            raise OSError(number, os.strerror(number), str(self), None, str(target))
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", refuse)
    monkeypatch.setattr("layout_gui.renaming.PAUSES_S", (0.0, 0.0))


def sentence(out: Path, error: OSError) -> str:
    return str(access_error(error.filename or out, "written", error))


def test_files_take_the_places_of_old_ones_together(tmp_path: Path) -> None:
    (tmp_path / "b").write_text("old")

    assert land(tmp_path, a="1", b="2") == (tmp_path / "a", tmp_path / "b")
    assert seen(tmp_path) == {"a": "1", "b": "2"}


@pytest.mark.parametrize("has_links", [True, False])
def test_one_file_that_is_held_brings_all_others_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, has_links: bool
) -> None:
    old = {"a": "old a", "c": "old c"}
    for name, text in old.items():
        (tmp_path / name).write_text(text)
    if not has_links:
        monkeypatch.setattr(os, "link", _no_link)
    hold(monkeypatch, "c" if has_links else "d")

    with pytest.raises(PermissionError) as caught:
        land(tmp_path, a="1", b="2", c="3", d="4")

    assert seen(tmp_path) == old
    assert caught.value.filename == str(tmp_path / ("c" if has_links else "d"))


def _no_link(*_names: object, **_keywords: object) -> None:
    raise OSError(errno.EPERM, "no second names here")


def test_what_cannot_be_brought_back_is_told_by_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a").write_text("old a")
    replace, goes = Path.replace, iter([True])

    def once(self: Path, target: Path) -> Path:
        if not next(goes, False):
            raise OSError(errno.EIO, "the stick was pulled out", str(self))
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", once)
    with pytest.raises(HalfLandedError) as caught:
        land(tmp_path, a="1", b="2")

    assert seen(tmp_path) == {"a": "1"}
    told = sentence(tmp_path, caught.value)
    assert told.startswith(f"{tmp_path}: ")
    assert "a new, b as before" in told


def test_a_file_that_is_open_elsewhere_is_told_so(
    plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = {"summary.json": "open in a spreadsheet", "holes.csv": "older"}
    for name, text in old.items():
        (tmp_path / name).write_text(text)
    hold(monkeypatch, "summary.json")

    with pytest.raises(PermissionError) as caught:
        export(plan, tmp_path, TABLES)

    assert seen(tmp_path) == old
    told = sentence(tmp_path, caught.value)
    assert "summary.json: cannot be written: it is open in another program" in told
    assert "close it there, or choose another folder" in told


def test_a_folder_in_the_place_of_a_file_stays(plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "summary.json").mkdir()

    with pytest.raises(IsADirectoryError) as caught:
        export(plan, tmp_path, TABLES)

    assert [path.name for path in tmp_path.iterdir()] == ["summary.json"]
    assert sentence(tmp_path, caught.value).endswith("it is a folder; name a file.")


def test_a_file_in_the_place_of_the_folder_stays(plan: Plan, tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.write_text("mine")

    for folder in (out, out / "deeper"):
        with pytest.raises(OSError, match=str(out)) as caught:
            export(plan, folder, TABLES)
        assert caught.value.errno in {errno.EEXIST, errno.ENOTDIR}

    assert seen(tmp_path) == {"out": "mine"}


def test_a_name_that_is_too_long_is_told(tmp_path: Path) -> None:
    name = "x" * 300

    with pytest.raises(OSError, match=name) as caught:
        land(tmp_path, **{"a": "1", name: "2"})

    assert sentence(tmp_path, caught.value).endswith("its name is too long; choose a shorter name.")
    assert seen(tmp_path) == {}
    longest = "y" * 255
    assert land(tmp_path, **{longest: "whole"}) == (tmp_path / longest,)


def test_a_folder_that_vanishes_meanwhile_is_told(plan: Plan, tmp_path: Path) -> None:
    out = tmp_path / "stick"

    def pull_out(_share: float, name: str) -> bool:
        if name == "summary.json" and out.exists():
            for path in (*out.glob("*/*"), *out.iterdir(), out):
                path.rmdir() if path.is_dir() else path.unlink()
        return True

    with pytest.raises(FileNotFoundError) as caught:
        export(plan, out, TABLES, progress=pull_out)

    told = sentence(out, caught.value)
    assert told.endswith("its folder is not there; choose another folder.")
    assert not out.exists()


@pytest.mark.parametrize("ends", ["stopped", "failed"])
def test_folders_made_for_nothing_go_again(plan: Plan, tmp_path: Path, ends: str) -> None:
    def tell(_share: float, name: str) -> bool:
        if ends == "failed" and name == "summary.json":
            raise OSError(errno.EIO, "broken")
        return ends == "failed" or name != "summary.json"

    try:
        assert export(plan, tmp_path / "new" / "folder", TABLES, progress=tell) == ()
    except OSError as error:
        assert ends == "failed", error  # noqa: PT017 - both ends are looked at below

    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(sys.platform != "linux", reason="a disk in memory is Linux")
def test_a_full_disk_leaves_the_old_files_and_nothing_else(plan: Plan, small_disk: Path) -> None:
    old = {"holes.csv": "old", "ballast": "x" * 50_000}
    for name, text in old.items():
        (small_disk / name).write_text(text)

    with pytest.raises(OSError, match="No space") as caught:
        export(plan, small_disk, TABLES | {"template.pdf"})

    assert seen(small_disk) == old
    assert sentence(small_disk, caught.value).endswith(
        "the disk is full; make room or choose another disk."
    )


@pytest.fixture
def locked_disk(small_disk: Path) -> Iterator[Path]:
    (small_disk / "holes.csv").write_text("old")
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    yield small_disk
    subprocess.run(["mount", "-o", "remount,rw", small_disk], check=True)


@pytest.mark.skipif(sys.platform != "linux", reason="a disk in memory is Linux")
def test_a_read_only_folder_is_told(plan: Plan, locked_disk: Path) -> None:
    for out in (locked_disk, locked_disk / "new" / "folder"):
        with pytest.raises(OSError, match="Read-only") as caught:
            export(plan, out, TABLES)
        assert sentence(out, caught.value) == (
            f"{out}: cannot be written: the disk is read-only; choose another folder."
        )

    assert seen(locked_disk) == {"holes.csv": "old"}


def test_what_a_killed_export_left_is_cleared_up_and_loses_nothing(tmp_path: Path) -> None:
    # As after an end between taking an old file away and putting the new one in its place.
    left = tmp_path / ".raftwright-killed"
    (left / "before").mkdir(parents=True)
    (left / "0.part").write_text("half")
    (left / "before" / "a").write_text("old a")
    (left / "before" / "b").write_text("old b")
    (tmp_path / "b").write_text("new b")
    young = tmp_path / ".raftwright-running"
    young.mkdir()
    long_ago = time.time() - 3600
    os.utime(left, (long_ago, long_ago))

    land(tmp_path, c="3")

    young.rmdir()
    assert seen(tmp_path) == {"a": "old a", "b": "new b", "c": "3"}
