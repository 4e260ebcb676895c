"""A page at true size: a head with words, a check bar each way, and room for the drawing."""

from collections.abc import Iterable
from typing import Final

from geometry.drawing.check_figures import FOUR_INCHES_MM, bar_name, inch_bar, metric_bar
from geometry.drawing.lettering import fitting_height, line, wrapped
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, stroke
from geometry.drawing.paper import Page, PageSetup, Picture
from geometry.drawing.short.job import Job
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS
from geometry.drawing.text_width import text_width
from geometry.model.curves import Point
from geometry.tongue import tr

CROSS_MM: Final = 4.0
"""Half the size of a cross at a join."""

_RING_MM = 2.5
_HEAD_MM = 20.0
_FOOT_MM = 8.0
_SIDE_MM = 8.0
_TITLE_MM = 4.6
_SMALLEST_MM = 3.4
_TEXT_MM = 2.8
_STAMP_MM = 2.6


def true_room(setup: PageSetup) -> Box:
    """Return the part of a page in which a drawing at true size may stand."""
    border = setup.border
    return Box(
        border + _SIDE_MM,
        border + _FOOT_MM,
        setup.width_mm - border,
        setup.height_mm - border - _HEAD_MM,
    )


def true_page(
    job: Job,
    title: str,
    words: str,
    groups: Iterable[Group],
    number: int,
    total: int,
    *,
    clipped: Iterable[Group] = (),
) -> Page:
    """Put a drawing in page coordinates on a page; ``words`` are up to two lines at its head.

    ``clipped`` groups show within the room for drawings only.
    """
    setup = job.setup
    border = setup.border
    name = tr("{title}, page {number}", title=f"{title} {job.design.name}", number=number)
    return Page(
        setup.width_mm,
        setup.height_mm,
        name,
        (
            Picture(
                Drawing((
                    Group("head", tuple(_head(job, title, words, number, total))),
                    Group("check-bars", tuple(_bars(job, border))),
                ))
            ),
            *([Picture(Drawing(tuple(clipped)), true_room(setup))] if clipped else []),
            Picture(Drawing(tuple(groups))),
        ),
        stretch=(setup.across, setup.along),
    )  # fmt: skip


def cross_mark(at: Point) -> tuple[Mark, ...]:
    """Draw a cross in a ring, on which another piece of paper is laid."""
    x, y = at
    return (
        stroke(Point(x - CROSS_MM, y), Point(x + CROSS_MM, y), Style.REGISTRATION),
        stroke(Point(x, y - CROSS_MM), Point(x, y + CROSS_MM), Style.REGISTRATION),
        Circle(at, _RING_MM, Style.REGISTRATION),
    )


def _head(job: Job, title: str, words: str, number: int, total: int) -> Iterable[Mark]:
    setup = job.setup
    border = setup.border
    left, right = border, setup.width_mm - border
    top = setup.height_mm - border
    pages = tr("page {number} of {total}", number=number, total=total)
    room = right - left - text_width(pages, 3.6) - 6
    shown = f"{title} {job.design.name}"
    height = min(_TITLE_MM, max(_SMALLEST_MM, room / text_width(shown, 1, bold=True)))
    yield line(left, top - _TITLE_MM, shown, height, style=Style.TITLE, room=room)
    yield line(right, top - _TITLE_MM, pages, 3.6, anchor="right")
    task = wrapped(words, _TEXT_MM, right - left)[:2]
    paper = f"{setup.words} {tr(PRINT_WORDS)}."
    rest = [paper] if len(task) > 1 else wrapped(paper, _TEXT_MM, right - left)[:2]
    for row, text in enumerate((*task, *rest)):
        at = top - _TITLE_MM - 4.4 - row * 3.9
        size = fitting_height(text, _TEXT_MM, right - left)
        yield line(left, at, text, size, room=right - left)


def _bars(job: Job, border: float) -> Iterable[Mark]:
    """Draw a bar each way, and beside the lying one say which version the page is of."""
    inches = job.unit == "in"
    bar, name = (inch_bar, "4 in") if inches else (metric_bar, "100 mm")
    length = FOUR_INCHES_MM if inches else 100.0
    middle = (job.setup.width_mm - length) / 2
    for start, upright in (
        (Point(middle, border + 4), False),
        (Point(border + 3, (job.setup.height_mm - length) / 2), True),
    ):
        yield from bar(start, upright=upright)
        yield bar_name(start, name, upright=upright)
    right, room = job.setup.width_mm - border, middle - border - 4
    yield line(right, border + 2, job.stamp, _STAMP_MM, anchor="right", room=room)
