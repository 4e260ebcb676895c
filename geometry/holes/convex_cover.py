"""A bound for regions that are not convex: cut into pieces, the bounds of their hulls added up.

Oler's bound holds for convex regions. What lies on either side of a straight cut lies in the hull
of that side, so the bounds of both hulls together are a bound as well, wherever the cut runs; cuts
at hollow corners, along obstacles and along joints are tried and the best kept. Curved edges are
wrapped by polygons, never cut into, so that the region is always covered.
"""

from collections.abc import Iterable, Iterator
from math import ceil, cos, dist, hypot, pi, sqrt
from typing import Final

import shapely
from shapely import MultiPolygon, Polygon

from geometry.holes.ceiling import oler
from geometry.model.curves import Arc, Line, Loop
from geometry.model.edges import end_of, start_of, unit

_ARC_STEP: Final = pi / 60
_CUTS: Final = 4
"""Pieces are cut again at most so many times."""
_MOST_LINES: Final = 32
_NEARLY_CONVEX: Final = 1e-3
"""A piece whose hull is larger by less than this share gains nothing by a cut."""
_FAR: Final = 4.0
_SAME_MM: Final = 1e-7
"""Corners closer than this are one; the room for centres is ten times as loose."""

Area = shapely.Geometry
"""One polygon or several."""

_Cut = tuple[float, float, float, float]
"""A point of a straight cut and its direction."""


def wrapped(loop: Loop) -> Area:
    """Return a polygon that holds all of the loop's inside."""
    polygon = _polygon(_corners(loop, outside=True))
    return polygon if polygon.is_valid else polygon.convex_hull


def within(loop: Loop) -> Polygon:
    """Return a polygon that the loop's inside holds; an empty one where none is easily had."""
    polygon = _polygon(_corners(loop, outside=False))
    return polygon if polygon.is_valid else Polygon()


def _polygon(corners: Iterable[tuple[float, float]]) -> Polygon:
    """A polygon without edges so short that rounding could turn them round."""
    kept: list[tuple[float, float]] = []
    for corner in corners:
        if not kept or dist(corner, kept[-1]) > _SAME_MM:
            kept.append(corner)
    while len(kept) > 1 and dist(kept[0], kept[-1]) <= _SAME_MM:
        kept.pop()
    return Polygon(kept) if len(kept) > 2 else Polygon()


def cover_bound(region: Area, spacing_mm: float) -> int:
    """Bound the points in a closed region, all ``spacing_mm`` apart, by pieces of it."""
    if shapely.is_empty(region):
        return 0
    return _bound(region, spacing_mm, _CUTS if shapely.is_valid(region) else 0)


def _bound(region: Area, spacing: float, cuts: int) -> int:
    wide, round_it = _hull_measures(region)
    best = oler(wide, round_it, spacing)
    if not cuts or best <= 1 or wide <= float(shapely.area(region)) * (1 + _NEARLY_CONVEX):
        return best
    pieces = list(_pieces(region))
    if len(pieces) > 1:
        best = min(best, sum(_bound(piece, spacing, cuts - 1) for piece in pieces))
    found = [
        (sum(_value(side, spacing) for side in sides), sides)
        for sides in (_sides(region, cut) for cut in _lines(region))
        if len(sides) == 2
    ]
    if not found:
        return best
    _, sides = min(found, key=lambda pair: pair[0])
    return min(best, sum(_bound(side, spacing, cuts - 1) for side in sides))


def _value(region: Area, spacing: float) -> float:
    """Oler's bound before it is rounded down, to compare cuts."""
    wide, round_it = _hull_measures(region)
    return 2 * wide / (sqrt(3) * spacing**2) + round_it / (2 * spacing) + 1


def _hull_measures(region: Area) -> tuple[float, float]:
    """Area and perimeter of the hull; a hull that is a segment is walked there and back."""
    hull = shapely.convex_hull(region)
    there_and_back = 1 if isinstance(hull, Polygon) else 2
    return float(shapely.area(hull)), float(shapely.length(hull)) * there_and_back


def _pieces(region: Area) -> Iterator[Polygon]:
    for piece in shapely.get_parts(region):
        if isinstance(piece, Polygon) and not piece.is_empty:
            yield piece


