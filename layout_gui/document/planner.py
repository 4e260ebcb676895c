"""Makes plans: at once when that is quick, otherwise in a worker while the window stays alive."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final  # noqa: TID251  loaded after the window is shown

from PySide6.QtCore import QObject, QTimer, Signal

from geometry.errors import GeometryError
from geometry.watch import watched
from layout_gui.document.post import Post

if TYPE_CHECKING:
    from geometry.model.project import Project
    from geometry.plan import Plan

MakePlan = Callable[["Project", "Plan | None"], "Plan"]

PATIENCE_S = 0.05
"""How long the window waits for a plan before the worker goes on alone."""


_TELL_MS: Final = 100


@dataclass(slots=True, eq=False)
class Job:
    """A plan to make; two jobs are the same only when they are one object.

    The worker writes ``done``, the share that is made, and reads ``is_wanted``.
    """

    project: Project
    previous: Plan | None
    done: float = 0.0
    is_wanted: bool = True

    def go_on(self, done: float) -> bool:
        """Take notice of how far the work is, and tell it whether to go on."""
        self.done = max(self.done, done)
        return self.is_wanted


class Planner(QObject):
    """Runs ``make_plan`` over frozen values in one worker thread.

    ``ask`` waits ``patience_s`` for the result; a plan that takes longer is announced by
    ``planned`` or ``refused``. Only the project asked for last is ever announced; work on any other
    is told to stop.
    """

    planned = Signal(object)
    """A Plan that was not ready in time for ``ask`` to return it."""

    refused = Signal(object, str)
    """The Project that has no plan, and the sentence that says why."""

    busy_changed = Signal()

    progressed = Signal(float)
    """Which share of the plan that is waited for is made, now and then while it is."""

    def __init__(
        self, make_plan: MakePlan, *, patience_s: float = PATIENCE_S, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._make_plan = make_plan
        self._patience_s = patience_s
        self._wanted: Job | None = None
        self._running: Job | None = None
        self._jobs: list[Job] = []
        jobs = self._jobs
        self._worker = worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="plan")
        self._post = Post(self)
        self._teller = QTimer(self, interval=_TELL_MS)
        self._teller.timeout.connect(self._tell)

        def stop_all() -> None:
            for job in jobs:
                job.is_wanted = False
            worker.shutdown(wait=False, cancel_futures=True)

        self.destroyed.connect(stop_all)

    @property
    def is_busy(self) -> bool:
        """Whether a plan that somebody waits for is being made."""
        return self._wanted is not None

    def ask(self, project: Project, previous: Plan | None) -> Plan | None:
        """Return the plan if it can be had at once, otherwise None and announce it later.

        Raises what ``make_plan`` raises when that happens within the time of waiting.
        """
        job = Job(project, previous)
        if self._running is not None:
            self._want(job)
            return None
        future = self._begin(job)
        try:
            plan = future.result(timeout=self._patience_s)
        except TimeoutError:
            self._want(job)
            future.add_done_callback(self._announce)
            return None
        except BaseException:
            self._running = None
            raise
        self._running = None
        return plan

    def is_wanted(self, project: Project) -> bool:
        """Whether the plan of this very project is still to be announced."""
        return self._wanted is not None and self._wanted.project is project

    def forget(self) -> None:
        """Want no plan any more: one that is still being made will not be announced."""
        self._want(None)

    def _want(self, job: Job | None) -> None:
        was_busy, self._wanted = self.is_busy, job
        if self._running is not None:
            self._running.is_wanted = self._running is job
        if was_busy != self.is_busy:
            if self.is_busy:
                self._teller.start()
            else:
                self._teller.stop()
            self.busy_changed.emit()

    def _tell(self) -> None:
        if self._wanted is not None:
            self.progressed.emit(self._wanted.done)

    def _begin(self, job: Job) -> Future[Plan]:
        self._running = job
        self._jobs[:] = [job]
        return self._worker.submit(self._make, job)

    def _make(self, job: Job) -> Plan:
        with watched(job.go_on):
            return self._make_plan(job.project, job.previous)

    def _announce(self, future: Future[Plan]) -> None:
        self._post.send(lambda: self._on_landed(future))

    def _on_landed(self, future: Future[Plan]) -> None:
        landed, self._running = self._running, None
        wanted = self._wanted
        if wanted is None:
            return
        if wanted is not landed:
            self._begin(wanted).add_done_callback(self._announce)
            return
        self._want(None)
        try:
            plan = future.result()
        except GeometryError as error:
            self.refused.emit(wanted.project, str(error))
        else:
            self.planned.emit(plan)
