"""A bed on the cut sheet: its rafts in place, a long bed in stretches one below the other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely

from geometry.drawing.bed import draw_bed, obstacle_loops, zone_loops
from geometry.drawing.bench import BENCH_MM, loud_datum
from geometry.drawing.dimensions import (
    FIGURE_MM,
    Ruler,
    dimension_room,
    has_room,
    running_dimensions,
)
from geometry.drawing.figures import figure, length_text
from geometry.drawing.flow import Row
from geometry.drawing.lettering import line
from geometry.drawing.marks import Box, Circle, Mark, Path, frame, stroke
from geometry.drawing.raft import datum_corner
from geometry.drawing.room import Room, laid_outline
from geometry.drawing.scales import best_scale
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift, half_turn
from geometry.model.curves import Line, Point
from geometry.model.measure import bounds, bounds_of
from geometry.plan import BedPlan, PlacedRaft
from geometry.tongue import tr
from geometry.units import Unit

_FIGURES = ((BENCH_MM, 1), (4.0, 1), (4.0, 2), (FIGURE_MM, 2))
"""Sizes and tiers of the figures along the edges, the best first."""

_NAME_MM = BENCH_MM
_OBSTACLE_MM = 3.6
_RIGHT_MM = 6.0
"""Room for the last figure where it is moved aside."""

_DATUM_ROOM_MM = 30.0
_DATUM_LEG_MM = 4.0
_SMALLEST_NAME_MM = 1.6
_CLEAR_NAME_MM = 2.4
_LEAST_RIM_MM = 0.25
_MOST_RIMS = 5000
_LONGEST = 9.0
"""How many times its width a bed may be long and still be drawn in one piece."""

_STRETCH = 7.0


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A part of a bed along its length and the rafts that begin in it."""

    start: float
    end: float
    rafts: tuple[PlacedRaft, ...]


def bed_rows(bed: BedPlan, unit: Unit, room: float, room_y: float) -> Iterator[Row]:
    """Draw the bed with its rafts; every raft by its name where that can be read."""
    _, _, length, width = bounds(bed.layout.outline)
    stretches = _stretches(bed, length, width)
    longest = max(stretch.end - stretch.start for stretch in stretches)
    ys = _places(bed.rafts, width, 1)
    beside = dimension_room(ys, unit, height=_FIGURES[0][0]) + 2
    scale = best_scale(longest, width, room - beside - _RIGHT_MM, room_y * 0.6)
    upright = _figures(ys, scale, unit)
    beside = max(_DATUM_ROOM_MM, dimension_room(ys, unit, height=upright[0], tiers=upright[1]) + 2)
    scale = best_scale(longest, width, room - beside - _RIGHT_MM, room_y * 0.6)
    for stretch in stretches:
        yield _stretch_row(bed, stretch, scale, beside, upright, unit)


def _figures(places: Sequence[float], scale: int, unit: Unit) -> tuple[float, int]:
    """Choose the largest figures that all find room along an edge: their size and their tiers."""
    ruler = Ruler(0, 0, 1 / scale, upright=False)
    for height, tiers in _FIGURES:
        if has_room(places, ruler, unit, height=height, tiers=tiers):
            return height, tiers
    return _FIGURES[-1]


def _stretches(bed: BedPlan, length: float, width: float) -> list[_Stretch]:
    """Cut a long bed into stretches that begin where a raft begins."""
    rafts = sorted(bed.rafts, key=lambda raft: (raft.x, raft.y))
    if length <= _LONGEST * width:
        return [_Stretch(0.0, length, tuple(rafts))]
    parts: list[_Stretch] = []
    start, inside = 0.0, list[PlacedRaft]()
    for raft in rafts:
        far = raft.x + float(raft.design.shape.length)
        if inside and far - start > _STRETCH * width and raft.x > inside[-1].x:
            parts.append(_Stretch(start, raft.x, tuple(inside)))
            start, inside = raft.x, []
        inside.append(raft)
    return [*parts, _Stretch(start, length, tuple(inside))]


