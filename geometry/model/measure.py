"""Exact measures of outlines: area, box, distances, hull, and where two curves meet."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, cos, hypot, isnan, pi
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from geometry.model import edges as many
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import Edges, Floats, edges_of, end_of, start_of, unit
from geometry.units import TOLERANCE_MM

Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""

HULL_STEP: Final = 2 * pi / 720


def area(loop: Loop) -> float:
    """Enclosed area in mm²; positive when the loop runs counter-clockwise."""
    return sum(_swept(curve) for curve in loop.curves)


def _swept(curve: Curve) -> float:
    start, end = start_of(curve), end_of(curve)
    match curve:
        case Line():
            return (start.x * end.y - start.y * end.x) / 2
        case Arc(centre, radius, _, sweep):
            return (
                radius**2 * sweep + centre.x * (end.y - start.y) - centre.y * (end.x - start.x)
            ) / 2


def perimeter(loop: Loop) -> float:
    """Length of the outline in mm."""
    return sum(length(curve) for curve in loop.curves)


def length(curve: Curve) -> float:
    """Length along the curve in mm."""
    match curve:
        case Line(start, end):
            return hypot(end.x - start.x, end.y - start.y)
        case Arc(_, radius, _, sweep):
            return radius * abs(sweep)


def full_circle(loop: Loop) -> float | None:
    """The radius of an outline that is one full circle; None of any other."""
    arcs = [curve for curve in loop.curves if isinstance(curve, Arc) and curve.sweep > 0]
    circles = {(arc.centre, arc.radius) for arc in arcs}
    if len(arcs) < len(loop.curves) or len(circles) != 1:
        return None
    return arcs[0].radius


def bounds(loop: Loop) -> Box:
    """The box around a loop; the arcs' own extremes count."""
    return bounds_of(loop.curves)


def bounds_of(curves: Iterable[Curve]) -> Box:
    """The box around one or more curves."""
    x, y = zip(*(point for curve in curves for point in _extremes(curve)), strict=True)
    return min(x), min(y), max(x), max(y)


