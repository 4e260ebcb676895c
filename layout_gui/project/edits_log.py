"""Edits of the log: rafts as they were made, batches as they grew, notes.

Like all edits they are orders that turn one project into the next, and raise ``GeometryError``
with a sentence when that cannot be. Entries are known by their places in their list.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import count
from typing import Any, Final, Literal

from geometry.crops.table import plain_name
from geometry.drawing.stamp import design_code
from geometry.errors import GeometryError
from geometry.flow.measured import survivals, told_by
from geometry.made import drawn_of
from geometry.model.as_built import taken_labels
from geometry.model.log import BatchGrown, Log, Note, RaftMade
from geometry.model.project import Project
from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.project.bounds import log_faults, refuse_out_of_bounds
from layout_gui.project.drawn_text import drawn_text
from layout_gui.project.edits_crops import set_crop

Kind = Literal["rafts", "batches", "notes"]
Entry = RaftMade | BatchGrown | Note

_STEPS: Final = ("seeds", "up", "set", "picked")


def note_made(
    project: Project, plan: Plan, rafts: Iterable[tuple[str, str]], day: date | None = None
) -> Project:
    """Note rafts of the plan, by bed and name, as made on a day.

    Each keeps its drawing as it is now. A raft that lay in its place before becomes a spare one.

    Raises:
        GeometryError: the plan has no such raft.
    """
    made: list[RaftMade] = []
    texts: dict[tuple[str, str], tuple[str, str]] = {}
    taken = set(taken_labels(project))
    several = len(project.beds) > 1
    for bed, raft in rafts:
        drawn = drawn_of(plan, bed, raft)
        design = drawn.design
        alike = (design.name, "" if len(drawn.rafts) > 1 else raft)
        if alike not in texts:
            code = design_code(design, project.details.revision)
            texts[alike] = drawn_text(drawn), code
        text, code = texts[alike]
        label = _fresh(tr("{bed} {raft}", bed=bed, raft=raft) if several else raft, taken)
        taken.add(label.casefold())
        made.append(
            RaftMade(label, design.name, code, day, bed=bed, raft=raft, drawing=text)
        )  # fmt: skip
    rafts_now = one_a_place((*project.log.rafts, *made), ())
    return with_log(project, replace(project.log, rafts=tuple(rafts_now)))


def not_noted(project: Project, plan: Plan) -> tuple[tuple[str, str], ...]:
    """Return the rafts of the plan, by bed and name, in whose places no noted raft lies."""
    noted = {made.place for made in project.log.rafts}
    places = ((bed.bed.name, raft.name) for bed in plan.beds for raft in bed.rafts)
    return tuple(place for place in places if place not in noted)


def _fresh(label: str, taken: Iterable[str]) -> str:
    known = frozenset(taken)
    names = (label if n == 1 else f"{label}-{n}" for n in count(1))
    return next(name for name in names if name.casefold() not in known)


def fresh_label(project: Project) -> str:
    """Return a label that no raft has yet, for one that is noted by hand."""
    return _fresh(tr("raft {n}", n=len(project.log.rafts) + 1), taken_labels(project))


def add_entries(project: Project, kind: Kind, entries: Iterable[Entry]) -> Project:
    """Write entries down after the others of their kind."""
    log = project.log
    return with_log(project, replace(log, **{kind: (*getattr(log, kind), *entries)}))


def remove_entries(project: Project, kind: Kind, numbers: Iterable[int]) -> Project:
    """Take entries out, with the notes that are about them alone."""
    gone = frozenset(numbers)
    entries = getattr(project.log, kind)
    kept = tuple(entry for number, entry in enumerate(entries) if number not in gone)
    log = replace(project.log, **{kind: kept})
    subjects = {subject for number in gone if (subject := subject_of(entries[number])) is not None}
    notes = tuple(note for note in log.notes if (note.about, note.of) not in subjects)
    return replace(project, log=replace(log, notes=notes))


def set_entry(project: Project, kind: Kind, number: int, **changes: Any) -> Project:
    """Change values of an entry, named as in the model; notes about it follow its name.

    A raft that is given a place takes it from the raft that lay there.
    """
    entries = list(getattr(project.log, kind))
    before = entries[number]
    entries[number] = after = replace(before, **changes)
    if isinstance(after, RaftMade):
        entries = one_a_place(entries, [number])
    log = replace(project.log, **{kind: tuple(entries)})
    old, new = subject_of(before), subject_of(after)
    if old is not None and new is not None and old != new:
        notes = tuple(
            replace(note, of=new[1]) if (note.about, note.of) == old else note for note in log.notes
        )
        log = replace(log, notes=notes)
    return with_log(project, log)


def one_a_place(rafts: Sequence[RaftMade], newest: Iterable[int]) -> list[RaftMade]:
    """Let a place belong to the last raft that was put there: these, the last of them foremost."""
    found = list(rafts)
    taken: set[tuple[str, str]] = set()
    latest = list(dict.fromkeys([*reversed(list(newest)), *reversed(range(len(found)))]))
    for number in latest:
        place = found[number].place
        if all(place) and place in taken:
            found[number] = replace(found[number], bed="", raft="")
        taken.add(place)
    return found


def subject_of(entry: Entry) -> tuple[str, str] | None:
    """Return what a note about this entry names: what it is about, and which."""
    match entry:
        case RaftMade():
            return "raft", entry.label
        case BatchGrown():
            return "batch", entry.name
        case Note():
            return None


def with_log(project: Project, log: Log) -> Project:
    """Put another log into the project.

    Raises:
        GeometryError: a value is out of bounds, two entries have one name, or a batch has more
            plants at a step than before it.
    """
    before = {id(entry) for entry in _entries(project.log)}
    for entry in _entries(log):
        if id(entry) not in before:
            check_entry(entry)
    for fault in log_faults(log):
        raise GeometryError(f"{fault.what[:1].upper()}{fault.what[1:]}; {fault.cure}.")
    return replace(project, log=log)


def _entries(log: Log) -> Iterator[Entry]:
    yield from log.rafts
    yield from log.batches
    yield from log.notes


def check_entry(entry: Entry) -> None:
    """Refuse an entry that no log may hold, and counts of plants that grow on their way."""
    refuse_out_of_bounds(entry)
    if isinstance(entry, BatchGrown):
        _refuse_more_than_before(entry)


def _refuse_more_than_before(batch: BatchGrown) -> None:
    """A count that grew would be a slip, and would spoil every share that is reckoned."""
    before: int | None = None
    for step in _STEPS:
        plants = getattr(batch, step)
        if plants is not None and before is not None and plants > before:
            raise GeometryError(
                tr(
                    "{n} plants are more than the {before} there were before; look at the counts "
                    "of {batch} again.",
                    n=plants,
                    before=before,
                    batch=batch.name,
                )
            )
        before = before if plants is None else plants


def rename_log_bed(log: Log, bed: str, name: str) -> Log:
    """Let the rafts that lie in a bed follow its new name; without one they become spare."""
    rafts = tuple(
        replace(made, bed=name, raft=made.raft if name else "") if made.bed == bed else made
        for made in log.rafts
    )
    return replace(log, rafts=rafts)


def rename_log_run(log: Log, run: str, name: str) -> Log:
    """Let the batches of a run, and the notes about them, follow its new name."""
    names = {batch.name: replace(batch, run=name).name for batch in log.batches if batch.run == run}
    return replace(
        log,
        batches=tuple(
            replace(batch, run=name) if batch.run == run else batch for batch in log.batches
        ),
        notes=tuple(
            replace(note, of=names[note.of]) if note.about == "batch" and note.of in names else note
            for note in log.notes
        ),
    )


def use_measured(project: Project, run: str) -> Project:
    """Take what the batches of a run tell into its plan: survivals, and the mass of an own crop.

    Raises:
        GeometryError: there is no such run, or its batches tell nothing that it does not know.
    """
    own = next((each for each in project.runs if each.name == run), None)
    if own is None:
        raise GeometryError(tr("“{run}” is not among what is sown; add it there first.", run=run))
    told = told_by(project.log.batches, run)
    stages = list(own.stages)
    for at, share in survivals(own, told).items():
        stages[at] = replace(stages[at], survival=share)
    made = replace(own, stages=tuple(stages))
    refuse_out_of_bounds(made)
    runs = tuple(made if each is own else each for each in project.runs)
    changed = replace(project, runs=runs)
    if told.weighed is not None and is_own_crop(project, own.crop):
        changed = set_crop(changed, own.crop, grams=Fraction(round(told.weighed.each * 10), 10))
    if changed == project:
        raise GeometryError(tr("The plan goes by these figures already."))
    return changed


def is_own_crop(project: Project, name: str) -> bool:
    """Whether a crop is one of the grower's own, which can keep what a head weighed."""
    return any(plain_name(crop.name) == plain_name(name) for crop in project.crops)
