"""The places of plants on one raft, as arrays."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

Coordinates = NDArray[np.float64]
"""An (n, 2) array of x, y in millimetres."""


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """What a pattern gives on one raft, in raft coordinates.

    ``rows`` numbers the row of the pattern that each site stands in, counted from the datum
    corner; sites are ordered by row and then along the row. ``plantings`` says by number which
    planting of the bed each site belongs to, None where all belong to the bed's own (0);
    ``plugged`` marks the sites without a plant for now, None where there are none.
    """

    xy: Coordinates
    rows: NDArray[np.int64]
    plantings: NDArray[np.int64] | None = None
    plugged: NDArray[np.bool_] | None = None

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
    opening: "Callable[[], Placement] | None" = field(default=None, repr=False)
    """Opens the pattern up, which takes a while; None where that is done or not asked for."""

    def __len__(self) -> int:
        return len(self.sites)

    def opened(self) -> "Placement":
        """Return the pattern as wide as its count allows; itself where that is what it is."""
        return self if self.opening is None else self.opening()


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
    ``pinned`` marks the holes placed by hand. ``plantings`` and ``plugged`` are as in ``Sites``.
    """

    xy: Coordinates
    diameters: NDArray[np.float64]
    names: tuple[str, ...]
    pinned: NDArray[np.bool_]
    plantings: NDArray[np.int64] | None = None
    plugged: NDArray[np.bool_] | None = None

    def __len__(self) -> int:
        return len(self.names)

    @property
    def numbers(self) -> NDArray[np.int64]:
        """The number of the planting that each hole belongs to."""
        return np.zeros(len(self), np.int64) if self.plantings is None else self.plantings

    def count_by_planting(self, plantings: int, *, plugged: bool = False) -> NDArray[np.int64]:
        """Count the holes of each of so many plantings, or only those that are plugged."""
        if plugged and self.plugged is None:
            return np.zeros(plantings, np.int64)
        counted = self.numbers[self.plugged] if plugged else self.numbers
        return np.bincount(counted, minlength=plantings)

    def __eq__(self, other: object) -> bool:
        return self is other or (
            isinstance(other, Holes)
            and self.names == other.names
            and np.array_equal(self.xy, other.xy)
            and np.array_equal(self.diameters, other.diameters)
            and np.array_equal(self.pinned, other.pinned)
            and _alike(self.plantings, other.plantings)
            and _alike(self.plugged, other.plugged)
        )

    def __hash__(self) -> int:
        return hash((len(self), self.xy.tobytes()))


def _alike(first: NDArray[Any] | None, second: NDArray[Any] | None) -> bool:
    if first is None or second is None:
        return first is second
    return np.array_equal(first, second)
