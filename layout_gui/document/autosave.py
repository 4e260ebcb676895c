"""Unsaved work is kept safe beside the grower's files, so that no crash costs more than seconds."""

from __future__ import annotations

import time
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final  # noqa: TID251  loaded after the window is shown

from PySide6.QtCore import QObject, QTimer, Signal

from layout_gui.document.document import Document
from layout_gui.document.post import Post
from layout_gui.document.recovery import Slot
from layout_gui.document.state import version
from layout_gui.project.faults import why_not
from layout_gui.project.recovery_file import Head

if TYPE_CHECKING:
    from geometry.model.project import Project

QUIET_S: Final = 5.0
"""How long after the last change."""
LATEST_S: Final = 60.0
"""How long after the first change at the latest."""
_PATIENCE_S: Final = 10.0


class Autosave(QObject):
    """Writes the recovery file of a document in a worker while it has unsaved changes.

    The file goes when the work is saved, taken back, or given up by closing or by opening another
    project. ``troubled`` carries a reason when it cannot be written, once, "" when it can again.
    """

    troubled = Signal(str)

    def __init__(
        self,
        document: Document,
        folder: Path,
        *,
        quiet_s: float = QUIET_S,
        latest_s: float = LATEST_S,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._folder = folder
        self._slot = Slot(folder)
        self._is_kept = False
        self._seen: Project | None = None
        self._reason = ""
        self._worker = worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="autosave")
        self.destroyed.connect(lambda: worker.shutdown(wait=False))
        self._quiet = self._make_timer(quiet_s)
        self._latest = self._make_timer(latest_s)
        self._post = Post(self)
        document.started.connect(self._on_started)
        document.state_changed.connect(self._on_state)

    @property
    def file(self) -> Path:
        """Where the work of the document is kept, while there is any to keep."""
        return self._slot.file

    @property
    def is_waiting(self) -> bool:
        """Whether a change is still to be kept."""
        return self._quiet.isActive() or self._latest.isActive()

    def adopt(self, slot: Slot) -> None:
        """Go on with the recovery file of left-over work, which the document was started with."""
        self._rest()
        self._slot, self._is_kept = slot, True
        self._seen = self._document.project

    def write_now(self) -> Path | None:
        """Keep the work safe before anything else happens; None if there is none, or it failed."""
        if not self._document.is_modified:
            return None
        self._rest()
        with suppress(Exception):
            if not self._write().result(timeout=_PATIENCE_S):
                return self.file
        return None

    def finish(self) -> None:
        """Take the file away, since the document is closed: saved, or given up on purpose."""
        self._document.disconnect(self)
        self._drop()
        # A program that ends waits for its workers.
        self._worker.shutdown(wait=False)

    def _make_timer(self, seconds: float) -> QTimer:
        timer = QTimer(self, interval=round(seconds * 1000), singleShot=True)
        timer.timeout.connect(self._on_time)
        return timer

    def _on_started(self) -> None:
        self._drop()
        self._slot = Slot(self._folder)
        self._reason = ""

    def _on_state(self) -> None:
        project = self._document.project
        if not self._document.is_modified:
            if self._seen is not None or self._is_kept:
                self._drop()
        elif project is not self._seen:
            self._seen = project
            self._quiet.start()
            if not self._latest.isActive():
                self._latest.start()

    def _on_time(self) -> None:
        self._rest()
        self._write()

    def _rest(self) -> None:
        self._quiet.stop()
        self._latest.stop()

    def _drop(self) -> None:
        self._rest()
        self._seen = None
        if self._is_kept:
            self._is_kept = False
            self._worker.submit(self._slot.drop)

    def _write(self) -> Future[str]:
        slot, project, path = self._slot, self._document.project, self._document.path

        def work() -> str:
            belongs_to = str(path.absolute()) if path else ""
            head = Head(slot.id, project.name, belongs_to, time.time(), version())
            try:
                slot.write(head, project)
            except (OSError, ValueError) as error:
                reason = why_not(error) if isinstance(error, OSError) else str(error)
            else:
                reason = ""
            self._post.send(lambda: self._on_wrote(reason))
            return reason

        self._is_kept = True
        return self._worker.submit(work)

    def _on_wrote(self, reason: str) -> None:
        if bool(reason) is not bool(self._reason):
            self.troubled.emit(reason)
        self._reason = reason
        if reason:
            self._seen = None  # the next change, or the next look, tries again
