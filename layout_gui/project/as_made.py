"""Rafts of the log as they were made: found by their labels, and planned to be printed again."""

from geometry.errors import GeometryError
from geometry.made import plan_as_drawn
from geometry.model.log import RaftMade
from geometry.model.project import Project
from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.project.drawn_text import read_drawn


def find_made(project: Project, label: str) -> RaftMade:
    """Return the raft of the log with this label, capitals or not.

    Raises:
        GeometryError: there is none.
    """
    for made in project.log.rafts:
        if made.label.casefold() == label.casefold():
            return made
    known = ", ".join(made.label for made in project.log.rafts[:20])
    if not known:
        raise GeometryError(tr("No raft is noted as made yet; note it when it is."))
    raise GeometryError(
        tr("No raft “{label}” is in the log; there are {known}.", label=label, known=known)
    )


def plan_as_made(project: Project, label: str) -> Plan:
    """Make a plan of nothing but that raft, as it was drawn when it was noted as made.

    Raises:
        GeometryError: there is none, no drawing was kept, or it cannot be read.
    """
    made = find_made(project, label)
    if not made.drawing:
        raise GeometryError(
            tr(
                "No drawing of “{label}” was kept, for it was noted by hand; only what was noted "
                "from the plan can be printed again.",
                label=made.label,
            )
        )
    return plan_as_drawn(read_drawn(made.drawing))
