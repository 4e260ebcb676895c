"""The commands: everything the program can do without a window.

Each command returns its exit status: 0 when done and nothing is left to settle, 1 when done with
findings that are problems and not accepted, 2 when the project or an argument was refused; then
nothing was written.
"""

import json
import sys
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

from geometry.afloat.riding import Afloat
from geometry.checks.finding import Finding
from geometry.compare.courses import Course, course_of
from geometry.compare.growing import Growing
from geometry.compare.thresholds import Threshold, thresholds
from geometry.compare.want import Found, find_spacing
from geometry.drawing.figures import KG_PER_POUND, length_text, weight_text
from geometry.drawing.paper import BORDER_MM, COMMON, OVERLAP_MM, PageSetup, Paper
from geometry.drawing.pattern_names import pattern_name, rows_name
from geometry.drawing.printer import doubts, find_printer
from geometry.errors import GeometryError
from geometry.flow.period import USUAL_WEEKS, Period
from geometry.flow.room import Room
from geometry.model.bed import Bed
from geometry.model.project import Project
from geometry.model.wanted import Wanted
from geometry.plan import BedPlan, Plan, make_plan, with_best_cut
from geometry.tongue import number, tr
from geometry.units import Unit, format_density, format_length
from layout_gui.output.letters import Letters
from layout_gui.output.pictures import PictureError, Pictures
from layout_gui.project.faults import FileAccessError, ProjectFileError, access_error, printable
from layout_gui.wording import (
    cure_label,
    cut_sentence,
    finding_line,
    finding_text,
    finding_title,
    found_sentence,
    joint_sentence,
    no_cure_reason,
    not_squeezed_text,
    proof_sentence,
    split_shift_sentence,
    squeezed_text,
    squeezed_title,
    threshold_sentence,
    winner_sentence,
)
from layout_gui.wording_leaves import assumed_words
from layout_gui.wording_results import result_lines

Shifts = dict[Bed, dict[str, Any] | None]

DONE: Final = 0
PROBLEMS: Final = 1
REFUSED: Final = 2

_MOST_TOLD = 20