def _stretch_row(
    bed: BedPlan,
    stretch: _Stretch,
    scale: int,
    beside: float,
    upright: tuple[float, int],
    unit: Unit,
) -> Row:
    _, _, length, width = bounds(bed.layout.outline)
    xs, ys = _places(stretch.rafts, length, 0), _places(stretch.rafts, width, 1)
    xs = [x for x in xs if stretch.start <= x <= stretch.end]
    whole = stretch.start == 0 and stretch.end == length
    rims = bed.plants <= _MOST_RIMS
    lying = _figures(xs, scale, unit)

    def draw(left: float, top: float) -> Iterable[Mark]:
        shift = Shift(left + beside - stretch.start / scale, top - 7 - width / scale, 1 / scale)
        title = (
            tr("scale 1 : {scale}", scale=scale)
            if whole
            else tr(
                "scale 1 : {scale}, {start} to {end} from the datum corner",
                scale=scale,
                start=figure(stretch.start, unit),
                end=length_text(stretch.end, unit),
            )
        )
        yield line(left + beside, top - 4.4, title, 3.4)
        yield from _bed_marks(bed, stretch, shift)
        keep_off = _obstacle_lines(bed, shift)
        yield from _obstacle_numbers(bed, stretch, shift)
        for raft in stretch.rafts:
            yield from _raft_marks(raft, shift, keep_off, rims=rims)
        if stretch.start == 0:
            sides = (stretch.end - stretch.start) / scale, width / scale
            yield from loud_datum(shift.point(0, 0), *sides, beside)
        start = shift.point(stretch.start, 0)
        for places, ruler, (height, tiers) in (
            (xs, Ruler(shift.x, shift.y, 1 / scale, upright=False), lying),
            (ys, Ruler(shift.y, start.x, 1 / scale, upright=True), upright),
        ):
            yield from running_dimensions(places, ruler, unit, height=height, tiers=tiers)[0]

    deep = dimension_room(xs, unit, height=lying[0], tiers=lying[1])
    if stretch.start == 0:
        deep = max(deep, _DATUM_ROOM_MM - 6)
    return Row(width / scale + deep + 12, draw)


def _places(rafts: Sequence[PlacedRaft], end: float, axis: int) -> list[float]:
    places = [0.0, end]
    for raft in rafts:
        start = raft.y if axis else raft.x
        size = raft.design.shape.width if axis else raft.design.shape.length
        places += [start, start + float(size)]
    return places


def _bed_marks(bed: BedPlan, stretch: _Stretch, shift: Shift) -> Iterator[Mark]:
    """Draw what of the outline and the obstacles lies in a stretch, and where it breaks off."""
    _, bottom, length, top = bounds(bed.layout.outline)
    for group in draw_bed(bed).groups:
        for mark in group.marks:
            if isinstance(mark, Path):
                yield from _within(mark, stretch, shift)
    for x in (stretch.start, stretch.end):
        if 0 < x < length:
            ends = shift.point(x, bottom - (top - bottom) * 0.03), shift.point(x, top)
            yield stroke(*ends, Style.HINT)


def _within(path: Path, stretch: _Stretch, shift: Shift) -> Iterator[Mark]:
    left, _, right, _ = bounds_of(path.curves)
    if stretch.start <= left and right <= stretch.end:
        yield shift.mark(path)
        return
    for curve in path.curves:
        first, _, last, _ = bounds_of((curve,))
        if first > stretch.end or last < stretch.start:
            continue
        if isinstance(curve, Line) and last > first:
            shown = Line(_at(curve, stretch.start), _at(curve, stretch.end))
            yield shift.mark(Path((shown,), path.style))
        elif stretch.start <= first and last <= stretch.end:
            yield shift.mark(Path((curve,), path.style))


def _at(curve: Line, x: float) -> Point:
    """Return where a line is at x, or its end where it does not reach that far."""
    start, end = curve.start, curve.end
    share = (min(max(x, min(start.x, end.x)), max(start.x, end.x)) - start.x) / (end.x - start.x)
    return Point(start.x + share * (end.x - start.x), start.y + share * (end.y - start.y))


