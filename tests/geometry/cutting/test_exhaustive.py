"""Small cut plans against trying everything: every set of rafts, every place of every cut."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.cutting.best import best_cut_plan
from geometry.model.sheet import Cutting
from tests.geometry.cutting.workshop import board, inspect_all, length

Sizes = tuple[tuple[int, int], ...]


@cache
def _fits(sizes: Sizes, long: int, wide: int, turn: bool) -> bool:
    """Try whether straight cuts free all these pieces from one board."""
    if len(sizes) == 1:
        one, other = sizes[0]
        return (one <= long and other <= wide) or (turn and other <= long and one <= wide)
    if sum(one * other for one, other in sizes) > long * wide:
        return False
    return any(
        any(_fits(a, at, wide, turn) and _fits(b, long - at, wide, turn) for at in range(1, long))
        or any(
            _fits(a, long, at, turn) and _fits(b, long, wide - at, turn) for at in range(1, wide)
        )
        for a, b in _halves(sizes)
    )


def _halves(sizes: Sizes) -> Iterator[tuple[Sizes, Sizes]]:
    for mask in range(1, 2 ** len(sizes) - 1):
        yield (
            tuple(size for k, size in enumerate(sizes) if mask >> k & 1),
            tuple(size for k, size in enumerate(sizes) if not mask >> k & 1),
        )


def _fewest(sizes: Sizes, long: int, wide: int, turn: bool) -> int:
    """Count the boards of the best way to share the pieces out."""
    if not sizes:
        return 0
    rest = sizes[1:]
    best = len(sizes)
    for mask in range(2 ** len(rest)):
        here = (sizes[0], *(size for k, size in enumerate(rest) if mask >> k & 1))
        left = tuple(size for k, size in enumerate(rest) if not mask >> k & 1)
        if _fits(tuple(sorted(here)), long, wide, turn):
            best = min(best, 1 + _fewest(left, long, wide, turn))
    return best


@settings(max_examples=60, deadline=None)
@given(
    wanted=st.lists(st.tuples(st.integers(2, 7), st.integers(2, 6)), min_size=1, max_size=5),
    kerf=st.sampled_from([0, 1]),
    turn=st.booleans(),
)
def test_no_way_of_cutting_needs_fewer_sheets(
    wanted: list[tuple[int, int]], kerf: int, turn: bool
) -> None:
    # Every piece fits the board as it is given. Cutting with kerf is cutting without one after
    # pieces and board have grown by it.
    needed = [(f"{k}", Fraction(x), Fraction(y), 1) for k, (x, y) in enumerate(wanted)]
    sheets, cutting = [board(9, 7)], Cutting(length(kerf), turn=turn)

    plan = best_cut_plan(needed, sheets, cutting)

    sizes = tuple(sorted((x + kerf, y + kerf) for x, y in wanted))
    fewest = _fewest(sizes, 9 + kerf, 7 + kerf, turn)
    inspect_all(plan, needed, sheets, cutting)
    assert plan.sheet_count == fewest
    assert plan.bound == fewest
