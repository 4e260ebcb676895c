"""From a worker to the window: a call that the window's thread makes, if its owner is still there.

A signal of the owner cannot do this: while a worker emits it the owner may be destroyed, and Qt
then reads what is no more. The box between them is never destroyed while a worker runs.
"""

from collections.abc import Callable
from functools import cache
from typing import Final
from weakref import ref

import shiboken6
from PySide6.QtCore import QObject, Qt, Signal

Call = Callable[[], object]


class _Box(QObject):
    """Hands on in its own thread what comes from others."""

    came = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.came.connect(self._hand_on, Qt.ConnectionType.QueuedConnection)

    def _hand_on(self, letter: tuple[ref[QObject], Call]) -> None:
        owner, call = letter[0](), letter[1]
        if owner is not None and shiboken6.isValid(owner):
            call()


class Post:
    """What an object of the window gives to its workers; made in the window's thread."""

    def __init__(self, owner: QObject) -> None:
        self._owner: Final = ref(owner)
        self._box: Final = _box()

    def send(self, call: Call) -> None:
        """Let the window's thread make this call, unless the owner is gone by then."""
        self._box.came.emit((self._owner, call))


@cache
def _box() -> _Box:
    return _Box()
