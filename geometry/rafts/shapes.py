"""Raft shapes in raft coordinates; equal ones become one value."""

from collections import defaultdict
from fractions import Fraction
from itertools import product
from math import floor, hypot

from geometry.beds.outline import rectangle_loop
from geometry.model.curves import Curve, Line, Loop
from geometry.model.edges import end_of, middle_of, start_of
from geometry.model.measure import bounds, shifted, turned_half
from geometry.rafts.inset import is_box
from geometry.rafts.layout import RaftShape
from geometry.units import TOLERANCE_MM

Span = tuple[Fraction, Fraction]
"""Where a stretch starts, and how long it is."""

Placed = tuple[RaftShape, Fraction, Fraction, bool]
"""A shape, the lower left corner of its box in the bed, and whether it lies turned half round."""


def rectangle_shape(length: Fraction, width: Fraction) -> RaftShape:
    """The shape of a plain rectangular raft."""
    loop = rectangle_loop(0, 0, float(length), float(width))
    return RaftShape(loop, length, width, is_rectangle=True)


def snapped(value: float, expected: Fraction) -> Fraction:
    """The exact value behind a float: the expected one or a plain fraction, else the float's own.

    The result is never further than a hundredth of the tolerance from the float.
    """
    for exact in (expected, Fraction(value).limit_denominator(10_000)):
        if abs(float(exact) - value) <= TOLERANCE_MM / 100:
            return exact
    return Fraction(value)


class Shapes:
    """The shapes met so far. Those that agree within the tolerance are one and the same value."""

    def __init__(self) -> None:
        self._known: defaultdict[tuple[int, int, int], list[RaftShape]] = defaultdict(list)

    def placed(self, loop: Loop, along: Span, across: Span) -> Placed:
        """The shape of a loop that lies in the given cell of a bed, where it lies, and how.

        A loop that equals a known shape turned half round is that shape, turned.
        """
        left, bottom, right, top = bounds(loop)
        x, y = snapped(left, along[0]), snapped(bottom, across[0])
        length = snapped(right, along[0] + along[1]) - x
        width = snapped(top, across[0] + across[1]) - y
        if is_box(loop):
            return self.shared(rectangle_shape(length, width)), x, y, False
        own = shifted(loop, -float(x), -float(y))
        shape = RaftShape(own, length, width, is_rectangle=False)
        if (known := self._found(shape)) is not None:
            return known, x, y, False
        half_round = RaftShape(turned_half(own), length, width, is_rectangle=False)
        if (known := self._found(half_round)) is not None:
            return known, x, y, True
        return self.shared(shape), x, y, False

    def shared(self, shape: RaftShape) -> RaftShape:
        """The known shape that equals this one, or this one, known from now on."""
        if (known := self._found(shape)) is not None:
            return known
        count, size = len(shape.loop.curves), (float(shape.length), float(shape.width))
        self._known[count, floor(size[0]), floor(size[1])].append(shape)
        return shape

    def _found(self, shape: RaftShape) -> RaftShape | None:
        count, size = len(shape.loop.curves), (float(shape.length), float(shape.width))
        nearby = {
            (count, floor(size[0] + dx), floor(size[1] + dy))
            for dx, dy in product((-TOLERANCE_MM, TOLERANCE_MM), repeat=2)
        }
        for key in nearby:
            for known in self._known[key]:
                if _alike(known.loop, shape.loop):
                    return known
        return None


def _alike(first: Loop, second: Loop) -> bool:
    """Whether loops of as many curves agree, whichever curve each begins with."""
    count = len(first.curves)
    return any(
        all(_same(first.curves[k], second.curves[(k + turn) % count]) for k in range(count))
        for turn in range(count)
        if _near(first.curves[0], second.curves[turn])
    )


def _near(first: Curve, second: Curve) -> bool:
    a, b = start_of(first), start_of(second)
    return hypot(a.x - b.x, a.y - b.y) <= TOLERANCE_MM


def _same(first: Curve, second: Curve) -> bool:
    if isinstance(first, Line) != isinstance(second, Line):
        return False
    return all(
        hypot(a.x - b.x, a.y - b.y) <= TOLERANCE_MM
        for a, b in ((at(first), at(second)) for at in (start_of, middle_of, end_of))
    )
