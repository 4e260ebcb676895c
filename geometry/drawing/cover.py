"""The first page of a template: is the size true, how do the pages go together, what to mind."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from math import asin, hypot, pi

from geometry.drawing.check_figures import check_block
from geometry.drawing.figures import diameter_text, length_text
from geometry.drawing.lettering import LEADING, line, paragraph, wrapped
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, Path
from geometry.drawing.page_map import large_map, left_out_words, map_size
from geometry.drawing.paper import Page, Picture
from geometry.drawing.raft import pilot_mark
from geometry.drawing.stamp import PROGRAM
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS, TemplateSet
from geometry.drawing.text_width import missing_characters
from geometry.model.curves import Arc, Point
from geometry.tongue import mark, number, tr
from geometry.units import MM_PER

_TITLE_MM = 7.0
_TEXT_MM = 3.1
_HEAD_MM = 3.8
_COLUMN_MM = 70.0
_FIGURES_MM = 120.0
_SMALLER = (0.94, 0.88, 0.82, 0.76)
"""How words become smaller where there is too little room for them."""
_MOST_FACTS = 3
_LARGEST_MM = 110.0
_LEAST_MAP_MM = 50.0
_MOST_LEFT_OUT = 5
"""So many lines at the most list the pages that are left out."""

CAUTIONS = (
    mark("Foam dust: mask and vacuum, and drill away from the water."),
    mark("Hole saw: clamp the raft, wear eye protection, no gloves near a spinning saw."),
    mark("The cut sheet holds the rest."),
)


@dataclass(slots=True)
class _Column:
    """Words and figures one below the other."""

    left: float
    top: float
    width: float
    scale: float = 1.0
    marks: list[Mark] = field(default_factory=list)

    def head(self, text: str) -> None:
        """Write a heading."""
        lines, self.top = paragraph(
            self.left, self.top, text, _HEAD_MM * self.scale, self.width, style=Style.TITLE
        )
        self.marks.extend(lines)
        self.top -= 0.6

    def text(self, text: str, *, after: float = 1.0) -> None:
        """Write a paragraph."""
        lines, self.top = paragraph(self.left, self.top, text, _TEXT_MM * self.scale, self.width)
        self.marks.extend(lines)
        self.top -= after


def cover_page(template: TemplateSet) -> Page:
    """Compose the cover of one design's set."""
    setup = template.cover_setup
    border = setup.border
    area = Box(border, border, setup.width_mm - border, setup.height_mm - border)
    title, top = _title(template, area)
    figures, bottom = check_block(area.left, top - 2)
    beside = _shrunk(lambda scale: _beside(template, area, top, scale), area.bottom + _LEAST_MAP_MM)
    steps = _shrunk(lambda scale: _steps(template, area, bottom - 4, scale), area.bottom)
    map_column = _map(template, area, beside.top - 4)
    groups = (
        Group("title", title),
        Group("check-figures", figures),
        Group("largest-hole", tuple(beside.marks)),
        Group("steps", tuple(steps.marks)),
        Group("map", tuple(map_column.marks)),
        Group("missing", tuple(_missing(template, area))),
    )
    return Page(
        setup.width_mm,
        setup.height_mm,
        tr(
            "{name}, page {cover}: read this first", name=template.design.name, cover=template.cover
        ),
        (Picture(Drawing(groups)),),
        bookmark=f"{template.design.name}: {template.task}",
        stretch=(setup.across, setup.along),
    )


def _shrunk(write: Callable[[float], _Column], lowest: float) -> _Column:
    """Write a column in smaller letters until it ends above ``lowest``, or they are smallest."""
    column = write(1.0)
    for scale in _SMALLER:
        if column.top >= lowest:
            break
        column = write(scale)
    return column


