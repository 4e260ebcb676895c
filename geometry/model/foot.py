"""The place of an outline that is nearest to a point: the foot of the shortest way there."""

from math import atan2, hypot, pi

from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import end_of, start_of


def foot_on(loop: Loop, x: float, y: float) -> tuple[Point, Curve]:
    """Return the place of the outline nearest to a point, and the curve that it lies on."""
    feet = ((foot_on_curve(curve, x, y), curve) for curve in loop.curves)
    return min(feet, key=lambda foot: hypot(foot[0].x - x, foot[0].y - y))


def foot_on_curve(curve: Curve, x: float, y: float) -> Point:
    """Return the place of a curve nearest to a point, its ends included.

    From the centre of an arc every place of it is as near; its start is returned.
    """
    match curve:
        case Line(start, end):
            along, up = end.x - start.x, end.y - start.y
            square = along * along + up * up
            share = ((x - start.x) * along + (y - start.y) * up) / square if square else 0.0
            share = min(max(share, 0.0), 1.0)
            return Point(start.x + share * along, start.y + share * up)
        case Arc(centre, radius, angle, sweep):
            away = hypot(x - centre.x, y - centre.y)
            if away == 0:
                return start_of(curve)
            turned = atan2(y - centre.y, x - centre.x) - angle
            turned = turned % (2 * pi) if sweep > 0 else -(-turned % (2 * pi))
            if abs(turned) <= abs(sweep):
                share = radius / away
                return Point(centre.x + share * (x - centre.x), centre.y + share * (y - centre.y))
            ends = (start_of(curve), end_of(curve))
            return min(ends, key=lambda end: hypot(end.x - x, end.y - y))
