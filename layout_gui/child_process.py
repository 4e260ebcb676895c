"""Long work in a process of its own, so that it can be stopped at once and blocks nothing.

The work is a function of a module, ``work(tell, *frozen)``. It calls ``tell(value)`` with what it
has so far and returns its result. Arguments, news and result are frozen values; they cross in the
form that the standard library gives them, between two copies of this program and nowhere else.
"""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator
from multiprocessing.connection import Connection, wait
from typing import Any, Concatenate, Final, Literal, ParamSpec

from geometry.errors import GeometryError
from geometry.tongue import Tongue, set_tongue, spoken, tr

Frozen = ParamSpec("Frozen")

Tell = Callable[[Any], None]
"""How the work tells its news: any frozen value, as often as it likes."""

News = tuple[Literal["told", "done", "failed"], Any]
"""What came: a value from work that goes on; its result; or the sentence that says why none."""

_context = multiprocessing.get_context("spawn")
"""A process begins as a fresh interpreter, which is alike on all systems and copies no Qt."""

_GRACE_S: Final = 0.3
"""How long a process that was told to end may take before it is ended by force."""


class ChildProcess:
    """One piece of work in one process, from its start to its end.

    The process ends with the work, with ``stop``, and with the process that started it, however
    that ends. It is a fresh interpreter, so its first news takes some tenths of a second.
    """

    def __init__(
        self,
        work: Callable[Concatenate[Tell, Frozen], object],
        *frozen: Frozen.args,
        **named: Frozen.kwargs,
    ) -> None:
        self._ear, mouth = _context.Pipe(duplex=False)
        self._process = _context.Process(
            target=_serve, args=(mouth, spoken(), work, frozen, named), name="work", daemon=True
        )
        self._process.start()
        mouth.close()  # the child has its own; only so does its end show here
        self._is_over = False

    def news(self, wait_s: float = 0) -> Iterator[News]:
        """Give the news that have come, in their order; wait ``wait_s`` for the first.

        "done" or "failed" is the last; after it, and after ``stop``, nothing comes.
        """
        while not self._is_over:
            try:
                if not self._ear.poll(wait_s):
                    return
                came: News = self._ear.recv()
            except (EOFError, OSError):
                came = "failed", self._why_it_ended()
            wait_s = 0
            if came[0] != "told":
                self.stop()
            yield came

    def stop(self) -> None:
        """End the work now; what it has not told is lost. Does nothing after the end."""
        if self._is_over:
            return
        self._is_over = True
        self._ear.close()
        self._process.terminate()
        self._process.join(_GRACE_S)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()
        self._process.close()

    def _why_it_ended(self) -> str:
        self._process.join(_GRACE_S)
        return tr(
            "The calculation ended by itself (code {code}) and left no result. "
            "Nothing was changed; try again.",
            code=self._process.exitcode,
        )


def _serve(
    mouth: "Connection[News, Any]",
    tongue: Tongue,
    work: Callable[..., object],
    frozen: tuple[Any, ...],
    named: dict[str, Any],
) -> None:
    """Do the work in the child, in the tongue of the parent, and tell what comes of it."""
    set_tongue(tongue)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent hears Ctrl+C and decides
    threading.Thread(target=_end_with_parent, daemon=True).start()
    try:
        last: News = "done", work(lambda value: mouth.send(("told", value)), *frozen, **named)
    except GeometryError as error:
        last = "failed", str(error)
    except MemoryError:
        last = "failed", tr("The calculation does not fit into the memory of this computer.")
    mouth.send(last)


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(0)
