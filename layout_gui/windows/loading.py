"""After the first picture: what a bed needs is loaded while the window is alive already.

Then, while nothing else is going on, what is looked at next, so that no station is waited for.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from importlib import import_module
from typing import Final

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QWidget

from layout_gui.document.post import Post

WORK: Final = (
    "geometry.plan",
    "layout_gui.project.edits",
    "layout_gui.project.file",
    "layout_gui.wording.findings",
    "geometry.drawing.water_figures",
    "geometry.compare.comparison",
)
"""Loaded by a worker. They know no Qt, and take longer than the window may stand still."""

PARTS: Final = (
    "layout_gui.canvas.view",
    "layout_gui.panels.whatif",
    "layout_gui.panels.station_panels",
    "layout_gui.windows.furniture",
)
"""Loaded by the window's own thread, one a turn of its loop."""

LATER_WORK: Final = ("geometry.flow.what_if", "layout_gui.output.documents")
LATER_PARTS: Final = (
    "layout_gui.panels.rafts_panel",
    "layout_gui.panels.holes_panel",
    "layout_gui.panels.grow_panel",
    "layout_gui.panels.runs_part",
    "layout_gui.panels.make_view",
    "layout_gui.panels.make_panel",
)
"""The same again, for the stations that are not seen yet."""

_REST_MS: Final = 200


class Loading(QObject):
    """Loads what a bed needs once a window has been painted, then calls ``then``.

    What comes later is loaded as soon as ``is_busy`` says no.
    """

    def __init__(
        self, window: QWidget, then: Callable[[], object], is_busy: Callable[[], bool]
    ) -> None:
        super().__init__(window)
        self._then = then
        self._is_busy = is_busy
        self._left: list[str] = []
        self._on_end: Callable[[], object] = self._go_on
        self._rest = QTimer(self, singleShot=True, interval=_REST_MS)
        self._rest.timeout.connect(self._load_the_rest)
        self._post = Post(self)
        window.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Begin with the first picture."""
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self, lambda: self._load(WORK, PARTS))
        return False

    def _load(self, work: Sequence[str], parts: Sequence[str]) -> None:
        self._left = list(parts)
        worker = ThreadPoolExecutor(max_workers=1, thread_name_prefix="load")
        worker.submit(_import_all, work).add_done_callback(self._announce)
        worker.shutdown(wait=False)

    def _announce(self, done: Future[None]) -> None:
        self._post.send(lambda: self._on_loaded(done))

    def _on_loaded(self, done: Future[None]) -> None:
        done.result()
        self._load_part()

    def _load_part(self) -> None:
        if self._left:
            import_module(self._left.pop(0))
            QTimer.singleShot(0, self, self._load_part)
        else:
            self._on_end()

    def _go_on(self) -> None:
        self._on_end = lambda: None
        self._then()
        self._rest.start()

    def _load_the_rest(self) -> None:
        if self._is_busy():
            self._rest.start()
        else:
            self._load(LATER_WORK, LATER_PARTS)


def _import_all(names: Sequence[str]) -> None:
    for name in names:
        import_module(name)
