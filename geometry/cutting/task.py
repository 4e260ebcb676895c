"""What there is to cut, in whole numbers, and the way back to named pieces on sheets.

All lengths are whole numbers of one small unit, so sums are exact. Kerf is lost only between
pieces: it is added to both sides of every piece and of every sheet; what is cut from then on has
no kerf.
"""

from collections import Counter, deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, gcd, lcm
from typing import Final

from geometry.cutting.plan import CutPlan, CutSheet, Piece
from geometry.model.sheet import Aim, Cutting, Sheet
from geometry.units import TOLERANCE_MM

_FINEST: Final = 10**15
"""So many parts of a millimetre are fine enough for any sum of sides."""

Needed = Sequence[tuple[str, Fraction, Fraction, int]]
"""Rafts to cut: design name, length, width and count."""

Counts = tuple[int, ...]
"""How many pieces of each size of the task."""


@dataclass(frozen=True, slots=True)
class Lie:
    """One way a size lies on a sheet: its extent along the length, across it, and if turned."""

    along: int
    across: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Laid:
    """One piece in its place on the usable part of a sheet: lower left corner and way to lie."""

    size: int
    x: int
    y: int
    lie: Lie


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way to cut up a sheet of a stock."""

    stock: int
    pieces: tuple[Laid, ...]

    def counts(self, sizes: int) -> Counts:
        """Count the pieces of each size."""
        found = Counter(piece.size for piece in self.pieces)
        return tuple(found[size] for size in range(sizes))


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of sheet: its usable sides, what one costs the aim, how many there are.

    ``lies`` holds, for each size of the task, the ways it may lie on this sheet; none where it
    does not fit. ``limit`` None means as many as needed.
    """

    sheet: Sheet
    length: int
    width: int
    cost: Fraction
    limit: int | None
    lies: tuple[tuple[Lie, ...], ...]

    @property
    def area(self) -> int:
        """The usable area, the kerf of its last cuts included."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Size:
    """The rafts of one size; designs come with their counts and if they lie the other way."""

    length: int
    width: int
    designs: tuple[tuple[str, int, bool], ...]

    @property
    def demand(self) -> int:
        """How many pieces of this size are wanted."""
        return sum(count for _, count, _ in self.designs)

    @property
    def area(self) -> int:
        """The area of one piece, kerf included."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class Task:
    """Everything a planner needs. ``hopeless`` counts, by design, rafts larger than any sheet."""

    sizes: tuple[Size, ...]
    stocks: tuple[Stock, ...]
    aim: Aim
    scale: int
    kerf: int
    trim: int
    hopeless: tuple[tuple[str, int], ...]

    @property
    def demand(self) -> Counts:
        """How many pieces of each size are wanted."""
        return tuple(size.demand for size in self.sizes)


Chosen = Sequence[tuple[Pattern, int]]
"""Patterns with how often each is cut; together they may hold more pieces than are wanted."""


def make_task(needed: Needed, sheets: Sequence[Sheet], cutting: Cutting) -> Task:
    """Sort the rafts by size, and say how each size may lie on each kind of sheet."""
    needed = _in_plain_parts(needed)
    scale = lcm(
        *(value.denominator for _, length, width, _ in needed for value in (length, width)),
        *(side.denominator for sheet in sheets for side in sheet.least),
        cutting.kerf.exact.denominator,
        cutting.trim.exact.denominator,
    )
    kerf, trim = int(cutting.kerf.exact * scale), int(cutting.trim.exact * scale)
    sizes = _sizes(needed, scale, kerf, turn=cutting.turn)
    aim = _aim(sheets, cutting)
    stocks = []
    for sheet in sheets:
        length, width = (int(side * scale) - 2 * trim + kerf for side in sheet.least)
        lies = tuple(_lies(size, sheet, length, width, turn=cutting.turn) for size in sizes)
        if any(lies) and sheet.on_hand != 0:
            stocks.append(Stock(sheet, length, width, _cost(sheet, aim), sheet.on_hand, lies))
    fits = [any(stock.lies[number] for stock in stocks) for number in range(len(sizes))]
    hopeless = Counter[str]()
    for size, fit in zip(sizes, fits, strict=True):
        if not fit:
            hopeless.update({design: count for design, count, _ in size.designs})
    kept = [number for number, fit in enumerate(fits) if fit]
    return Task(
        sizes=tuple(sizes[number] for number in kept),
        stocks=tuple(
            Stock(
                stock.sheet,
                stock.length,
                stock.width,
                stock.cost,
                stock.limit,
                tuple(stock.lies[number] for number in kept),
            )
            for stock in stocks
        ),
        aim=aim,
        scale=scale,
        kerf=kerf,
        trim=trim,
        hopeless=tuple(sorted(hopeless.items())),
    )