def export_files(
    path: Path,
    out: Path,
    only: frozenset[str] | None,
    *,
    also: frozenset[str] = frozenset(),
    paper: Paper | None = None,
    border: float | None = None,
    overlap: float | None = None,
    factors: tuple[float, float] | None = None,
    pages: frozenset[int] | None = None,
    letters: Letters = "text",
    printer: str | None = None,
    pegs: tuple[float, float] | None = None,
    pictures: Pictures | None = None,
    made: str | None = None,
    since: date | None = None,
    weeks: int | None = None,
) -> int:
    """Write the files of a project into a folder and print their paths.

    With ``only``, those files alone are made; with ``also``, those beside them or beside the usual
    ones; with ``pages``, those pages of the template. The paper and its ``border`` and ``overlap``
    (mm) are the usual ones unless given; ``factors`` make good what the printer gets wrong; so does
    a ``printer`` that was measured, which also brings its border. ``pegs`` is how far the first
    hole of a perforated board is from its edges. With ``pictures``, pages and rafts come as
    pictures too. So many ``weeks`` are told from that of the day ``since`` on. How many pages a
    template has is told on standard error, and so are problems and files that were left out since
    nothing would stand in them, which count as a problem too. With ``made``, the files are those
    of the raft of the log with this label, as it was made.
    """
    from layout_gui.output.as_made import names_as_made
    from layout_gui.output.documents import TEMPLATE, Laid
    from layout_gui.output.export import UnknownFileError, export, file_names
    from layout_gui.output.lacking import lacking
    from layout_gui.output.page_count import template_words
    from layout_gui.project.printer_file import PrinterFile, no_printer

    across, along = factors or (1.0, 1.0)
    setup = PageSetup(
        paper or COMMON,
        BORDER_MM if border is None else border,
        OVERLAP_MM if overlap is None else overlap,
        across,
        along,
        pegs=pegs,
        period=_period(since, weeks),
    )
    if printer is not None:
        known = PrinterFile().read()
        found = find_printer(known.printers, printer, setup.paper)
        if found is None:
            return _refuse(no_printer(printer, known))
        setup = found.on(setup, border)
        for sentence in doubts(found, setup, date.today().isoformat()):  # noqa: DTZ011  by the wall
            _tell(sentence)
    chosen = {TEMPLATE: pages} if pages else None
    counted: list[tuple[str, Laid]] = []
    missing: list[str] = []

    def work(plan: Plan) -> int:
        try:
            if made is not None:
                names = names_as_made(plan, only) | names_as_made(plan, also)
            else:
                names = also | (only if only is not None else frozenset(file_names(plan)))
            if pages and TEMPLATE not in names:
                return _refuse(
                    tr(
                        "--pages chooses pages of {template}, which is not asked for.",
                        template=TEMPLATE,
                    )
                )
            written = export(
                plan, out, names,
                setup=setup, pages=chosen, letters=letters, pictures=pictures,
                laid_out=lambda name, laid: counted.append((name, laid)),
                left_out=missing.append,
            )  # fmt: skip
        except (UnknownFileError, PictureError) as error:
            return _refuse(str(error))
        except OSError as error:
            return _refuse(str(access_error(error.filename or out, "written", error)))
        for file in written:
            print(file)
        for sentence in missing:
            _tell(f"{path.name}: {tr('left out')}: {sentence}")
        for name, laid in counted:
            for words in template_words(laid, setup):
                _tell(f"{name}: {words}")
        for sentence in lacking(plan.project, written, letters):
            _tell(f"{path.name}: {sentence}")
        problems = _open(plan, "problem")
        for finding in problems[:_MOST_TOLD]:
            _tell(f"{path.name}: {finding_line(finding, plan.project.units, plan)}")
        if more := len(problems[_MOST_TOLD:]):
            _tell(
                tr(
                    "{name}: {more} more problems; the command check lists them all.",
                    name=path.name,
                    more=more,
                )
            )
        return PROBLEMS if missing else _status(plan)

    if made is None:
        return _with_plan(path, work)
    from layout_gui.project.as_made import plan_as_made

    return _with_plan(path, work, lambda project: plan_as_made(project, made))


def templates(
    path: Path,
    *,
    as_json: bool,
    paper: Paper | None = None,
    pegs: tuple[float, float] | None = None,
) -> int:
    """Print what each kind of template needs for each raft design: pages and the largest error."""
    from geometry.drawing.short.offers import offer_line, offers

    def work(plan: Plan) -> int:
        found = tuple(offers(plan, PageSetup(paper or COMMON, pegs=pegs)))
        designs: dict[str, list[Any]] = {}
        for offer in found:
            designs.setdefault(offer.design, []).append(offer)
        if as_json:
            rows = [
                {
                    "design": design,
                    "templates": [
                        {
                            "file": each.file,
                            "pages": each.pages,
                            "error_mm": each.error_mm,
                            "stepped_mm": each.stepped_mm,
                            "reason": each.reason or None,
                        }
                        for each in own
                    ],
                }
                for design, own in designs.items()
            ]
            print(_json({"project": plan.project.name, "rafts": rows}))
        elif designs:
            texts = ("\n".join((design, *(f"  {offer_line(each)}" for each in own)))
                     for design, own in designs.items())  # fmt: skip
            print("\n\n".join(texts))
        else:
            print(tr("There is no raft to drill."))
        return DONE

    return _with_plan(path, work)


def check(path: Path, *, as_json: bool) -> int:
    """Print the findings of a project, those accepted with their notes."""

    def work(plain: Plan) -> int:
        plan = with_best_cut(plain)
        print(_findings_json(plan) if as_json else "\n".join(_findings_text(plan)))
        return _status(plan)

    return _with_plan(path, work)


