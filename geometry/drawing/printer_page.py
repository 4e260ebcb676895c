"""The printer page: two long lines and ticks at the edges, by which a printer is measured."""

from collections.abc import Container, Iterator
from dataclasses import dataclass
from typing import Final

from geometry.drawing.lettering import LEADING, fitting_height, line, paragraph, wrapped
from geometry.drawing.marks import Anchor, Box, Drawing, Group, Mark, frame, polyline, stroke
from geometry.drawing.paper import Page, Paper, Picture
from geometry.drawing.printer import READING_MM, TICKS_MM, Way, line_mm, meant_words
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.model.curves import Point
from geometry.tongue import mark, number, tr
from geometry.units import Unit

_ASIDE_MM: Final = 26.0
"""How far the long lines lie from the left and the lower edge."""

_END_MM: Final = 4.0
_TICK_GAP_MM: Final = 8.0
_FOOT_MM: Final = 4.4
_STEM_END_MM: Final = 13.5
_FIGURE_MM: Final = 3.0
_HALF_FIGURE_MM: Final = _FIGURE_MM * CAP_HEIGHT / 2
_ANCHORS: Final[dict[str, Anchor]] = {
    "bottom": "middle", "top": "middle", "left": "left", "right": "right",
}  # fmt: skip
_BESIDE_MM: Final = {"bottom": 2.2, "top": 2.2, "left": 1.0, "right": 1.0}
_NAME_MM: Final = 3.8
_TEXT_MM: Final = 4.2
_TITLE_MM: Final = 8.0
_WIDEST_MM: Final = 165.0
_BOX_MM: Final = 11.0
_SMALLER: Final = (1.0, 0.94, 0.88, 0.82)

_LINES: Final[dict[Way, str]] = {
    "across": mark("Across: {length} from end tick to end tick"),
    "along": mark("Along: {length} from end tick to end tick"),
}


