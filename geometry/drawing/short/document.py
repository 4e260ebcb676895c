"""A document of short templates: for each raft design pages of words, then pages at true size."""

from collections.abc import Callable, Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from geometry.drawing.check_figures import check_block
from geometry.drawing.flow import (
    Part,
    Row,
    gap,
    heading,
    paginate,
    part_page,
    row_room,
    row_width,
    together,
    words,
)
from geometry.drawing.lettering import paragraph
from geometry.drawing.marks import Mark
from geometry.drawing.paper import Page, PageSetup, Paper
from geometry.drawing.short.job import Job, about
from geometry.drawing.short.slips import Error
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS
from geometry.tongue import mark, number, tr

_TEXT_MM = 3.1
_HEAD_MM = 3.8
_FIGURES = (120.0, 124.0)
_GAP_MM = 5.0
_PICTURE_WIDTH = 78.0
_SCALES = (1.0, 0.94, 0.88, 0.82, 0.76)
_PICTURE_HEIGHTS = (50.0, 92.0)

DRILL_WORDS = mark("What the drill wanders comes on top of it.")
"""What no template can help."""

TruePage = Callable[[int, int], Page]
"""Draws a page at true size from its number and the number of all pages."""


@dataclass(frozen=True, slots=True)
class ShortSet:
    """What one document holds for one raft design.

    ``error`` is the largest that its holes can have, ``stepped`` the one without chalk lines where
    that is another. ``rows`` are its words; ``sheets`` its pages at true size. A set that does not
    suit the raft has a ``reason`` instead and no pages; its rows follow the reason.
    """

    job: Job
    reason: str = ""
    error: Error | None = None
    stepped: Error | None = None
    rows: tuple[Row, ...] = ()
    sheets: tuple[TruePage, ...] = ()

    @property
    def part(self) -> Part:
        """The pages of words; empty of rows for a set left out."""
        job = self.job
        task = f"{job.task[0].upper()}{job.task[1:]}"
        return Part(
            job.design.name, f"{task}; {job.place}", self.rows, f"{job.design.name}: {job.task}"
        )


