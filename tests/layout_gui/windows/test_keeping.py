"""The window offers what was lost, and says what others do to its file."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui.dialogs.recovery_dialog import RecoveryDialog
from layout_gui.document.document import Document
from layout_gui.document.file_lock import FileLock
from layout_gui.document.files import read_project, write_project
from layout_gui.document.recovery import FOLDER, Slot, left_over
from layout_gui.document.selection import Selection
from layout_gui.project import edits
from layout_gui.project.recovery_file import Head
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_settings

pytestmark = OFFSCREEN


class Desk:
    """A window with real files, in a home of its own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.state = folder / "state"
        self.bench = folder / "bench.raft.json"
        write_project(self.bench, make_project())
        self.asks = Answers()
        self.window = self.open_window()

    def open_window(self) -> MainWindow:
        document = Document(patience_s=10)
        window = MainWindow(
            document, Selection(), make_settings(self.folder), self.asks, state=self.state
        )
        window.whatif.set_open(is_open=False)
        return window

    def change(self, name: str) -> Project:
        project = edits.rename_project(self.window.document.project, name)
        self.window.document.apply("Rename", project)
        return project

    def leave(self, name: str, project: Project, path: Path | None = None) -> None:
        slot = Slot(self.state / FOLDER, name)
        slot.write(Head(name, project.name, str(path or ""), 1.7e9, "0.1.0"), project)
        assert slot.lock is not None
        slot.lock.unlock()

    @property
    def dialog(self) -> RecoveryDialog | None:
        found = [each for each in self.window.findChildren(RecoveryDialog) if each.isVisible()]
        return found[-1] if found else None


@pytest.fixture
def desk(qapp: QApplication, tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path)
    made.window.show()
    yield made
    discard(made.window)


def test_nothing_is_offered_when_nothing_is_left(desk: Desk) -> None:
    desk.window.keeping.begin()
    assert desk.dialog is None

    desk.window.keeping.offer()
    assert desk.dialog is None


def test_left_over_work_is_recovered_as_unsaved_changes_of_its_file(
    qtbot: QtBot, desk: Desk
) -> None:
    desk.leave("x", make_project(name="Newer"), desk.bench)
    before = desk.bench.read_bytes()
    desk.window.keeping.begin()
    dialog = desk.dialog
    assert dialog is not None
    (card,) = dialog.cards.values()
    qtbot.waitUntil(lambda: "the name: “Bench test” became “Newer”" in card.differs.text())

    card.recover.click()

    document = desk.window.document
    assert document.project.name == "Newer"
    assert document.path == desk.bench
    assert document.is_modified
    assert desk.bench.read_bytes() == before
    assert left_over(desk.state / FOLDER) == ()  # it belongs to this window again
    assert [each.name for each in (desk.state / FOLDER).glob("*.recovery")] == ["x.recovery"]
    desk.window.files.save()
    assert read_project(desk.bench).name == "Newer"
    qtbot.waitUntil(lambda: not list((desk.state / FOLDER).glob("*.recovery")))


def test_what_was_put_off_is_asked_about_once(desk: Desk) -> None:
    desk.leave("x", make_project(name="Newer"))
    desk.window.keeping.begin()
    assert desk.dialog is not None
    desk.dialog.buttons["later"].click()

    desk.window.keeping.begin()
    assert desk.dialog is None

    desk.window.actions_.by_id["recovered"].trigger()
    assert desk.dialog is not None
    desk.dialog.buttons["later"].click()
    desk.leave("y", make_project(name="Another"))
    desk.window.keeping.begin()
    assert desk.dialog is not None
    assert len(desk.dialog.cards) == 2


def test_opening_the_saved_file_keeps_the_work(desk: Desk) -> None:
    desk.leave("x", make_project(name="Newer"), desk.bench)
    desk.window.keeping.begin()
    assert desk.dialog is not None

    next(iter(desk.dialog.cards.values())).open.click()

    assert desk.window.document.project == make_project()
    assert len(left_over(desk.state / FOLDER)) == 1
    desk.window.keeping.begin()
    assert desk.dialog is None