def _sides(region: Area, cut: _Cut) -> list[Area]:
    """What lies on either side of a cut, both with the cut itself."""
    x, y, dx, dy = cut
    left, bottom, right, top = shapely.bounds(region).tolist()
    far = _FAR * (hypot(right - left, top - bottom) + 1)
    ends = [(x - dx * far, y - dy * far), (x + dx * far, y + dy * far)]
    sides: list[Area] = []
    for way in (1.0, -1.0):
        nx, ny = -dy * far * way, dx * far * way
        half = Polygon(
            [*ends, (ends[1][0] + nx, ends[1][1] + ny), (ends[0][0] + nx, ends[0][1] + ny)]
        )
        try:
            held = shapely.intersection(region, half)
        except shapely.GEOSException:  # edges that nearly meet; there are other cuts
            return []
        areas = [piece for piece in _pieces(held) if piece.area > 0]
        if areas:
            sides.append(areas[0] if len(areas) == 1 else MultiPolygon(areas))
    if not all(shapely.is_valid(side) for side in sides):
        return []
    return sides


def _lines(region: Area) -> list[_Cut]:
    """Cuts worth trying: at hollow corners and along their edges, and at the sides of holes."""
    lines: dict[tuple[float, float, float], _Cut] = {}

    def add(x: float, y: float, dx: float, dy: float) -> None:
        key = (round(dx, 3), round(dy, 3), round(x * dy - y * dx, 2))
        lines.setdefault(key, (x, y, dx, dy))

    pieces = list(_pieces(region))
    boxes = [hole.bounds for piece in pieces for hole in piece.interiors]
    if len(pieces) > 1:
        boxes += [piece.bounds for piece in pieces]
    for left, bottom, right, top in boxes:
        for x in (left, right):
            add(x, bottom, 0.0, 1.0)
        for y in (bottom, top):
            add(left, y, 1.0, 0.0)
    for piece in pieces:
        for x, y, ways in _hollow_corners(piece):
            add(x, y, 0.0, 1.0)
            add(x, y, 1.0, 0.0)
            for dx, dy in ways:
                add(x, y, dx, dy)
    step = max(1, ceil(len(lines) / _MOST_LINES))
    return list(lines.values())[::step]


def _hollow_corners(
    piece: Polygon,
) -> Iterator[tuple[float, float, tuple[tuple[float, float], ...]]]:
    """Corners of the outer edge that point inwards, with the directions of their edges."""
    corners = list(shapely.orient_polygons(piece).exterior.coords)[:-1]
    for at, (x, y) in enumerate(corners):
        before, after = corners[at - 1], corners[(at + 1) % len(corners)]
        here, there = _direction(before, (x, y)), _direction((x, y), after)
        if here[0] * there[1] - here[1] * there[0] < -1e-9:
            yield x, y, (here, there)


def _direction(start: tuple[float, ...], end: tuple[float, ...]) -> tuple[float, float]:
    dx, dy = end[0] - start[0], end[1] - start[1]
    away = hypot(dx, dy) or 1.0
    return dx / away, dy / away


def _corners(loop: Loop, *, outside: bool) -> Iterator[tuple[float, float]]:
    """Corners of a polygon around a loop's inside, or within it."""
    for curve in loop.curves:
        start, end = start_of(curve), end_of(curve)
        yield start.x, start.y
        if isinstance(curve, Line):
            continue
        # A bulging arc is wrapped by tangents and held by chords, a hollow one the other way.
        yield from _tangents(curve) if (curve.sweep > 0) == outside else _chords(curve)
        yield end.x, end.y


def _tangents(arc: Arc) -> Iterator[tuple[float, float]]:
    steps = max(1, ceil(abs(arc.sweep) / _ARC_STEP))
    step = arc.sweep / steps
    reach = arc.radius / cos(step / 2)
    for k in range(steps):
        way = unit(arc.angle + (k + 0.5) * step)
        yield arc.centre.x + reach * way.x, arc.centre.y + reach * way.y


def _chords(arc: Arc) -> Iterator[tuple[float, float]]:
    steps = max(1, ceil(abs(arc.sweep) / _ARC_STEP))
    for k in range(1, steps):
        way = unit(arc.angle + arc.sweep * k / steps)
        yield arc.centre.x + arc.radius * way.x, arc.centre.y + arc.radius * way.y
