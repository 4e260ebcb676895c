"""The edges of a template page: crosses, joins, check bars, and words in the narrow strips."""

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.drawing.check_figures import FOUR_INCHES_MM, inch_bar, metric_bar
from geometry.drawing.figures import figure
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Circle, Group, Mark, Text, stroke
from geometry.drawing.room import Room
from geometry.drawing.styles import Style
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.tiles import Cell, Tiling
from geometry.model.curves import Point
from geometry.tongue import number, tr

_CROSS_MM = 4.0
_RING_MM = 2.5
_EDGE_TEXT_MM = 2.8
_NAME_REACH_MM = 12.0


def corners(cell: Cell) -> tuple[Cell, ...]:
    """Return the crosses at the corners of a cell: column and row of their grid lines."""
    column, row = cell
    return (column, row), (column + 1, row), (column, row + 1), (column + 1, row + 1)


def _corner_place(column: int, row: int, cell: Cell, tiling: Tiling) -> Point:
    inner = tiling.inner()
    x = inner.left if column == cell[0] else inner.right
    y = inner.bottom if row == cell[1] else inner.top
    return Point(x, y)


def cross_mark(column: int, row: int, cell: Cell, tiling: Tiling) -> Group:
    """Draw a registration cross with its ring."""
    x, y = at = _corner_place(column, row, cell, tiling)
    return Group(
        f"cross {tiling.cross_name(column, row)}",
        (
            stroke(Point(x - _CROSS_MM, y), Point(x + _CROSS_MM, y), Style.REGISTRATION),
            stroke(Point(x, y - _CROSS_MM), Point(x, y + _CROSS_MM), Style.REGISTRATION),
            Circle(at, _RING_MM, Style.REGISTRATION),
        ),
    )


def cross_box(column: int, row: int, cell: Cell, tiling: Tiling) -> Box:
    """Return what a cross takes."""
    x, y = _corner_place(column, row, cell, tiling)
    return Box(x, y, x, y).grown(_CROSS_MM + 0.5)


def join_lines(cell: Cell, tiling: Tiling) -> Iterator[Mark]:
    """Draw the lines along which neighbouring pages meet, between the crosses."""
    inner = tiling.inner()
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
    inner = tiling.inner()
    return {
        "left": _Strip(Box(window.left, inner.bottom, inner.left, inner.top), upright=True),
        "bottom": _Strip(Box(inner.left, window.bottom, inner.right, inner.bottom), upright=False),
        "right": _Strip(Box(inner.right, inner.bottom, window.right, inner.top), upright=True),
        "top": _Strip(Box(inner.left, inner.top, inner.right, window.top), upright=False),
    }


def neighbours(cell: Cell, tiling: Tiling) -> dict[str, Cell]:
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
        return tr("the page beyond is left out: nothing is on it")
    if side in {"left", "bottom"}:
        return tr("this edge goes under page {number}", number=number)
    return tr("cut off at the dashed line; page {number} goes under here", number=number)


def edge_words(template: TemplateSet, cell: Cell, room: Room) -> Iterator[Mark]:
    """Say in the strip along each edge what becomes of it."""
    strips = _strips(template.tiling)
    for side, neighbour in neighbours(cell, template.tiling).items():
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


def cross_names(
    template: TemplateSet, cell: Cell, room: Room
) -> tuple[tuple[Group, ...], tuple[str, ...]]:
    """Name each cross and its place in the raft, in a strip right beside it.

    Returns the words, and the texts that found no room.
    """
    written: list[Group] = []
    homeless: list[str] = []
    for corner in corners(cell):
        for text in _cross_texts(template, *corner):
            words = _beside_cross(template.tiling, cell, corner, text, room)
            if words is not None:
                name = template.tiling.cross_name(*corner)
                written.append(Group(f"cross {name} name", (words,)))
                break
        else:
            homeless.append(text)
    return tuple(written), tuple(homeless)


def _cross_texts(template: TemplateSet, column: int, row: int) -> Iterator[str]:
    """What to write at a cross: the fullest text first, then the shorter one."""
    tiling = template.tiling
    x, y = tiling.cross_place(column, row)
    name = tiling.cross_name(column, row)
    text = tr("cross {name}: x {x}, y {y} mm", name=name, x=_tenth(x), y=_tenth(y))
    if template.unit == "in":
        yield tr("{text} ({x}, {y} in)", text=text, x=figure(x, "in"), y=figure(y, "in"))
    yield text


def _tenth(mm: float) -> str:
    return number(round(mm, 1) + 0.0, 1)


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
    return None


def check_bars(template: TemplateSet, room: Room) -> Iterator[Mark]:
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
