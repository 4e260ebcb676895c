"""The outline of a bed or an obstacle as a loop, from its measurements."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import pi
from typing import assert_never

from geometry.errors import OutlineError
from geometry.model.bed import Obstacle, Spot
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.measure import bounds, shifted
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.zone import Zone
from geometry.tongue import mark, number, tr
from geometry.units import Length

Corner = tuple[Fraction, Fraction]

ExactBox = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, bottom, right, top."""


def outline_loop(outline: Outline) -> Loop:
    """The outline as a loop whose box has its lower left corner at the origin.

    A polygon is shifted there, so its corners keep their own coordinates only when the file counts
    them from the lower left of their box; corners given clockwise are taken in reverse. A tapered
    outline is symmetrical about the middle of its wider end.

    Raises:
        OutlineError: The outline encloses nothing, or its parts contradict each other.
    """
    loop = _loop(outline)
    left, bottom, _, _ = bounds(loop)
    return loop if left == 0 and bottom == 0 else shifted(loop, -left, -bottom)


def exact_box(outline: Outline) -> tuple[Fraction, Fraction]:
    """Length and width of the box around an outline, exactly.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    match outline:
        case Rectangle(length, width) | RoundEnded(length, width) | LShape(length, width):
            return length.exact, width.exact
        case Disc(diameter):
            return diameter.exact, diameter.exact
        case Tapered(length, start, end):
            return length.exact, max(start.exact, end.exact)
        case Measured():
            return _safe_size(outline)
        case Polygon():
            x, y = zip(*_corners(outline), strict=True)
            return max(x) - min(x), max(y) - min(y)
        case _:
            assert_never(outline)


def exact_size(outline: Outline) -> tuple[Fraction, Fraction] | None:
    """Exact length and width when the outline is a plain rectangle lying square, else None.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    match outline:
        case Rectangle(corner_radius=radius):
            _loop(outline)
            plain = radius.exact == 0
        case Measured():
            plain = True
        case Polygon():
            corners = _corners(outline)
            x, y = zip(*corners, strict=True)
            plain = len(corners) == 4 and len(set(x)) == len(set(y)) == 2
        case _:
            plain = False
    return exact_box(outline) if plain else None


def skew_mm(measured: Measured) -> float:
    """How far out of true the tape found a bed: the largest difference of two like measures.

    Widths are compared with widths, lengths with lengths, one diagonal with the other.
    """
    groups = (measured.widths, measured.lengths, measured.diagonals)
    measures = [[length.exact for length in group] for group in groups if group]
    return float(max((max(group) - min(group) for group in measures), default=Fraction(0)))


def found_corners(measured: Measured) -> tuple[Corner, Corner, Corner, Corner]:
    """The corners of a bed as the tape found it, counter-clockwise from the lower left.

    They are in bed coordinates, around the safe rectangle. The first length runs along the lower
    wall, the second along the upper one; the first width lies at the left end, the second at the
    right; the first diagonal rises to the right. A wall that was measured once is as long as its
    fellow, and what a width has over the least one lies at the upper wall.

    Raises:
        OutlineError: The measures contradict each other.
    """
    length, width = _safe_size(measured)
    lower, upper = measured.lengths[0].exact, measured.lengths[-1].exact
    left = measured.widths[0].exact
    right = measured.widths[1].exact if len(measured.widths) > 1 else left
    lean = min(lower, upper) - length
    first, second = map(_exact, measured.diagonals or (measured.widths[0],) * 2)
    lower_x, upper_x = (-lean, Fraction(0)) if first >= second else (Fraction(0), -lean)
    return (
        (lower_x, Fraction(0)),
        (lower_x + lower, Fraction(0)),
        (upper_x + upper, max(right, width)),
        (upper_x, max(left, width)),
    )


def obstacle_loop(obstacle: Obstacle) -> Loop:
    """The obstacle's outline in bed coordinates.

    ``centre`` is the middle of its box, ``corner`` the lower left; with neither, a polygon stands
    at its own coordinates and any other shape in the datum corner of the bed.

    Raises:
        OutlineError: The shape cannot be drawn.
    """
    loop = outline_loop(obstacle.shape)
    if obstacle.centre is not None:
        _, _, right, top = bounds(loop)
        return shifted(loop, obstacle.centre.x.mm - right / 2, obstacle.centre.y.mm - top / 2)
    if obstacle.corner is not None:
        return shifted(loop, obstacle.corner.x.mm, obstacle.corner.y.mm)
    return _loop(obstacle.shape)


