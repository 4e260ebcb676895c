"""Squeeze: free places for more holes than any rows hold, on one raft.

A search, not a proof: it starts from what is there and one point more, from lattices turned and
stretched at random, from points thrown at random, and from its own near misses, whose most
crowded point it puts elsewhere. What it returns is checked to 1e-7 mm; what it does not find may
still exist unless the ceiling says otherwise. The same generator and number of tries give the
same result.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import ceil, cos, pi, sin, sqrt
from typing import Final

import numpy as np

from geometry.holes.room import MOST_POINTS, Room, Squeezed
from geometry.holes.settle import KeepGoing, about_slack, polish, settle
from geometry.holes.sites import Coordinates
from geometry.model.edges import Floats

_WORK: Final = 1_600
_SIDE_BY_SIDE: Final = 48
"""So many points, in at most so many sets, are settled side by side."""
_FIRST_ROUNDS: Final = 60
_GO_ON: Final = 4
"""After the first rounds one set in so many goes on: the calmest."""
_CLOSE_STRAIN: Final = 4e-4
"""Settled points with less strain than this are worth the polish."""
_POLISHED: Final = 3
_MISSES: Final = 8
_VOID_STEP: Final = 8
"""Fineness of the search for room, in steps a spacing."""
_ROOMY: Final = 0.55
"""Two voids are different if they are so many spacings apart."""
_GRIDS_MM: Final = (1.0, 0.5, 0.1, 0.01, 0.001)
"""Grids that the places are rounded to, the coarsest first that breaks no rule."""


@dataclass(slots=True, eq=False)
class _Search:
    """The state of one search: the best so far and the near misses with one point more."""

    room: Room
    generator: np.random.Generator
    keep_going: KeepGoing
    voids: Coordinates
    best: Coordinates
    misses: list[tuple[float, Coordinates, Floats]]

    def start(self, number: int) -> Coordinates:
        """Return the points of one try: one more than the best so far."""
        wanted = len(self.best) + 1
        if number < 4:
            return self._one_more(self.best, number)
        kind = int(self.generator.integers(0, 8))
        if self.misses and kind < 5:
            return self._from_miss()
        if kind < 7:
            return self._lattice(wanted)
        return self._random(wanted)

    def _one_more(self, points: Coordinates, rank: int) -> Coordinates:
        """Add a point in the roomiest void but ``rank``."""
        gaps = _gaps(self.voids, np.vstack([points, self.room.fixed]))
        for _ in range(rank):
            roomiest = self.voids[int(gaps.argmax())]
            near = np.hypot(*(self.voids - roomiest).T) < _ROOMY * self.room.spacing
            if near.all():
                break
            gaps = np.where(near, -1.0, gaps)
        return np.vstack([points, self.voids[int(gaps.argmax())]])

    def _from_miss(self) -> Coordinates:
        """Take a near miss and put one of its most strained points into a void."""
        _, points, strain = self.misses[int(self.generator.integers(0, len(self.misses)))]
        worst = np.argsort(-strain)[: int(self.generator.integers(1, 7))]
        kept = np.delete(points, int(self.generator.choice(worst)), axis=0)
        moved = self._one_more(kept, int(self.generator.integers(0, 4)))
        shake = float(self.generator.choice([0.02, 0.08, 0.2])) * self.room.spacing
        return moved + self.generator.normal(0.0, shake, moved.shape)

    def _lattice(self, wanted: int) -> Coordinates:
        """Lay a lattice, turned, stretched and shifted at random, as close as it takes."""
        room, random = self.room, self.generator
        low, high = room.box
        angle = float(random.choice([0.0, pi / 2, random.uniform(0.0, pi)]))
        pitch = float(random.choice([1.0, random.uniform(1.0, sqrt(3))]))
        gap = sqrt(max(1.0 - pitch * pitch / 4, 0.25))
        share = random.uniform(0.0, 1.0, 2)
        middle, reach = (low + high) / 2, float(np.hypot(*(high - low))) / 2 + room.spacing
        scale = 1.0
        for _ in range(40):
            along, up = pitch * scale * room.spacing, gap * scale * room.spacing
            rows = np.arange(-ceil(reach / up), ceil(reach / up) + 1)
            columns = np.arange(-ceil(reach / along), ceil(reach / along) + 1)
            column, row = np.meshgrid(columns, rows)
            x = (column + share[0] + (row % 2) / 2) * along
            y = (row + share[1]) * up
            turned = np.column_stack(
                [
                    (x * cos(angle) - y * sin(angle)).ravel(),
                    (x * sin(angle) + y * cos(angle)).ravel(),
                ]
            )
            points = turned + middle
            # Points a little outside are pushed in: a row just lost is often the one to save.
            points = points[about_slack(room, points) >= -0.3 * room.spacing * (1.0 - scale)]
            if len(points) >= wanted:
                kept = random.permutation(len(points))[:wanted]
                return points[np.sort(kept)]
            scale *= min(0.985, sqrt((len(points) + 1) / wanted))
        return self._random(wanted)

    def _random(self, wanted: int) -> Coordinates:
        """Throw points anywhere."""
        return self.voids[self.generator.integers(0, len(self.voids), wanted)] + (
            self.generator.normal(0.0, 0.1 * self.room.spacing, (wanted, 2))
        )

    def remember(self, settled: Floats, strains: Floats) -> None:
        """Keep the calmest near misses, unlike ones."""
        totals = strains.sum(axis=1)
        for at in np.argsort(totals)[:_MISSES].tolist():
            total = float(totals[at])
            if all(abs(total - other) > 1e-6 for other, _, _ in self.misses):
                self.misses.append((total, settled[at], strains[at]))
        self.misses.sort(key=lambda miss: miss[0])
        del self.misses[_MISSES:]


def squeeze(
    room: Room,
    begin: Coordinates,
    *,
    ceiling: int,
    generator: np.random.Generator,
    keep_going: KeepGoing,
    tell: Callable[[Coordinates], None] = lambda _: None,
    tries: int | None = None,
) -> Coordinates | None:
    """Search for more points than ``begin`` has; None when none were found.

    ``begin`` is what is there now: legal, or not (then it is only a start). ``ceiling`` is a
    proved bound: reached, it ends the search. ``tries`` bounds the tries without success for each
    further point. ``tell`` hears of every find; a find is legal, and ``finished`` makes it fit to
    be marked. Empty rooms and rooms of more than
    ``MOST_POINTS`` give None at once.
    """
    if ceiling <= len(begin) or len(begin) >= MOST_POINTS or room.region.bounds() is None:
        return None
    voids = _voids(room)
    if not len(voids):
        return None
    search = _Search(room, generator, keep_going, voids, begin, [])
    number = 0
    while len(search.best) < min(ceiling, MOST_POINTS) and keep_going():
        if tries is not None and number >= tries:
            break
        side_by_side = min(_SIDE_BY_SIDE, max(_GO_ON, _WORK // (len(search.best) + 1)))
        starts = np.stack([search.start(number + at) for at in range(side_by_side)])
        number += side_by_side
        settled, strains = settle(room, starts, keep_going, rounds=_FIRST_ROUNDS)
        calm = np.argsort(strains.sum(axis=1))[: -(-side_by_side // _GO_ON)]
        settled, strains = settle(room, settled[calm], keep_going)
        if (won := _first_legal(room, settled, strains, keep_going)) is not None:
            search.best, search.misses, number = won, [], 0
            tell(won)
        else:
            search.remember(settled, strains)
    return search.best if len(search.best) > len(begin) else None


def _first_legal(
    room: Room, settled: Floats, strains: Floats, keep_going: KeepGoing
) -> Coordinates | None:
    """Polish the calmest of the settled points until they are legal; None when none gets there."""
    totals = strains.sum(axis=1)
    for at in np.argsort(totals)[:_POLISHED].tolist():
        if totals[at] > _CLOSE_STRAIN:
            break
        opened = polish(room, settled[at], keep_going, enough=1.0)
        if room.is_legal(opened):
            return opened
    return None


def finished(
    room: Room, xy: Coordinates, sites: Coordinates, step_mm: float | None = None
) -> Squeezed:
    """Open legal places up as far as they go, and round them as far as the rules allow.

    ``step_mm`` is the step of the grower's tape, tried before all others. ``sites`` are those of
    the pattern; the places take them over so that they are nearest to them all in all.
    """
    opened = polish(room, xy, lambda: True, rounds=25)
    if not room.is_legal(opened):
        opened = xy
    grids = _GRIDS_MM if step_mm is None else (step_mm, *_GRIDS_MM)
    return _matched(room, *_rounded(room, opened, grids), sites)


def _rounded(
    room: Room, opened: Coordinates, grids: Iterable[float]
) -> tuple[Coordinates, float | None]:
    over = room.least_distance(opened) - room.spacing
    for grid in grids:
        drawn_in = opened
        if over > grid:
            # Rounding moves a place by up to 0.71 of the grid: give it that at the border too.
            drawn_in = polish(room, opened, lambda: True, inset_mm=0.71 * grid, rounds=10)
        for places in (opened, drawn_in):
            rounded = np.round(np.round(places / grid) * grid, 8)
            if room.is_legal(rounded):
                return rounded, grid
    return np.round(opened, 8), None


def _matched(room: Room, xy: Coordinates, grid: float | None, sites: Coordinates) -> Squeezed:
    """Give each place the site it takes over; those without one come last, from the datum on."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415  loaded when first used

    homes = np.full(len(xy), -1, dtype=np.int64)
    if len(sites):
        away = np.hypot(*(xy[:, None, :] - sites[None, :, :]).transpose(2, 0, 1))
        places, taken = linear_sum_assignment(away)
        homes[places] = taken
    order = np.lexsort((xy[:, 0], xy[:, 1], np.where(homes < 0, len(sites), homes)))
    return Squeezed(xy[order], room.least_distance(xy), grid, homes[order])


def _gaps(places: Coordinates, taken: Coordinates) -> Floats:
    """Distance from each place to the nearest of the taken ones."""
    from scipy.spatial import cKDTree  # noqa: PLC0415  loaded when first used

    if not len(taken):
        return np.full(len(places), np.inf)
    gaps: Floats = np.asarray(cKDTree(taken).query(places)[0])
    return gaps


def _voids(room: Room) -> Coordinates:
    """Places all over the region, close together, its corners too."""
    low, high = room.box
    axes = [
        np.linspace(start, end, ceil((end - start) / room.spacing * _VOID_STEP) + 1)
        for start, end in zip(low, high, strict=True)
    ]
    grid = np.array(np.meshgrid(*axes)).reshape(2, -1).T
    corners = np.array(room.region.corners).reshape(-1, 2)
    return np.vstack([grid[room.region.allows(grid)], corners])
