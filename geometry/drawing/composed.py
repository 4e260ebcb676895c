"""A document whose pages are each drawn by themselves, when they are wanted."""

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass

from geometry.drawing.paper import Page


@dataclass(frozen=True, slots=True)
class Composed:
    """So many pages, drawn one by one; ``draw`` is given their numbers, from 1."""

    total: int
    draw: Callable[[int], Page]

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only``, those of these numbers."""
        for number in range(1, self.total + 1):
            if only is None or number in only:
                yield self.draw(number)
