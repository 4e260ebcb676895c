"""The straight cuts of one sheet in the order in which they are made, and what is left over."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from geometry.cutting.plan import CutPlan, CutSheet, Offcut
from geometry.errors import GeometryError
from geometry.model.sheet import Cutting
from geometry.tongue import tr


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut from edge to edge of the part in hand.

    ``start`` and ``end`` lie on the finished edge, in sheet coordinates; the blade runs on its
    waste side. ``measure`` is the distance of that edge from the true edge to the left of the cut
    or below it; for the first two trimming cuts, from the edge as bought.
    """

    number: int
    start: tuple[Fraction, Fraction]
    end: tuple[Fraction, Fraction]
    measure: Fraction


@dataclass(frozen=True, slots=True)
class CutOrder:
    """The cuts of one sheet in order, and what they leave over, the largest first.

    ``offcuts`` holds every rectangle that no piece comes from, as large as it is on the smallest
    board, less the trim; ``kept`` those large enough to keep.
    """

    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    kept: tuple[Offcut, ...]


def order_cuts(cut_sheet: CutSheet, cutting: Cutting) -> CutOrder:
    """Say which cuts to make, and in which order, to get every piece out of the sheet.

    The trimming cuts come first; the trim is where the first piece lies. Every later cut is
    measured from an edge that is true by then, and lies where the blade touches no piece. All cuts
    of a part that run the same way follow each other. Where there is a choice the offcuts worth
    keeping decide, one large before two small, then the fewest cuts. Raises GeometryError when
    pieces cannot be parted by straight cuts.
    """
    sheet, pieces = cut_sheet.sheet, cut_sheet.pieces
    lengths = sheet.length.exact, sheet.width.exact, *sheet.least
    least, trim, kerf = cutting.keep_offcut.exact, cutting.trim.exact, cutting.kerf.exact
    places = [value for p in pieces for value in (p.x, p.y, p.x + p.length, p.y + p.width)]
    scale = lcm(*(value.denominator for value in (*places, *lengths, trim, kerf, least)))
    whole = [int(value * scale) for value in places]
    boxes = tuple(zip(whole[0::4], whole[1::4], whole[2::4], whole[3::4], strict=True))
    length, width, right, top = (int(value * scale) for value in lengths)
    left, bottom = min(whole[0::4]), min(whole[1::4])
    edge = int(trim * scale)
    parting = _Parting((length, width), int(kerf * scale), int(least * scale))
    way = parting.best(_Part(left, bottom, right - edge, top - edge, True, True), boxes)
    if way is None:
        raise GeometryError(tr("These pieces cannot be parted by straight cuts from edge to edge."))
    lines = [*_trimming(left, bottom, length, width), *way.lines]
    offcuts = sorted(
        (
            Offcut(*(Fraction(value, scale) for value in (x, y, x2 - x, y2 - y)))
            for x, y, x2, y2 in way.offcuts
        ),
        key=lambda one: (-one.area, one.y, one.x),
    )
    return CutOrder(
        tuple(
            Cut(
                number,
                (Fraction(line[0], scale), Fraction(line[1], scale)),
                (Fraction(line[2], scale), Fraction(line[3], scale)),
                Fraction(line[4], scale),
            )
            for number, line in enumerate(lines, start=1)
        ),
        tuple(offcuts),
        tuple(one for one in offcuts if min(one.length, one.width) >= least),
    )


def cuts(cut_sheet: CutSheet, cutting: Cutting) -> tuple[Cut, ...]:
    """Say which cuts to make, in order; see ``order_cuts``."""
    return order_cuts(cut_sheet, cutting).cuts


def kept_offcuts(plan: CutPlan, cutting: Cutting) -> tuple[tuple[Fraction, Fraction, int], ...]:
    """List what a plan leaves over worth keeping: longer side, shorter side, how many.

    The largest come first.
    """
    counts: Counter[tuple[Fraction, Fraction]] = Counter()
    for sheet in plan.sheets:
        for offcut in order_cuts(sheet, cutting).kept:
            sides = max(offcut.length, offcut.width), min(offcut.length, offcut.width)
            counts[sides] += sheet.copies
    listed = [(long, short, count) for (long, short), count in counts.items()]
    return tuple(sorted(listed, key=lambda each: (-each[0] * each[1], -each[0])))


# Below, all lengths are whole numbers of one small unit. A box is left, bottom, right, top; a line
# is the place where it starts, the place where it ends, and its measure.
_Box = tuple[int, int, int, int]
_Line = tuple[int, int, int, int, int]


