"""Outlines made smaller: by a distance all round, or to a box."""

from collections.abc import Sequence
from itertools import chain, compress
from typing import Final

import numpy as np

from geometry.beds.outline import rectangle_loop
from geometry.model.curves import Curve, Line, Loop
from geometry.model.edges import Floats, middle_of
from geometry.model.measure import Box, Gauge, bounds
from geometry.rafts.pieces import (
    cut_up,
    direction_at_middle,
    direction_at_start,
    join,
    offset_curves,
)
from geometry.units import TOLERANCE_MM

NUDGE_MM: Final = 1e-5
"""How far beside a side to look which of its two flanks is meant."""


def inset(loop: Loop, away: float) -> tuple[Loop, ...]:
    """All places inside that keep a distance from the outline: none, one or several loops.

    Sides and arcs stay parallel and concentric; corners that point inwards are rounded by arcs.
    What is left without any area is left out. At distance 0 the loop itself comes back.
    """
    if away <= 0:
        return (loop,)
    if is_box(loop):
        left, bottom, right, top = bounds(loop)
        inner = (left + away, bottom + away, right - away, top - away)
        roomy = inner[2] - inner[0] > TOLERANCE_MM and inner[3] - inner[1] > TOLERANCE_MM
        return (rectangle_loop(*inner),) if roomy else ()
    pieces = list(chain.from_iterable(cut_up(offset_curves(loop, away))))
    far_enough = Gauge.of(loop).signed_distance(_middles(pieces)) >= away - TOLERANCE_MM / 10
    return join(compress(pieces, far_enough))


def clip(loop: Loop, box: Box) -> tuple[Loop, ...]:
    """The part of a loop within a box lying square: none, one or several loops."""
    return common(loop, rectangle_loop(*box))


def common(loop: Loop, frame: Loop) -> tuple[Loop, ...]:
    """What two loops have in common: none, one or several loops; what has no area is left out."""
    cut = cut_up(loop.curves + frame.curves)
    own = list(chain.from_iterable(cut[: len(loop.curves)]))
    border = list(chain.from_iterable(cut[len(loop.curves) :]))
    in_frame = Gauge.of(frame).signed_distance(_middles(own, left_by=NUDGE_MM)) >= 0
    in_loop = Gauge.of(loop).signed_distance(_middles(border)) > NUDGE_MM
    return join([*compress(own, in_frame), *compress(border, in_loop)])


def is_box(loop: Loop) -> bool:
    """Whether a loop is a rectangle lying square, exactly."""
    return (
        len(loop.curves) == 4
        and all(isinstance(curve, Line) for curve in loop.curves)
        and all(0 in direction_at_start(curve) for curve in loop.curves)
    )


def _middles(pieces: Sequence[Curve], left_by: float = 0.0) -> Floats:
    """The middle of each piece, moved a little to its left."""
    places = []
    for piece in pieces:
        middle, along = middle_of(piece), direction_at_middle(piece)
        places.append((middle.x - along.y * left_by, middle.y + along.x * left_by))
    return np.array(places).reshape(-1, 2)