def compare(
    path: Path,
    *,
    as_json: bool,
    wanted: Wanted | None = None,
    table: Path | None = None,
    page: Path | None = None,
) -> int:
    """Print the choices of every planted bed side by side and its thresholds.

    With ``wanted`` print instead the widest spacing at which each bed holds so many plants. With
    ``table`` (CSV) or ``page`` (PDF) write the comparison there instead and print the paths; a file
    that is there already is never replaced.
    """

    def work(plan: Plan) -> int:
        project = plan.project
        beds = [bed for bed in project.beds if bed.planting]
        if table is not None or page is not None:
            return _write_comparison(plan, beds, table, page)
        alike: Shifts = {}
        if wanted is not None and beds:
            _print_wanted(project, beds, wanted, as_json=as_json)
        elif as_json:
            rows = [
                {
                    "name": bed.name,
                    "choices": _choices(project, bed),
                    "thresholds": [_threshold(each) for each in _thresholds(project, bed)],
                    "joints": _joint_counts(bed),
                    "split_shift": _split_shift(project, bed, alike),
                }
                for bed in beds
            ]
            print(_json({"project": project.name, "beds": rows}))
        elif beds:
            print("\n\n".join(_choice_table(project, bed, alike) for bed in beds))
        else:
            print(tr("No bed is planted; there is nothing to compare."))
        return _status(plan)

    return _with_plan(path, work)


def _write_comparison(
    plan: Plan, beds: Iterable[Bed], table: Path | None, page: Path | None
) -> int:
    """Compare beds and write what came out; nothing is written where a file is in the way."""
    from geometry.compare.choices import compare_choices
    from geometry.compare.comparison import Comparison, compare_bed
    from layout_gui.output.export import UnknownFileError, export_comparison
    from layout_gui.output.lacking import lacking

    files = ((table, ".csv"), (page, ".pdf"))
    wanted = [(file, suffix) for file, suffix in files if file is not None]
    for file, suffix in wanted:
        if file.suffix.lower() != suffix:
            return _refuse(tr("{name} must end in {suffix}.", name=file.name, suffix=suffix))
        if file.exists():
            return _refuse(
                tr("{name} is there already; give another name, or remove it first.",
                   name=file.name)
            )  # fmt: skip
    project = plan.project
    if page is None:
        found = [
            (bed.name, Comparison(compare_choices(project, bed), is_complete=True)) for bed in beds
        ]
    else:
        found = [(bed.name, deque(compare_bed(project, bed), maxlen=1)[0]) for bed in beds]
    try:
        for file, _ in wanted:
            print(export_comparison(project, found, file))
            for sentence in lacking(project, (file,), "text"):
                _tell(sentence)
    except UnknownFileError as error:
        return _refuse(str(error))
    except OSError as error:
        return _refuse(str(access_error(error.filename or file, "written", error)))
    return _status(plan)


def weeks(path: Path, since: date | None, count: int | None, *, as_json: bool) -> int:
    """Print what is to be done, week by week, from the week of a day or of the first task on."""
    from geometry.drawing.run_figures import lack_words
    from geometry.drawing.task_words import day_words, task_words, week_words
    from geometry.weeks import plan_weeks
    from layout_gui.output.week_tables import weeks_node

    def work(plan: Plan) -> int:
        found = plan_weeks(plan, _period(since, count))
        if as_json:
            print(_json({"project": plan.project.name, **weeks_node(found)}))
        elif not found.weeks:
            print(tr("No run says on which day it is first sown, so there is nothing to do."))
        for made in () if as_json else found.runs:
            if found.weeks and not made.batches and (why := lack_words(made)):
                print(f"{made.run.name}: {why}")
        for week in () if as_json else found.weeks:
            print(week_words(week))
            for task in found.tasks_in(week):
                print(f"  {day_words(task.day)}  {task_words(task)}")
        return _status(plan)

    return _with_plan(path, work)


