"""Stagger worth trying on an outline that is no rectangle: stretched, sheared, with straight rows.

Every stack here keeps all sites the spacing apart. What is tried goes evenly into a length of the
region or runs along one of its edges (packing facts 3 and 7); hexagonal rows are left to others.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from math import atan2, cos, pi, sin, sqrt
from typing import Final

from geometry.holes.region import Region
from geometry.holes.stack import RowStack
from geometry.model.curves import Arc, Curve, Point
from geometry.model.edges import end_of, start_of
from geometry.units import TOLERANCE_MM

_EVENLY: Final = 40
_MAIN_LENGTHS: Final = 4
_MOST_IN_A_ROW: Final = 100
_STRAIGHT_GAPS: Final = 3


def stretched_stagger(region: Region, spacing: float, angle: float) -> list[RowStack]:
    """Half-offset stagger with pitches from the spacing to sqrt(3) times it, rows along the angle.

    Neighbours of neighbouring rows are exactly the spacing apart, so a longer pitch gives a lesser
    row gap. Tried are pitches and row gaps that go evenly into a length of the region, and some
    evenly spaced between. Hexagonal rows are the shortest pitch.
    """
    most = spacing * sqrt(3)
    pitches = {spacing + (most - spacing) * k / _EVENLY for k in range(1, _EVENLY)}
    along, up = _axes(angle)
    for length in _lengths(region, along):
        for count in _counts(length, spacing, most):
            pitches |= {length / count, length / (count + 0.5)}
    for length in _lengths(region, up):
        for count in _counts(length, spacing / 2, spacing * sqrt(0.75)):
            pitches.add(2 * sqrt(max(0.0, spacing**2 - (length / count) ** 2)))
    return [
        RowStack(angle, pitch, sqrt(spacing**2 - pitch**2 / 4), pitch / 2)
        for pitch in _told_apart(pitches)
        if spacing < pitch <= most + TOLERANCE_MM / 10
    ]


def sheared_stagger(
    region: Region, spacing: float, angle: float, edges: Sequence[float]
) -> Iterator[RowStack]:
    """Rows of a pitch of one spacing, each shifted by less than half of it, rows along the angle.

    The shift goes on in one way or to and fro. Tried are row gaps that go evenly into a height of
    the region, shifts that use up a length, and those that follow an edge (``edges`` are their
    angles).
    """
    along, up = _axes(angle)
    shifts: set[float] = set()
    for length in _lengths(region, up):
        for count in _counts(length, spacing * sqrt(0.75), spacing):
            shifts.add(sqrt(max(0.0, spacing**2 - (length / count) ** 2)))
    one_way = set(shifts)
    shifts |= {length % spacing for length in _lengths(region, along)}
    for shift in _told_apart(shifts):
        if TOLERANCE_MM < shift < spacing / 2 - TOLERANCE_MM:
            gap = sqrt(spacing**2 - shift**2)
            yield RowStack(angle, spacing, gap, shift, zigzag=True)
            if shift in one_way:
                yield RowStack(angle, spacing, gap, shift)
                yield RowStack(angle, spacing, gap, -shift)
    for edge in edges:
        between = (edge - angle) % pi
        if pi / 3 + 1e-9 < between < 2 * pi / 3 - 1e-9 and abs(between - pi / 2) > 1e-9:
            yield RowStack(angle, spacing, spacing * sin(between), spacing * cos(between))


def mixed_rows(spacing: float, angle: float) -> Iterator[RowStack]:
    """Hexagonal rows with some straight gaps in them, rows along the angle."""
    gap = spacing * sqrt(0.75)
    for straight in range(1, _STRAIGHT_GAPS + 1):
        yield RowStack(
            angle,
            spacing,
            gap,
            spacing / 2,
            zigzag=True,
            straight=straight,
            straight_gap=spacing,
        )


def _axes(angle: float) -> tuple[tuple[float, float], tuple[float, float]]:
    return (cos(angle), sin(angle)), (-sin(angle), cos(angle))


def _counts(length: float, least: float, most: float) -> range:
    """How many steps from ``least`` to ``most`` may go into a length, with one to spare."""
    few = max(1, int(length / most))
    return range(few, min(_MOST_IN_A_ROW, int(length / least) + 1) + 1)


def _told_apart(values: Iterable[float]) -> list[float]:
    """The values in order, of those that only rounding tells apart one."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > TOLERANCE_MM / 100:
            kept.append(value)
    return kept


def _lengths(region: Region, way: tuple[float, float]) -> list[float]:
    """The main lengths of a region one way: overall, and between edges that lie across."""
    ends: list[float] = []
    edges: list[float] = []
    for curve in region.border:
        reached = [point.x * way[0] + point.y * way[1] for point in _ends(curve, way)]
        ends += reached
        if max(reached) - min(reached) <= TOLERANCE_MM:
            edges.append(reached[0])
    lengths = {round(abs(a - b), 6): abs(a - b) for a, b in combinations(edges, 2)}
    if ends:
        lengths[round(max(ends) - min(ends), 6)] = max(ends) - min(ends)
    return sorted(lengths.values(), reverse=True)[:_MAIN_LENGTHS]


def _ends(curve: Curve, way: tuple[float, float]) -> Iterator[Point]:
    """The ends of a curve; of a bow also the farthest points one way and back."""
    yield start_of(curve)
    yield end_of(curve)
    if isinstance(curve, Arc):
        for sense in (1.0, -1.0):
            turned = atan2(sense * way[1], sense * way[0]) - curve.angle
            if (turned if curve.sweep > 0 else -turned) % (2 * pi) <= abs(curve.sweep):
                yield Point(
                    curve.centre.x + sense * curve.radius * way[0],
                    curve.centre.y + sense * curve.radius * way[1],
                )
