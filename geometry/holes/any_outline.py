"""Patterns on any outline: stacks of rows at their best place, rows one by one, rings."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from math import atan2, ceil, cos, hypot, isclose, pi, sin, sqrt
from typing import Final

import numpy as np

from geometry.holes.best_shift import MostOfEach, Search, Shift
from geometry.holes.chords import Chords
from geometry.holes.opening import centred, opened
from geometry.holes.region import Region
from geometry.holes.rings import ringed
from geometry.holes.row_pattern import RowPattern
from geometry.holes.rows import best_rows
from geometry.holes.sites import Coordinates, Placement, Sites
from geometry.holes.stack import RowStack
from geometry.holes.stretched import mixed_rows, sheared_stagger, stretched_stagger
from geometry.model.planting import Direction, Pattern
from geometry.units import TOLERANCE_MM
from geometry.watch import look_up, part

_KINDS: Final[dict[Pattern, tuple[str, ...]]] = {
    "square": ("square",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("square", "hexagonal"),
    "mixed": ("square", "hexagonal"),
    "rows": ("rows",),
    "rings": ("rings",),
    "best": ("square", "hexagonal", "rows", "rings"),
}
_BEYOND: Final[dict[Pattern, tuple[str, ...]]] = {
    "staggered": ("staggered",),
    "mixed": ("staggered", "mixed"),
    "best": ("staggered", "mixed"),
}
"""What is tried beside those, and kept where it holds more than any of them."""

_EASE: Final = ("square", "rectangular", "hexagonal", "staggered", "mixed", "rows", "rings")
"""On equal counts the pattern that is easier to mark comes first."""

_MOST_DIRECTIONS: Final = 6
"""Of an outline with more edge directions than this, those with the longest edges are tried."""
_MANY_SITES: Final = 4_000
"""Of larger placements only the rows of the box are stretched, and none is opened."""


@dataclass(frozen=True, slots=True, eq=False)
class _Laid:
    """A placement and where its rows were found; rings have none.

    ``alike`` are the numbers of all stacks of the same name in the search.
    """

    placement: Placement
    search: Search | None = None
    shift: Shift | None = None
    alike: tuple[int, ...] = ()

    @property
    def order(self) -> tuple[int, int]:
        return -len(self.placement), _EASE.index(self.placement.pattern)


def place_on_any_outline(
    region: Region,
    *,
    spacing: float,
    row_spacing: float | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
) -> tuple[Placement, ...]:
    """Lay each pattern in the region's own directions, the best of each first, and open the winner.

    See ``lay_on_any_outline``.
    """
    found = lay_on_any_outline(
        region,
        spacing=spacing,
        row_spacing=row_spacing,
        pattern=pattern,
        direction=direction,
        spread=spread,
    )
    return opened_first(found)


def opened_first(found: Sequence[Placement]) -> tuple[Placement, ...]:
    """Open the first of some placements; others of the name that it then has are left out."""
    if not found:
        return ()
    best, *others = found
    best = best.opened()
    name = best.pattern, best.direction
    return best, *(each for each in others if (each.pattern, each.direction) != name)


def lay_on_any_outline(
    region: Region,
    *,
    spacing: float,
    row_spacing: float | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
    more_than: int | None = None,
) -> tuple[Placement, ...]:
    """Lay each pattern in the region's own directions, the best of each first.

    Exact: no shift of these rows in these directions holds more (but see ``in_doubt`` of
    ``MostOfEach``). Stagger is also tried stretched,
    sheared and with straight rows in it, and kept where it then holds more than all else. With
    ``spread`` the first can be opened: as far as its count allows, in the middle of what room is
    left to it. With ``more_than`` only patterns that hold more sites than that matter, and of them
    only the best: a count is then found sooner.
    """
    angles = _own_directions(region) if direction == "best" else [_ALONG[direction]]
    chords = _chords(region, tuple(angles))
    kinds, beyond = _KINDS[pattern], _BEYOND.get(pattern, ())
    named: list[tuple[str, RowStack]] = [
        (kind, _plain(kind, angle, spacing, row_spacing or spacing))
        for kind in kinds
        if kind != "rings"
        for angle in angles
        # A square grid turned by a quarter is the same grid.
        if kind != "square" or direction != "best" or angle < pi / 2 - 1e-9
    ]
    named += _stretched_on_the_box(region, spacing, pattern, direction) if beyond else []
    with part(0.0, 0.3):
        groups = range(len(named)) if more_than is None else [0] * len(named)
        found = _best_of_each(region, chords, named, groups, more_than or 0)
    if "rings" in kinds:
        found.append(_Laid(ringed(region, spacing)))
    most = max((len(laid.placement) for laid in found), default=0)
    if beyond and most <= _MANY_SITES:
        with part(0.3, 0.7):
            most = max(most, more_than or 0)
            named = list(_further(region, spacing, angles, beyond))
            groups = [0 if more_than is not None else beyond.index(kind) for kind, _ in named]
            found += _best_of_each(region, chords, named, groups, most)
    found = sorted((laid for laid in found if len(laid.placement)), key=lambda laid: laid.order)
    look_up(0.7)
    placements = [laid.placement for laid in found]
    if spread and placements:
        placements[0] = replace(placements[0], opening=partial(_opened, region, found[0]))
    return tuple(placements)


@lru_cache(maxsize=32)
def _chords(region: Region, angles: tuple[float, ...]) -> Chords:
    """Cut a region once, however many spacings are tried on it."""
    return Chords.of(region, angles)


_ALONG: Final = {"along": 0.0, "across": pi / 2}


def _plain(kind: str, angle: float, spacing: float, row_spacing: float) -> RowStack:
    match kind:
        case "hexagonal":
            return RowStack(angle, spacing, spacing * sqrt(0.75), spacing / 2)
        case "rectangular":
            return RowStack(angle, spacing, row_spacing)
        case _:
            return RowStack(angle, spacing, spacing, alone=kind == "rows")


def _stretched_on_the_box(
    region: Region, spacing: float, pattern: Pattern, direction: Direction
) -> list[tuple[str, RowStack]]:
    """The rows that would be best on the region's box."""
    left, bottom, right, top = region.bounds() or (0.0, 0.0, -1.0, -1.0)
    # A little more, so that rows that just fit are not lost to rounding.
    length, width = (
        Fraction(round(side * 10**7) + 2, 10**7) for side in (right - left, top - bottom)
    )
    step = Fraction(ceil(spacing * 10**9), 10**9)
    rows = best_rows(length, width, step, pattern=pattern, direction=direction)
    across = {"along": top - bottom, "across": right - left}
    return [
        (r.family, _endless(r, spacing, across[r.direction]))
        for r in rows
        if r.family in {"staggered", "mixed"}
    ]


