"""Where an outline can be taken hold of, and what becomes of it when it is pulled there.

Places are exact and in the outline's own box: its lower left corner is 0, 0.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin
from typing import Final, Literal

from geometry.beds.outline import exact_box, exact_size, outline_loop
from geometry.errors import GeometryError
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
from geometry.tongue import tr
from geometry.units import Length

Way = Literal["along", "across"]
Place = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Grip:
    """A corner of an outline or the middle of a side, and the ways in which it can be pulled."""

    x: Fraction
    y: Fraction
    moves_x: bool = True
    moves_y: bool = True
    is_corner: bool = True


@dataclass(frozen=True, slots=True)
class Reshaped:
    """An outline made of another one. ``x``, ``y``: its box's corner in the box of the old one."""

    outline: Outline
    x: Fraction = Fraction(0)
    y: Fraction = Fraction(0)


_BOX_WAYS: Final = ((-1, -1), (1, -1), (1, 1), (-1, 1), (0, -1), (1, 0), (0, 1), (-1, 0))
"""Corners counter-clockwise from the lower left, then the sides from the lower one."""


def grips(outline: Outline) -> tuple[Grip, ...]:
    """Return where an outline can be pulled, its corners first; nowhere if only a tape can tell.

    Raises:
        OutlineError: The outline cannot be drawn.
    """
    match outline:
        case Rectangle() | RoundEnded():
            return _box_grips(outline, _BOX_WAYS)
        case Measured():
            return _box_grips(outline, _BOX_WAYS) if _is_plain(outline) else ()
        case Disc():
            return _box_grips(outline, _BOX_WAYS[4:])
        case LShape():
            xs, ys = _l_lines(outline)
            return tuple(Grip(xs[i], ys[j]) for i, j in _L_CORNERS)
        case Tapered() | Polygon():
            return tuple(Grip(x, y) for x, y in polygon_of(outline))


def corner_grips(outline: Outline) -> tuple[Grip, ...]:
    """Return the corners of an outline; the middles of its sides where it has no corners."""
    found = grips(outline)
    return tuple(grip for grip in found if grip.is_corner) or found


def pulled(outline: Outline, number: int, x: Fraction, y: Fraction) -> Reshaped:
    """Return the outline with one of its grips put at a place; what lies opposite stays.

    Raises:
        GeometryError: There is no such grip, or nothing of the outline would be left.
    """
    if not 0 <= number < len(grips(outline)):
        raise GeometryError(tr("This outline has no such corner; type its sizes."))
    made = _pulled(outline, number, x, y)
    outline_loop(made.outline)
    return made


def polygon_of(outline: Outline) -> tuple[Place, ...]:
    """Return the corners of an outline with straight sides, counter-clockwise in its box.

    A free outline keeps its corners in their order.

    Raises:
        GeometryError: It has round parts.
    """
    length, width = exact_box(outline)
    zero = Fraction(0)
    match outline:
        case Polygon(points):
            low_x, low_y = (min(point[axis].exact for point in points) for axis in range(2))
            return tuple((x.exact - low_x, y.exact - low_y) for x, y in points)
        case LShape():
            xs, ys = _l_lines(outline)
            return tuple((xs[i], ys[j]) for i, j in _L_CORNERS)
        case Tapered(_, start, end):
            low, high = ((width - each.exact) / 2 for each in (start, end))
            return (zero, low), (length, high), (length, width - high), (zero, width - low)
        case Measured() | Rectangle() if exact_size(outline) is not None:
            return ((zero, zero), (length, zero), (length, width), (zero, width))
        case _:
            raise GeometryError(
                tr("An outline with round parts has no free corners; make it one of any corners.")
            )


def with_corner(outline: Outline, side: int, x: Fraction, y: Fraction) -> Reshaped:
    """Return a free outline with one corner more, after the corner numbered ``side``.

    Raises:
        GeometryError: The outline has round parts, or would cross itself.
    """
    corners = list(polygon_of(outline))
    corners.insert(side + 1, (x, y))
    return _free(outline, corners)


def without_corner(outline: Outline, number: int) -> Reshaped:
    """Return a free outline with one corner less.

    Raises:
        GeometryError: It is not free, or has three corners only.
    """
    if not isinstance(outline, Polygon):
        raise GeometryError(
            tr("Only an outline of any corners can lose one; choose that kind first.")
        )
    corners = list(polygon_of(outline))
    if len(corners) <= 3:
        raise GeometryError(tr("An outline needs three corners; this one has no more."))
    del corners[number]
    return _free(outline, corners)


