"""The line that keeps a clearance all round an outline, as marks."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin

import numpy as np
from numpy.typing import NDArray

from geometry.drawing.marks import Path
from geometry.drawing.styles import Style
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import end_of, middle_of, start_of
from geometry.model.measure import bounds_of, distance, intersections, length
from geometry.units import TOLERANCE_MM


def clearance_line(loop: Loop, by: float, style: Style) -> tuple[Path, ...]:
    """Draw the line ``by`` outside a loop: true arcs round its corners, none within reach.

    One closed path round an outline that bulges everywhere, several open ones round others.
    """
    curves = tuple(_outside(loop, by))
    if not _has_hollow(loop):
        return (Path(curves, style, closed=True),)
    boxes = np.array([bounds_of((curve,)) for curve in curves])
    pieces: list[Curve] = []
    for number, curve in enumerate(curves):
        near = _near(number, boxes)
        pieces.extend(_pieces(curve, [curves[other] for other in near]))
    middles = np.array([middle_of(piece) for piece in pieces]).reshape(-1, 2)
    kept = distance(middles, loop) >= by - TOLERANCE_MM
    return tuple(
        Path((piece,), style) for piece, keep in zip(pieces, kept.tolist(), strict=True) if keep
    )


def _outside(loop: Loop, by: float) -> Iterator[Curve]:
    """Move every curve outwards and round the corners that stick out."""
    for curve, following in pairwise([*loop.curves, loop.curves[0]]):
        heading = bearing(curve, at_end=True)
        match curve:
            case Line(start, end):
                aside = Point(by * sin(heading), -by * cos(heading))
                yield Line(_sum(start, aside), _sum(end, aside))
            case Arc(centre, radius, angle, sweep):
                wider = radius + (by if sweep > 0 else -by)
                if wider > TOLERANCE_MM:
                    yield Arc(centre, wider, angle, sweep)
        turn = _turn(curve, following)
        if turn > 1e-9:
            yield Arc(end_of(curve), by, heading - pi / 2, turn)


def _near(number: int, boxes: NDArray[np.float64]) -> list[int]:
    """Tell which other curves may meet a curve, from their boxes."""
    left, bottom, right, top = boxes[number]
    meets = (boxes[:, 0] <= right) & (boxes[:, 2] >= left)
    meets &= (boxes[:, 1] <= top) & (boxes[:, 3] >= bottom)
    meets[number] = False
    return np.flatnonzero(meets).tolist()


def _has_hollow(loop: Loop) -> bool:
    return any(
        _turn(curve, following) < -1e-9 or (isinstance(curve, Arc) and curve.sweep < 0)
        for curve, following in pairwise([*loop.curves, loop.curves[0]])
    )


def _turn(curve: Curve, following: Curve) -> float:
    """How far the outline turns to the left from one curve to the next, in radians."""
    turn = bearing(following, at_end=False) - bearing(curve, at_end=True)
    return (turn + pi) % (2 * pi) - pi


def bearing(curve: Curve, *, at_end: bool) -> float:
    """Return the direction, in radians, in which a curve begins or ends."""
    match curve:
        case Line(start, end):
            return atan2(end.y - start.y, end.x - start.x)
        case Arc(_, _, angle, sweep):
            return angle + (sweep if at_end else 0) + (pi / 2 if sweep > 0 else -pi / 2)


def _pieces(curve: Curve, others: Sequence[Curve]) -> Iterator[Curve]:
    """Cut a curve where the others meet it."""
    shares = {0.0, 1.0}
    for other in others:
        shares.update(_share(curve, place) for place in intersections(curve, other))
    for first, last in pairwise(sorted(shares)):
        match curve:
            case Line(start, end):
                yield Line(_between(start, end, first), _between(start, end, last))
            case Arc(centre, radius, angle, sweep):
                yield Arc(centre, radius, angle + first * sweep, (last - first) * sweep)


def _share(curve: Curve, place: Point) -> float:
    start = start_of(curve)
    from_start = hypot(place.x - start.x, place.y - start.y)
    if from_start <= TOLERANCE_MM:
        return 0.0
    match curve:
        case Line():
            return min(from_start / length(curve), 1.0)
        case Arc(centre, _, angle, sweep):
            turned = atan2(place.y - centre.y, place.x - centre.x) - angle
            return min((turned if sweep > 0 else -turned) % (2 * pi) / abs(sweep), 1.0)


def _sum(first: Point, second: Point) -> Point:
    return Point(first.x + second.x, first.y + second.y)


def _between(start: Point, end: Point, share: float) -> Point:
    return Point(start.x + share * (end.x - start.x), start.y + share * (end.y - start.y))
