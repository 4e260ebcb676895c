"""Words, tables and figures that run down one page and on to the next."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from geometry.drawing.lettering import LEADING, fitting_height, line, wrapped
from geometry.drawing.marks import Anchor, Box, Drawing, Group, Mark, stroke
from geometry.drawing.paper import Page, Paper, Picture
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import shortened_within, text_width
from geometry.model.curves import Point
from geometry.tongue import tr

TEXT_MM = 3.2
"""Font size of running words."""

SET_GAP_MM = 4.0
"""Between two sets of columns that stand beside each other."""

_TITLE_MM = 7.0
_SMALLEST_TITLE_MM = 4.2
_TASK_MM = 4.2
_HEAD_MM = 4.2
_GAP_MM = 3.0
_BESIDE_MM = 4.0
_HEAD_GAP_MM: dict[Anchor, float] = {"left": 1.5, "middle": 1.5, "right": _BESIDE_MM}


@dataclass(frozen=True, slots=True)
class Row:
    """Something that is never broken between two pages.

    ``draw`` makes its marks from its left and upper side. ``header`` is repeated above it when it
    is the first on a page. ``keeps`` ties it to the row after it.
    """

    height: float
    draw: Callable[[float, float], Iterable[Mark]]
    header: "Row | None" = None
    keeps: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, its width, and on which side its words stand.

    Words that are too wide lose their end or, with ``keeps_end``, their middle.
    """

    head: str
    width: float
    anchor: Anchor = "left"
    keeps_end: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a document: what stands at the head of each of its pages, and its rows."""

    title: str
    task: str
    rows: tuple[Row, ...]
    bookmark: str = ""


def page_area(paper: Paper) -> Box:
    """Return the part of a page that printers reach."""
    white = paper.white_mm
    return Box(white, white, paper.width_mm - white, paper.height_mm - white)


def row_width(paper: Paper) -> float:
    """Return the width that rows have on a page."""
    return page_area(paper).width


def row_room(paper: Paper) -> float:
    """Return the height that rows have on one page."""
    return page_area(paper).height - _TITLE_MM - _TASK_MM - 10


def paginate(part: Part, paper: Paper) -> tuple[tuple[Row, ...], ...]:
    """Spread the rows of a part over pages."""
    room = row_room(paper)
    pages: list[list[Row]] = [[]]
    used = 0.0
    for tied in _tied(part.rows):
        height = sum(row.height for row in tied)
        if used + height > room and pages[-1]:
            pages.append([])
            used = 0.0
        header = tied[0].header
        if header is not None and not pages[-1]:
            pages[-1].append(header)
            used += header.height
        pages[-1].extend(tied)
        used += height
    return tuple(map(tuple, pages))


def part_page(
    part: Part, rows: Sequence[Row], paper: Paper, *, place: int, number: int, total: int
) -> Page:
    """Draw one page of a part; ``place`` counts its pages from 0."""
    area = page_area(paper)
    marks: list[Mark] = []
    y = area.top - _TITLE_MM * 0.8
    more = f" ({tr('continued')})" if place else ""
    title = part.title + more
    room = area.width - 34
    height = min(_TITLE_MM, max(_SMALLEST_TITLE_MM, room / text_width(title, 1, bold=True)))
    left = room - text_width(more, height, bold=True)
    shown = shortened_within(part.title, height, left, bold=True) + more
    marks.append(line(area.left, y, shown, height, style=Style.TITLE))
    marks.append(
        line(
            area.right,
            y,
            tr("page {number} of {total}", number=number, total=total),
            4,
            anchor="right",
        )
    )
    y -= 6.4
    marks.append(line(area.left, y, part.task, _TASK_MM, room=area.width))
    y -= 3.4
    marks.append(stroke(Point(area.left, y), Point(area.right, y), Style.FRAME))
    groups = [Group("head", tuple(marks))]
    top = y - 2.0
    for row in rows:
        groups.append(Group("row", tuple(row.draw(area.left, top))))
        top -= row.height
    return Page(
        paper.width_mm,
        paper.height_mm,
        tr("{title}, page {number}", title=title, number=number),
        (Picture(Drawing(tuple(groups))),),
        bookmark="" if place else part.bookmark,
    )


def heading(text: str, room: float | None = None, *, height: float = _HEAD_MM) -> Row:
    """Make a heading of one line that stays with what follows; smaller where there is no room."""
    wide = text_width(text, 1, bold=True)
    size = height if room is None else min(height, max(TEXT_MM, room / wide))

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield line(left, top - height - 1.6, text, size, style=Style.TITLE, room=room)

    return Row(height + 4.2, draw, keeps=True)


def words(
    text: str,
    width: float,
    *,
    height: float = TEXT_MM,
    indent: float = 0.0,
    style: Style = Style.LABEL,
) -> Row:
    """Make a paragraph."""
    rows = wrapped(text, height, width - indent, bold=PENS[style].bold)

    def draw(left: float, top: float) -> Iterator[Mark]:
        for number, row in enumerate(rows):
            y = top - height - number * height * LEADING
            yield line(left + indent, y, row, height, style=style)

    return Row(len(rows) * height * LEADING + 0.8, draw)


def gap(height: float = _GAP_MM) -> Row:
    """Make an empty row."""
    return Row(height, lambda _left, _top: ())


def columns_of(*stacks: tuple[float, Sequence[Row]]) -> Row:
    """Set stacks of rows beside each other, each as far from the left as it says."""

    def draw(left: float, top: float) -> Iterator[Mark]:
        for aside, rows in stacks:
            at = top
            for row in rows:
                yield from row.draw(left + aside, at)
                at -= row.height

    return Row(max(sum(row.height for row in rows) for _, rows in stacks), draw)


def together(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Keep rows on one page, as long as they fit on one."""
    return tuple(replace(row, keeps=True) for row in rows[:-1]) + tuple(rows[-1:])


