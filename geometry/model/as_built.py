"""What the log says of the rafts that lie in the beds now."""

from dataclasses import dataclass

from geometry.model.log import RaftMade
from geometry.model.project import Project


def lying(project: Project) -> dict[tuple[str, str], RaftMade]:
    """Return the rafts that lie in a place, by the names of bed and raft."""
    return {made.place: made for made in project.log.rafts if all(made.place)}


def sites_as_built(project: Project, design: str) -> int | None:
    """Return how many plants a raft of this design holds as it was made.

    The fewest of those that are not retired and whose sites somebody counted; None without any.
    """
    counted = (
        made.sites
        for made in project.log.rafts
        if made.design == design and not made.retired and made.sites is not None
    )
    return min(counted, default=None)


def taken_labels(project: Project) -> frozenset[str]:
    """Return the labels of all rafts ever made, as they are compared."""
    return frozenset(made.label.casefold() for made in project.log.rafts)


def remembered(project: Project, bed: str | None = None) -> tuple[str, ...]:
    """Return the notes of the log, each with what it is about: what whoever copies should read.

    With ``bed``, those about the rafts that lie in it and the batches that float there.
    """
    notes = [note for note in project.log.notes if note.text]
    if bed is not None:
        rafts = {made.label for made in project.log.rafts if made.bed == bed}
        runs = {
            run.name
            for run in project.runs
            if any(bed in {stage.bed, *stage.more_beds} for stage in run.stages)
        }
        batches = {batch.name for batch in project.log.batches if batch.run in runs}
        of = {"raft": rafts, "batch": batches, "project": set()}
        notes = [note for note in notes if note.of in of[note.about]]
    return tuple(f"{note.of}: {note.text}" if note.of else note.text for note in notes)


@dataclass(frozen=True, slots=True)
class Standing:
    """How many rafts of the register lie in beds, are spare, and are retired."""

    lying: int
    spare: int
    retired: int

    @property
    def total(self) -> int:
        """All that were ever made."""
        return self.lying + self.spare + self.retired


def standing_of(project: Project, places: frozenset[tuple[str, str]]) -> Standing:
    """Count the register; a raft whose place is none of these, bed and raft, is a spare one."""
    here = sum(place in places for place in lying(project))
    retired = sum(made.retired for made in project.log.rafts)
    return Standing(here, len(project.log.rafts) - here - retired, retired)
