"""The work of squeezing against the clock: for a child process, and for the command."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from geometry.compare.squeezing import Question
from geometry.holes.sites import Coordinates
from geometry.holes.squeeze import Squeezed, finished, squeeze

SECONDS: Final = 4.0
"""How long is searched unless somebody says otherwise."""

_TELL_EVERY_S: Final = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """How a search stands: the holes found, None while they are no more than there were."""

    xy: Coordinates | None
    left_s: float


def search(
    tell: Callable[[Search], None], question: Question, seconds: float = SECONDS
) -> Squeezed | None:
    """Search for so many seconds, or until the ceiling; None when nothing won was found."""
    # Loading takes a while; the seconds belong to the search.
    import scipy.optimize  # noqa: PLC0415  loaded when first used
    import scipy.spatial  # noqa: F401, PLC0415  loaded when first used

    end = time.monotonic() + seconds
    told_at, best = -1.0, None

    def keep_going() -> bool:
        nonlocal told_at
        now = time.monotonic()
        if now - told_at > _TELL_EVERY_S:
            told_at = now
            tell(Search(best, max(0.0, end - now)))
        return now < end

    def found(xy: Coordinates) -> None:
        nonlocal best, told_at
        best, told_at = xy, -1.0
        keep_going()

    won = squeeze(
        question.room,
        question.begin,
        ceiling=question.ceiling,
        generator=question.generator(),
        keep_going=keep_going,
        tell=found,
    )
    return None if won is None else finish(tell, question, won)


def finish(_tell: Callable[[Search], None], question: Question, xy: Coordinates) -> Squeezed:
    """Make holes of a search that was stopped fit to be marked."""
    return finished(question.room, xy, question.sites, question.step_mm)