def _title(template: TemplateSet, area: Box) -> tuple[tuple[Mark, ...], float]:
    marks: list[Mark] = []
    name = tr("Template {name}", name=template.design.name)
    if template.tiling.mirrored:
        name = tr("Mirrored template {name}", name=template.design.name)
    y = area.top - _TITLE_MM
    marks.append(line(area.left, y, name, _TITLE_MM, style=Style.TITLE, room=area.width - 40))
    pages = tr("page {cover} of {total}", cover=template.cover, total=template.total)
    marks.append(line(area.right, y, pages, 4, anchor="right"))
    y -= 6.4
    marks.append(line(area.left, y, template.face, 5, style=Style.TITLE, room=area.width))
    y -= 6
    task = f"{template.task[0].upper()}{template.task[1:]}"
    marks.append(line(area.left, y, task, 4, style=Style.TITLE, room=area.width))
    y -= 5
    marks.append(line(area.left, y, template.place, 3.6, room=area.width))
    y -= 4.8
    stamp = tr(
        "{stamp}; {program}. Pages with another code are of another raft: never mix them.",
        stamp=", ".join(template.stamp),
        program=PROGRAM,
    )
    facts = "; ".join((template.size, template.side, *template.hole_lines))
    rows = wrapped(facts, _TEXT_MM, area.width)
    if len(rows) > _MOST_FACTS:
        rows = (*rows[: _MOST_FACTS - 1], tr("… the rest is on the cut sheet"))
    for text in rows:
        marks.append(line(area.left, y, text, _TEXT_MM))
        y -= 4.2
    words = tr("{paper} {print_words}.", paper=template.paper, print_words=tr(PRINT_WORDS))
    stamp = stamp[0].upper() + stamp[1:]
    for text in (*wrapped(stamp, _TEXT_MM, area.width), *wrapped(words, _TEXT_MM, area.width)):
        marks.append(line(area.left, y, text, _TEXT_MM))
        y -= 4.2
    return tuple(marks), y + 2.2


def _beside_width(area: Box) -> float:
    """Return how wide the right column is: it leaves room for the figures beside it."""
    return min(_COLUMN_MM, area.width - _FIGURES_MM)


def _beside(template: TemplateSet, area: Box, top: float, scale: float) -> _Column:
    """Say when the size is true, and draw the largest hole to lay the saw on."""
    width = _beside_width(area)
    column = _Column(area.right - width, top, width, scale)
    column.head(tr("1  Print page {cover} only, and check it", cover=template.cover))
    column.text(
        tr(
            "Open the file in a PDF reader, not in the browser. Choose Actual size, 100 %, None or "
            "Scale off; never Fit, Shrink, Fill or Borderless."
        )
    )
    inch = float(MM_PER["in"])
    column.text(
        tr(
            "Measure all four bars with the tape that you will work with. Good: 99.5 to "
            "100.5 mm, and 4 in within 1/50 in ({low} to {high} mm). A printer can be right "
            "across and wrong along.",
            low=number(4 * inch - 0.5, 1),
            high=number(4 * inch + 0.5, 1),
        )
    )
    column.text(
        tr(
            "Not good? Look for the scale again. If it is right and a bar is not, type what "
            "the bar measures into the program. Never go on with a wrong size."
        )
    )
    diameters = template.design.holes.diameters
    if not len(diameters):
        return column
    largest = float(diameters.max())
    column.head(tr("The largest hole: {largest}", largest=diameter_text(largest, template.unit)))
    if largest > _LARGEST_MM:
        column.text(tr("It is too large for this page; lay the saw on any hole of the next pages."))
        return column
    column.text(tr("Lay the saw on it: its teeth stand on the line."))
    centre = Point(area.right - width / 2, column.top - largest / 2 - 1)
    column.marks.extend(_round_hole(centre, largest / 2, width))
    column.top = centre.y - largest / 2 - 1
    return column


def _round_hole(centre: Point, radius: float, room: float) -> Iterator[Mark]:
    """Draw a hole; where it is wider than its room, the parts of it above and below."""
    yield from pilot_mark(centre, radius)
    if 2 * radius <= room - 4:
        yield Circle(centre, radius, Style.HOLE)
        return
    half = asin((room - 4) / 2 / radius)
    for middle in (pi / 2, -pi / 2):
        yield Path((Arc(centre, radius, middle - half, 2 * half),), Style.HOLE)


