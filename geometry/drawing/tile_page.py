"""One page of a template: its part of the raft at true size, and how it joins its neighbours."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.check_figures import FOUR_INCHES_MM, inch_bar, metric_bar
from geometry.drawing.figures import figure
from geometry.drawing.lettering import LEADING, line, wrapped
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, Path, Text, stroke
from geometry.drawing.page_map import map_size, small_map
from geometry.drawing.paper import Page, Picture
from geometry.drawing.raft import cross_size, datum_corner, hole_name, pilot_mark
from geometry.drawing.room import Room
from geometry.drawing.styles import Style
from geometry.drawing.template_set import PRINT_WORDS, TemplateSet
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.tiles import Cell, Tiling, rims_in
from geometry.drawing.transforms import Shift
from geometry.model.curves import Curve, Point
from geometry.model.measure import bounds_of

_CROSS_MM = 4.0
_RING_MM = 2.5
_EDGE_TEXT_MM = 2.5
_BLOCK_TEXT_MM = 2.8
_BLOCK_TITLE_MM = 4.0
_NUMBER_MM = 17.0
_NAME_REACH_MM = 12.0
_FARTHEST_NAME_MM = 24.0
_MAP_ROOM_MM = (34.0, 27.0)
_TEXT_ROOMS_MM = (96.0, 72.0, 56.0)
_GAP_MM = 3.0
_DATUM_LEG_MM = 20.0

FOOTER_MM = 42.0
"""Height of the strip at the foot of a page that holds the words where the drawing has no room."""


@dataclass(frozen=True, slots=True)
class _Sight:
    """What of the raft shows on a page, in page coordinates."""

    names: tuple[str, ...]
    centres: NDArray[np.float64]
    radii: NDArray[np.float64]

    def written(self) -> Iterator[Text]:
        """Write the names of the holes."""
        for name, (x, y), radius in zip(
            self.names, self.centres.tolist(), self.radii.tolist(), strict=True
        ):
            yield hole_name(name, Point(x, y), radius)


def tile_page(template: TemplateSet, cell: Cell) -> Page:
    """Compose the page of a cell."""
    tiling = template.tiling
    window = tiling.window()
    shift = tiling.on_page(cell)
    sight = _sight(template, shift, window)
    raft = Drawing((*_outline(template, shift, window), *_holes(sight, window)))
    room = _room(template, cell, sight)
    block = _block(template, cell, room)
    furniture = (
        *(_cross(column, row, cell, tiling) for column, row in _corners(cell)),
        Group("joins", tuple(_join_lines(cell, tiling))),
        *_cross_names(template, cell, room),
        Group("edges", tuple(_edge_words(template, cell, room))),
        Group("check-bars", tuple(_bars(template, room))),
        block,
    )
    under = Drawing((Group("page-number", (_number(template, cell),)),))
    return Page(
        tiling.paper.width_mm,
        tiling.paper.height_mm,
        f"{template.design.name}, page {template.numbers[cell]}",
        (Picture(under), Picture(raft, window), Picture(Drawing(furniture))),
        trim=window,
    )


def has_room(template: TemplateSet, cell: Cell) -> bool:
    """Tell whether the words of a page find room beside its drawing."""
    tiling = template.tiling
    sight = _sight(template, tiling.on_page(cell), tiling.window())
    room = _room(template, cell, sight)
    place = _block_place(template, cell, room)
    if place is None:
        return False
    room.boxes.append(place[0])
    return len(tuple(_cross_names(template, cell, room))) == len(_corners(cell))


def _room(template: TemplateSet, cell: Cell, sight: _Sight) -> Room:
    """Mark what is taken: the drawing, the names above rims, the page's number, the crosses."""
    tiling = template.tiling
    ring = shapely.LinearRing(tiling.on_page(cell).points(template.ring))
    outline = shapely.clip_by_rect(ring, *tiling.window())
    room = Room(sight.centres, sight.radii + 0.8, outline)
    room.boxes.extend(
        _text_box(name)
        for name, centre, radius in zip(sight.written(), sight.centres, sight.radii, strict=True)
        if name.at.y - centre[1] > radius
    )
    number = _number(template, cell)
    width = text_width(number.text, _NUMBER_MM, bold=True)
    x, y = number.at
    room.boxes.append(Box(x, y, x + width, y + _NUMBER_MM * CAP_HEIGHT).grown(1))
    room.boxes.extend(_cross_box(column, row, cell, tiling) for column, row in _corners(cell))
    return room


