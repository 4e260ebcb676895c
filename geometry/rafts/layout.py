"""What the splitting of a bed results in: the rafts, each in its place."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Final, Literal

from geometry.model.curves import Loop
from geometry.model.measure import bounds, shifted, turned_half

Side = Literal["left", "right", "bottom", "top"]

Ways = tuple[tuple[int, int], ...]
"""Directions, in cells along and across the bed, in which a raft can have a neighbour."""

ALL_WAYS: Final[Ways] = tuple(
    (right, up) for right, up in product((-1, 0, 1), repeat=2) if right or up
)

OPPOSITE: Final[dict[Side, Side]] = {
    "left": "right",
    "right": "left",
    "bottom": "top",
    "top": "bottom",
}


@dataclass(frozen=True, slots=True)
class RaftShape:
    """The outline of one raft in raft coordinates.

    The datum corner, lower left of the outline's box, is the origin. ``length`` (along x) and
    ``width`` (along y) are the box; for a rectangle they are exact.
    """

    loop: Loop
    length: Fraction
    width: Fraction
    is_rectangle: bool


@dataclass(frozen=True, slots=True)
class RaftPlace:
    """One raft in its bed: ``x``, ``y`` is the lower left corner of its box in bed coordinates.

    ``joints`` are the sides of its cell, seen in the bed, behind which another raft lies;
    ``column`` and ``row`` say which cell of the split it fills. A turned raft is its shape turned
    half round within its box: its datum corner is at the upper right.
    """

    name: str
    shape: RaftShape
    x: Fraction
    y: Fraction
    column: int
    row: int
    joints: frozenset[Side]
    turned: bool = False

    @property
    def own_joints(self) -> frozenset[Side]:
        """The sides of the raft's own box behind which another raft lies."""
        return frozenset(OPPOSITE[side] for side in self.joints) if self.turned else self.joints

    @property
    def loop_in_bed(self) -> Loop:
        """The raft's outline as it lies in the bed."""
        loop = turned_half(self.shape.loop) if self.turned else self.shape.loop
        return shifted(loop, float(self.x), float(self.y))

    def on_raft(self, loop: Loop) -> Loop:
        """Raft coordinates of an outline that lies in the bed."""
        if not self.turned:
            return shifted(loop, -float(self.x), -float(self.y))
        x0, y0, x1, y1 = bounds(loop)
        far_x, far_y = self.x + self.shape.length, self.y + self.shape.width
        return shifted(turned_half(loop), float(far_x) - x0 - x1, float(far_y) - y0 - y1)


@dataclass(frozen=True, slots=True)
class RaftLayout:
    """A bed's outline, the region that rafts may fill, and the rafts. Equal shapes are one value.

    ``region`` is empty when the clearance leaves nothing.
    """

    outline: Loop
    region: tuple[Loop, ...]
    rafts: tuple[RaftPlace, ...]


def neighbour_ways(rafts: Iterable[RaftPlace]) -> Ways:
    """Return where a raft can have neighbours when it may lie in any place of the bed.

    Rafts in a single row never lie behind each other, rafts in a single column never beside.
    """
    cells = [(raft.column, raft.row) for raft in rafts]
    along, across = (len({cell[axis] for cell in cells}) > 1 for axis in (0, 1))
    return tuple(way for way in ALL_WAYS if (along or not way[0]) and (across or not way[1]))


def joint_sides(ways: Ways) -> frozenset[Side]:
    """Return the sides of a raft at which there can be a joint."""
    sides: dict[tuple[int, int], Side] = {
        (-1, 0): "left",
        (1, 0): "right",
        (0, -1): "bottom",
        (0, 1): "top",
    }
    return frozenset(sides[way] for way in ways if way in sides)
