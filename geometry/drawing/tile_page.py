"""One page of a template: its part of the raft at true size, and how it joins its neighbours."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from geometry.drawing.crop_marks import hole_marks, inner_share
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, Path, Text
from geometry.drawing.paper import Page, Picture
from geometry.drawing.raft import cross_size, datum_corner, hole_name, pilot_mark
from geometry.drawing.room import Room, rims_in
from geometry.drawing.styles import Style
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.tile_edges import (
    check_bars,
    corners,
    cross_box,
    cross_mark,
    cross_names,
    edge_words,
    join_lines,
)
from geometry.drawing.tile_title import has_place, title_block
from geometry.drawing.tiles import Cell
from geometry.drawing.transforms import Shift
from geometry.holes.sites import Holes
from geometry.model.curves import Curve, Point
from geometry.model.measure import bounds_of
from geometry.tongue import tr

_NUMBER_MM = 17.0
_DATUM_LEG_MM = 20.0
_RIM_CLEAR_MM = 0.8


@dataclass(frozen=True, slots=True)
class _Sight:
    """What of the raft shows on a page, in page coordinates."""

    holes: Holes
    indices: tuple[int, ...]
    names: tuple[str, ...]
    centres: NDArray[np.float64]
    radii: NDArray[np.float64]
    written: tuple[Text, ...]
    """The names of the holes, within the rings of a crop or above the rim."""


def tile_page(template: TemplateSet, cell: Cell) -> Page:
    """Compose the page of a cell."""
    tiling = template.tiling
    window = tiling.window()
    shift = tiling.on_page(cell)
    sight = _sight(template, shift, window)
    raft = Drawing((*_outline(template, shift, window), *_holes(sight, window)))
    room = _room(template, cell, sight)
    names, homeless = cross_names(template, cell, room)
    title = title_block(template, cell, room, homeless)
    bars = Group("check-bars", tuple(check_bars(template, room)))
    furniture = (
        *(cross_mark(column, row, cell, tiling) for column, row in corners(cell)),
        Group("joins", tuple(join_lines(cell, tiling))),
        *names,
        *([title] if title else []),
        Group("edges", tuple(edge_words(template, cell, room))),
        bars,
    )
    number = _number(template, cell)
    under = Drawing((Group("page-number", (number, *_loud(template, number))),))
    return Page(
        tiling.setup.width_mm,
        tiling.setup.height_mm,
        tr("{title}, page {number}", title=template.design.name, number=template.numbers[cell]),
        (Picture(under), Picture(raft, window), Picture(Drawing(furniture))),
        trim=window,
        stretch=(tiling.setup.across, tiling.setup.along),
    )


def has_room(template: TemplateSet, cell: Cell) -> bool:
    """Tell whether the words of a page find room beside its drawing."""
    tiling = template.tiling
    sight = _sight(template, tiling.on_page(cell), tiling.window())
    room = _room(template, cell, sight)
    _, homeless = cross_names(template, cell, room)
    return has_place(template, cell, room, homeless)


def _room(template: TemplateSet, cell: Cell, sight: _Sight) -> Room:
    """Mark what is taken: the drawing, the names above rims, the page's number, the crosses."""
    tiling = template.tiling
    ring = shapely.LinearRing(tiling.on_page(cell).points(template.ring))
    outline = shapely.clip_by_rect(ring, *tiling.window())
    room = Room(sight.centres, sight.radii + _RIM_CLEAR_MM, outline)
    room.boxes.extend(
        _text_box(name)
        for name, centre, radius in zip(sight.written, sight.centres, sight.radii, strict=True)
        if name.at.y - centre[1] > radius
    )
    number = _number(template, cell)
    width = text_width(number.text, _NUMBER_MM, bold=True)
    x, y = number.at
    room.boxes.append(Box(x, y, x + width, y + _NUMBER_MM * CAP_HEIGHT).grown(1))
    room.boxes.extend(_loud_box(words) for words in _loud(template, number))
    room.boxes.extend(cross_box(column, row, cell, tiling) for column, row in corners(cell))
    room.boxes.append(_datum_box(tiling.on_page(cell)))
    return room


def _sight(template: TemplateSet, shift: Shift, window: Box) -> _Sight:
    holes = template.design.holes
    near = _near(holes, shift, window)
    centres, radii = shift.points(holes.xy[near]), holes.diameters[near] / 2
    shown = rims_in(window, centres, radii + 0.3)
    indices = tuple(near[shown].tolist())
    names = tuple(holes.names[index] for index in indices)
    places, sizes = centres[shown], radii[shown]
    written = tuple(
        _written(holes, index, name, Point(x, y), radius)
        for index, name, (x, y), radius in zip(
            indices, names, places.tolist(), sizes.tolist(), strict=True
        )
    )
    return _Sight(holes, indices, names, places, sizes, written)


def _near(holes: Holes, shift: Shift, window: Box) -> NDArray[np.int64]:
    """Return the indices of the holes that may show: on a large raft a page shows few of them."""
    (x0, y0), (x1, y1) = shift.back(*window[:2]), shift.back(*window[2:])
    reach = holes.diameters.max(initial=0.0) / 2 + 1
    x, y = holes.xy.T
    near = (x > min(x0, x1) - reach) & (x < max(x0, x1) + reach)
    near &= (y > min(y0, y1) - reach) & (y < max(y0, y1) + reach)
    return np.flatnonzero(near)


def _written(holes: Holes, index: int, name: str, centre: Point, radius: float) -> Text:
    """Write the name of a hole."""
    number = 0 if holes.plantings is None else int(holes.plantings[index])
    free = radius * inner_share(number)
    text = hole_name(name, centre, free)
    return text if text.at.y <= centre.y + free else hole_name(name, centre, radius)


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
        turn = replace(shift, x=at.x, y=at.y)
        yield Group("datum", (turn.mark(datum_corner(Point(0, 0), _DATUM_LEG_MM)),))


def _holes(sight: _Sight, window: Box) -> Iterator[Group]:
    for index, name, written, (x, y), radius in zip(
        sight.indices,
        sight.names,
        sight.written,
        sight.centres.tolist(),
        sight.radii.tolist(),
        strict=True,
    ):
        centre = Point(x, y)
        marks: list[Mark] = [Circle(centre, radius, Style.HOLE)]
        marks += hole_marks(sight.holes, index, centre, radius)
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
    inner = template.tiling.inner()
    return line(
        inner.left + 7,
        inner.top - 7 - _NUMBER_MM * CAP_HEIGHT,
        f"{template.numbers[cell]}",
        _NUMBER_MM,
        style=Style.PAGE_NAME,
    )


def _loud(template: TemplateSet, number: Text) -> tuple[Text, ...]:
    """Write beside the page's number that the page is mirrored, as large as there is room."""
    if not template.tiling.mirrored:
        return ()
    words = tr("MIRRORED")
    left = number.at.x + text_width(number.text, _NUMBER_MM, bold=True) + 6
    room = template.tiling.inner().right - 7 - left
    height = min(_NUMBER_MM, room / text_width(words, 1, bold=True))
    return (line(left, number.at.y, words, height, style=Style.LOUD),)


def _loud_box(words: Text) -> Box:
    (x, y), width = words.at, text_width(words.text, words.height, bold=True)
    return Box(x, y, x + width, y + words.height * CAP_HEIGHT).grown(1)


def _datum_box(shift: Shift) -> Box:
    """Return what the mark of the datum corner takes, its legs and the place between them."""
    (x0, y0), (x1, y1) = shift.point(0, 0), shift.point(_DATUM_LEG_MM, _DATUM_LEG_MM)
    return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)).grown(1)