def _sight(template: TemplateSet, shift: Shift, window: Box) -> _Sight:
    holes = template.design.holes
    centres = shift.points(holes.xy)
    radii = holes.diameters / 2
    shown = rims_in(window, centres, radii + 0.3)
    names = tuple(holes.names[number] for number in np.flatnonzero(shown).tolist())
    return _Sight(names, centres[shown], radii[shown])


def _outline(template: TemplateSet, shift: Shift, window: Box) -> Iterator[Group]:
    """Draw the parts of the outline that reach the page, and the datum corner."""
    runs: list[list[Curve]] = [[]]
    curves = template.design.shape.loop.curves
    for curve in map(shift.curve, curves):
        if Box(*bounds_of((curve,))).grown(1).meets(window):
            runs[-1].append(curve)
        elif runs[-1]:
            runs.append([])
    whole = len(runs) == 1 and len(runs[0]) == len(curves)
    yield Group("outline", tuple(Path(tuple(run), Style.RAFT, closed=whole) for run in runs if run))
    at = shift.point(0, 0)
    if window.grown(_DATUM_LEG_MM).meets(Box(*at, *at).grown(0.1)):
        turn = Shift(at.x, at.y, quarters=shift.quarters)
        yield Group("datum", (turn.mark(datum_corner(Point(0, 0), _DATUM_LEG_MM)),))


def _holes(sight: _Sight, window: Box) -> Iterator[Group]:
    for name, written, (x, y), radius in zip(
        sight.names, sight.written(), sight.centres.tolist(), sight.radii.tolist(), strict=True
    ):
        centre = Point(x, y)
        marks: list[Mark] = [Circle(centre, radius, Style.HOLE)]
        if _holds(window, Box(x, y, x, y).grown(cross_size(radius))):
            marks.extend(pilot_mark(centre, radius))
        if _holds(window, _text_box(written)):
            marks.append(written)
        yield Group(name, tuple(marks))


def _holds(window: Box, box: Box) -> bool:
    slack = 1e-6
    return (
        window.left <= box.left + slack
        and window.bottom <= box.bottom + slack
        and box.right <= window.right + slack
        and box.top <= window.top + slack
    )


def _text_box(text: Text) -> Box:
    half = text_width(text.text, text.height) / 2
    x, y = text.at
    return Box(x - half, y, x + half, y + text.height * CAP_HEIGHT)


def _number(template: TemplateSet, cell: Cell) -> Text:
    """Write the page's number large and pale under the drawing, always in the same corner."""
    inner = template.tiling.window().grown(-template.tiling.overlap / 2)
    return line(
        inner.left + 7,
        inner.top - 7 - _NUMBER_MM * CAP_HEIGHT,
        f"{template.numbers[cell]}",
        _NUMBER_MM,
        style=Style.PAGE_NAME,
    )


def _corners(cell: Cell) -> tuple[Cell, ...]:
    column, row = cell
    return (column, row), (column + 1, row), (column, row + 1), (column + 1, row + 1)


def _corner_place(column: int, row: int, cell: Cell, tiling: Tiling) -> Point:
    inner = tiling.window().grown(-tiling.overlap / 2)
    x = inner.left if column == cell[0] else inner.right
    y = inner.bottom if row == cell[1] else inner.top
    return Point(x, y)


