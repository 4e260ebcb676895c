"""After the first picture: what a bed needs is loaded while the window is alive already."""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from importlib import import_module
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QWidget

WORK: Final = ("geometry.plan", "layout_gui.project.file", "layout_gui.wording")
"""Loaded by a worker. They know no Qt, and take longer than the window may stand still."""

PARTS: Final = (
    "layout_gui.project.edits",
    "layout_gui.canvas.view",
    "layout_gui.panels.make_view",
    "layout_gui.panels.whatif",
    "layout_gui.panels.station_panels",
    "layout_gui.windows.furniture",
)
"""Loaded by the window's own thread, one a turn of its loop."""


class Loading(QObject):
    """Loads ``WORK`` and ``PARTS`` once a window has been painted, then calls ``then``."""

    _loaded = Signal(object)

    def __init__(self, window: QWidget, then: Callable[[], object]) -> None:
        super().__init__(window)
        self._window = window
        self._then = then
        self._left = list(PARTS)
        self._loaded.connect(self._on_loaded, Qt.ConnectionType.QueuedConnection)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Begin with the first picture."""
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self, self._begin)
        return False

    def _begin(self) -> None:
        worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="load")
        worker.submit(_load, WORK).add_done_callback(self._announce)
        worker.shutdown(wait=False)

    def _announce(self, done: Future[None]) -> None:
        # The window may have closed while things were loaded.
        with suppress(RuntimeError):
            self._loaded.emit(done)

    def _on_loaded(self, done: Future[None]) -> None:
        done.result()
        self._load_part()

    def _load_part(self) -> None:
        if self._left:
            import_module(self._left.pop(0))
            QTimer.singleShot(0, self, self._load_part)
        else:
            self._then()


def _load(names: tuple[str, ...]) -> None:
    for name in names:
        import_module(name)
