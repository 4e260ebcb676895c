"""The log is small, says what was done to which file, and holds nobody up."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from layout_gui import log
from layout_gui.project.file import load

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "school-bench.raft.json"


@pytest.fixture
def started(tmp_path: Path) -> Iterator[log.Log]:
    made = log.start(tmp_path / "state")
    yield made
    made.close()
    log._logs.clear()


def test_lines_are_written_in_order_with_their_time(started: log.Log) -> None:
    log.note("one")
    log.note("two\nlines")
    started.close()

    lines = started.path.read_text().splitlines()
    assert [line.split(" ", 2)[2] for line in lines] == ["one", "two | lines"]
    assert log.text_of(started.path.parent).splitlines() == lines


def test_without_a_start_nothing_is_written(tmp_path: Path) -> None:
    log.note("nobody listens")

    assert log.text_of(tmp_path) == ""


def test_the_log_stays_small_and_keeps_the_newest(tmp_path: Path) -> None:
    small = log.Log(tmp_path / log.NAME, largest=1_000)
    for number in range(200):
        small.note(f"line {number}")
    small.close()

    assert sorted(each.name for each in tmp_path.iterdir()) == [
        "raftwright.log",
        "raftwright.log.1",
    ]
    assert all(each.stat().st_size <= 1_000 for each in tmp_path.iterdir())
    kept = [int(line.split()[-1]) for line in log.text_of(tmp_path).splitlines()]
    assert kept == list(range(kept[0], 200))


def test_a_log_that_cannot_be_written_troubles_nobody(tmp_path: Path) -> None:
    (tmp_path / "state").write_text("a file in the place of the folder")
    lost = log.Log(tmp_path / "state" / log.NAME)

    lost.note("lost")
    lost.close()

    assert (tmp_path / "state").read_text() == "a file in the place of the folder"


def test_a_mistake_is_told_by_place_not_by_its_words(started: log.Log) -> None:
    try:
        raise KeyError("Grandmother's pond")  # noqa: TRY301  the error itself is what is tested
    except KeyError as error:
        log.note_error(type(error), error)
    started.close()

    text = started.path.read_text()
    assert "mistake KeyError" in text
    assert "test_log.py:" in text
    assert "Grandmother" not in text


RUN = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from layout_gui import app
from layout_gui.document.document import Document
from layout_gui.project import edits
Document.__init__.__kwdefaults__["patience_s"] = 60
def go_on():
    (window,) = [w for w in QApplication.topLevelWidgets() if hasattr(w, "keeping")]
    if not window.is_furnished or window.document.path is None:
        return
    timer.stop()
    project = edits.rename_project(window.document.project, "Secret name")
    window.document.apply("Rename", project)
    window.files.save()
    window.document.open(Path("/nowhere/gone.raft.json"))
    window.document.save(Path("/nowhere/mine.raft.json"))
    window.close()
app.make_application()
timer = QTimer(interval=20)
timer.timeout.connect(go_on)
timer.start()
app.run_window(Path(sys.argv[1]))
"""


def test_a_window_writes_down_what_it_did_to_files_and_nothing_of_the_project(
    tmp_path: Path,
) -> None:
    path = tmp_path / "bench.raft.json"
    path.write_bytes(SAMPLE.read_bytes())
    homes = {f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("CONFIG", "STATE", "CACHE")}
    subprocess.run(
        [sys.executable, "-c", RUN, path],
        env={**os.environ, **homes, "HOME": str(tmp_path)},
        check=True,
        timeout=120,
        capture_output=True,
    )

    (file,) = (tmp_path / "STATE").rglob("raftwright.log")
    lines = [line.split(" ", 2)[2] for line in file.read_text().splitlines()]
    told = [line for line in lines if not line.startswith("Qt")]
    assert told[0].startswith("started ")
    assert told[1:3] == [f"opened {path}", f"saved {path}"]
    assert told[3] == "not opened: /nowhere/gone.raft.json: FileAccessError"
    assert told[4].startswith("not saved: /nowhere/mine.raft.json: cannot be saved")
    assert told[-1] == "ended"
    names = [bed.name for bed in load(SAMPLE).beds]
    assert not [name for name in ("Secret", *names) if name in file.read_text()]
