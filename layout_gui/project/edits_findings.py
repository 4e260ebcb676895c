"""Edits that settle many findings in one step: clear them, leave them with a note, reopen them."""

from collections.abc import Iterable
from dataclasses import replace

from geometry.checks.finding import Finding, LeaveOut, MoveHole
from geometry.errors import GeometryError
from geometry.model.project import Accepted, Project
from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.project import edits
from layout_gui.project.bounds import refuse_out_of_bounds


def apply_cures(project: Project, plan: Plan, findings: Iterable[Finding]) -> Project:
    """Make the change of every one of these findings of the plan, each hole's only once.

    Every change is the smallest for its own finding, so some findings may stay, and new ones come
    where two changes meet. Findings without a cure stay.

    Raises:
        GeometryError: a change cannot be made, or there is none.
    """
    cured = [finding for finding in findings if finding.cure is not None]
    if not cured:
        raise GeometryError(tr("No single change clears these; they take a decision of yours."))
    plans = {bed.bed.name: bed for bed in plan.beds}
    moves: dict[str, dict[edits.HoleName, tuple[float, float]]] = {}
    gone: dict[str, dict[edits.HoleName, None]] = {}
    done: set[object] = set()
    for finding in cured:
        match finding.cure:
            case MoveHole(raft, hole, x, y):
                if (raft, hole) not in gone.get(finding.bed, {}):
                    moves.setdefault(finding.bed, {}).setdefault((raft, hole), (x, y))
            case LeaveOut(raft, hole):
                moves.get(finding.bed, {}).pop((raft, hole), None)
                gone.setdefault(finding.bed, {})[raft, hole] = None
            case cure:
                if (finding.bed, cure) not in done:
                    project = edits.apply_cure(project, plan, finding)
                done.add((finding.bed, cure))
    for bed, to in moves.items():
        project = edits.move_holes(project, plans[bed], to)
    for bed, holes in gone.items():
        project = edits.delete_holes(project, plans[bed], holes)
    return project


def accept_all(project: Project, findings: Iterable[Finding], note: str) -> Project:
    """Leave findings as they are, with one reason for all; a new note replaces an old one."""
    accepted = {finding.key: Accepted(finding.key, note) for finding in findings}
    for each in accepted.values():
        refuse_out_of_bounds(each)
    kept = (each for each in project.accepted if each.key not in accepted)
    return replace(project, accepted=(*kept, *accepted.values()))


def reopen(project: Project, keys: Iterable[str]) -> Project:
    """Look at findings again that were left, by their keys."""
    gone = frozenset(keys)
    kept = tuple(each for each in project.accepted if each.key not in gone)
    return replace(project, accepted=kept)