def test_only_throwing_away_deletes(desk: Desk) -> None:
    desk.leave("x", make_project(name="Newer"))
    desk.leave("y", make_project(name="Other"))
    desk.window.keeping.begin()
    assert desk.dialog is not None
    one = next(iter(desk.dialog.cards))

    desk.dialog.throw_wanted.emit(one)

    assert [left.file for left in left_over(desk.state / FOLDER)] != [one.file]
    assert len(desk.dialog.cards) == 1


def test_work_that_cannot_be_read_stays_and_says_why(desk: Desk) -> None:
    desk.leave("x", make_project())
    file = desk.state / FOLDER / "x.recovery"
    file.write_text(file.read_text().replace('"Bench test"', "12"))
    (left,) = left_over(desk.state / FOLDER)

    desk.window.keeping.recover(left)

    assert "/name" in desk.window.notice.text.text()
    assert str(file) in desk.window.notice.text.text()
    assert file.exists()


def test_recovering_asks_about_what_is_open_first(desk: Desk) -> None:
    desk.leave("x", make_project(name="Newer"))
    (left,) = left_over(desk.state / FOLDER)
    desk.window.files.open_path(desk.bench)
    mine = desk.change("Mine")

    desk.window.keeping.recover(left)
    assert desk.asks.asked == ["unsaved Mine"]
    assert desk.window.document.project is mine

    desk.asks.unsaved_answer = "discard"
    desk.window.keeping.recover(left)
    assert desk.window.document.project.name == "Newer"


def test_work_of_a_file_that_is_open_elsewhere_becomes_a_new_project(desk: Desk) -> None:
    desk.leave("x", make_project(name="Newer"), desk.bench)
    (left,) = left_over(desk.state / FOLDER)
    lock = FileLock(desk.bench, desk.state)

    desk.window.keeping.recover(left)

    assert desk.window.document.project.name == "Newer"
    assert desk.window.document.path is None
    lock.release()


def test_closing_takes_recovery_file_and_lock_away(qtbot: QtBot, desk: Desk) -> None:
    desk.window.files.open_path(desk.bench)
    desk.change("Given up")
    kept = desk.window.keeping.keep_now()
    assert kept is not None
    assert kept.exists()
    desk.asks.unsaved_answer = "discard"

    desk.window.close()

    qtbot.waitUntil(lambda: not kept.exists())
    assert FileLock(desk.bench, desk.state).holder is None


def test_a_change_outside_can_be_read_again_and_taken_back(qtbot: QtBot, desk: Desk) -> None:
    window = desk.window
    window.files.open_path(desk.bench)
    write_project(desk.bench, make_project(name="Theirs"))
    qtbot.waitUntil(window.keeping.notice.isVisible)
    words = window.keeping.notice.text.text()
    assert "“bench.raft.json” was changed by another program." in words

    window.keeping.notice.buttons["Read it again"].click()

    assert window.document.project.name == "Theirs"
    assert not window.document.is_modified
    assert not window.keeping.notice.isVisible()
    window.document.undo_stack.undo()
    assert window.document.project.name == "Bench test"


def test_with_changes_on_both_sides_nothing_is_lost(qtbot: QtBot, desk: Desk) -> None:
    window = desk.window
    window.files.open_path(desk.bench)
    mine = desk.change("Mine")
    write_project(desk.bench, make_project(name="Theirs"))
    qtbot.waitUntil(window.keeping.notice.isVisible)
    assert "it has changes here too" in window.keeping.notice.text.text()
    desk.change("Mine still")
    assert window.keeping.notice.isVisible()
    window.document.undo_stack.undo()

    window.keeping.notice.buttons["Keep mine"].click()

    assert window.document.project is mine
    assert window.document.is_modified
    window.files.save()
    assert desk.asks.asked == []
    assert read_project(desk.bench).name == "Mine"
    assert read_project(desk.bench.with_name("bench.raft.json~")).name == "Theirs"


@pytest.mark.parametrize("answer", ["over", "elsewhere", "cancel"])
def test_a_save_over_another_s_change_asks(desk: Desk, answer: str) -> None:
    window = desk.window
    window.files.open_path(desk.bench)
    desk.change("Mine")
    write_project(desk.bench, make_project(name="Theirs"))
    desk.asks.choice, desk.asks.path = answer, desk.folder / "mine.raft.json"

    window.files.save()

    assert "['over', 'cancel', 'elsewhere']" in desk.asks.asked[0]
    assert read_project(desk.bench).name == ("Mine" if answer == "over" else "Theirs")
    assert desk.asks.path.exists() is (answer == "elsewhere")
    assert window.document.is_modified is (answer == "cancel")


