"""The part of the cut sheet about one raft design: its drawing, its hole table, its proofs."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from math import ceil, hypot, pi

import numpy as np

from geometry.drawing.bench import BENCH_LARGE_MM, BENCH_MM, arrow, datum_boxes, loud_datum
from geometry.drawing.crop_marks import crop_words, hole_lines, hole_marks, rings_of
from geometry.drawing.dimensions import Ruler, dimension_room, has_room, running_dimensions
from geometry.drawing.drilling import drilling_of, drilling_words, section_row
from geometry.drawing.figures import UNIT_WORDS, figure, length_text, size_text, weight_text
from geometry.drawing.flow import (
    SET_GAP_MM,
    Column,
    Part,
    Row,
    columns_of,
    gap,
    heading,
    row_room,
    row_width,
    side_by_side,
    table,
    together,
    words,
)
from geometry.drawing.hole_names import HEIGHTS, names_beside
from geometry.drawing.lettering import (
    LEADING,
    clipped,
    fitting_height,
    line,
    name_list,
    text_box,
    wrapped,
)
from geometry.drawing.marks import Box, Circle, Mark, Path
from geometry.drawing.paper import Paper
from geometry.drawing.scales import best_scale
from geometry.drawing.seat_rows import potted_on, saw_note
from geometry.drawing.shaping import shape_proof, shaping_marks, shaping_rows
from geometry.drawing.stamp import design_code
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift
from geometry.holes.sites import Holes
from geometry.model.curves import Line, Point
from geometry.model.edges import start_of
from geometry.model.measure import area
from geometry.model.planting import Planting
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import mark, plural, tr, tr_n
from geometry.units import MM_PER, Length, Unit, exact_text

_CROP_MM = 42.0
_PLACE_COLUMNS = 3
"""Name, x and y of a hole; more columns tell kinds of holes apart."""
_FEWEST_SETS = 3
_FEW_ROWS = 12
"""A table of so few rows is well read as it is, whatever its columns tell."""
_NAME_MM = BENCH_MM
_SMALLEST_NAME_MM = 1.7
_BESIDE_MM = 30.0
_ABOVE_MM = 11.0
_SIDE_UP_MM = 4.0
_TURNED_MM = 9.0
_RIGHT_MM = 6.0
"""Room for the last figure where it is moved aside."""

_SECTION_MM = 62.0
_ASIDE_MM = (76.0, 92.0)
_WORDS_MM = 4.0
_LEAST_DRAWING_MM = 92.0
_MOST_SETS = 4
_LEAST_ROWS = 4
"""A table does not begin on a page that has room for its heading and less than three rows."""

_MOST_AT_BENCH = 400
_SMALLER_MM = 3.4
"""Longer hole tables are read in the hand: at arm's length they would fill too many pages."""

_WORSE_SCALE = 1.3
"""By so much a drawing may be smaller for having its table beside it."""

_CARE = mark(
    "Mask and eye protection on, the raft clamped, no gloves near a spinning saw; drill away from "
    "the water. The page Cautions holds the rest."
)