def _cross(column: int, row: int, cell: Cell, tiling: Tiling) -> Group:
    x, y = at = _corner_place(column, row, cell, tiling)
    return Group(
        f"cross {tiling.cross_name(column, row)}",
        (
            stroke(Point(x - _CROSS_MM, y), Point(x + _CROSS_MM, y), Style.REGISTRATION),
            stroke(Point(x, y - _CROSS_MM), Point(x, y + _CROSS_MM), Style.REGISTRATION),
            Circle(at, _RING_MM, Style.REGISTRATION),
        ),
    )


def _cross_box(column: int, row: int, cell: Cell, tiling: Tiling) -> Box:
    x, y = _corner_place(column, row, cell, tiling)
    return Box(x, y, x, y).grown(_CROSS_MM + 0.5)


def _join_lines(cell: Cell, tiling: Tiling) -> Iterator[Mark]:
    """Draw the lines along which neighbouring pages meet, between the crosses."""
    inner = tiling.window().grown(-tiling.overlap / 2)
    left, bottom, right, top = inner
    aside = _CROSS_MM + 1
    column, row = cell
    for joins, x in ((column > 0, left), (column < tiling.columns - 1, right)):
        if joins:
            yield stroke(Point(x, bottom + aside), Point(x, top - aside), Style.HINT)
    for joins, y in ((row > 0, bottom), (row < tiling.rows - 1, top)):
        if joins:
            yield stroke(Point(left + aside, y), Point(right - aside, y), Style.HINT)


@dataclass(frozen=True, slots=True)
class _Strip:
    """The narrow part of a page beyond one of its grid lines."""

    box: Box
    upright: bool

    def write(self, along: float, text: str) -> Text:
        """Write along the strip, in its middle."""
        aside = _EDGE_TEXT_MM * CAP_HEIGHT / 2
        if self.upright:
            middle = (self.box.left + self.box.right) / 2
            return line(middle + aside, along, text, _EDGE_TEXT_MM, angle=90)
        return line(along, (self.box.bottom + self.box.top) / 2 - aside, text, _EDGE_TEXT_MM)


def _strips(tiling: Tiling) -> dict[str, _Strip]:
    window = tiling.window()
    inner = window.grown(-tiling.overlap / 2)
    return {
        "left": _Strip(Box(window.left, inner.bottom, inner.left, inner.top), upright=True),
        "bottom": _Strip(Box(inner.left, window.bottom, inner.right, inner.bottom), upright=False),
        "right": _Strip(Box(inner.right, inner.bottom, window.right, inner.top), upright=True),
        "top": _Strip(Box(inner.left, inner.top, inner.right, window.top), upright=False),
    }


def _neighbours(cell: Cell, tiling: Tiling) -> dict[str, Cell]:
    """The cells beside a cell that the grid has, printed or not."""
    column, row = cell
    beside = {
        "left": (column - 1, row),
        "bottom": (column, row - 1),
        "right": (column + 1, row),
        "top": (column, row + 1),
    }
    return {
        side: other
        for side, other in beside.items()
        if 0 <= other[0] < tiling.columns and 0 <= other[1] < tiling.rows
    }


def _edge_text(template: TemplateSet, side: str, neighbour: Cell) -> str:
    number = template.numbers.get(neighbour)
    if number is None:
        return "the page beyond is left out: nothing is on it"
    if side in {"left", "bottom"}:
        return f"this edge goes under page {number}"
    return f"cut off at the dashed line; page {number} goes under here"


def _edge_words(template: TemplateSet, cell: Cell, room: Room) -> Iterator[Mark]:
    """Say in the strip along each edge what becomes of it."""
    strips = _strips(template.tiling)
    for side, neighbour in _neighbours(cell, template.tiling).items():
        text = _edge_text(template, side, neighbour)
        strip = strips[side]
        width = text_width(text, _EDGE_TEXT_MM)
        near = {
            "left": strip.box.bottom + 50,
            "bottom": strip.box.left + 10,
            "right": strip.box.bottom + 50,
            "top": (strip.box.left + strip.box.right - width) / 2,
        }
        at = room.stretch(strip.box, width, near=near[side])
        if at is not None:
            yield strip.write(at, text)


