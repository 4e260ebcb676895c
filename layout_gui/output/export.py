"""Writing the files of a plan: the only place that writes output files."""

import errno
import os
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from geometry.drawing.comparison_pages import Compared, lay_comparison
from geometry.drawing.paper import COMMON, Page, PageSetup, Paper
from geometry.drawing.template import PLAIN
from geometry.model.project import Project
from geometry.plan import Plan, with_best_cut
from geometry.tongue import tr
from geometry.watch import watched
from geometry.weeks import Weeks, plan_weeks
from layout_gui.output.cuts_table import write_cuts
from layout_gui.output.documents import BY_FILE, DOCUMENTS, Laid, PageDocument
from layout_gui.output.drawings import (
    bed_drawings,
    kind_of,
    raft_design,
    raft_drawings,
    render_drawing,
)
from layout_gui.output.landing import Landing
from layout_gui.output.letters import Letters
from layout_gui.output.log_tables import TABLES as LOG_TABLES
from layout_gui.output.pictures import Pictures, page_picture_name, raft_page
from layout_gui.output.shopping_table import write_shopping
from layout_gui.output.tables import summary_json, write_choices, write_holes

Progress = Callable[[float, str], bool]
"""Told the share that is done and what is being made; returns False to stop."""

Heard = Callable[[str, Laid], object]
"""Told the name of a document and its pages, as soon as they are decided on."""

HOLES: Final = "holes.csv"
SUMMARY: Final = "summary.json"
SHOPPING: Final = "shopping.csv"
CUTS: Final = "cuts.csv"
TASKS: Final = "tasks.csv"
WEEKS: Final = "weeks.csv"
CALENDAR: Final = "tasks.ics"

LeftOut = Callable[[str], object]
"""Told in a sentence which file was left out because nothing would stand in it."""

_LAYING: Final = 0.3
"""Which share of the time a document takes goes by before its first page is drawn, at a guess."""

Pages = Mapping[str, Container[int]]
"""Numbers of the pages to write, by the name of their document."""


class UnknownFileError(ValueError):
    """A file was asked for that this plan does not have."""


class _StoppedError(Exception):
    """The one who watches the progress wants no more."""


def file_names(plan: Plan) -> tuple[str, ...]:
    """Return the names of the files that are written when nothing else is asked for, in order."""
    unusual = {document.file for document in DOCUMENTS if not document.is_usual}
    unusual |= {SHOPPING, CUTS, TASKS, WEEKS, CALENDAR, *LOG_TABLES, *bed_drawings(plan)}
    return tuple(name for name in offered_names(plan) if name not in unusual)


def offered_names(plan: Plan) -> tuple[str, ...]:
    """Return the names of all files that a plan can be written as, in order."""
    tables = HOLES, SUMMARY, SHOPPING, CUTS, TASKS, WEEKS, CALENDAR, *LOG_TABLES
    return *BY_FILE, *tables, *raft_drawings(plan), *bed_drawings(plan)


def export(
    plan: Plan,
    out: Path,
    only: frozenset[str] | None = None,
    *,
    setup: PageSetup = PLAIN,
    pages: Pages | None = None,
    letters: Letters = "text",
    pictures: Pictures | None = None,
    progress: Progress | None = None,
    laid_out: Heard | None = None,
    left_out: LeftOut | None = None,
) -> tuple[Path, ...]:
    """Write the usual files of a plan into a folder, made if need be; return their paths.

    With ``only``, those files are written and no work is done for others. With ``pages``, only
    those pages of a document, into a file that is called a part (``written_as``). Drawings for
    machines hold their words as ``letters`` says. With ``pictures``, a picture of every page and
    every raft drawing that is written comes beside it. Files come whole or not at all, and all
    together or none (``landing``). When ``progress`` returns False, nothing has changed and nothing
    is returned. ``laid_out`` hears of the pages of each document, ``left_out`` of files that would
    be empty; there is none of those unless others are written.

    Raises:
        UnknownFileError: ``only`` names a file that the plan does not have, or only empty ones.
        PictureError: A picture would be too large.
        OSError: A file or the folder cannot be written; the error's file name says which.
    """
    names = file_names(plan)
    if only is not None:
        offered = offered_names(plan)
        _refuse_unknown(only, offered)
        names = tuple(name for name in offered if name in only)
    pages = pages or {}
    turns = 1 if pictures is None else 2
    watch = progress or _onwards
    job = _Job(plan, setup, pages, letters, pictures, watch, turns * len(names), laid_out)
    with Landing(out) as landing:
        try:
            job.search_cuts(names)
            empty = {name: reason for name in names if (reason := job.nothing_in(name))}
            if empty and len(empty) == len(names):
                raise UnknownFileError("\n".join(empty.values()))
            for number, name in enumerate(names):
                job.begin(turns * number, name)
                if name in empty:
                    (left_out or _unheard)(empty[name])
                    continue
                with landing.writing(written_as(name, pages)) as part:
                    job.write(name, part)
                for picture, data in job.pictures_of(name):
                    with landing.writing(picture) as part:
                        part.write_bytes(data)
            job.tell(1.0)
        except _StoppedError:
            return ()
        return landing.land()