def _endless(pattern: RowPattern, spacing: float, height: float) -> RowStack:
    gap = pattern.staggered_gap
    if 2 * gap < spacing and 2 * gap <= height + TOLERANCE_MM:
        # Two rows may stand nearer than half a spacing; a third behind them would be too near.
        gap = min(spacing / 2, height)
    return RowStack(
        _ALONG[pattern.direction],
        # A zigzag with one site a row may be shifted by more than half its nominal pitch.
        max(pattern.pitch, 2 * pattern.offset),
        gap,
        pattern.offset,
        zigzag=True,
        straight=pattern.rows.straight,
        straight_gap=pattern.straight_gap,
    )


def _further(
    region: Region, spacing: float, angles: Sequence[float], kinds: Sequence[str]
) -> Iterable[tuple[str, RowStack]]:
    for angle in angles:
        if angle < pi / 2 - 1e-9 or len(angles) == 1:
            # Seen across its rows a stretched stagger is another one; a quarter turn adds nothing.
            for stack in stretched_stagger(region, spacing, angle):
                yield "staggered", stack
        for stack in sheared_stagger(region, spacing, angle, angles):
            yield "staggered", stack
        if "mixed" in kinds:
            for stack in mixed_rows(spacing, angle):
                yield "mixed", stack


def _best_of_each(
    region: Region,
    chords: Chords,
    named: Sequence[tuple[str, RowStack]],
    groups: Sequence[int],
    more_than: int,
) -> list[_Laid]:
    """The best place of the best stack of each group, where it holds more than so many sites."""
    search = Search(chords, [stack for _, stack in named])
    judge = MostOfEach(groups, [more_than] * len(named))
    search.run(judge)
    shifts = list(judge.best.values())
    if not shifts:
        return []
    sites = [search.sites(shift) for shift in shifts]
    allowed = region.allows(np.concatenate(sites))
    ends = np.cumsum([len(xy) for xy in sites])
    laid: list[_Laid] = []
    for shift, xy, keep in zip(shifts, sites, np.split(allowed, ends[:-1]), strict=True):
        kind, stack = named[shift.stack]
        alike = tuple(k for k, (other, _) in enumerate(named) if other == kind)
        laid.append(_Laid(_placement(xy[keep], kind, stack), search, shift, alike))
    return laid