@dataclass(frozen=True, slots=True)
class PrinterPages:
    """The printer pages of some papers, one each."""

    papers: tuple[Paper, ...]
    unit: Unit = "mm"

    @property
    def total(self) -> int:
        """How many pages there are."""
        return len(self.papers)

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another; with ``only`` those of these numbers, from 1."""
        for place, paper in enumerate(self.papers, start=1):
            if only is None or place in only:
                yield printer_page(paper, self.unit)


def printer_page(paper: Paper, unit: Unit = "mm") -> Page:
    """Compose the printer page of a paper, upright and at true size, never corrected.

    Both lines are ``line_mm`` long and lie in the middle of the paper the way they run, so that
    their ends stay 12 mm from the edges, or a little more.
    """
    body = Box(
        _ASIDE_MM + 12, _ASIDE_MM + 14,
        min(paper.width_mm - 26, _ASIDE_MM + 12 + _WIDEST_MM), paper.height_mm - 33,
    )  # fmt: skip
    steps: list[Mark] = []
    for scale in _SMALLER:
        steps, bottom = _steps(paper, body, scale)
        if bottom >= body.bottom:
            break
    groups = (
        Group("line-across", tuple(_long_line(paper, "across", unit))),
        Group("line-along", tuple(_long_line(paper, "along", unit))),
        Group("edge-ticks", tuple(_edge_ticks(paper))),
        Group("feed", tuple(_feed(paper))),
        Group("steps", tuple(steps)),
    )
    name = tr("Printer page, {paper}", paper=paper.said)
    return Page(
        paper.width_mm,
        paper.height_mm,
        name,
        (Picture(Drawing(groups)),),
        bookmark=name,
    )


def line_ends(paper: Paper, way: Way) -> tuple[Point, Point]:
    """Return where a long line begins and ends on its page."""
    length = line_mm(paper, way)
    if way == "across":
        start = (paper.width_mm - length) / 2
        return Point(start, _ASIDE_MM), Point(start + length, _ASIDE_MM)
    start = (paper.height_mm - length) / 2
    return Point(_ASIDE_MM, start), Point(_ASIDE_MM, start + length)


def _long_line(paper: Paper, way: Way, unit: Unit) -> Iterator[Mark]:
    start, end = line_ends(paper, way)
    yield stroke(start, end, Style.CHECK_BAR)
    for at in (start, end):
        across = (0.0, _END_MM) if way == "across" else (_END_MM, 0.0)
        yield stroke(
            Point(at.x - across[0], at.y - across[1]),
            Point(at.x + across[0], at.y + across[1]),
            Style.CENTRE,
        )
    words = tr(_LINES[way], length=meant_words(paper, way, unit))
    if way == "across":
        yield line(_ASIDE_MM + 12, _ASIDE_MM + 2, words, _NAME_MM, style=Style.TITLE)
    else:
        yield line(
            _ASIDE_MM + 2 + _NAME_MM, _ASIDE_MM + 14, words, _NAME_MM, style=Style.TITLE, angle=90
        )


def _edge_ticks(paper: Paper) -> Iterator[Mark]:
    """Draw a stair of ticks at each edge; each has a foot as far from the edge as its figure."""
    width, height = paper.width_mm, paper.height_mm
    for side, middle in (
        ("bottom", width / 2), ("top", width / 2), ("left", height / 2), ("right", height / 2),
    ):  # fmt: skip
        for place, far in enumerate(TICKS_MM):
            along = middle + (place - (len(TICKS_MM) - 1) / 2) * _TICK_GAP_MM
            ends = [_at(paper, side, along + half, far) for half in (-_FOOT_MM / 2, _FOOT_MM / 2)]
            yield stroke(ends[0], ends[1], Style.CENTRE)
            yield stroke(
                _at(paper, side, along, far), _at(paper, side, along, _STEM_END_MM), Style.CENTRE
            )
            figure = _at(paper, side, along, _STEM_END_MM + _BESIDE_MM[side])
            yield line(
                figure.x, figure.y - _HALF_FIGURE_MM, f"{far}", _FIGURE_MM, anchor=_ANCHORS[side]
            )


def _at(paper: Paper, side: str, along: float, far: float) -> Point:
    """Return the point so far from an edge, and so far along it from the left or from below."""
    match side:
        case "bottom":
            return Point(along, far)
        case "top":
            return Point(along, paper.height_mm - far)
        case "left":
            return Point(far, along)
        case _:
            return Point(paper.width_mm - far, along)


def _feed(paper: Paper) -> Iterator[Mark]:
    """Draw the arrow that says which edge goes in first."""
    x, top = _ASIDE_MM + 16.0, paper.height_mm - 13.0
    yield stroke(Point(x, top - 14), Point(x, top), Style.DATUM)
    yield polyline([Point(x - 2.5, top - 4), Point(x, top), Point(x + 2.5, top - 4)], Style.DATUM)
    text = tr("This edge enters the printer first")
    yield line(x + 5, top - 14, text, _NAME_MM, style=Style.TITLE)


def _steps(paper: Paper, body: Box, scale: float) -> tuple[list[Mark], float]:
    """Write what to do, and the boxes to write into; also return where that ends."""
    marks: list[Mark] = []
    size = _TEXT_MM * scale
    title = tr("Printer page: {paper}", paper=paper.said)
    y = body.top - _TITLE_MM
    height = fitting_height(title, _TITLE_MM, body.width, bold=True)
    marks.append(line(body.left, y, title, height, style=Style.TITLE, room=body.width))
    y -= 3
    facts = tr(
        "Page {size}. It is sent to the printer as it is, whatever was corrected before.",
        size=paper.size,
    )
    rows, y = paragraph(body.left, y, facts, size, body.width)
    marks.extend(rows)
    for step, text in enumerate(_step_texts(paper), start=1):
        y -= 2.4 * scale
        marks.append(line(body.left, y - size, f"{step}", size, style=Style.TITLE))
        rows, y = paragraph(body.left + 7, y, text, size, body.width - 7)
        marks.extend(rows)
    y -= 5 * scale
    for row in _fields(paper):
        boxes, y = _field_row(row, body, y, size)
        marks.extend(boxes)
    return marks, y


def _step_texts(paper: Paper) -> tuple[str, ...]:
    worst = float(READING_MM) / line_mm(paper, "across") * 100
    return (
        tr(
            "Print this page at 100 % (actual size, scale none), never fit, shrink or fill, from a "
            "PDF reader and from the tray that the templates will come from."
        ),
        tr(
            "Wait until the paper is cool and lies flat. Measure both long lines with a steel "
            "rule, from the middle of one end tick to the middle of the other."
        ),
        tr(
            "A rule is read to 0.3 mm at best, {percent} % of the line across. What is off by less "
            "may as well be true.",
            percent=number(worst, 2),
        ),
        tr(
            "At each edge look for the smallest number whose tick still has its foot, as a T has "
            "its bar: so much the printer leaves white there. An end tick that is missing means "
            "that it leaves more than 12 mm."
        ),
        tr(
            "Type the figures at Make, “Measure this printer”. Each paper of each printer is "
            "measured by itself, and once more after a year or a repair."
        ),
    )


def _fields(paper: Paper) -> tuple[tuple[tuple[str, int], ...], ...]:
    """Return the boxes row by row: what belongs into each, and how many columns it takes."""
    lines = (
        (tr("Across, meant to be {length}", length=meant_words(paper, "across", "mm")), 2),
        (tr("Along, meant to be {length}", length=meant_words(paper, "along", "mm")), 2),
    )
    edges = tuple(
        (tr(words), 1)
        for words in (
            mark("Left edge"), mark("Right edge"), mark("Upper edge"), mark("Lower edge"),
        )
    )  # fmt: skip
    return ((tr("Printer and tray"), 2), (tr("Day"), 2)), lines, edges


def _field_row(
    row: tuple[tuple[str, int], ...], body: Box, top: float, size: float
) -> tuple[list[Mark], float]:
    column = body.width / 4
    marks: list[Mark] = []
    lines = max(len(wrapped(words, size, column * wide - 4)) for words, wide in row)
    bottom = top - lines * size * LEADING - 1 - _BOX_MM
    at = body.left
    for words, wide in row:
        texts, _ = paragraph(at, top, words, size, column * wide - 4)
        marks.extend(texts)
        box = Box(at, bottom, at + column * wide - 4, bottom + _BOX_MM)
        marks.append(frame(box, Style.FRAME))
        at += column * wide
    return marks, bottom - 3.5
