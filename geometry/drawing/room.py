"""Where on a page there is room for words: beside the drawing, never on it."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import inf, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.marks import Box
from geometry.drawing.tiles import rims_in

Floats = NDArray[np.float64]
Span = tuple[float, float]

_APART_MM = 2.0


@dataclass(slots=True)
class Room:
    """What already stands on a page, in page coordinates: circles, outlines and boxes of words."""

    centres: Floats
    radii: Floats
    outline: shapely.Geometry
    boxes: list[Box] = field(default_factory=list)

    def free_box(
        self,
        width: float,
        height: float,
        within: Box,
        *,
        near: tuple[float, float],
        step: float = 4,
    ) -> Box | None:
        """Find the free box of a size whose upper left corner is nearest to a point."""
        lefts, bottoms = np.meshgrid(
            _stops(within.left, within.right - width, step),
            _stops(within.bottom, within.top - height, step),
        )
        trials = np.column_stack([lefts.ravel(), bottoms.ravel()])
        trials = trials[self._free(trials, width, height)]
        if not len(trials):
            return None
        away = (trials[:, 0] - near[0]) ** 2 + (trials[:, 1] + height - near[1]) ** 2
        left, bottom = trials[np.argmin(away)].tolist()
        return Box(left, bottom, left + width, bottom + height)

    def _free(self, corners: Floats, width: float, height: float) -> NDArray[np.bool_]:
        left, bottom = corners.T
        right, top = left + width, bottom + height
        free = np.ones(len(corners), dtype=np.bool_)
        for box in self.boxes:
            free &= (
                (left >= box.right)
                | (right <= box.left)
                | (bottom >= box.top)
                | (top <= box.bottom)
            )
        free &= ~shapely.intersects(shapely.box(left, bottom, right, top), self.outline)
        for (x, y), radius in zip(self.centres.tolist(), self.radii.tolist(), strict=True):
            aside = np.maximum(0, np.maximum(left - x, x - right))
            above = np.maximum(0, np.maximum(bottom - y, y - top))
            free &= aside**2 + above**2 >= radius**2
            if not free.any():
                break
        return free

    def stretch(
        self, strip: Box, length: float, *, near: float, reach: float = inf
    ) -> float | None:
        """Find a free stretch in a narrow strip, along its longer side, and take it.

        Returns where it begins; ``near`` is where it should, give or take ``reach``.
        """
        upright = strip.height > strip.width
        low, high = (strip.bottom, strip.top) if upright else (strip.left, strip.right)
        best: float | None = None
        for start, end in _gaps(low, high, self._taken(strip, upright=upright)):
            if end - start >= length:
                place = min(max(near, start), end - length)
                if best is None or abs(place - near) < abs(best - near):
                    best = place
        if best is not None and abs(best - near) > reach:
            return None
        if best is not None:
            taken = (
                strip._replace(bottom=best, top=best + length)
                if upright
                else strip._replace(left=best, right=best + length)
            )
            self.boxes.append(taken)
        return best

    def _taken(self, strip: Box, *, upright: bool) -> list[Span]:
        spans = [
            (box.bottom, box.top) if upright else (box.left, box.right)
            for box in self.boxes
            if box.meets(strip)
        ]
        along, across = (1, 0) if upright else (0, 1)
        near, far = (strip.left, strip.right) if upright else (strip.bottom, strip.top)
        reached = rims_in(strip, self.centres, self.radii)
        for centre, radius in zip(self.centres[reached], self.radii[reached], strict=True):
            aside = max(0.0, near - centre[across], centre[across] - far)
            half = sqrt(max(0.0, radius**2 - aside**2))
            spans.append((centre[along] - half, centre[along] + half))
        crossing = shapely.intersection(self.outline, shapely.box(*strip))
        for part in shapely.get_parts(crossing):
            left, bottom, right, top = part.bounds
            spans.append((bottom, top) if upright else (left, right))
        return spans


def _stops(first: float, last: float, step: float) -> Floats:
    return np.append(np.arange(first, last, step), last)[: None if last >= first else 0]


def _gaps(low: float, high: float, taken: Iterable[Span]) -> list[Span]:
    """Return what is left between the taken spans, some millimetres away from each."""
    gaps: list[Span] = []
    at = low
    for start, end in sorted(taken):
        if start - _APART_MM > at:
            gaps.append((at, start - _APART_MM))
        at = max(at, end + _APART_MM)
    if high > at:
        gaps.append((at, high))
    return gaps
