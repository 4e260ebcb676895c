"""Edits of the runs: what is sown, in which stages, how often, and when not."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import count
from math import ceil
from typing import Any

from geometry.errors import GeometryError
from geometry.first_run import suggested_stages
from geometry.flow.household import rhythm_for
from geometry.model.project import Project
from geometry.model.run import Pause, Run, RunStage, SlowTime
from geometry.tongue import tr
from layout_gui.project.bounds import project_faults, refuse_out_of_bounds
from layout_gui.project.edits_log import rename_log_run


def find_run(project: Project, name: str) -> Run:
    """Return the run of this name."""
    for run in project.runs:
        if run.name == name:
            return run
    raise GeometryError(tr("There is no run “{name}”.", name=name))


def fresh_run(project: Project, bed: str, crop: str, first: date | None, rafts: int = 0) -> Run:
    """Make a run of a crop on a bed: a tray, then the bed, as long as is known of the crop.

    It is sown every week, or every so many weeks that each batch finds one of the ``rafts`` free.
    """
    name = _fresh_name(project, tr(crop) or tr("Run"))
    stages = suggested_stages(crop, project.crops, bed)
    weeks = ceil(Fraction(stages[-1].days, 7 * rafts)) if rafts else 1
    return Run(name, crop, stages, every=7 * weeks, first=first)


def _fresh_name(project: Project, base: str) -> str:
    taken = {run.name.casefold() for run in project.runs}
    if base.casefold() not in taken:
        return base
    return next(name for number in count(2) if (name := f"{base} {number}").casefold() not in taken)


def add_run(project: Project, run: Run) -> Project:
    """Add a run after the others; its name must be new."""
    return _checked(replace(project, runs=(*project.runs, run)), run)


def duplicate_run(project: Project, name: str) -> tuple[Project, str]:
    """Add a copy of a run, and return its name as well."""
    old = find_run(project, name)
    fresh = _fresh_name(project, name)
    return add_run(project, replace(old, name=fresh)), fresh


def remove_run(project: Project, name: str) -> Project:
    """Take a run out; what the log has of its batches stays."""
    gone = find_run(project, name)
    return replace(project, runs=tuple(run for run in project.runs if run is not gone))


def set_run(project: Project, name: str, /, **changes: Any) -> Project:
    """Change values of a run, named as in the model; its batches and notes follow its name."""
    old = find_run(project, name)
    run = replace(old, **changes)
    ends_early = run.until is not None and run.first is not None and run.until < run.first
    if ends_early and not changes.keys().isdisjoint(("first", "until")):
        raise GeometryError(tr("The last day is before the first one; write a later day."))
    runs = tuple(run if each is old else each for each in project.runs)
    changed = replace(project, runs=runs)
    if run.name != name:
        changed = replace(changed, log=rename_log_run(project.log, name, run.name))
    return _checked(changed, run)


def set_stage(project: Project, name: str, at: int, /, **changes: Any) -> Project:
    """Change values of one stage of a run."""
    stages = list(find_run(project, name).stages)
    stages[at] = replace(stages[at], **changes)
    return set_run(project, name, stages=tuple(stages))


def add_stage(project: Project, name: str, after: int) -> Project:
    """Add a stage like the one before it."""
    stages = list(find_run(project, name).stages)
    taken = {stage.name.casefold() for stage in stages}
    fresh = next(
        each
        for number in count(len(stages) + 1)
        if (each := tr("Stage {number}", number=number)).casefold() not in taken
    )
    old = stages[after] if stages else RunStage(fresh, 7)
    return set_run(
        project, name, stages=(*stages[: after + 1], replace(old, name=fresh), *stages[after + 1 :])
    )


def remove_stage(project: Project, name: str, at: int) -> Project:
    """Take a stage out; the last one stays."""
    stages = find_run(project, name).stages
    if len(stages) == 1:
        raise GeometryError(tr("A run needs one stage; remove the run instead."))
    return set_run(project, name, stages=(*stages[:at], *stages[at + 1 :]))


def move_stage(project: Project, name: str, at: int, by: int) -> Project:
    """Put a stage earlier or later; at the ends nothing changes."""
    stages = list(find_run(project, name).stages)
    to = min(max(at + by, 0), len(stages) - 1)
    stages.insert(to, stages.pop(at))
    return set_run(project, name, stages=tuple(stages))


def add_pause(project: Project, name: str, first: date) -> Project:
    """Add two weeks from a day on without a sowing."""
    pauses = find_run(project, name).pauses
    last = first + timedelta(days=13)
    return set_run(project, name, pauses=(*pauses, Pause(first, last)))


def add_slow_time(project: Project, name: str, slow: SlowTime) -> Project:
    """Add days in which stages take longer."""
    return set_run(project, name, slow_times=(*find_run(project, name).slow_times, slow))


def set_part(project: Project, name: str, part: str, at: int, /, **changes: Any) -> Project:
    """Change one of the ``pauses`` or ``slow_times`` of a run."""
    own = list(getattr(find_run(project, name), part))
    own[at] = replace(own[at], **changes)
    return set_run(project, name, **{part: tuple(own)})


def remove_part(project: Project, name: str, part: str, at: int) -> Project:
    """Take one of the ``pauses`` or ``slow_times`` of a run out."""
    own = getattr(find_run(project, name), part)
    return set_run(project, name, **{part: (*own[:at], *own[at + 1 :])})


def eat_weekly(project: Project, name: str, per_week: int, keeps: int) -> Project:
    """Set the rhythm for a household that eats so many a week and lets them stand so many days."""
    rhythm = rhythm_for(per_week, keeps)
    return set_run(
        project, name, every=rhythm.every, target=rhythm.plants, stands=rhythm.every,
        share_rafts=True,
    )  # fmt: skip


def with_bed_renamed(runs: Iterable[Run], old: str, new: str) -> tuple[Run, ...]:
    """Let runs follow the new name of a bed."""
    return _with_beds(runs, {old: new})


def without_bed(runs: Iterable[Run], bed: str) -> tuple[Run, ...]:
    """Let stages float elsewhere, or nowhere, where a bed is no more."""
    return _with_beds(runs, {bed: ""})


def _with_beds(runs: Iterable[Run], names: dict[str, str]) -> tuple[Run, ...]:
    def renamed(stage: RunStage) -> RunStage:
        beds = [names.get(bed, bed) for bed in (stage.bed, *stage.more_beds)]
        kept = tuple(dict.fromkeys(filter(None, beds)))
        return replace(stage, bed=kept[0] if kept else "", more_beds=kept[1:])

    return tuple(replace(run, stages=tuple(map(renamed, run.stages))) for run in runs)


def _checked(project: Project, run: Run) -> Project:
    refuse_out_of_bounds(run)
    if not run.name.strip():
        raise GeometryError(tr("A run needs a name, such as Lettuce."))
    for fault in project_faults(project):
        raise GeometryError(f"{fault.what[:1].upper()}{fault.what[1:]}; {fault.cure}.")
    return project