def _steps(template: TemplateSet, area: Box, top: float, scale: float) -> _Column:
    column = _Column(area.left, top, area.width - _beside_width(area) - 8, scale)
    count = len(template.tiling.cells)
    if template.roll_words:
        column.head(tr("2  Have the rest printed from the roll"))
        for text in template.roll_words:
            column.text(text)
    else:
        column.head(tr("2  Print the rest the same way"))
        column.text(
            tr(
                "Pages {cover} to {last}, same printer, same paper, all on one day: paper "
                "grows and shrinks.",
                cover=template.cover + 1,
                last=template.last,
            )
            if count > 1
            else tr("Page {last}, same printer, same paper, the same day.", last=template.last)
        )
    if count > 1:
        first = template.cover + 1
        column.head(tr("3  Put the pages together, cross on cross"))
        column.text(
            tr(
                "With scissors, cut off the right and the top strip of a page at the dashed lines, "
                "where its words say so. Leave the left and the lower edge: they go under."
            )
        )
        column.text(
            tr(
                "Start with page {first} at the lower left of the map. Slip the next "
                "page under the cut edge until cross lies on cross, and tape. Each "
                "cross says where it is on the raft, measured from the datum corner: "
                "set it by tape where pages are left out.",
                first=first,
            )
        )
        column.text(_tape_check(template))
    column.head(tr("{step}  Mark and drill", step=4 if count > 1 else 3))
    column.text(
        tr(
            "Turn the raft over. Lay the mirrored template on its underside, datum corner on datum "
            "corner, outline on the edges, and tape it down. Punch every centre through the paper, "
            "lift the paper, drill."
        )
        if template.tiling.mirrored
        else tr(
            "Lay the template on the top face of the raft, datum corner on datum corner, "
            "outline on the edges, and tape it down. Punch every centre through the paper, lift "
            "the paper, drill."
        )
    )
    column.text(" ".join(map(tr, CAUTIONS)), after=0)
    return column


def _tape_check(template: TemplateSet) -> str:
    tiling = template.tiling
    names = sorted(
        {
            (column + right, row + up)
            for column, row in tiling.cells
            for right in (0, 1)
            for up in (0, 1)
        }
    )
    first, last = max(combinations(_rim(names), 2), key=lambda pair: _apart(template, *pair))
    return tr(
        "Check by tape: cross {first} to cross {last} is {apart}. Two "
        "millimetres more or less are good for foam.",
        first=tiling.cross_name(*first),
        last=tiling.cross_name(*last),
        apart=_both(_apart(template, first, last), template),
    )


def _rim(names: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return the lowest and the highest of each column: the farthest two are among them."""
    columns: dict[int, list[int]] = {}
    for column, row in names:
        columns.setdefault(column, []).append(row)
    return sorted(
        {(column, end) for column, rows in columns.items() for end in (min(rows), max(rows))}
    )


def _apart(template: TemplateSet, first: tuple[int, int], last: tuple[int, int]) -> float:
    tiling = template.tiling
    return hypot((first[0] - last[0]) * tiling.step_x, (first[1] - last[1]) * tiling.step_y)


def _both(mm: float, template: TemplateSet) -> str:
    text = tr("{mm} mm", mm=number(mm, 1))
    return f"{length_text(mm, 'in')} ({text})" if template.unit == "in" else text


def _map(template: TemplateSet, area: Box, top: float) -> _Column:
    width = _beside_width(area)
    column = _Column(area.right - width, top, width)
    column.head(tr("Map of the pages"))
    tiling = template.tiling
    left_out = left_out_words(tiling.blank)
    rows = wrapped(left_out, _TEXT_MM, column.width) if left_out else ()
    if len(rows) > _MOST_LEFT_OUT:  # the map says it better, and needs the room
        left_out = tr(
            "Left out, nothing is on them: the {n} pages struck out here.", n=len(tiling.blank)
        )
        rows = wrapped(left_out, _TEXT_MM, column.width)
    room = column.top - area.bottom - 7 - len(rows) * _TEXT_MM * LEADING
    size = map_size(tiling, column.width - 8, min(room, 90))
    bottom = column.top - size.height - 1
    left = column.left + 6
    column.marks.extend(large_map(template.design, tiling, template.numbers, left, bottom, size))
    column.top = bottom - 6
    if left_out:
        column.text(left_out, after=0)
    return column


def _missing(template: TemplateSet, area: Box) -> Iterator[Mark]:
    names = missing_characters(f"{template.place} {template.task} {template.tiling.setup.words}")
    if names:
        text = tr(
            "Shown as □, because no font here has them: {characters}",
            characters=", ".join(names).lower(),
        )
        yield line(area.left, area.bottom, text, 2.2, room=area.width)
