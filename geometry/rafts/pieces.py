"""Curves cut where they meet, and pieces joined head to tail into loops."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import atan2, hypot, pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.model import edges as many
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import Floats, edges_of, end_of, start_of, unit
from geometry.model.measure import area, length, perimeter
from geometry.units import TOLERANCE_MM

JOIN_MM: Final = 2e-5
"""Ends closer than this belong together; ends computed in two ways differ by far less."""

_PAIRS: Final = 20_000
"""About so many pairs of curves are looked at together."""

Indices = NDArray[np.int64]
Meetings = list[tuple[int, float, float]]


def reversed_loop(loop: Loop) -> Loop:
    """The same outline run the other way, so that what was outside lies on the left."""
    return Loop(
        tuple(
            Line(curve.end, curve.start)
            if isinstance(curve, Line)
            else Arc(curve.centre, curve.radius, curve.angle + curve.sweep, -curve.sweep)
            for curve in reversed(loop.curves)
        )
    )


def offset_curves(loop: Loop, away: float) -> list[Curve]:
    """Every curve moved to its left by a distance, with arcs around the corners that need them.

    Untrimmed: neighbours may cross or run on. A bow that the distance uses up is left out.
    """
    curves: list[Curve] = []
    for before, curve in zip((loop.curves[-1], *loop.curves[:-1]), loop.curves, strict=True):
        corner = _corner_arc(before, curve, away)
        curves.extend(moved for moved in (corner, _moved_left(curve, away)) if moved is not None)
    return curves


def _moved_left(curve: Curve, away: float) -> Curve | None:
    if isinstance(curve, Arc):
        radius = curve.radius - away if curve.sweep > 0 else curve.radius + away
        return Arc(curve.centre, radius, curve.angle, curve.sweep) if radius > JOIN_MM else None
    along = direction_at_start(curve)
    dx, dy = -along.y * away, along.x * away
    return Line(
        Point(curve.start.x + dx, curve.start.y + dy), Point(curve.end.x + dx, curve.end.y + dy)
    )


def _corner_arc(before: Curve, after: Curve, away: float) -> Arc | None:
    """The arc around a corner that turns right; none where the outline goes straight or left."""
    arriving, leaving = direction_at_end(before), direction_at_start(after)
    turn = atan2(
        arriving.x * leaving.y - arriving.y * leaving.x,
        arriving.x * leaving.x + arriving.y * leaving.y,
    )
    if turn > pi - 1e-9:
        turn = -pi
    if away <= JOIN_MM or turn * away > -TOLERANCE_MM:
        return None
    return Arc(start_of(after), away, atan2(arriving.x, -arriving.y), turn)


def direction_at_start(curve: Curve) -> Point:
    """Which way a curve sets out, as a unit vector."""
    if isinstance(curve, Line):
        size = length(curve)
        return Point((curve.end.x - curve.start.x) / size, (curve.end.y - curve.start.y) / size)
    return _tangent(curve, curve.angle)


def direction_at_end(curve: Curve) -> Point:
    """Which way a curve arrives, as a unit vector."""
    if isinstance(curve, Line):
        return direction_at_start(curve)
    return _tangent(curve, curve.angle + curve.sweep)


def direction_at_middle(curve: Curve) -> Point:
    """Which way a curve runs halfway, as a unit vector."""
    if isinstance(curve, Line):
        return direction_at_start(curve)
    return _tangent(curve, curve.angle + curve.sweep / 2)


def _tangent(arc: Arc, angle: float) -> Point:
    outward, sense = unit(angle), 1.0 if arc.sweep > 0 else -1.0
    return Point(-outward.y * sense, outward.x * sense)


def cut_up(curves: Sequence[Curve]) -> list[list[Curve]]:
    """Cut all curves wherever two of them meet: the pieces of each, no piece within tolerance."""
    cuts: defaultdict[int, list[Point]] = defaultdict(list)
    for index, x, y in _meetings(curves):
        cuts[index].append(Point(x, y))
    return [_cut(curve, cuts[k]) for k, curve in enumerate(curves)]


def _meetings(curves: Sequence[Curve]) -> Meetings:
    """Every place where two curves meet, once for each of the two."""
    lines = [k for k, curve in enumerate(curves) if isinstance(curve, Line)]
    arcs = [k for k, curve in enumerate(curves) if isinstance(curve, Arc)]
    edges = edges_of(curves)
    found: Meetings = []
    kinds = (
        (lines, lines, edges.lines, edges.lines, many.lines_meet),
        (lines, arcs, edges.lines, edges.arcs, many.line_meets_arc),
        (arcs, arcs, edges.arcs, edges.arcs, many.arcs_meet),
    )
    for first, second, one, other, meet in kinds:
        rows = max(1, _PAIRS // max(1, len(second)))
        for begin in range(0, len(first), rows):
            here = np.arange(begin, min(begin + rows, len(first)))
            row, partner = (
                grid.ravel() for grid in np.meshgrid(here, np.arange(len(second)), indexing="ij")
            )
            if first is second:
                row, partner = row[partner > row], partner[partner > row]
            if len(row):
                _collect(found, meet(one[row], other[partner]), first, second, row, partner)
    return found


def _collect(
    found: Meetings,
    places: Floats,
    first: Sequence[int],
    second: Sequence[int],
    row: Indices,
    partner: Indices,
) -> None:
    pairs, slots = np.nonzero(~np.isnan(places[..., 0]))
    meetings = zip(
        row[pairs].tolist(), partner[pairs].tolist(), places[pairs, slots].tolist(), strict=True
    )
    for one, other, (x, y) in meetings:
        found += ((first[one], x, y), (second[other], x, y))


def _cut(curve: Curve, places: Iterable[Point]) -> list[Curve]:
    whole = length(curve)
    stops = [0.0]
    for stop in sorted(_stop(curve, place) for place in places):
        if stops[-1] + TOLERANCE_MM < stop < whole - TOLERANCE_MM:
            stops.append(stop)
    if whole <= TOLERANCE_MM:
        return []
    if len(stops) == 1:
        return [curve]
    stops.append(whole)
    return [stretch(curve, stops[k] / whole, stops[k + 1] / whole) for k in range(len(stops) - 1)]


def _stop(curve: Curve, place: Point) -> float:
    """How far along the curve a place lies, in mm."""
    if isinstance(curve, Line):
        along = direction_at_start(curve)
        return (place.x - curve.start.x) * along.x + (place.y - curve.start.y) * along.y
    turned = atan2(place.y - curve.centre.y, place.x - curve.centre.x) - curve.angle
    return curve.radius * ((turned if curve.sweep > 0 else -turned) % (2 * pi))


def stretch(curve: Curve, begin: float, end: float) -> Curve:
    """The part of a curve between two shares of its length."""
    if isinstance(curve, Line):
        return Line(_between(curve, begin), _between(curve, end))
    start, stop = (curve.angle + curve.sweep * share for share in (begin, end))
    return Arc(curve.centre, curve.radius, start, stop - start)


def _between(line: Line, share: float) -> Point:
    if share == 1:
        return line.end
    return Point(
        line.start.x + share * (line.end.x - line.start.x),
        line.start.y + share * (line.end.y - line.start.y),
    )


def join(pieces: Iterable[Curve]) -> tuple[Loop, ...]:
    """Join pieces head to tail into counter-clockwise loops, lowest first.

    Loose ends and doubles are left out, and so is what encloses nothing. Where loops touch in a
    point they stay apart.
    """
    ready = list(pieces)
    nodes, places = _nodes(ready)
    links = _unique(ready, nodes)
    leaving: defaultdict[int, list[int]] = defaultdict(list)
    for k in _without_loose_ends(links):
        leaving[links[k][0]].append(k)
    loops = []
    while any(leaving.values()):
        first = next(ends for ends in leaving.values() if ends)[0]
        loops.append(_walk(first, ready, links, leaving))
    closed = [
        _tidied([_pinned(ready[k], places[links[k][0]], places[links[k][1]]) for k in walk])
        for walk in loops
    ]
    solid = [loop for loop in closed if area(loop) > JOIN_MM * perimeter(loop)]
    return tuple(sorted(solid, key=lambda loop: start_of(loop.curves[0])[::-1]))


def _nodes(pieces: Sequence[Curve]) -> tuple[list[int], list[Point]]:
    """Number the places where ends come together: starts first, then ends."""
    ends = [start_of(piece) for piece in pieces] + [end_of(piece) for piece in pieces]
    order = sorted(range(len(ends)), key=ends.__getitem__)
    nodes = [-1] * len(ends)
    places: list[Point] = []
    for position, k in enumerate(order):
        if nodes[k] < 0:
            nodes[k] = len(places)
            places.append(ends[k])
        for other in order[position + 1 :]:
            if ends[other].x - ends[k].x > JOIN_MM:
                break
            if nodes[other] < 0 and abs(ends[other].y - ends[k].y) <= JOIN_MM:
                nodes[other] = nodes[k]
    return nodes, places


def _unique(pieces: Sequence[Curve], nodes: Sequence[int]) -> dict[int, tuple[int, int]]:
    """From and to node of each piece, without doubles, there-and-backs and crumbs."""
    links: dict[int, tuple[int, int]] = {}
    seen: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for k, piece in enumerate(pieces):
        start, end = nodes[k], nodes[k + len(pieces)]
        if start == end and length(piece) <= 4 * JOIN_MM:
            continue
        if any(_beside(pieces[other], piece) for other in seen[start, end]):
            continue
        links[k] = start, end
        seen[start, end].append(k)
    opposite = [
        (k, other)
        for k, (start, end) in links.items()
        for other in seen.get((end, start), ())
        if k != other and _beside(pieces[k], pieces[other])
    ]
    for pair in opposite:
        for k in pair:
            links.pop(k, None)
    return links


def _beside(first: Curve, second: Curve) -> bool:
    a, b = many.middle_of(first), many.middle_of(second)
    return hypot(a.x - b.x, a.y - b.y) <= JOIN_MM


def _without_loose_ends(links: dict[int, tuple[int, int]]) -> list[int]:
    kept = dict(links)
    while True:
        starts = {start for start, _ in kept.values()}
        ends = {end for _, end in kept.values()}
        loose = [k for k, (start, end) in kept.items() if start not in ends or end not in starts]
        if not loose:
            return list(kept)
        for k in loose:
            del kept[k]


def _walk(
    first: int,
    pieces: Sequence[Curve],
    links: dict[int, tuple[int, int]],
    leaving: dict[int, list[int]],
) -> list[int]:
    """Follow pieces, keeping left where there is a choice, until back at the first's start."""
    walked = [first]
    leaving[links[first][0]].remove(first)
    while (node := links[walked[-1]][1]) != links[first][0] and leaving[node]:
        arriving = pieces[walked[-1]]
        following = max(leaving[node], key=lambda k: _leftness(arriving, pieces[k]))
        leaving[node].remove(following)
        walked.append(following)
    return walked


