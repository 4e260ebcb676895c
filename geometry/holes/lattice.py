"""The best place for a lattice on any outline: the translation that puts most of it inside.

The critical places are known from the folded border. Which of them are worth a look is found by
halving the cell of translations again and again: where even all doubtful points would not beat the
best so far, nothing is looked at any more.
"""

from dataclasses import dataclass
from math import cos, hypot, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.holes.folding import critical_places, fold
from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.model.edges import Floats
from geometry.units import TOLERANCE_MM

_MOST_PIECES: Final = 3_000
"""Of a border folded into more pieces than this, crossings are not worked out one by one."""
_FEW_PLACES: Final = 20_000
"""So few points are looked at in one go rather than sorted out first."""
_BLIND_HALVINGS: Final = 5
"""So often the cell is halved before the border is folded: most bad lattices are given up here."""
_HALVINGS: Final = 10
_COARSE_HALVINGS: Final = 2

Indices = NDArray[np.int64]
Vector = tuple[float, float]


@dataclass(frozen=True, slots=True)
class RowLattice:
    """Rows at an angle (radians): pitch in the row, gap between rows, each row shifted by more."""

    angle: float
    pitch: float
    gap: float
    shift: float

    @property
    def cell(self) -> tuple[Vector, Vector]:
        """The vectors from a point to the next in its row, and to its place in the next row."""
        along, up = (cos(self.angle), sin(self.angle)), (-sin(self.angle), cos(self.angle))
        return (self.pitch * along[0], self.pitch * along[1]), (
            self.shift * along[0] + self.gap * up[0],
            self.shift * along[1] + self.gap * up[1],
        )

    def opened(self, ratio: float) -> "RowLattice":
        """The same lattice, all distances ``ratio`` times as large."""
        return RowLattice(self.angle, self.pitch * ratio, self.gap * ratio, self.shift * ratio)


def best_translation(region: Region, u: Vector, v: Vector, *, more_than: int = 0) -> Coordinates:
    """Return the points of the lattice spanned by ``u`` and ``v`` at its best translation.

    Exact up to the tolerance: no other translation puts more points into the region. (With a border
    some thousand spacings long the translations are only halved down to a hundredth of a cell.)
    Empty when no translation gives ``more_than`` so many points, which is told sooner.
    """
    cell = np.array([u, v], dtype=float)
    points = _lattice_around(region, cell)
    if len(points) <= more_than:
        return np.empty((0, 2))
    shift = _Search(region, cell, points, more_than).best()
    if shift is None:
        return np.empty((0, 2))
    xy: Coordinates = points + shift @ cell
    return xy[region.allows(xy)]


def _lattice_around(region: Region, cell: Floats) -> Coordinates:
    """All lattice points that a translation within one cell may bring into the region."""
    box = region.bounds()
    if box is None:
        return np.empty((0, 2))
    reach = np.abs(cell).sum(axis=0) + TOLERANCE_MM
    low_end, high_end = np.array(box[:2]) - reach, np.array(box[2:]) + reach
    (left, bottom), (right, top) = low_end.tolist(), high_end.tolist()
    corners = np.array([(left, bottom), (right, bottom), (right, top), (left, top)])
    shares = corners @ np.linalg.inv(cell)
    low, high = np.floor(shares.min(axis=0)), np.ceil(shares.max(axis=0))
    across, up = np.meshgrid(np.arange(low[0], high[0] + 1), np.arange(low[1], high[1] + 1))
    points = np.column_stack([across.ravel(), up.ravel()]) @ cell
    within = ((points >= low_end) & (points <= high_end)).all(axis=1)
    near: Coordinates = points[within]
    return near


@dataclass(slots=True, eq=False)
class _Quarters:
    """Equal parts of the cell of translations, in shares of the cell, and what is known of them.

    ``sure`` counts the points inside whatever translation of the part is taken. Point ``point[k]``
    is doubtful in part ``part[k]``; critical place k lies in part ``home[k]``.
    """

    middles: Floats
    sure: Indices
    part: Indices
    point: Indices
    places: Floats
    home: Indices

    def doubts(self) -> Indices:
        """How many points are doubtful in each part."""
        return np.bincount(self.part, minlength=len(self.middles))

    def chances(self) -> Indices:
        """How many critical places lie in each part."""
        return np.bincount(self.home, minlength=len(self.middles))

    def only(self, kept: NDArray[np.bool_]) -> "_Quarters":
        """The parts worth a closer look."""
        number = np.cumsum(kept) - 1
        of_kept, at_home = kept[self.part], kept[self.home]
        return _Quarters(
            self.middles[kept],
            self.sure[kept],
            number[self.part[of_kept]],
            self.point[of_kept],
            self.places[at_home],
            number[self.home[at_home]],
        )

    def with_places(self, places: Floats, size: float) -> "_Quarters":
        """The same parts, each ``size`` wide, and the critical places that lie in them."""
        count = round(1 / size)
        number = np.full((count, count), -1, dtype=np.int64)
        column, row = np.floor(self.middles / size).astype(np.int64).T
        number[column, row] = np.arange(len(self.middles))
        column, row = np.clip(places / size, 0, count - 1).astype(np.int64).T
        home = number[column, row]
        here = home >= 0
        return _Quarters(self.middles, self.sure, self.part, self.point, places[here], home[here])

    def quartered(self, size: float) -> "_Quarters":
        """Each part, ``size`` wide, cut into four."""
        corners = np.array([(-1, -1), (-1, 1), (1, -1), (1, 1)]) * size / 4
        beyond = self.places >= self.middles[self.home]
        return _Quarters(
            (self.middles[:, None] + corners).reshape(-1, 2),
            np.repeat(self.sure, 4),
            (4 * self.part[:, None] + np.arange(4)).ravel(),
            np.repeat(self.point, 4),
            self.places,
            4 * self.home + beyond @ np.array([2, 1]),
        )


