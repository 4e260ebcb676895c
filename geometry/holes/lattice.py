"""The best place for a lattice on any outline: the translation that puts most of it inside.

The count can only change where a point of the lattice crosses the region's edge. With the edge
folded into one cell of the lattice, the most points are reached at a crossing of two folded edges
or at a corner (packing by critical offsets), so these are all that is tried.
"""

from collections.abc import Iterable
from math import pi
from typing import Final

import numpy as np

from geometry.holes.region import Region
from geometry.holes.sites import Coordinates
from geometry.model.curves import Arc, Curve, Line
from geometry.model.edges import Floats, end_of, start_of

_MOST_PLACES: Final = 4_000_000
"""Points looked at in one search; a larger one tries the corners of the region only."""
_CHUNK: Final = 400_000
_SAME: Final = 1e-7


def best_translation(region: Region, u: tuple[float, float], v: tuple[float, float]) -> Coordinates:
    """Return the points of the lattice spanned by ``u`` and ``v`` at its best translation.

    Exact up to the tolerance: no other translation puts more points into the region. (Above some
    thousand points only translations that bring a point to a corner of the region are tried.)
    """
    cell = np.array([u, v])
    box = region.bounds()
    if box is None:
        return np.empty((0, 2))
    left, bottom, right, top = box
    radius = max(np.hypot(*(cell[0] + cell[1])), np.hypot(*(cell[0] - cell[1]))) / 2
    points = _lattice_in((left - radius, bottom - radius, right + radius, top + radius), cell)
    middle = cell.sum(axis=0) / 2
    slack = region.slack(points + middle)
    sure, open_to_change = points[slack >= radius], points[np.abs(slack) < radius]
    shifts = _critical(region, cell, len(open_to_change))
    counts = np.array([], dtype=np.int64)
    step = max(1, _CHUNK // max(1, len(open_to_change)))
    for first in range(0, len(shifts), step):
        some = shifts[first : first + step]
        places = (some[:, None, :] + open_to_change[None, :, :]).reshape(-1, 2)
        inside = region.allows(places).reshape(len(some), -1)
        counts = np.append(counts, inside.sum(axis=1))
    if not len(counts):
        return np.empty((0, 2))
    shift = shifts[int(counts.argmax())]
    moved = open_to_change + shift
    return np.vstack([sure + shift, moved[region.allows(moved)]])


def _lattice_in(box: tuple[float, float, float, float], cell: Floats) -> Coordinates:
    """All lattice points in a box."""
    left, bottom, right, top = box
    corners = np.array([(left, bottom), (right, bottom), (right, top), (left, top)])
    steps = corners @ np.linalg.inv(cell)
    low, high = np.floor(steps.min(axis=0)), np.ceil(steps.max(axis=0))
    i, j = np.meshgrid(np.arange(low[0], high[0] + 1), np.arange(low[1], high[1] + 1))
    points: Coordinates = np.column_stack([i.ravel(), j.ravel()]) @ cell
    within = (
        (points[:, 0] >= left)
        & (points[:, 0] <= right)
        & (points[:, 1] >= bottom)
        & (points[:, 1] <= top)
    )
    return points[within]


def _critical(region: Region, cell: Floats, changing: int) -> Coordinates:
    """All translations worth trying, reduced to one cell of the lattice."""
    curves = distinct(region.border)
    found: list[Floats] = [np.array(region.corners, dtype=float).reshape(-1, 2)]
    found += [np.array([start_of(curve), end_of(curve)], dtype=float) for curve in curves]
    boxes = [_box(curve) for curve in curves]
    corners_only = len(region.parts) * changing**2 > _MOST_PLACES
    for a, here in enumerate(curves):
        for b, there in enumerate(curves[a:], start=a):
            (x0, y0, x1, y1), (p0, q0, p1, q1) = boxes[a], boxes[b]
            if corners_only:
                shifts = np.zeros((1, 2))
            else:
                shifts = _lattice_in(
                    (x0 - p1 - _SAME, y0 - q1 - _SAME, x1 - p0 + _SAME, y1 - q0 + _SAME), cell
                )
            if a == b:
                shifts = shifts[np.abs(shifts).sum(axis=1) > _SAME]
            if len(shifts):
                found.append(meetings(here, there, shifts))
    places = np.vstack(found) @ np.linalg.inv(cell)
    folded = places - np.floor(places + _SAME)
    _, first = np.unique(np.round(folded, 9), axis=0, return_index=True)
    return np.asarray(folded[np.sort(first)] @ cell)


def distinct(curves: Iterable[Curve]) -> list[Curve]:
    """Drop repeated curves; whole circles stand for their arcs, which only adds places to try."""
    kept: dict[tuple[float, ...], Curve] = {}
    for curve in curves:
        match curve:
            case Line(start, end):
                ends = sorted([(start.x, start.y), (end.x, end.y)])
                kept.setdefault((*np.round(ends[0], 7), *np.round(ends[1], 7)), curve)
            case Arc(centre, radius, _, _):
                key = tuple(np.round((centre.x, centre.y, radius), 7))
                kept.setdefault(key, Arc(centre, radius, 0.0, 2 * pi))
    return list(kept.values())


def _box(curve: Curve) -> tuple[float, float, float, float]:
    match curve:
        case Line(start, end):
            (x0, x1), (y0, y1) = sorted((start.x, end.x)), sorted((start.y, end.y))
            return x0, y0, x1, y1
        case Arc(centre, radius, _, _):
            return (
                centre.x - radius,
                centre.y - radius,
                centre.x + radius,
                centre.y + radius,
            )


def meetings(here: Curve, there: Curve, shifts: Floats) -> Floats:
    """Return where ``here`` meets ``there`` moved by each of the shifts."""
    match here, there:
        case Line(), Line():
            return _lines_meet(here, there, shifts)
        case Line(), Arc():
            return _line_meets_circles(here, there, shifts)
        case Arc(), Line():
            return _line_meets_circles(there, here, -shifts, keep=shifts)
        case Arc(), Arc():
            return _circles_meet(here, there, shifts)
        case _:
            raise AssertionError((here, there))


def _lines_meet(here: Line, there: Line, shifts: Floats) -> Floats:
    start, way = np.array(here.start), np.array(here.end) - np.array(here.start)
    other, other_way = np.array(there.start) + shifts, np.array(there.end) - np.array(there.start)
    cross = way[0] * other_way[1] - way[1] * other_way[0]
    if abs(cross) <= 1e-12 * np.hypot(*way) * np.hypot(*other_way):
        return np.empty((0, 2))
    apart = other - start
    along = (apart[:, 0] * other_way[1] - apart[:, 1] * other_way[0]) / cross
    along_other = (apart[:, 0] * way[1] - apart[:, 1] * way[0]) / cross
    slip, other_slip = _SAME / np.hypot(*way), _SAME / np.hypot(*other_way)
    on_both = (
        (along >= -slip)
        & (along <= 1 + slip)
        & (along_other >= -other_slip)
        & (along_other <= 1 + other_slip)
    )
    return np.asarray(start + along[on_both, None] * way)


def _line_meets_circles(
    line: Line, circle: Arc, shifts: Floats, keep: Floats | None = None
) -> Floats:
    """Meetings on the line; with ``keep``, moved by these to lie on the circle as it stands."""
    start, way = np.array(line.start), np.array(line.end) - np.array(line.start)
    size = float(np.hypot(*way))
    direction = way / size
    apart = np.array(circle.centre) + shifts - start
    foot = apart @ direction
    height = apart[:, 1] * direction[0] - apart[:, 0] * direction[1]
    reach = circle.radius**2 - height**2
    touching = reach >= -_SAME * circle.radius
    half = np.sqrt(np.maximum(reach, 0.0))
    met: list[Floats] = []
    for along in (foot - half, foot + half):
        good = touching & (along >= -_SAME) & (along <= size + _SAME)
        places = start + along[good, None] * direction
        met.append(places if keep is None else places + keep[good])
    return np.vstack(met)


def _circles_meet(here: Arc, there: Arc, shifts: Floats) -> Floats:
    centre = np.array(here.centre)
    apart = np.array(there.centre) + shifts - centre
    gap = np.hypot(apart[:, 0], apart[:, 1])
    some = gap > _SAME
    apart, gap = apart[some], gap[some]
    along = (gap**2 + here.radius**2 - there.radius**2) / (2 * gap)
    reach = here.radius**2 - along**2
    good = reach >= -_SAME * here.radius
    apart, gap, along = apart[good], gap[good], along[good]
    half = np.sqrt(np.maximum(reach[good], 0.0))
    unit = apart / gap[:, None]
    normal = np.column_stack([-unit[:, 1], unit[:, 0]])
    foot = centre + along[:, None] * unit
    return np.vstack([foot + half[:, None] * normal, foot - half[:, None] * normal])
