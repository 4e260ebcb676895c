"""Makes plans: at once when that is quick, otherwise in a worker while the window stays alive."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

from PySide6.QtCore import QObject, Qt, Signal

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import Plan

MakePlan = Callable[[Project, Plan | None], Plan]

PATIENCE_S = 0.05


class Planner(QObject):
    """Runs ``make_plan`` over frozen values in one worker thread.

    ``ask`` waits ``patience_s`` for the result; a plan that takes longer is announced by
    ``planned`` or ``refused``. Only the project asked for last is ever announced.
    """

    planned = Signal(object)
    """A Plan that was not ready in time for ``ask`` to return it."""

    refused = Signal(object, str)
    """The Project that has no plan, and the sentence that says why."""

    busy_changed = Signal()

    _landed = Signal(object)

    def __init__(
        self, make_plan: MakePlan, *, patience_s: float = PATIENCE_S, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._make_plan = make_plan
        self._patience_s = patience_s
        self._worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="plan")
        self._wanted: tuple[Project, Plan | None] | None = None
        self._running: Future[Plan] | None = None
        self._landed.connect(self._on_landed, Qt.ConnectionType.QueuedConnection)
        self.destroyed.connect(lambda: self._worker.shutdown(wait=False, cancel_futures=True))

    @property
    def is_busy(self) -> bool:
        """Whether a plan is being made."""
        return self._wanted is not None

    def ask(self, project: Project, previous: Plan | None) -> Plan | None:
        """Return the plan if it can be had at once, otherwise None and announce it later.

        Raises what ``make_plan`` raises when that happens within the time of waiting.
        """
        raise NotImplementedError(project, previous, GeometryError)

    def forget(self) -> None:
        """Want no plan any more: a running one will not be announced."""
        raise NotImplementedError

    def _on_landed(self, future: Future[Plan]) -> None:
        raise NotImplementedError(future)