def _placement(xy: Coordinates, kind: str, stack: RowStack) -> Placement:
    sites = _in_rows(xy, stack.angle)
    return Placement(sites, kind, _named(stack.angle), stack.pitch, stack.least_gap)


def _named(angle: float) -> str:
    if isclose(angle, 0.0, abs_tol=1e-9):
        return "along"
    return "across" if isclose(angle, pi / 2, abs_tol=1e-9) else f"at {angle * 180 / pi:.0f}°"


def _in_rows(xy: Coordinates, angle: float) -> Sites:
    """Number rows from the datum corner and order the sites along them."""
    if not len(xy):
        return Sites(np.empty((0, 2)), np.empty(0, dtype=np.int64))
    along = xy @ np.array([cos(angle), sin(angle)])
    up = xy @ np.array([-sin(angle), cos(angle)])
    if isclose(angle, pi / 2, abs_tol=1e-9):
        up = -up  # rows across the bed are counted along it
    order = np.argsort(up)
    steps = np.diff(up[order]) > 1e-3
    rows = np.empty(len(xy), dtype=np.int64)
    rows[order] = np.append(0, np.cumsum(steps))
    by_row = np.lexsort((along, rows))
    return Sites(xy[by_row], rows[by_row])


def _opened(region: Region, best: _Laid) -> Placement:
    """Open a placement as far as its count allows, then move it to the middle of its room.

    Of equals with one name the one that can be opened widest is taken.
    """
    placement = best.placement
    if best.search and best.shift and 1 < len(placement) <= _MANY_SITES:
        wider = opened(best.search, best.shift, best.alike)
        stack = best.search.stacks[wider.stack].opened(wider.ratio)
        xy = best.search.sites(wider)
        placement = _placement(xy[region.allows(xy)], placement.pattern, stack)
    return replace(
        placement, sites=Sites(centred(region, placement.sites.xy), placement.sites.rows)
    )


def _own_directions(region: Region) -> Sequence[float]:
    """The angles, from 0 up to pi, along and across: of the bed, then of the longest edges."""
    lengths: dict[float, float] = {}
    for line in region.directions:
        dx, dy = line.end.x - line.start.x, line.end.y - line.start.y
        angle = atan2(dy, dx) % (pi / 2)
        known = next((other for other in lengths if _alike(angle, other)), angle)
        lengths[known] = lengths.get(known, 0.0) + hypot(dx, dy)
    longest = sorted(lengths, key=lambda angle: -lengths[angle])[:_MOST_DIRECTIONS]
    angles = [0.0, *(angle for angle in longest if not _alike(angle, 0.0))]
    return [turned for angle in angles for turned in (angle, angle + pi / 2)]


def _alike(first: float, second: float) -> bool:
    """Whether two angles differ by whole quarter turns only."""
    apart = abs(first - second) % (pi / 2)
    return min(apart, pi / 2 - apart) < 1e-6
