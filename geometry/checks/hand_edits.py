"""Do all holes placed and sites left out by hand still mean something?"""

from collections.abc import Iterator, Sequence

import numpy as np

from geometry.checks.finding import Code, DropHandEdit, Finding
from geometry.checks.raft_in_bed import RaftInBed
from geometry.model.bed import Bed
from geometry.model.planting import Blank, Pin


def check_hand_edits(
    bed: Bed, rafts: Sequence[RaftInBed], idle_blanks: Sequence[Blank]
) -> Iterator[Finding]:
    """Yield a note for every pin whose raft is no more and every blank that takes nothing out.

    ``idle_blanks`` are those that found no site on a raft that is there; blanks on rafts that are
    no more are added. The subject is the place on the raft, so that each can be told apart.
    """
    if bed.planting is None or not (bed.planting.pins or bed.planting.blanks):
        return
    by_name = {raft.name: raft for raft in rafts}
    for pin in bed.planting.pins:
        if pin.raft not in by_name:
            yield _finding(bed, "pin-idle", pin, None)
    idle = set(idle_blanks)
    for blank in bed.planting.blanks:
        if blank.raft not in by_name or blank in idle:
            yield _finding(bed, "blank-idle", blank, by_name.get(blank.raft))


def _finding(bed: Bed, code: Code, edit: Pin | Blank, raft: RaftInBed | None) -> Finding:
    x, y = edit.x.mm, edit.y.mm
    place = None
    if raft is not None:
        bed_x, bed_y = raft.in_bed(np.array([x, y])).tolist()
        place = (bed_x, bed_y)
    return Finding(
        code=code,
        severity="note",
        bed=bed.name,
        raft=edit.raft,
        subject=f"{x:g} {y:g}",
        place=place,
        cure=DropHandEdit(edit.raft, x, y),
    )
