"""The command that searches for room for more holes."""

from collections.abc import Iterable
from pathlib import Path

from geometry.errors import GeometryError
from geometry.model.project import Project
from geometry.plan import BedPlan, Plan, make_plan
from geometry.tongue import tr
from layout_gui.commands.common import DONE, refuse, say, with_plan
from layout_gui.project.faults import FileAccessError, ProjectFileError, access_error, printable
from layout_gui.wording.squeezing import not_squeezed_text, squeezed_text, squeezed_title


def squeeze(
    path: Path, *, bed: str | None, raft: str | None, seconds: float, out: Path | None
) -> int:
    """Search for room for more holes than rows hold, and print what was found, raft by raft.

    Without ``bed`` and ``raft`` every planted bed and every raft has its turn, rafts alike one
    turn together; each turn takes up to so many seconds. With ``out`` the project that has the
    holes is saved there; the project file itself stays as it is. Done with or without a find.
    """

    def work(plan: Plan) -> int:
        planted = {each.name: each.planting is not None for each in plan.project.beds}
        if bed is not None and not planted.get(bed):
            missing = (
                tr("“{bed}” is not planted yet", bed=bed)
                if bed in planted
                else tr("there is no bed “{bed}”", bed=bed)
            )
            return refuse(f"{printable(path.name)}: {missing}.")
        names = [bed] if bed is not None else [name for name in planted if planted[name]]
        if not names:
            say(tr("No bed is planted; there is nothing to squeeze."))
        if raft is not None and bed is None and len(names) > 1:
            return refuse(
                tr(
                    "{file}: say in which bed raft {raft} is, with --bed.",
                    file=printable(path.name),
                    raft=raft,
                )
            )
        try:
            project = _squeezed(plan, names, raft, seconds)
        except GeometryError as error:
            return refuse(f"{printable(path.name)}: {error}")
        return DONE if out is None else _save_squeezed(plan.project, project, out)

    return with_plan(path, work)


def _squeezed(plan: Plan, beds: Iterable[str], raft: str | None, seconds: float) -> Project:
    """Squeeze raft after raft, each into the plan that the one before it has left."""
    from geometry.compare.squeezing import Answer, Offer, question_of
    from layout_gui.project.edits import squeeze_in
    from layout_gui.squeezing import search

    for bed in beds:
        before = _bed_plan(plan, bed)
        done: set[str] = set()
        for name in [raft] if raft is not None else [each.name for each in before.rafts]:
            if name in done:
                continue
            now = _bed_plan(plan, bed)
            try:
                question = question_of(now, name, plan.project.units)
            except GeometryError as error:
                if raft is not None:
                    raise
                say(f"{bed}: {error}")
                continue
            done.update(question.rafts)
            answer = search(_silent, question, seconds) if question.can_win else Answer(None)
            if answer.found is None:
                say(f"{bed}: {not_squeezed_text(question, answer.rows)}")
                continue
            offer = Offer(question, answer.found, answer.rows)
            words = squeezed_text(offer, now.plants)
            say(f"{bed}: {squeezed_title(offer)}: {words}")
            plan = make_plan(squeeze_in(plan.project, offer), plan)
        won = _bed_plan(plan, bed).plants - before.plants
        if won:
            say(
                tr(
                    "{bed}: {won} more in all, {then} plants instead of {now}.",
                    bed=bed,
                    won=won,
                    then=before.plants + won,
                    now=before.plants,
                )
            )
    return plan.project


def _silent(_news: object) -> None:
    """Hear news and say nothing."""


def _bed_plan(plan: Plan, bed: str) -> BedPlan:
    return next(each for each in plan.beds if each.bed.name == bed)


def _save_squeezed(before: Project, project: Project, out: Path) -> int:
    from layout_gui.project.file import save

    if project is before:
        say(tr("{name} was not written, as nothing was won.", name=out.name))
        return DONE
    try:
        save(out, project)
    except (ProjectFileError, FileAccessError) as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or out, "written", error)))
    say(out)
    return DONE