def _aim(sheets: Sequence[Sheet], cutting: Cutting) -> Aim:
    """Count sheets where what they cost is not known, or follows from their number."""
    prices = [sheet.price for sheet in sheets if not sheet.offcut]
    is_known = len(prices) > 1 and None not in prices and any(prices)
    is_cost = cutting.aim == "cost" and is_known
    return "cost" if is_cost else "sheets"


def _cost(sheet: Sheet, aim: Aim) -> Fraction:
    if sheet.offcut:
        return Fraction(0)
    return sheet.price if aim == "cost" and sheet.price is not None else Fraction(1)


def _in_plain_parts(needed: Needed) -> Needed:
    """The rafts themselves, or with sides in whole parts of the tolerance, rounded down.

    Rafts cut to an odd outline have sides with a denominator each; a unit that suits them all can
    be smaller than any float.
    """
    sides = [side for _, length, width, _ in needed for side in (length, width)]
    if lcm(*(side.denominator for side in sides)) <= _FINEST:
        return needed
    part = Fraction(TOLERANCE_MM).limit_denominator(10**9)
    return [
        (design, length // part * part, width // part * part, count)
        for design, length, width, count in needed
    ]


def _sizes(needed: Needed, scale: int, kerf: int, *, turn: bool) -> list[Size]:
    """Bring rafts of one size together; where turning is allowed the longer side comes first."""
    found: dict[tuple[int, int], list[tuple[str, int, bool]]] = {}
    for design, length, width, count in needed:
        sides = (int(length * scale) + kerf, int(width * scale) + kerf)
        lies_across = turn and sides[0] < sides[1]
        if count:
            key = sides[::-1] if lies_across else sides
            found.setdefault(key, []).append((design, count, lies_across))
    return [Size(*sides, tuple(designs)) for sides, designs in found.items()]


def _lies(size: Size, sheet: Sheet, length: int, width: int, *, turn: bool) -> tuple[Lie, ...]:
    """Say how a size may lie on a sheet: not along its score lines where it can lie otherwise."""
    straight, turned = Lie(size.length, size.width, False), Lie(size.width, size.length, True)
    ways = (straight, turned) if turn and size.length != size.width else (straight,)
    fitting = tuple(way for way in ways if way.along <= length and way.across <= width)
    sound = tuple(way for way in fitting if not lies_along_score(way.along, way.across, sheet))
    return sound or fitting


def lies_along_score(along: float | Fraction, across: float | Fraction, sheet: Sheet) -> bool:
    """Say whether the long side of a piece runs the way the sheet's score lines run."""
    score = sheet.score
    if score is None:
        return False
    lines_across, lines_along = score.across is not None, score.along is not None
    return (lines_across and across > along) or (lines_along and along > across)


def counts_of(chosen: Chosen, sizes: int) -> Counts:
    """Count the pieces that chosen patterns hold in all."""
    total = [0] * sizes
    for pattern, times in chosen:
        for size, count in enumerate(pattern.counts(sizes)):
            total[size] += count * times
    return tuple(total)


def cost_of(task: Task, chosen: Chosen) -> Fraction:
    """Say what chosen patterns cost the aim."""
    return sum((task.stocks[pattern.stock].cost * times for pattern, times in chosen), Fraction(0))


def area_bound(task: Task) -> Fraction:
    """Return the least cost of enough sheets to hold the area of all pieces.

    Cheap and often too low: shapes do not fill sheets. Sheets are taken by cost per area.
    """
    left = sum(size.area * size.demand for size in task.sizes)
    total = Fraction(0)
    for stock in sorted(task.stocks, key=lambda stock: stock.cost / stock.area):
        most = Fraction(left, stock.area)
        taken = most if stock.limit is None else min(most, Fraction(stock.limit))
        total += taken * stock.cost
        left -= int(taken * stock.area) if taken < most else left
    return rounded_up(task, total)


def rounded_up(task: Task, bound: Fraction, fine: Fraction = Fraction(0)) -> Fraction:
    """Raise a bound to the next cost that whole sheets, and fines, can have."""
    costs = [cost for cost in (*(stock.cost for stock in task.stocks), fine) if cost]
    if not costs:
        return Fraction(0)
    below = lcm(*(cost.denominator for cost in costs))
    step = Fraction(gcd(*(int(cost * below) for cost in costs)), below)
    return ceil(bound / step) * step


class _Waiting:
    """The designs of one size that are still to be named, in the order they were asked for."""

    def __init__(self, size: Size) -> None:
        self._designs = deque(size.designs)
        self.count = size.demand

    @property
    def alike(self) -> int:
        """How many pieces in a row can carry one design."""
        return self._designs[0][1] if self._designs else 0

    def take(self, count: int) -> tuple[str, bool]:
        """Take pieces of the first design; says its name and whether it lies the other way."""
        design, left, lies_across = self._designs.popleft()
        self.count -= count
        if left > count:
            self._designs.appendleft((design, left - count, lies_across))
        return design, lies_across

    def rest(self) -> Counter[str]:
        return Counter({design: count for design, count, _ in self._designs})


Tidy = Callable[[int, Sequence[Laid]], Sequence[Laid]]
"""Lays the pieces of one sheet of a stock anew."""


def as_laid(_stock: int, pieces: Sequence[Laid]) -> Sequence[Laid]:
    """Leave pieces as they lie."""
    return pieces


def plan_of(
    task: Task,
    chosen: Chosen,
    bound: Fraction | None,
    tidy: Tidy = as_laid,
) -> CutPlan:
    """Name the pieces of chosen patterns and lay them on their sheets.

    Pieces that nobody wants are left out: of bought sheets before offcuts, and of the sheets that
    are least full, so that what is left over is in one place. Sheets that carry the same designs
    become one, with copies.
    """
    waiting = [_Waiting(size) for size in task.sizes]
    order = sorted(merged(chosen, len(task.sizes)), key=lambda item: _fullness(task, item[0]))
    cut: list[CutSheet] = []
    for pattern, times in order:
        cut += _cut_sheets(task, pattern, times, waiting, tidy)
    unplaced = Counter(dict(task.hopeless))
    for each in waiting:
        unplaced.update(each.rest())
    return CutPlan(
        sheets=tuple(cut),
        unplaced=tuple(sorted(unplaced.items())),
        aim=task.aim,
        bound=bound,
    )


def _fullness(task: Task, pattern: Pattern) -> tuple[bool, int, int, int]:
    """Sort offcuts first, then large kinds of sheet, then full sheets."""
    filled = sum(piece.lie.along * piece.lie.across for piece in pattern.pieces)
    stock = task.stocks[pattern.stock]
    return not stock.sheet.offcut, -stock.area, pattern.stock, -filled


def _cut_sheets(
    task: Task, pattern: Pattern, times: int, waiting: Sequence[_Waiting], tidy: Tidy
) -> Iterator[CutSheet]:
    while times:
        used = Counter(piece.size for piece in pattern.pieces)
        room = {size: min(count, waiting[size].count) for size, count in used.items()}
        pieces = _first(pattern.pieces, room)
        if not pieces:
            return
        taken = {size: count for size, count in room.items() if count}
        whole = min(waiting[size].count // count for size, count in taken.items())
        alike = min(waiting[size].alike // count for size, count in taken.items())
        copies = max(1, min(times, whole, alike))
        laid = tidy(pattern.stock, pieces)
        yield CutSheet(
            task.stocks[pattern.stock].sheet, _named(task, laid, waiting, copies), copies
        )
        times -= copies


def _first(pieces: Sequence[Laid], room: dict[int, int]) -> list[Laid]:
    """Take as many pieces of each size as there is room for, nearest the datum corner first."""
    left = dict(room)
    kept = []
    for piece in sorted(pieces, key=lambda piece: (piece.y, piece.x)):
        if left[piece.size]:
            left[piece.size] -= 1
            kept.append(piece)
    return kept


def _named(
    task: Task, pieces: Sequence[Laid], waiting: Sequence[_Waiting], copies: int
) -> tuple[Piece, ...]:
    named = []
    for piece in pieces:
        design, lies_across = waiting[piece.size].take(copies)
        named.append(as_piece(task, piece, design, lies_across=lies_across))
    return tuple(named)


def as_piece(task: Task, piece: Laid, design: str, *, lies_across: bool) -> Piece:
    """Give a piece its name and its place on the sheet as bought."""
    return Piece(
        design,
        Fraction(piece.x + task.trim, task.scale),
        Fraction(piece.y + task.trim, task.scale),
        Fraction(piece.lie.along - task.kerf, task.scale),
        Fraction(piece.lie.across - task.kerf, task.scale),
        piece.lie.turned != lies_across,
    )


def merged(chosen: Chosen, sizes: int) -> list[tuple[Pattern, int]]:
    """Bring sheets of one stock that yield the same pieces together."""
    first: dict[tuple[int, Counts], Pattern] = {}
    times: Counter[tuple[int, Counts]] = Counter()
    for pattern, count in chosen:
        key = pattern.stock, pattern.counts(sizes)
        first.setdefault(key, pattern)
        times[key] += count
    return [(first[key], count) for key, count in times.items()]
