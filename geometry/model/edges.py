"""Many curves at once, as arrays: distances from points, and where curves meet."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.model.curves import Arc, Curve, Line, Point
from geometry.units import TOLERANCE_MM

Floats = NDArray[np.float64]

PARALLEL: Final = 1e-10
"""Sine of the angle below which two lines count as parallel."""

ROUNDING: Final = 1e-12
"""Relative error that lengths may carry from the arithmetic alone."""

CHUNK: Final = 400_000


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Curves as arrays: ``lines`` holds x0, y0, x1, y1; ``arcs`` x, y, radius, angle, sweep."""

    lines: Floats
    arcs: Floats

    def __len__(self) -> int:
        return len(self.lines) + len(self.arcs)


def edges_of(curves: Iterable[Curve]) -> Edges:
    """Put curves into arrays."""
    lines: list[tuple[float, ...]] = []
    arcs: list[tuple[float, ...]] = []
    for curve in curves:
        match curve:
            case Line(start, end):
                lines.append((*start, *end))
            case Arc(centre, radius, angle, sweep):
                arcs.append((*centre, radius, angle, sweep))
    return Edges(np.array(lines).reshape(-1, 4), np.array(arcs).reshape(-1, 5))


def unit(angle: float) -> Point:
    """The direction of an angle; quarter turns come out without rounding error."""
    quarters = angle / (pi / 2)
    nearest = round(quarters)
    if abs(quarters - nearest) < ROUNDING:
        return (Point(1.0, 0.0), Point(0.0, 1.0), Point(-1.0, 0.0), Point(0.0, -1.0))[nearest % 4]
    return Point(cos(angle), sin(angle))


def start_of(curve: Curve) -> Point:
    """Where a curve begins."""
    match curve:
        case Line(start, _):
            return start
        case Arc(centre, radius, angle, _):
            return _on_circle(centre, radius, angle)


def end_of(curve: Curve) -> Point:
    """Where a curve ends."""
    match curve:
        case Line(_, end):
            return end
        case Arc(centre, radius, angle, sweep):
            return _on_circle(centre, radius, angle + sweep)


def middle_of(curve: Curve) -> Point:
    """The place halfway along a curve."""
    match curve:
        case Line(start, end):
            return Point((start.x + end.x) / 2, (start.y + end.y) / 2)
        case Arc(centre, radius, angle, sweep):
            return _on_circle(centre, radius, angle + sweep / 2)


def _on_circle(centre: Point, radius: float, angle: float) -> Point:
    direction = unit(angle)
    return Point(centre.x + radius * direction.x, centre.y + radius * direction.y)


