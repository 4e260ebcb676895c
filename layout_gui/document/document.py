"""The one thing that changes: which project is current, its file and its undo stack."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoStack

from geometry.cutting.plan import CutPlan
from geometry.model.project import Project
from geometry.plan import Plan, make_plan
from layout_gui.document.planner import PATIENCE_S, MakePlan, Planner

Read = Callable[[Path], Project]
Write = Callable[[Path, Project], None]


class Document(QObject):
    """The current project, the plan that follows from it, and the way back.

    ``read`` and ``write`` are the file layer: they raise ``ValueError`` or ``OSError`` with a
    sentence. A new document holds an empty project; ``start`` or ``open`` give it a real one.
    """

    plan_changed = Signal(object)
    """The Plan to show now, of the current project or of a preview."""

    state_changed = Signal()
    """The path, the modified mark, the undo texts or the busy mark changed."""

    failed = Signal(str)
    """A sentence: what could not be done, why, and what to do."""

    def __init__(
        self,
        *,
        make_plan: MakePlan = make_plan,
        read: Read | None = None,
        write: Write | None = None,
        patience_s: float = PATIENCE_S,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._project = Project("")
        self._plan = Plan(self._project, (), CutPlan(), ())
        self._path: Path | None = None
        self._read = read
        self._write = write
        self._undo_stack = QUndoStack(self)
        self._planner = Planner(make_plan, patience_s=patience_s, parent=self)

    @property
    def project(self) -> Project:
        """The current project; never a preview."""
        return self._project

    @property
    def plan(self) -> Plan:
        """The plan that is shown: ``plan.project`` is a preview while one is on."""
        return self._plan

    @property
    def path(self) -> Path | None:
        """The file of the document; None before it was first saved."""
        return self._path

    @property
    def is_modified(self) -> bool:
        """Whether closing now would lose something."""
        return not self._undo_stack.isClean()

    @property
    def is_busy(self) -> bool:
        """Whether the plan of the current project or preview is still being made."""
        return self._planner.is_busy

    @property
    def undo_stack(self) -> QUndoStack:
        """The steps back and forward; make the Undo and Redo actions from it."""
        return self._undo_stack

    def apply(self, text: str, project: Project, *, merge_key: str | None = None) -> None:
        """Make ``project`` the current one as an undo step called ``text`` ("Move hole A3").

        A project without a plan is refused through ``failed`` and changes nothing. Steps with the
        same ``merge_key`` in a row become one. A project equal to the current one adds no step.
        """
        raise NotImplementedError

    def preview(self, project: Project | None) -> None:
        """Show the plan of ``project`` without making it current; None shows the current one."""
        raise NotImplementedError

    def start(self, project: Project, path: Path | None = None, *, modified: bool = False) -> None:
        """Begin a fresh document with an empty undo stack.

        ``modified`` marks it as not yet saved (a recovered copy, the result of the guide).
        """
        raise NotImplementedError

    def open(self, path: Path) -> bool:
        """Read a project file and start with it; on failure ``failed`` says why, nothing else."""
        raise NotImplementedError

    def save(self, path: Path | None = None) -> bool:
        """Write the current project to ``path``, or to the file it came from.

        Returns whether it was written; if not, ``failed`` says why. Without any path it is a
        ValueError: the window asks for one first.
        """
        raise NotImplementedError
