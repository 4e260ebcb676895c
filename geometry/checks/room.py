"""Is there a single hole in a bed that is planted?"""

from collections.abc import Iterator, Sequence
from math import floor, inf

import numpy as np

from geometry.checks.finding import Cure, Finding, SetLength
from geometry.checks.raft_in_bed import RaftInBed
from geometry.model.bed import Bed
from geometry.model.planting import Planting
from geometry.rafts.layout import Ways


def check_room(
    bed: Bed, rafts: Sequence[RaftInBed], ways: Ways, *, left_out: int
) -> Iterator[Finding]:
    """Yield a problem when rules and rafts leave room for no hole at all.

    ``left_out`` is the number of sites taken out by hand: where they are all that is missing,
    there was room. The place is the middle of the first raft.
    """
    planting = bed.planting
    if planting is None or not rafts or left_out or any(len(raft.holes) for raft in rafts):
        return
    widest = max(rafts, key=_half_width)
    x, y = (rafts[0].size / 2 + (rafts[0].x, rafts[0].y)).tolist()
    rim = planting.web.mm + planting.hole_diameter.mm / 2
    yield Finding(
        code="no-room",
        severity="problem",
        bed=bed.name,
        place=(x, y),
        amount_mm=_half_width(widest),
        limit_mm=max(planting.edge_margin.mm, rim),
        cure=_cure(bed, planting, widest, ways if len(rafts) > 1 else ()),
    )


def _half_width(raft: RaftInBed) -> float:
    return float(min(raft.shape.length, raft.shape.width) / 2)


def _cure(bed: Bed, planting: Planting, raft: RaftInBed, ways: Ways) -> Cure | None:
    """Give the one length that alone makes room for a hole in the middle, if there is one."""
    if bed.obstacles or not raft.shape.is_rectangle:
        return None
    room = _half_width(raft)
    middles = np.array(ways, dtype=float).reshape(-1, 2) * (raft.size + bed.joint_gap.mm)
    apart = float(np.hypot(*middles.T).min(initial=inf))
    crowded = planting.joints == "interchangeable" and planting.spacing.mm > apart
    margin, web, radius = planting.edge_margin.mm, planting.web.mm, planting.hole_diameter.mm / 2
    too_much = [
        SetLength(field, floor(mm * 1000) / 1000)
        for field, mm, is_too_much in (
            ("planting.edge_margin", room, margin > room),
            ("planting.hole_diameter", 2 * (room - web), radius > room >= web),
            ("planting.web", room - radius, web + radius > room >= radius),
            ("planting.spacing", apart, crowded),
        )
        if is_too_much
    ]
    return too_much[0] if len(too_much) == 1 else None
