"""The pieces of one sheet laid so that what is left over is as useful as can be."""

from collections.abc import Sequence
from fractions import Fraction

from geometry.cutting.cuts import order_cuts
from geometry.cutting.greedy import one_sheet
from geometry.cutting.plan import CutSheet
from geometry.cutting.task import Laid, Task, as_piece
from geometry.errors import GeometryError
from geometry.model.sheet import Cutting
from geometry.tongue import tr

_MOST_ANEW = 30
"""Pieces up to which other layouts of one sheet are tried."""
_MOST_WEIGHED = 400
"""Pieces of one sheet beyond which only one layout of them is made."""

Worth = tuple[Fraction, Fraction, int]


class Tidier:
    """Lays sheets anew; sheets with the same pieces are thought about once."""

    def __init__(self, task: Task, cutting: Cutting) -> None:
        self._task = task
        self._cutting = cutting
        self._known: dict[tuple[int, tuple[Laid, ...]], tuple[Laid, ...]] = {}

    def __call__(self, stock: int, pieces: Sequence[Laid]) -> Sequence[Laid]:
        """Push the pieces together, in whichever way leaves most behind in one part."""
        if len(pieces) > _MOST_WEIGHED:
            return pushed_together(pieces, axis=1)
        key = stock, tuple(pieces)
        if key not in self._known:
            ways = [pushed_together(pieces, axis=axis) for axis in (1, 0)]
            filled = sum(piece.lie.along * piece.lie.across for piece in pieces)
            if len(pieces) <= _MOST_ANEW and filled < 0.85 * self._task.stocks[stock].area:
                ways += one_sheet(self._task, stock, [piece.size for piece in pieces])
            self._known[key] = max(ways, key=lambda way: self._worth(stock, way))
        return self._known[key]

    def _worth(self, stock: int, pieces: Sequence[Laid]) -> Worth:
        named = tuple(as_piece(self._task, piece, "", lies_across=False) for piece in pieces)
        sheet = CutSheet(self._task.stocks[stock].sheet, named, 1)
        return leftover_worth(sheet, self._cutting)


def leftover_worth(sheet: CutSheet, cutting: Cutting) -> Worth:
    """Rate what a sheet leaves over: its largest offcut, all of them, and then how few cuts."""
    try:
        order = order_cuts(sheet, cutting)
    except GeometryError:
        return Fraction(-1), Fraction(0), 0
    areas = [offcut.area for offcut in order.kept]
    return max(areas, default=Fraction(0)), sum(areas, Fraction(0)), -len(order.cuts)


def pushed_together(pieces: Sequence[Laid], *, axis: int) -> tuple[Laid, ...]:
    """Push pieces towards the datum corner, strip by strip, so that no gap is left between strips.

    Strips along the sheet (``axis`` 1) or across it (0) are looked for first. Pieces that straight
    cuts can part still can be parted.
    """
    return _pushed(list(pieces), axis)[0]


def _pushed(pieces: list[Laid], axis: int) -> tuple[tuple[Laid, ...], int, int]:
    if len(pieces) == 1:
        piece = pieces[0]
        return (Laid(piece.size, 0, 0, piece.lie),), piece.lie.along, piece.lie.across
    for along in (axis, 1 - axis):
        strips = _strips(pieces, along)
        if len(strips) > 1:
            return _joined([_pushed(strip, axis) for strip in strips], along)
    raise GeometryError(tr("These pieces cannot be parted by straight cuts from edge to edge."))


def _joined(
    strips: Sequence[tuple[tuple[Laid, ...], int, int]], axis: int
) -> tuple[tuple[Laid, ...], int, int]:
    placed: list[Laid] = []
    at, wide = 0, 0
    for pieces, length, width in strips:
        x, y = (0, at) if axis else (at, 0)
        placed += [Laid(p.size, p.x + x, p.y + y, p.lie) for p in pieces]
        at += width if axis else length
        wide = max(wide, length if axis else width)
    return (tuple(placed), wide, at) if axis else (tuple(placed), at, wide)


def _strips(pieces: Sequence[Laid], axis: int) -> list[list[Laid]]:
    """Part pieces into strips that none of them bridges."""
    strips: list[list[Laid]] = []
    reach = 0
    for piece in sorted(pieces, key=lambda piece: piece.y if axis else piece.x):
        start = piece.y if axis else piece.x
        if strips and start < reach:
            strips[-1].append(piece)
        else:
            strips.append([piece])
        reach = max(reach, start + (piece.lie.across if axis else piece.lie.along))
    return strips
