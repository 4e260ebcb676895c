"""The part of the cut sheet about one sheet of foam: its pieces and its cuts in order."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import count, product
from math import ceil, hypot

from geometry.cutting.cuts import Cut, CutOrder, order_cuts
from geometry.cutting.plan import CutSheet, Offcut, Piece
from geometry.drawing.bench import loud_datum
from geometry.drawing.dimensions import Ruler, dimension_room, has_room, running_dimensions
from geometry.drawing.figures import by_text, figure, length_text
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_room, row_width, table, words
from geometry.drawing.lettering import clipped, line
from geometry.drawing.marks import Box, Circle, Mark, frame, stroke
from geometry.drawing.paper import Paper
from geometry.drawing.scales import best_scale
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, shortened_within, text_width
from geometry.drawing.transforms import Shift
from geometry.errors import GeometryError
from geometry.model.curves import Point
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import Plan
from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit

_TALLEST_MM = 105.0
_LEAST_MM = 38.0
_BELOW_MM = 26.0
_ABOVE_MM = 9.0
_RING_MM = 3.3
_TABLE_MM = 4.2
"""Font size of tables and words: figures are 3.06 mm high, 16 minutes of arc from 650 mm."""

_WORDS_MM = 3.8
_SMALLEST_NAME_MM = 1.6
_CLEAR_NAME_MM = 2.4
_NAME_MM = 4.4
_DATUM_ROOM_MM = 30.0
_RIGHT_MM = 6.0
"""Room for the last figure where it is moved aside."""


def sheet_parts(plan: Plan, paper: Paper) -> Iterator[Part]:
    """Compose a part for each way in which a sheet is cut; sheets are counted through all."""
    first = 1
    for cut in plan.cut.sheets:
        yield _sheet_part(plan, cut, first, paper)
        first += cut.copies


def _sheet_part(plan: Plan, cut: CutSheet, first: int, paper: Paper) -> Part:
    unit = plan.project.units
    room = row_width(paper)
    order, flaw = _ordered(cut, plan.project.cutting)
    how = words(
        " ".join(_how_to_cut(cut.sheet, plan.project.cutting, unit)), room, height=_WORDS_MM
    )
    rows: list[Row] = [
        heading(tr("Cuts in order")),
        *([words(flaw, room, height=_TABLE_MM)] if flaw else _cut_table(cut, order.cuts, unit)),
        gap(),
        heading(tr("Pieces")),
        *_piece_table(cut, order.kept, unit),
    ]
    if order.kept:
        rows.append(
            words(
                tr(
                    "Offcuts with a letter are worth keeping: write on each the number of its "
                    "sheet and its letter, {first}A.",
                    first=first,
                ),
                room,
                height=_WORDS_MM,
            )
        )
    left = row_room(paper) - how.height - sum(row.height for row in rows) - 2
    tallest = min(_TALLEST_MM, left - _ABOVE_MM - _BELOW_MM)
    if tallest < _LEAST_MM:
        tallest = _TALLEST_MM
    rows = [how, gap(2), _drawing(cut, order, unit, room, tallest), *rows]
    sheet = cut.sheet
    size = f"{by_text(sheet.length.exact, sheet.width.exact, unit)} {unit}"
    if sheet.thickness is not None:
        size = tr(
            "{size}, {thickness} thick",
            size=size,
            thickness=length_text(sheet.thickness.exact, unit),
        )
    numbers = (
        tr("Sheet {first}", first=first)
        if cut.copies == 1
        else tr("Sheets {first}-{last}", first=first, last=first + cut.copies - 1)
    )
    title = f"{numbers}: {clipped(sheet.name)}"
    if sheet.offcut:
        task = tr_n(
            "Cut {n} offcut on hand like this; {size}; {project}",
            "Cut {n} offcuts on hand like this; {size}; {project}",
            cut.copies,
            size=size,
            project=clipped(plan.project.name),
        )
    else:
        task = tr_n(
            "Cut {n} sheet like this; {size}; {project}",
            "Cut {n} sheets like this; {size}; {project}",
            cut.copies,
            size=size,
            project=clipped(plan.project.name),
        )
    return Part(title, task, tuple(rows), bookmark=title)


def _ordered(cut: CutSheet, cutting: Cutting) -> tuple[CutOrder, str]:
    try:
        return order_cuts(cut, cutting), ""
    except GeometryError as error:
        return CutOrder((), (), ()), str(error)


def _how_to_cut(sheet: Sheet, cutting: Cutting, unit: Unit) -> Iterator[str]:
    yield (
        tr(
            "Cut in the order of the numbers; every cut runs from edge to edge of the part in "
            "hand, and is measured from an edge that is true by then. The figures along the "
            "drawing run from the trimmed datum corner."
        )
    )
    kerf = cutting.kerf.exact
    yield (
        tr(
            "The blade takes {kerf}: set the line on the finished edge and let the "
            "blade run on the waste side.",
            kerf=length_text(kerf, unit),
        )
        if kerf
        else tr("No blade width is counted: each cut takes nothing away.")
    )
    yield tr("Write the raft design on each piece as it comes off.")
    if sheet.tolerance.exact:
        yield (
            tr(
                "A board may be up to {tolerance} short each way and still does; measure yours.",
                tolerance=length_text(sheet.tolerance.exact, unit),
            )
        )
    if score_lines(sheet):
        yield tr("Grey dashed lines are scores: the board breaks there, so carry it flat.")


def score_lines(sheet: Sheet) -> tuple[tuple[Point, Point], ...]:
    """Return the ends of a board's score lines, in sheet coordinates."""
    if sheet.score is None:
        return ()
    length, width = sheet.length.exact, sheet.width.exact
    lines: list[tuple[Point, Point]] = []
    for apart, side, across in (
        (sheet.score.across, length, True),
        (sheet.score.along, width, False),
    ):
        if apart is None:
            continue
        for number in range(1, ceil(side / apart.exact)):
            at = float(number * apart.exact)
            ends = (
                (Point(at, 0), Point(at, float(width)))
                if across
                else (Point(0, at), Point(float(length), at))
            )
            lines.append(ends)
    return tuple(lines)


