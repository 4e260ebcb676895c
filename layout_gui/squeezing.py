"""The work of squeezing against the clock: for a child process, and for the command."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from geometry.compare.squeezing import Answer, Question, other_rows
from geometry.holes.sites import Coordinates
from geometry.holes.squeeze import finished, squeeze

SECONDS: Final = 4.0
"""How long is searched unless somebody says otherwise."""

_TELL_EVERY_S: Final = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Search:
    """How a search stands: the holes found, None while none were won.

    ``rows`` is what rows of another pattern would hold, where that is more than there is now.
    """

    xy: Coordinates | None
    left_s: float
    rows: int | None = None


def search(tell: Callable[[Search], None], question: Question, seconds: float = SECONDS) -> Answer:
    """Search for so many seconds, or until the ceiling; first look what other rows hold."""
    # Loading takes a while; the seconds belong to the search.
    import scipy.optimize  # noqa: PLC0415  loaded when first used
    import scipy.spatial  # noqa: F401, PLC0415  loaded when first used

    tell(Search(None, seconds))
    rows = other_rows(question)
    known = None if rows is None else len(rows)
    end = time.monotonic() + seconds
    told_at, best = -1.0, None

    def keep_going() -> bool:
        nonlocal told_at
        now = time.monotonic()
        if now - told_at > _TELL_EVERY_S:
            told_at = now
            tell(Search(best, max(0.0, end - now), known))
        return now < end

    def found(xy: Coordinates) -> None:
        nonlocal best, told_at
        best, told_at = xy, -1.0
        keep_going()

    won = squeeze(
        question.room,
        question.begin if rows is None else rows,
        ceiling=question.ceiling,
        generator=question.generator(),
        keep_going=keep_going,
        tell=found,
    )
    return Answer(None, known) if won is None else finish(tell, question, won, known)


def finish(
    _tell: Callable[[Search], None], question: Question, xy: Coordinates, rows: int | None
) -> Answer:
    """Make the holes of a search fit to be marked, of one that was stopped too."""
    return Answer(finished(question.room, xy, question.sites, question.step_mm), rows)
