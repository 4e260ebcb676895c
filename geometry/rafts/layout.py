"""What the splitting of a bed results in: the rafts, each in its place."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.model.curves import Loop
from geometry.model.measure import bounds, shifted, turned_half

Side = Literal["left", "right", "bottom", "top"]

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