def written_as(name: str, pages: Pages) -> str:
    """Return the name of the file that some pages, or all, of a document are written into."""
    return name.replace(".pdf", "-part.pdf") if name in pages else name


def export_comparison(
    project: Project,
    compared: Compared,
    path: Path,
    *,
    paper: Paper = COMMON,
    replaces: bool = False,
) -> Path:
    """Write a comparison as pages (``.pdf``) or as a table (``.csv``), whole or not at all.

    Raises:
        FileExistsError: The file is there already and is not to be replaced.
        UnknownFileError: The name ends in neither.
        OSError: The file cannot be written.
    """
    kind = path.suffix.lower()
    if kind not in {".pdf", ".csv"}:
        raise UnknownFileError(
            tr("{name} is neither a page nor a table; end it in .pdf or .csv.", name=path.name)
        )
    if path.exists() and not replaces:
        raise FileExistsError(
            tr("{name} is there already; give another name, or remove it first.", name=path.name)
        )
    if not path.parent.is_dir():
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))
    with Landing(path.parent) as landing:
        with landing.writing(path.name) as part:
            if kind == ".csv":
                with part.open("w", encoding="utf-8", newline="") as stream:
                    write_choices(project, compared, stream)
            else:
                from layout_gui.output.pdf import render_pdf  # noqa: PLC0415 - loaded when first used

                pages = lay_comparison(project, compared, paper).pages()
                part.write_bytes(render_pdf(pages, title=f"{project.name}: {tr('What if')}"))
        landing.land()
    return path


def _refuse_unknown(only: Iterable[str], names: tuple[str, ...]) -> None:
    unknown = sorted(set(only) - set(names))
    if unknown:
        raise UnknownFileError(
            tr(
                "There is no file {files} here; there are {names}.",
                files=", ".join(unknown),
                names=", ".join(names),
            )
        )


def tells_cuts(names: Iterable[str]) -> bool:
    """Whether one of these files tells of the cut plan, and so has to wait for the best one."""
    return any(
        name in {SUMMARY, SHOPPING, CUTS} or (name in BY_FILE and BY_FILE[name].tells_cuts)
        for name in names
    )


def _unheard(_sentence: str) -> None:
    pass


def _onwards(_share: float, _words: str) -> bool:
    return True


