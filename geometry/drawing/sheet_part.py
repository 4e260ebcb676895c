"""The part of the cut sheet about one sheet of foam: its pieces and its cuts in order."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import ceil, hypot

from geometry.cutting.cuts import Cut, CutOrder, order_cuts
from geometry.cutting.plan import CutSheet, Offcut, Piece
from geometry.drawing.figures import by_text, figure, length_text
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_width, table, words
from geometry.drawing.lettering import clipped, line
from geometry.drawing.marks import Box, Circle, Mark, frame, stroke
from geometry.drawing.paper import Paper
from geometry.drawing.raft import datum_corner
from geometry.drawing.scales import best_scale
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift
from geometry.errors import GeometryError
from geometry.model.curves import Point
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import Plan
from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit

_TALLEST_MM = 120.0
_ASIDE_MM = 9.0
_RING_MM = 2.6


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
    rows: list[Row] = [
        words(" ".join(_how_to_cut(cut.sheet, plan.project.cutting, unit)), room),
        gap(2),
        _drawing(cut, order, unit, room),
        gap(2),
        heading(tr("Cuts in order")),
        *([words(flaw, room)] if flaw else _cut_table(cut, order.cuts, unit)),
        gap(),
        heading(tr("Pieces")),
        *_piece_table(cut, unit),
    ]
    if order.kept:
        rows += [gap(), heading(tr("Offcuts worth keeping")), *_offcut_table(cut, order.kept, unit)]
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
            "hand, and is measured from an edge that is true by then."
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


def _drawing(cut: CutSheet, order: CutOrder, unit: Unit, room: float) -> Row:
    length, width = float(cut.sheet.length.exact), float(cut.sheet.width.exact)
    scale = best_scale(length, width, room - 2 * _ASIDE_MM, _TALLEST_MM)

    def draw(left: float, top: float) -> Iterable[Mark]:
        shift = Shift(left + _ASIDE_MM, top - _ASIDE_MM - width / scale, 1 / scale)
        yield frame(Box(*shift.point(0, 0), *shift.point(length, width)), Style.SHEET)
        yield datum_corner(shift.point(0, 0), 6)
        for start, end in score_lines(cut.sheet):
            yield stroke(shift.point(*start), shift.point(*end), Style.HINT)
        for piece in cut.pieces:
            turned = (tr("turned a quarter"),) if piece.turned else ()
            yield from _part_marks(piece, shift, unit, piece.design, *turned)
        for offcut in order.kept:
            yield from _part_marks(offcut, shift, unit, tr("offcut"), style=Style.RULE)
        yield from _cut_marks(order.cuts, shift)
        yield line(left + _ASIDE_MM, top - 2.6, tr("scale 1 : {scale}", scale=scale), 2.8)

    return Row(width / scale + 2 * _ASIDE_MM, draw)


def _part_marks(
    part: Piece | Offcut, shift: Shift, unit: Unit, name: str, *more: str, style: Style = Style.RAFT
) -> Iterator[Mark]:
    """Draw a part of a sheet with its name and size, where they can be read."""
    low = shift.point(float(part.x), float(part.y))
    high = shift.point(float(part.x + part.length), float(part.y + part.width))
    box = Box(*low, *high)
    yield frame(box, style)
    texts = [name, f"{by_text(part.length, part.width, unit)} {unit}", *more]
    widest = max(text_width(text, 1) for text in texts)
    height = min(3.4, (box.width - 2) / widest, (box.height - 2) / (1.5 * len(texts)))
    if height < 1.6:
        return
    middle = (box.left + box.right) / 2
    y = (box.bottom + box.top) / 2 + height * (0.75 * len(texts) - 1.1)
    for number, text in enumerate(texts):
        yield line(middle, y - number * height * 1.5, text, height, anchor="middle")


def _cut_marks(ordered: Sequence[Cut], shift: Shift) -> Iterator[Mark]:
    """Draw the cuts, each with its number in a ring on it, near the end where it begins."""
    rings: list[Point] = []
    for cut in ordered:
        start, end = _page_point(cut.start, shift), _page_point(cut.end, shift)
        yield stroke(start, end, Style.CUT)
        rings.append(_ring_place(start, end, rings))
    for cut, place in zip(ordered, rings, strict=True):
        yield Circle(place, _RING_MM, Style.WHITE)
        yield Circle(place, _RING_MM, Style.FRAME)
        height = 2.8 if cut.number < 10 else 2.4
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
        return (words(tr("None: the sheet is the raft."), 150),)
    trims = _trims(cut)
    rows = []
    for one in ordered:
        along = one.start[1] == one.end[1]
        rows.append(
            (
                f"{one.number}",
                tr("along the sheet") if along else tr("across the sheet"),
                f"{figure(one.measure, unit)}",
                tr(_FROM[along, one.number in trims]),
            )
        )
    return table(
        (
            Column(tr("cut"), 14),
            Column(tr("runs"), 46),
            Column(tr("measure ({unit})", unit=unit), 34, "right"),
            Column("", 80),
        ),
        rows,
    )


def _trims(cut: CutSheet) -> frozenset[int]:
    """Return the numbers of the cuts that are measured from an edge as bought."""
    trimmed = [min(getattr(piece, axis) for piece in cut.pieces) > 0 for axis in ("y", "x")]
    return frozenset(range(1, sum(trimmed) + 1))


def _piece_table(cut: CutSheet, unit: Unit) -> tuple[Row, ...]:
    counted = Counter(
        (piece.design, max(piece.length, piece.width), min(piece.length, piece.width))
        for piece in cut.pieces
    )
    return table(
        (
            Column(tr("raft design"), 70, keeps_end=True),
            Column(tr("a sheet"), 22, "right"),
            Column(tr("all sheets"), 26, "right"),
            Column(tr("size ({unit})", unit=unit), 60, "right"),
        ),
        [
            (
                design,
                f"{count}",
                f"{count * cut.copies}",
                by_text(length, width, unit),
            )
            for (design, length, width), count in counted.items()
        ],
    )


def _offcut_table(cut: CutSheet, kept: Sequence[Offcut], unit: Unit) -> tuple[Row, ...]:
    counted = Counter(
        (max(offcut.length, offcut.width), min(offcut.length, offcut.width)) for offcut in kept
    )
    return table(
        (
            Column(tr("size ({unit})", unit=unit), 70),
            Column(tr("a sheet"), 22, "right"),
            Column(tr("all sheets"), 26, "right"),
        ),
        [
            (by_text(length, width, unit), f"{count}", f"{count * cut.copies}")
            for (length, width), count in counted.items()
        ],
    )
