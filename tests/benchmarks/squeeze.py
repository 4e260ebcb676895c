"""How often squeezing wins: rafts of five common sizes with margins and spacings as they come.

    python tests/benchmarks/squeeze.py [RAFTS [SECONDS]]

Each raft is on its own, its rows are the best of all patterns, and the search has four seconds.
"""

import sys
import time
from collections.abc import Iterator
from random import Random

from geometry.compare.squeezing import question_of
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.squeezing import search

SIZES = ((600, 600), (755, 755), (1200, 600), (2400, 1200), (2440, 1220))
MARGINS = range(25, 101, 5)
SPACINGS = range(100, 301, 5)
MOST = 130


def rafts(count: int) -> Iterator[Bed]:
    random = Random(1)  # noqa: S311  the same rafts every time
    while count:
        length, width = SIZES[count % len(SIZES)]
        spacing, margin = random.choice(SPACINGS), random.choice(MARGINS)
        planting = Planting(
            Length.of(spacing), Length.of(25), edge_margin=Length.of(margin), joints="separate"
        )
        bed = Bed("Raft", Rectangle(Length.of(length), Length.of(width)), planting=planting)
        if make_plan(Project("", beds=(bed,))).plants <= MOST:
            count -= 1
            yield bed


def main(count: int = 70, seconds: float = 4.0) -> None:
    before = won = gained = at_ceiling = proved = 0
    last_find: list[float] = []
    for bed in rafts(count):
        question = question_of(make_plan(Project("", beds=(bed,))).beds[0], "R1")
        before += len(question.begin)
        found_at = [0.0, 0.0]

        def tell(news: object, found_at: list[float] = found_at) -> None:
            xy = getattr(news, "xy", None)
            found_at[0] = found_at[0] or time.monotonic()
            if xy is not None and len(xy) != found_at[1]:
                found_at[1] = len(xy)
                found_at.append(time.monotonic() - found_at[0])

        found = search(tell, question, seconds).found if question.can_win else None
        more = len(found) - len(question.begin) if found else 0
        won += more > 0
        gained += more
        at_ceiling += len(question.begin) + more == question.ceiling
        proved += not question.can_win
        last_find += found_at[-1:] if more else []
        size = bed.outline
        assert isinstance(size, Rectangle)
        print(
            f"{size.length.mm:.0f} x {size.width.mm:.0f}, spacing "
            f"{bed.planting.spacing.mm:.0f}, margin {bed.planting.edge_margin.mm:.0f}: "
            f"{len(question.begin)} + {more}, ceiling {question.ceiling}"
            if bed.planting
            else "",
            flush=True,
        )
    print(
        f"{won} of {count} rafts gained, {gained} plants on {before} ({gained / before:.1%}); "
        f"{at_ceiling} stand at the ceiling, {proved} of them before any search; "
        f"the last find came after {max(last_find, default=0.0):.1f} s"
    )


if __name__ == "__main__":
    main(*(kind(value) for kind, value in zip((int, float), sys.argv[1:], strict=False)))
