"""No arrangement can hold more: proved upper bounds on points at a mutual distance."""

import math
from fractions import Fraction

_ROUNDING = 1e-9
"""Relative slack for floating numbers; it can only raise a bound, never make it false."""


def oler(area_mm2: float, perimeter_mm: float, spacing_mm: float) -> int:
    """Bound the points in a compact convex region (Oler 1961, Folkman and Graham 1969).

    floor(2 A / (sqrt(3) d^2) + P / (2 d) + 1); a value just below a whole number counts as that
    number. For a region that is not convex give the measures of its hull. A segment has twice its
    length as perimeter, a point has neither area nor perimeter.
    """
    bound = 2 * area_mm2 / (math.sqrt(3) * spacing_mm**2) + perimeter_mm / (2 * spacing_mm) + 1
    return math.floor(bound * (1 + _ROUNDING))


def oler_rectangle(width: Fraction, height: Fraction, spacing: Fraction) -> int:
    """Bound the points in a closed rectangle, the floor taken exactly; 0 when it is empty."""
    if width < 0 or height < 0:
        return 0
    edge = (width + height) / spacing + 1
    inner_squared = 4 * (width * height) ** 2 / (3 * spacing**4)
    below = edge.denominator
    root = math.isqrt(below**2 * inner_squared.numerator // inner_squared.denominator)
    return (edge.numerator + root) // below


def grown(
    area_mm2: float,
    perimeter_mm: float,
    margin_mm: float,
    spacing_mm: float,
    out_of_reach_mm2: float = 0.0,
) -> int:
    """Bound the points at least ``margin_mm`` inside a simple outline, convex or not.

    Each point owns sqrt(3)/2 d^2 of what lies within d / sqrt(3) of it, and that lies in the
    outline grown by d / sqrt(3) less the margin. ``area_mm2`` and ``perimeter_mm`` are those of
    the outline itself. ``out_of_reach_mm2`` lies inside it but more than d / sqrt(3) from every
    place for a point, so nobody owns it.
    """
    reach = max(0.0, spacing_mm / math.sqrt(3) - margin_mm)
    area = area_mm2 + perimeter_mm * reach + math.pi * reach**2 - out_of_reach_mm2
    return math.floor(2 * area / (math.sqrt(3) * spacing_mm**2) * (1 + _ROUNDING))


def endless_row(length_mm: float, width_mm: float, spacing_mm: float) -> int:
    """Bound the points on each of endlessly many equal strips laid end to end, all alike.

    Oler's bound for n strips of ``length_mm`` in a row, shared out, as n grows; ``width_mm`` is
    the width that centres can take.
    """
    share = 2 * length_mm * width_mm / (math.sqrt(3) * spacing_mm**2) + length_mm / spacing_mm
    return math.floor(share * (1 + _ROUNDING))


def endless_field(length_mm: float, width_mm: float, spacing_mm: float) -> int:
    """Bound the points in each of the equal cells that fill the plane, all alike (Thue 1892)."""
    share = 2 * length_mm * width_mm / (math.sqrt(3) * spacing_mm**2)
    return math.floor(share * (1 + _ROUNDING))
