"""The commands that write files: export, templates, measuring pages, the schema."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from geometry.drawing.paper import BORDER_MM, COMMON, OVERLAP_MM, PageSetup, Paper
from geometry.drawing.printer import doubts, find_printer
from geometry.plan import Plan
from geometry.tongue import tr
from geometry.units import Unit
from layout_gui.commands.common import (
    DONE,
    PROBLEMS,
    json_text,
    open_findings,
    period_of,
    refuse,
    say,
    status,
    tell,
    with_plan,
)
from layout_gui.output.letters import Letters
from layout_gui.output.pictures import PictureError, Pictures
from layout_gui.project.faults import access_error
from layout_gui.wording.findings import finding_line

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
        period=period_of(since, weeks),
    )
    if printer is not None:
        known = PrinterFile().read()
        found = find_printer(known.printers, printer, setup.paper)
        if found is None:
            return refuse(no_printer(printer, known))
        setup = found.on(setup, border)
        for sentence in doubts(found, setup, date.today().isoformat()):  # noqa: DTZ011  by the wall
            tell(sentence)
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
                return refuse(
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
            return refuse(str(error))
        except OSError as error:
            return refuse(str(access_error(error.filename or out, "written", error)))
        for file in written:
            say(file)
        for sentence in missing:
            tell(f"{path.name}: {tr('left out')}: {sentence}")
        for name, laid in counted:
            for words in template_words(laid, setup):
                tell(f"{name}: {words}")
        for sentence in lacking(plan.project, written, letters):
            tell(f"{path.name}: {sentence}")
        problems = open_findings(plan, "problem")
        for finding in problems[:_MOST_TOLD]:
            tell(f"{path.name}: {finding_line(finding, plan.project.units, plan)}")
        if more := len(problems[_MOST_TOLD:]):
            tell(
                tr(
                    "{name}: {more} more problems; the command check lists them all.",
                    name=path.name,
                    more=more,
                )
            )
        return PROBLEMS if missing else status(plan)

    if made is None:
        return with_plan(path, work)
    from layout_gui.project.as_made import plan_as_made

    return with_plan(path, work, lambda project: plan_as_made(project, made))


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
            say(json_text({"project": plan.project.name, "rafts": rows}))
        elif designs:
            texts = ("\n".join((design, *(f"  {offer_line(each)}" for each in own)))
                     for design, own in designs.items())  # fmt: skip
            say("\n\n".join(texts))
        else:
            say(tr("There is no raft to drill."))
        return DONE

    return with_plan(path, work)


def write_measuring_page(
    shapes: Sequence[str], page: Path, *, paper: Paper | None = None, unit: Unit | None = None
) -> int:
    """Write the measuring pages of shapes, which may have "-" for spaces, and print the path.

    A file that is there already is never replaced.
    """
    from geometry.beds.shapes import SHAPES
    from layout_gui.output.measuring_file import write_measuring

    if page.suffix.lower() != ".pdf":
        return refuse(tr("{name} must end in {suffix}.", name=page.name, suffix=".pdf"))
    if page.exists():
        return refuse(
            tr("{name} is there already; give another name, or remove it first.", name=page.name)
        )
    wanted = [each.replace("-", " ") for each in shapes]
    known = [shape for each in wanted for shape in SHAPES if shape == each]
    try:
        say(write_measuring(page, known, paper or COMMON, unit))
    except OSError as error:
        return refuse(str(access_error(page, "written", error)))
    return DONE


def print_schema() -> int:
    """Print the JSON Schema of project files."""
    from layout_gui.project.file import schema_text

    print(schema_text(), end="")
    return DONE
