"""The places of plants on one raft, as arrays."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Coordinates = NDArray[np.float64]
"""An (n, 2) array of x, y in millimetres."""


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """What a pattern gives on one raft, in raft coordinates.

    ``rows`` numbers the row of the pattern that each site stands in, counted from the datum
    corner; sites are ordered by row and then along the row.
    """

    xy: Coordinates
    rows: NDArray[np.int64]

    def __len__(self) -> int:
        return len(self.xy)


@dataclass(frozen=True, slots=True, eq=False)
class Placement:
    """One pattern laid on one raft (raft coordinates) and what to call it.

    ``direction`` says along which bed axis the rows run; ``pitch_mm`` is the distance used in a
    row, ``row_gap_mm`` the distance between neighbouring rows (the least, if they differ).
    """

    sites: Sites
    pattern: str
    direction: str
    pitch_mm: float
    row_gap_mm: float

    def __len__(self) -> int:
        return len(self.sites)


@dataclass(frozen=True, slots=True)
class KeptExact:
    """Sites of one raft design that have no legal place on whole steps.

    ``raft`` is the first raft, by its place in the layout, that carries them, ``count`` their
    number. ``worst`` are the one or two sites (raft, site; places in the layout and on the raft)
    that would come ``short_mm`` too near each other, or one of them too near an edge or an
    obstacle, if they were rounded like the others.
    """

    raft: int
    count: int
    worst: tuple[tuple[int, int], ...]
    short_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Holes:
    """The holes of one raft design in raft coordinates; equal when all arrays are equal.

    Names are unique in the raft: row letter and number, "A1" nearest the datum corner.
    ``pinned`` marks the holes placed by hand.
    """

    xy: Coordinates
    diameters: NDArray[np.float64]
    names: tuple[str, ...]
    pinned: NDArray[np.bool_]

    def __len__(self) -> int:
        return len(self.names)

    def __eq__(self, other: object) -> bool:
        return self is other or (
            isinstance(other, Holes)
            and self.names == other.names
            and np.array_equal(self.xy, other.xy)
            and np.array_equal(self.diameters, other.diameters)
            and np.array_equal(self.pinned, other.pinned)
        )

    def __hash__(self) -> int:
        return hash((len(self), self.xy.tobytes()))
