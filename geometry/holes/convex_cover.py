"""A bound for regions that are not convex: cut into pieces, the bounds of their hulls added up.

Oler's bound holds for convex regions. What lies on either side of a straight cut lies in the hull
of that side, so the bounds of both hulls together are a bound as well, wherever the cut runs; cuts
at hollow corners, along obstacles and along joints are tried and the best kept. Curved edges are
wrapped by polygons, never cut into, so that the region is always covered.
"""

from collections.abc import Iterable, Iterator
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
    if not len(cuts):
        return []
    hulls, cuts = _hulls_beside(region, cuts)
    # Oler's bound before it is rounded down.
    values = 2 * shapely.area(hulls) / (sqrt(3) * spacing**2) + shapely.length(hulls) / (
        2 * spacing
    )
    for at in np.argsort(values.sum(axis=1), kind="stable").tolist():
        try:
            held = shapely.intersection(region, _halves(region, cuts[at]))
        except shapely.GEOSException:  # edges that nearly meet; the hull is a bound as well
            return []
        sides = [_areas(each) for each in held]
        if all(not shapely.is_empty(side) and shapely.is_valid(side) for side in sides):
            return sides
    return []


def _hulls_beside(region: Area, cuts: Any) -> tuple[Any, Any]:
    """The hulls of what lies on either side, a row a cut, of those cuts that part the region.

    What a straight cut leaves has its corners where the outer edges have theirs and where the cut
    crosses them, so nothing need be cut to know its hull.
    """
    rings = shapely.get_exterior_ring(list(_pieces(region)))
    corners, ring = shapely.get_coordinates(rings, return_index=True)
    x, y, dx, dy = cuts.T[:, :, None]
    beside = dx * (corners[:, 1] - y) - dy * (corners[:, 0] - x)
    parting = (beside.max(axis=1) > _SAME_MM) & (beside.min(axis=1) < -_SAME_MM)
    beside = beside[parting]
    here, there = beside[:, :-1], beside[:, 1:]
    crossed = (here * there < 0) & (ring[1:] == ring[:-1])
    share = np.divide(here, here - there, where=crossed, out=np.zeros_like(here))
    crossings = corners[:-1] + share[:, :, None] * np.diff(corners, axis=0)
    points = np.concatenate([np.broadcast_to(corners, (*beside.shape, 2)), crossings], axis=1)
    hulls = []
    for side in (beside, -beside):
        held = np.concatenate([side >= 0, crossed], axis=1)
        lines = shapely.linestrings(points[held], indices=np.nonzero(held)[0])
        hulls.append(shapely.convex_hull(lines))
    return np.stack(hulls, axis=1), cuts[parting]


def _hull_measures(region: Area) -> tuple[float, float]:
    """Area and perimeter of the hull; a hull that is a segment is walked there and back."""
    hull = shapely.convex_hull(region)
    there_and_back = 1 if isinstance(hull, Polygon) else 2
    return float(shapely.area(hull)), float(shapely.length(hull)) * there_and_back


def _pieces(region: Area) -> Iterator[Polygon]:
    for piece in shapely.get_parts(region):
        if isinstance(piece, Polygon) and not piece.is_empty:
            yield piece


def _halves(region: Area, cut: Any) -> Any:
    """The half planes on either side of a cut, as far as the region goes."""
    left, bottom, right, top = shapely.bounds(region).tolist()
    far = _FAR * (hypot(right - left, top - bottom) + 1)
    middle, along = cut[:2], far * cut[2:]
    away = np.array([-along[1], along[0]])
    ends = middle - along, middle + along
    return shapely.polygons([[*ends, ends[1] + way, ends[0] + way] for way in (away, -away)])


def _areas(held: Area) -> Area:
    """The parts of what a cut leaves that are areas."""
    areas = [piece for piece in _pieces(held) if piece.area > 0]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)


def _lines(region: Area) -> Any:
    """Cuts worth trying: at hollow corners and along their edges, and at the sides of holes.

    Each is a row: a point of the cut and its direction.
    """
    pieces = list(_pieces(region))
    boxes = [hole.bounds for piece in pieces for hole in piece.interiors]
    if len(pieces) > 1:
        boxes += [piece.bounds for piece in pieces]
    found = [_sides_of(np.array(boxes))] if boxes else []
    found += [_at_hollow_corners(piece) for piece in pieces]
    cuts = np.concatenate(found) if found else np.empty((0, 4))
    x, y, dx, dy = cuts.T
    keys = np.stack([dx.round(3), dy.round(3), (x * dy - y * dx).round(2)], axis=1) + 0.0
    first = np.sort(np.unique(keys, axis=0, return_index=True)[1])
    return cuts[first[:: max(1, ceil(len(first) / _MOST_LINES))]]


def _sides_of(boxes: Any) -> Any:
    """Cuts along the four sides of boxes."""
    left, bottom, right, top = boxes.T
    nothing, one = np.zeros(len(boxes)), np.ones(len(boxes))
    sides = (
        (left, bottom, nothing, one),
        (right, bottom, nothing, one),
        (left, bottom, one, nothing),
        (left, top, one, nothing),
    )
    return np.stack([np.stack(side, axis=1) for side in sides], axis=1).reshape(-1, 4)


def _at_hollow_corners(piece: Polygon) -> Any:
    """Cuts at the corners of the outer edge that point inwards: upright, level, along edges."""
    corners = shapely.get_coordinates(shapely.orient_polygons(piece).exterior)[:-1]
    steps = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*steps.T)
    there = steps / np.where(lengths > 0, lengths, 1.0)[:, None]
    here = np.roll(there, 1, axis=0)
    hollow = here[:, 0] * there[:, 1] - here[:, 1] * there[:, 0] < -1e-9
    at = corners[hollow]
    ways = (
        np.broadcast_to((0.0, 1.0), at.shape),
        np.broadcast_to((1.0, 0.0), at.shape),
        here[hollow],
        there[hollow],
    )
    return np.stack([np.hstack([at, way]) for way in ways], axis=1).reshape(-1, 4)


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