@dataclass(frozen=True, slots=True)
class ShortDocument:
    """All sets of one kind; ``title`` (translated) is at the head of each page of words.

    Designs that it does not suit are named on a last page, each with its reason. With ``checks``
    its pages are at true size: the printer is corrected.
    """

    title: str
    sets: tuple[ShortSet, ...]
    paper: Paper
    setup: PageSetup
    checks: bool = True

    @property
    def total(self) -> int:
        """How many pages there are."""
        return sum(1 for _ in self._drawers())

    def pages_of(self, short: ShortSet) -> int:
        """How many pages a set has."""
        return 0 if short.reason else len(self._spread(short)) + len(short.sheets)

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only``, those of these numbers, from 1."""
        total = self.total
        for place, draw in enumerate(self._drawers(), start=1):
            if only is None or place in only:
                yield draw(place, total)

    def _drawers(self) -> Iterator[TruePage]:
        for short in self.sets:
            if not short.reason:
                yield from self._words(self._part(short), self._spread(short))
                yield from short.sheets
        if (missing := self._left_out()) is not None:
            yield from self._words(missing, paginate(missing, self.paper))

    def _part(self, short: ShortSet) -> Part:
        part = short.part
        return replace(part, title=f"{self.title} {part.title}")

    def _spread(self, short: ShortSet) -> tuple[tuple[Row, ...], ...]:
        return paginate(self._part(short), self.paper)

    def _words(self, part: Part, pages: Iterable[Sequence[Row]]) -> Iterator[TruePage]:
        for place, rows in enumerate(pages):

            def draw(
                number: int, total: int, place: int = place, rows: Sequence[Row] = rows
            ) -> Page:
                page = part_page(part, rows, self.paper, place=place, number=number, total=total)
                if not self.checks:
                    return page
                return replace(page, stretch=(self.setup.across, self.setup.along))

            yield draw

    def _left_out(self) -> Part | None:
        room = row_width(self.paper)
        missing = [short for short in self.sets if short.reason]
        if not missing and self.sets:
            return None
        rows: list[Row] = []
        for short in missing:
            rows += together([heading(short.job.design.name, room), words(short.reason, room)])
            rows += short.rows
        if not self.sets:
            rows.append(words(tr("There is no raft to drill."), room))
        title = self.title if len(missing) == len(self.sets) else f"{self.title}: {tr('left out')}"
        return Part(title, tr("It does not suit these rafts"), tuple(rows), title)


def short_document(
    title: str, sets: Iterable[ShortSet], setup: PageSetup, *, checks: bool = True
) -> ShortDocument:
    """Put the sets of all designs together."""
    paper = setup.true if checks else setup.plain
    return ShortDocument(title, tuple(sets), paper, setup, checks)


def error_words(error: Error, how: str) -> str:
    """State the largest error and how it comes about."""
    return tr(
        "No hole ends more than {error} beside its place: {along} along the rows, {across} across "
        "them. {how} {drill}",
        error=about(error.worst),
        along=about(error.along),
        across=about(error.across),
        how=how,
        drill=tr(DRILL_WORDS),
    )


def check_row(job: Job, error: str, room: float) -> Row:
    """Make the row at the head of a set: bars and card, and beside them what they are for."""

    def draw(left: float, top: float) -> Iterator[Mark]:
        figures, _ = check_block(left, top)
        yield from figures
        column = left + _FIGURES[0] + 4
        width = room - _FIGURES[0] - 4
        at = top
        for head, texts in (
            (tr("Check this page first"), (
                tr(
                    "Measure all four bars. Good: {low} to {high} mm; for 4 in {low_inch} to "
                    "{high_inch} mm.",
                    low=number(99.5, 1),
                    high=number(100.5, 1),
                    low_inch=number(101.1, 1),
                    high_inch=number(102.1, 1),
                ),
                tr("Else look for a page scale in the print dialogue, and print again."),
                f"{job.setup.words} {tr(PRINT_WORDS)}.",
                f"{job.facts}; {job.stamp}.",
            )),
            (tr("How true it is"), (error,)),
        ):  # fmt: skip
            lines, at = paragraph(column, at, head, _HEAD_MM, width, style=Style.TITLE)
            yield from lines
            at -= 0.6
            for text in texts:
                lines, at = paragraph(column, at, text, _TEXT_MM, width)
                yield from lines
                at -= 1.0
            at -= 1.4

    return Row(_FIGURES[1], draw)


Picture = Callable[[tuple[float, float], float, float], Iterable[Mark]]
"""Draws a picture of a size, from its left and its upper side."""


def set_rows(
    job: Job, error: str, steps: Sequence[tuple[str, str]], picture: Picture, below: Sequence[Row]
) -> tuple[Row, ...]:
    """Put a set's words together: the check, what to do beside a picture, and what is below.

    Words and picture become smaller where all then fits on the first page.
    """
    room = plain_room(job.setup)
    check = check_row(job, error, room)
    left = row_room(job.setup.true) - check.height - sum(row.height for row in below) - 2
    least, most = _PICTURE_HEIGHTS
    high = max(least, min(most, left - 1.1))
    for scale in _SCALES:
        row = _steps_row(steps, picture, high, room, scale)
        if row.height <= left:
            return (check, row, gap(2.0), *below)
    return (check, _steps_row(steps, picture, _PICTURE_HEIGHTS[1], room, 1.0), gap(2.0), *below)


def _steps_row(
    steps: Sequence[tuple[str, str]], picture: Picture, high: float, room: float, scale: float
) -> Row:
    """Make the row that says what to do, beside a picture."""
    width = room - _PICTURE_WIDTH - _GAP_MM

    def column(left: float, top: float) -> tuple[list[Mark], float]:
        drawn: list[Mark] = []
        at = top
        for step, (head, text) in enumerate(steps, start=1):
            lines, at = paragraph(
                left, at, f"{step}  {head}", _HEAD_MM * scale, width, style=Style.TITLE
            )
            drawn += lines
            lines, at = paragraph(left, at - 0.6, text, _TEXT_MM * scale, width)
            drawn += lines
            at -= 1.6 * scale
        return drawn, at

    height = max(-column(0.0, 0.0)[1], high) + 1

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from column(left, top)[0]
        yield from picture((_PICTURE_WIDTH, high), left + width + _GAP_MM, top)

    return Row(height, draw)


def plain_room(setup: PageSetup) -> float:
    """Return the width that rows have on a page of words."""
    return row_width(setup.true)


def spacer() -> Row:
    """Leave some room between two rows."""
    return gap(2.0)
