"""Where the centre of a hole may lie: on one raft, or on all rafts of a bed at once."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import chain
from math import pi

import numpy as np
from numpy.typing import NDArray

from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import PARALLEL, Floats, end_of, middle_of, start_of
from geometry.model.measure import Box, Gauge, bounds
from geometry.rafts.inset import is_box
from geometry.rafts.layout import Side
from geometry.rafts.pieces import cut_up, offset_curves, reversed_loop
from geometry.units import TOLERANCE_MM


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """One raft as far as its holes are concerned.

    ``margins`` are the least distances of a centre from the four sides of the raft's box. From
    every other edge it keeps ``margin``, or the least of the four when that is None.
    """

    loop: Loop
    margins: Mapping[Side, Fraction]
    margin: Fraction | None = None

    @property
    def edge_margin(self) -> float:
        """The distance that a centre keeps from every edge, in mm."""
        return float(min(self.margins.values()) if self.margin is None else self.margin)

    @property
    def centre_box(self) -> Box:
        """The box less the margins of its sides; upside down where they leave nothing."""
        left, bottom, right, top = bounds(self.loop)
        inner = {side: float(margin) for side, margin in self.margins.items()}
        return (
            left + inner["left"],
            bottom + inner["bottom"],
            right - inner["right"],
            top - inner["top"],
        )


@dataclass(frozen=True, slots=True)
class KeepOut:
    """Something that a hole's centre keeps a distance from (clearance and the hole's radius)."""

    loop: Loop
    distance: float


@dataclass(frozen=True, eq=False)
class Region:
    """All places for centres on one or more rafts; the border belongs to it.

    A centre lies on one of the parts, which do not overlap, and away from all keep-outs.
    """

    parts: tuple[Part, ...]
    keep_outs: tuple[KeepOut, ...] = ()

    def allows(self, xy: Floats) -> NDArray[np.bool_]:
        """Whether a centre may lie at each place; 1e-6 mm too far is not too far."""
        allowed: NDArray[np.bool_] = self.slack(xy) >= -TOLERANCE_MM
        return allowed

    def slack(self, xy: Floats) -> Floats:
        """How far each place may move and surely stays allowed; negative: surely forbidden."""
        slack = np.full(len(xy), -np.inf)
        if len(self._boxes):
            x, y = xy[:, :1], xy[:, 1:]
            left, bottom, right, top = self._boxes.T
            within = np.minimum(np.minimum(x - left, right - x), np.minimum(y - bottom, top - y))
            slack = within.max(axis=1)
        for box, margin, gauge in self._odd_parts:
            np.maximum(slack, _slack_in(xy, box, margin, gauge, slack), out=slack)
        for keep_out, gauge in self._gauged_keep_outs:
            np.minimum(slack, -gauge.signed_distance(xy) - keep_out.distance, out=slack)
        for centre_x, centre_y, reach in self._round_keep_outs:
            away = np.hypot(xy[:, 0] - centre_x, xy[:, 1] - centre_y)
            np.minimum(slack, away - reach, out=slack)
        return slack

    def bounds(self) -> Box | None:
        """A box around all allowed places; None when there are none for sure."""
        boxes = [box for box in map(_safe_box, self.parts) if not _is_empty(box)]
        if not boxes:
            return None
        left, bottom, right, top = zip(*boxes, strict=True)
        return min(left), min(bottom), max(right), max(top)

    @cached_property
    def border(self) -> tuple[Curve, ...]:
        """The curves between allowed and forbidden, where they can be allowed at all."""
        return tuple(chain.from_iterable(self._border_of(part) for part in self.parts))

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """Where the border's curves end, and places that are allowed all by themselves."""
        ends = chain.from_iterable((start_of(curve), end_of(curve)) for curve in self.border)
        centres = chain.from_iterable(_eyes(part.loop, part.edge_margin) for part in self.parts)
        points = list(dict.fromkeys((*ends, *centres)))
        allowed = self.allows(np.array(points).reshape(-1, 2))
        return tuple(point for point, keep in zip(points, allowed, strict=True) if keep)

    @cached_property
    def directions(self) -> tuple[Line, ...]:
        """The straight edges of all parts."""
        return tuple(
            curve for part in self.parts for curve in part.loop.curves if isinstance(curve, Line)
        )

    @cached_property
    def _boxes(self) -> Floats:
        boxes = [_safe_box(part) for part in self.parts if is_box(part.loop)]
        return np.array(boxes).reshape(-1, 4)

    @cached_property
    def _odd_parts(self) -> tuple[tuple[Box, float, Gauge], ...]:
        return tuple(
            (_safe_box(part), part.edge_margin, Gauge.of(part.loop))
            for part in self.parts
            if not is_box(part.loop)
        )

    @cached_property
    def _gauged_keep_outs(self) -> tuple[tuple[KeepOut, Gauge], ...]:
        return tuple(
            (keep_out, Gauge.of(keep_out.loop))
            for keep_out in self.keep_outs
            if circle_of(keep_out.loop) is None
        )

    @cached_property
    def _round_keep_outs(self) -> tuple[tuple[float, float, float], ...]:
        """Discs by their centre and all that a centre keeps from it; there may be many."""
        discs = ((circle_of(keep_out.loop), keep_out.distance) for keep_out in self.keep_outs)
        return tuple(
            (disc.centre.x, disc.centre.y, disc.radius + away)
            for disc, away in discs
            if disc is not None
        )

    def _border_of(self, part: Part) -> Iterable[Curve]:
        box = _safe_box(part)
        if _is_empty(box):
            return ()
        sides = _sides(box)
        near = [
            curve
            for keep_out in self.keep_outs
            if _meets(bounds(keep_out.loop), box, keep_out.distance)
            for curve in offset_curves(reversed_loop(keep_out.loop), keep_out.distance)
        ]
        own = [] if is_box(part.loop) else offset_curves(part.loop, part.edge_margin)
        if not near and not own:
            return sides
        # A centre box without width has sides without length, which cannot be cut.
        points = [side for side in sides if start_of(side) == end_of(side)]
        long = [side for side in sides if start_of(side) != end_of(side)]
        pieces = [*chain.from_iterable(cut_up([*long, *own, *near])), *points]
        middles = np.array([middle_of(piece) for piece in pieces]).reshape(-1, 2)
        allowed = Region((part,), self.keep_outs).allows(middles)
        return [piece for piece, keep in zip(pieces, allowed, strict=True) if keep]