def zone_loop(zone: Zone) -> Loop | None:
    """The outline of a zone in bed coordinates, placed as an obstacle's is; None for whole rafts.

    Raises:
        OutlineError: The shape cannot be drawn.
    """
    if zone.shape is None:
        return None
    centre, corner = (None if at is None else Spot(*at) for at in (zone.centre, zone.corner))
    return obstacle_loop(Obstacle(zone.name, zone.shape, centre, corner))


def zone_box(zone: Zone) -> ExactBox | None:
    """Left, bottom, right and top of a zone, exactly, where it is a rectangle lying square.

    Raises:
        OutlineError: The shape cannot be drawn.
    """
    size = exact_size(zone.shape) if zone.shape is not None else None
    at = zone.centre or zone.corner
    if size is None or at is None:
        return None
    length, width = size
    x, y = at[0].exact, at[1].exact
    if zone.centre is not None:
        x, y = x - length / 2, y - width / 2
    return x, y, x + length, y + width


def rectangle_loop(left: float, bottom: float, right: float, top: float) -> Loop:
    """A rectangle lying square, from its lower left corner counter-clockwise."""
    return _polygon([(left, bottom), (right, bottom), (right, top), (left, top)])


def _loop(outline: Outline) -> Loop:
    match outline:
        case Rectangle():
            return _rectangle(outline)
        case Measured():
            length, width = _safe_size(outline)
            return rectangle_loop(0, 0, float(length), float(width))
        case Disc(diameter):
            _need(diameter, mark("diameter"))
            return _rounded(diameter.mm, diameter.mm, diameter.mm / 2)
        case RoundEnded(length, width):
            _need(length, mark("length"))
            _need(width, mark("width"))
            return _rounded(length.mm, width.mm, min(length.mm, width.mm) / 2)
        case LShape():
            return _l_shape(outline)
        case Tapered(length, start, end):
            _need(length, mark("length"))
            _need(start, mark("width at the start"))
            _need(end, mark("width at the end"))
            middle = max(start.mm, end.mm) / 2
            return _polygon(
                [
                    (0, middle - start.mm / 2),
                    (length.mm, middle - end.mm / 2),
                    (length.mm, middle + end.mm / 2),
                    (0, middle + start.mm / 2),
                ]
            )
        case Polygon():
            return _polygon([(float(x), float(y)) for x, y in _corners(outline)])
        case _:
            assert_never(outline)


def _rectangle(outline: Rectangle) -> Loop:
    _need(outline.length, mark("length"))
    _need(outline.width, mark("width"))
    radius, shorter = outline.corner_radius.exact, min(outline.length.exact, outline.width.exact)
    if radius < 0:
        raise OutlineError(tr("A corner radius must not be negative."))
    if 2 * radius > shorter:
        raise OutlineError(
            tr(
                "The corner radius of {radius} mm is more than half the shorter side "
                "({shorter} mm): make it {half} mm or less.",
                radius=number(float(radius)),
                shorter=number(float(shorter)),
                half=number(float(shorter / 2)),
            )
        )
    return _rounded(outline.length.mm, outline.width.mm, float(radius))


def _l_shape(outline: LShape) -> Loop:
    for value, name in (
        (outline.length, mark("length")),
        (outline.width, mark("width")),
        (outline.notch_length, mark("notch length")),
        (outline.notch_width, mark("notch width")),
    ):
        _need(value, name)
    for notch, whole, name in (
        (outline.notch_length, outline.length, "length"),
        (outline.notch_width, outline.width, "width"),
    ):
        if notch.exact >= whole.exact:
            raise OutlineError(
                tr(
                    "The notch {name} of {mm} mm must be less than the {name} of the L "
                    "({whole} mm).",
                    name=tr(name),
                    mm=number(notch.mm),
                    whole=number(whole.mm),
                )
            )
    right, top = outline.length.mm, outline.width.mm
    inner_x = float(outline.length.exact - outline.notch_length.exact)
    inner_y = float(outline.width.exact - outline.notch_width.exact)
    return _polygon(
        [(0, 0), (right, 0), (right, inner_y), (inner_x, inner_y), (inner_x, top), (0, top)]
    )


def _need(value: Length, name: str) -> None:
    if value.exact <= 0:
        raise OutlineError(
            tr(
                "The {name} must be more than nothing; it is {mm} mm.",
                name=tr(name),
                mm=number(value.mm),
            )
        )