def distances(xy: Floats, edges: Edges) -> Floats:
    """Distance from each point to the nearest of the curves; infinite when there are none."""
    nearest = np.full(len(xy), np.inf)
    step = max(1, CHUNK // max(1, len(edges)))
    for first in range(0, len(xy), step):
        x, y = xy[first : first + step, :1], xy[first : first + step, 1:]
        part = nearest[first : first + step]
        if len(edges.lines):
            np.minimum(part, _to_lines(x, y, edges.lines).min(axis=1), out=part)
        if len(edges.arcs):
            np.minimum(part, _to_arcs(x, y, edges.arcs).min(axis=1), out=part)
    return nearest


def _to_lines(x: Floats, y: Floats, lines: Floats) -> Floats:
    x0, y0, x1, y1 = lines.T
    along_x, along_y = x1 - x0, y1 - y0
    squared = along_x**2 + along_y**2
    squared[squared == 0] = 1.0
    share = np.clip(((x - x0) * along_x + (y - y0) * along_y) / squared, 0.0, 1.0)
    away: Floats = np.hypot(x - x0 - share * along_x, y - y0 - share * along_y)
    return away


def _to_arcs(x: Floats, y: Floats, arcs: Floats) -> Floats:
    cx, cy, radius, angle, sweep = arcs.T
    from_centre = np.hypot(x - cx, y - cy)
    turned = np.arctan2(y - cy, x - cx) - angle
    beside = (np.where(sweep > 0, turned, -turned) % (2 * pi)) <= np.abs(sweep)
    ends = [
        np.hypot(x - cx - radius * np.cos(at), y - cy - radius * np.sin(at))
        for at in (angle, angle + sweep)
    ]
    away: Floats = np.where(beside, np.abs(from_centre - radius), np.minimum(*ends))
    return away


def lines_meet(first: Floats, second: Floats) -> Floats:
    """Where lines meet, pair by pair: (n, 4, 2), with NaN where there is no such place.

    Overlapping collinear lines give the ends of the overlap.
    """
    meetings = np.full((len(first), 4, 2), np.nan)
    start, along, length = _directions(first)
    other_start, other_along, other_length = _directions(second)
    cross = along[:, 0] * other_along[:, 1] - along[:, 1] * other_along[:, 0]
    parallel = np.abs(cross) <= PARALLEL
    gap = other_start - start
    safe = np.where(parallel, 1.0, cross)
    t = (gap[:, 0] * other_along[:, 1] - gap[:, 1] * other_along[:, 0]) / safe
    s = (gap[:, 0] * along[:, 1] - gap[:, 1] * along[:, 0]) / safe
    meet = ~parallel & _within(t, length) & _within(s, other_length)
    meetings[meet, 0] = (start + t[:, None] * along)[meet]
    if parallel.any():
        _add_overlap_ends(meetings, first, second, parallel)
    return meetings


def _directions(lines: Floats) -> tuple[Floats, Floats, Floats]:
    along = lines[:, 2:] - lines[:, :2]
    length = np.hypot(along[:, 0], along[:, 1])
    return lines[:, :2], along / np.where(length == 0, 1.0, length)[:, None], length


def _within(place: Floats, length: Floats) -> NDArray[np.bool_]:
    return (place >= -TOLERANCE_MM) & (place <= length + TOLERANCE_MM)


def _add_overlap_ends(
    meetings: Floats, first: Floats, second: Floats, parallel: NDArray[np.bool_]
) -> None:
    for slot, (ends, lines) in enumerate(
        (
            (first[:, :2], second),
            (first[:, 2:], second),
            (second[:, :2], first),
            (second[:, 2:], first),
        )
    ):
        start, along, length = _directions(lines)
        from_start = ends - start
        place = (from_start * along).sum(axis=1)
        aside = from_start[:, 0] * along[:, 1] - from_start[:, 1] * along[:, 0]
        on_line = parallel & (np.abs(aside) <= TOLERANCE_MM) & _within(place, length)
        meetings[on_line, slot] = ends[on_line]


def line_meets_arc(lines: Floats, arcs: Floats) -> Floats:
    """Where a line meets an arc, pair by pair: (n, 3, 2), NaN where there is no such place.

    A touch within the tolerance counts.
    """
    start, along, length = _directions(lines)
    to_centre = arcs[:, :2] - start
    foot = (to_centre * along).sum(axis=1)
    aside = np.abs(to_centre[:, 0] * along[:, 1] - to_centre[:, 1] * along[:, 0])
    places = foot[:, None] + _chord_places(aside, arcs[:, 2])
    meetings = start[:, None] + places[..., None] * along[:, None]
    meetings[~_within(places, length[:, None])] = np.nan
    return _on_arcs(meetings, arcs)


def _chord_places(aside: Floats, radius: Floats) -> Floats:
    """Both ends of the chord measured from its middle, and the middle itself at a touch."""
    beyond = aside - radius
    half = np.sqrt(np.clip(radius**2 - aside**2, 0.0, None))
    half = np.where(beyond > TOLERANCE_MM, np.nan, half)
    touching = np.abs(beyond) <= TOLERANCE_MM
    only_touching = np.abs(beyond) <= ROUNDING * (radius + 1)
    half = np.where(only_touching | (beyond > 0), np.nan, half)
    return np.stack([-half, half, np.where(touching, 0.0, np.nan)], axis=1)


def _on_arcs(meetings: Floats, arcs: Floats) -> Floats:
    """Blank out what lies on the circle but not on the arc."""
    if (np.abs(arcs[:, 4]) >= 2 * pi).all():
        return meetings
    cx, cy, radius, angle, sweep = (column[:, None] for column in arcs.T)
    turned = np.arctan2(meetings[..., 1] - cy, meetings[..., 0] - cx) - angle
    turned = np.where(sweep > 0, turned, -turned) % (2 * pi)
    slack = TOLERANCE_MM / radius
    meetings[(turned > np.abs(sweep) + slack) & (turned < 2 * pi - slack)] = np.nan
    return meetings


def arcs_meet(first: Floats, second: Floats) -> Floats:
    """Where arcs meet, pair by pair: (n, 4, 2), with NaN where there is no such place.

    Overlapping arcs of one circle give the ends of the overlap.
    """
    gap = second[:, :2] - first[:, :2]
    distance = np.hypot(gap[:, 0], gap[:, 1])
    one, other = first[:, 2], second[:, 2]
    same = (distance <= TOLERANCE_MM) & (np.abs(one - other) <= TOLERANCE_MM)
    safe = np.where(distance <= TOLERANCE_MM, np.nan, distance)
    foot = (safe**2 + one**2 - other**2) / (2 * safe)
    touching = (np.abs(safe - (one + other)) <= TOLERANCE_MM) | (
        np.abs(safe - np.abs(one - other)) <= TOLERANCE_MM
    )
    foot = np.where(touching, np.clip(foot, -one, one), foot)
    half = np.sqrt(np.where(np.abs(foot) > one, np.nan, one**2 - foot**2))
    barely = half <= np.sqrt(ROUNDING) * np.minimum(one, other)
    half = np.where(barely, np.nan, half)
    aside = np.stack([-half, half, np.where(touching, 0.0, np.nan)], axis=1)
    along = gap / safe[:, None]
    across = np.stack([-along[:, 1], along[:, 0]], axis=1)
    meetings = np.full((len(first), 4, 2), np.nan)
    meetings[:, :3] = (first[:, :2] + foot[:, None] * along)[:, None] + (
        aside[..., None] * across[:, None]
    )
    if same.any():
        for slot, (arcs, at) in enumerate(
            ((first, 0.0), (first, 1.0), (second, 0.0), (second, 1.0))
        ):
            angle = arcs[:, 3] + at * arcs[:, 4]
            ends = arcs[:, :2] + arcs[:, 2:3] * np.stack([np.cos(angle), np.sin(angle)], axis=1)
            meetings[same, slot] = ends[same]
    return _on_arcs(_on_arcs(meetings, first), second)
