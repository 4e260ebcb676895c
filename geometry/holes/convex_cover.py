"""A bound for regions that are not convex: cut into pieces, the bounds of their hulls added up.

Oler's bound holds for convex regions. What lies on either side of a straight cut lies in the hull
of that side, so the bounds of both hulls together are a bound as well, wherever the cut runs; cuts
at hollow corners, along obstacles and along joints are tried and the best kept. Curved edges are
wrapped by polygons, never cut into, so that the region is always covered.
"""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, cos, dist, hypot, pi, sqrt
from typing import Any, Final

import numpy as np
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
    sides = _best_sides(region, spacing)
    return min(best, sum(_bound(side, spacing, cuts - 1) for side in sides)) if sides else best


def _best_sides(region: Area, spacing: float) -> list[Area]:
    """Both sides of the cut after which the bounds add up to the least; none if no cut parts it."""
    cuts = _lines(region)
    if not cuts:
        return []
    try:
        held = shapely.intersection(region, _halves(region, cuts))
    except shapely.GEOSException:  # edges that nearly meet; the hull is a bound as well
        return []
    hulls = shapely.convex_hull(held)
    # Oler's bound before it is rounded down.
    values = 2 * shapely.area(hulls) / (sqrt(3) * spacing**2) + shapely.length(hulls) / (
        2 * spacing
    )
    parts = (shapely.area(held) > 0).all(axis=1)
    for at in np.argsort(np.where(parts, values.sum(axis=1), np.inf), kind="stable").tolist():
        sides = [_areas(each) for each in held[at]]
        if parts[at] and all(shapely.is_valid(side) for side in sides):
            return sides
    return []


def _hull_measures(region: Area) -> tuple[float, float]:
    """Area and perimeter of the hull; a hull that is a segment is walked there and back."""
    hull = shapely.convex_hull(region)
    there_and_back = 1 if isinstance(hull, Polygon) else 2
    return float(shapely.area(hull)), float(shapely.length(hull)) * there_and_back


def _pieces(region: Area) -> Iterator[Polygon]:
    for piece in shapely.get_parts(region):
        if isinstance(piece, Polygon) and not piece.is_empty:
            yield piece


def _halves(region: Area, cuts: Sequence[_Cut]) -> Any:
    """The half planes on either side of each cut, a row a cut, as far as the region goes."""
    left, bottom, right, top = shapely.bounds(region).tolist()
    far = _FAR * (hypot(right - left, top - bottom) + 1)
    x, y, dx, dy = np.array(cuts).T
    ends = np.stack([x - dx * far, y - dy * far], -1), np.stack([x + dx * far, y + dy * far], -1)
    away = np.stack([-dy * far, dx * far], -1)
    sides = [
        np.stack([ends[0], ends[1], ends[1] + way, ends[0] + way], axis=1) for way in (away, -away)
    ]
    return shapely.polygons(np.stack(sides, axis=1))


def _areas(held: Area) -> Area:
    """The parts of what a cut leaves that are areas."""
    areas = [piece for piece in _pieces(held) if piece.area > 0]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)


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
    corners = shapely.get_coordinates(shapely.orient_polygons(piece).exterior)[:-1]
    steps = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*steps.T)
    there = steps / np.where(lengths > 0, lengths, 1.0)[:, None]
    here = np.roll(there, 1, axis=0)
    turns = here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0]
    for at in np.flatnonzero(turns < -1e-9).tolist():
        x, y = corners[at].tolist()
        (hx, hy), (tx, ty) = here[at].tolist(), there[at].tolist()
        yield x, y, ((hx, hy), (tx, ty))


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