def _extremes(curve: Curve) -> Iterator[Point]:
    yield start_of(curve)
    yield end_of(curve)
    if isinstance(curve, Arc):
        low, high = sorted((curve.angle, curve.angle + curve.sweep))
        for quarter in range(ceil(low / (pi / 2)), int(high // (pi / 2)) + 1):
            direction = unit(quarter * (pi / 2))
            yield Point(
                curve.centre.x + curve.radius * direction.x,
                curve.centre.y + curve.radius * direction.y,
            )


@dataclass(frozen=True, slots=True, eq=False)
class Gauge:
    """A loop made ready to measure many points; make it once where points come in batches.

    The pieces rise or fall all the way, so a ray along x meets each at most once: ``lines`` as in
    Edges, ``bows`` as x and y of the centre, radius, y at both ends, and +1 for the right half of
    the circle or -1 for the left.
    """

    edges: Edges
    lines: Floats
    bows: Floats

    @classmethod
    def of(cls, loop: Loop) -> Self:
        """Make the gauge of a loop."""
        corners = [start_of(curve) for curve in loop.curves]
        lines: list[tuple[float, ...]] = []
        bows: list[tuple[float, ...]] = []
        for curve, start, end in zip(loop.curves, corners, corners[1:] + corners[:1], strict=True):
            match curve:
                case Line():
                    lines.append((*start, *end))
                case Arc():
                    bows.extend(_bows(curve, start.y, end.y))
        return cls(
            edges_of(loop.curves), np.array(lines).reshape(-1, 4), np.array(bows).reshape(-1, 6)
        )

    def distance(self, xy: Floats) -> Floats:
        """Distance from each point to the outline, inside or outside."""
        return many.distances(xy, self.edges)

    def signed_distance(self, xy: Floats) -> Floats:
        """Distance to the outline, negative outside."""
        away = self.distance(xy)
        return np.where(self._encloses(xy), away, -away)

    def _encloses(self, xy: Floats) -> NDArray[np.bool_]:
        odd = np.zeros(len(xy), dtype=np.bool_)
        step = max(1, many.CHUNK // max(1, len(self.lines) + len(self.bows)))
        for first in range(0, len(xy), step):
            x, y = xy[first : first + step, :1], xy[first : first + step, 1:]
            x0, y0, x1, y1 = self.lines.T
            ahead = (x1 - x0) * (y - y0) > (x - x0) * (y1 - y0)
            crossed = ((y0 <= y) != (y1 <= y)) & (ahead == (y1 > y0))
            cx, cy, radius, low, high, side = self.bows.T
            reach = np.sqrt(np.clip(radius**2 - (y - cy) ** 2, 0.0, None))
            bowed = ((low <= y) != (high <= y)) & (cx + side * reach > x)
            odd[first : first + step] = (crossed.sum(axis=1) + bowed.sum(axis=1)) % 2 == 1
        return odd


def _bows(arc: Arc, start_y: float, end_y: float) -> Iterator[tuple[float, ...]]:
    """Cut an arc at its top and bottom."""
    low, high = sorted((arc.angle, arc.angle + arc.sweep))
    if arc.sweep < 0:
        start_y, end_y = end_y, start_y
    first = ceil((low - pi / 2) / pi + many.ROUNDING)
    turns = [pi / 2 + k * pi for k in range(first, ceil((high - pi / 2) / pi - many.ROUNDING))]
    heights = [start_y, *(arc.centre.y + arc.radius * unit(at).y for at in turns), end_y]
    cuts = [low, *turns, high]
    for k in range(len(cuts) - 1):
        side = 1.0 if unit((cuts[k] + cuts[k + 1]) / 2).x > 0 else -1.0
        yield (*arc.centre, arc.radius, heights[k], heights[k + 1], side)


@lru_cache(maxsize=64)
def gauge_of(loop: Loop) -> Gauge:
    """Return the gauge of a loop that is measured from again and again, kept for the next time."""
    return Gauge.of(loop)


def inside(xy: Floats, loop: Loop) -> NDArray[np.bool_]:
    """Whether each point lies within the loop; the outline itself counts, within 1e-6 mm."""
    return Gauge.of(loop).signed_distance(xy) >= -TOLERANCE_MM


def distance(xy: Floats, loop: Loop) -> Floats:
    """Distance from each point to the true lines and arcs of the loop, inside or outside."""
    return Gauge.of(loop).distance(xy)


def shifted(loop: Loop, dx: float, dy: float) -> Loop:
    """Move a loop."""
    return Loop(tuple(shifted_curve(curve, dx, dy) for curve in loop.curves))


def shifted_curve(curve: Curve, dx: float, dy: float) -> Curve:
    """Move a curve."""
    match curve:
        case Line(start, end):
            return Line(Point(start.x + dx, start.y + dy), Point(end.x + dx, end.y + dy))
        case Arc(centre, radius, angle, sweep):
            return Arc(Point(centre.x + dx, centre.y + dy), radius, angle, sweep)


def turned_half(loop: Loop) -> Loop:
    """Turn a loop half round within its own box, which stays where it is."""
    left, bottom, right, top = bounds(loop)

    def turned(point: Point) -> Point:
        return Point(left + right - point.x, bottom + top - point.y)

    return Loop(
        tuple(
            Line(turned(curve.start), turned(curve.end))
            if isinstance(curve, Line)
            else Arc(turned(curve.centre), curve.radius, curve.angle + pi, curve.sweep)
            for curve in loop.curves
        )
    )


def intersections(first: Curve, second: Curve) -> tuple[Point, ...]:
    """Where two curves meet; a touch within 1e-6 mm counts.

    Curves that overlap along a stretch give the ends of the stretch.
    """
    one, other = edges_of([first]), edges_of([second])
    if isinstance(first, Line) and isinstance(second, Line):
        found = many.lines_meet(one.lines, other.lines)
    elif isinstance(first, Line):
        found = many.line_meets_arc(one.lines, other.arcs)
    elif isinstance(second, Line):
        found = many.line_meets_arc(other.lines, one.arcs)
    else:
        found = many.arcs_meet(one.arcs, other.arcs)
    places: list[Point] = []
    for x, y in found.reshape(-1, 2).tolist():
        if not isnan(x) and all(hypot(x - p.x, y - p.y) > TOLERANCE_MM for p in places):
            places.append(Point(x, y))
    return tuple(places)


def hull_measures(loops: Iterable[Loop]) -> tuple[float, float]:
    """Area and perimeter of the convex hull of loops.

    Never below the truth; above it by less than one part in 100,000 where arcs take part.
    """
    hull = _hull({point for loop in loops for curve in loop.curves for point in _wrapping(curve)})
    pairs = list(zip(hull, hull[1:] + hull[:1], strict=True))
    doubled = sum(p.x * q.y - p.y * q.x for p, q in pairs)
    return abs(doubled) / 2, sum(hypot(q.x - p.x, q.y - p.y) for p, q in pairs)


def _wrapping(curve: Curve) -> Iterator[Point]:
    """Points whose hull wraps the curve; of a hollow arc only the ends can touch a hull."""
    yield start_of(curve)
    yield end_of(curve)
    if isinstance(curve, Arc) and curve.sweep > 0:
        steps = max(1, ceil(curve.sweep / HULL_STEP))
        step = curve.sweep / steps
        reach = curve.radius / cos(step / 2)
        for k in range(steps):
            direction = unit(curve.angle + (k + 0.5) * step)
            yield Point(curve.centre.x + reach * direction.x, curve.centre.y + reach * direction.y)


def _hull(points: Iterable[Point]) -> list[Point]:
    ordered = sorted(points)
    lower = _half_hull(ordered)
    upper = _half_hull(ordered[::-1])
    return lower[:-1] + upper[:-1] if len(ordered) > 1 else ordered


def _half_hull(ordered: list[Point]) -> list[Point]:
    hull: list[Point] = []
    for point in ordered:
        while len(hull) > 1 and _turn(hull[-2], hull[-1], point) <= 0:
            hull.pop()
        hull.append(point)
    return hull


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
