"""Patterns on any outline: lattices at their best translation, rows one by one, rings."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import asin, atan2, ceil, cos, floor, hypot, isclose, pi, sin, sqrt
from typing import Final

import numpy as np

from geometry.holes.lattice import RowLattice, best_translation
from geometry.holes.region import Region
from geometry.holes.rows import best_rows
from geometry.holes.sites import Coordinates, Placement, Sites
from geometry.holes.stretched import stretched_stagger
from geometry.model.curves import Line, Point
from geometry.model.edges import Floats
from geometry.model.measure import intersections
from geometry.model.planting import Direction, Pattern
from geometry.units import TOLERANCE_MM

_KINDS: Final[dict[Pattern, tuple[str, ...]]] = {
    "square": ("square",),
    "rectangular": ("rectangular",),
    "hexagonal": ("hexagonal",),
    "staggered": ("hexagonal",),
    "mixed": ("square", "hexagonal"),
    "rows": ("rows",),
    "rings": ("rings",),
    "best": ("square", "hexagonal", "rows", "rings"),
}
_STRETCHED: Final[frozenset[Pattern]] = frozenset({"staggered", "mixed", "best"})
_MOST_DIRECTIONS: Final = 6
"""Of an outline with more edge directions than this, those with the longest edges are tried."""
_STRETCHED_SITES: Final = 400
_STRETCHED_DIRECTIONS: Final = 2
_SPREAD_SITES: Final = 400
"""Larger placements are not opened up: each step of it searches all translations again."""
_SPREAD_STEPS: Final = 8
_WIDEST_SPREAD: Final = 1.25
_HALVINGS: Final = 36
_FIRST_STEP_MM: Final = 64.0
_WORTH_A_STEP: Final = 1e-3
"""Share of a step by which room must grow; less is a slope too flat to follow."""


def place_on_any_outline(
    region: Region,
    *,
    spacing: float,
    row_spacing: float | None,
    pattern: Pattern,
    direction: Direction,
    spread: bool,
) -> tuple[Placement, ...]:
    """Lay each pattern in the region's own directions, the best of each first.

    Square, rectangular and hexagonal rows are exact: no translation of that lattice in these
    directions holds more. Stagger is also tried stretched, and kept where it then holds more.
    With ``spread`` the winner is opened up as far as its count allows and stands in the middle of
    what room is left to it.
    """
    found: list[tuple[Placement, RowLattice | None]] = []
    for kind in _KINDS[pattern]:
        if kind == "rings":
            found.append((_ringed(region, spacing), None))
            continue
        for angle in _angles(region, kind, direction):
            rows = _row_lattice(kind, angle, spacing, row_spacing or spacing)
            found.append((_laid(region, rows, kind), None if kind == "rows" else rows))
    if pattern in _STRETCHED:
        found += [(rows, None) for rows in _rows_of_the_box(region, spacing, pattern, direction)]
        found += _stretched(region, spacing, direction, max(len(placed) for placed, _ in found))
    found = [(placed, rows) for placed, rows in found if len(placed)]
    found.sort(key=lambda pair: -len(pair[0]))
    placements = [placed for placed, _ in found]
    if spread and found:
        placements[0] = _opened(region, *found[0])
    return tuple(placements)


def _angles(region: Region, kind: str, direction: Direction) -> Iterable[float]:
    match direction:
        case "along":
            return (0.0,)
        case "across":
            return (pi / 2,)
        case "best":
            angles = _own_directions(region)
            # A square grid turned by a quarter is the same grid.
            return [a for a in angles if a < pi / 2 - 1e-9] if kind == "square" else angles


def _named(angle: float) -> str:
    if isclose(angle, 0.0, abs_tol=1e-9):
        return "along"
    return "across" if isclose(angle, pi / 2, abs_tol=1e-9) else f"at {angle * 180 / pi:.0f}°"


def _row_lattice(kind: str, angle: float, spacing: float, row_spacing: float) -> RowLattice:
    match kind:
        case "hexagonal":
            return RowLattice(angle, spacing, spacing * sqrt(0.75), spacing / 2)
        case "rectangular":
            return RowLattice(angle, spacing, row_spacing, 0.0)
        case _:
            return RowLattice(angle, spacing, spacing, 0.0)


def _laid(region: Region, rows: RowLattice, kind: str, *, more_than: int = 0) -> Placement:
    xy = best_translation(region, *rows.cell, more_than=more_than)
    if kind == "rows":
        xy = _filled_rows(region, xy, rows.angle, rows.pitch)
    return Placement(_in_rows(xy, rows.angle), kind, _named(rows.angle), rows.pitch, rows.gap)


def _stretched(
    region: Region, spacing: float, direction: Direction, most: int
) -> Iterator[tuple[Placement, RowLattice]]:
    """Half-offset stagger opened or closed along its rows, where that beats all else."""
    if most > _STRETCHED_SITES:
        return
    angles = [*_angles(region, "square", direction)]
    # Seen across its rows a stretched stagger is another one, so a quarter turn adds nothing.
    for angle in angles[:_STRETCHED_DIRECTIONS]:
        for rows in stretched_stagger(region, spacing, angle):
            placed = _laid(region, rows, "staggered", more_than=most)
            if len(placed) > most:
                most = len(placed)
                yield placed, rows


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


def _filled_rows(region: Region, xy: Coordinates, angle: float, spacing: float) -> Coordinates:
    """Keep the heights of square rows and fill every free stretch of each from its own start."""
    if not len(xy):
        return xy
    along, up = np.array([cos(angle), sin(angle)]), np.array([-sin(angle), cos(angle)])
    filled: list[Coordinates] = []
    for height in np.unique(np.round(xy @ up, 6)):
        free_from = -np.inf
        for start, end in _free_stretches(region, along, up * height):
            first = max(start, free_from)
            count = floor((end - first + TOLERANCE_MM) / spacing) + 1 if end >= first else 0
            if count > 0:
                places = first + spacing * np.arange(count)
                filled.append(places[:, None] * along + up * height)
                free_from = places[-1] + spacing
    return np.vstack(filled) if filled else np.empty((0, 2))


def _ringed(region: Region, spacing: float) -> Placement:
    """Rings about the middle of the region's box, the outermost as far out as it goes."""
    left, bottom, right, top = region.bounds() or (0.0, 0.0, -1.0, -1.0)
    middle = np.array([(left + right) / 2, (bottom + top) / 2])
    outermost = min(right - left, top - bottom) / 2
    reach = hypot(right - left, top - bottom) / 2
    if outermost < -TOLERANCE_MM:
        return Placement(_in_rows(np.empty((0, 2)), 0.0), "rings", "", spacing, spacing)
    outermost = max(outermost, 0.0)
    beyond = floor((reach - outermost) / spacing)
    xy: list[Coordinates] = []
    rows: list[int] = []
    for ring in range(-beyond, ceil(outermost / spacing) + 1):
        radius = outermost - ring * spacing
        if radius < 0:
            break
        places = middle + _ring(radius, spacing)
        places = places[region.allows(places)]
        xy.append(places)
        rows += [ring + beyond] * len(places)
    _, numbers = np.unique(np.array(rows, dtype=np.int64), return_inverse=True)
    sites = Sites(np.vstack(xy), numbers.astype(np.int64))
    return Placement(sites, "rings", "", spacing, spacing)


