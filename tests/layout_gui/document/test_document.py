"""The document with hand-made plans: a project is planned, swapped, undone."""

import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from geometry.cutting.plan import CutPlan
from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import Plan
from geometry.watch import Stopped, look_up
from layout_gui.document.document import Document, Read, Write


def plan_of(project: Project, previous: Plan | None) -> Plan:
    """Refuse names that begin with "bad"."""
    if project.name.startswith("bad"):
        raise GeometryError("The bed holds nothing.")
    return Plan(project, (), CutPlan(), ())


def no_read(path: Path) -> Project:
    raise AssertionError(path)


def no_write(path: Path, project: Project) -> None:
    raise AssertionError(path)


def make_document(
    make_plan: Callable[[Project, Plan | None], Plan] = plan_of,
    *,
    read: Read = no_read,
    write: Write = no_write,
    patience_s: float = 5,
) -> Document:
    return Document(make_plan=make_plan, read=read, write=write, patience_s=patience_s)


class Slow:
    """A make_plan that waits until it is let go."""

    def __init__(self) -> None:
        self.gate = threading.Event()
        self.asked: list[str] = []

    def __call__(self, project: Project, previous: Plan | None) -> Plan:
        self.asked.append(project.name)
        assert self.gate.wait(10)
        return plan_of(project, previous)


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Signals and worker results need a running Qt."""


def test_applying_shows_the_plan_and_undo_gives_back_the_identical_project() -> None:
    document = make_document()
    first, second = Project("first"), Project("second")
    document.start(first)
    shown: list[Plan] = []
    document.plan_changed.connect(shown.append)

    document.apply("Rename", second)

    assert document.project is second
    assert shown[-1].project is second
    assert document.undo_stack.undoText() == "Rename"
    assert document.is_modified
    document.undo_stack.undo()
    assert document.project is first
    assert shown[-1].project is first
    assert not document.is_modified
    document.undo_stack.redo()
    assert document.project is second


def test_the_plan_before_is_handed_on() -> None:
    seen: list[Plan | None] = []

    def spy(project: Project, previous: Plan | None) -> Plan:
        seen.append(previous)
        return plan_of(project, previous)

    document = make_document(spy)
    document.start(Project("first"))
    first_plan = document.plan
    document.apply("Rename", Project("second"))

    assert seen == [None, first_plan]
    assert seen[1] is first_plan


def test_a_preview_is_shown_but_not_current_and_costs_no_second_plan() -> None:
    asked: list[str] = []

    def spy(project: Project, previous: Plan | None) -> Plan:
        asked.append(project.name)
        return plan_of(project, previous)

    document = make_document(spy)
    first, candidate = Project("first"), Project("candidate")
    document.start(first)
    document.preview(candidate)
    assert document.plan.project is candidate
    assert document.project is first
    assert not document.undo_stack.canUndo()

    document.preview(None)
    assert document.plan.project is first
    document.preview(candidate)
    document.apply("Move", candidate)

    assert asked == ["first", "candidate", "candidate"]


def test_a_project_without_a_plan_is_refused_before_it_reaches_the_stack(qtbot: QtBot) -> None:
    document = make_document()
    document.start(Project("first"))
    with qtbot.waitSignal(document.failed) as blocker:
        document.apply("Break", Project("bad"))

    assert blocker.args == ["The bed holds nothing."]
    assert document.project.name == "first"
    assert document.undo_stack.count() == 0


def test_equal_projects_add_no_step() -> None:
    document = make_document()
    document.start(Project("first"))
    document.apply("Nothing", Project("first"))
    assert document.undo_stack.count() == 0


def test_steps_with_one_key_become_one_and_vanish_when_they_lead_back() -> None:
    document = make_document()
    start = Project("first")
    document.start(start)
    for number in range(5):
        document.apply("Nudge", Project(f"n{number}"), merge_key="nudge")
    assert document.undo_stack.count() == 1
    document.apply("Nudge", Project("other"), merge_key="another nudge")
    assert document.undo_stack.count() == 2
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert document.project is start

    document.apply("Nudge", Project("n"), merge_key="nudge")
    document.apply("Nudge", Project("first"), merge_key="nudge")
    assert document.undo_stack.count() == 0
    assert not document.is_modified


def test_a_slow_plan_is_made_while_the_window_lives(qtbot: QtBot) -> None:
    slow = Slow()
    document = make_document(slow, patience_s=0)
    document.start(Project("first"))
    assert document.is_busy
    assert document.plan.beds == ()
    with qtbot.waitSignal(document.plan_changed):
        slow.gate.set()
    assert not document.is_busy
    assert document.plan.project is document.project


def test_only_the_last_wanted_plan_is_ever_shown(qtbot: QtBot) -> None:
    slow = Slow()
    document = make_document(slow, patience_s=0)
    shown: list[str] = []
    document.plan_changed.connect(lambda plan: shown.append(plan.project.name))
    document.start(Project("first"))
    for name in ("second", "third", "fourth"):
        document.apply("Rename", Project(name))
    slow.gate.set()
    qtbot.waitUntil(lambda: not document.is_busy)

    assert shown[-1] == "fourth"
    assert "second" not in shown
    assert "third" not in shown
    assert slow.asked == ["first", "fourth"]


def test_a_preview_taken_back_while_it_is_made_is_never_shown(qtbot: QtBot) -> None:
    slow = Slow()
    slow.gate.set()
    document = make_document(slow, patience_s=0)
    document.start(Project("first"))
    qtbot.waitUntil(lambda: not document.is_busy)
    slow.gate.clear()
    shown: list[str] = []
    document.plan_changed.connect(lambda plan: shown.append(plan.project.name))
    document.preview(Project("candidate"))
    document.preview(None)
    assert not document.is_busy
    slow.gate.set()
    document.apply("Rename", Project("second"))
    qtbot.waitUntil(lambda: not document.is_busy)
    assert shown == ["second"]


def test_a_step_that_fails_late_is_taken_back_for_good(qtbot: QtBot) -> None:
    slow = Slow()
    slow.gate.set()
    document = make_document(slow, patience_s=0)
    first = Project("first")
    document.start(first)
    qtbot.waitUntil(lambda: not document.is_busy)
    with qtbot.waitSignal(document.failed):
        document.apply("Break", Project("bad"))

    assert document.project is first
    assert document.plan.project is first
    assert not document.undo_stack.canUndo()
    assert not document.undo_stack.canRedo()


def test_a_bug_in_planning_is_not_swallowed() -> None:
    def broken(project: Project, previous: Plan | None) -> Plan:
        raise ZeroDivisionError

    document = make_document(broken)
    with pytest.raises(ZeroDivisionError):
        document.apply("Rename", Project("second"))
    assert document.undo_stack.count() == 0
    assert not document.is_busy


def test_opening_and_saving(tmp_path: Path) -> None:
    files: dict[Path, Project] = {tmp_path / "a.raft.json": Project("a")}
    document = make_document(read=files.__getitem__, write=files.__setitem__)
    assert document.open(tmp_path / "a.raft.json")
    assert document.path == tmp_path / "a.raft.json"

    document.apply("Rename", Project("b"))
    assert document.is_modified
    assert document.save()
    assert not document.is_modified
    assert files[tmp_path / "a.raft.json"].name == "b"
    document.undo_stack.undo()
    assert document.is_modified
    assert document.save(tmp_path / "c.raft.json")
    assert document.path == tmp_path / "c.raft.json"


def test_what_cannot_be_read_or_written_is_said_and_changes_nothing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    def refuse_read(path: Path) -> Project:
        raise ValueError("a.raft.json is no project.")

    def refuse_write(path: Path, project: Project) -> None:
        raise PermissionError("The folder is read-only.")

    document = make_document(read=refuse_read, write=refuse_write)
    document.start(Project("first"))
    document.apply("Rename", Project("second"))
    with qtbot.waitSignal(document.failed) as blocker:
        assert not document.open(tmp_path / "a.raft.json")
    assert blocker.args == ["a.raft.json is no project."]
    with qtbot.waitSignal(document.failed) as blocker:
        assert not document.save(tmp_path / "b.raft.json")
    assert blocker.args == ["The folder is read-only."]
    assert document.project.name == "second"
    assert document.path is None
    assert document.is_modified
    with pytest.raises(ValueError, match="needs a path"):
        document.save()


def test_real_files_come_back_as_they_were_saved(tmp_path: Path) -> None:
    document = Document(make_plan=plan_of, patience_s=5)
    document.start(Project("North bench", "in"))
    assert document.save(tmp_path / "north.raft.json")
    again = Document(make_plan=plan_of, patience_s=5)
    assert again.open(tmp_path / "north.raft.json")
    assert again.project == document.project


def test_a_document_can_start_unsaved() -> None:
    document = make_document()
    document.start(Project("from the guide"), modified=True)
    assert document.is_modified
    document.apply("Rename", Project("second"))
    document.undo_stack.undo()
    assert document.is_modified


NAMES = st.sampled_from(["a", "b", "c", "d", "bad"])


class Edits(RuleBasedStateMachine):
    """Edits, undos and redos against a plain list."""

    def __init__(self) -> None:
        super().__init__()
        self.document = make_document()
        self.steps = [Project("start")]
        self.now = 0
        self.document.start(self.steps[0])

    @rule(name=NAMES)
    def apply(self, name: str) -> None:
        project = Project(name)
        self.document.apply("Rename", project)
        if name != "bad" and project != self.steps[self.now]:
            self.now += 1
            self.steps[self.now :] = [project]

    @rule(name=NAMES)
    def look(self, name: str) -> None:
        self.document.preview(Project(name))
        self.document.preview(None)

    @precondition(lambda self: self.now > 0)
    @rule()
    def undo(self) -> None:
        self.document.undo_stack.undo()
        self.now -= 1

    @precondition(lambda self: self.now + 1 < len(self.steps))
    @rule()
    def redo(self) -> None:
        self.document.undo_stack.redo()
        self.now += 1

    @invariant()
    def the_project_is_the_very_one(self) -> None:
        assert self.document.project is self.steps[self.now]
        assert self.document.plan.project is self.steps[self.now]
        assert self.document.undo_stack.index() == self.now
        assert self.document.is_modified == (self.now != 0)


TestEdits = Edits.TestCase
TestEdits.settings = settings(
    max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


class Watched:
    """A make_plan that goes on until its watcher has enough, and tells which ones were stopped."""

    def __init__(self) -> None:
        self.is_slow = False
        self.begun: list[str] = []
        self.stopped: list[str] = []

    def __call__(self, project: Project, previous: Plan | None) -> Plan:
        self.begun.append(project.name)
        try:
            for step in range(500 if self.is_slow else 0):
                look_up(step / 500)
                time.sleep(0.01)
        except Stopped:
            self.stopped.append(project.name)
            raise
        return plan_of(project, previous)


def test_a_plan_that_is_superseded_stops_soon(qtbot: QtBot) -> None:
    make = Watched()
    document = make_document(make, patience_s=0.05)
    document.start(Project("first"))
    make.is_slow = True
    document.apply("Slow", Project("slow"))
    assert document.is_busy

    make.is_slow = False
    begun = time.monotonic()
    document.apply("Quick", Project("quick"))
    qtbot.waitUntil(lambda: document.plan.project.name == "quick", timeout=2000)

    assert time.monotonic() - begun < 0.5
    assert make.stopped == ["slow"]
    assert document.is_worked_out


def test_a_slow_plan_tells_how_far_it_is(qtbot: QtBot) -> None:
    make = Watched()
    document = make_document(make, patience_s=0.05)
    document.start(Project("first"))
    make.is_slow = True
    heard: list[float] = []
    document.progressed.connect(heard.append)
    document.apply("Slow", Project("slow"))
    qtbot.waitUntil(lambda: len(heard) >= 3, timeout=3000)
    document.stop()

    assert heard == sorted(heard)
    assert 0 < heard[-1] < 1


def test_stopping_goes_back_to_the_last_plan_and_redo_brings_the_change_back(
    qtbot: QtBot,
) -> None:
    make = Watched()
    document = make_document(make, patience_s=0.05)
    first = Project("first")
    document.start(first)
    plan = document.plan
    make.is_slow = True
    document.apply("One", Project("one"))
    document.apply("Two", Project("two"))
    document.stop()

    assert not document.is_busy
    assert document.project is first
    assert document.plan is plan
    assert document.is_worked_out
    assert [document.undo_stack.text(k) for k in range(2)] == ["One", "Two"]

    make.is_slow = False
    document.undo_stack.redo()
    document.undo_stack.redo()
    qtbot.waitUntil(lambda: document.plan.project.name == "two", timeout=2000)
    assert "two" not in make.stopped


def test_stopping_a_preview_shows_the_current_project_again() -> None:
    make = Watched()
    document = make_document(make, patience_s=0.05)
    document.start(Project("first"))
    plan = document.plan
    make.is_slow = True
    document.preview(Project("candidate"))
    document.stop()

    assert document.plan is plan
    assert not document.undo_stack.count()


def test_a_first_plan_that_is_stopped_is_missing_until_it_is_asked_for(qtbot: QtBot) -> None:
    make = Watched()
    make.is_slow = True
    document = make_document(make, patience_s=0.05)
    first = Project("first")
    document.start(first)
    document.stop()
    assert document.project is first
    assert not document.is_busy
    assert not document.is_worked_out

    make.is_slow = False
    document.work_out()
    qtbot.waitUntil(lambda: document.is_worked_out, timeout=2000)
    assert document.plan.project is first


COLLECTED = """
import gc
from PySide6.QtWidgets import QApplication
from geometry.model.project import Project
from tests.layout_gui.document.test_document import make_document
app = QApplication([])
gc.collect()
gc.freeze()
for _ in range(30):
    document = make_document()
    document.start(Project("first"))
    document.apply("Second", Project("second"))
    document.apply("Third", Project("third"))
    document.undo_stack.undo()
    document.itself = document
    del document
    gc.collect()
print("alive")
"""


def test_a_document_with_steps_may_be_collected() -> None:
    """In a process of its own: what is tested against is a crash."""
    ended = subprocess.run(
        [sys.executable, "-c", COLLECTED],
        cwd=Path(__file__).parents[3],
        capture_output=True,
        text=True,
        check=False,
    )

    assert (ended.returncode, ended.stdout) == (0, "alive\n")
