"""Piece after piece into the best gap: quick, and strong where many sizes are wanted once each.

Every gap is a rectangle that straight cuts leave over; a piece goes to its lower left corner and
one straight cut parts the rest into two gaps. Orders, choices of gap and ways to cut are tried in
turn, then the best of them again with the order slightly shuffled, always in the same way.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, NamedTuple

from geometry.cutting.task import Laid, Lie, Pattern, Size, Task, cost_of

MOST_PIECES: Final = 400
"""Pieces beyond which one piece at a time is too slow, and not better than whole patterns."""


class _Gap(NamedTuple):
    sheet: int
    x: int
    y: int
    length: int
    width: int


@dataclass(slots=True)
class _Open:
    """A sheet that is being filled."""

    stock: int
    pieces: list[Laid]


_Order = Callable[[Size], int]
_ORDERS: Final[tuple[_Order, ...]] = (
    lambda size: -size.area,
    lambda size: -max(size.length, size.width),
    lambda size: -min(size.length, size.width),
    lambda size: -size.length - size.width,
    lambda size: -size.width,
    lambda size: -size.length,
)

# How well a piece sits in a gap: what is left of area, of the shorter or of the longer side.
_Sits = Callable[[_Gap, Lie], int]
_SITS: Final[tuple[_Sits, ...]] = (
    lambda gap, lie: gap.length * gap.width - lie.along * lie.across,
    lambda gap, lie: min(gap.length - lie.along, gap.width - lie.across),
    lambda gap, lie: max(gap.length - lie.along, gap.width - lie.across),
    lambda gap, _lie: gap.y,
)

# Whether the cut beside a placed piece runs along the sheet: the gap above then keeps full length.
_Parts = Callable[[_Gap, Lie], bool]
_PARTS: Final[tuple[_Parts, ...]] = (
    lambda gap, lie: gap.length - lie.along <= gap.width - lie.across,
    lambda gap, lie: gap.length - lie.along > gap.width - lie.across,
    lambda gap, lie: lie.along * (gap.width - lie.across) > lie.across * (gap.length - lie.along),
    lambda gap, lie: lie.along * (gap.width - lie.across) <= lie.across * (gap.length - lie.along),
)

Found = list[tuple[Pattern, int]]


def starts(task: Task, shuffles: int) -> Iterator[Found]:
    """Yield one way to cut everything after another; only ways that place every piece.

    First every combination of order, choice of gap and cut; then ``shuffles`` more with orders
    that are mixed up a little. The sequence is the same each time.
    """
    if sum(task.demand) > MOST_PIECES:
        return
    pieces = [size for size, count in enumerate(task.demand) for _ in range(count)]
    ways = [(order, sits, parts) for order in _ORDERS for sits in _SITS for parts in _PARTS]
    stocks = _stock_orders(task)
    scored: list[tuple[Fraction, int, int]] = []
    for number, (order, sits, parts) in enumerate(ways):
        rank = sorted(pieces, key=lambda size: (order(task.sizes[size]), size))
        for which, stock_order in enumerate(stocks):
            found = _filled(task, rank, stock_order, sits, parts)
            if found is not None:
                chosen = [(pattern, 1) for pattern in found]
                scored.append((cost_of(task, chosen), number, which))
                yield chosen
    scored.sort()
    dice = _Dice()
    for turn in range(shuffles if scored else 0):
        _, number, which = scored[turn % min(12, len(scored))]
        order, sits, parts = ways[number]
        rank = dice.mixed(sorted(pieces, key=lambda size: (order(task.sizes[size]), size)))
        found = _filled(task, rank, stocks[which], sits, parts)
        if found is not None:
            yield [(pattern, 1) for pattern in found]


def one_sheet(task: Task, stock: int, sizes: Sequence[int]) -> list[tuple[Laid, ...]]:
    """Lay pieces of these sizes on one sheet of a stock in several ways; those that fit."""
    found: list[tuple[Laid, ...]] = []
    one = replace(task, stocks=(replace(task.stocks[stock], limit=1),))
    for order in _ORDERS[:3]:
        rank = sorted(sizes, key=lambda size: (order(task.sizes[size]), size))
        for sits in _SITS:
            for parts in _PARTS:
                filled = _filled(one, rank, [0], sits, parts)
                if filled is not None and tuple(filled[0].pieces) not in found:
                    found.append(tuple(filled[0].pieces))
    return found


def _stock_orders(task: Task) -> list[list[int]]:
    """Order the kinds of sheet in several ways: offcuts first, then cheap or large ones."""
    numbers = range(len(task.stocks))

    def by(worth: Callable[[int], float]) -> list[int]:
        return sorted(numbers, key=lambda k: (not task.stocks[k].sheet.offcut, worth(k), k))

    orders = [
        by(lambda k: float(task.stocks[k].cost) / task.stocks[k].area),
        by(lambda k: -task.stocks[k].area),
        by(lambda k: task.stocks[k].area),
    ]
    return [order for k, order in enumerate(orders) if order not in orders[:k]]


def _filled(
    task: Task, rank: Sequence[int], stock_order: Sequence[int], sits: _Sits, parts: _Parts
) -> list[Pattern] | None:
    """Place the pieces in their order; None when one finds no sheet."""
    left = [stock.limit for stock in task.stocks]
    sheets: list[_Open] = []
    gaps: list[_Gap] = []
    for size in rank:
        best: tuple[tuple[int, int], int, Lie] | None = None
        for number, gap in enumerate(gaps):
            for lie in task.stocks[sheets[gap.sheet].stock].lies[size]:
                if lie.along <= gap.length and lie.across <= gap.width:
                    worth = sits(gap, lie), number
                    if best is None or worth < best[0]:
                        best = worth, number, lie
        if best is None:
            opened = _opened(task, size, stock_order, left, sheets)
            if opened is None:
                return None
            gaps.append(opened)
            lies = task.stocks[sheets[-1].stock].lies[size]
            best = (0, 0), len(gaps) - 1, min(lies, key=lambda lie: sits(opened, lie))
        _place(gaps, best[1], size, best[2], sheets, parts)
    return [Pattern(sheet.stock, tuple(sheet.pieces)) for sheet in sheets]


def _opened(
    task: Task, size: int, stock_order: Sequence[int], left: list[int | None], sheets: list[_Open]
) -> _Gap | None:
    for number in stock_order:
        stock, limit = task.stocks[number], left[number]
        if stock.lies[size] and limit != 0:
            left[number] = None if limit is None else limit - 1
            sheets.append(_Open(number, []))
            return _Gap(len(sheets) - 1, 0, 0, stock.length, stock.width)
    return None


def _place(
    gaps: list[_Gap], number: int, size: int, lie: Lie, sheets: Sequence[_Open], parts: _Parts
) -> None:
    gap = gaps.pop(number)
    sheets[gap.sheet].pieces.append(Laid(size, gap.x, gap.y, lie))
    beside, above = gap.length - lie.along, gap.width - lie.across
    is_along = parts(gap, lie)
    if beside:
        height = lie.across if is_along else gap.width
        gaps.append(_Gap(gap.sheet, gap.x + lie.along, gap.y, beside, height))
    if above:
        length = gap.length if is_along else lie.along
        gaps.append(_Gap(gap.sheet, gap.x, gap.y + lie.across, length, above))


class _Dice:
    """Numbers that look random and are the same each time (a linear congruential sequence).

    Constants: D. E. Knuth, The Art of Computer Programming 2, table 3.3.4-1, line 26 (from memory).
    """

    def __init__(self) -> None:
        self._state = 1

    def throw(self, most: int) -> int:
        self._state = (6364136223846793005 * self._state + 1442695040888963407) % 2**64
        return (self._state >> 33) % most

    def mixed(self, rank: list[int]) -> list[int]:
        """Swap some neighbours and move a few pieces to the front."""
        mixed = list(rank)
        for _ in range(max(1, len(mixed) // 3)):
            at = self.throw(len(mixed))
            to = min(len(mixed) - 1, at + 1 + self.throw(4))
            mixed[at], mixed[to] = mixed[to], mixed[at]
        for _ in range(self.throw(3)):
            mixed.insert(0, mixed.pop(self.throw(len(mixed))))
        return mixed
