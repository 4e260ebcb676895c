"""The part of the cut sheet about one raft design: its drawing, its hole table, its proofs."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, hypot

import numpy as np

from geometry.drawing.crop_marks import crop_words, hole_lines, hole_marks
from geometry.drawing.dimensions import Ruler, dimension_room, running_dimensions
from geometry.drawing.figures import UNIT_WORDS, figure, length_text, size_text
from geometry.drawing.flow import (
    SET_GAP_MM,
    Column,
    Part,
    Row,
    gap,
    heading,
    row_room,
    row_width,
    side_by_side,
    table,
    words,
)
from geometry.drawing.lettering import clipped, line, name_list
from geometry.drawing.marks import Circle, Mark, Path, polyline
from geometry.drawing.paper import Paper
from geometry.drawing.raft import datum_corner
from geometry.drawing.scales import best_scale
from geometry.drawing.shaping import shape_proof, shaping_marks, shaping_rows
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift
from geometry.holes.sites import Holes
from geometry.model.curves import Line, Point
from geometry.model.edges import start_of
from geometry.model.planting import Planting
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import mark, plural, tr, tr_n
from geometry.units import MM_PER, Length, Unit, exact_text

_LARGE_MM = 5.0
_SMALLER_MM = 3.8
_CROP_MM = 25.0
_NAME_MM = 2.6
_SMALLEST_NAME_MM = 1.7
_DATUM_LEG_MM = 8.0
_ABOVE_MM = 9.0
_LEAST_DRAWING_MM = 110.0
_SHARE_OF_DRAWING = 0.66
_MOST_SETS = 4


def raft_part(plan: Plan, bed: BedPlan, design: RaftDesign, paper: Paper) -> Part:
    """Compose the part about one design; its drawing is on the first page."""
    rafts = [raft.name for raft in bed.rafts if raft.design.name == design.name]
    unit = plan.project.units
    room = row_width(paper)
    facts = _facts(bed, design, thickness_of(plan, design), unit)
    proofs = (*shaping_rows(design.shape, unit, room), *_proofs(design, unit, room))
    left = row_room(paper) - facts.height
    beside = _drawing_beside_table(bed, design, unit, room, _drawing_height(left, proofs))
    if beside is not None:
        rows: tuple[Row, ...] = (facts, beside, *proofs)
    else:
        below = (*proofs, *_hole_table(bed, design, unit, room))
        rows = (facts, _drawing(design, unit, room, _drawing_height(left, below)), *below)
    return Part(
        tr("Cut sheet {name}", name=design.name),
        tr_n(
            "Make it once: {rafts}; {project}, bed {bed}",
            "Make it {n} times: {rafts}; {project}, bed {bed}",
            len(rafts),
            rafts=name_list(rafts),
            project=clipped(plan.project.name),
            bed=clipped(bed.bed.name),
        ),
        rows,
        bookmark=f"{design.name}: {plural(len(rafts), 'raft')}",
    )


def _step(bed: BedPlan) -> Length | None:
    """The step that the holes of a bed are placed on; None where one keeps its exact place."""
    planting = bed.bed.planting
    exact = any(finding.code == "rounding" for finding in bed.findings)
    return None if planting is None or exact else planting.round_to


def _table_unit(bed: BedPlan, unit: Unit) -> Unit:
    """The unit of the hole table: millimetres where sixteenths do not hold steps of the tape."""
    step = _step(bed)
    if unit == "in" and step is not None and (step.exact / MM_PER["in"] * 16).denominator != 1:
        return "mm"
    return unit


def thickness_of(plan: Plan, design: RaftDesign) -> Fraction | None:
    """Return the thickness of the sheets a design is cut from, None where it is not one figure."""
    cut_from = {
        cut.sheet.thickness
        for cut in plan.cut.sheets
        if any(piece.design == design.name for piece in cut.pieces)
    }
    found = cut_from or {sheet.thickness for sheet in plan.project.sheets}
    thickness = found.pop() if len(found) == 1 else None
    return thickness.exact if thickness is not None else None


def _facts(bed: BedPlan, design: RaftDesign, thickness: Fraction | None, unit: Unit) -> Row:
    size = size_text(design.shape, unit)
    if thickness is not None:
        size = tr("{size}, {thickness} thick", size=size, thickness=length_text(thickness, unit))
    holes = hole_lines(design.holes, bed.plantings, unit)
    height = _LARGE_MM if len(holes) == 1 else _SMALLER_MM
    if not design.shape.is_rectangle:
        size = tr("{size} (box around its outline)", size=size)

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield line(left, top - 6, size, _LARGE_MM, style=Style.TITLE)
        for number, text in enumerate(holes):
            at = top - 13 - number * _SMALLER_MM * 1.45
            yield line(left, at, text, height, style=Style.TITLE, room=190)

    return Row(17 + (len(holes) - 1) * _SMALLER_MM * 1.45, draw)


def _has_sizes(design: RaftDesign) -> bool:
    """Whether the holes differ in diameter."""
    return len(np.unique(design.holes.diameters)) > 1


def _drawing_height(left: float, below: Sequence[Row]) -> float:
    """What a page leaves for the drawing; where that is too little, the rest begins a page."""
    height = left - _height(below) - 1
    return height if height >= _LEAST_DRAWING_MM else left * _SHARE_OF_DRAWING


def _height(rows: Iterable[Row]) -> float:
    return sum(row.height for row in rows)


def _drawing_beside_table(
    bed: BedPlan, design: RaftDesign, unit: Unit, room: float, height: float
) -> Row | None:
    """Put the hole table to the right of a tall raft; None where it does not fit there."""
    if design.shape.width < design.shape.length * Fraction(5, 4) or not len(design.holes):
        return None
    own = _table_unit(bed, unit)
    columns = _hole_columns(design, own)
    table_width = sum(column.width for column in columns)
    drawing = _drawing(design, unit, room - table_width - SET_GAP_MM, height)
    rows = table(columns, _hole_cells(bed, design, own))
    if _height(rows) > drawing.height:
        return None

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from drawing.draw(left, top)
        at = top
        for row in rows:
            yield from row.draw(left + room - table_width, at)
            at -= row.height

    return Row(drawing.height, draw)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the drawing of a raft stands within its row."""

    scale: int
    beside: float
    below: float
    height: float