def nearest_side(corners: Sequence[Place], x: float, y: float) -> int:
    """Return the number of the corner that begins the side nearest to a place."""

    def away(side: tuple[Place, Place]) -> float:
        (x0, y0), (x1, y1) = ((float(a), float(b)) for a, b in side)
        length = (x1 - x0) ** 2 + (y1 - y0) ** 2
        share = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length if length else 0.0
        share = min(max(share, 0.0), 1.0)
        return (x0 + share * (x1 - x0) - x) ** 2 + (y0 + share * (y1 - y0) - y) ** 2

    sides = list(pairwise([*corners, corners[0]]))
    return min(range(len(sides)), key=lambda k: away(sides[k]))


def mirrored(outline: Outline, way: Way) -> Outline:
    """Return an outline mirrored in its own box: "along" swaps left and right.

    An L becomes an outline of any corners, since its notch is always at the upper right.
    """
    length, width = exact_box(outline)
    match outline:
        case Tapered(size, start, end):
            return Tapered(size, end, start) if way == "along" else outline
        case LShape() | Polygon():
            corners = [
                (length - x, y) if way == "along" else (x, width - y)
                for x, y in polygon_of(outline)
            ]
            return _free(outline, corners).outline
        case _:
            return outline


def turned(outline: Outline, degrees: Fraction) -> Reshaped:
    """Return an outline turned counter-clockwise about the middle of its box.

    Quarter turns are exact; of others the corners are rounded to 0.001 mm.

    Raises:
        GeometryError: It has round parts that cannot be held at this angle.
    """
    length, width = exact_box(outline)
    quarters = degrees / 90 % 4
    if quarters == 0 or isinstance(outline, Disc):
        return Reshaped(outline)
    if quarters == 2 and not isinstance(outline, (LShape, Tapered, Polygon)):
        return Reshaped(outline)
    if quarters == 2 and isinstance(outline, Tapered):
        return Reshaped(mirrored(outline, "along"))
    swapped = _swapped(outline)
    if quarters in {1, 3} and swapped is not None:
        return Reshaped(swapped, (length - width) / 2, (width - length) / 2)
    corners = [
        _turned_place(x - length / 2, y - width / 2, degrees, quarters)
        for x, y in polygon_of(outline)
    ]
    return _free(outline, [(x + length / 2, y + width / 2) for x, y in corners])


def _swapped(outline: Outline) -> Outline | None:
    """The outline a quarter turned, of the kinds that stay what they are."""
    match outline:
        case Rectangle(length, width, radius):
            return Rectangle(width, length, radius)
        case RoundEnded(length, width):
            return RoundEnded(width, length)
        case Measured(widths, lengths, ()) if len(widths) <= 2:
            return Measured(lengths, widths)
        case _:
            return None


def _turned_place(x: Fraction, y: Fraction, degrees: Fraction, quarters: Fraction) -> Place:
    exact = {1: (-y, x), 2: (-x, -y), 3: (y, -x)}
    if quarters in exact:
        return exact[int(quarters)]
    angle = radians(float(degrees % 360))
    turned_x = float(x) * cos(angle) - float(y) * sin(angle)
    turned_y = float(x) * sin(angle) + float(y) * cos(angle)
    return Length.rounded(turned_x).exact, Length.rounded(turned_y).exact


def _free(outline: Outline, corners: Sequence[Place]) -> Reshaped:
    """A free outline with these corners in the box of the old one; others keep their numbers."""
    low_x, low_y = (min(corner[axis] for corner in corners) for axis in range(2))
    base_x, base_y = Fraction(0), Fraction(0)
    known: dict[tuple[int, Fraction], Length] = {}
    if isinstance(outline, Polygon):
        base_x, base_y = (min(point[axis].exact for point in outline.points) for axis in range(2))
        known = {
            (axis, point[axis].exact): point[axis] for point in outline.points for axis in (0, 1)
        }
    points = tuple(
        (
            known.get((0, x + base_x), Length(x + base_x)),
            known.get((1, y + base_y), Length(y + base_y)),
        )
        for x, y in corners
    )
    made = Polygon(points)
    outline_loop(made)
    return Reshaped(made, low_x, low_y)