def _drawing(cut: CutSheet, order: CutOrder, unit: Unit, room: float, tallest: float) -> Row:
    length, width = float(cut.sheet.length.exact), float(cut.sheet.width.exact)
    datum = _datum_of(cut)
    places = _line_places(order.cuts, datum)
    beside = max(_DATUM_ROOM_MM, dimension_room(places[1], unit, height=_TABLE_MM))
    tiers = (1, 1)
    below = beside
    scale = best_scale(length, width, room - beside - _RIGHT_MM, tallest)
    for axis in (0, 1):
        ruler = Ruler(0, 0, 1 / scale, upright=False)
        if not has_room(places[axis], ruler, unit, height=_TABLE_MM):
            tiers = (2, tiers[1]) if axis == 0 else (tiers[0], 2)
    beside, below = (
        max(
            _DATUM_ROOM_MM if axis else _BELOW_MM,
            dimension_room(places[axis], unit, height=_TABLE_MM, tiers=tiers[axis]) + 2,
        )
        for axis in (1, 0)
    )
    scale = best_scale(length, width, room - beside - _RIGHT_MM, tallest)

    def draw(left: float, top: float) -> Iterable[Mark]:
        shift = Shift(left + beside, top - _ABOVE_MM - width / scale, 1 / scale)
        yield frame(Box(*shift.point(0, 0), *shift.point(length, width)), Style.SHEET)
        corner = shift.point(*datum)
        yield from loud_datum(corner, length / scale, width / scale, beside)
        for start, end in score_lines(cut.sheet):
            yield stroke(shift.point(*start), shift.point(*end), Style.HINT)
        rings = _ring_places(order.cuts, shift)
        for piece in cut.pieces:
            turned = (tr("turned a quarter"),) if piece.turned else ()
            yield from _part_marks(piece, shift, unit, rings, piece.design, *turned)
        for letter, offcut in zip(_letters(), order.kept, strict=False):
            name = tr("offcut {letter}", letter=letter)
            yield from _part_marks(offcut, shift, unit, rings, name, style=Style.RULE)
        yield from _cut_marks(order.cuts, shift, rings)
        for axis, ruler in (
            (0, Ruler(corner.x, shift.y, 1 / scale, upright=False)),
            (1, Ruler(corner.y, shift.x, 1 / scale, upright=True)),
        ):
            yield from running_dimensions(
                places[axis], ruler, unit, height=_TABLE_MM, tiers=tiers[axis]
            )[0]
        yield line(shift.x, top - 5, tr("scale 1 : {scale}", scale=scale), _WORDS_MM)

    return Row(width / scale + _ABOVE_MM + below, draw)


