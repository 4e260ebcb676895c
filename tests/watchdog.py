"""A watchdog for the window: notes whatever keeps its thread busy for too long in one go.

From a thread of its own it looks where the window's thread is, a hundred times a second. The
outermost function of the window's that is running is what Qt, or a test in the place of Qt, has
called: nothing else can happen in the window until it returns. What counts is the time that the
window's own thread spends in it, so that a machine that is busy with other work, and waiting for a
worker, fail nothing. How fast the machine is in Python is measured by a loop, again whenever
something took long.
"""

import sys
import threading
import time
from collections import Counter
from dataclasses import dataclass, replace
from types import FrameType
from typing import Any, Final

LIMIT_S: Final = 0.1
"""So long the window's thread may be busy in one go."""

ALLOWED: Final = {
    ("main_window.py", "__init__"): "the window is built before it is shown",
    ("main_window.py", "furnish"): "done once, after the first picture",
    ("station_panels.py", "_make"): "the fields of a station are made once, when first seen",
    ("sighting.py", "place"): "a sight is made once, when first seen",
    ("yield_sight.py", "_on_loaded"): "its curves are made once, when first seen",
    ("look.py", "dress"): "Qt polishes all there is in one go, when colours are chosen",
    ("fields.py", "stepEnabled"): "Qt asks every field while it lays all out that was dressed anew",
}
"""What may take longer, and whatever waits for it as long: file and function, and why."""

PACKAGES: Final = ("windows", "canvas", "panels", "dialogs", "document", "screen")
"""The parts of ``layout_gui`` that run in the window's thread."""

_ROUNDS: Final = 200_000
_ROUNDS_S: Final = 0.01
"""So long the loop takes on a machine on which ``LIMIT_S`` is meant."""

_LOOK_EVERY_S: Final = 0.01
_MOST_PLACES: Final = 3


@dataclass(frozen=True, slots=True)
class Long:
    """What took long: the function, its thread's seconds, the limit then, where it was seen."""

    what: str
    seconds: float
    limit: float
    places: tuple[str, ...]

    def __str__(self) -> str:
        where = "".join(f"\n    {place}" for place in self.places)
        took, limit = 1000 * self.seconds, 1000 * self.limit
        return f"{self.what} kept the window busy for {took:.0f} ms (at most {limit:.0f}):{where}"


class Watchdog:
    """Looks after the thread that makes it, while ``is_on``."""

    def __init__(self, packages: tuple[str, ...] = PACKAGES) -> None:
        self.is_on = False
        self._parts = tuple(f"/layout_gui/{package}/" for package in packages)
        self._found: list[Long] = []
        self._watched = threading.get_ident()
        self._clock = time.pthread_getcpuclockid(self._watched)
        self._mark: object = None
        self._what = ("", "")
        self._began = self._last = self._took = 0.0
        self._seen: Counter[str] = Counter()
        threading.Thread(target=self._go_on, name="watchdog", daemon=True).start()

    def take(self) -> list[Long]:
        """Return what took too long since this was last asked."""
        self._close()
        self._last = time.clock_gettime(self._clock)
        found, self._found = self._found, []
        if not found:
            return []
        limit = LIMIT_S * max(slowness(), 1.0)
        return [replace(one, limit=limit) for one in found if one.seconds > limit]

    def _go_on(self) -> None:
        while True:
            time.sleep(_LOOK_EVERY_S)
            if self.is_on and sys.gettrace() is None:
                self._look(sys._current_frames().get(self._watched))
            else:
                self._last = time.clock_gettime(self._clock)

    def _look(self, frame: FrameType | None) -> None:
        now = time.clock_gettime(self._clock)
        places, outermost = [], None
        while frame is not None:
            code = frame.f_code
            is_ours = "/layout_gui/" in code.co_filename or "/geometry/" in code.co_filename
            if is_ours and "/tests/" not in code.co_filename:
                places.append(f"{code.co_filename}:{frame.f_lineno} {code.co_name}")
                if any(part in code.co_filename for part in self._parts):
                    outermost = frame
            if (code.co_filename.rsplit("/", 1)[-1], code.co_name) in ALLOWED:
                outermost = None
                break
            frame = frame.f_back
        if outermost is None:
            self._close()
        else:
            self._look_into(outermost, now, " < ".join(places[:_MOST_PLACES]))
        self._last = now

    def _look_into(self, outermost: FrameType, now: float, place: str) -> None:
        # A frame that is another one may lie where the last one lay: so each gets a mark.
        mark: Any = outermost.f_trace
        if mark is None or mark is not self._mark:
            self._close()
            self._mark = outermost.f_trace = _Mark()
            file = outermost.f_code.co_filename.rsplit("/", 1)[-1]
            self._what = file, outermost.f_code.co_name
            # Whoever holds the interpreter for long is first seen when it lets go.
            self._began = self._last if now - self._last > LIMIT_S else now
        self._seen[place] += 1
        self._took = now - self._began

    def _close(self) -> None:
        if self._took > LIMIT_S:
            places = tuple(place for place, _ in self._seen.most_common(4))
            self._found.append(Long(" ".join(self._what), self._took, LIMIT_S, places))
        self._mark, self._took = None, 0.0
        self._seen.clear()


class _Mark:
    """Says of a frame that it was seen; nobody traces here."""

    def __call__(self, *_event: object) -> None:
        """Trace nothing."""


def slowness() -> float:
    """How many times slower than meant this machine is now, by the best of three loops."""
    return min(_loop() for _ in range(3)) / _ROUNDS_S


def _loop() -> float:
    began = time.thread_time()
    total = 0
    for number in range(_ROUNDS):
        total += number % 7
    return time.thread_time() - began
