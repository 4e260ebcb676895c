"""Garbage is collected by the window's own thread only: no widget may end in another one."""

import gc
from typing import Final

from PySide6.QtCore import QObject, QTimer

_EVERY_MS: Final = 100


class Collector(QObject):
    """Takes over from Python's own collection, which runs in whatever thread allocates last.

    A widget that a worker's thread collects leaves its timers behind, and the next one to fire
    ends the program.
    """

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        gc.disable()
        self._timer = QTimer(self)
        self._timer.setInterval(_EVERY_MS)
        self._timer.timeout.connect(self._collect)
        self._timer.start()

    def _collect(self) -> None:
        """Collect the oldest generation that is due, as Python would."""
        due = [
            generation
            for generation, (count, limit) in enumerate(
                zip(gc.get_count(), gc.get_threshold(), strict=True)
            )
            if count > limit
        ]
        if due:
            gc.collect(max(due))
