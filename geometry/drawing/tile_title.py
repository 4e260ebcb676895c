"""The words of a template page: what it is and how it joins, beside a map of all pages."""

from dataclasses import dataclass

from geometry.drawing.lettering import LEADING, line, wrapped
from geometry.drawing.marks import Box, Group
from geometry.drawing.page_map import map_size, small_map
from geometry.drawing.room import Room
from geometry.drawing.stamp import PROGRAM
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS, TemplateSet
from geometry.drawing.tile_edges import neighbours
from geometry.drawing.tiles import Cell
from geometry.tongue import listed, mark, tr

_TEXT_MM = 2.8
_UNDER = {
    "left": mark("left edge under page {number}"),
    "bottom": mark("bottom edge under page {number}"),
}
_CUT_OFF = {
    "right": mark("Cut off the right strip at the dashed line"),
    "top": mark("Cut off the top strip at the dashed line"),
}
_SMALLER = (0.94, 0.88, 0.82, 0.76)
"""How words become smaller in the strip at the foot where they would run over the border."""
_TITLE_MM = 4.0
_MAP_ROOM_MM = (34.0, 27.0)
_TEXT_ROOMS_MM = (96.0, 72.0, 56.0)
_LARGE_ROOM_MM = 250.0
_LARGE = 1.4
"""How much larger words are at the foot of a page from a roll."""
_GAP_MM = 3.0

FOOTER_MM = 42.0
"""Height of the strip at the foot of a page that holds the words where the drawing has no room."""

_Row = tuple[str, float, Style]


@dataclass(frozen=True, slots=True)
class _Place:
    """Where the words stand: their box, the width of their lines, how much larger they are."""

    box: Box
    text_room: float
    scale: float = 1.0


def has_place(template: TemplateSet, cell: Cell, room: Room, homeless: tuple[str, ...]) -> bool:
    """Tell whether ``title_block`` finds room."""
    return _place(template, cell, room, homeless) is not None


def title_block(
    template: TemplateSet, cell: Cell, room: Room, homeless: tuple[str, ...]
) -> Group | None:
    """Write what the page is; None where the drawing leaves no room.

    ``homeless`` are the texts of crosses beside which there was no room.
    """
    place = _place(template, cell, room, homeless)
    if place is None:
        return None
    room.boxes.append(place.box)
    rows = _rows(template, cell, place.text_room, homeless, place.scale)
    for scale in _SMALLER:
        if _height(rows) <= place.box.height:
            break
        rows = _rows(template, cell, place.text_room, homeless, place.scale * scale)
    size = map_size(template.tiling, *_MAP_ROOM_MM)
    left, top = place.box.left, place.box.top
    marks = list(small_map(template.tiling, template.numbers, cell, left, top - size.height, size))
    at = top
    for words, height, style in rows:
        at -= height * LEADING
        x = left + size.width + _GAP_MM
        marks.append(line(x, at + height * (LEADING - 1), words, height, style=style))
    return Group("title", tuple(marks))


def _place(
    template: TemplateSet, cell: Cell, room: Room, homeless: tuple[str, ...]
) -> _Place | None:
    tiling = template.tiling
    size = map_size(tiling, *_MAP_ROOM_MM)
    if tiling.footer:
        left, right = tiling.window()[::2]
        foot = Box(left, tiling.border, right, tiling.border + tiling.footer - 2)
        text_room = right - left - size.width - _GAP_MM
        if text_room < _LARGE_ROOM_MM:
            return _Place(foot, text_room)
        return _Place(foot, _LARGE_ROOM_MM, _LARGE)
    inner = tiling.inner()
    for text_room in _TEXT_ROOMS_MM:
        rows = _rows(template, cell, text_room, homeless, 1.0)
        width = size.width + _GAP_MM + text_room + 4
        height = max(size.height, _height(rows)) + 4
        found = room.free_box(width, height, inner.grown(-2), near=(inner.left, inner.top))
        if found is not None:
            return _Place(found.grown(-2), text_room)
    return None


def _height(rows: list[_Row]) -> float:
    return sum(high * LEADING for _, high, _ in rows)


def _rows(
    template: TemplateSet, cell: Cell, room: float, homeless: tuple[str, ...], scale: float
) -> list[_Row]:
    tiling = template.tiling
    column, row = cell
    where = tr(
        "Page {number} of {total}: column {column} of {columns}, row {row} of {rows}",
        number=template.numbers[cell],
        total=template.total,
        column=column + 1,
        columns=tiling.columns,
        row=row + 1,
        rows=tiling.rows,
    )
    what = ". ".join(
        (
            f"{template.place}: {template.task}",
            _begun(template.side),
            _begun(tr("{stamp}; {program}", stamp=", ".join(template.stamp), program=PROGRAM)),
            tr("{paper} {print_words}", paper=tiling.setup.words, print_words=tr(PRINT_WORDS)),
        )
    )
    texts = [where, *_joins(template, cell), what]
    if homeless:
        texts.append("; ".join(homeless))
    head = f"{template.design.name}, {template.face}"
    high, small = _TITLE_MM * scale, _TEXT_MM * scale
    rows: list[_Row] = [
        (words, high, Style.TITLE) for words in wrapped(head, high, room, bold=True)
    ]
    rows.extend(
        (words, small, Style.LABEL) for text in texts for words in wrapped(text, small, room)
    )
    return rows


def _begun(text: str) -> str:
    """Begin a text as a sentence begins."""
    return text[0].upper() + text[1:]


def _joins(template: TemplateSet, cell: Cell) -> tuple[str, ...]:
    beside = neighbours(cell, template.tiling)
    under = [
        tr(_UNDER[side], number=template.numbers[other])
        for side, other in beside.items()
        if side in _UNDER and other in template.numbers
    ]
    off = [side for side in ("right", "top") if beside.get(side) in template.numbers]
    parts = []
    if under:
        parts.append(listed(under).capitalize())
    if off:
        parts.append(
            tr("Cut off the right and the top strip at the dashed line")
            if len(off) > 1
            else tr(_CUT_OFF[off[0]])
        )
    return (". ".join(parts),) if parts else ()
