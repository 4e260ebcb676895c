"""Spacing across joints: margins, patterns that may lie beside any neighbour, and bed-wide grids.

Everything here is about equal rectangular rafts; odd outlines keep the seam margin at each joint.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import product

import numpy as np
from numpy.typing import NDArray

from geometry.holes.chessboard import Chains, midway
from geometry.holes.sites import Coordinates
from geometry.rafts.layout import ALL_WAYS, Ways
from geometry.units import TOLERANCE_MM


def seam_margin(spacing: Fraction, joint_gap: Fraction) -> Fraction:
    """Return the margin at a joint that keeps two rafts' plants apart whatever their pattern.

    Half the spacing less half the joint gap, never below zero.
    """
    return max(Fraction(0), (spacing - joint_gap) / 2)


def lies_beside_any_neighbour(
    xy: Coordinates,
    *,
    length: float,
    width: float,
    joint_gap: float,
    spacing: float,
    ways: Ways = ALL_WAYS,
) -> bool:
    """Tell whether rafts with these holes may lie side by side anywhere, turned half round or not.

    Neighbours of an equal split are looked at in all ``ways``, each raft turned or not. Plants
    exactly ``spacing`` apart are allowed.
    """
    if len(xy) == 0:
        return True
    turned = np.array([length, width]) - xy
    for (right, up), here, there in product(ways, (xy, turned), (xy, turned)):
        shift = np.array([right * (length + joint_gap), up * (width + joint_gap)])
        # Only plants near the facing edges can meet.
        near_here = here[_facing(here, right, up, length, width, spacing)]
        near_there = there[_facing(there, -right, -up, length, width, spacing)] + shift
        gaps = near_there[None, :, :] - near_here[:, None, :]
        if gaps.size and float(np.hypot(gaps[..., 0], gaps[..., 1]).min()) < spacing - TOLERANCE_MM:
            return False
    return True


def _facing(
    xy: Coordinates, right: int, up: int, length: float, width: float, reach: float
) -> NDArray[np.bool_]:
    near = np.ones(len(xy), dtype=np.bool_)
    if right:
        near &= (xy[:, 0] > length - reach) if right > 0 else (xy[:, 0] < reach)
    if up:
        near &= (xy[:, 1] > width - reach) if up > 0 else (xy[:, 1] < reach)
    return near


def line_through_cells(
    cells: Sequence[tuple[Fraction, Fraction]], spacing: Fraction
) -> tuple[tuple[Fraction, ...], ...]:
    """Place the most points on a line that lie within cells and keep ``spacing`` to each other.

    ``cells`` are closed (start, end) stretches in rising order; an end before its start is an
    empty cell. Filling from the start is the best there is on a line. Returns the points by cell.
    """
    placed: list[tuple[Fraction, ...]] = []
    free_from: Fraction | None = None
    for start, end in cells:
        first = start if free_from is None else max(start, free_from)
        count = max(0, int((end - first) // spacing) + 1) if first <= end else 0
        points = tuple(first + index * spacing for index in range(count))
        if points:
            free_from = points[-1] + spacing
        placed.append(points)
    return tuple(placed)


def widest_pitch(
    cells: Sequence[tuple[Fraction, Fraction]],
    placed: Sequence[Sequence[Fraction]],
    spacing: Fraction,
) -> float:
    """The least distance of a line of points when it is as large as it can be.

    ``placed`` says how many points each cell holds, as ``line_through_cells`` found for
    ``spacing``. A single point has no distance to open: then it is ``spacing``.
    """
    ends = [(float(start), float(end)) for start, end in cells]
    widest = Chains.of(ends, list(map(len, placed))).widest
    return float(spacing) if widest == np.inf else max(float(spacing), widest)


def evened_line(
    cells: Sequence[tuple[Fraction, Fraction]], counts: Sequence[int], pitch: float
) -> tuple[tuple[float, ...], ...]:
    """Stand so many points in each cell, at least ``pitch`` apart.

    The result lies midway between packing from the start and from the end, so a symmetrical bed
    comes out symmetrical.
    """
    ends = [(float(start), float(end)) for start, end in cells]
    return tuple(tuple(cell.tolist()) for cell in midway(ends, counts, pitch))
