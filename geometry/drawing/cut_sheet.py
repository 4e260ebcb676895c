"""The cut sheet: the pages that go to the workshop, in the order in which work is done."""

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass

from geometry.drawing.bed_part import bed_part
from geometry.drawing.compare_part import compare_part
from geometry.drawing.flow import Part, Row, paginate, part_page
from geometry.drawing.overview import cautions_part, overview_part
from geometry.drawing.paper import COMMON, Page, Paper
from geometry.drawing.raft_part import raft_part
from geometry.drawing.seat_rows import pots_part
from geometry.drawing.sheet_part import sheet_parts
from geometry.drawing.shopping_part import shopping_part
from geometry.plan import Plan


@dataclass(frozen=True, slots=True)
class CutSheetDocument:
    """All parts of the cut sheet, their rows spread over pages but not drawn yet."""

    paper: Paper
    parts: tuple[tuple[Part, tuple[tuple[Row, ...], ...]], ...]

    @property
    def total(self) -> int:
        """How many pages there are."""
        return sum(len(pages) for _, pages in self.parts)

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only``, those of these numbers, from 1."""
        total, number = self.total, 0
        for part, pages in self.parts:
            for place, rows in enumerate(pages):
                number += 1
                if only is None or number in only:
                    yield part_page(part, rows, self.paper, place=place, number=number, total=total)


def lay_cut_sheet(plan: Plan, paper: Paper = COMMON) -> CutSheetDocument:
    """Decide what is on which page.

    Counts, what to buy, cautions, pots and saws, sheets to cut, rafts to drill, beds, and last what
    other choices give. Rafts without a bed, as they are printed out of the log, come with the
    cautions alone.
    """
    rafts = [raft_part(plan, bed, design, paper) for bed in plan.beds for design in bed.designs]
    if rafts and not any(bed.layout.outline.curves for bed in plan.beds):
        return _spread([*rafts, cautions_part(plan, paper)], paper)
    parts = [overview_part(plan, paper)]
    if any(bed.rafts for bed in plan.beds):
        parts.append(shopping_part(plan, paper))
    parts.append(cautions_part(plan, paper))
    if (pots := pots_part(plan, paper)) is not None:
        parts.append(pots)
    parts += sheet_parts(plan, paper)
    parts += rafts
    parts += [bed_part(plan, bed, paper) for bed in plan.beds if bed.layout.outline.curves]
    if (compared := compare_part(plan, paper)) is not None:
        parts.append(compared)
    return _spread(parts, paper)


def _spread(parts: Iterable[Part], paper: Paper) -> CutSheetDocument:
    return CutSheetDocument(paper, tuple((part, paginate(part, paper)) for part in parts))


def compose_cut_sheet(plan: Plan, paper: Paper = COMMON) -> tuple[Page, ...]:
    """Compose the cut sheet of a plan."""
    return tuple(lay_cut_sheet(plan, paper).pages())
