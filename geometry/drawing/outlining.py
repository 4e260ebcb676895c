"""Words that the bundled fonts cannot set: they are drawn by their outlines.

Which fonts there are only the window's tool kit knows, so whoever starts it hands in an outliner
(``set_outliner``). Layout takes the widths from it and back ends the outlines: they agree. Without
one, what the bundled fonts lack is shown as a box.
"""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from geometry.model.curves import Point

Step = tuple[Literal["move", "line", "curve"], tuple[Point, ...]]
"""A move or a line to a point; a cubic curve by two pulls and its end."""


@dataclass(frozen=True, slots=True)
class Outlined:
    """A line of text as outlines, in shares of the font size, y up from the start of its baseline.

    ``width`` is the advance of the line; ``missing`` are the characters that no font has, each
    once. Layout asks for these a hundred times before a line is drawn, so ``draw`` makes the
    ``steps`` only when they are wanted.
    """

    width: float
    draw: Callable[[], tuple[Step, ...]]
    missing: str = ""

    @property
    def steps(self) -> tuple[Step, ...]:
        """Closed shapes, to be filled by the non-zero rule."""
        return self.draw()


Outliner = Callable[[str, bool], Outlined | None]
"""Gives the outlines of a text, bold or not, or None if it cannot; any thread may ask it."""

_slot: list[Outliner | None] = [None]
# One slot for all threads: workers draw as the window does. Setting an item is atomic.


def set_outliner(outliner: Outliner | None) -> None:
    """Draw with this outliner from now on, in all threads of this process."""
    _slot[0] = outliner


@contextmanager
def outlining(outliner: Outliner | None) -> Iterator[None]:
    """Draw with another outliner for a while, in all threads of this process."""
    before = _slot[0]
    set_outliner(outliner)
    try:
        yield
    finally:
        set_outliner(before)


def outlined(text: str, *, bold: bool = False) -> Outlined | None:
    """Return the outlines of a text; None where nobody can draw any."""
    outliner = _slot[0]
    return None if outliner is None else _outlined(outliner, text, bold)


def subpaths(steps: Iterable[Step]) -> Iterator[tuple[Step, ...]]:
    """Give the closed shapes of an outline one by one."""
    shape: list[Step] = []
    for step in steps:
        if step[0] == "move" and shape:
            yield tuple(shape)
            shape = []
        shape.append(step)
    if shape:
        yield tuple(shape)


@lru_cache(maxsize=4096)
def _outlined(outliner: Outliner, text: str, bold: bool) -> Outlined | None:  # noqa: FBT001 - a key of the cache
    return outliner(text, bold)
