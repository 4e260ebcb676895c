"""Does every zone lie on a raft, and does anything grow in it?"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from geometry.beds.outline import zone_loop
from geometry.checks.finding import Code, DropFromZone, Finding
from geometry.checks.raft_in_bed import RaftInBed
from geometry.holes.claims import Claims, claims_of
from geometry.model.bed import Bed
from geometry.model.measure import bounds
from geometry.model.zone import Zone
from geometry.rafts.layout import RaftLayout


def check_zones(
    bed: Bed, layout: RaftLayout, claims: Sequence[Claims], rafts: Sequence[RaftInBed]
) -> Iterator[Finding]:
    """Yield what is wrong with the zones of a bed, zone by zone; the subject is the zone's name.

    A problem for a zone on no raft, for each raft that it names and that is not there, and for a
    zone without a hole; a note where rafts that may change places are made for their own.
    """
    if bed.planting is None or not layout.rafts:
        return
    names = {raft.name for raft in layout.rafts}
    counts = np.zeros(len(bed.zones) + 1, dtype=np.int64)
    uses = Counter(id(raft.holes) for raft in rafts)
    for holes in {id(raft.holes): raft.holes for raft in rafts}.values():
        counts += uses[id(holes)] * holes.count_by_planting(len(counts))
    for number, zone in enumerate(bed.zones, start=1):
        gone = [name for name in zone.rafts if name not in names]
        for name in gone:
            yield replace(_problem(bed, zone, "zone-outside"), raft=name,
                          cure=DropFromZone(zone.name, name))  # fmt: skip
        if len(gone) < len(zone.rafts) or zone.shape is not None:
            yield from _without_holes(bed, layout, zone, int(counts[number]))
        if bed.planting.joints == "interchangeable":
            yield from _fixed(bed, zone, number, rafts, claims)


def _without_holes(bed: Bed, layout: RaftLayout, zone: Zone, holes: int) -> Iterator[Finding]:
    if holes:
        return
    alone = claims_of(replace(bed, zones=(zone,)), layout)
    if any(one.over or one.rest for one in alone):
        yield _problem(bed, zone, "zone-empty")
    else:
        yield replace(_problem(bed, zone, "zone-outside"), cure=DropFromZone(zone.name))


def _problem(bed: Bed, zone: Zone, code: Code) -> Finding:
    loop = zone_loop(zone)
    place = None
    if loop is not None:
        left, bottom, right, top = bounds(loop)
        place = ((left + right) / 2, (bottom + top) / 2)
    return Finding(code, "problem", bed.name, subject=zone.name, place=place)


def _fixed(
    bed: Bed, zone: Zone, number: int, rafts: Sequence[RaftInBed], claims: Sequence[Claims]
) -> Iterator[Finding]:
    """Tell of the first raft that a zone covers in part only."""
    for raft, one in zip(rafts, claims, strict=True):
        if len(rafts) > 1 and any(claim.planting == number for claim in one.over):
            x, y = (raft.size / 2 + (raft.x, raft.y)).tolist()
            yield Finding(
                "zone-fixed", "note", bed.name, raft.name, subject=zone.name, place=(x, y)
            )
            return
