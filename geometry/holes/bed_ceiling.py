"""The proved upper bound on the plants of a whole bed."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations_with_replacement
from math import sqrt
from typing import Final

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from geometry.holes.ceiling import endless_field, endless_row, grown, oler_rectangle
from geometry.holes.claims import claims_of
from geometry.holes.convex_cover import Area, cover_bound, within, wrapped
from geometry.holes.place import Limits, keep_outs, least_apart, limits_of, near_raft
from geometry.holes.records import most_proved_in_disc, most_proved_in_square
from geometry.holes.region import KeepOut
from geometry.model.bed import Bed
from geometry.model.curves import Loop
from geometry.model.measure import area, full_circle, perimeter
from geometry.model.planting import Planting
from geometry.model.zone import all_plantings
from geometry.rafts.inset import inset
from geometry.rafts.layout import OPPOSITE, RaftLayout, RaftPlace, RaftShape, Side

_SLACK: Final = Fraction(2, 10**6)
"""Placing takes 1e-6 mm too near for near enough, so what bounds it is a little looser still."""
_COVERED_RAFTS: Final = 12
"""The rafts of larger beds are not put together in groups; the hull of all has to do."""
_BARELY_MM: Final = 0.01
"""A raft whose places for centres are points or lines is bounded as if the margin were less."""


def bed_ceiling(bed: Bed, layout: RaftLayout) -> int | None:
    """Return a number of plants that no arrangement in this bed exceeds; None without planting.

    The rafts' bounds add up; where the spacing holds across joints, a bound of several rafts at
    once may be lower and then counts; rafts that may lie beside any neighbour are bounded as an
    endless row or field of them. What obstacles take from the room for centres is left out of it.
    """
    if bed.planting is None:
        return None
    if bed.zones:
        return _ceiling_of_zones(bed.planting, bed, layout)
    limits = limits_of(bed.planting)
    found = keep_outs(bed)
    near = [near_raft(raft, found) for raft in layout.rafts]
    kinds = Counter(zip((raft.shape for raft in layout.rafts), near, strict=True))
    total = sum(count * raft_ceiling(shape, limits, own) for (shape, own), count in kinds.items())
    if bed.planting.joints == "separate" or len(layout.rafts) < 2:
        return total
    # Across joints the spacing alone counts, whatever the web.
    across = replace(limits, spacing=bed.planting.spacing.exact)
    total = min(total, _whole_ceiling(layout, across, found))
    if bed.planting.joints == "interchangeable":
        total = min(total, _interchangeable(layout, across, bed.joint_gap.exact, total))
    return total


def _ceiling_of_zones(planting: Planting, bed: Bed, layout: RaftLayout) -> int:
    """Bound a bed with zones: on every raft all keep at least the least distance of any two."""
    plantings = all_plantings(planting, bed.zones)
    known: dict[tuple[RaftShape, frozenset[int]], int] = {}
    total = 0
    for raft, one in zip(layout.rafts, claims_of(bed, layout), strict=True):
        numbers = frozenset({one.rest, *(claim.planting for claim in one.over)})
        key = raft.shape, numbers
        if key not in known:
            present = [plantings[number] for number in sorted(numbers)]
            known[key] = raft_ceiling(raft.shape, _least(present))
        total += known[key]
    if planting.joints == "separate" or len(layout.rafts) < 2:
        return total
    # Across joints the spacings alone count.
    least = min(each.spacing.exact for each in plantings)
    return min(total, _whole_ceiling(layout, replace(_least(plantings), spacing=least)))


def _least(plantings: Sequence[Planting]) -> Limits:
    """Limits that no two holes of these plantings fall below."""
    apart = min(least_apart(*pair) for pair in combinations_with_replacement(plantings, 2))
    margin = min(limits_of(each).margin for each in plantings)
    return replace(limits_of(plantings[0]), spacing=apart, margin=margin)


def raft_ceiling(
    shape: RaftShape,
    limits: Limits,
    near: Sequence[KeepOut] = (),
    margins: Mapping[Side, Fraction] | None = None,
) -> int:
    """Bound the plants of one raft by itself; ``near`` are the keep-outs on it, as it sees them.

    ``margins`` are those from the sides of its box, where a joint asks for more than the edge.
    """
    margin, spacing = limits.margin - _SLACK, limits.spacing - _SLACK
    lost = dict.fromkeys(OPPOSITE, limits.margin) if margins is None else margins
    sides = (
        shape.length - lost["left"] - lost["right"] + 2 * _SLACK,
        shape.width - lost["bottom"] - lost["top"] + 2 * _SLACK,
    )
    if min(sides) < 0:
        return 0
    bound = _box_ceiling(*sides, spacing)
    if shape.is_rectangle and not near:
        return bound
    apart = float(spacing)
    bound = min(bound, cover_bound(_room(shape, float(margin), near), apart))
    if not shape.is_rectangle or near:
        reach = apart / sqrt(3)
        beyond = _out_of_reach(shape.loop, near, reach)
        size = area(shape.loop), perimeter(shape.loop)
        bound = min(bound, grown(*size, float(margin), apart, beyond))
    radius = full_circle(shape.loop)
    if radius is not None:
        in_disc = most_proved_in_disc(Fraction(radius) - margin, spacing)
        bound = bound if in_disc is None else min(bound, in_disc)
    return bound


def _box_ceiling(length: Fraction, width: Fraction, spacing: Fraction) -> int:
    in_square = most_proved_in_square(max(length, width), spacing)
    bound = oler_rectangle(length, width, spacing)
    return bound if in_square is None else min(bound, in_square)


def _whole_ceiling(layout: RaftLayout, limits: Limits, found: Sequence[KeepOut] = ()) -> int:
    """Bound all rafts at once: by the box of all centres, and by groups of rafts."""
    margin, spacing = limits.margin - _SLACK, limits.spacing - _SLACK
    boxes = [
        (raft.x, raft.y, raft.x + raft.shape.length, raft.y + raft.shape.width)
        for raft in layout.rafts
    ]
    length = max(box[2] for box in boxes) - min(box[0] for box in boxes) - 2 * margin
    width = max(box[3] for box in boxes) - min(box[1] for box in boxes) - 2 * margin
    if min(length, width) < 0:
        return 0
    bound = _box_ceiling(Fraction(length), Fraction(width), spacing)
    if len(layout.rafts) <= _COVERED_RAFTS:
        rooms = [
            _in_bed(_room(raft.shape, float(margin), near_raft(raft, found)), raft)
            for raft in layout.rafts
        ]
        bound = min(bound, cover_bound(_joined(rooms), float(spacing)))
    elif layout.region and not all(raft.shape.is_rectangle for raft in layout.rafts):
        rooms = [
            _less(_joined([wrapped(part) for part in _parts(loop, float(margin))]), found)
            for loop in layout.region
        ]
        bound = min(bound, cover_bound(_joined(rooms), float(spacing)))
    return bound


def _interchangeable(layout: RaftLayout, limits: Limits, joint_gap: Fraction, most: int) -> int:
    """Bound equal rafts with one pattern, each legal beside any other, as endlessly many."""
    shape, count = layout.rafts[0].shape, len(layout.rafts)
    if not shape.is_rectangle or any(raft.shape is not shape for raft in layout.rafts):
        return most
    spacing = limits.spacing - _SLACK
    each = most // count
    cell = float(shape.length + joint_gap), float(shape.width + joint_gap)
    if min(cell) + float(joint_gap) >= float(spacing):  # only neighbours can meet
        inner = [
            float(side - 2 * limits.margin + 2 * _SLACK) for side in (shape.length, shape.width)
        ]
        columns, rows = (
            len({getattr(raft, axis) for raft in layout.rafts}) > 1 for axis in ("column", "row")
        )
        if columns and rows:
            each = min(each, endless_field(*cell, float(spacing)))
        elif columns:
            each = min(each, endless_row(cell[0], inner[1], float(spacing)))
        elif rows:
            each = min(each, endless_row(cell[1], inner[0], float(spacing)))
    return each * count


def _room(shape: RaftShape, margin: float, near: Sequence[KeepOut]) -> Area:
    """A region that holds all places for centres on a raft."""
    if shape.is_rectangle:
        far = float(shape.length) - margin, float(shape.width) - margin
        return _less(shapely.box(margin, margin, *far), near)
    return _less(_joined([wrapped(part) for part in _parts(shape.loop, margin)]), near)


def _parts(loop: Loop, margin: float) -> Sequence[Loop]:
    return inset(loop, margin) or inset(loop, margin - _BARELY_MM)


def _less(region: Area, near: Sequence[KeepOut]) -> Area:
    for keep_out in near:
        # Round joins are made of chords, so no more is taken away than is forbidden.
        taken = within(keep_out.loop).buffer(keep_out.distance - float(_SLACK))
        try:
            region = _joined([shapely.difference(region, taken)])
        except shapely.GEOSException:  # edges that nearly meet; all of it is a bound as well
            continue
    return region


def _out_of_reach(loop: Loop, near: Sequence[KeepOut], reach: float) -> float:
    """Area on a raft that lies farther than ``reach`` from any place for a centre."""
    if not near:
        return 0.0
    lost: list[Area] = []
    for keep_out in near:
        beyond = keep_out.distance - float(_SLACK) - reach
        # Shrinking a hollow corner by chords takes a little too few; a hundredth more makes up.
        lost.append(within(keep_out.loop).buffer(beyond if beyond > 0 else beyond * 1.01))
    try:
        return float(shapely.union_all(lost).intersection(within(loop)).area)
    except shapely.GEOSException:  # edges that nearly meet; nothing lost is a bound as well
        return 0.0


def _in_bed(room: Area, raft: RaftPlace) -> Area:
    x, y = float(raft.x), float(raft.y)
    if not raft.turned:
        return shapely.transform(room, lambda at: at + np.array([x, y]))
    far = np.array([x + float(raft.shape.length), y + float(raft.shape.width)])
    return shapely.transform(room, lambda at: far - at)


def _joined(regions: Sequence[Area]) -> Area:
    """All areas of some regions as one."""
    areas = [
        part
        for region in regions
        for part in shapely.get_parts(region)
        if isinstance(part, Polygon) and not part.is_empty
    ]
    return areas[0] if len(areas) == 1 else MultiPolygon(areas)