def _obstacle_lines(bed: BedPlan, shift: Shift) -> shapely.Geometry:
    """The outlines of obstacles and zones on the page, so that no name is written on them."""
    loops = [loop for _, loop in obstacle_loops(bed.bed)]
    loops += [loop for _, loop in zone_loops(bed.bed)]
    return shapely.MultiLineString([laid_outline(loop, shift) for loop in loops])


def _obstacle_numbers(bed: BedPlan, stretch: _Stretch, shift: Shift) -> Iterator[Mark]:
    """Number the obstacles of a stretch as the table does, inside where there is room."""
    for number, (_, loop) in enumerate(obstacle_loops(bed.bed), start=1):
        left, bottom, right, top = bounds(loop)
        if not stretch.start <= (left + right) / 2 <= stretch.end:
            continue
        box = Box(*shift.point(left, bottom), *shift.point(right, top))
        text = f"{number}"
        wide = text_width(text, 1, bold=True)
        inside = min(_OBSTACLE_MM, (box.width - 0.8) / wide, (box.height - 0.8) / CAP_HEIGHT)
        height = inside if inside >= _SMALLEST_NAME_MM else _OBSTACLE_MM
        x = (box.left + box.right) / 2
        if height != inside:
            x = box.right + 0.8 + wide * height / 2
        low = (box.bottom + box.top - height * CAP_HEIGHT) / 2
        yield line(x, low, text, height, style=Style.TITLE, anchor="middle")


def _raft_marks(
    raft: PlacedRaft, shift: Shift, keep_off: shapely.Geometry, *, rims: bool
) -> Iterator[Mark]:
    shape = raft.design.shape
    length, width = float(shape.length), float(shape.width)
    lies = half_turn(length, width, raft.x, raft.y) if raft.turned else Shift(raft.x, raft.y)
    yield shift.mark(lies.mark(Path(shape.loop.curves, Style.RAFT, closed=True)))
    holes = raft.design.holes
    shown = slice(None if rims else 0)
    centres = shift.points(lies.points(holes.xy[shown]))
    radii = holes.diameters[shown] / 2 * shift.scale
    for (x, y), radius in zip(centres.tolist(), radii.tolist(), strict=True):
        if radius >= _LEAST_RIM_MM:
            yield Circle(Point(x, y), radius, Style.CENTRE)
    if raft.turned:
        leg = min(_DATUM_LEG_MM / shift.scale, min(length, width) / 5)
        yield shift.mark(lies.mark(datum_corner(Point(0, 0), leg)))
    low = shift.point(raft.x, raft.y)
    high = shift.point(raft.x + length, raft.y + width)
    yield from _name(raft, Box(*low, *high), Room(centres, radii, keep_off))


def _name(raft: PlacedRaft, box: Box, room: Room) -> Iterator[Mark]:
    """Write a raft's name where it touches no rim, as near to the middle as it goes."""
    text = f"{raft.name} ½" if raft.turned else raft.name
    wide = text_width(text, 1, bold=True)
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    largest = min(_NAME_MM, (box.width - 1) / wide, (box.height - 1) / CAP_HEIGHT)
    height = largest
    while height >= min(_CLEAR_NAME_MM, largest) - 1e-9 and height >= _SMALLEST_NAME_MM:
        width, tall = wide * height + 1, height * CAP_HEIGHT + 1
        near = (middle[0] - width / 2, middle[1] + tall / 2)
        found = room.free_box(width, tall, box, near=near, step=max(0.5, tall / 3))
        if found is not None:
            yield line(found.left + 0.5, found.bottom + 0.5, text, height, style=Style.TITLE)
            return
        height *= 0.8
    if largest >= _SMALLEST_NAME_MM:
        low = middle[1] - largest * CAP_HEIGHT / 2
        half = wide * largest / 2
        plate = Box(middle[0] - half, low, middle[0] + half, low + largest * CAP_HEIGHT)
        yield frame(plate.grown(0.6), Style.WHITE)
        yield line(middle[0], low, text, largest, anchor="middle", style=Style.TITLE)
