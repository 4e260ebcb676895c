"""The documents of pages that a plan can be written as: one row each, nothing else names them all.

A new document is a layout in ``geometry.drawing`` and a row here. With that it is offered in the
window, looked at before it is written, and known to the command.
"""

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from typing import Final, Protocol

from geometry.drawing.coupon import lay_coupon
from geometry.drawing.cut_sheet import lay_cut_sheet
from geometry.drawing.handout import lay_handout
from geometry.drawing.labels import lay_labels
from geometry.drawing.measuring import lay_measuring
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.printer_page import PrinterPages
from geometry.drawing.register import lay_register
from geometry.drawing.shopping_pages import lay_shopping
from geometry.drawing.short.cell import lay_cell
from geometry.drawing.short.corners import lay_corners
from geometry.drawing.short.jig import lay_jig
from geometry.drawing.short.pegboard import lay_pegboard
from geometry.drawing.short.strip_pages import lay_strip
from geometry.drawing.short.trace import lay_trace
from geometry.drawing.template import lay_mirrored, lay_template
from geometry.drawing.water_pages import lay_water
from geometry.drawing.week_pages import lay_weeks
from geometry.plan import Plan
from geometry.tongue import mark


class Laid(Protocol):
    """A document whose pages are decided on but not drawn yet."""

    @property
    def total(self) -> int:
        """How many pages there are."""

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only``, those of these numbers, from 1."""


@dataclass(frozen=True, slots=True)
class PageDocument:
    """One kind of document.

    ``file`` is its name on the disk. ``title`` (to be translated) stands in the file and in the
    choice of what to look at, ``words`` beside the switch that has it written. One that is
    ``usual`` is written when nothing else is asked for. One that ``tells_cuts`` waits for the best
    cut plan. A ``template`` is laid on the foam, at true size.
    """

    file: str
    title: str
    words: str
    lay: Callable[[Plan, PageSetup], Laid]
    is_usual: bool = False
    is_template: bool = False
    tells_cuts: bool = False


TEMPLATE: Final = "template.pdf"
MIRRORED: Final = "template-mirrored.pdf"
CUT_SHEET: Final = "cut-sheet.pdf"

DOCUMENTS: Final = (
    PageDocument(
        TEMPLATE,
        mark("Template"),
        mark("Templates at true size"),
        lay_template,
        is_usual=True,
        is_template=True,
    ),
    PageDocument(
        CUT_SHEET,
        mark("Cut sheet"),
        mark("Cut sheets for the workshop"),
        lambda plan, setup: lay_cut_sheet(plan, setup.plain),
        is_usual=True,
        tells_cuts=True,
    ),
    PageDocument(
        "shopping.pdf",
        mark("Shopping list"),
        mark("Shopping list"),
        lambda plan, setup: lay_shopping(plan, setup.plain),
        tells_cuts=True,
    ),
    PageDocument(
        "handout.pdf",
        mark("Handout for classes"),
        mark("Handout for classes, in large letters"),
        lambda plan, setup: lay_handout(plan, setup.plain),
        tells_cuts=True,
    ),
    PageDocument(
        "weeks.pdf",
        mark("The weeks"),
        mark("Week by week: map and tasks"),
        lambda plan, setup: lay_weeks(plan, setup.plain, setup.period),
    ),
    PageDocument(
        "labels.pdf",
        mark("Raft labels"),
        mark("Raft labels to cut out"),
        lambda plan, setup: lay_labels(plan, setup.plain, setup.period),
    ),
    PageDocument(
        "register.pdf",
        mark("Register"),
        mark("Raft register and batch log for the wall"),
        lambda plan, setup: lay_register(plan, setup.plain),
    ),
    PageDocument(
        "measuring.pdf",
        mark("Measuring page"),
        mark("Measuring page to fill in by hand"),
        lambda plan, setup: lay_measuring(plan, setup.plain),
    ),
    PageDocument(
        "water.pdf",
        mark("Water page"),
        mark("Water page for each bed: figures, cautions, readings"),
        lambda plan, setup: lay_water(plan, setup.plain),
    ),
    PageDocument(
        "printer-page.pdf",
        mark("Printer page"),
        mark("Page to measure the printer by"),
        lambda plan, setup: PrinterPages((setup.paper,), plan.project.units),
    ),
    PageDocument(
        MIRRORED,
        mark("Mirrored template"),
        mark("Mirrored templates, to drill from below"),
        lay_mirrored,
        is_template=True,
    ),
    PageDocument(
        "coupon.pdf",
        mark("Test coupon"),
        mark("Test coupon: three saws for a pot, at true size"),
        lay_coupon,
        is_template=True,
    ),
    PageDocument(
        "strip.pdf", mark("Strip"), mark("Short template: strip"), lay_strip, is_template=True
    ),
    PageDocument(
        "corners.pdf",
        mark("Corners"),
        mark("Short template: corners"),
        lay_corners,
        is_template=True,
    ),
    PageDocument(
        "cell.pdf", mark("Cell"), mark("Short template: single cell"), lay_cell, is_template=True
    ),
    PageDocument(
        "jig.pdf", mark("Jig board"), mark("Plan of a jig board"), lay_jig, is_template=True
    ),
    PageDocument(
        "pegboard.pdf",
        mark("Pegboard"),
        mark("Holes of a 1 in pegboard to use"),
        lay_pegboard,
        is_template=True,
    ),
    PageDocument(
        "trace.pdf", mark("Trace"), mark("Trace of odd edges"), lay_trace, is_template=True
    ),
)

BY_FILE: Final = {document.file: document for document in DOCUMENTS}