def table(
    columns: Sequence[Column],
    cells: Iterable[Sequence[str]],
    *,
    height: float = TEXT_MM,
    room: float | None = None,
) -> tuple[Row, ...]:
    """Make a table; its headings are repeated on every page. In less room all columns shrink."""
    wide = sum(column.width for column in columns)
    if room is not None and wide > room:
        columns = [replace(column, width=column.width * room / wide) for column in columns]
    header = _table_row(columns, [column.head for column in columns], height, style=Style.TITLE)
    rows = tuple(_table_row(columns, row, height, header=header) for row in cells)
    return (header, *rows) if rows else ()


def side_by_side(
    columns: Sequence[Column],
    cells: Sequence[tuple[str, ...]],
    sets: int,
    *,
    height: float = TEXT_MM,
) -> tuple[Row, ...]:
    """Make a table whose rows hold several entries; reading runs across."""
    empty = ("",) * len(columns)
    spacer = Column("", SET_GAP_MM)
    wide: list[Column] = []
    for number in range(sets):
        wide.extend([*([spacer] if number else []), *columns])
    rows: list[list[str]] = []
    for first in range(0, len(cells), sets):
        chosen = [*cells[first : first + sets], *[empty] * sets][:sets]
        row: list[str] = []
        for number, cell in enumerate(chosen):
            row.extend([*([""] if number else []), *cell])
        rows.append(row)
    return table(wide, rows, height=height)


def _table_row(
    columns: Sequence[Column],
    cells: Sequence[str],
    height: float,
    *,
    style: Style = Style.LABEL,
    header: Row | None = None,
) -> Row:
    step = height * 1.55
    bold = PENS[style].bold
    size = height
    if header is None:  # headings of another tongue may be longer than their columns
        sizes = [
            fitting_height(cell, height, column.width - _HEAD_GAP_MM[column.anchor], bold=bold)
            for column, cell in zip(columns, cells, strict=True)
            if cell
        ]
        size = min(sizes, default=height)

    def draw(left: float, top: float) -> Iterator[Mark]:
        x = left
        for column, cell in zip(columns, cells, strict=True):
            if cell:
                room = column.width - 1.5
                fits = shortened_within(cell, height, room, bold=bold) if column.keeps_end else cell
                own = size if header is None else fitting_height(fits, height, room, bold=bold)
                at = x + (0 if column.anchor == "left" else column.width - _BESIDE_MM)
                yield line(
                    at, top - height * 1.1, fits, own, style=style, anchor=column.anchor,
                    room=room,
                )  # fmt: skip
            x += column.width
        pen = Style.FRAME if PENS[style].bold else Style.RULE
        yield stroke(Point(left, top - step), Point(x, top - step), pen)

    return Row(step + 0.4, draw, header=header, keeps=header is None)


def _tied(rows: Sequence[Row]) -> Iterator[list[Row]]:
    """Give the rows in bundles that stay together."""
    bundle: list[Row] = []
    for row in rows:
        bundle.append(row)
        if not row.keeps:
            yield bundle
            bundle = []
    if bundle:
        yield bundle
