"""Child processes whose work is done once for all tests that ask the same of it."""

from collections.abc import Iterator
from multiprocessing.reduction import ForkingPickler
from typing import Any, Final

import pytest

from layout_gui import child_process
from layout_gui.child_process import ChildProcess, News

_AT_ONCE: Final = 8
"""So many news come in one go: few enough that work can be stopped before its end."""

_known: dict[bytes, list[bytes]] = {}


class Remembered:
    """Stands in for a ``ChildProcess``: a real one the first time, its news read back from then on.

    What goes over is packed and unpacked as between two processes, so that nothing is shared.
    """

    def __init__(self, work: Any, *frozen: Any, **named: Any) -> None:
        self._key = bytes(ForkingPickler.dumps((work, frozen, sorted(named.items()))))
        news = _known.get(self._key)
        self._left = None if news is None else list(news)
        self._heard: list[bytes] = []
        self._real = ChildProcess(work, *frozen, **named) if news is None else None

    def news(self, wait_s: float = 0) -> Iterator[News]:
        if self._real is None:
            for _ in range(min(_AT_ONCE, len(self._left or ()))):
                if self._left:
                    yield ForkingPickler.loads(self._left.pop(0))
            return
        for came in self._real.news(wait_s):
            self._heard.append(bytes(ForkingPickler.dumps(came)))
            if came[0] == "done":
                _known[self._key] = self._heard
            yield came

    def stop(self) -> None:
        self._left = []
        if self._real is not None:
            self._real.stop()


def remember(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let nothing be worked out twice that was worked out once."""
    monkeypatch.setattr(child_process, "ChildProcess", Remembered)
