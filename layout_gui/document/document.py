"""The one thing that changes: which project is current, its file and its undo stack."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING  # noqa: TID251  the plan is loaded after the window is shown
from weakref import WeakMethod, finalize

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack
from shiboken6 import isValid

from geometry.errors import GeometryError
from layout_gui import log
from layout_gui.document.errands import Errands
from layout_gui.document.files import read_project, rewrite_project, write_project
from layout_gui.document.planner import PATIENCE_S, MakePlan, Planner
from layout_gui.document.swap import Swap

if TYPE_CHECKING:
    from geometry.model.bed import Bed
    from geometry.model.project import Project
    from geometry.plan import Plan

Read = Callable[[Path], "Project"]
Write = Callable[[Path, "Project"], None]


def nothing_planned(project: Project) -> Plan:
    """Return an empty plan to show until the project's own is made.

    It carries a copy of the project, so that nobody takes it for the project's own plan.
    """
    from geometry.cutting.plan import CutPlan  # noqa: PLC0415  loaded when first used
    from geometry.plan import Plan  # noqa: PLC0415  loaded when first used

    return Plan(replace(project), (), CutPlan(), ())


def make_plan(project: Project, previous: Plan | None) -> Plan:
    """Make the plan of a project; the first one loads all that plans are made with."""
    from geometry import plan  # noqa: PLC0415  loaded when first used

    return plan.make_plan(project, previous)


def _forget_steps(stack: QUndoStack) -> None:
    if isValid(stack):
        stack.blockSignals(True)
        stack.clear()


class Document(QObject):
    """The current project, the plan that follows from it, and the way back.

    ``read``, ``write`` and ``rewrite`` are the file layer: they raise ``ValueError`` or ``OSError``
    with a sentence. The first save to a file is by ``write``, which keeps what stood there;
    ``rewrite`` follows it, so that the version from before it was opened stays beside the file.
    A new document holds an empty project; ``start`` or ``open`` give it a real one.
    """

    plan_changed = Signal(object)
    """The Plan to show now, of the current project or of a preview."""

    state_changed = Signal()
    """The path, the modified mark, the undo texts or the busy mark changed."""

    progressed = Signal(float)
    """Which share of a plan that takes its time is made, from 0 to 1."""

    started = Signal()
    """Another project was begun; what was open before is saved or given up."""

    written = Signal()
    """The file holds the current project now."""

    failed = Signal(str)
    """A sentence: what could not be done, why, and what to do."""

    def __init__(
        self,
        *,
        make_plan: MakePlan = make_plan,
        read: Read = read_project,
        write: Write = write_project,
        rewrite: Write | None = None,
        patience_s: float = PATIENCE_S,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._begun: Project | None = None
        self._shown: Plan | None = None
        self._last: Plan | None = None
        self._ready: Plan | None = None
        self._is_stopping = False
        self._path: Path | None = None
        self._saved: Project | None = None
        self._is_read_only = False
        self._written: Path | None = None
        self._started_at = object()
        self._errands = Errands(patience_s=patience_s, parent=self)
        self._errands.busy_changed.connect(self.state_changed)
        self._read = read
        self._write = write
        self._rewrite = rewrite or (rewrite_project if write is write_project else write)
        self._undo_stack = QUndoStack(self)
        mine = WeakMethod(self._switch)

        def switching(project: Project) -> None:
            if (switch := mine()) is not None:
                switch(project)

        # Qt must take the steps apart, not Python's collector, whose order of doing so crashes it:
        # so no step holds the document, and the steps go before it does.
        self._switching = switching
        finalize(self, _forget_steps, self._undo_stack)
        self._undo_stack.indexChanged.connect(self.state_changed)
        self._undo_stack.cleanChanged.connect(self.state_changed)
        self._planner = Planner(make_plan, patience_s=patience_s, parent=self)
        self._planner.busy_changed.connect(self.state_changed)
        self._planner.progressed.connect(self.progressed)
        self._planner.planned.connect(self._show)
        self._planner.refused.connect(self._on_refused)

    @property
    def project(self) -> Project:
        """The current project; never a preview."""
        if self._begun is None:
            from geometry.model.project import Project  # noqa: PLC0415  loaded when first used

            self._begun = Project("")
        return self._begun

    @property
    def beds(self) -> tuple[Bed, ...]:
        """The beds of the current project."""
        return self._begun.beds if self._begun is not None else ()

    @property
    def title(self) -> str:
        """The name of the current project; empty where it has none."""
        return self._begun.name if self._begun is not None else ""

    @property
    def plan(self) -> Plan:
        """The plan that is shown: ``plan.project`` is a preview while one is on."""
        if self._shown is None:
            self._shown = nothing_planned(self.project)
        return self._shown

    @property
    def settled(self) -> Plan:
        """The last plan of the current project, also while a preview is shown."""
        if self._last is None:
            self._last = self.plan
        return self._last

    @property
    def path(self) -> Path | None:
        """The file of the document; None before it was first saved."""
        return self._path

    @property
    def saved(self) -> Project | None:
        """The project as its file has it; None if it has no file, or nobody knows."""
        return self._saved

    @property
    def is_read_only(self) -> bool:
        """Whether the file is only looked at: ``save`` then needs another path."""
        return self._is_read_only

    @property
    def is_at_the_disk(self) -> bool:
        """Whether a file is being read or written beside the window."""
        return self._errands.is_busy

    @property
    def is_modified(self) -> bool:
        """Whether closing now would lose something."""
        return not self._undo_stack.isClean()

    @property
    def is_busy(self) -> bool:
        """Whether the plan of the current project or preview is still being made."""
        return self._planner.is_busy

    @property
    def is_worked_out(self) -> bool:
        """Whether the plan of the current project is known; not after ``stop`` left none."""
        return self._last is not None and self._last.project is self.project

    @property
    def undo_stack(self) -> QUndoStack:
        """The steps back and forward; make the Undo and Redo actions from it."""
        return self._undo_stack

    def apply(self, text: str, project: Project, *, merge_key: str | None = None) -> None:
        """Make ``project`` the current one as an undo step called ``text`` ("Move hole A3").

        A project without a plan is refused through ``failed`` and changes nothing. Steps with the
        same ``merge_key`` in a row become one. A project equal to the current one adds no step.
        """
        if project == self.project:
            self.preview(None)
            return
        try:
            self._ready = self._plan_of(project)
        except GeometryError as error:
            self.preview(None)
            self.failed.emit(str(error))
            return
        self._undo_stack.push(Swap(text, self.project, project, self._switching, merge_key))

    def preview(self, project: Project | None) -> None:
        """Show the plan of ``project`` without making it current; None shows the current one."""
        target = self.project if project is None else project
        try:
            plan = self._plan_of(target)
        except GeometryError as error:
            self.failed.emit(str(error))
            return
        if plan is not None and plan is not self.plan:
            self._show(plan)

    def improve(self, plan: Plan) -> None:
        """Take a better plan of the current project; one of another project is dropped.

        It is shown at once, or after the preview that is on.
        """
        if plan.project is not self.project:
            return
        if self.plan.project is self.project:
            self._show(plan)
        else:
            self._last = plan

    def stop(self) -> None:
        """Give up the plan that is being made and go back to the last project that has one.

        Nothing is lost: the steps taken back can be done again, and a project that has no other
        to go back to stays as it is, until it is changed or ``work_out`` is asked for.
        """
        if not self.is_busy:
            return
        self._planner.forget()
        place = self._place_of(self.settled.project)
        if place is not None:
            self._is_stopping = True
            self._undo_stack.setIndex(place)
            self._is_stopping = False
        if self.is_worked_out and self.plan is not self.settled:
            self._show(self.settled)
        self.state_changed.emit()

    def work_out(self) -> None:
        """Make the plan of the current project, if it is not known."""
        if not self.is_worked_out:
            self.preview(None)

    def _place_of(self, project: Project) -> int | None:
        """The index of the undo stack at which a project is current."""
        stack = self._undo_stack
        for index in range(stack.count()):
            command = stack.command(index)
            if isinstance(command, Swap) and command.before is project:
                return index
            if isinstance(command, Swap) and command.after is project:
                return index + 1
        return None

    def start(
        self,
        project: Project,
        path: Path | None = None,
        *,
        modified: bool = False,
        read_only: bool = False,
    ) -> None:
        """Begin a fresh document with an empty undo stack.

        ``modified`` marks it as not yet saved (a recovered copy, the result of the guide).
        ``read_only`` keeps ``save`` off the file.
        """
        self._undo_stack.clear()
        if modified:
            self._undo_stack.resetClean()
        self._path = path
        self._saved = project if path is not None and not modified else None
        self._is_read_only = read_only
        self._written = None
        self._started_at = object()
        self._begun = project
        self._shown = self._last = nothing_planned(project)
        try:
            plan = self._planner.ask(project, None)
        except GeometryError as error:
            self._show(self.plan)
            self.failed.emit(str(error))
        else:
            self._show(plan or self.plan)
        self.started.emit()
        self.state_changed.emit()

    def open(self, path: Path, *, read_only: bool = False) -> bool:
        """Read a project file and start with it; on failure ``failed`` says why, nothing else."""
        try:
            project = self._read(path)
        except (ValueError, OSError) as error:
            self._on_not_read(path, error)
            return False
        log.note(f"opened {path}")
        self.start(project, path, read_only=read_only)
        return True

    def bring_in(self, text: str, path: Path) -> None:
        """Make what another file holds the current project, as an undo step called ``text``."""
        try:
            project = self._read(path)
        except (ValueError, OSError) as error:
            self.failed.emit(str(error))
            return
        self.apply(text, project)

    def take_in(self, text: str, project: Project) -> None:
        """Make what its file holds now the current project, as an undo step called ``text``."""
        self.apply(text, project)
        if self.project == project:
            self._saved = self.project
            self._undo_stack.setClean()
            self.state_changed.emit()

    def mark_unsaved(self) -> None:
        """Note that the file no longer holds this project, so that closing would lose it."""
        self._saved = None
        self._undo_stack.resetClean()
        self.state_changed.emit()

    def save(self, path: Path | None = None) -> bool:
        """Write the current project to ``path``, or to the file it came from.

        Returns whether it was written; if not, ``failed`` says why. Without any path, or to a file
        that is only looked at, it is a ValueError: the window asks for another one first.
        """
        target, write = self._place_to_save(path)
        try:
            write(target, self.project)
        except (ValueError, OSError) as error:
            self._on_not_written(target, error)
            return False
        self._on_written(target, self.project)
        return True

    def save_then(self, path: Path | None, then: Callable[[bool], object]) -> None:
        """Write as ``save`` does, beside the window if it takes long; ``then`` tells whether.

        What is changed in the meantime is unsaved. A project that was replaced in the meantime is
        written all the same.
        """
        target, write = self._place_to_save(path)
        project, stack = self.project, self._started_at

        def on_end(written: Future[None]) -> None:
            try:
                written.result()
            except (ValueError, OSError) as error:
                self._on_not_written(target, error)
                then(False)
                return
            if self._started_at is stack:
                self._on_written(target, project)
            then(True)

        self._errands.run(partial(write, target, project), on_end)

    def read_then(self, path: Path, then: Callable[[Project | None], object]) -> None:
        """Read a project file, beside the window if it takes long, and hand it to ``then``.

        ``then`` gets None, after ``failed`` has said why, when it cannot be read.
        """

        def on_end(read: Future[Project]) -> None:
            try:
                project = read.result()
            except (ValueError, OSError) as error:
                self._on_not_read(path, error)
                then(None)
                return
            log.note(f"opened {path}")
            then(project)

        self._errands.run(partial(self._read, path), on_end)

    def when_settled(self, then: Callable[[], object]) -> None:
        """Do ``then`` once nothing is being read or written any more."""
        if self._errands.is_busy:
            self._errands.run(lambda: None, lambda _done: then())
        else:
            then()

    def _place_to_save(self, path: Path | None) -> tuple[Path, Write]:
        target = path or self._path
        if target is None:
            raise ValueError("A document that was never saved needs a path.")
        if self._is_read_only and target == self._path:
            raise ValueError("A document that is only looked at needs another path.")
        return target, self._rewrite if target == self._written else self._write

    def _on_written(self, target: Path, project: Project) -> None:
        log.note(f"saved {target}")
        self._path = self._written = target
        self._saved = project
        self._is_read_only = False
        if project is self.project:
            self._undo_stack.setClean()
        else:
            self._undo_stack.resetClean()
        self.written.emit()
        self.state_changed.emit()

    def _on_not_written(self, target: Path, error: Exception) -> None:
        log.note(f"not saved: {error if isinstance(error, OSError) else target}")
        self.failed.emit(str(error))

    def _on_not_read(self, path: Path, error: Exception) -> None:
        log.note(f"not opened: {path}: {type(error).__name__}")
        self.failed.emit(str(error))

    def _plan_of(self, project: Project) -> Plan | None:
        if self._planner.is_wanted(project):
            return None
        for known in (self.plan, self.settled):
            if known.project is project:
                self._planner.forget()
                return known
        return self._planner.ask(project, self.plan)

    def _switch(self, project: Project) -> None:
        self._begun = project
        if self._is_stopping:
            return
        ready, self._ready = self._ready, None
        if ready is not None and ready.project is project:
            self._show(ready)
        else:
            self.preview(None)

    def _show(self, plan: Plan) -> None:
        self._shown = plan
        if plan.project is self.project:
            self._last = plan
        self.plan_changed.emit(plan)

    def _on_refused(self, project: Project, sentence: str) -> None:
        """Take back the step whose project turned out, later, to have no plan."""
        last = self._undo_stack.command(self._undo_stack.index() - 1)
        if project is self.project and isinstance(last, Swap):
            last.is_withdrawn = True
            self._undo_stack.undo()
        elif project is not self.project:
            self.preview(None)
        self.failed.emit(sentence)
