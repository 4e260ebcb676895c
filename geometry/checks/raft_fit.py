"""Do the rafts float free of the wall and of each other, and is there any raft at all?"""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil
from typing import Final, Literal

import numpy as np
import shapely

from geometry.checks.finding import Finding, SetLength
from geometry.holes.pairs import Floats
from geometry.model.bed import Bed, Split
from geometry.model.curves import Loop
from geometry.model.edges import middle_of, start_of
from geometry.model.measure import Gauge
from geometry.rafts.layout import RaftLayout, RaftPlace
from geometry.rafts.split import lay_rafts
from geometry.units import TOLERANCE_MM, ZERO, Length

PLAY_MM: Final = 5.0
"""The least clearance and joint gap in use on small beds (common practice, no source)."""

Gap = Literal["clearance", "joint_gap"]


def check_raft_fit(bed: Bed, layout: RaftLayout) -> Iterator[Finding]:
    """Yield what keeps rafts from floating free.

    A problem when clearance and joint gaps leave no raft, or a raft comes nearer to the outline
    than the clearance; a note when rafts have no play at all. The subject names the length that
    is to blame. Distances are taken at the corners of both outlines and the middles of arcs and
    sides, since sides and arcs of a raft run parallel to the outline.
    """
    if not layout.rafts:
        yield _moved_away(bed) or _without_raft(bed, "joint_gap" if layout.region else "clearance")
        return
    yield from _too_near(bed, layout)
    for gap in _without_play(bed, layout):
        yield Finding(
            code="raft-fit",
            severity="note",
            bed=bed.name,
            subject=gap,
            amount_mm=0.0,
            limit_mm=PLAY_MM,
            cure=SetLength(gap, PLAY_MM),
        )


def _without_play(bed: Bed, layout: RaftLayout) -> Iterator[Gap]:
    if bed.clearance.exact == 0:
        yield "clearance"
    if bed.joint_gap.exact == 0 and len(layout.rafts) > 1:
        yield "joint_gap"


def _moved_away(bed: Bed) -> Finding | None:
    """Tell of joints moved so far that the rafts at one end are gone; None if that is not it."""
    rule = bed.rafts
    if not isinstance(rule, Split):
        return None
    still = lay_rafts(replace(bed, rafts=Split(rule.along, rule.across))).rafts
    if not still:
        return None
    along = replace(rule, shift_across=ZERO)
    name = "shift_across" if lay_rafts(replace(bed, rafts=along)).rafts else "shift_along"
    shift: Length = getattr(rule, name)
    size = still[0].shape.length if name == "shift_along" else still[0].shape.width
    most = float(ceil(size) - 1)
    return Finding(
        code="raft-fit",
        severity="problem",
        bed=bed.name,
        subject=f"rafts.{name}",
        amount_mm=abs(shift.mm),
        limit_mm=most,
        cure=SetLength(f"rafts.{name}", most if shift.exact > 0 else -most),
    )


def _without_raft(bed: Bed, gap: Gap) -> Finding:
    """Tell of a bed without rafts; the cure is the largest whole millimetre that leaves room."""
    now = getattr(bed, gap).mm
    most = _largest_with_room(bed, gap, int(now))
    return Finding(
        code="raft-fit",
        severity="problem",
        bed=bed.name,
        subject=gap,
        amount_mm=now,
        limit_mm=most,
        cure=None if most is None else SetLength(gap, most),
    )


def _largest_with_room(bed: Bed, gap: Gap, below: int) -> float | None:
    if not _has_room(bed, gap, 0):
        return None
    low, high = 0, below + 1
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _has_room(bed, gap, middle) else (low, middle)
    return float(low)


def _has_room(bed: Bed, gap: Gap, mm: int) -> bool:
    """Whether a raft is left, wide enough for one hole where something is planted."""
    value = Length.of(mm)
    tried = replace(bed, clearance=value) if gap == "clearance" else replace(bed, joint_gap=value)
    planting = bed.planting
    least = 0.0
    if planting:
        rim = planting.web.mm + planting.hole_diameter.mm / 2
        least = 2 * max(planting.edge_margin.mm, rim)
    return any(min(raft.shape.length, raft.shape.width) >= least for raft in lay_rafts(tried).rafts)


def _too_near(bed: Bed, layout: RaftLayout) -> Iterator[Finding]:
    """Tell of every raft that comes too near the outline, where it comes nearest."""
    limit = bed.clearance.mm
    nearest: dict[int, tuple[float, float, float]] = {}
    for owners, places, away in (_from_rafts(layout), _from_outline(layout, limit)):
        close = np.flatnonzero(away < limit - TOLERANCE_MM)
        for k, (x, y), gap in zip(
            owners[close].tolist(), places[close].tolist(), away[close].tolist(), strict=True
        ):
            nearest[k] = min(nearest.get(k, (np.inf, x, y)), (gap, x, y))
    for k in sorted(nearest):
        gap, x, y = nearest[k]
        yield Finding(
            code="raft-fit",
            severity="problem",
            bed=bed.name,
            raft=layout.rafts[k].name,
            subject="clearance",
            place=(x, y),
            amount_mm=gap,
            limit_mm=limit,
        )


_Distances = tuple[np.ndarray[tuple[int], np.dtype[np.int64]], Floats, Floats]


def _from_rafts(layout: RaftLayout) -> _Distances:
    """From places on the edges of the rafts to the outline; negative outside of it."""
    on_shape = {id(raft.shape): _places(raft.shape.loop) for raft in layout.rafts}
    parts = [_in_bed(raft, on_shape[id(raft.shape)]) for raft in layout.rafts]
    owners = np.repeat(np.arange(len(parts)), [len(part) for part in parts])
    places = np.concatenate(parts)
    return owners, places, Gauge.of(layout.outline).signed_distance(places)


def _from_outline(layout: RaftLayout, reach: float) -> _Distances:
    """From corners of the outline to rafts near them; negative within a raft."""
    corners = np.array([start_of(curve) for curve in layout.outline.curves])
    boxes = np.array(
        [
            (raft.x, raft.y, raft.x + raft.shape.length, raft.y + raft.shape.width)
            for raft in layout.rafts
        ],
        dtype=np.float64,
    )
    tree = shapely.STRtree([shapely.box(*box) for box in boxes])
    corner, owner = tree.query(shapely.points(corners), predicate="dwithin", distance=reach)
    away = [
        -Gauge.of(raft.loop_in_bed).signed_distance(corners[c][None])[0]
        for c, raft in zip(corner.tolist(), (layout.rafts[k] for k in owner), strict=True)
    ]
    return owner, corners[corner], np.array(away)


def _places(loop: Loop) -> Floats:
    return np.array([at(curve) for curve in loop.curves for at in (start_of, middle_of)])


def _in_bed(raft: RaftPlace, places: Floats) -> Floats:
    corner = np.array([float(raft.x), float(raft.y)])
    if raft.turned:
        corner += (float(raft.shape.length), float(raft.shape.width))
        return corner - places
    return corner + places
