"""The straight cuts of one sheet, in the order in which they are made."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from operator import attrgetter

from geometry.cutting.plan import CutSheet, Piece
from geometry.errors import GeometryError


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
class _Part:
    """A rectangle of foam with true edges on the left and below, and what is cut from it."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction
    pieces: tuple[Piece, ...]


def cuts(cut_sheet: CutSheet) -> tuple[Cut, ...]:
    """Say which cuts to make, and in which order, to get every piece out of the sheet.

    The trimming cuts come first; the trim is where the first piece lies. Every later cut is
    measured from an edge that is true by then: first all cuts along the sheet, then each strip
    across, and so on in turn. Raises GeometryError when pieces cannot be parted by straight cuts.
    """
    sheet, pieces = cut_sheet.sheet, cut_sheet.pieces
    trim_x = min(piece.x for piece in pieces)
    trim_y = min(piece.y for piece in pieces)
    length, width = sheet.length.exact, sheet.width.exact
    usable = _Part(trim_x, trim_y, length - trim_x, width - trim_y, pieces)
    lines = [*_trimming(usable, length, width), *_parting(usable)]
    return tuple(Cut(number, *line) for number, line in enumerate(lines, start=1))


_Line = tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction], Fraction]


def _trimming(usable: _Part, length: Fraction, width: Fraction) -> Iterator[_Line]:
    zero = Fraction(0)
    left, bottom, right, top = usable.left, usable.bottom, usable.right, usable.top
    if bottom > 0:
        yield (zero, bottom), (length, bottom), bottom
    if left > 0:
        yield (left, bottom), (left, width), left
    if bottom > 0:
        yield (left, top), (length, top), top - bottom
    if left > 0:
        yield (right, bottom), (right, top), right - left


def _parting(part: _Part) -> Iterator[_Line]:
    """Cut a part into strips along it, or else across it, then each strip in turn."""
    rows = _groups(part.pieces, "y", "width")
    columns = _groups(part.pieces, "x", "length")
    if len(rows) > 1 or rows[0][1] < part.top:
        for bottom, top, _ in rows:
            if top < part.top:
                yield (part.left, top), (part.right, top), top - bottom
        for bottom, top, pieces in rows:
            yield from _parting(_Part(part.left, bottom, part.right, top, pieces))
    elif len(columns) > 1 or columns[0][1] < part.right:
        for left, right, _ in columns:
            if right < part.right:
                yield (right, part.bottom), (right, part.top), right - left
        for left, right, pieces in columns:
            yield from _parting(_Part(left, part.bottom, right, part.top, pieces))
    elif len(part.pieces) > 1:
        raise GeometryError("These pieces cannot be parted by straight cuts from edge to edge.")


def _groups(
    pieces: Sequence[Piece], side: str, extent: str
) -> list[tuple[Fraction, Fraction, tuple[Piece, ...]]]:
    """Part the pieces into strips that no piece bridges, from below or from the left."""
    place = attrgetter(side)
    groups: list[tuple[Fraction, Fraction, tuple[Piece, ...]]] = []
    for piece in sorted(pieces, key=place):
        start = place(piece)
        end = start + attrgetter(extent)(piece)
        if groups and start < groups[-1][1]:
            low, high, members = groups.pop()
            groups.append((low, max(high, end), (*members, piece)))
        else:
            groups.append((start, end, (piece,)))
    return groups