def _cross_names(template: TemplateSet, cell: Cell, room: Room) -> Iterator[Group]:
    """Name each cross and its place in the raft, in a strip beside it or near it."""
    for corner in _corners(cell):
        for text in _cross_texts(template, *corner):
            words = _beside_cross(template.tiling, cell, corner, text, room)
            if words is not None:
                name = template.tiling.cross_name(*corner)
                yield Group(f"cross {name} name", (words,))
                break


def _cross_texts(template: TemplateSet, column: int, row: int) -> Iterator[str]:
    """What to write at a cross: the fullest text first, then shorter ones."""
    text = _cross_text(template, column, row)
    if template.unit == "in":
        x, y = template.tiling.cross_place(column, row)
        yield f"{text} ({figure(x, 'in')}, {figure(y, 'in')} in)"
    yield text


def _cross_text(template: TemplateSet, column: int, row: int) -> str:
    x, y = template.tiling.cross_place(column, row)
    return f"cross {template.tiling.cross_name(column, row)}: x {_tenth(x)}, y {_tenth(y)} mm"


def _tenth(mm: float) -> str:
    return f"{round(mm, 1) + 0.0:.1f}"


def _beside_cross(tiling: Tiling, cell: Cell, corner: Cell, text: str, room: Room) -> Text | None:
    width = text_width(text, _EDGE_TEXT_MM)
    at_left, at_bottom = corner[0] == cell[0], corner[1] == cell[1]
    beside = "left" if at_left else "right"
    strips = _strips(tiling)
    for side in (beside, "bottom") if at_bottom else ("top", beside):
        strip = strips[side]
        low, high = (strip.box.bottom, strip.box.top) if strip.upright else strip.box[::2]
        starts = at_bottom if strip.upright else at_left
        near = low + _CROSS_MM + 2 if starts else high - _CROSS_MM - 2 - width
        at = room.stretch(strip.box, width, near=near, reach=_NAME_REACH_MM)
        if at is not None:
            return strip.write(at, text)
    inner = tiling.window().grown(-tiling.overlap / 2 - 1)
    x, y = place = _corner_place(*corner, cell, tiling)
    within = Box(
        max(inner.left, x - width - _FARTHEST_NAME_MM),
        max(inner.bottom, y - _FARTHEST_NAME_MM),
        min(inner.right, x + width + _FARTHEST_NAME_MM),
        min(inner.top, y + _FARTHEST_NAME_MM),
    )
    box = room.free_box(width + 2, 4, within, near=place, step=3)
    if box is None:
        return None
    room.boxes.append(box)
    return line(box.left + 1, box.bottom + 1, text, _EDGE_TEXT_MM)


def _bars(template: TemplateSet, room: Room) -> Iterator[Mark]:
    """Draw a check bar each way in the strips where there is room."""
    inches = template.unit == "in"
    length, name = (FOUR_INCHES_MM, "4 in") if inches else (100.0, "100 mm")
    bar = inch_bar if inches else metric_bar
    strips = _strips(template.tiling)
    needed = length + 3 + text_width(name, _EDGE_TEXT_MM)
    for sides in (("bottom", "top"), ("left", "right")):
        for side in sides:
            strip = strips[side]
            near = strip.box.top if strip.upright else strip.box.right
            at = room.stretch(strip.box, needed, near=near)
            if at is None:
                continue
            middle = (strip.box.left + strip.box.right) / 2
            if not strip.upright:
                middle = (strip.box.bottom + strip.box.top) / 2
            start = Point(middle + 0.8, at) if strip.upright else Point(at, middle - 0.8)
            yield from bar(start, upright=strip.upright)
            yield strip.write(at + length + 2, name)
            break