def _drawing(design: RaftDesign, unit: Unit, room: float, height: float) -> Row:
    xs, ys = _places(design, 0), _places(design, 1)
    beside, below = dimension_room(ys, unit) + 6, dimension_room(xs, unit) + 6
    length, width = float(design.shape.length), float(design.shape.width)
    scale = best_scale(length, width, room - beside - 2, height - below - _ABOVE_MM)
    layout = _Layout(scale, beside, below, width / scale + below + _ABOVE_MM)

    def draw(left: float, top: float) -> Iterable[Mark]:
        return _raft_marks(design, unit, layout, left, top)

    return Row(layout.height, draw)


def _places(design: RaftDesign, axis: int) -> list[float]:
    """Where dimensions stand along one axis: the datum, every hole, every corner."""
    loop = design.shape.loop
    corners = [start_of(curve)[axis] for curve in loop.curves if isinstance(curve, Line)]
    end = float(design.shape.length if axis == 0 else design.shape.width)
    return [0.0, end, *corners, *design.holes.xy[:, axis].tolist()]


def _raft_marks(
    design: RaftDesign, unit: Unit, layout: _Layout, left: float, top: float
) -> Iterator[Mark]:
    scale = 1 / layout.scale
    width = float(design.shape.width)
    shift = Shift(left + layout.beside, top - 7 - width * scale, scale)
    yield shift.mark(Path(design.shape.loop.curves, Style.RAFT, closed=True))
    yield from shaping_marks(design.shape, shift)
    yield datum_corner(Point(shift.x, shift.y), _DATUM_LEG_MM)
    side_up = tr("This side up (top face)")
    yield line(shift.x, top - 4.6, side_up, 3.2, style=Style.TITLE)
    yield _up_arrow(shift.x + max(47.0, text_width(side_up, 3.2, bold=True) + 4), top - 5)
    yield from _holes(design, shift)
    complete = True
    for axis, ruler in (
        (0, Ruler(shift.x, shift.y, scale, upright=False)),
        (1, Ruler(shift.y, shift.x, scale, upright=True)),
    ):
        marks, all_shown = running_dimensions(_places(design, axis), ruler, unit)
        yield from marks
        complete = complete and all_shown
    words_below = tr(
        "Scale 1 : {scale}. Datum corner lower left; all figures in {unit} from it, none from "
        "hole to hole"
        if complete
        else "Scale 1 : {scale}. Datum corner lower left; all figures in {unit} from it, none "
        "from hole to hole; places without a figure are in the table",
        scale=layout.scale,
        unit=tr(UNIT_WORDS[unit]),
    )
    yield line(left, top - layout.height + 1.2, words_below, 2.8)


def _up_arrow(x: float, y: float) -> Mark:
    tip = y + 4
    corners = [
        (x - 0.5, y), (x + 0.5, y), (x + 0.5, tip - 2), (x + 1.7, tip - 2), (x, tip),
        (x - 1.7, tip - 2), (x - 0.5, tip - 2),
    ]  # fmt: skip
    return polyline([Point(*corner) for corner in corners], Style.SOLID, closed=True)


def _holes(design: RaftDesign, shift: Shift) -> Iterator[Mark]:
    holes = design.holes
    widest = max((text_width(name, 1) for name in holes.names), default=1.0)
    for index, (name, (x, y), diameter) in enumerate(
        zip(holes.names, holes.xy.tolist(), holes.diameters.tolist(), strict=True)
    ):
        centre = shift.point(x, y)
        radius = diameter / 2 * shift.scale
        yield Circle(centre, radius, Style.HOLE)
        yield from hole_marks(holes, index, centre, radius, outside=True)
        height = min(_NAME_MM, (2 * radius - 0.8) / widest)
        if height >= _SMALLEST_NAME_MM:
            yield line(centre.x, centre.y - height * CAP_HEIGHT / 2, name, height, anchor="middle")


