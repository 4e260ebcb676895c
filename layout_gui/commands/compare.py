"""The command that puts choices side by side."""

from collections import deque
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from geometry.compare.courses import course_of
from geometry.compare.want import find_spacing
from geometry.drawing.figures import KG_PER_POUND, length_text, weight_text
from geometry.drawing.pattern_names import pattern_name, rows_name
from geometry.model.bed import Bed
from geometry.model.project import Project
from geometry.model.wanted import Wanted
from geometry.plan import Plan
from geometry.tongue import number, tr
from geometry.units import Unit, format_density, format_length
from layout_gui.commands.common import json_text, refuse, say, status, tell, with_plan
from layout_gui.commands.compared import (
    Shifts,
    choices_node,
    joint_counts_node,
    split_shift_node,
    threshold_node,
    thresholds_of,
    wanted_node,
)
from layout_gui.project.faults import access_error
from layout_gui.wording.leaves import assumed_words
from layout_gui.wording.thresholds import found_sentence, threshold_sentence


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
                    "choices": choices_node(project, bed),
                    "thresholds": [threshold_node(each) for each in thresholds_of(project, bed)],
                    "joints": joint_counts_node(bed),
                    "split_shift": split_shift_node(project, bed, alike),
                }
                for bed in beds
            ]
            say(json_text({"project": project.name, "beds": rows}))
        elif beds:
            say("\n\n".join(_choice_table(project, bed, alike) for bed in beds))
        else:
            say(tr("No bed is planted; there is nothing to compare."))
        return status(plan)

    return with_plan(path, work)


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
            return refuse(tr("{name} must end in {suffix}.", name=file.name, suffix=suffix))
        if file.exists():
            return refuse(
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
            say(export_comparison(project, found, file))
            for sentence in lacking(project, (file,), "text"):
                tell(sentence)
    except UnknownFileError as error:
        return refuse(str(error))
    except OSError as error:
        return refuse(str(access_error(error.filename or file, "written", error)))
    return status(plan)


def _print_wanted(project: Project, beds: Iterable[Bed], wanted: Wanted, *, as_json: bool) -> None:
    found = [(bed.name, find_spacing(bed, wanted, project.units)) for bed in beds]
    if as_json:
        rows = [{"name": name, "wanted": one and wanted_node(one)} for name, one in found]
        say(json_text({"project": project.name, "beds": rows}))
        return
    for name, one in found:
        say(f"{name}: {found_sentence(one, project.units) if one else tr('no raft fits')}")


def _joint_lines(project: Project, bed: Bed, alike: Shifts) -> list[str]:
    """What there is to say about the joints of a bed, in sentences."""
    found = (joint_counts_node(bed), split_shift_node(project, bed, alike))
    return [each["text"] for each in found if each is not None]


def _choice_table(project: Project, bed: Bed, alike: Shifts) -> str:
    """Lay the choices of a bed out in columns, the bed as it stands first."""
    unit, choices = project.units, choices_node(project, bed)
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
    told += [threshold_sentence(each, unit) for each in thresholds_of(project, bed)]
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