def _is_plain(outline: Measured) -> bool:
    return len(outline.widths) == len(outline.lengths) == 1 and not outline.diagonals


def _box_grips(outline: Outline, ways: Sequence[tuple[int, int]]) -> tuple[Grip, ...]:
    length, width = exact_box(outline)
    return tuple(
        Grip(
            length * (1 + right) / 2,
            width * (1 + up) / 2,
            moves_x=right != 0,
            moves_y=up != 0,
            is_corner=bool(right and up),
        )
        for right, up in ways
    )


def _l_lines(outline: LShape) -> tuple[list[Fraction], list[Fraction]]:
    length, width = outline.length.exact, outline.width.exact
    return (
        [Fraction(0), length - outline.notch_length.exact, length],
        [Fraction(0), width - outline.notch_width.exact, width],
    )


_L_CORNERS: Final = ((0, 0), (2, 0), (2, 1), (1, 1), (1, 2), (0, 2))


def _pulled(outline: Outline, number: int, x: Fraction, y: Fraction) -> Reshaped:
    match outline:
        case Rectangle() | RoundEnded() | Measured():
            return _pulled_box(outline, number, x, y)
        case Disc(diameter):
            half = diameter.exact / 2
            right, _ = _BOX_WAYS[4:][number]
            new_half = abs(x - half) if right else abs(y - half)
            low = half - new_half
            return Reshaped(Disc(_kept(diameter, _some(2 * new_half))), low, low)
        case LShape():
            return _pulled_l(outline, number, x, y)
        case Tapered():
            return _pulled_taper(outline, number, x, y)
        case Polygon():
            corners = list(polygon_of(outline))
            corners[number] = (x, y)
            return _free(outline, corners)


def _pulled_box(
    outline: Rectangle | RoundEnded | Measured, number: int, x: Fraction, y: Fraction
) -> Reshaped:
    length, width = exact_box(outline)
    zero = Fraction(0)
    way_x, way_y = _BOX_WAYS[number]
    left, right = (x if way_x < 0 else zero), (x if way_x > 0 else length)
    bottom, top = (y if way_y < 0 else zero), (y if way_y > 0 else width)
    new_length, new_width = _some(right - left), _some(top - bottom)
    made: Outline
    if isinstance(outline, Measured):
        lengths = _kept(outline.lengths[0], new_length)
        made = Measured((_kept(outline.widths[0], new_width),), (lengths,))
    else:
        made = replace(
            outline,
            length=_kept(outline.length, new_length),
            width=_kept(outline.width, new_width),
        )
    return Reshaped(made, left, bottom)


def _pulled_taper(outline: Tapered, number: int, x: Fraction, y: Fraction) -> Reshaped:
    """Both ends stay symmetrical about the middle line, which stays where it is."""
    length, start, end = outline.length.exact, outline.width_start, outline.width_end
    middle = max(start.exact, end.exact) / 2
    width = _some(2 * abs(y - middle))
    left, right = (x, length) if number in {0, 3} else (Fraction(0), x)
    if number in {0, 3}:
        start = _kept(start, width)
    else:
        end = _kept(end, width)
    made = Tapered(_kept(outline.length, _some(right - left)), start, end)
    return Reshaped(made, left, middle - max(start.exact, end.exact) / 2)


def _pulled_l(outline: LShape, number: int, x: Fraction, y: Fraction) -> Reshaped:
    column, row = _L_CORNERS[number]
    xs, ys = _l_lines(outline)
    xs[column], ys[row] = x, y
    return Reshaped(
        LShape(
            _kept(outline.length, _some(xs[2] - xs[0])),
            _kept(outline.width, _some(ys[2] - ys[0])),
            _kept(outline.notch_length, _some(xs[2] - xs[1])),
            _kept(outline.notch_width, _some(ys[2] - ys[1])),
        ),
        xs[0],
        ys[0],
    )


def _some(size: Fraction) -> Fraction:
    if size <= 0:
        raise GeometryError(tr("Nothing would be left; pull it the other way."))
    return size


def _kept(old: Length, exact: Fraction) -> Length:
    """The old length, as it was typed, where it has not changed."""
    return old if old.exact == exact else Length(exact)


def shifted_length(old: Length, by: Fraction) -> Length:
    """Return a length that is so much more; the old one, as it was typed, where that is nothing."""
    return _kept(old, old.exact + by)