@dataclass(frozen=True, slots=True)
class _Part:
    """A rectangle of foam with true edges on the left and below.

    ``right`` and ``top`` are where its sound foam ends for sure. An open side is still the board's
    own edge: beyond the sound foam there are the trim and what the board has over.
    """

    left: int
    bottom: int
    right: int
    top: int
    open_right: bool
    open_top: bool


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to take a part apart: its lines in order and its leftovers."""

    lines: tuple[_Line, ...]
    offcuts: tuple[_Box, ...]


def _trimming(left: int, bottom: int, length: int, width: int) -> Iterator[_Line]:
    """Make the two edges true from which everything else is measured."""
    if bottom > 0:
        yield 0, bottom, length, bottom, bottom
    if left > 0:
        yield left, bottom, left, width, left


class _Parting:
    """Finds the best way to take a part apart; ``board`` is the size of the sheet as bought."""

    def __init__(self, board: tuple[int, int], kerf: int, least: int) -> None:
        self._board = board
        self._kerf = kerf
        self._least = least
        self._known: dict[_Part, _Way | None] = {}

    def best(self, part: _Part, boxes: tuple[_Box, ...]) -> _Way | None:
        """Find the best way; None when the boxes in the part cannot be parted."""
        if part not in self._known:
            ways = [
                way
                for keeps_last in (False, True)
                for along in (True, False)
                if (way := self._strips(part, boxes, along=along, keeps_last=keeps_last))
            ]
            nothing = _Way((), ()) if len(boxes) == 1 and self._is_cut_out(part, boxes[0]) else None
            self._known[part] = max(ways, key=self._worth, default=nothing)
        return self._known[part]

    def _worth(self, way: _Way) -> tuple[int, int, int, int]:
        sides = [(x2 - x, y2 - y) for x, y, x2, y2 in way.offcuts]
        areas = [length * width for length, width in sides]
        kept = [area for area, pair in zip(areas, sides, strict=True) if min(pair) >= self._least]
        return max(kept, default=0), sum(kept), -len(way.lines), max(areas, default=0)

    def _ends(self, part: _Part) -> tuple[int, int]:
        """Say how far the foam of a part may reach, right and up."""
        return (
            self._board[0] if part.open_right else part.right,
            self._board[1] if part.open_top else part.top,
        )

    def _is_cut_out(self, part: _Part, box: _Box) -> bool:
        return (part.left, part.bottom, *self._ends(part)) == box

    def _strips(
        self, part: _Part, boxes: tuple[_Box, ...], *, along: bool, keeps_last: bool
    ) -> _Way | None:
        """Cut a part into strips that no piece bridges; the last may keep what is beyond it.

        None where nothing would be cut, or a piece would not come out.
        """
        axis = 1 if along else 0
        groups = self._groups(boxes, axis, part.bottom if along else part.left)
        if not groups:
            return None
        ends = self._ends(part)
        last = groups[-1][1]
        has_rest = last < ends[axis]
        if not (len(groups) > 1 and has_rest if keeps_last else len(groups) > 1 or has_rest):
            return None
        lines: list[_Line] = []
        offcuts: list[_Box] = []
        below: list[_Line] = []
        for low, high, members in groups:
            is_cut = high < last or (has_rest and not keeps_last)
            if is_cut:
                line = (
                    (part.left, high, ends[0], high)
                    if along
                    else (high, part.bottom, high, ends[1])
                )
                lines.append((*line, high - low))
            way = self.best(
                _strip(part, low, high, along=along, is_cut=is_cut or not has_rest), members
            )
            if way is None:
                return None
            below += way.lines
            offcuts += way.offcuts
        rest = last + self._kerf
        x, y = (part.left, rest) if along else (rest, part.bottom)
        if not keeps_last and x < part.right and y < part.top:
            offcuts.append((x, y, part.right, part.top))
        return _Way((*lines, *below), tuple(offcuts))

    def _groups(
        self, boxes: Sequence[_Box], axis: int, first: int
    ) -> list[tuple[int, int, tuple[_Box, ...]]]:
        """Part boxes into strips that no box bridges, one kerf apart from ``first`` on.

        None at all where strips lie further apart: then a cut would leave an edge of a piece uncut.
        """
        groups: list[tuple[int, int, list[_Box]]] = []
        for box in sorted(boxes, key=lambda box: box[axis]):
            start, end = box[axis], box[axis + 2]
            if groups and start < groups[-1][1] + self._kerf:
                low, high, members = groups[-1]
                groups[-1] = low, max(high, end), members
                members.append(box)
            elif start == (groups[-1][1] + self._kerf if groups else first):
                groups.append((start, end, [box]))
            else:
                return []
        return [(low, high, tuple(members)) for low, high, members in groups]


def _strip(part: _Part, low: int, high: int, *, along: bool, is_cut: bool) -> _Part:
    """Take a strip out of a part; one that is not cut on its far side keeps what is beyond it."""
    left, bottom = (part.left, low) if along else (low, part.bottom)
    right, top, open_right, open_top = part.right, part.top, part.open_right, part.open_top
    if is_cut and along:
        top, open_top = high, False
    elif is_cut:
        right, open_right = high, False
    return _Part(left, bottom, right, top, open_right, open_top)
