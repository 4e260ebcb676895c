"""The part of the cut sheet about one bed: its rafts in place, by name."""

from collections.abc import Iterable, Iterator

import shapely

from geometry.drawing.bed import draw_bed, obstacle_loops
from geometry.drawing.dimensions import Ruler, dimension_room, running_dimensions
from geometry.drawing.figures import by_text, figure, length_text
from geometry.drawing.flow import (
    Column,
    Part,
    Row,
    figure_row,
    gap,
    heading,
    row_room,
    table,
    words,
)
from geometry.drawing.lettering import line, plural
from geometry.drawing.marks import Box, Circle, Mark, Path, frame
from geometry.drawing.paper import Paper
from geometry.drawing.raft import datum_corner
from geometry.drawing.raft_part import best_scale
from geometry.drawing.room import Room
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.tiles import BORDER_MM, laid_outline
from geometry.drawing.transforms import Shift, half_turn, marks_of
from geometry.model.curves import Point
from geometry.model.measure import bounds
from geometry.plan import BedPlan, PlacedRaft, Plan
from geometry.units import Unit

_NAME_MM = 4.0
_SMALLEST_NAME_MM = 1.6
_CLEAR_NAME_MM = 2.4
_LEAST_RIM_MM = 0.25
_MOST_RIMS = 5000
_MOST_RAFTS = 240


def bed_part(plan: Plan, bed: BedPlan, paper: Paper) -> Part:
    """Compose the part about one bed."""
    unit = plan.project.units
    room = paper.width_mm - 2 * BORDER_MM
    left, bottom, right, top = bounds(bed.layout.outline)
    inside = f"inside {by_text(right - left, top - bottom, unit)} {unit}"
    clearance, joint = bed.bed.clearance.exact, bed.bed.joint_gap.exact
    rows = [
        words(
            f"Gap to the wall {length_text(clearance, unit)}, between rafts "
            f"{length_text(joint, unit)}. Figures run from the bed's datum corner, lower left, "
            "to the sides of the rafts. Lay each raft with its top face up; a raft marked ½ lies "
            "turned half round.",
            room,
        ),
        gap(2),
        _drawing(bed, unit, room, row_room(paper)),
        gap(2),
        *_obstacle_table(bed, unit),
        *_raft_table(bed, unit, room),
    ]
    return Part(
        f"Bed {bed.bed.name}",
        f"{plan.project.name}: {plural(len(bed.rafts), 'raft')}, {plural(bed.plants, 'plant')}; "
        f"{inside}",
        tuple(rows),
        bookmark=f"Bed {bed.bed.name}",
    )


def _drawing(bed: BedPlan, unit: Unit, room: float, room_y: float) -> Row:
    _, _, length, width = bounds(bed.layout.outline)
    xs, ys = _places(bed, 0), _places(bed, 1)
    beside, below = dimension_room(ys, unit) + 2, dimension_room(xs, unit) + 3
    scale = best_scale(length, width, room - beside - 2, room_y * 0.6)

    def draw(left: float, top: float) -> Iterable[Mark]:
        shift = Shift(left + beside, top - 7 - width / scale, 1 / scale)
        yield line(shift.x, top - 4.4, f"scale 1 : {scale}", 2.8)
        for mark in marks_of(draw_bed(bed).groups):
            yield shift.mark(mark)
        rims = sum(len(raft.design.holes) for raft in bed.rafts) <= _MOST_RIMS
        keep_off = _obstacle_lines(bed, shift)
        for raft in bed.rafts:
            yield from _raft_marks(raft, shift, keep_off, rims=rims)
        yield datum_corner(shift.point(0, 0), 6)
        for places, ruler in (
            (xs, Ruler(shift.x, shift.y, 1 / scale, upright=False)),
            (ys, Ruler(shift.y, shift.x, 1 / scale, upright=True)),
        ):
            yield from running_dimensions(places, ruler, unit)[0]

    return figure_row(width / scale + below + 9, draw)


def _places(bed: BedPlan, axis: int) -> list[float]:
    places = [0.0, bounds(bed.layout.outline)[2 + axis]]
    for raft in bed.rafts:
        start = raft.y if axis else raft.x
        size = raft.design.shape.width if axis else raft.design.shape.length
        places += [start, start + float(size)]
    return places


def _obstacle_lines(bed: BedPlan, shift: Shift) -> shapely.Geometry:
    """The outlines of the obstacles on the page, so that no name is written on them."""
    loops = [loop for _, loop in obstacle_loops(bed.bed)]
    return shapely.MultiLineString([laid_outline(loop, shift) for loop in loops])


def _raft_marks(
    raft: PlacedRaft, shift: Shift, keep_off: shapely.Geometry, *, rims: bool
) -> Iterator[Mark]:
    shape = raft.design.shape
    length, width = float(shape.length), float(shape.width)
    lies = half_turn(length, width, raft.x, raft.y) if raft.turned else Shift(raft.x, raft.y)
    yield shift.mark(lies.mark(Path(shape.loop.curves, Style.RAFT, closed=True)))
    holes = raft.design.holes
    centres = shift.points(lies.points(holes.xy))
    radii = holes.diameters / 2 * shift.scale
    if rims:
        for (x, y), radius in zip(centres.tolist(), radii.tolist(), strict=True):
            if radius >= _LEAST_RIM_MM:
                yield Circle(Point(x, y), radius, Style.CENTRE)
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


def _obstacle_table(bed: BedPlan, unit: Unit) -> tuple[Row, ...]:
    obstacles = bed.bed.obstacles
    if not obstacles:
        return ()
    rows = table(
        (Column("obstacle", 70), Column(f"keeps rims away ({unit})", 60, "right")),
        [(obstacle.name, figure(obstacle.clearance.exact, unit)) for obstacle in obstacles],
    )
    return (*rows, gap())


def _raft_table(bed: BedPlan, unit: Unit, room: float) -> tuple[Row, ...]:
    if len(bed.rafts) > _MOST_RAFTS:
        return (
            words(f"The {len(bed.rafts)} rafts are listed with their places in holes.csv.", room),
        )
    rows = [
        (
            raft.name,
            raft.design.name,
            figure(raft.x, unit),
            figure(raft.y, unit),
            "half round" if raft.turned else "",
        )
        for raft in bed.rafts
    ]
    columns = (
        Column("raft", 26),
        Column("made as", 60),
        Column(f"left side ({unit})", 36, "right"),
        Column(f"lower side ({unit})", 38, "right"),
        Column("turned", 24),
    )
    return (heading("Rafts in the bed"), *table(columns, rows))
