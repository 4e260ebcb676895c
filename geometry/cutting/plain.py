"""The plain cut plan: rows straight across each sheet, each row then cut into rafts.

Two stages of cuts and the largest rafts first: quick and easy to follow at the bench. It is not
proved to need the fewest sheets.
"""

from collections import Counter, deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from geometry.cutting.plan import CutPlan, CutSheet, Piece
from geometry.model.sheet import Cutting, Sheet

# All lengths below are whole numbers of 1/scale mm. Kerf is lost only between pieces, so it is
# added to every piece and once to the sheet; what is cut from then on has no kerf.
Size = tuple[int, int]


@dataclass(frozen=True, slots=True)
class _Lie:
    """One way a size can lie in a row: its share of the row, and the row height it needs."""

    along: int
    height: int
    turned: bool


@dataclass(slots=True)
class _Row:
    """One strip across the sheet and the pieces that are cut from it, in order."""

    height: int
    room: int
    pieces: list[tuple[Size, _Lie]]

    def take(self, size: Size, lies: Sequence[_Lie], wanted: int) -> int:
        """Put in as many pieces of a size as still fit, at most ``wanted``; returns how many."""
        fitting = [lie for lie in lies if lie.height <= self.height]
        if not fitting:
            return 0
        lie = min(fitting, key=lambda lie: lie.along)
        taken = min(wanted, self.room // lie.along)
        self.room -= taken * lie.along
        self.pieces += [(size, lie)] * taken
        return taken


@dataclass(slots=True)
class _Stock:
    """A kind of sheet, its usable area, and how many are left (None: as many as needed)."""

    sheet: Sheet
    length: int
    width: int
    left: int | None

    def holds(self, size: Size, *, turn: bool) -> bool:
        length, width = size
        fits = length <= self.length and width <= self.width
        return fits or (turn and width <= self.length and length <= self.width)


@dataclass(frozen=True, slots=True)
class _Filling:
    """One sheet filled with rows; ``across`` says that the rows run across its length."""

    stock: _Stock
    rows: list[_Row]
    across: bool

    @property
    def used(self) -> Counter[Size]:
        return Counter(size for row in self.rows for size, _ in row.pieces)


@dataclass(slots=True)
class _Wanted:
    """The designs of one size that are still to be cut, in the order they were asked for."""

    designs: deque[tuple[str, int, bool]]

    @property
    def alike(self) -> int:
        """How many pieces in a row can carry one design."""
        return self.designs[0][1]

    @property
    def count(self) -> int:
        return sum(count for _, count, _ in self.designs)

    def take(self, count: int) -> tuple[str, bool]:
        """Take pieces of the first design; says its name and whether it lies the other way."""
        design, left, lies_across = self.designs.popleft()
        if left > count:
            self.designs.appendleft((design, left - count, lies_across))
        return design, lies_across


def plain_cut_plan(
    needed: Sequence[tuple[str, Fraction, Fraction, int]],
    sheets: tuple[Sheet, ...],
    cutting: Cutting,
) -> CutPlan:
    """Plan the cutting of rafts, each given by design name, length, width and count.

    Every edge of a sheet loses the trim first; the blade's kerf is lost between two pieces only.
    The raft that the fewest kinds of sheet can hold comes first, among those the largest; each
    new sheet is the one that costs least per raft area cut from it. Where a sheet in question has
    no price it is the one that yields most, so that few sheets are cut up, and the smaller sheet
    of two that yield the same. As long as there are sheets for each kind of raft
    there are never more sheets than rafts.
    """
    scale = lcm(
        *(value.denominator for _, length, width, _ in needed for value in (length, width)),
        *(side.exact.denominator for sheet in sheets for side in (sheet.length, sheet.width)),
        cutting.kerf.exact.denominator,
        cutting.trim.exact.denominator,
    )
    kerf = int(cutting.kerf.exact * scale)
    trim = int(cutting.trim.exact * scale)
    stocks = [
        _Stock(
            sheet,
            int(sheet.length.exact * scale) - 2 * trim + kerf,
            int(sheet.width.exact * scale) - 2 * trim + kerf,
            sheet.quantity,
        )
        for sheet in sheets
    ]
    wanted = _by_size(needed, scale, kerf, turn=cutting.turn)
    cut: list[CutSheet] = []
    unplaced: Counter[str] = Counter()
    while wanted:
        size, fitting = _hardest(wanted, stocks, turn=cutting.turn)
        if not fitting:
            for design, count, _ in wanted.pop(size).designs:
                unplaced[design] += count
            continue
        filling = _best_filling(fitting, wanted, size, kerf, turn=cutting.turn)
        used = filling.used
        copies = min(wanted[size].count // count for size, count in used.items())
        if filling.stock.left is not None:
            copies = min(copies, filling.stock.left)
            filling.stock.left -= copies
        cut += _cut_sheets(filling, copies, wanted, (scale, kerf, trim))
        wanted = {size: rest for size, rest in wanted.items() if rest.designs}
    return CutPlan(tuple(cut), tuple(sorted(unplaced.items())))


def _by_size(
    needed: Sequence[tuple[str, Fraction, Fraction, int]], scale: int, kerf: int, *, turn: bool
) -> dict[Size, _Wanted]:
    wanted: dict[Size, _Wanted] = {}
    for design, length, width, count in needed:
        size = (int(length * scale) + kerf, int(width * scale) + kerf)
        lies_across = turn and size[0] < size[1]
        if count:
            same = wanted.setdefault(size[::-1] if lies_across else size, _Wanted(deque()))
            same.designs.append((design, count, lies_across))
    return wanted


def _hardest(
    wanted: dict[Size, _Wanted], stocks: Sequence[_Stock], *, turn: bool
) -> tuple[Size, list[_Stock]]:
    """Find the size that the fewest kinds of sheet left can hold, and those kinds."""
    holders = {
        size: [stock for stock in stocks if stock.left != 0 and stock.holds(size, turn=turn)]
        for size in wanted
    }
    return min(holders.items(), key=lambda item: (len(item[1]), -item[0][0] * item[0][1]))


def _best_filling(
    stocks: Sequence[_Stock], wanted: dict[Size, _Wanted], first: Size, kerf: int, *, turn: bool
) -> _Filling:
    """Fill one sheet of each kind both ways, ``first`` first, and keep the best."""
    order = sorted(wanted, key=lambda size: (size != first, -size[0] * size[1]))
    left = {size: wanted[size].count for size in order}
    fillings = [
        _Filling(
            stock,
            _rows(
                *((stock.width, stock.length) if across else (stock.length, stock.width)),
                {size: _lies(size, across=across, turn=turn) for size in order},
                left,
            ),
            across,
        )
        for stock in stocks
        for across in (False, True)
    ]
    fillings = [filling for filling in fillings if filling.used[first]]
    areas = [
        sum((size[0] - kerf) * (size[1] - kerf) * count for size, count in filling.used.items())
        for filling in fillings
    ]
    prices = [filling.stock.sheet.price for filling in fillings]

    def worth(index: int) -> tuple[Fraction, int, int]:
        stock, price, area = fillings[index].stock, prices[index], areas[index]
        cheap = Fraction(0) if None in prices or price is None else -price / area
        return cheap, area, -stock.length * stock.width

    return fillings[max(range(len(fillings)), key=worth)]


def _lies(size: Size, *, across: bool, turn: bool) -> tuple[_Lie, ...]:
    straight, turned = _Lie(*size, turned=across), _Lie(*size[::-1], turned=not across)
    if turn and size[0] != size[1]:
        return straight, turned
    return (turned,) if across else (straight,)


def _rows(
    length: int, width: int, lies: dict[Size, tuple[_Lie, ...]], left: dict[Size, int]
) -> list[_Row]:
    """Fill a sheet with rows along ``length``: each size first tops up rows that stand already."""
    rows: list[_Row] = []
    for size, ways in lies.items():
        wanted = left[size]
        for row in rows:
            wanted -= row.take(size, ways, wanted)
        for lie, count in zip(ways, _best_row_counts(length, width, ways, wanted), strict=True):
            for _ in range(count):
                rows.append(_Row(lie.height, length, []))
                wanted -= rows[-1].take(size, (lie,), wanted)
            width -= count * lie.height
    return [row for row in rows if row.pieces]


def _best_row_counts(
    length: int, width: int, lies: tuple[_Lie, ...], wanted: int
) -> tuple[int, ...]:
    """Say how many rows of each way to lie hold the most pieces, in the least width."""
    first, second = lies[0], lies[-1]
    per_first, per_second = length // first.along, length // second.along

    def rows_with(firsts: int) -> tuple[int, int, int, int]:
        missing = max(0, wanted - firsts * per_first)
        room = (width - firsts * first.height) // second.height
        seconds = min(room, -(-missing // per_second)) if len(lies) == 2 and per_second else 0
        pieces = min(wanted, firsts * per_first + seconds * per_second)
        return pieces, -firsts * first.height - seconds * second.height, firsts, seconds

    most = min(width // first.height, -(-wanted // per_first)) if per_first else 0
    return max(rows_with(firsts) for firsts in range(most + 1))[2 : 2 + len(lies)]


def _cut_sheets(
    filling: _Filling, copies: int, wanted: dict[Size, _Wanted], lengths: tuple[int, int, int]
) -> Iterator[CutSheet]:
    """Name the pieces of a filling; sheets that carry the same designs become one, with copies."""
    used = filling.used
    while copies:
        alike = min(copies, *(wanted[size].alike // count for size, count in used.items()))
        pieces = _pieces(filling, wanted, lengths, max(1, alike))
        yield CutSheet(filling.stock.sheet, pieces, max(1, alike))
        copies -= max(1, alike)


def _pieces(
    filling: _Filling, wanted: dict[Size, _Wanted], lengths: tuple[int, int, int], alike: int
) -> tuple[Piece, ...]:
    scale, kerf, trim = lengths
    pieces = []
    up = trim
    for row in filling.rows:
        along = trim
        for size, lie in row.pieces:
            design, lies_across = wanted[size].take(alike)
            place, extent = (along, up), (size[1], size[0]) if lie.turned else size
            x, y = place[::-1] if filling.across else place
            pieces.append(
                Piece(
                    design,
                    Fraction(x, scale),
                    Fraction(y, scale),
                    Fraction(extent[0] - kerf, scale),
                    Fraction(extent[1] - kerf, scale),
                    lie.turned != lies_across,
                )
            )
            along += lie.along
        up += row.height
    return tuple(pieces)
