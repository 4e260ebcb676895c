"""Where on a page there is room for words: beside the drawing, never on it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import ceil, inf, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.marks import Box
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Loop
from geometry.model.edges import start_of, unit

Floats = NDArray[np.float64]
Span = tuple[float, float]

_APART_MM = 2.0
_BATCH = 24
_ARC_STEP = 0.01


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
        step: float = 6,
    ) -> Box | None:
        """Find the free box of a size whose upper left corner is nearest to a point."""
        lefts, bottoms = np.meshgrid(
            _stops(within.left, within.right - width, step),
            _stops(within.bottom, within.top - height, step),
        )
        corners = np.column_stack([lefts.ravel(), bottoms.ravel()])
        corners = corners[self._beside_marks(corners, width, height, within)]
        away = (corners[:, 0] - near[0]) ** 2 + (corners[:, 1] + height - near[1]) ** 2
        corners = corners[np.argsort(away, kind="stable")]
        for first in range(0, len(corners), _BATCH):
            left, bottom = corners[first : first + _BATCH].T
            boxes = shapely.box(left, bottom, left + width, bottom + height)
            free = np.flatnonzero(~shapely.intersects(boxes, self.outline))
            if len(free):
                x, y = float(left[free[0]]), float(bottom[free[0]])
                return Box(x, y, x + width, y + height)
        return None

    def _beside_marks(
        self, corners: Floats, width: float, height: float, within: Box
    ) -> NDArray[np.bool_]:
        """Tell which boxes, by their lower left corners, keep off circles and words."""
        left, bottom = corners.T
        right, top = left + width, bottom + height
        free = np.ones(len(corners), dtype=np.bool_)
        for box in self.boxes:
            if box.meets(within):
                free &= (
                    (left >= box.right)
                    | (right <= box.left)
                    | (bottom >= box.top)
                    | (top <= box.bottom)
                )
        near = rims_in(within, self.centres, self.radii)
        for (x, y), radius in zip(
            self.centres[near].tolist(), self.radii[near].tolist(), strict=True
        ):
            aside = np.maximum(0, np.maximum(left - x, x - right))
            above = np.maximum(0, np.maximum(bottom - y, y - top))
            free &= aside**2 + above**2 >= radius**2
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
        for centre, radius in zip(
            self.centres[reached].tolist(), self.radii[reached].tolist(), strict=True
        ):
            aside = max(0.0, near - centre[across], centre[across] - far)
            half = sqrt(max(0.0, radius**2 - aside**2))
            spans.append((centre[along] - half, centre[along] + half))
        if not shapely.is_empty(self.outline):
            crossing = shapely.clip_by_rect(self.outline, *strip)
            for left, bottom, right, top in shapely.bounds(shapely.get_parts(crossing)).tolist():
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


def rims_in(box: Box, centres: Floats, radii: Floats) -> NDArray[np.bool_]:
    """Tell which circles reach into a box."""
    aside = np.maximum(0, np.maximum(box.left - centres[:, 0], centres[:, 0] - box.right))
    above = np.maximum(0, np.maximum(box.bottom - centres[:, 1], centres[:, 1] - box.top))
    reached: NDArray[np.bool_] = aside**2 + above**2 < radii**2
    return reached


def laid_outline(loop: Loop, shift: Shift) -> shapely.LinearRing:
    """Return an outline as a ring of points, for asking where there is room on a page."""
    return shapely.LinearRing(shift.points(outline_points(loop)))


def outline_points(loop: Loop) -> Floats:
    """Return points along an outline, close enough together for asking where there is room."""
    return np.array(list(_points(loop)))


def _points(loop: Loop) -> Iterator[tuple[float, float]]:
    for curve in loop.curves:
        if isinstance(curve, Arc):
            count = max(2, ceil(abs(curve.sweep) / _ARC_STEP))
            for number in range(count):
                towards = unit(curve.angle + curve.sweep * number / count)
                yield (
                    curve.centre.x + curve.radius * towards.x,
                    curve.centre.y + curve.radius * towards.y,
                )
        else:
            yield start_of(curve)
