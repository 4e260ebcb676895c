"""Stagger stretched along its rows: the pitches worth trying on an outline that is no rectangle."""

from collections.abc import Iterable
from itertools import combinations
from math import cos, sin, sqrt
from typing import Final

from geometry.holes.lattice import RowLattice
from geometry.holes.region import Region
from geometry.model.curves import Curve, Line, Point
from geometry.units import TOLERANCE_MM

_EVENLY: Final = 24
_MAIN_LENGTHS: Final = 4
_MOST_IN_A_ROW: Final = 100


def stretched_stagger(region: Region, spacing: float, angle: float) -> Iterable[RowLattice]:
    """Half-offset stagger with pitches from the spacing to sqrt(3) times it, rows along the angle.

    Neighbours of neighbouring rows are exactly the spacing apart, so a longer pitch gives a lesser
    row gap. Tried are pitches and row gaps that go evenly into a length of the region, and some
    evenly spaced between (packing facts 7). Hexagonal rows are the shortest pitch.
    """
    most = spacing * sqrt(3)
    pitches = {spacing + (most - spacing) * k / _EVENLY for k in range(1, _EVENLY)}
    along, up = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    for length in _lengths(region, along):
        for count in range(1, _MOST_IN_A_ROW):
            pitches |= {length / count, length / (count + 0.5)}
    for length in _lengths(region, up):
        for count in range(1, _MOST_IN_A_ROW):
            pitches.add(2 * sqrt(max(0.0, spacing**2 - (length / count) ** 2)))
    return [
        RowLattice(angle, pitch, sqrt(spacing**2 - pitch**2 / 4), pitch / 2)
        for pitch in sorted(pitches)
        if spacing < pitch <= most + TOLERANCE_MM / 10
    ]


def _lengths(region: Region, way: tuple[float, float]) -> list[float]:
    """The main lengths of a region one way: overall, and between edges that lie across."""
    ends: list[float] = []
    edges: list[float] = []
    for curve in region.border:
        start, end = (point.x * way[0] + point.y * way[1] for point in _ends(curve, way))
        ends += start, end
        if abs(end - start) <= TOLERANCE_MM:
            edges.append(start)
    lengths = {round(abs(a - b), 6): abs(a - b) for a, b in combinations(edges, 2)}
    if ends:
        lengths[round(max(ends) - min(ends), 6)] = max(ends) - min(ends)
    return sorted(lengths.values(), reverse=True)[:_MAIN_LENGTHS]


def _ends(curve: Curve, way: tuple[float, float]) -> tuple[Point, Point]:
    """The ends of a line; of an arc's circle the farthest points one way and back."""
    if isinstance(curve, Line):
        return curve.start, curve.end
    reach_x, reach_y = curve.radius * way[0], curve.radius * way[1]
    return (
        Point(curve.centre.x - reach_x, curve.centre.y - reach_y),
        Point(curve.centre.x + reach_x, curve.centre.y + reach_y),
    )