def _datum_of(cut: CutSheet) -> tuple[float, float]:
    """Return where the first two true edges meet, in sheet coordinates."""
    return float(min(one.x for one in cut.pieces)), float(min(one.y for one in cut.pieces))


def _line_places(
    ordered: Sequence[Cut], datum: tuple[float, float]
) -> tuple[list[float], list[float]]:
    """Return how far the finished edges of all cuts lie from the datum corner, along each axis."""
    places: tuple[list[float], list[float]] = ([0.0], [0.0])
    for cut in ordered:
        axis = 1 if cut.start[1] == cut.end[1] else 0
        places[axis].append(float(cut.start[axis]) - datum[axis])
    return places


def _letters() -> Iterator[str]:
    """Give the names of a sheet's offcuts: A to Z without I and O, then AA, AB and so on."""
    for size in count(1):
        for signs in product("ABCDEFGHJKLMNPQRSTUVWXYZ", repeat=size):
            yield "".join(signs)


def _part_marks(
    part: Piece | Offcut,
    shift: Shift,
    unit: Unit,
    rings: Sequence[Point],
    name: str,
    *more: str,
    style: Style = Style.RAFT,
) -> Iterator[Mark]:
    """Draw a part of a sheet with its name and size, where they can be read."""
    low = shift.point(float(part.x), float(part.y))
    high = shift.point(float(part.x + part.length), float(part.y + part.width))
    box = Box(*low, *high)
    yield frame(box, style)
    upright = box.height > 2 * box.width
    along, across = (box.height, box.width) if upright else (box.width, box.height)
    size = f"{by_text(part.length, part.width, unit)} {unit}"
    texts = [
        shortened_within(name, _CLEAR_NAME_MM, along - 2),
        *(text for text in (size, *more) if text_width(text, _SMALLEST_NAME_MM) <= along - 2),
    ]
    widest = max(text_width(text, 1) for text in texts)
    height = min(_NAME_MM, (along - 2) / widest, (across - 2) / (1.5 * len(texts)))
    while height >= _SMALLEST_NAME_MM:
        half, half_tall = widest * height / 2, height * 0.75 * len(texts)
        sides = (half_tall, half) if upright else (half, half_tall)
        if (middle := _clear_of(rings, box, *sides)) is not None:
            first = height * (0.75 * len(texts) - 1.1)
            for number, text in enumerate(texts):
                down = first - number * height * 1.5
                at = (middle.x - down, middle.y) if upright else (middle.x, middle.y + down)
                yield line(*at, text, height, anchor="middle", angle=90 if upright else 0)
            return
        height *= 0.85


def _clear_of(rings: Sequence[Point], box: Box, x_half: float, y_half: float) -> Point | None:
    """Find a place for words of a size in a box, as near its middle as the rings leave it."""
    x = (box.left + box.right) / 2
    reach = max(box.height / 2 - y_half - 0.8, 0)
    for step in range(int(reach) + 1):
        for y in ((box.bottom + box.top) / 2 + step, (box.bottom + box.top) / 2 - step):
            if all(
                abs(ring.x - x) >= x_half + _RING_MM or abs(ring.y - y) >= y_half + _RING_MM
                for ring in rings
            ):
                return Point(x, y)
    return None


def _ring_places(ordered: Sequence[Cut], shift: Shift) -> list[Point]:
    """Return where the number of each cut stands: on it, near the end where it begins."""
    rings: list[Point] = []
    for cut in ordered:
        start, end = _page_point(cut.start, shift), _page_point(cut.end, shift)
        rings.append(_ring_place(start, end, rings))
    return rings