def _safe_size(measured: Measured) -> tuple[Fraction, Fraction]:
    """Smallest length and width; two unlike diagonals lean the end walls and cost length.

    With the long walls a width apart and the end walls leaning by an offset, the squares of the
    diagonals differ by four times length times offset.
    """
    if not measured.widths or not measured.lengths:
        raise OutlineError(tr("A measured bed needs at least one width and one length."))
    if len(measured.diagonals) not in {0, 2}:
        raise OutlineError(tr("Give both diagonals of a measured bed, or none."))
    for value, name in (
        *((width, mark("width")) for width in measured.widths),
        *((length, mark("length")) for length in measured.lengths),
        *((diagonal, mark("diagonal")) for diagonal in measured.diagonals),
    ):
        _need(value, name)
    width, length = (min(map(_exact, group)) for group in (measured.widths, measured.lengths))
    if not measured.diagonals:
        return length, width
    short, long = sorted(map(_exact, measured.diagonals))
    longest = max(map(_exact, measured.lengths)) + max(map(_exact, measured.widths))
    offset = (long**2 - short**2) / (4 * length)
    if long >= longest or short <= abs(length - width) or offset >= length:
        raise OutlineError(
            tr(
                "Diagonals of {short} and {long} mm do not belong to a bed of {length} "
                "x {width} mm: measure them again.",
                short=number(float(short)),
                long=number(float(long)),
                length=number(float(length)),
                width=number(float(width)),
            )
        )
    return length - offset, width


def _exact(length: Length) -> Fraction:
    return length.exact


def _polygon(corners: Sequence[tuple[float, float]]) -> Loop:
    points = [Point(float(x), float(y)) for x, y in corners]
    return Loop(tuple(Line(a, b) for a, b in pairwise([*points, points[0]])))


def _rounded(length: float, width: float, radius: float) -> Loop:
    """A rectangle with round corners; sides that the corners use up are left out."""
    right, top = length - radius, width - radius
    if radius == 0:
        return rectangle_loop(0, 0, length, width)
    corners = (
        Arc(Point(right, radius), radius, -pi / 2, pi / 2),
        Arc(Point(right, top), radius, 0, pi / 2),
        Arc(Point(radius, top), radius, pi / 2, pi / 2),
        Arc(Point(radius, radius), radius, pi, pi / 2),
    )
    sides = (
        Line(Point(radius, 0), Point(right, 0)),
        Line(Point(length, radius), Point(length, top)),
        Line(Point(right, width), Point(radius, width)),
        Line(Point(0, top), Point(0, radius)),
    )
    curves: list[Curve] = []
    for side, corner in zip(sides, corners, strict=True):
        if side.start != side.end:
            curves.append(side)
        curves.append(corner)
    return Loop(tuple(curves))


def _corners(polygon: Polygon) -> list[Corner]:
    """The corners counter-clockwise, without repeats and without corners on a straight side."""
    corners = [(x.exact, y.exact) for x, y in polygon.points]
    corners = [corner for k, corner in enumerate(corners) if corner != corners[k - 1]]
    kept = _true_corners(corners)
    if len(kept) < 3:
        raise OutlineError(tr("The outline encloses nothing: it needs three corners or more."))
    _refuse_crossing(kept)
    doubled = sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*kept, kept[0]]))
    return kept if doubled > 0 else kept[::-1]


def _true_corners(corners: list[Corner]) -> list[Corner]:
    kept: list[Corner] = []
    for k, corner in enumerate(corners):
        before, after = corners[k - 1], corners[(k + 1) % len(corners)]
        if _turn(before, corner, after) != 0:
            kept.append(corner)
        elif _facing(before, corner, after) > 0:
            raise OutlineError(
                tr(
                    "The outline runs back on itself at {corner}: take that corner out.",
                    corner=_place(corner),
                )
            )
    return kept


def _refuse_crossing(corners: list[Corner]) -> None:
    """Sides in order of their left ends: only those that overlap along x are compared."""
    count = len(corners)
    sides = sorted(
        (min(a[0], b[0]), max(a[0], b[0]), k, a, b)
        for k, (a, b) in enumerate(pairwise([*corners, corners[0]]))
    )
    for index, (_, right, k, a, b) in enumerate(sides):
        for left, _, other, c, d in sides[index + 1 :]:
            if left > right:
                break
            if (k - other) % count in {1, count - 1}:
                continue
            if _cross(a, b, c, d):
                raise OutlineError(
                    tr(
                        "The outline crosses or touches itself: the sides from {a} and "
                        "from {c} meet.",
                        a=_place(a),
                        c=_place(c),
                    )
                )


def _cross(a: Corner, b: Corner, c: Corner, d: Corner) -> bool:
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    sides = (_turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b))
    if not any(sides):
        return max(min(a, b), min(c, d)) <= min(max(a, b), max(c, d))
    return sides[0] * sides[1] <= 0 and sides[2] * sides[3] <= 0


def _turn(a: Corner, b: Corner, c: Corner) -> Fraction:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _facing(a: Corner, b: Corner, c: Corner) -> Fraction:
    return (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1])


def _place(corner: Corner) -> str:
    return tr("({x}, {y})", x=number(float(corner[0])), y=number(float(corner[1])))
