"""Work beside the window: frozen values in, a result out, and only the newest one counts."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Any

from PySide6.QtCore import QObject, Signal

from layout_gui.document.post import Post

IsWanted = Callable[[], bool]
"""Tells a running piece of work whether its result is still wanted; it may be asked often."""


class Background(QObject):
    """Runs one piece of work at a time in a worker thread.

    ``done`` carries the result of the work asked for last; whatever was asked before it is
    dropped. ``failed`` carries the error of work that raised.
    """

    done = Signal(object)
    failed = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._worker = worker = ThreadPoolExecutor(max_workers=1)
        self._running: Future[Any] | None = None
        self._ticket = object()
        self._post = Post(self)
        self.destroyed.connect(lambda: worker.shutdown(wait=False, cancel_futures=True))

    @property
    def is_busy(self) -> bool:
        """Whether a result is still to come."""
        return self._running is not None

    def ask(self, work: Callable[[IsWanted], object]) -> None:
        """Run ``work``, unless something else is asked for first."""
        self.forget()
        ticket = self._ticket
        self._running = self._worker.submit(work, lambda: self._ticket is ticket)
        self._running.add_done_callback(self._announce)

    def forget(self) -> None:
        """Want no result any more; work that asks stops soon, other work runs out unheard."""
        self._ticket = object()
        if self._running is not None:
            self._running.cancel()
        self._running = None

    def _announce(self, future: Future[Any]) -> None:
        self._post.send(lambda: self._on_landed(future))

    def _on_landed(self, future: Future[Any]) -> None:
        if future is not self._running:
            return
        self._running = None
        error = future.exception()
        if error is not None:
            self.failed.emit(error)
        else:
            self.done.emit(future.result())