def _ring(radius: float, spacing: float) -> Coordinates:
    if radius < spacing / 2:
        return np.zeros((1, 2))
    count = floor(pi / asin(spacing / (2 * radius)) + 1e-9)
    angles = 2 * pi * np.arange(count) / count
    return radius * np.column_stack([np.cos(angles), np.sin(angles)])


def _rows_of_the_box(
    region: Region, spacing: float, pattern: Pattern, direction: Direction
) -> Iterator[Placement]:
    """Stretched rows laid on the region's box; what the region does not allow is left out."""
    left, bottom, right, top = region.bounds() or (0.0, 0.0, -1.0, -1.0)
    # Half the tolerance more, so that rows that just fit are not lost to rounding.
    length, width = (
        Fraction(round(side * 10**7) + 5, 10**7) for side in (right - left, top - bottom)
    )
    step = Fraction(ceil(spacing * 10**9), 10**9)
    for rows in best_rows(length, width, step, pattern=pattern, direction=direction):
        sites = rows.sites()
        xy = sites.xy + np.array([left, bottom])
        allowed = region.allows(xy)
        yield Placement(
            Sites(xy[allowed], sites.rows[allowed]),
            rows.family,
            rows.direction,
            rows.pitch,
            rows.row_gap,
        )


def _opened(region: Region, placement: Placement, rows: RowLattice | None) -> Placement:
    """Open a lattice as far as its count allows, then move it to the middle of its room."""
    if rows is not None and 1 < len(placement) <= _SPREAD_SITES:
        low, high, wanted = 1.0, _WIDEST_SPREAD, len(placement) - 1
        for _ in range(_SPREAD_STEPS):
            ratio = (low + high) / 2
            wider = _laid(region, rows.opened(ratio), placement.pattern, more_than=wanted)
            if len(wider) > wanted:
                low, placement = ratio, wider
            else:
                high = ratio
    return Placement(
        Sites(_centred(region, placement.sites.xy), placement.sites.rows),
        placement.pattern,
        placement.direction,
        placement.pitch_mm,
        placement.row_gap_mm,
    )


