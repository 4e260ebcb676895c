"""Which planting each part of a raft belongs to: zones lie on the bed, the later ones on top."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.beds.outline import ExactBox, rectangle_loop, zone_box, zone_loop
from geometry.holes.sites import Coordinates
from geometry.model.bed import Bed
from geometry.model.curves import Arc, Curve, Line, Loop, Point
from geometry.model.edges import Floats
from geometry.model.measure import Gauge, area, bounds
from geometry.rafts.inset import common
from geometry.rafts.layout import RaftLayout, RaftPlace, RaftShape
from geometry.units import TOLERANCE_MM

_DIGITS = 9
"""Places on a raft are rounded so far, so that rafts covered alike are seen to be alike."""


@dataclass(frozen=True, slots=True)
class Claim:
    """The part of a zone that reaches a raft: its outline in raft coordinates.

    ``planting`` is the zone's number, counted from 1. ``box`` is what it covers of the raft,
    exactly, where both are rectangles lying square.
    """

    planting: int
    loop: Loop
    box: ExactBox | None


@dataclass(frozen=True, slots=True)
class Claims:
    """What grows on one raft: the zones that cover parts of it, the top one first, and the rest.

    ``rest`` is the number of the planting of what no zone covers, 0 for the bed's own.
    """

    over: tuple[Claim, ...] = ()
    rest: int = 0

    def plantings_at(self, xy: Coordinates) -> NDArray[np.int64]:
        """Tell for places on the raft which planting they belong to; borders belong to zones."""
        found = np.full(len(xy), self.rest, dtype=np.int64)
        for claim in reversed(self.over):
            on = Gauge.of(claim.loop).signed_distance(xy) >= -TOLERANCE_MM
            found[on] = claim.planting
        return found

    def slack(self, xy: Coordinates, planting: int) -> Floats:
        """How far each place may move and surely stays on the parts of a planting."""
        slack = np.full(len(xy), -np.inf)
        outside = np.full(len(xy), np.inf)
        for claim in self.over:
            inside = Gauge.of(claim.loop).signed_distance(xy)
            if claim.planting == planting:
                slack = np.maximum(slack, np.minimum(inside, outside))
            outside = np.minimum(outside, -inside - 2 * TOLERANCE_MM)
        found: Floats = np.maximum(slack, outside) if self.rest == planting else slack
        return found


def claims_of(bed: Bed, layout: RaftLayout) -> tuple[Claims, ...]:
    """Say for every raft of a layout what its parts are planted with.

    Raises:
        OutlineError: The shape of a zone cannot be drawn.
    """
    if not bed.zones:
        return (Claims(),) * len(layout.rafts)
    zones = [
        (number, frozenset(zone.rafts), zone_loop(zone), zone_box(zone))
        for number, zone in enumerate(bed.zones, start=1)
    ]
    found = []
    for raft in layout.rafts:
        over: list[Claim] = []
        rest = 0
        for number, names, loop, box in reversed(zones):
            part = None if loop is None else _part(raft, number, loop, box)
            if raft.name in names or part == "all":
                rest = number
                break
            if isinstance(part, Claim):
                over.append(part)
        found.append(Claims(tuple(over), rest))
    return tuple(found)


def raft_kinds(bed: Bed, layout: RaftLayout) -> Mapping[str, tuple[RaftShape, int, str]]:
    """Tell which rafts are drilled alike when they may change places: those of one kind.

    They have one shape and one planting. A raft of which a zone covers a part is a kind by itself.
    """
    return {
        raft.name: (raft.shape, one.rest, raft.name if one.over else "")
        for raft, one in zip(layout.rafts, claims_of(bed, layout), strict=True)
    }


def _part(
    raft: RaftPlace, number: int, loop: Loop, box: ExactBox | None
) -> Claim | Literal["all"] | None:
    """What a zone covers of a raft: a part of it, "all" or nothing."""
    length, width = raft.shape.length, raft.shape.width
    x, y = float(raft.x), float(raft.y)
    left, bottom, right, top = bounds(loop)
    if right <= x or left >= x + float(length) or top <= y or bottom >= y + float(width):
        return None
    on_raft = Loop(tuple(map(_rounded, raft.on_raft(loop).curves)))
    if box is not None and raft.shape.is_rectangle:
        inside = (
            max(box[0] - raft.x, Fraction(0)),
            max(box[1] - raft.y, Fraction(0)),
            min(box[2] - raft.x, length),
            min(box[3] - raft.y, width),
        )
        if inside[0] >= inside[2] or inside[1] >= inside[3]:
            return None
        if inside == (Fraction(0), Fraction(0), length, width):
            return "all"
        return Claim(number, rectangle_loop(*map(float, inside)), inside)
    covered = sum(map(area, common(on_raft, raft.shape.loop)))
    if covered <= TOLERANCE_MM:
        return None
    if covered >= area(raft.shape.loop) - TOLERANCE_MM:
        return "all"
    return Claim(number, on_raft, None)


def _rounded(curve: Curve) -> Curve:
    def at(point: Point) -> Point:
        return Point(round(point.x, _DIGITS), round(point.y, _DIGITS))

    match curve:
        case Line(start, end):
            return Line(at(start), at(end))
        case Arc(centre, radius, angle, sweep):
            return Arc(at(centre), radius, angle, sweep)
