"""The register: rafts made and batches grown, to hang on the wall and go on by hand."""

from collections.abc import Sequence
from fractions import Fraction

from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.figures import length_text
from geometry.drawing.flow import (
    Column,
    Part,
    Row,
    gap,
    heading,
    paginate,
    row_room,
    row_width,
    words,
)
from geometry.drawing.flow import table as lined
from geometry.drawing.lettering import clipped
from geometry.drawing.paper import COMMON, Paper
from geometry.model.as_built import Standing, standing_of
from geometry.model.log import BatchGrown, Note, RaftMade
from geometry.plan import Plan
from geometry.tongue import number, tr
from geometry.units import Length, Unit

_ROW_MM = 4.2
_STEP_MM = _ROW_MM * 1.55 + 0.4
_BLANKS = 4
"""So many empty rows there are at least, to go on by hand."""


def lay_register(plan: Plan, paper: Paper = COMMON) -> CutSheetDocument:
    """Decide what is on which page: the rafts, the batches, and the notes where there are some."""
    log = plan.project.log
    parts = [_rafts_part(plan, paper), _batches_part(plan, paper)]
    if log.notes:
        parts.append(_notes_part(plan, paper))
    return CutSheetDocument(paper, tuple((part, paginate(part, paper)) for part in parts))


def _rafts_part(plan: Plan, paper: Paper) -> Part:
    unit = plan.project.units
    room = row_width(paper)
    standing = standing_of(plan.project, _places(plan))
    columns = _columns(
        room,
        (tr("label"), 38), (tr("lies in"), 36), (tr("code"), 20), (tr("made on"), 23),
        (tr("size as built"), 28), (tr("hole"), 14), (tr("sites"), 12), (tr("coats"), 12),
        (tr("washed on"), 23),
    )  # fmt: skip
    cells = [_raft_cells(made, unit) for made in plan.project.log.rafts]
    rows = [words(_counts_words(standing), room, height=_ROW_MM), gap(1)]
    return _part(plan, tr("Raft register"), columns, cells, rows, paper)


def _places(plan: Plan) -> frozenset[tuple[str, str]]:
    return frozenset((bed.bed.name, raft.name) for bed in plan.beds for raft in bed.rafts)


def _counts_words(standing: Standing) -> str:
    return tr(
        "{all} rafts: {lying} in beds, {spare} spare, {retired} retired.",
        all=standing.total,
        lying=standing.lying,
        spare=standing.spare,
        retired=standing.retired,
    )


def _raft_cells(made: RaftMade, unit: Unit) -> tuple[str, ...]:
    sizes = [_length(made.length, unit), _length(made.width, unit)]
    if made.retired:
        where = tr("retired")
    else:
        where = " ".join(made.place) if all(made.place) else tr("spare")
    return (
        made.label,
        where,
        made.code,
        made.made.isoformat() if made.made else "",
        " \N{MULTIPLICATION SIGN} ".join(filter(None, sizes)),
        _length(made.hole_diameter, unit),
        _count(made.sites),
        _count(made.coats),
        made.washed.isoformat() if made.washed else "",
    )


def _batches_part(plan: Plan, paper: Paper) -> Part:
    room = row_width(paper)
    columns = _columns(
        room,
        (tr("what"), 40), (tr("sown on"), 24), (tr("seeds"), 16), (tr("came up"), 18),
        (tr("set afloat"), 18), (tr("picked"), 18), (tr("picked on"), 24), (tr("kg"), 16),
    )  # fmt: skip
    cells = [_batch_cells(batch) for batch in plan.project.log.batches]
    return _part(plan, tr("Batch log"), columns, cells, [], paper)


def _batch_cells(batch: BatchGrown) -> tuple[str, ...]:
    return (
        batch.run,
        batch.sown.isoformat(),
        _count(batch.seeds),
        _count(batch.up),
        _count(batch.set),
        _count(batch.picked),
        batch.picked_on.isoformat() if batch.picked_on else "",
        "" if batch.grams is None else number(float(batch.grams / Fraction(1000)), 2),
    )


def _notes_part(plan: Plan, paper: Paper) -> Part:
    room = row_width(paper)
    rows: list[Row] = []
    for note in plan.project.log.notes:
        rows.append(heading(_note_head(note), room, height=_ROW_MM))
        rows += [words(text, room, height=_ROW_MM) for text in note.text.splitlines() if text]
    title = tr("Notes")
    return Part(title, tr("project {name}", name=clipped(plan.project.name)), tuple(rows), title)


def _note_head(note: Note) -> str:
    day = note.day.isoformat() if note.day else ""
    about = {
        "project": tr("the project"),
        "raft": tr("raft {label}", label=note.of),
        "batch": tr("batch {name}", name=note.of),
    }[note.about]
    return "  ".join(filter(None, (day, about)))


def _columns(room: float, *given: tuple[str, float]) -> tuple[Column, ...]:
    """Spread columns of these shares over the width of the page."""
    share = room / sum(width for _, width in given)
    return tuple(Column(head, width * share) for head, width in given)


def _part(
    plan: Plan,
    title: str,
    columns: Sequence[Column],
    cells: Sequence[tuple[str, ...]],
    before: Sequence[Row],
    paper: Paper,
) -> Part:
    """Put a table together; the last page is filled up with empty rows."""
    empty = ("",) * len(columns)
    filled = [*cells, *[empty] * _BLANKS]

    def made(extra: int) -> Part:
        rows = (*before, *lined(columns, [*filled, *[empty] * extra], height=_ROW_MM))
        task = tr(
            "Project {name}. Go on by hand, and write it into the program when there is time.",
            name=clipped(plan.project.name),
        )
        return Part(title, task, rows, title)

    last = paginate(made(0), paper)[-1]
    left = row_room(paper) - sum(row.height for row in last)
    return made(max(0, int(left // _STEP_MM)))


def _length(length: Length | None, unit: Unit) -> str:
    return "" if length is None else length_text(length.exact, unit)


def _count(count: int | None) -> str:
    return "" if count is None else f"{count}"
