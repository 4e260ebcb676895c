"""The proved upper bound on the plants of a whole bed."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations_with_replacement

from geometry.holes.ceiling import grown, oler, oler_rectangle
from geometry.holes.claims import claims_of
from geometry.holes.place import Limits, least_apart, limits_of
from geometry.model.bed import Bed
from geometry.model.measure import area, hull_measures, perimeter
from geometry.model.planting import Planting
from geometry.model.zone import all_plantings
from geometry.rafts.inset import inset
from geometry.rafts.layout import RaftLayout, RaftShape


def bed_ceiling(bed: Bed, layout: RaftLayout) -> int | None:
    """Return a number of plants that no arrangement in this bed exceeds; None without planting.

    The rafts' bounds add up; where the spacing holds across joints, the bed's own bound may be
    lower and then counts. Obstacles are not looked at: they can only lower the truth.
    """
    if bed.planting is None:
        return None
    if bed.zones:
        return _ceiling_of_zones(bed.planting, bed, layout)
    limits = limits_of(bed.planting)
    by_shape: dict[RaftShape, int] = {}
    total = 0
    for raft in layout.rafts:
        if raft.shape not in by_shape:
            by_shape[raft.shape] = _raft_ceiling(raft.shape, limits)
        total += by_shape[raft.shape]
    if bed.planting.joints == "separate" or len(layout.rafts) < 2:
        return total
    return min(total, _whole_ceiling(layout, limits))


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
            known[key] = _raft_ceiling(raft.shape, _least(present))
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


def _raft_ceiling(shape: RaftShape, limits: Limits) -> int:
    if shape.is_rectangle:
        inner = shape.length - 2 * limits.margin, shape.width - 2 * limits.margin
        return oler_rectangle(*inner, limits.spacing) if min(inner) >= 0 else 0
    margin, spacing = float(limits.margin), float(limits.spacing)
    parts = inset(shape.loop, margin)
    if not parts:
        return 0
    safe = grown(area(shape.loop), perimeter(shape.loop), margin, spacing)
    return min(safe, oler(*hull_measures(parts), spacing))


def _whole_ceiling(layout: RaftLayout, limits: Limits) -> int:
    """Bound all rafts at once by the hull of the places that their centres can take."""
    boxes = [
        (raft.x, raft.y, raft.x + raft.shape.length, raft.y + raft.shape.width)
        for raft in layout.rafts
    ]
    length = max(box[2] for box in boxes) - min(box[0] for box in boxes) - 2 * limits.margin
    width = max(box[3] for box in boxes) - min(box[1] for box in boxes) - 2 * limits.margin
    if min(length, width) < 0:
        return 0
    bound = oler_rectangle(Fraction(length), Fraction(width), limits.spacing)
    if layout.region and not all(raft.shape.is_rectangle for raft in layout.rafts):
        margin = float(limits.margin)
        parts = tuple(part for loop in layout.region for part in inset(loop, margin))
        if parts:
            bound = min(bound, oler(*hull_measures(parts), float(limits.spacing)))
    return bound