def _leftness(arriving: Curve, leaving: Curve) -> tuple[float, float]:
    """How sharply left a piece leaves; of two leaving alike, the one that bends left."""
    a, b = direction_at_end(arriving), direction_at_start(leaving)
    turn = atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)
    if turn > pi - 1e-6:
        turn = -pi
    bend = 0.0 if isinstance(leaving, Line) else 1 / leaving.radius
    return round(turn, 6), bend if isinstance(leaving, Line) or leaving.sweep > 0 else -bend


def _pinned(piece: Curve, start: Point, end: Point) -> Curve:
    return Line(start, end) if isinstance(piece, Line) else piece


def _tidied(curves: list[Curve]) -> Loop:
    """Run on pieces of one line or circle merged; the loop starts at its lowest left end."""
    merged: list[Curve] = []
    for curve in curves:
        together = _merged(merged[-1], curve) if merged else None
        if together is None:
            merged.append(curve)
        else:
            merged[-1] = together
    while len(merged) > 2 and (together := _merged(merged[-1], merged[0])) is not None:
        merged[0] = together
        merged.pop()
    match merged:
        case [Arc(centre, radius), Arc(other)] if centre == other:
            return Loop(tuple(Arc(centre, radius, angle, pi) for angle in (-pi / 2, pi / 2)))
    starts = [start_of(curve) for curve in merged]
    floor = min(start.y for start in starts) + JOIN_MM
    first = min(range(len(starts)), key=lambda k: (starts[k].y > floor, starts[k]))
    return Loop(tuple(merged[first:] + merged[:first]))


def _merged(first: Curve, second: Curve) -> Curve | None:
    """Both curves as one, if the second runs on from the first without a bend."""
    if isinstance(first, Line) and isinstance(second, Line):
        a, b = direction_at_start(first), direction_at_start(second)
        aside = abs(a.x * b.y - a.y * b.x) * min(length(first), length(second))
        straight = aside <= TOLERANCE_MM / 10 and a.x * b.x + a.y * b.y > 0
        return Line(first.start, second.end) if straight else None
    if isinstance(first, Arc) and isinstance(second, Arc):
        apart = hypot(first.centre.x - second.centre.x, first.centre.y - second.centre.y)
        alike = apart + abs(first.radius - second.radius) <= TOLERANCE_MM / 10
        sweep = first.sweep + second.sweep
        if alike and first.sweep * second.sweep > 0 and abs(sweep) < 2 * pi - 1e-6:
            return Arc(first.centre, first.radius, first.angle, sweep)
    return None