def _period(since: date | None, count: int | None) -> Period:
    return Period(since, USUAL_WEEKS if count is None else count)


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
            return _refuse(f"{printable(path.name)}: {missing}.")
        names = [bed] if bed is not None else [name for name in planted if planted[name]]
        if not names:
            print(tr("No bed is planted; there is nothing to squeeze."))
        if raft is not None and bed is None and len(names) > 1:
            return _refuse(
                tr(
                    "{file}: say in which bed raft {raft} is, with --bed.",
                    file=printable(path.name),
                    raft=raft,
                )
            )
        try:
            project = _squeezed(plan, names, raft, seconds)
        except GeometryError as error:
            return _refuse(f"{printable(path.name)}: {error}")
        return DONE if out is None else _save_squeezed(plan.project, project, out)

    return _with_plan(path, work)


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
                print(f"{bed}: {error}")
                continue
            done.update(question.rafts)
            answer = search(_silent, question, seconds) if question.can_win else Answer(None)
            if answer.found is None:
                print(f"{bed}: {not_squeezed_text(question, answer.rows)}")
                continue
            offer = Offer(question, answer.found, answer.rows)
            words = squeezed_text(offer, now.plants)
            print(f"{bed}: {squeezed_title(offer)}: {words}")
            plan = make_plan(squeeze_in(plan.project, offer), plan)
        won = _bed_plan(plan, bed).plants - before.plants
        if won:
            print(
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
        print(tr("{name} was not written, as nothing was won.", name=out.name))
        return DONE
    try:
        save(out, project)
    except (ProjectFileError, FileAccessError) as error:
        return _refuse(str(error))
    except OSError as error:
        return _refuse(str(access_error(error.filename or out, "written", error)))
    print(out)
    return DONE


def write_measuring_page(
    shapes: Sequence[str], page: Path, *, paper: Paper | None = None, unit: Unit | None = None
) -> int:
    """Write the measuring pages of shapes, which may have "-" for spaces, and print the path.

    A file that is there already is never replaced.
    """
    from geometry.beds.shapes import SHAPES
    from layout_gui.output.measuring_file import write_measuring

    if page.suffix.lower() != ".pdf":
        return _refuse(tr("{name} must end in {suffix}.", name=page.name, suffix=".pdf"))
    if page.exists():
        return _refuse(
            tr("{name} is there already; give another name, or remove it first.", name=page.name)
        )
    wanted = [each.replace("-", " ") for each in shapes]
    known = [shape for each in wanted for shape in SHAPES if shape == each]
    try:
        print(write_measuring(page, known, paper or COMMON, unit))
    except OSError as error:
        return _refuse(str(access_error(page, "written", error)))
    return DONE


def print_schema() -> int:
    """Print the JSON Schema of project files."""
    from layout_gui.project.file import schema_text

    print(schema_text(), end="")
    return DONE


def _with_plan(
    path: Path, work: Callable[[Plan], int], planned: Callable[[Project], Plan] = make_plan
) -> int:
    """Read and plan a project, then do the work; say what stands in the way."""
    from layout_gui.project.file import load

    try:
        plan = planned(load(path))
    except (ProjectFileError, FileAccessError) as error:
        return _refuse(str(error))
    except GeometryError as error:
        return _refuse(f"{printable(path.name)}: {error}")
    except MemoryError:
        return _refuse(
            tr(
                "{file}: does not fit into the memory of this computer; check the "
                "units of the lengths, or split the project.",
                file=printable(path.name),
            )
        )
    return work(plan)


def _refuse(sentences: str) -> int:
    _tell(sentences)
    return REFUSED


def _tell(sentences: str) -> None:
    print(sentences, file=sys.stderr)


def _open(plan: Plan, *severities: str) -> list[Finding]:
    """Return the findings of these severities that no note accepts."""
    notes = _notes(plan)
    return [
        finding
        for finding in plan.findings
        if finding.severity in severities and finding.key not in notes
    ]


def _status(plan: Plan) -> int:
    return PROBLEMS if _open(plan, "problem") else DONE


def _findings_text(plan: Plan) -> Iterable[str]:
    unit, notes = plan.project.units, _notes(plan)
    for bed in plan.beds:
        told = filter(None, (winner_sentence(bed, unit), proof_sentence(bed)))
        yield f"{bed.bed.name}: {'. '.join(told)}"
    if plan.project.sheets:
        yield tr("Cutting: {sheets}", sheets=cut_sentence(plan.cut))
    yield from result_lines(plan)
    for finding in plan.findings:
        line = finding_line(finding, unit, plan)
        note = notes.get(finding.key)
        yield line if note is None else tr("{line} Left as it is: {note}", line=line, note=note)
    if not _open(plan, "problem", "question"):
        yield tr("Nothing is left to settle before cutting.")


def _notes(plan: Plan) -> dict[str, str]:
    return {accepted.key: accepted.note for accepted in plan.project.accepted}


def _findings_json(plan: Plan) -> str:
    notes = _notes(plan)
    return _json(
        {
            "project": plan.project.name,
            "problems": len(_open(plan, "problem")),
            "cutting": cut_sentence(plan.cut) if plan.project.sheets else "",
            "results": list(result_lines(plan)),
            "findings": [
                asdict(finding)
                | {
                    "key": finding.key,
                    "accepted": notes.get(finding.key),
                    "cure": _cure(finding, plan.project.units),
                    "no_cure": no_cure_reason(finding),
                    "title": finding_title(finding, plan.project.units),
                    "text": finding_text(finding, plan.project.units, plan),
                }
                for finding in plan.findings
            ],
        }
    )


def _cure(finding: Finding, unit: Unit) -> dict[str, Any] | None:
    if finding.cure is None:
        return None
    return {
        "kind": type(finding.cure).__name__,
        **asdict(finding.cure),
        "label": cure_label(finding.cure, unit),
    }


def _choices(project: Project, bed: Bed) -> list[dict[str, Any]]:
    from geometry.compare.choices import compare_choices
    from geometry.compare.yields import grams_at_choices

    results = compare_choices(project, bed)
    course = course_of(project, bed.planting) if bed.planting is not None else None
    return [
        {
            "name": result.choice.name,
            "pattern": result.planting.pattern,
            "rows": result.planting.rows,
            "spacing_mm": result.planting.spacing.mm,
            "row_spacing_mm": result.planting.row_spacing and result.planting.row_spacing.mm,
            "edge_margin_mm": result.planting.edge_margin.mm,
            "wanted": result.wanted,
            "plants": result.plants,
            "density_per_m2": result.density_per_m2,
            "ceiling": result.ceiling,
            "share_of_ceiling": result.share_of_ceiling,
            "least_web_mm": result.least_web_mm,
            "won": {
                "pattern": result.pattern,
                "rows": result.direction,
                "pitch_mm": result.pitch_mm,
                "row_gap_mm": result.row_gap_mm,
            },
            "problems": result.problems,
            "published_plant_g": published,
            "own_plant_g": own,
            "leaves": _leaves(result.growing, course),
            "afloat": _afloat(result.afloat),
            "most_a_week": _most_a_week(project, bed, result.rooms),
        }
        for result, (published, own) in zip(
            results, grams_at_choices(project, bed, results), strict=True
        )
    ]


def _afloat(found: Afloat | None) -> dict[str, float] | None:
    """Say how the heaviest raft rides at the harvest; None where that is not known."""
    if found is None:
        return None
    at = found.harvest
    return {
        "draft_mm": round(at.floating.draft, 6),
        "freeboard_mm": round(at.floating.freeboard, 6),
        "lift_kg": round(at.lift, 6),
    }


def _most_a_week(project: Project, bed: Bed, offered: Sequence[Room]) -> float | None:
    """Say what runs that float in this bed alone bring a week; None without such runs."""
    from geometry.running import most_a_week

    most = most_a_week(project.runs, bed.name, offered)
    return None if most is None else round(float(most), 6)


def _leaves(found: Growing | None, course: Course | None) -> dict[str, Any] | None:
    """Say when leaves touch, what they cover, when plants are best moved apart, and by what."""
    if found is None or course is None:
        return None
    return {
        "touch_day": found.touch_day,
        "respace_day": found.respace_day,
        "harvest_day": found.harvest_day,
        "cover_at_harvest": found.at_harvest,
        "known_days": [found.first, found.last],
        "measured": course.measured is not None,
        "assumed": list(course.assumed),
    }


def _thresholds(project: Project, bed: Bed) -> Sequence[Threshold]:
    return thresholds(bed, project.units)


def _threshold(threshold: Threshold) -> dict[str, Any]:
    return {
        "length": threshold.knob,
        "now_mm": float(threshold.now),
        "plants": threshold.plants,
        "same_up_to_mm": _mm(threshold.same_up_to),
        "more_at_mm": _mm(threshold.more_at),
        "more_plants": None if threshold.more_at is None else threshold.more_plants,
        "step_mm": float(threshold.step),
    }


def _mm(exact: Fraction | None) -> float | None:
    return None if exact is None else float(exact)


def _print_wanted(project: Project, beds: Iterable[Bed], wanted: Wanted, *, as_json: bool) -> None:
    found = [(bed.name, find_spacing(bed, wanted, project.units)) for bed in beds]
    if as_json:
        rows = [{"name": name, "wanted": one and _wanted(one)} for name, one in found]
        print(_json({"project": project.name, "beds": rows}))
        return
    for name, one in found:
        print(f"{name}: {found_sentence(one, project.units) if one else tr('no raft fits')}")


def _wanted(found: Found) -> dict[str, Any]:
    return {
        "plants": found.wanted,
        "spacing_mm": _mm(found.spacing),
        "gives": {
            "plants": found.counted.plants,
            "density_per_m2": found.density_per_m2,
            "pattern": found.counted.pattern,
            "rows": found.counted.direction,
        },
    }


def _joint_counts(bed: Bed) -> dict[str, Any] | None:
    """What the bed holds under both rules that heed joints; None without joints."""
    from geometry.compare.joint_rules import joint_counts

    counts = joint_counts(bed)
    if counts is None:
        return None
    return {
        "rule": counts.rule,
        "interchangeable": counts.interchangeable,
        "bed_wide": counts.bed_wide,
        "cost": counts.cost,
        "text": joint_sentence(counts),
    }


def _split_shift(project: Project, bed: Bed, alike: Shifts) -> dict[str, Any] | None:
    """The best shift of the joints of a split; None without joints.

    Beds that differ in nothing but their names are searched once: ``alike`` holds what is known.
    """
    nameless = replace(bed, name="")
    if nameless not in alike:
        alike[nameless] = _found_shift(project, bed)
    return alike[nameless]


def _found_shift(project: Project, bed: Bed) -> dict[str, Any] | None:
    from geometry.compare.split_shift import best_split_shift

    shift = best_split_shift(project, bed)
    if shift is None:
        return None
    return {
        "shift_along_mm": shift.along.mm,
        "shift_across_mm": shift.across.mm,
        "shift_along_now_mm": shift.along_now.mm,
        "shift_across_now_mm": shift.across_now.mm,
        "plants": shift.plants,
        "plants_now": shift.plants_now,
        "gain": shift.gain,
        "raft_designs": shift.designs,
        "raft_designs_now": shift.designs_now,
        "sheets": shift.sheets,
        "sheets_now": shift.sheets_now,
        "exact": shift.exact,
        "text": split_shift_sentence(shift, project.units),
    }


def _joint_lines(project: Project, bed: Bed, alike: Shifts) -> list[str]:
    """What there is to say about the joints of a bed, in sentences."""
    found = (_joint_counts(bed), _split_shift(project, bed, alike))
    return [each["text"] for each in found if each is not None]


def _choice_table(project: Project, bed: Bed, alike: Shifts) -> str:
    """Lay the choices of a bed out in columns, the bed as it stands first."""
    unit, choices = project.units, _choices(project, bed)
    weighed = [
        (key, head)
        for key, head in (
            ("published_plant_g", tr("a plant, published")),
            ("own_plant_g", tr("a plant, by your log")),
        )
        if any(choice[key] is not None for choice in choices)
    ]
    rides = any(choice["afloat"] is not None for choice in choices)
    leafy = any(choice["leaves"] is not None for choice in choices)
    rows: list[tuple[str, ...]] = [
        (
            tr("choice"),
            tr("spacing"),
            tr("edge margin"),
            tr("won"),
            tr("plants"),
            tr("density"),
            tr("of the ceiling"),
            *((tr("leaves touch"), tr("at harvest"), tr("98 % covered")) if leafy else ()),
            *((tr("freeboard at harvest"), tr("to lift")) if rides else ()),
            *(head for _, head in weighed),
        )
    ]
    for place, choice in enumerate(choices):
        share = choice["share_of_ceiling"]
        rows.append(
            (
                choice["name"] or _own_name(choice["pattern"], is_now=not place),
                format_length(choice["spacing_mm"], unit),
                format_length(choice["edge_margin_mm"], unit),
                rows_name(choice["won"]["pattern"] or "", choice["won"]["rows"] or ""),
                str(choice["plants"]),
                format_density(choice["density_per_m2"], unit),
                "" if share is None else f"{share:.0%}",
                *(_leaf_cells(choice["leaves"]) if leafy else ()),
                *(_afloat_cells(choice["afloat"], unit) if rides else ()),
                *(_plant_weight(choice[key], unit) for key, _ in weighed),
            )
        )
    told = [tr("What plants weighed elsewhere or before is not a promise.")] if weighed else []
    if leafy and bed.planting is not None:
        told.append(assumed_words(course_of(project, bed.planting)))
    told += [threshold_sentence(each, unit) for each in _thresholds(project, bed)]
    told += _joint_lines(project, bed, alike)
    return "\n".join([bed.name, *_columns(rows), *filter(None, told)])


def _leaf_cells(leaves: dict[str, Any] | None) -> tuple[str, str, str]:
    if leaves is None:
        return "", "", ""
    touch, move = (
        tr("never") if leaves[key] is None else tr("day {day}", day=leaves[key])
        for key in ("touch_day", "respace_day")
    )
    share = leaves["cover_at_harvest"]
    return touch, "" if share is None else f"{int(share * 100 + 1e-9)}%", move


def _afloat_cells(found: dict[str, float] | None, unit: Unit) -> tuple[str, str]:
    if found is None:
        return "", ""
    return length_text(found["freeboard_mm"], unit), weight_text(found["lift_kg"], unit)


def _plant_weight(grams: float | None, unit: Unit) -> str:
    if grams is None:
        return ""
    if unit == "in":
        ounces = grams / (KG_PER_POUND * 1000 / 16)
        return tr("{ounces} oz", ounces=number(ounces, 1))
    return tr("{grams} g", grams=number(grams, 0))


def _own_name(pattern: str, *, is_now: bool) -> str:
    name = pattern_name(pattern)
    return tr("as it stands, {pattern}", pattern=name) if is_now else name


def _columns(rows: Sequence[Sequence[str]]) -> Iterable[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield "  ".join(cells).rstrip()


def _json(content: object) -> str:
    """Write JSON that any terminal and any pipe can take."""
    return json.dumps(content, indent=2, allow_nan=False)
