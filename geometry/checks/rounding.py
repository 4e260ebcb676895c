"""Which holes have no place on the steps of the tape?"""

from collections.abc import Iterator, Sequence

import numpy as np

from geometry.checks.finding import Finding, SetLength
from geometry.checks.raft_in_bed import RaftInBed
from geometry.holes.names import site_names
from geometry.holes.place import BedPattern
from geometry.model.bed import Bed


def check_rounding(bed: Bed, rafts: Sequence[RaftInBed], pattern: BedPattern) -> Iterator[Finding]:
    """Yield a note for every raft design with sites that rounding left in their exact places.

    The holes are the two (or the one) that would break a rule by most, the amount is how much too
    near they would come, the limit the step, and the subject the number of sites of the design that
    keep their exact places. Nothing is told of holes placed or left out by hand. The cure is the
    spacing, or the finer step, at which every site has a place on the steps.
    """
    planting = bed.planting
    if planting is None or planting.round_to is None:
        return
    for kept in pattern.kept:
        spots = []
        for k, site in kept.worst:
            raft, name = rafts[k], site_names(pattern.sites[k].rows)[site]
            if name in raft.holes.names:
                spots.append((raft, name, raft.holes.names.index(name)))
        if len(spots) < len(kept.worst) or any(raft.holes.pinned[at] for raft, _, at in spots):
            continue
        x, y = np.mean([raft.place(at) for raft, _, at in spots], axis=0).tolist()
        one_raft = len({raft.name for raft, *_ in spots}) == 1
        yield Finding(
            code="rounding",
            severity="note",
            bed=bed.name,
            raft=rafts[kept.raft].name,
            holes=tuple(name if one_raft else f"{raft.name} {name}" for raft, name, _ in spots),
            subject=str(kept.count),
            place=(x, y),
            amount_mm=kept.short_mm,
            limit_mm=planting.round_to.mm,
            cure=None if pattern.remedy is None else SetLength(*pattern.remedy),
        )
