"""Whether rafts come out from under what lies above the water: braces, bars, pipes."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Final

from geometry.beds.outline import exact_size, obstacle_loop
from geometry.model.bed import Bed
from geometry.model.measure import Box, bounds
from geometry.rafts.layout import RaftLayout, RaftPlace
from geometry.units import TOLERANCE_MM


@dataclass(frozen=True, slots=True)
class Trapped:
    """A raft that cannot be lifted out, and what lies over it wherever it is slid."""

    raft: str
    under: tuple[str, ...]
    place: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Lifting:
    """How rafts come out. ``things`` lie above rafts, ``covered`` have some above them as they lie.

    ``slid`` come out after they are slid within their own room, ``after`` only once their
    neighbours are out.
    """

    things: tuple[str, ...] = ()
    covered: tuple[str, ...] = ()
    slid: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    trapped: tuple[Trapped, ...] = ()


NOTHING_ABOVE: Final = Lifting()

_Thing = tuple[str, Box]

Room = tuple[tuple[float, float], tuple[float, float]]
"""How far a raft can be slid along the bed and across it: back (negative) and forth."""


def look_at_lifting(bed: Bed, layout: RaftLayout) -> Lifting:
    """Say which rafts can be lifted out, level, from between what lies above the water.

    A raft comes out when its box, slid within the room that it has along and across the bed, lies
    clear of the boxes of all that is above the water. Rafts that are out leave their room to their
    neighbours in the row and the column, in beds that are rectangles. Tilting is not tried.
    """
    above = [
        (each.name, bounds(obstacle_loop(each))) for each in bed.obstacles if each.above is not None
    ]
    if not above or not layout.rafts:
        return NOTHING_ABOVE
    rows = _Rows(bed, layout.rafts)
    covered = {raft.name: raft for raft in layout.rafts if _over(_box(raft), above)}
    still = dict(covered)
    slid = rows.take_out(still, above, alone=True)
    after: list[str] = []
    while still and exact_size(bed.outline) is not None:
        out = rows.take_out(still, above)
        if not out:
            break
        after.extend(out)
    return Lifting(
        tuple(
            name for name, box in above if any(_meet(_box(raft), box) for raft in covered.values())
        ),
        tuple(covered),
        tuple(slid),
        tuple(after),
        tuple(
            Trapped(name, tuple(_over(_box(raft), above)), _middle(raft))
            for name, raft in still.items()
        ),
    )


class _Rows:
    """The rafts of each row and of each column of a bed."""

    def __init__(self, bed: Bed, rafts: Iterable[RaftPlace]) -> None:
        self._clearance, self._gap = bed.clearance.mm, bed.joint_gap.mm
        self._rows: defaultdict[int, list[RaftPlace]] = defaultdict(list)
        self._columns: defaultdict[int, list[RaftPlace]] = defaultdict(list)
        for raft in rafts:
            self._rows[raft.row].append(raft)
            self._columns[raft.column].append(raft)

    def take_out(
        self, still: dict[str, RaftPlace], above: Sequence[_Thing], *, alone: bool = False
    ) -> list[str]:
        """Take the rafts that come out from those ``still`` there, and name them.

        With ``alone`` the others stay where they are, pushed aside.
        """
        there = None if alone else frozenset(still)
        out = [
            name
            for name, raft in still.items()
            if any(_comes_out(raft, room, above) for room in self._rooms(raft, there))
        ]
        for name in out:
            del still[name]
        return out

    def _rooms(self, raft: RaftPlace, there: frozenset[str] | None) -> Iterator[Room]:
        """The room along and across the bed with all rafts there, or with only some."""
        along = self._room(raft.column, max(self._columns))
        across = self._room(raft.row, max(self._rows))
        if there is None:
            yield along, across
            return
        row = [each for each in self._rows[raft.row] if each.name not in there]
        column = [each for each in self._columns[raft.column] if each.name not in there]
        yield _longer(along, raft.column, [(e.column, e.shape.length) for e in row]), across
        yield along, _longer(across, raft.row, [(e.row, e.shape.width) for e in column])

    def _room(self, cell: int, last: int) -> tuple[float, float]:
        """The clearance and the joints on each side, with the others pushed against the wall."""
        return -self._clearance - cell * self._gap, self._clearance + (last - cell) * self._gap


def _longer(
    room: tuple[float, float], at: int, gone: Iterable[tuple[int, Fraction]]
) -> tuple[float, float]:
    back, forth = room
    for cell, size in gone:
        if cell < at:
            back -= float(size)
        elif cell > at:
            forth += float(size)
    return back, forth


def _comes_out(raft: RaftPlace, room: Room, above: Sequence[_Thing]) -> bool:
    box = _box(raft)
    (back, forth), (down, up) = room
    reach = (box[0] + back, box[1] + down, box[2] + forth, box[3] + up)
    near = [(name, each) for name, each in above if _meet(reach, each)]
    shifts = [_shifts(box, [each for _, each in near], axis, room[axis]) for axis in (0, 1)]
    return any(
        not _over((box[0] + x, box[1] + y, box[2] + x, box[3] + y), near)
        for x, y in product(*shifts)
    )


def _shifts(box: Box, near: Sequence[Box], axis: int, room: tuple[float, float]) -> list[float]:
    """The shifts that can make a difference: none, and up against what is above on either side."""
    back, forth = room
    edges = [each[axis + 2] - box[axis] for each in near] + [
        each[axis] - box[axis + 2] for each in near
    ]
    fitting = (
        min(max(edge, back), forth)
        for edge in edges
        if back - TOLERANCE_MM <= edge <= forth + TOLERANCE_MM
    )
    return sorted({0.0, *fitting}, key=abs)


def _over(box: Box, above: Sequence[_Thing]) -> list[str]:
    return [name for name, each in above if _meet(box, each)]


def _meet(one: Box, other: Box) -> bool:
    return (
        one[0] < other[2] - TOLERANCE_MM
        and other[0] < one[2] - TOLERANCE_MM
        and one[1] < other[3] - TOLERANCE_MM
        and other[1] < one[3] - TOLERANCE_MM
    )


def _box(raft: RaftPlace) -> Box:
    x, y = float(raft.x), float(raft.y)
    return x, y, x + float(raft.shape.length), y + float(raft.shape.width)


def _middle(raft: RaftPlace) -> tuple[float, float]:
    left, bottom, right, top = _box(raft)
    return (left + right) / 2, (bottom + top) / 2