def raft_part(plan: Plan, bed: BedPlan, design: RaftDesign, paper: Paper) -> Part:
    """Compose the part about one design; its drawing is on the first page."""
    rafts = [raft for raft in bed.rafts if raft.design.name == design.name]
    turned = [raft.name for raft in rafts if raft.turned]
    unit = plan.project.units
    room = row_width(paper)
    facts = _facts(plan, bed, design, turned, room)
    left = row_room(paper) - _height(facts) - 1
    drawn = partial(_drawing, design, unit, turned=bool(turned))
    rows = (*facts, *_arranged(plan, bed, design, drawn, room, left))
    return Part(
        tr("Cut sheet {name}", name=design.name),
        tr_n(
            "Code {code}. Make it once: {rafts}; {project}, bed {bed}",
            "Code {code}. Make it {n} times: {rafts}; {project}, bed {bed}",
            len(rafts),
            code=design_code(design, plan.project.details.revision),
            rafts=name_list([raft.name for raft in rafts]),
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
    found = {sheet.thickness for sheet in plan.sheets_of(design.name)}
    thickness = found.pop() if len(found) == 1 else None
    return thickness.exact if thickness is not None else None


def _facts(
    plan: Plan, bed: BedPlan, design: RaftDesign, turned: Sequence[str], room: float
) -> tuple[Row, ...]:
    """Say what is made: size, holes, weight, and how turned rafts lie."""
    unit = plan.project.units
    thickness = thickness_of(plan, design)
    size = size_text(design.shape, unit)
    if thickness is not None:
        size = tr("{size}, {thickness} thick", size=size, thickness=length_text(thickness, unit))
    if not design.shape.is_rectangle:
        size = tr("{size} (box around its outline)", size=size)
    holes = hole_lines(design.holes, bed.plantings, unit)
    height = BENCH_LARGE_MM if len(holes) == 1 else BENCH_MM
    wide = text_width(size, 1, bold=True)
    rows = [words(size, room, height=min(BENCH_LARGE_MM, 0.99 * room / wide), style=Style.TITLE)]
    rows += [words(text, room, height=height, style=Style.TITLE) for text in holes]
    if (weight := _weight(plan, design)) is not None:
        text = tr("The dry raft weighs about {weight}.", weight=weight_text(weight, unit))
        rows.append(words(text, room, height=BENCH_MM))
    if turned:
        rows.append(
            words(
                tr_n(
                    "{rafts} lies turned half round (½): the corner marked ½ then faces the bed's "
                    "datum corner.",
                    "{rafts} lie turned half round (½): the corner marked ½ then faces the bed's "
                    "datum corner.",
                    len(turned),
                    rafts=name_list(turned),
                ),
                room,
                height=BENCH_MM,
            )
        )
    return (*rows, gap(1))


def _weight(plan: Plan, design: RaftDesign) -> float | None:
    """Return what the dry foam of a raft weighs in kg; None where its density is not known."""
    sheet = plan.sheet_of(design.name)
    if sheet is None or sheet.thickness is None or sheet.density is None:
        return None
    drilled = float(pi / 4 * np.sum(design.holes.diameters**2))
    foam = area(design.shape.loop) - drilled
    return foam * sheet.thickness.mm * float(sheet.density) * 1e-9


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A drawing of a raft as a row, and its scale."""

    row: Row
    scale: int


def _arranged(
    plan: Plan,
    bed: BedPlan,
    design: RaftDesign,
    drawn: Callable[[float, float], _Drawn],
    room: float,
    left: float,
) -> tuple[Row, ...]:
    """Set the drawing, how holes are sawn and proved, and the table so that the drawing is large.

    All on one page where that costs little: ``left`` is the height that its rows have.
    """
    unit = plan.project.units
    shaping = shaping_rows(design.shape, unit, room)
    listed = tuple(_hole_table(bed, design, unit, room))
    bench = _bench(plan, bed, design, room)
    high = left - _height(bench)
    below = drawn(room, high)
    narrow = _beside_bench(plan, bed, design, drawn, room, left)
    best = min(below.scale, narrow[1] if narrow else below.scale)
    rest = high - _height((*shaping, *listed))
    if rest >= _LEAST_DRAWING_MM:
        whole = drawn(room, rest)
        if whole.scale <= best * _WORSE_SCALE:
            return (whole.row, *bench, *shaping, *listed)
    if beside := _beside_table(bed, design, unit, drawn, room, high):
        row, scale = beside
        if scale <= best * _WORSE_SCALE:
            return (row, *bench, *shaping)
    if narrow is not None and narrow[1] < below.scale:
        return (narrow[0], *shaping, *listed)
    return (below.row, *bench, *shaping, *listed)


def _beside_table(
    bed: BedPlan,
    design: RaftDesign,
    unit: Unit,
    drawn: Callable[[float, float], _Drawn],
    room: float,
    height: float,
) -> tuple[Row, int] | None:
    """Put the hole table to the right of the drawing; None where there is no room for both."""
    if not len(design.holes):
        return None
    own = _table_unit(bed, unit)
    columns = _hole_columns(bed, design, own)
    table_width = sum(column.width for column in columns)
    left = room - table_width - SET_GAP_MM
    rows = table(columns, _hole_cells(bed, design, own), height=_table_height(design))
    if left < 2 * _BESIDE_MM or _height(rows) > height:
        return None
    drawing = drawn(left, height)
    return columns_of((0, (drawing.row,)), (room - table_width, rows)), drawing.scale


def _bench(plan: Plan, bed: BedPlan, design: RaftDesign, room: float) -> tuple[Row, ...]:
    """Put beside each other how a hole is sawn and what proves the raft; cautions below."""
    section, way = _sawing(plan, bed, design, room)
    if section is None:
        proofs = (*_proofs(design, plan.project.units, room), *_saws(plan, bed, design, room))
        return together((*proofs, *way))
    aside = _SECTION_MM + SET_GAP_MM
    proofs = (
        *_proofs(design, plan.project.units, room - aside),
        *_saws(plan, bed, design, room - aside),
    )
    return together((columns_of((0, (section,)), (aside, proofs)), *way))


def _saws(plan: Plan, bed: BedPlan, design: RaftDesign, room: float) -> Iterator[Row]:
    """Say which saw to take for each pot, and how it then sits."""
    for potted in potted_on(plan, bed, design):
        yield words(saw_note(plan, potted, plan.project.units), room, height=BENCH_MM)


def _beside_bench(
    plan: Plan,
    bed: BedPlan,
    design: RaftDesign,
    drawn: Callable[[float, float], _Drawn],
    room: float,
    height: float,
) -> tuple[Row, int] | None:
    """Put how holes are sawn and proved to the right of the drawing, in the narrowest column."""
    for wide in _ASIDE_MM:
        column = _bench_column(plan, bed, design, wide)
        if _height(column) <= height:
            drawing = drawn(room - wide - SET_GAP_MM, height)
            return columns_of((0, (drawing.row,)), (room - wide, column)), drawing.scale
    return None


def _bench_column(plan: Plan, bed: BedPlan, design: RaftDesign, room: float) -> tuple[Row, ...]:
    """How holes are sawn and proved, one below the other."""
    section, way = _sawing(plan, bed, design, room)
    proofs = _proofs(design, plan.project.units, room)
    saws = _saws(plan, bed, design, room)
    return (*([section] if section else []), *saws, *way[:1], gap(), *proofs, *way[1:])


def _sawing(
    plan: Plan, bed: BedPlan, design: RaftDesign, room: float
) -> tuple[Row | None, tuple[Row, ...]]:
    """Show and say how a hole is sawn, and how its pot sits; nothing for a raft without holes."""
    unit = plan.project.units
    holes = design.holes
    if not len(holes):
        return None, ()
    drilling = drilling_of(thickness_of(plan, design), plan.project.cutting, unit)
    potted = potted_on(plan, bed, design)
    sizes, counts = np.unique(holes.diameters, return_counts=True)
    most = float(sizes[np.argmax(counts)])
    held = next((each for each in potted if each.planting.hole_diameter.mm == most), None)
    sits = held.sits if held is not None else None
    return section_row(drilling, most, unit, _SECTION_MM, sits), (
        words(drilling_words(drilling, unit), room, height=BENCH_MM),
        words(tr(_CARE), room, height=_WORDS_MM),
    )


def _has_sizes(design: RaftDesign) -> bool:
    """Whether the holes differ in diameter."""
    return len(np.unique(design.holes.diameters)) > 1


def _height(rows: Iterable[Row]) -> float:
    return sum(row.height for row in rows)


@dataclass(frozen=True, slots=True)
class _Layout:
    """Where the drawing of a raft stands within its row, and what is written below it."""

    scale: int
    beside: float
    below: float
    height: float
    tiers: tuple[int, int]
    room: float
    turned: bool


def _drawing(design: RaftDesign, unit: Unit, room: float, height: float, *, turned: bool) -> _Drawn:
    layout = _layout(design, unit, room, height, (1, 1), turned=turned)
    crowded = tuple(
        2 if not has_room(_places(design, axis), ruler, unit, height=BENCH_MM) else 1
        for axis, ruler in enumerate(_rulers(layout, Point(0, 0)))
    )
    if crowded != (1, 1):
        layout = _layout(design, unit, room, height, (crowded[0], crowded[1]), turned=turned)
    return _Drawn(Row(layout.height, partial(_raft_marks, design, unit, layout)), layout.scale)


def _layout(
    design: RaftDesign,
    unit: Unit,
    room: float,
    height: float,
    tiers: tuple[int, int],
    *,
    turned: bool,
) -> _Layout:
    across, upright = (
        dimension_room(_places(design, axis), unit, height=BENCH_MM, tiers=tiers[axis])
        for axis in (0, 1)
    )
    beside = max(upright + 2, _BESIDE_MM)
    notes = len(wrapped(_under_words(999, unit, complete=False), _WORDS_MM, room))
    below = max(across + 2, _BESIDE_MM - 2) + notes * _WORDS_MM * LEADING
    length, width = float(design.shape.length), float(design.shape.width)
    right = _TURNED_MM if turned else _RIGHT_MM
    scale = best_scale(length, width, room - beside - right, height - below - _ABOVE_MM)
    return _Layout(scale, beside, below, width / scale + below + _ABOVE_MM, tiers, room, turned)


def _rulers(layout: _Layout, corner: Point) -> tuple[Ruler, Ruler]:
    """The rulers along the lower and the left edge of a raft drawn with its datum corner there."""
    scale = 1 / layout.scale
    return (
        Ruler(corner.x, corner.y, scale, upright=False),
        Ruler(corner.y, corner.x, scale, upright=True),
    )


def _places(design: RaftDesign, axis: int) -> list[float]:
    """Where dimensions stand along one axis: the datum, every hole, every corner."""
    loop = design.shape.loop
    corners = [start_of(curve)[axis] for curve in loop.curves if isinstance(curve, Line)]
    end = float(design.shape.length if axis == 0 else design.shape.width)
    return [0.0, end, *corners, *np.unique(design.holes.xy[:, axis]).tolist()]


def _raft_marks(
    design: RaftDesign, unit: Unit, layout: _Layout, left: float, top: float
) -> Iterator[Mark]:
    scale = 1 / layout.scale
    length, width = float(design.shape.length) * scale, float(design.shape.width) * scale
    corner = Point(left + layout.beside, top - _ABOVE_MM + 2 - width)
    shift = Shift(*corner, scale)
    yield shift.mark(Path(design.shape.loop.curves, Style.RAFT, closed=True))
    angle = datum_boxes(corner, length, width)
    holes = tuple(_holes(design, shift, angle))
    yield from holes
    reaches = design.holes.diameters[:, None] / 2 * scale
    centres = shift.points(design.holes.xy)
    rims = [Box(*box) for box in np.hstack([centres - reaches, centres + reaches]).tolist()]
    names = [box for one in holes if (box := text_box(one)) is not None]
    yield from shaping_marks(design.shape, shift, [*angle, *rims, *names])
    yield from loud_datum(corner, length, width, layout.beside)
    side_up = tr("This side up (top face)")
    wide = layout.room - layout.beside - _RIGHT_MM
    size = fitting_height(side_up, _SIDE_UP_MM, wide, bold=True)
    yield line(corner.x, top - 6, side_up, size, style=Style.TITLE, room=wide)
    pointer = corner.x + min(wide, text_width(side_up, size, bold=True)) + 3
    yield arrow(Point(pointer, top - 7), Point(pointer, top - 1.5))
    if layout.turned:
        yield from _turned_corner(Point(corner.x + length, corner.y + width))
    complete = True
    for axis, ruler in enumerate(_rulers(layout, corner)):
        marks, all_shown = running_dimensions(
            _places(design, axis), ruler, unit, height=BENCH_MM, tiers=layout.tiers[axis]
        )
        yield from marks
        complete = complete and all_shown
    notes = wrapped(_under_words(layout.scale, unit, complete=complete), _WORDS_MM, layout.room)
    for number, text in enumerate(reversed(notes)):
        low = top - layout.height + 1.4 + number * _WORDS_MM * LEADING
        yield line(left, low, text, _WORDS_MM)


def _under_words(scale: int, unit: Unit, *, complete: bool) -> str:
    """Say what the figures along the edges are."""
    return tr(
        "Scale 1 : {scale}. Datum corner lower left; all figures in {unit} from it, none from "
        "hole to hole"
        if complete
        else "Scale 1 : {scale}. Datum corner lower left; all figures in {unit} from it, none "
        "from hole to hole; places without a figure are in the table",
        scale=scale,
        unit=tr(UNIT_WORDS[unit]),
    )


def _turned_corner(corner: Point) -> Iterator[Mark]:
    """Mark the corner that faces the bed's datum corner once the raft is turned half round."""
    yield arrow(Point(corner.x + 7.5, corner.y - 6.5), Point(corner.x + 0.8, corner.y - 0.4))
    yield line(corner.x + 2.2, corner.y - 11.5, "½", BENCH_MM, style=Style.TITLE)


def _holes(design: RaftDesign, shift: Shift, keep_off: Sequence[Box]) -> Iterator[Mark]:
    """Draw the holes, each with its name inside, or beside it where the rim is too narrow."""
    holes = design.holes
    radii = holes.diameters / 2 * shift.scale
    centres = shift.points(holes.xy)
    for index, ((x, y), radius) in enumerate(zip(centres.tolist(), radii.tolist(), strict=True)):
        yield Circle(Point(x, y), radius, Style.HOLE)
        yield from hole_marks(holes, index, Point(x, y), radius, outside=True)
    widest = max((text_width(name, 1) for name in holes.names), default=1.0)
    inside = min(_NAME_MM, (2 * float(radii.min(initial=np.inf)) - 0.8) / widest)
    beside = None
    if inside < HEIGHTS[0]:
        drawn = np.column_stack([centres, radii * _reach_of_marks(holes)])
        far = shift.point(float(design.shape.length), float(design.shape.width))
        beside = names_beside(holes.names, drawn, Box(shift.x, shift.y, *far), keep_off)
    if beside is not None and beside[0] > inside:
        height, boxes = beside
        for name, box in zip(holes.names, boxes, strict=True):
            yield line(box.left, box.bottom, name, height)
        return
    for name, (x, y), radius in zip(holes.names, centres.tolist(), radii.tolist(), strict=True):
        height = min(_NAME_MM, (2 * radius - 0.8) / widest)
        if height >= _SMALLEST_NAME_MM:
            yield line(x, y - height * CAP_HEIGHT / 2, name, height, anchor="middle")


def _reach_of_marks(holes: Holes) -> float:
    """How far rings and ticks reach beyond the rims, as a share of the radius."""
    rings = 0 if holes.plantings is None else rings_of(int(holes.plantings.max(initial=0)))
    return max(1.05 + 0.2 * rings if rings else 1.0, 1.0 if holes.plugged is None else 1.3)


def _proofs(design: RaftDesign, unit: Unit, room: float) -> Iterator[Row]:
    """Measures that prove the finished raft: what a tape must find across it."""
    shape = design.shape
    title = tr("Proof by tape, before the next raft is made")
    yield words(title, room, height=BENCH_MM, style=Style.TITLE)
    across = hypot(float(shape.length), float(shape.width))
    diagonals = (
        mark("Both diagonals of the raft: {across}")
        if shape.is_rectangle
        else mark("Both diagonals of the rectangle, before it is cut to shape: {across}")
    )
    yield words(
        tr(diagonals, across=length_text(across, unit)),
        room,
        height=BENCH_MM,
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
            height=BENCH_MM,
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
        height=BENCH_MM,
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
            height=BENCH_MM,
        )


def _hole_table(bed: BedPlan, design: RaftDesign, unit: Unit, room: float) -> Iterator[Row]:
    """List the centres, several holes beside each other."""
    holes = design.holes
    if not len(holes):
        return
    unit = _table_unit(bed, unit)
    columns = _hole_columns(bed, design, unit)
    cells = _hole_cells(bed, design, unit)
    one = sum(column.width for column in columns) + SET_GAP_MM
    sets = min(_MOST_SETS, int((room + SET_GAP_MM) / one), ceil(len(cells) / 3))
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
        ),
        room,
        height=BENCH_MM,
    )
    is_short = len(cells) <= _FEW_ROWS * max(sets, 1)
    if is_short or sets >= _FEWEST_SETS or len(columns) == _PLACE_COLUMNS:
        yield from _begun(side_by_side(columns, cells, max(sets, 1), height=_table_height(design)))
        return
    # What only tells kinds of holes apart is said once for each kind, which leaves room beside.
    kinds: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    for cell in cells:
        kinds.setdefault(cell[_PLACE_COLUMNS:], []).append(cell[:_PLACE_COLUMNS])
    places = columns[:_PLACE_COLUMNS]
    one = sum(column.width for column in places) + SET_GAP_MM
    most = max(1, min(_MOST_SETS, int((room + SET_GAP_MM) / one)))
    for kind, listed in kinds.items():
        size = [tr("holes of {size}", size=f"{kind[0]} {unit}")] if _has_sizes(design) else []
        title = words(
            ", ".join((*kind[len(size) :], *size)), room, height=BENCH_MM, style=Style.TITLE
        )
        rows = side_by_side(
            places, listed, min(most, ceil(len(listed) / 3)), height=_table_height(design)
        )
        yield from _begun((title, *rows))
        yield gap()


def _begun(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Keep the first rows of a table together."""
    return (*together(rows[:_LEAST_ROWS]), *rows[_LEAST_ROWS:])


def _table_height(design: RaftDesign) -> float:
    return BENCH_MM if len(design.holes) <= _MOST_AT_BENCH else _SMALLER_MM


def _hole_columns(bed: BedPlan, design: RaftDesign, unit: Unit) -> tuple[Column, ...]:
    """Make columns as wide as what stands in them."""
    height = _table_height(design)
    heads = [tr("hole"), f"x ({unit})", f"y ({unit})"]
    heads += [tr("diameter")] if _has_sizes(design) else []
    heads += [tr("for")] if _is_told_apart(design.holes) else []
    cells = _hole_cells(bed, design, unit)
    columns: list[Column] = []
    for place, head in enumerate(heads):
        wide = max(text_width(cell, height) for cell in {row[place] for row in cells})
        wide = max(wide, text_width(head, height, bold=True) * 2 / 3)
        is_figure = 0 < place < 3 or (place == 3 and _has_sizes(design))
        columns.append(
            Column(head, min(wide, 60) + 5.6, "right")
            if is_figure
            else Column(head, min(wide, _CROP_MM) + 2.6)
        )
    return tuple(columns)


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
