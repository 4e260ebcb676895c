"""The part of the cut sheet about one sheet of foam: its pieces and its cuts in order."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from math import hypot

from geometry.cutting.cuts import Cut, cuts
from geometry.cutting.plan import CutSheet, Piece
from geometry.drawing.figures import by_text, figure, length_text
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_width, table, words
from geometry.drawing.lettering import clipped, line, plural
from geometry.drawing.marks import Box, Circle, Mark, frame, stroke
from geometry.drawing.paper import Paper
from geometry.drawing.raft import datum_corner
from geometry.drawing.scales import best_scale
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift
from geometry.errors import GeometryError
from geometry.model.curves import Point
from geometry.model.sheet import Cutting
from geometry.plan import Plan
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
    kerf = plan.project.cutting.kerf.exact
    ordered, flaw = _ordered(cut, plan.project.cutting)
    rows: list[Row] = [
        words(
            "Plain straight-cut plan: every cut runs from edge to edge of the part in hand, in the "
            "order of the numbers. It is quick to follow and not proved to need the fewest sheets.",
            room,
        ),
        words(
            f"The blade takes {length_text(kerf, unit)}: set the line on the finished edge and "
            "let the blade run on the waste side."
            if kerf
            else "No blade width is counted: each cut takes nothing away.",
            room,
        ),
        gap(2),
        _drawing(cut, ordered, unit, room),
        gap(2),
        heading("Cuts in order"),
        *(_cut_table(cut, ordered, unit) if not flaw else [words(flaw, room)]),
        gap(),
        heading("Pieces"),
        *_piece_table(cut, unit),
    ]
    sheet = cut.sheet
    size = f"{by_text(sheet.length.exact, sheet.width.exact, unit)} {unit}"
    if sheet.thickness is not None:
        size += f", {length_text(sheet.thickness.exact, unit)} thick"
    numbers = f"Sheet {first}" if cut.copies == 1 else f"Sheets {first}-{first + cut.copies - 1}"
    title = f"{numbers}: {clipped(sheet.name)}"
    task = f"Cut {plural(cut.copies, 'sheet')} like this; {size}; {clipped(plan.project.name)}"
    return Part(title, task, tuple(rows), bookmark=title)


def _ordered(cut: CutSheet, cutting: Cutting) -> tuple[tuple[Cut, ...], str]:
    try:
        return cuts(cut, cutting), ""
    except GeometryError as error:
        return (), str(error)


def _drawing(cut: CutSheet, ordered: tuple[Cut, ...], unit: Unit, room: float) -> Row:
    length, width = float(cut.sheet.length.exact), float(cut.sheet.width.exact)
    scale = best_scale(length, width, room - 2 * _ASIDE_MM, _TALLEST_MM)

    def draw(left: float, top: float) -> Iterable[Mark]:
        shift = Shift(left + _ASIDE_MM, top - _ASIDE_MM - width / scale, 1 / scale)
        yield frame(Box(*shift.point(0, 0), *shift.point(length, width)), Style.SHEET)
        yield datum_corner(shift.point(0, 0), 6)
        for piece in cut.pieces:
            yield from _piece_marks(piece, shift, unit)
        yield from _cut_marks(ordered, shift)
        yield line(left + _ASIDE_MM, top - 2.6, f"scale 1 : {scale}", 2.8)

    return Row(width / scale + 2 * _ASIDE_MM, draw)


def _piece_marks(piece: Piece, shift: Shift, unit: Unit) -> Iterator[Mark]:
    low = shift.point(float(piece.x), float(piece.y))
    high = shift.point(float(piece.x + piece.length), float(piece.y + piece.width))
    box = Box(*low, *high)
    yield frame(box, Style.RAFT)
    size = f"{by_text(piece.length, piece.width, unit)} {unit}"
    turned = "turned a quarter" if piece.turned else ""
    texts = [text for text in (piece.design, size, turned) if text]
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


def _cut_table(cut: CutSheet, ordered: tuple[Cut, ...], unit: Unit) -> tuple[Row, ...]:
    if not ordered:
        return (words("None: the sheet is the raft.", 150),)
    trims = _trims(cut)
    rows = []
    for one in ordered:
        along = one.start[1] == one.end[1]
        edge = "lower edge" if along else "left edge"
        which = "as bought" if one.number in trims else "true edge"
        rows.append(
            (
                f"{one.number}",
                "along the sheet" if along else "across the sheet",
                f"{figure(one.measure, unit)}",
                f"from the {edge} ({which})",
            )
        )
    return table(
        (
            Column("cut", 14),
            Column("runs", 46),
            Column(f"measure ({unit})", 34, "right"),
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
            Column("raft design", 70),
            Column("a sheet", 22, "right"),
            Column("all sheets", 26, "right"),
            Column(f"size ({unit})", 60, "right"),
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