def _proofs(design: RaftDesign, unit: Unit, room: float) -> Iterator[Row]:
    """Measures that prove the finished raft: what a tape must find across it."""
    shape = design.shape
    yield heading(tr("Proof by tape, before the next raft is made"))
    across = hypot(float(shape.length), float(shape.width))
    diagonals = (
        mark("Both diagonals of the raft: {across}")
        if shape.is_rectangle
        else mark("Both diagonals of the rectangle, before it is cut to shape: {across}")
    )
    yield words(
        tr(diagonals, across=length_text(across, unit)),
        room,
    )
    if proof := shape_proof(shape):
        first_corner, last_corner, apart = proof
        yield words(
            tr(
                "Corner {first_corner} to corner {last_corner}, once it is cut to shape: {apart}",
                first_corner=first_corner,
                last_corner=last_corner,
                apart=length_text(apart, unit),
            ),
            room,
        )
    holes = design.holes
    if not len(holes):
        return
    last = int(np.argmax(np.hypot(holes.xy[:, 0], holes.xy[:, 1])))
    away = hypot(*holes.xy[last].tolist())
    yield words(
        tr(
            "Datum corner to the centre of the last hole, {hole}: {away}",
            hole=holes.names[last],
            away=length_text(away, unit),
        ),
        room,
    )
    if len(holes) > 1:
        first = int(np.argmin(np.hypot(holes.xy[:, 0], holes.xy[:, 1])))
        between = hypot(*(holes.xy[last] - holes.xy[first]).tolist())
        yield words(
            tr(
                "Centre of {first} to centre of {last}: {between}",
                first=holes.names[first],
                last=holes.names[last],
                between=length_text(between, unit),
            ),
            room,
        )


def _hole_table(bed: BedPlan, design: RaftDesign, unit: Unit, room: float) -> Iterator[Row]:
    """List the centres, several holes beside each other."""
    holes = design.holes
    if not len(holes):
        return
    unit = _table_unit(bed, unit)
    columns = _hole_columns(design, unit)
    cells = _hole_cells(bed, design, unit)
    one = sum(column.width for column in columns) + SET_GAP_MM
    sets = min(_MOST_SETS, int((room + SET_GAP_MM) / one), ceil(len(cells) / 4))
    yield gap()
    step = _step(bed)
    in_unit = tr(UNIT_WORDS[unit])
    yield heading(
        tr("Hole centres from the datum corner, in {unit}", unit=in_unit)
        if step is None
        else tr(
            "Hole centres from the datum corner, in {unit}, on steps of {step}",
            unit=in_unit,
            step=exact_text(step, unit),
        )
    )
    yield from side_by_side(columns, cells, sets)


def _hole_columns(design: RaftDesign, unit: Unit) -> tuple[Column, ...]:
    width = 20 if unit == "in" else 17
    columns: tuple[Column, ...] = (
        Column(tr("hole"), 13),
        Column(f"x ({unit})", width, "right"),
        Column(f"y ({unit})", width, "right"),
    )
    if _has_sizes(design):
        columns = (*columns, Column(tr("diameter"), 21, "right"))
    if _is_told_apart(design.holes):
        columns = (*columns, Column(tr("for"), _CROP_MM))
    return columns


def _is_told_apart(holes: Holes) -> bool:
    """Whether the holes are for unlike crops, or some are plugged."""
    return holes.plantings is not None or holes.plugged is not None


def _uses(holes: Holes, plantings: Sequence[Planting]) -> list[tuple[str, ...]]:
    """Say of each hole which crop it is for, or that it is plugged, where that differs."""
    if not _is_told_apart(holes):
        return [()] * len(holes)
    crops = [crop_words(planting, number) for number, planting in enumerate(plantings)]
    plugged = np.zeros(len(holes), np.bool_) if holes.plugged is None else holes.plugged
    return [
        (tr("plugged") if idle else crops[number],)
        for number, idle in zip(holes.numbers.tolist(), plugged.tolist(), strict=True)
    ]


def _hole_cells(bed: BedPlan, design: RaftDesign, unit: Unit) -> list[tuple[str, ...]]:
    """Name and place of each hole, its diameter and its use where they differ."""
    holes = design.holes
    shows_size = _has_sizes(design)
    return [
        (
            name,
            figure(x, unit),
            figure(y, unit),
            *((figure(size, unit),) if shows_size else ()),
            *use,
        )
        for name, (x, y), size, use in zip(
            holes.names,
            holes.xy.tolist(),
            holes.diameters.tolist(),
            _uses(holes, bed.plantings),
            strict=True,
        )
    ]
