"""A proved bound on the sheets, and the patterns that come close to it: column generation.

A linear program prices the pieces, and one sheet after the other is filled with the most worth at
these prices until none is worth more than it costs. Source: P. C. Gilmore, R. E. Gomory, A linear
programming approach to the cutting-stock problem, Operations Research 9 (1961).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from geometry.cutting.grid import Grid
from geometry.cutting.solver import Covering, Prices, relaxed
from geometry.cutting.task import Counts, Pattern, Task

_FINE: Final = 10**7
"""Prices are rounded down to this part of the dearest sheet, so that the bound is exact."""

MOST_ROUNDS: Final = 300
MOST_WEIGHED: Final = 200_000_000
"""Cuts weighed in all rounds together, which is what limits them on fine grids."""

Pool = dict[tuple[int, Counts], Pattern]
"""Patterns by stock and by the pieces that they yield."""


@dataclass(frozen=True, slots=True)
class Generated:
    """The best proved bound before rounding up, and how much of each pattern the program took."""

    bound: Fraction
    amounts: dict[tuple[int, Counts], float]


def put(pool: Pool, pattern: Pattern, sizes: int) -> bool:
    """Put a pattern into the pool; tells whether it is new there."""
    key = pattern.stock, pattern.counts(sizes)
    if key in pool:
        return False
    pool[key] = pattern
    return True


def covering(task: Task, pool: Pool, fine: Fraction | None = None) -> Covering:
    """State the choice among the patterns of the pool as a covering.

    With a ``fine`` a raft may be left without a sheet at that cost: the last columns, one a size.
    """
    sizes = len(task.sizes)
    missing = range(sizes if fine is not None else 0)
    return Covering(
        counts=[counts for _, counts in pool]
        + [tuple(int(each == size) for each in range(sizes)) for size in missing],
        costs=[task.stocks[stock].cost for stock, _ in pool]
        + [fine or Fraction(0) for _ in missing],
        stocks=[stock for stock, _ in pool] + [-1 for _ in missing],
        demand=task.demand,
        limits=[stock.limit for stock in task.stocks],
    )


def generate(
    task: Task,
    grids: Sequence[Grid],
    pool: Pool,
    keep_going: Callable[[], bool],
    fine: Fraction | None = None,
) -> Generated:
    """Add to the pool until no pattern could lower the cost.

    Without a ``fine`` for rafts left out the pool must reach the demand. Stops early when told to;
    the bound is proved all the same.
    """
    bound = Fraction(0)
    amounts: dict[tuple[int, Counts], float] = {}
    weighed = sum(grid.work for grid in grids)
    for _ in range(min(MOST_ROUNDS, 1 + MOST_WEIGHED // max(1, weighed))):
        if not keep_going():
            break
        prices = relaxed(covering(task, pool, fine))
        if prices is None:
            break
        amounts = dict(zip(pool, prices.amounts, strict=False))
        worth, unit = _whole(task, prices)
        is_new = False
        tops = []
        for grid in grids:
            value = grid.most(worth)
            tops.append(int(value[-1, -1]))
            paid = float(task.stocks[grid.stock].cost / unit) + prices.sheets[grid.stock] / float(
                unit
            )
            if tops[-1] > paid * (1 + 1e-9):
                is_new |= put(pool, grid.pattern(worth, value), len(task.sizes))
        bound = max(bound, _proved(task, grids, worth, tops, unit))
        if not is_new:
            break
    return Generated(bound, amounts)


def _whole(task: Task, prices: Prices) -> tuple[list[int], Fraction]:
    """Round prices down to whole numbers of a small unit of money."""
    dearest = max(*prices.pieces, float(max(stock.cost for stock in task.stocks)), 1e-9)
    unit = Fraction(dearest) / _FINE
    return [int(Fraction(price) / unit) for price in prices.pieces], unit


def _proved(
    task: Task, grids: Sequence[Grid], worth: Sequence[int], tops: Sequence[int], unit: Fraction
) -> Fraction:
    """Return the bound that prices prove, whatever they are: weak duality, in exact numbers.

    A sheet of a stock that is limited may be worth more than it costs; the surplus is taken off
    once for each sheet there is. For the others the prices are lowered until none is.
    """
    share = Fraction(1)
    for grid, top in zip(grids, tops, strict=True):
        stock = task.stocks[grid.stock]
        if stock.limit is None and top * unit > stock.cost:
            share = min(share, stock.cost / (top * unit))
    total = share * unit * sum(map(int.__mul__, worth, task.demand))
    for grid, top in zip(grids, tops, strict=True):
        stock = task.stocks[grid.stock]
        if stock.limit is not None:
            total -= stock.limit * max(Fraction(0), share * top * unit - stock.cost)
    return max(Fraction(0), total)
