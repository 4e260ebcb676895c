"""Rooms to place points in."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import hypot

import numpy as np

from geometry.beds.outline import obstacle_loop, outline_loop, rectangle_loop
from geometry.holes.region import KeepOut, Part, Region
from geometry.holes.room import Room
from geometry.holes.sites import Coordinates
from geometry.model.bed import Obstacle, Spot
from geometry.model.curves import Loop
from geometry.model.outlines import Disc, Outline
from geometry.rafts.layout import Side
from geometry.units import Length

SIDES: tuple[Side, ...] = ("left", "right", "bottom", "top")


def make_room(
    outline: Outline | Loop | tuple[float, float],
    spacing: float,
    *,
    margin: float = 0,
    discs: Sequence[tuple[float, float, float, float]] = (),
    fixed: Sequence[tuple[float, float]] = (),
) -> Room:
    """A room on one raft; ``discs`` are obstacles: x, y, diameter, distance of a centre."""
    match outline:
        case Loop():
            loop = outline
        case tuple():
            loop = rectangle_loop(0.0, 0.0, *map(float, outline))
        case _:
            loop = outline_loop(outline)
    part = Part(loop, dict.fromkeys(SIDES, Fraction(margin)))
    keep_outs = tuple(
        KeepOut(
            obstacle_loop(
                Obstacle("pipe", Disc(Length.of(size)), centre=Spot(Length.of(x), Length.of(y)))
            ),
            away,
        )
        for x, y, size, away in discs
    )
    return Room(Region((part,), keep_outs), spacing, np.array(fixed).reshape(-1, 2))


def least_gap(xy: Coordinates, fixed: Coordinates) -> float:
    """The least distance, pair by pair and without the program's own arithmetic."""
    points = [tuple(point) for point in xy.tolist()]
    gaps = [hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(points, 2)]
    gaps += [hypot(a[0] - b[0], a[1] - b[1]) for a in points for b in fixed.tolist()]
    return min(gaps, default=float("inf"))
