"""Outlines as true curves: lines and circular arcs, closed into loops.

Curved edges stay arcs to the very end; nothing here is approximated by chords.
"""

from dataclasses import dataclass
from typing import NamedTuple


class Point(NamedTuple):
    """A place in millimetres, y up."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge from ``start`` to ``end``."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular edge. Angles in radians; a positive ``sweep`` runs counter-clockwise."""

    centre: Point
    radius: float
    angle: float
    sweep: float


Curve = Line | Arc


@dataclass(frozen=True, slots=True)
class Loop:
    """A closed outline, its curves head to tail, counter-clockwise (solid on the left)."""

    curves: tuple[Curve, ...]