class _Search:
    """The search for the best translation of one lattice."""

    def __init__(self, region: Region, cell: Floats, points: Coordinates, more_than: int) -> None:
        self._region, self._cell, self._points = region, cell, points
        self._radius = max(hypot(*(cell[0] + cell[1])), hypot(*(cell[0] - cell[1]))) / 2
        self._most = more_than
        self._shift: Floats | None = None

    def best(self) -> Floats | None:
        """The best translation in shares of the cell; None when none is good enough."""
        quarters, size = self._whole(), 1.0
        for _ in range(_BLIND_HALVINGS):
            quarters = self._sorted_out(quarters, size)
            if not len(quarters.middles):
                return self._shift
            quarters, size = quarters.quartered(size), size / 2
        folded = fold(self._region, self._cell)
        if len(folded) > _MOST_PIECES:
            return self._best_middle(quarters, size)
        places = critical_places(self._region, self._cell, folded)
        quarters = quarters.with_places(places, size)
        for _ in range(_HALVINGS):
            quarters = self._sorted_out(quarters.only(quarters.chances() > 0), size)
            if quarters.doubts() @ quarters.chances() <= _FEW_PLACES:
                break
            quarters, size = quarters.quartered(size), size / 2
        self._look_at(quarters)
        return self._shift

    def _best_middle(self, quarters: _Quarters, size: float) -> Floats | None:
        for _ in range(_COARSE_HALVINGS):
            quarters = self._sorted_out(quarters, size)
            quarters, size = quarters.quartered(size), size / 2
        return self._shift

    def _whole(self) -> _Quarters:
        nowhere = np.zeros(len(self._points), dtype=np.int64)
        sure = np.zeros(1, dtype=np.int64)
        points = np.arange(len(self._points))
        return _Quarters(
            np.array([[0.5, 0.5]]), sure, nowhere, points, np.empty((0, 2)), nowhere[:0]
        )

    def _sorted_out(self, quarters: _Quarters, size: float) -> _Quarters:
        """Tell the doubtful points of each part from the sure ones; drop parts without hope."""
        xy = self._points[quarters.point] + (quarters.middles @ self._cell)[quarters.part]
        slack, count = self._region.slack(xy), len(quarters.middles)
        inside = np.bincount(quarters.part[slack >= -TOLERANCE_MM], minlength=count)
        self._remember(quarters.middles, quarters.sure + inside)
        radius = self._radius * size
        surely, doubtful = slack >= radius, np.abs(slack) < radius + TOLERANCE_MM
        doubtful &= ~surely
        known = _Quarters(
            quarters.middles,
            quarters.sure + np.bincount(quarters.part[surely], minlength=count),
            quarters.part[doubtful],
            quarters.point[doubtful],
            quarters.places,
            quarters.home,
        )
        return known.only(known.sure + known.doubts() > self._most)

    def _remember(self, shifts: Floats, counts: Indices) -> None:
        if len(counts) and counts.max() > self._most:
            self._most = int(counts.max())
            self._shift = shifts[int(counts.argmax())]

    def _look_at(self, quarters: _Quarters) -> None:
        """Count the points at the critical places themselves, the most hopeful part first."""
        hopes = quarters.sure + quarters.doubts()
        for k in np.argsort(-hopes, kind="stable").tolist():
            if hopes[k] <= self._most:
                return
            points = self._points[quarters.point[quarters.part == k]]
            places = quarters.places[quarters.home == k]
            xy = ((places @ self._cell)[:, None] + points[None]).reshape(-1, 2)
            inside = self._region.allows(xy).reshape(len(places), -1)
            self._remember(places, quarters.sure[k] + inside.sum(axis=1))
