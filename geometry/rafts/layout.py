"""What the splitting of a bed results in: the rafts, each in its place."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from geometry.model.curves import Loop

Side = Literal["left", "right", "bottom", "top"]


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
    """One raft in its bed: ``x``, ``y`` is its datum corner in bed coordinates.

    ``joints`` are the sides of its cell behind which another raft lies; ``column`` and ``row``
    say which cell of the split it fills.
    """

    name: str
    shape: RaftShape
    x: Fraction
    y: Fraction
    column: int
    row: int
    joints: frozenset[Side]


@dataclass(frozen=True, slots=True)
class RaftLayout:
    """A bed's outline, the region that rafts may fill, and the rafts. Equal shapes are one value.

    ``region`` is empty when the clearance leaves nothing.
    """

    outline: Loop
    region: tuple[Loop, ...]
    rafts: tuple[RaftPlace, ...]
