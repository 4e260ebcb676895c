"""Patterns on any outline: lattices at their best translation, rows one by one, rings."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import asin, atan2, ceil, cos, floor, hypot, isclose, pi, sin, sqrt
from typing import Final

import numpy as np

from geometry.holes.lattice import best_translation
from geometry.holes.region import Region
from geometry.holes.rows import best_rows
from geometry.holes.sites import Coordinates, Placement, Sites
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
_SPREAD_SITES: Final = 400
"""Larger placements are not opened up: each step of it searches all translations again."""
_SPREAD_STEPS: Final = 6
_HALVINGS: Final = 40


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
    directions holds more. With ``spread`` the winner is opened up as far as its count allows and
    stands in the middle of what room is left to it.
    """
    found: list[Placement] = []
    for kind in _KINDS[pattern]:
        if kind == "rings":
            found.append(_ringed(region, spacing))
            continue
        found += [
            _laid(region, kind, angle, spacing, row_spacing or spacing)
            for angle in _angles(region, kind, direction)
        ]
    if pattern in {"staggered", "mixed", "best"}:
        found += _rows_of_the_box(region, spacing, pattern, direction)
    found = [placement for placement in found if len(placement)]
    found.sort(key=lambda placement: -len(placement))
    if spread and found:
        found[0] = _opened(region, found[0], spacing, row_spacing or spacing)
    return tuple(found)


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


def _laid(region: Region, kind: str, angle: float, spacing: float, row_spacing: float) -> Placement:
    gap = spacing * sqrt(0.75) if kind == "hexagonal" else spacing
    if kind == "rectangular":
        gap = row_spacing
    shift = spacing / 2 if kind == "hexagonal" else 0.0
    along, up = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    u = spacing * along[0], spacing * along[1]
    v = shift * along[0] + gap * up[0], shift * along[1] + gap * up[1]
    xy = best_translation(region, u, v)
    if kind == "rows":
        xy = _filled_rows(region, xy, angle, spacing)
    return Placement(_in_rows(xy, angle), kind, _named(angle), spacing, gap)


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
    sites = Sites(np.vstack(xy), np.array(rows, dtype=np.int64))
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
    length, width = (Fraction(floor(side * 1000), 1000) for side in (right - left, top - bottom))
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


def _opened(region: Region, placement: Placement, spacing: float, row_spacing: float) -> Placement:
    """Open a lattice as far as its count allows, then move it to the middle of its room."""
    kinds = {"square", "rectangular", "hexagonal"}
    if placement.pattern in kinds and len(placement) <= _SPREAD_SITES and len(placement) > 1:
        angle = _angle_of(placement.direction)
        low, high = 1.0, 1.25
        for _ in range(_SPREAD_STEPS):
            ratio = (low + high) / 2
            wider = _laid(region, placement.pattern, angle, spacing * ratio, row_spacing * ratio)
            if len(wider) >= len(placement):
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


def _angle_of(direction: str) -> float:
    match direction:
        case "along":
            return 0.0
        case "across":
            return pi / 2
        case _:
            return float(direction.removeprefix("at ").removesuffix("°")) * pi / 180


def _centred(region: Region, xy: Coordinates) -> Coordinates:
    """Move all sites together to the middle of the way they could go, along x and then y."""
    for axis in (np.array([1.0, 0.0]), np.array([0.0, 1.0])):
        moved = xy + axis * (_way(region, xy, axis) - _way(region, xy, -axis)) / 2
        if region.allows(moved).all():
            xy = moved
    return xy


def _way(region: Region, xy: Coordinates, axis: Floats) -> float:
    """How far all sites can go together along an axis, for certain."""
    gone = 0.0
    for _ in range(_HALVINGS):
        step = float(region.slack(xy + gone * axis).min())
        if step <= TOLERANCE_MM:
            break
        gone += step
    return gone


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
    """The angles, from 0 up to pi, of the region's straight edges and across them."""
    angles = [0.0, pi / 2]
    for line in region.directions:
        for turn in (0.0, pi / 2):
            angle = (atan2(line.end.y - line.start.y, line.end.x - line.start.x) + turn) % pi
            if all(min(abs(angle - other), pi - abs(angle - other)) > 1e-6 for other in angles):
                angles.append(angle)
    return sorted(angles)
