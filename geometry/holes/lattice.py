"""The best place for a lattice on any outline: the translation that puts most of it inside.

The critical places are known from the folded border. Which of them are worth a look is found by
halving the cell of translations again and again: where even all doubtful points would not beat the
best so far, nothing is looked at any more.
"""

from dataclasses import dataclass
from math import hypot
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
_HALVINGS: Final = 14
_COARSE_HALVINGS: Final = 7

Indices = NDArray[np.int64]


def best_translation(region: Region, u: tuple[float, float], v: tuple[float, float]) -> Coordinates:
    """Return the points of the lattice spanned by ``u`` and ``v`` at its best translation.

    Exact up to the tolerance: no other translation puts more points into the region. (With a border
    some thousand spacings long the translations are only halved down to a hundredth of a cell.)
    """
    cell = np.array([u, v], dtype=float)
    points = _lattice_around(region, cell)
    if not len(points):
        return points
    folded = fold(region, cell)
    search = _Search(region, cell, points)
    if len(folded) <= _MOST_PIECES:
        search.run(critical_places(region, cell, folded))
    else:
        search.run_coarsely()
    xy: Coordinates = points + search.shift @ cell
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
    """The search for the best translation of one lattice; ``shift`` is in shares of the cell."""

    def __init__(self, region: Region, cell: Floats, points: Coordinates) -> None:
        self.shift = np.zeros(2)
        self._most = -1
        self._region, self._cell, self._points = region, cell, points
        self._radius = max(hypot(*(cell[0] + cell[1])), hypot(*(cell[0] - cell[1]))) / 2

    def run(self, places: Floats) -> None:
        """Find the best of the critical places, or one as good."""
        quarters, size = self._start(places), 1.0
        for _ in range(_HALVINGS):
            quarters = self._sorted_out(quarters, size)
            hopeful = quarters.sure + quarters.doubts() > self._most
            quarters = quarters.only(hopeful & (quarters.chances() > 0))
            if quarters.doubts() @ quarters.chances() <= _FEW_PLACES:
                break
            quarters, size = quarters.quartered(size), size / 2
        self._look_at(quarters)

    def run_coarsely(self) -> None:
        """Find the best of the middles of ever smaller parts."""
        quarters, size = self._start(np.empty((0, 2))), 1.0
        for _ in range(_COARSE_HALVINGS):
            quarters = self._sorted_out(quarters, size)
            quarters = quarters.only(quarters.sure + quarters.doubts() > self._most)
            quarters, size = quarters.quartered(size), size / 2

    def _start(self, places: Floats) -> _Quarters:
        count = len(self._points)
        nowhere = np.zeros(count, dtype=np.int64)
        home = np.zeros(len(places), dtype=np.int64)
        sure = np.zeros(1, dtype=np.int64)
        return _Quarters(np.array([[0.5, 0.5]]), sure, nowhere, np.arange(count), places, home)

    def _sorted_out(self, quarters: _Quarters, size: float) -> _Quarters:
        """Tell the doubtful points of each part from those surely inside or outside."""
        xy = self._points[quarters.point] + (quarters.middles @ self._cell)[quarters.part]
        slack, count = self._region.slack(xy), len(quarters.middles)
        inside = np.bincount(quarters.part[slack >= -TOLERANCE_MM], minlength=count)
        self._remember(quarters.middles, quarters.sure + inside)
        radius = self._radius * size
        surely, doubtful = slack >= radius, np.abs(slack) < radius + TOLERANCE_MM
        doubtful &= ~surely
        return _Quarters(
            quarters.middles,
            quarters.sure + np.bincount(quarters.part[surely], minlength=count),
            quarters.part[doubtful],
            quarters.point[doubtful],
            quarters.places,
            quarters.home,
        )

    def _remember(self, shifts: Floats, counts: Indices) -> None:
        if len(counts) and counts.max() > self._most:
            self._most = int(counts.max())
            self.shift = shifts[int(counts.argmax())]

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
