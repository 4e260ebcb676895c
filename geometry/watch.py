"""Long work that somebody watches: how far it is, and whether to go on.

Whoever starts the work wraps it in ``watched``; the work looks up now and then. Between the two
nothing is handed down, and without a watcher looking up does nothing. What is made never depends on
it: work is finished, or it is stopped and nothing is made.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Final

GoOn = Callable[[float], bool]
"""Hears which share of the work is done, from 0 to 1, and answers whether to go on."""


class Stopped(Exception):  # noqa: N818  nothing went wrong
    """The watcher wants the work no longer."""


@dataclass(frozen=True, slots=True)
class _Watch:
    go_on: GoOn
    begin: float = 0.0
    end: float = 1.0

    def at(self, share: float) -> float:
        return self.begin + (self.end - self.begin) * min(max(share, 0.0), 1.0)


_watch: Final[ContextVar[_Watch | None]] = ContextVar("watch", default=None)


@contextmanager
def watched(go_on: GoOn) -> Iterator[None]:
    """Let ``go_on`` watch all work within, in this thread only."""
    token = _watch.set(_Watch(go_on))
    try:
        yield
    finally:
        _watch.reset(token)


@contextmanager
def part(begin: float, end: float) -> Iterator[None]:
    """Count the work within as this part of the work around it, each a share from 0 to 1."""
    watch = _watch.get()
    if watch is None:
        yield
        return
    token = _watch.set(_Watch(watch.go_on, watch.at(begin), watch.at(end)))
    try:
        look_up()
        yield
    finally:
        _watch.reset(token)


def look_up(share: float = 0.0) -> None:
    """Tell the watcher which share of the present part is surely done; raises Stopped if told to.

    A share lower than one told before says nothing new: the watcher keeps the highest.
    """
    watch = _watch.get()
    if watch is not None and not watch.go_on(watch.at(share)):
        raise Stopped
