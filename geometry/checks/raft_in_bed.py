"""A raft with its holes where it lies: what the checks look at."""

from dataclasses import dataclass

import numpy as np

from geometry.holes.pairs import Floats
from geometry.holes.sites import Coordinates, Holes
from geometry.rafts.layout import RaftShape


@dataclass(frozen=True, slots=True)
class RaftInBed:
    """One raft in its bed: ``x``, ``y`` is the lower left corner of its box in bed coordinates.

    A turned raft lies half round within that box.
    """

    bed: str
    name: str
    shape: RaftShape
    holes: Holes
    x: float
    y: float
    turned: bool = False

    def in_bed(self, xy: Coordinates) -> Coordinates:
        """Bed coordinates of places on the raft."""
        return self._datum + (-xy if self.turned else xy)

    def on_raft(self, xy: Coordinates) -> Coordinates:
        """Raft coordinates of places in the bed."""
        return self._datum - xy if self.turned else xy - self._datum

    def place(self, hole: int) -> tuple[float, float]:
        """Where a hole lies in the bed."""
        x, y = self.in_bed(self.holes.xy[hole]).tolist()
        return x, y

    @property
    def size(self) -> Floats:
        """Length and width of the raft's box."""
        return np.array([float(self.shape.length), float(self.shape.width)])

    @property
    def _datum(self) -> Floats:
        corner = np.array([self.x, self.y])
        return corner + self.size if self.turned else corner
