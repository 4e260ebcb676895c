"""The most sites in straight or staggered rows on a rectangle, decided exactly.

Everything is counted in whole numbers: lengths are brought to a common denominator, and a row gap,
which is a square root, is compared by its square.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Final

from geometry.errors import TooManyError
from geometry.holes.row_pattern import Family, RowCounts, RowPattern, Way
from geometry.model.planting import Direction, Pattern
from geometry.tongue import number, tr
from geometry.units import TOLERANCE_MM

MOST_SITES: Final = 2_000_000
"""More sites than this are refused."""


_FAMILIES: Final[dict[Pattern, tuple[Family, ...]]] = {
    "square": ("square",),
    "rows": ("square",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("hexagonal", "staggered", "square"),
    "mixed": ("square", "hexagonal", "staggered", "mixed"),
    "best": ("square", "hexagonal", "staggered", "mixed"),
    "rings": (),
}
"""What is tried for a pattern; on equal counts the earlier wins.

Staggered includes square rows, the limit of a stagger without offset and the only way to put as
many into a single row; who asks for stagger gets them only when they hold more.
"""

_WAYS: Final[dict[Direction, tuple[Way, ...]]] = {
    "along": ("along",),
    "across": ("across",),
    "best": ("along", "across"),
}


@dataclass(frozen=True, slots=True)
class _Room:
    """The closed centre rectangle in whole units; ``width`` lies along the rows."""

    width: int
    height: int
    spacing: int
    row_spacing: int
    per_mm: int

    @property
    def most_halves(self) -> int:
        """Half pitches that fit along the rows; a zigzag of two columns fits any width."""
        return max(1, 2 * self.width // self.spacing)

    @property
    def most_staggered_gaps(self) -> int:
        """Gaps of half a spacing; two rows may stand nearer, having no third behind them."""
        return max(1, 2 * self.height // self.spacing)


def best_rows(
    width: Fraction,
    height: Fraction,
    spacing: Fraction,
    *,
    pattern: Pattern,
    direction: Direction,
    row_spacing: Fraction | None = None,
) -> tuple[RowPattern, ...]:
    """Return the best row pattern of each family and direction, the best of all first.

    Sites stand in the closed centre rectangle ``width`` (x) times ``height`` (y): one exactly on
    its border counts, and so do two exactly ``spacing`` apart. More sites are better, then what is
    easier to mark, then what can be opened wider. ``row_spacing`` is for rectangular rows and
    never less than the spacing. Empty when nothing fits or the pattern has no rows. A stretched
    stagger fills the rectangle along its rows; every other distance is the least allowed. Square
    rows are the same in both directions and come once.
    """
    if width < 0 or height < 0:
        return ()
    if (width // spacing + 1) * (height // spacing + 1) > MOST_SITES:
        raise _too_many()
    order = _FAMILIES[pattern]
    gap = max(spacing, row_spacing or spacing)
    found: list[tuple[tuple[int, int, float], RowPattern]] = []
    for way in _WAYS[direction]:
        sides = (width, height) if way == "along" else (height, width)
        room = _whole_units(*sides, spacing, gap)
        for rank, family in enumerate(order):
            if family == "square" and way == "across" and direction == "best":
                continue
            rows, widest = _best_of(family, room)
            if rows is not None:
                found.append(((-rows.count, rank, -widest), _at_least_distances(rows, room, way)))
    found.sort(key=lambda entry: entry[0])
    if found and found[0][1].count > MOST_SITES:
        raise _too_many()
    return tuple(entry[1] for entry in found)


def families_of(pattern: Pattern) -> tuple[Family, ...]:
    """Return the row families that are tried for a pattern, the preferred first; none for rings."""
    return _FAMILIES[pattern]


def ways_of(direction: Direction) -> tuple[Way, ...]:
    """Return the ways that rows may run in a direction."""
    return _WAYS[direction]


def _whole_units(width: Fraction, height: Fraction, spacing: Fraction, gap: Fraction) -> _Room:
    lengths = (width, height, spacing, gap)
    per_mm = math.lcm(*(length.denominator for length in lengths))
    across, up, apart, behind = (int(length * per_mm) for length in lengths)
    return _Room(across, up, apart, behind, per_mm)


def _best_of(family: Family, room: _Room) -> tuple[RowCounts | None, float]:
    """Most sites, then widest; the widest spacing is good to the tolerance, for stable ties."""
    most = 0
    best: list[RowCounts] = []
    for rows in _candidates(family, room):
        if rows.count > most:
            most, best = rows.count, [rows]
        elif rows.count == most:
            best.append(rows)
    if not best:
        return None, 0.0
    ratio = room.row_spacing / room.spacing if family == "rectangular" else 1.0
    sides = room.width / room.per_mm, room.height / room.per_mm
    widest = [round(rows.widest(*sides, ratio) / TOLERANCE_MM) for rows in best if most > 1]
    if not widest:
        return best[0], math.inf
    return best[widest.index(max(widest))], max(widest)


def _candidates(family: Family, room: _Room) -> Iterator[RowCounts]:
    long, straight = room.width // room.spacing + 1, room.height // room.spacing
    match family:
        case "square":
            yield RowCounts(family, long, long, straight, 0)
        case "rectangular":
            yield RowCounts(family, long, long, room.height // room.row_spacing, 0)
        case "hexagonal":
            yield _hexagonal(room)
        case "staggered":
            yield from _staggered(room)
        case "mixed":
            yield from _mixed(room)


def _hexagonal(room: _Room) -> RowCounts:
    long = room.width // room.spacing + 1
    gaps = isqrt(4 * room.height**2 // (3 * room.spacing**2))
    if 2 * room.width < room.spacing:
        return RowCounts("hexagonal", 1, 1, gaps // 2, 0)
    short = (2 * room.width - room.spacing) // (2 * room.spacing) + 1
    return RowCounts("hexagonal", long, short, 0, gaps)


def _staggered(room: _Room) -> Iterator[RowCounts]:
    """Half-pitch staggers, stretched to fill the width, and the one with a shorter offset.

    With n half pitches along the rows, n + 1 columns are filled in turn like a chessboard. Rows
    move together as columns move apart, so only the corners of that staircase matter.
    """
    halves = room.most_halves
    while halves:
        gaps = _most_gaps(halves, room.width, room.height, room.spacing)
        one_line = gaps == 1 and halves * room.spacing <= room.width
        if gaps and room.width and not one_line:
            yield RowCounts("staggered", halves // 2 + 1, (halves + 1) // 2, 0, gaps)
        if gaps == room.most_staggered_gaps:
            break
        halves = _most_gaps(gaps + 1, room.height, room.width, room.spacing)
    long, offset = room.width // room.spacing + 1, room.width % room.spacing
    if 0 < 2 * offset < room.spacing:
        gaps = isqrt(room.height**2 // (room.spacing**2 - offset**2))
        if gaps:
            yield RowCounts("staggered", long, long, 0, gaps)


def _most_gaps(gaps: int, width: int, height: int, spacing: int) -> int:
    """Most equal gaps in the height of a chessboard whose width holds this many.

    They obey (width / gaps)^2 + (height / most)^2 >= spacing^2, and two of them make a spacing.
    """
    limit = max(1, 2 * height // spacing)
    rest = (gaps * spacing) ** 2 - width**2
    return limit if rest <= 0 else min(limit, isqrt((gaps * height) ** 2 // rest))


def _mixed(room: _Room) -> Iterator[RowCounts]:
    """For each number of gaps the fullest rows, as many of them straight as the height allows.

    Taking a site out of each long row never pays: it costs one a row and saves at most every other
    short row. A short row goes between two long ones, which takes no site and less height than at
    the end.
    """
    most = 0
    fewest = room.height // room.spacing
    pitches = room.width // room.spacing
    while pitches:
        widest = _most_gaps(2 * pitches, room.width, room.height, room.spacing)
        for gaps in range(widest, fewest, -1):
            if (pitches + 1) * (gaps + 1) - 1 < most:
                break
            straight = _most_straight(pitches, gaps, room)
            straight -= (gaps - straight) % 2
            if straight > 0:
                rows = RowCounts("mixed", pitches + 1, pitches, straight, gaps - straight)
                most = max(most, rows.count)
                yield rows
        fewest = max(fewest, widest)
        if fewest >= room.most_staggered_gaps:
            break
        pitches = _most_gaps(fewest + 1, room.height, room.width, room.spacing) // 2


def _most_straight(pitches: int, gaps: int, room: _Room) -> int:
    """Most of the gaps that can be a full spacing, at least one staying staggered."""
    scale = (2 * pitches) ** 2
    rest = scale * room.spacing**2 - room.width**2

    def fits(straight: int) -> bool:
        left = room.height - straight * room.spacing
        staggered = gaps - straight
        return (
            left >= 0
            and staggered**2 * rest <= scale * left**2
            and (staggered == 1 or staggered * room.spacing <= 2 * left)
        )

    if fits(gaps - 1):
        return gaps - 1
    staggered_gap = math.sqrt(max(rest / (scale * room.spacing**2), 0.25))
    guess = (room.height / room.spacing - gaps * staggered_gap) / (1 - staggered_gap)
    straight = min(max(int(guess), 0), gaps - 1)
    while straight and not fits(straight):
        straight -= 1
    while straight < gaps - 1 and fits(straight + 1):
        straight += 1
    return straight


def _at_least_distances(rows: RowCounts, room: _Room, way: Way) -> RowPattern:
    spacing, width = room.spacing / room.per_mm, room.width / room.per_mm
    if rows.family == "hexagonal":
        gap = spacing * math.sqrt(0.75)
        return RowPattern(rows, way, spacing, spacing / 2, 2 * gap, gap)
    straight_gap = spacing
    if rows.family == "rectangular":
        straight_gap = room.row_spacing / room.per_mm
    if not rows.staggered:
        return RowPattern(rows, way, spacing, 0.0, straight_gap, straight_gap)
    pitch, offset = width / rows.pitches, width / rows.pitches / 2
    if rows.long == 1:
        pitch, offset = spacing, width
    elif rows.short == rows.long and (2 * rows.long - 1) * room.spacing > 2 * room.width:
        pitch, offset = spacing, (room.width - (rows.long - 1) * room.spacing) / room.per_mm
    gap = math.sqrt(max(spacing**2 - offset**2, 0.0))
    if rows.staggered > 1:
        gap = max(gap, spacing / 2)
    return RowPattern(rows, way, pitch, offset, straight_gap, gap)


def _too_many() -> TooManyError:
    return TooManyError(
        tr(
            "More than {most_sites} sites fit on one raft; give a wider spacing.",
            most_sites=number(MOST_SITES, 0),
        )
    )