def region_of(parts: Sequence[Part], keep_outs: tuple[KeepOut, ...]) -> Region:
    """Return a region; of equal ones the same, so that its border is worked out once."""
    key = tuple((part.loop, tuple(part.margins.items()), part.margin) for part in parts)
    return _remembered(key, keep_outs)


@lru_cache(maxsize=32)
def _remembered(
    parts: tuple[tuple[Loop, tuple[tuple[Side, Fraction], ...], Fraction | None], ...],
    keep_outs: tuple[KeepOut, ...],
) -> Region:
    made = (Part(loop, dict(margins), margin) for loop, margins, margin in parts)
    return Region(tuple(made), keep_outs)


def _safe_box(part: Part) -> Box:
    """The centre box, at least the edge margin within the raft's box."""
    left, bottom, right, top = bounds(part.loop)
    inner, margin = part.centre_box, part.edge_margin
    return (
        max(inner[0], left + margin),
        max(inner[1], bottom + margin),
        min(inner[2], right - margin),
        min(inner[3], top - margin),
    )


def _is_empty(box: Box) -> bool:
    return box[0] - box[2] > TOLERANCE_MM or box[1] - box[3] > TOLERANCE_MM


def _slack_in(xy: Floats, box: Box, margin: float, gauge: Gauge, known: Floats) -> Floats:
    """Slack within one part; only places that may be better off there than known are measured."""
    left, bottom, right, top = box
    x, y = xy.T
    slack: Floats = np.minimum(np.minimum(x - left, right - x), np.minimum(y - bottom, top - y))
    measured = slack > np.maximum(known, -margin - TOLERANCE_MM)
    depth = gauge.signed_distance(xy[measured]) - margin
    slack[measured] = np.minimum(slack[measured], depth)
    return slack


def _sides(box: Box) -> list[Curve]:
    left, bottom, right, top = box
    corners = [Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)]
    return [Line(corners[k - 1], corners[k]) for k in range(4)]


def _meets(first: Box, second: Box, reach: float) -> bool:
    return (
        first[0] - reach <= second[2]
        and first[2] + reach >= second[0]
        and first[1] - reach <= second[3]
        and first[3] + reach >= second[1]
    )


def circle_of(loop: Loop) -> Arc | None:
    """An arc of the circle that a loop is, None when it is anything else."""
    first = loop.curves[0]
    if not isinstance(first, Arc):
        return None
    sweep = 0.0
    for curve in loop.curves:
        if not isinstance(curve, Arc) or (curve.centre, curve.radius) != (
            first.centre,
            first.radius,
        ):
            return None
        sweep += curve.sweep
    return first if abs(sweep - 2 * pi) < PARALLEL else None


def _eyes(loop: Loop, margin: float) -> Iterable[Point]:
    """Centres of the arcs that a margin just uses up."""
    return (
        curve.centre
        for curve in loop.curves
        if isinstance(curve, Arc) and abs(curve.radius - margin) <= TOLERANCE_MM
    )