@dataclass(slots=True)
class _Job:
    """One export: writes files one after another and tells how far it is."""

    plan: Plan
    setup: PageSetup
    pages: Pages
    letters: Letters
    pictures: Pictures | None
    progress: Progress
    count: int
    laid_out: Heard | None = None
    number: int = 0
    name: str = ""
    painted: set[str] = field(default_factory=set)
    weeks: Weeks | None = None

    def search_cuts(self, names: Iterable[str]) -> None:
        """Look for the best cut plan if one of the files tells of it."""
        if tells_cuts(names):
            self.plan = with_best_cut(self.plan, self._keeps_going)

    def _keeps_going(self) -> bool:
        self.tell(0.0)
        return True

    def _goes_on(self, share: float) -> bool:
        self.tell(share)
        return True

    def begin(self, number: int, name: str) -> None:
        """Begin with a file."""
        self.number, self.name = number, name
        self.tell(0.0)

    def tell(self, share: float) -> None:
        """Tell how much of the current file is done; stop when asked to."""
        done = min(1.0, (self.number + share) / max(1, self.count))
        if not self.progress(done, self.name):
            raise _StoppedError

    def write(self, name: str, part: Path) -> None:
        """Write one file."""
        if name in BY_FILE:
            part.write_bytes(self._document(BY_FILE[name]))
        elif name == HOLES:
            self._write_holes(part)
        elif name == SUMMARY:
            part.write_text(summary_json(self.plan), encoding="utf-8", newline="\n")
        elif name == SHOPPING:
            with part.open("w", encoding="utf-8", newline="") as stream:
                write_shopping(self.plan, stream)
        elif name in LOG_TABLES:
            with part.open("w", encoding="utf-8", newline="") as stream:
                LOG_TABLES[name](self.plan.project.log, stream)
        elif name == CUTS:
            with part.open("w", encoding="utf-8", newline="") as stream:
                write_cuts(self.plan.cut, stream)
        elif name in {TASKS, WEEKS, CALENDAR}:
            self._write_weeks(name, part)
        else:
            with watched(self._goes_on):
                part.write_bytes(render_drawing(self.plan, name, self.letters))

    def nothing_in(self, name: str) -> str:
        """Return why a file would be empty; "" if it would not."""
        # A calendar without a task is none (RFC 5545, 3.6).
        if name != CALENDAR or self._weeks.tasks:
            return ""
        return tr("{name}: there is no task in these weeks, so no calendar.", name=name)

    def pictures_of(self, name: str) -> Iterator[tuple[str, bytes]]:
        """Paint what a file shows, if it shows anything; yield the name and content of pictures."""
        if self.pictures is None:
            return
        self.number += 1
        if name in BY_FILE:
            laid, only = BY_FILE[name].lay(self.plan, self.setup), self.pages.get(name)
            numbers = [at for at in range(1, laid.total + 1) if only is None or at in only]
            for done, (at, page) in enumerate(zip(numbers, laid.pages(only), strict=True)):
                self.tell(done / len(numbers))
                picture = page_picture_name(name, at, laid.total)
                yield picture, self.pictures.of(page, picture)
        elif kind_of(name) in {".svg", ".dxf"}:
            stem = name.rpartition(".")[0]
            picture = f"{stem}.png"
            if picture not in self.painted:
                self.painted.add(picture)
                self.tell(0.0)
                page = raft_page(raft_design(self.plan, stem), self.plan.project.units)
                yield picture, self.pictures.of(page, picture)

    def _document(self, document: PageDocument) -> bytes:
        with watched(lambda share: self._goes_on(share * _LAYING)):
            laid, only = document.lay(self.plan, self.setup), self.pages.get(document.file)
        if only is not None and not any(number in only for number in range(1, laid.total + 1)):
            raise UnknownFileError(
                tr(
                    "{name} has {total} pages, none of them wanted.",
                    name=document.file,
                    total=laid.total,
                )
            )
        if self.laid_out is not None:
            self.laid_out(document.file, laid)
        return self._pdf(laid.pages(only), laid.total, tr(document.title))

    def _pdf(self, pages: Iterable[Page], total: int, kind: str) -> bytes:
        from layout_gui.output.pdf import render_pdf  # noqa: PLC0415 - loaded when first used

        def told() -> Iterator[Page]:
            for number, page in enumerate(pages):
                self.tell(_LAYING + (1 - _LAYING) * number / max(1, total))
                yield page

        project = self.plan.project
        revision = project.details.revision
        return render_pdf(
            told(),
            title=f"{project.name}: {kind}",
            author=project.details.author,
            subject=tr("revision {revision}", revision=revision) if revision else "",
        )

    def _write_holes(self, part: Path) -> None:
        total = max(1, self.plan.plants)
        with part.open("w", encoding="utf-8", newline="") as stream:
            for written in write_holes(self.plan, stream):
                self.tell(written / total)

    @property
    def _weeks(self) -> Weeks:
        if self.weeks is None:
            self.weeks = plan_weeks(self.plan, self.setup.period)
        return self.weeks

    def _write_weeks(self, name: str, part: Path) -> None:
        # Loaded when first used: most projects have no run, and calendars a library of their own.
        from layout_gui.output.week_tables import write_tasks, write_weeks  # noqa: PLC0415

        weeks = self._weeks
        if name == CALENDAR:
            from layout_gui.output.calendar_file import calendar_bytes  # noqa: PLC0415

            part.write_bytes(calendar_bytes(weeks, self.plan.project.name))
            return
        with part.open("w", encoding="utf-8", newline="") as stream:
            (write_tasks if name == TASKS else write_weeks)(weeks, stream)
