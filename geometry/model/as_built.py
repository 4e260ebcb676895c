"""What the log says of the rafts that lie in the beds now."""

from collections.abc import Iterator

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


def design_notes(project: Project, designs: frozenset[str]) -> Iterator[str]:
    """Give the notes about rafts made after one of these designs, each with the raft's label."""
    labels = {made.label for made in project.log.rafts if made.design in designs}
    for note in project.log.notes:
        if note.about == "raft" and note.of in labels:
            yield f"{note.of}: {note.text}"
