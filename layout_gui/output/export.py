"""Writing the files of a plan: the only place that writes output files."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from geometry.drawing.cut_sheet import lay_cut_sheet
from geometry.drawing.paper import COMMON, Page, Paper
from geometry.drawing.raft import draw_raft
from geometry.drawing.template import lay_template
from geometry.plan import Plan, RaftDesign, with_best_cut
from layout_gui.output.svg import render_svg
from layout_gui.output.tables import summary_json, write_holes

Progress = Callable[[float, str], bool]
"""Told the share that is done and what is being made; returns False to stop."""

TEMPLATE: Final = "template.pdf"
CUT_SHEET: Final = "cut-sheet.pdf"
HOLES: Final = "holes.csv"
SUMMARY: Final = "summary.json"


class UnknownFileError(ValueError):
    """A file was asked for that this plan does not have."""


class _StoppedError(Exception):
    """The one who watches the progress wants no more."""


def file_names(plan: Plan) -> tuple[str, ...]:
    """Return the names of all files of a plan, in the order in which they are written."""
    drawings = (f"{design.name}.{kind}" for design in _designs(plan) for kind in ("svg", "dxf"))
    return TEMPLATE, CUT_SHEET, HOLES, SUMMARY, *drawings


def export(
    plan: Plan,
    out: Path,
    only: frozenset[str] | None = None,
    *,
    paper: Paper = COMMON,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write the files of a plan into a folder, which is made if need be; return their paths.

    With ``only``, those files are written and no work is done for others. Files come whole or not
    at all: each is finished beside its place before any takes it. When ``progress`` returns False,
    nothing has changed and nothing is returned.

    Raises:
        UnknownFileError: ``only`` names a file that the plan does not have.
        OSError: The folder cannot be written.
    """
    names = file_names(plan)
    if only is not None:
        _refuse_unknown(only, names)
        names = tuple(name for name in names if name in only)
    out.mkdir(parents=True, exist_ok=True)
    parts = {name: out / f".{name}.part" for name in names}
    job = _Job(plan, paper, progress or _onwards, len(names))
    try:
        job.search_cuts(names)
        for number, (name, part) in enumerate(parts.items()):
            job.begin(number, name)
            job.write(name, part)
        job.tell(1.0)
        for name, part in parts.items():
            part.replace(out / name)
    except _StoppedError:
        return ()
    finally:
        for part in parts.values():
            part.unlink(missing_ok=True)
    return tuple(out / name for name in names)


def _refuse_unknown(only: Iterable[str], names: tuple[str, ...]) -> None:
    unknown = sorted(set(only) - set(names))
    if unknown:
        raise UnknownFileError(
            f"There is no file {', '.join(unknown)} here; there are {', '.join(names)}."
        )


def _onwards(_share: float, _words: str) -> bool:
    return True


def _designs(plan: Plan) -> tuple[RaftDesign, ...]:
    return tuple(design for bed in plan.beds for design in bed.designs)


@dataclass(slots=True)
class _Job:
    """One export: writes files one after another and tells how far it is."""

    plan: Plan
    paper: Paper
    progress: Progress
    count: int
    number: int = 0
    name: str = ""

    def search_cuts(self, names: Iterable[str]) -> None:
        """Look for the best cut plan if one of the files tells of it."""
        if {CUT_SHEET, SUMMARY} & set(names):
            self.plan = with_best_cut(self.plan, self._keeps_going)

    def _keeps_going(self) -> bool:
        self.tell(0.0)
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
        if name == TEMPLATE:
            template = lay_template(self.plan, self.paper)
            part.write_bytes(self._pdf(template.pages(), template.total, "template"))
        elif name == CUT_SHEET:
            sheet = lay_cut_sheet(self.plan, self.paper)
            part.write_bytes(self._pdf(sheet.pages(), sheet.total, "cut sheet"))
        elif name == HOLES:
            self._write_holes(part)
        elif name == SUMMARY:
            part.write_text(summary_json(self.plan), encoding="utf-8", newline="\n")
        else:
            part.write_bytes(self._drawing(name))

    def _pdf(self, pages: Iterable[Page], total: int, kind: str) -> bytes:
        from layout_gui.output.pdf import render_pdf  # noqa: PLC0415 - loaded when first used

        def told() -> Iterator[Page]:
            for number, page in enumerate(pages):
                self.tell(number / max(1, total))
                yield page

        return render_pdf(told(), title=f"{self.plan.project.name}: {kind}")

    def _write_holes(self, part: Path) -> None:
        total = max(1, self.plan.plants)
        with part.open("w", encoding="utf-8", newline="") as stream:
            for written in write_holes(self.plan, stream):
                self.tell(written / total)

    def _drawing(self, name: str) -> bytes:
        stem, _, kind = name.rpartition(".")
        design = next(design for design in _designs(self.plan) if design.name == stem)
        drawing = draw_raft(design, unit=self.plan.project.units)
        if kind == "svg":
            shape = design.shape
            return render_svg(
                drawing, width=float(shape.length), height=float(shape.width), title=stem
            )
        from layout_gui.output.dxf import render_dxf  # noqa: PLC0415 - loaded when first used

        return render_dxf(drawing)