def _cut_marks(ordered: Sequence[Cut], shift: Shift, rings: Sequence[Point]) -> Iterator[Mark]:
    """Draw the cuts, each with its number in a ring on it."""
    for cut in ordered:
        yield stroke(_page_point(cut.start, shift), _page_point(cut.end, shift), Style.CUT)
    for cut, place in zip(ordered, rings, strict=True):
        yield Circle(place, _RING_MM, Style.WHITE)
        yield Circle(place, _RING_MM, Style.FRAME)
        height = 4.0 if cut.number < 10 else 3.2
        low = place.y - height * CAP_HEIGHT / 2
        text = f"{cut.number}"
        yield line(place.x, low, text, height, anchor="middle", style=Style.TITLE)


def _ring_place(start: Point, end: Point, taken: Sequence[Point]) -> Point:
    """Find a place on a cut where its ring covers no other, if there is one."""
    length = max(hypot(end.x - start.x, end.y - start.y), 1e-9)
    steps = max(1, int(length / _RING_MM))
    places = [
        Point(
            start.x + share * (end.x - start.x),
            start.y + share * (end.y - start.y),
        )
        for share in ((step + 0.5) / steps for step in range(steps))
    ]
    wanted = [place for place in places if _apart(place, start) >= 2 * _RING_MM] or places
    free = [
        place for place in wanted if all(_apart(place, other) > 2.1 * _RING_MM for other in taken)
    ]
    return (free or wanted)[0]


def _apart(first: Point, second: Point) -> float:
    return hypot(first.x - second.x, first.y - second.y)


def _page_point(place: tuple[Fraction, Fraction], shift: Shift) -> Point:
    return shift.point(float(place[0]), float(place[1]))


_FROM = {
    (True, True): mark("from the lower edge (as bought)"),
    (True, False): mark("from the lower edge (true edge)"),
    (False, True): mark("from the left edge (as bought)"),
    (False, False): mark("from the left edge (true edge)"),
}
"""Where a cut is measured from: does it run along the sheet, and is the edge as bought?"""


def _cut_table(cut: CutSheet, ordered: tuple[Cut, ...], unit: Unit) -> tuple[Row, ...]:
    if not ordered:
        return (words(tr("None: the sheet is the raft."), 150, height=_TABLE_MM),)
    trims = _trims(cut)
    datum = _datum_of(cut)
    rows = []
    for one in ordered:
        along = one.start[1] == one.end[1]
        axis = 1 if along else 0
        rows.append(
            (
                f"{one.number}",
                tr("along the sheet") if along else tr("across the sheet"),
                f"{figure(one.measure, unit)}",
                tr(_FROM[along, one.number in trims]),
                figure(float(one.start[axis]) - datum[axis], unit),
            )
        )
    return table(
        (
            Column(tr("cut"), 12),
            Column(tr("runs"), 42),
            Column(tr("measure ({unit})", unit=unit), 32, "right"),
            Column("", 79),
            Column(tr("from datum"), 25, "right"),
        ),
        rows,
        height=_TABLE_MM,
    )


def _trims(cut: CutSheet) -> frozenset[int]:
    """Return the numbers of the cuts that are measured from an edge as bought."""
    trimmed = [min(getattr(piece, axis) for piece in cut.pieces) > 0 for axis in ("y", "x")]
    return frozenset(range(1, sum(trimmed) + 1))


def _piece_table(cut: CutSheet, kept: Sequence[Offcut], unit: Unit) -> tuple[Row, ...]:
    """List what comes out of a sheet: rafts by their design, then the offcuts by their letters."""
    counted = Counter(
        (piece.design, max(piece.length, piece.width), min(piece.length, piece.width))
        for piece in cut.pieces
    )
    cells = [
        (design, f"{pieces}", f"{pieces * cut.copies}", by_text(length, width, unit))
        for (design, length, width), pieces in counted.items()
    ]
    cells += [
        (
            tr("offcut {letter}", letter=letter),
            "1",
            f"{cut.copies}",
            by_text(max(one.length, one.width), min(one.length, one.width), unit),
        )
        for letter, one in zip(_letters(), kept, strict=False)
    ]
    return table(
        (
            Column(tr("raft design"), 66, keeps_end=True),
            Column(tr("a sheet"), 30, "right"),
            Column(tr("all sheets"), 34, "right"),
            Column(tr("size ({unit})", unit=unit), 60, "right"),
        ),
        cells,
        height=_TABLE_MM,
    )