def _block(template: TemplateSet, cell: Cell, room: Room) -> Group:
    """Write what the page is, beside a map of all pages, where the drawing leaves room."""
    place = _block_place(template, cell, room)
    if place is None:
        inner = template.tiling.window().grown(-template.tiling.overlap / 2 - 2)
        place = inner, _TEXT_ROOMS_MM[0]
    box, text_room = place
    room.boxes.append(box)
    return _block_marks(template, cell, _block_rows(template, cell, text_room), box)


def _block_place(template: TemplateSet, cell: Cell, room: Room) -> tuple[Box, float] | None:
    """Find a box for the words, and how wide their lines may be."""
    tiling = template.tiling
    size = map_size(tiling, *_MAP_ROOM_MM)
    if tiling.footer:
        left, right = tiling.window()[::2]
        foot = Box(left, tiling.border, right, tiling.border + tiling.footer - 2)
        return foot, right - left - size.width - _GAP_MM
    inner = tiling.window().grown(-tiling.overlap / 2)
    for text_room in _TEXT_ROOMS_MM:
        rows = _block_rows(template, cell, text_room)
        width = size.width + _GAP_MM + text_room + 4
        height = max(size.height, _rows_height(rows)) + 4
        found = room.free_box(width, height, inner.grown(-2), near=(inner.left, inner.top))
        if found is not None:
            return found.grown(-2), text_room
    return None


def _block_rows(template: TemplateSet, cell: Cell, room: float) -> list[tuple[str, float, Style]]:
    tiling = template.tiling
    column, row = cell
    where = (
        f"column {column + 1} of {tiling.columns} from the left, "
        f"row {row + 1} of {tiling.rows} from below"
    )
    rows = [(template.design.name, _BLOCK_TITLE_MM, Style.TITLE)]
    texts = [
        f"{template.place}: {template.task}",
        f"Page {template.numbers[cell]} of {template.total}: {where}",
        f"{template.side[0].upper()}{template.side[1:]}",
        f"Paper {tiling.paper.name}, page {tiling.paper.size}. {PRINT_WORDS}",
        *_join_summary(template, cell),
    ]
    if tiling.footer:
        texts.append("; ".join(_cross_text(template, *corner) for corner in _corners(cell)))
    rows.extend(
        (words, _BLOCK_TEXT_MM, Style.LABEL)
        for text in texts
        for words in wrapped(text, _BLOCK_TEXT_MM, room)
    )
    return rows


def _join_summary(template: TemplateSet, cell: Cell) -> tuple[str, ...]:
    neighbours = _neighbours(cell, template.tiling)
    under = [
        f"{side} edge under page {template.numbers[other]}"
        for side, other in neighbours.items()
        if side in {"left", "bottom"} and other in template.numbers
    ]
    off = [side for side in ("right", "top") if neighbours.get(side) in template.numbers]
    parts = []
    if under:
        parts.append(" and ".join(under).capitalize())
    if off:
        parts.append(f"Cut off the {' and the '.join(off)} strip at the dashed line")
    return (". ".join(parts),) if parts else ()


def _rows_height(rows: list[tuple[str, float, Style]]) -> float:
    return sum(height * LEADING for _, height, _ in rows)


def _block_marks(
    template: TemplateSet, cell: Cell, rows: list[tuple[str, float, Style]], box: Box
) -> Group:
    size = map_size(template.tiling, *_MAP_ROOM_MM)
    marks = list(
        small_map(template.tiling, template.numbers, cell, box.left, box.top - size.height, size)
    )
    at = box.top
    for words, height, style in rows:
        at -= height * LEADING
        x = box.left + size.width + _GAP_MM
        marks.append(line(x, at + height * (LEADING - 1), words, height, style=style))
    return Group("title", tuple(marks))
