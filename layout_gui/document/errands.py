"""Work on the disk for the window: quick work is waited for, slow work goes on beside it."""

from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor, wait
from typing import Any

from PySide6.QtCore import QObject, Signal

from layout_gui.document.post import Post

Then = Callable[[Future[Any]], object]
"""Takes finished work: its result, or what it raised."""


class Errands(QObject):
    """Runs work one after the other in one thread, and brings it back to the window's own.

    Nothing that was begun is given up, not even when the window closes: the program waits for it.
    """

    busy_changed = Signal()

    def __init__(self, *, patience_s: float, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._patience_s = patience_s
        self._running: deque[tuple[Future[Any], Then]] = deque()
        self._worker = worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="disk")
        self.destroyed.connect(lambda: worker.shutdown(wait=False))
        self._post = Post(self)

    @property
    def is_busy(self) -> bool:
        """Whether work goes on beside the window."""
        return bool(self._running)

    def run(self, work: Callable[[], Any], then: Then) -> None:
        """Do ``work``, and ``then`` with what came of it: at once if it is quick, or later."""
        future = self._worker.submit(work)
        if not self._running:
            wait([future], timeout=self._patience_s)
            if future.done():
                then(future)
                return
        self._running.append((future, then))
        future.add_done_callback(self._announce)
        self.busy_changed.emit()

    def _announce(self, _future: Future[Any]) -> None:
        self._post.send(self._on_landed)

    def _on_landed(self) -> None:
        while self._running and self._running[0][0].done():
            future, then = self._running.popleft()
            then(future)
        self.busy_changed.emit()
