"""Where is the nearest place from which a hole keeps all its distances?"""

from functools import lru_cache
from typing import Final

import numpy as np

from geometry.holes.pairs import Floats, Indices
from geometry.holes.sites import Coordinates
from geometry.model.edges import Edges, arcs_meet, line_meets_arc, lines_meet

SLACK_MM: Final = 0.001
"""How much farther off than need be a place is looked for, so that it can be rounded."""


def circles(centres: Coordinates, radii: Floats) -> Floats:
    """Make full circles as the arcs of Edges."""
    turn = np.broadcast_to((0.0, 2 * np.pi), (len(centres), 2))
    return np.column_stack([centres, radii, turn])


def places_on(limits: Edges, place: Coordinates, reach: float) -> Coordinates:
    """List places on the limits, nearest first, in whole thousandths of a millimetre.

    A limit is a line or arc on which one distance is just kept. The nearest place that keeps all
    of them lies where two limits meet or at the foot on one of them; those within ``reach`` of
    ``place`` are listed.
    """
    near = _near(limits, place, reach)
    lines, arcs = near.lines, near.arcs
    one, other = _all_pairs(len(lines))
    here, there = _all_pairs(len(arcs))
    line, arc = (index.ravel() for index in np.indices((len(lines), len(arcs))))
    meetings = [
        lines_meet(lines[one], lines[other]),
        arcs_meet(arcs[here], arcs[there]),
        line_meets_arc(lines[line], arcs[arc]),
        _feet_on_lines(place, lines),
        _feet_on_arcs(place, arcs),
    ]
    found: Coordinates = np.concatenate([part.reshape(-1, 2) for part in meetings]).round(3)
    away = np.hypot(*(found - place).T)
    found, away = found[away <= reach], away[away <= reach]
    nearest_first: Coordinates = found[np.argsort(away, kind="stable")]
    return nearest_first


@lru_cache(maxsize=64)
def _all_pairs(count: int) -> tuple[Indices, Indices]:
    first, second = np.triu_indices(count, 1)
    return first, second


def _near(limits: Edges, place: Coordinates, reach: float) -> Edges:
    lines, arcs = limits.lines, limits.arcs
    low = np.minimum(lines[:, :2], lines[:, 2:]) - reach
    high = np.maximum(lines[:, :2], lines[:, 2:]) + reach
    off = np.abs(np.hypot(*(arcs[:, :2] - place).T) - arcs[:, 2])
    return Edges(lines[((low <= place) & (place <= high)).all(axis=1)], arcs[off <= reach])


def _feet_on_lines(place: Coordinates, lines: Floats) -> Coordinates:
    along = lines[:, 2:] - lines[:, :2]
    share = ((place - lines[:, :2]) * along).sum(axis=1) / np.maximum((along**2).sum(axis=1), 1e-12)
    feet: Coordinates = lines[:, :2] + share.clip(0, 1)[:, None] * along
    return feet


def _feet_on_arcs(place: Coordinates, arcs: Floats) -> Coordinates:
    away = place - arcs[:, :2]
    distance = np.maximum(np.hypot(away[:, 0], away[:, 1]), 1e-12)
    feet: Coordinates = arcs[:, :2] + away * (arcs[:, 2] / distance)[:, None]
    return feet