def _centred(region: Region, xy: Coordinates) -> Coordinates:
    """Move all sites together to where the least room beside any is largest.

    What freedom is left then is halved, along x and along y.
    """
    moved = _roomiest(region, xy) if len(xy) <= _SPREAD_SITES else xy
    for axis in np.eye(2):
        ahead, back = (_way(region, moved, way) for way in (axis, -axis))
        between = moved + axis * (ahead - back) / 2
        if region.allows(between).all():
            moved = between
    return moved


def _roomiest(region: Region, xy: Coordinates) -> Coordinates:
    """Climb to more room, in ever smaller steps, as long as any of eight ways leads up."""
    angles = np.arange(8) * (pi / 4)
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    room, step = _least_room(region, xy, np.zeros((1, 2)))[0], _FIRST_STEP_MM
    while step > TOLERANCE_MM:
        rooms = _least_room(region, xy, ways * step)
        best = int(rooms.argmax())
        if rooms[best] > room + step * _WORTH_A_STEP:
            xy, room = xy + ways[best] * step, rooms[best]
        else:
            step /= 2
    return xy


def _least_room(region: Region, xy: Coordinates, shifts: Floats) -> Floats:
    """The least slack of all sites after each of the shifts."""
    moved = (xy[None] + shifts[:, None]).reshape(-1, 2)
    least: Floats = region.slack(moved).reshape(len(shifts), -1).min(axis=1)
    return least


def _way(region: Region, xy: Coordinates, axis: Floats) -> float:
    """How far all sites can go together along an axis without losing room."""
    room = _least_room(region, xy, np.zeros((1, 2)))[0] - TOLERANCE_MM / 10
    far = _FIRST_STEP_MM
    while far < 1e6 and _least_room(region, xy, np.array([far * axis]))[0] >= room:
        far *= 2
    low, high = 0.0, far
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _least_room(region, xy, np.array([middle * axis]))[0] >= room:
            low = middle
        else:
            high = middle
    return low


def _free_stretches(region: Region, along: Floats, foot: Floats) -> list[tuple[float, float]]:
    """Return the free stretches of a straight row, as distances from ``foot`` along it."""
    left, bottom, right, top = region.bounds() or (0.0, 0.0, 0.0, 0.0)
    reach = 2 * float(np.abs([left, bottom, right, top]).sum() + np.hypot(*foot))
    ends = foot - along * reach, foot + along * reach
    row = Line(Point(*ends[0].tolist()), Point(*ends[1].tolist()))
    met = [place for curve in region.border for place in intersections(row, curve)]
    places = np.unique(np.round((np.array(met).reshape(-1, 2) - foot) @ along, 7))
    middles = (places[1:] + places[:-1]) / 2
    free = region.allows(foot + middles[:, None] * along)
    stretches: list[tuple[float, float]] = []
    for start, end, is_free in zip(places[:-1].tolist(), places[1:].tolist(), free, strict=True):
        if is_free:
            goes_on = stretches and stretches[-1][1] == start
            stretches.append((stretches.pop()[0] if goes_on else start, end))
    return stretches


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
