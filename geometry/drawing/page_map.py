"""A small picture of the whole grid of pages: which page lies where."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from geometry.drawing.lettering import line, name_list
from geometry.drawing.marks import Box, Circle, Mark, Path, frame, stroke
from geometry.drawing.raft import datum_corner
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.tiles import Cell, Tiling
from geometry.drawing.transforms import Shift
from geometry.model.curves import Point
from geometry.plan import RaftDesign
from geometry.tongue import tr, tr_n

_DENSEST = 1500
_DATUM_LEG_MM = 5.0
_NAME_MM = 2.8
_LEAST_NUMBER_MM = 1.6


@dataclass(frozen=True, slots=True)
class MapSize:
    """How large a map comes out within a given room, and its scale."""

    width: float
    height: float
    scale: float


def map_size(tiling: Tiling, width: float, height: float) -> MapSize:
    """Fit the grid into a room."""
    whole_x, whole_y = tiling.columns * tiling.step_x, tiling.rows * tiling.step_y
    scale = min(width / whole_x, height / whole_y)
    return MapSize(whole_x * scale, whole_y * scale, scale)


def small_map(
    tiling: Tiling,
    numbers: Mapping[Cell, int],
    here: Cell,
    left: float,
    bottom: float,
    size: MapSize,
) -> tuple[Mark, ...]:
    """Draw the grid with this page shaded and every page's number where it fits."""
    return (
        frame(_box(tiling, here, left, bottom, size), Style.SHADE),
        *_grid(tiling, left, bottom, size),
        *_numbered(tiling, numbers, left, bottom, size, largest=4.0, style=Style.LABEL),
    )


def large_map(
    design: RaftDesign,
    tiling: Tiling,
    numbers: Mapping[Cell, int],
    left: float,
    bottom: float,
    size: MapSize,
) -> tuple[Mark, ...]:
    """Draw the grid over the raft with its holes, the pages' numbers and the crosses' names."""
    shift = _onto_map(tiling, left, bottom, size)
    marks: list[Mark] = list(_grid(tiling, left, bottom, size))
    marks.extend(_numbered(tiling, numbers, left, bottom, size, largest=9.0, style=Style.PAGE_NAME))
    holes = design.holes
    if len(holes) <= _DENSEST:
        marks.extend(
            Circle(shift.point(x, y), diameter / 2 * size.scale, Style.CENTRE)
            for (x, y), diameter in zip(holes.xy.tolist(), holes.diameters.tolist(), strict=True)
        )
    marks.append(shift.mark(Path(design.shape.loop.curves, Style.RAFT, closed=True)))
    marks.append(_datum(tiling, left, bottom, size))
    names = [tiling.cross_name(column, 0)[:-1] for column in range(tiling.columns + 1)]
    widest = max(text_width(name, _NAME_MM) for name in names)
    step_x, step_y = tiling.step_x * size.scale, tiling.step_y * size.scale
    # where a map is too small for all names, every second or third is enough to count from
    for column in range(0, tiling.columns + 1, ceil((widest + 1) / step_x)):
        x = left + column * step_x
        marks.append(line(x, bottom - 3.6, names[column], _NAME_MM, anchor="middle"))
    for row in range(0, tiling.rows + 1, ceil(_NAME_MM / step_y)):
        y = bottom + row * step_y
        marks.append(line(left - 1.5, y - 1, f"{row + 1}", _NAME_MM, anchor="right"))
    return tuple(marks)


def left_out_words(blank: Sequence[Cell]) -> str:
    """Say which pages are left out, row by row; empty when none is."""
    rows: dict[int, list[str]] = {}
    for column, row in blank:
        rows.setdefault(row + 1, []).append(f"{column + 1}")
    places = (
        tr_n(
            "row {row} column {columns}",
            "row {row} columns {columns}",
            len(columns),
            row=row,
            columns=name_list(columns),
        )
        for row, columns in sorted(rows.items())
    )
    return tr("Left out, nothing is on them: {places}.", places="; ".join(places)) if rows else ""


def _onto_map(tiling: Tiling, left: float, bottom: float, size: MapSize) -> Shift:
    laid = tiling.laid()
    return replace(
        laid,
        x=left + (laid.x - tiling.left) * size.scale,
        y=bottom + (laid.y - tiling.bottom) * size.scale,
        scale=size.scale,
    )


def _box(tiling: Tiling, cell: Cell, left: float, bottom: float, size: MapSize) -> Box:
    width, height = tiling.step_x * size.scale, tiling.step_y * size.scale
    x, y = left + cell[0] * width, bottom + cell[1] * height
    return Box(x, y, x + width, y + height)


def _grid(tiling: Tiling, left: float, bottom: float, size: MapSize) -> Iterator[Mark]:
    right, top = left + size.width, bottom + size.height
    for column in range(tiling.columns + 1):
        x = left + column * tiling.step_x * size.scale
        yield stroke(Point(x, bottom), Point(x, top), Style.FRAME)
    for row in range(tiling.rows + 1):
        y = bottom + row * tiling.step_y * size.scale
        yield stroke(Point(left, y), Point(right, y), Style.FRAME)


def _numbered(
    tiling: Tiling,
    numbers: Mapping[Cell, int],
    left: float,
    bottom: float,
    size: MapSize,
    *,
    largest: float,
    style: Style,
) -> Iterator[Mark]:
    """Number every cell where there is room; strike out those whose pages are left out."""
    for cell in tiling.blank:
        box = _box(tiling, cell, left, bottom, size)
        yield stroke(Point(box.left, box.bottom), Point(box.right, box.top), Style.FRAME)
    width, height = tiling.step_x * size.scale, tiling.step_y * size.scale
    # a map of hundreds of pages stands on hundreds of pages, most of it too small for numbers
    if _number_height(width, height, 1, largest) < _LEAST_NUMBER_MM:
        return
    for cell, number in numbers.items():
        high = _number_height(width, height, len(f"{number}"), largest)
        if high >= _LEAST_NUMBER_MM:
            box = _box(tiling, cell, left, bottom, size)
            x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
            text = f"{number}"
            yield line(x, y - high * CAP_HEIGHT / 2, text, high, anchor="middle", style=style)


@lru_cache(maxsize=256)
def _number_height(width: float, height: float, digits: int, largest: float) -> float:
    """Return how high a number of so many digits may be in a cell."""
    return min(largest, height * 0.7, 0.8 * width / text_width("0", digits, bold=True))


def _datum(tiling: Tiling, left: float, bottom: float, size: MapSize) -> Mark:
    """Mark the raft's datum corner, wherever the drawing has it."""
    at = _onto_map(tiling, left, bottom, size).point(0, 0)
    turn = replace(tiling.laid(), x=at.x, y=at.y)
    return turn.mark(datum_corner(Point(0, 0), _DATUM_LEG_MM))
