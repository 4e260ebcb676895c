"""The plain cut plan: rows straight across each sheet, each row then cut into rafts.

Two stages of cuts and the largest rafts first: quick and easy to follow at the bench, and the
start for every search of a better one.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from geometry.cutting.plan import CutPlan
from geometry.cutting.task import (
    Laid,
    Lie,
    Needed,
    Pattern,
    Stock,
    Task,
    area_bound,
    make_task,
    plan_of,
)
from geometry.model.sheet import Cutting, Sheet


@dataclass(slots=True)
class _Row:
    """One strip across the sheet and the pieces that are cut from it, in order."""

    height: int
    room: int
    pieces: list[tuple[int, Lie]]

    def take(self, size: int, lies: Sequence[Lie], wanted: int) -> int:
        """Put in as many pieces of a size as still fit, at most ``wanted``; returns how many."""
        fitting = [lie for lie in lies if lie.across <= self.height]
        if not fitting:
            return 0
        lie = min(fitting, key=lambda lie: lie.along)
        taken = min(wanted, self.room // lie.along)
        self.room -= taken * lie.along
        self.pieces += [(size, lie)] * taken
        return taken


@dataclass(frozen=True, slots=True)
class _Filling:
    """One sheet filled with rows; ``across`` says that the rows run across its length."""

    stock: int
    rows: list[_Row]
    across: bool

    @property
    def used(self) -> Counter[int]:
        return Counter(size for row in self.rows for size, _ in row.pieces)

    @property
    def area(self) -> int:
        return sum(lie.along * lie.across for row in self.rows for _, lie in row.pieces)

    def pattern(self) -> Pattern:
        pieces = []
        up = 0
        for row in self.rows:
            along = 0
            for size, lie in row.pieces:
                x, y = (up, along) if self.across else (along, up)
                pieces.append(Laid(size, x, y, _flipped(lie) if self.across else lie))
                along += lie.along
            up += row.height
        return Pattern(self.stock, tuple(pieces))


def _flipped(lie: Lie) -> Lie:
    return Lie(lie.across, lie.along, lie.turned)


def plain_cut_plan(needed: Needed, sheets: tuple[Sheet, ...], cutting: Cutting) -> CutPlan:
    """Plan the cutting of rafts, each given by design name, length, width and count.

    See ``plain_patterns``. The bound comes from areas alone.
    """
    task = make_task(needed, sheets, cutting)
    chosen, missing = plain_patterns(task)
    return plan_of(task, chosen, None if missing else area_bound(task))


def plain_patterns(task: Task) -> tuple[list[tuple[Pattern, int]], bool]:
    """Fill sheet after sheet with rows; tells as well whether sheets ran out.

    Offcuts on hand come first. The raft that the fewest kinds of sheet can hold comes first, among
    those the largest; each new sheet is the one that costs least per raft area cut from it. Where
    only sheets count it is the one that yields most, and the smaller sheet of two that yield the
    same. As long as there are sheets for each kind of raft there are never more sheets than rafts.
    """
    wanted = dict(enumerate(task.demand))
    left = [stock.limit for stock in task.stocks]
    chosen: list[tuple[Pattern, int]] = []
    missing = False
    while wanted:
        size, fitting = _hardest(task, wanted, left)
        if not fitting:
            del wanted[size]
            missing = True
            continue
        filling = _best_filling(task, fitting, wanted, size)
        used = filling.used
        copies = min(wanted[each] // count for each, count in used.items())
        limit = left[filling.stock]
        if limit is not None:
            copies = min(copies, limit)
            left[filling.stock] = limit - copies
        chosen.append((filling.pattern(), copies))
        for each, count in used.items():
            wanted[each] -= count * copies
        wanted = {each: count for each, count in wanted.items() if count}
    return chosen, missing


def _hardest(
    task: Task, wanted: dict[int, int], left: Sequence[int | None]
) -> tuple[int, list[int]]:
    """Find the size that the fewest kinds of sheet left can hold, and those kinds.

    As long as offcuts hold it, no other kind is named.
    """
    holders = {
        size: [
            number
            for number, stock in enumerate(task.stocks)
            if left[number] != 0 and stock.lies[size]
        ]
        for size in wanted
    }
    size, kinds = min(
        holders.items(), key=lambda item: (len(item[1]), -task.sizes[item[0]].area, item[0])
    )
    offcuts = [number for number in kinds if task.stocks[number].sheet.offcut]
    return size, offcuts or kinds


def _best_filling(task: Task, kinds: Sequence[int], wanted: dict[int, int], first: int) -> _Filling:
    """Fill one sheet of each kind both ways, ``first`` first, and keep the best."""
    order = sorted(wanted, key=lambda size: (size != first, -task.sizes[size].area, size))
    fillings = [
        _Filling(number, _filled(task.stocks[number], order, wanted, across=across), across)
        for number in kinds
        for across in (False, True)
    ]
    fillings = [filling for filling in fillings if filling.used[first]]
    by_cost = task.aim == "cost"

    def worth(filling: _Filling) -> tuple[float, int, int]:
        stock = task.stocks[filling.stock]
        price = float(stock.cost) / filling.area if by_cost else 0.0
        return -price, filling.area, -stock.area

    return max(fillings, key=worth)


def _filled(
    stock: Stock, order: Sequence[int], wanted: dict[int, int], *, across: bool
) -> list[_Row]:
    sides = (stock.width, stock.length) if across else (stock.length, stock.width)
    lies = {
        size: tuple(map(_flipped, stock.lies[size])) if across else stock.lies[size]
        for size in order
        if stock.lies[size]
    }
    return _rows(*sides, lies, wanted)


def _rows(
    length: int, width: int, lies: dict[int, tuple[Lie, ...]], left: dict[int, int]
) -> list[_Row]:
    """Fill a sheet with rows along ``length``: each size first tops up rows that stand already."""
    rows: list[_Row] = []
    for size, ways in lies.items():
        wanted = left[size]
        for row in rows:
            wanted -= row.take(size, ways, wanted)
        for lie, count in zip(ways, _best_row_counts(length, width, ways, wanted), strict=True):
            for _ in range(count):
                rows.append(_Row(lie.across, length, []))
                wanted -= rows[-1].take(size, (lie,), wanted)
            width -= count * lie.across
    return [row for row in rows if row.pieces]


def _best_row_counts(
    length: int, width: int, lies: tuple[Lie, ...], wanted: int
) -> tuple[int, ...]:
    """Say how many rows of each way to lie hold the most pieces, in the least width."""
    first, second = lies[0], lies[-1]
    per_first, per_second = length // first.along, length // second.along

    def rows_with(firsts: int) -> tuple[int, int, int, int]:
        missing = max(0, wanted - firsts * per_first)
        room = (width - firsts * first.across) // second.across
        seconds = min(room, -(-missing // per_second)) if len(lies) == 2 and per_second else 0
        pieces = min(wanted, firsts * per_first + seconds * per_second)
        return pieces, -firsts * first.across - seconds * second.across, firsts, seconds

    most = min(width // first.across, -(-wanted // per_first)) if per_first else 0
    return max(rows_with(firsts) for firsts in range(most + 1))[2 : 2 + len(lies)]