def test_a_file_that_vanishes_leaves_the_work_unsaved(qtbot: QtBot, desk: Desk) -> None:
    window = desk.window
    window.files.open_path(desk.bench)
    desk.bench.unlink()
    qtbot.waitUntil(window.keeping.notice.isVisible)
    assert window.document.is_modified

    window.keeping.notice.buttons["Save it there again"].click()

    assert read_project(desk.bench) == make_project()
    assert not window.document.is_modified
    assert not window.keeping.notice.isVisible()


def test_a_file_that_is_no_project_any_more_can_be_saved_over(qtbot: QtBot, desk: Desk) -> None:
    window = desk.window
    window.files.open_path(desk.bench)
    desk.bench.write_text("{")
    qtbot.waitUntil(window.keeping.notice.isVisible)
    assert "no project any more" in window.keeping.notice.text.text()

    window.keeping.notice.buttons["Save mine over it"].click()

    assert read_project(desk.bench) == make_project()
    assert desk.asks.asked == []


RUN = """
import sys
from PySide6.QtCore import QTimer
from layout_gui.document.autosave import Autosave
from layout_gui.document.document import Document
Autosave.__init__.__kwdefaults__["quiet_s"] = 0.05
Document.__init__.__kwdefaults__["patience_s"] = 60
from layout_gui import app
from layout_gui.project import edits
made = app.make_application()
window = app.make_window()
window.show()
from pathlib import Path
window.files.open_path(Path(sys.argv[1]))
project = edits.rename_project(window.document.project, "Edited " + sys.argv[2])
window.document.apply("Rename", project)
def tell():
    if window.keeping.autosave.file.exists():
        print(window.keeping.autosave.file, flush=True)
timer = QTimer(interval=20)
timer.timeout.connect(tell)
timer.start()
made.exec()
"""

AGAIN = """
import sys
from PySide6.QtCore import QTimer
from layout_gui import app
from layout_gui.dialogs.recovery_dialog import RecoveryDialog
from layout_gui.document.document import Document
Document.__init__.__kwdefaults__["patience_s"] = 60
made = app.make_application()
window = app.make_window()
window.show()
window.keeping.begin()
def look():
    dialogs = window.findChildren(RecoveryDialog)
    if dialogs:
        (card,) = dialogs[0].cards.values()
        if "became" in card.differs.text():
            print(card.differs.text().splitlines()[-1])
            card.recover.click()
            print(window.document.project.name, window.document.is_modified, window.document.path)
            window.files.save()
            window.close()
            made.quit()
timer = QTimer(interval=20)
timer.timeout.connect(look)
timer.start()
QTimer.singleShot(60_000, made.quit)
made.exec()
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such kill there")
def test_a_killed_window_s_work_is_offered_at_the_next_start_and_is_right(tmp_path: Path) -> None:
    homes = {f"XDG_{kind}_HOME": str(tmp_path / kind) for kind in ("CONFIG", "STATE", "CACHE")}
    surroundings = {**os.environ, **homes, "HOME": str(tmp_path)}
    bench = tmp_path / "bench.raft.json"
    write_project(bench, make_project())
    before = bench.read_bytes()
    with subprocess.Popen(
        [sys.executable, "-c", RUN, bench, "work"],
        env=surroundings,
        stdout=subprocess.PIPE,
        text=True,
    ) as window:
        assert window.stdout is not None
        kept = Path(window.stdout.readline().strip())
        window.send_signal(signal.SIGKILL)
    assert kept.is_relative_to(tmp_path / "STATE")
    assert bench.read_bytes() == before

    done = subprocess.run(
        [sys.executable, "-c", AGAIN],
        env=surroundings,
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )

    assert done.stdout.splitlines() == [
        "\N{EN DASH} the name: “Bench test” became “Edited work”",
        f"Edited work True {bench}",
    ]
    assert read_project(bench).name == "Edited work"
    assert read_project(bench).beds == make_project().beds
    assert not kept.exists()
    assert left_over(kept.parent) == ()
