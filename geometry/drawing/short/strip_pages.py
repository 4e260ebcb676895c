"""The pages of a strip: its words, the table of its rows, its pieces at true size."""

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Final

from geometry.drawing.flow import Column, Row, heading, table, words
from geometry.drawing.lettering import line, name_list
from geometry.drawing.marks import Box, Circle, Group, Mark, Path, frame, polyline, stroke
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.raft import pilot_mark
from geometry.drawing.short.document import (
    ShortDocument,
    ShortSet,
    error_words,
    plain_room,
    set_rows,
    short_document,
)
from geometry.drawing.short.job import Job, about, jobs
from geometry.drawing.short.picture import raft_picture
from geometry.drawing.short.rows import RowPlan, StripRow
from geometry.drawing.short.strip import (
    PIN_MM,
    Piece,
    Sheet,
    Strip,
    pin_names,
    strip_of,
)
from geometry.drawing.short.true_page import CROSS_MM, cross_mark, true_page
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift
from geometry.model.curves import Point
from geometry.plan import Plan
from geometry.tongue import tr, tr_n

_NAME_MM: Final = 4.0


def lay_strip(plan: Plan, setup: PageSetup) -> ShortDocument:
    """Lay out a strip for each raft design."""
    return short_document(
        tr("Strip"), (strip_set(job) for job in jobs(plan, setup)), setup
    )  # fmt: skip


def strip_set(job: Job) -> ShortSet:
    """Compose what the document holds for one design."""
    strip = strip_of(job)
    if strip is None:
        return ShortSet(job, no_rows(job))
    room = plain_room(job.setup)
    below = tuple(_row_table(strip, room))
    rows = set_rows(job, _error_text(strip), _steps(strip), partial(_picture, strip), below)
    sheets = tuple(partial(_page, strip, sheet) for sheet in strip.sheets)
    return ShortSet(job, "", strip.error, strip.stepped, rows, sheets)


def no_rows(job: Job) -> str:
    """Say why a raft has no row that repeats."""
    if len(job.design.holes) < 2:
        return tr("There are fewer than two holes: mark them by tape, from the cut sheet.")
    return tr(
        "The holes stand in no rows that are alike, as on rafts laid by hand, squeezed, or in "
        "rings. Take the full template, or the hole table of the cut sheet."
    )


def _page(strip: Strip, sheet: Sheet, number: int, total: int) -> Page:
    pieces = sum(len(each.pieces) for each in strip.sheets)
    text = tr_n(
        "Cut the piece out along the dashed lines.",
        "{n} pieces in all: cut them out along the dashed lines and join them cross on cross, "
        "in the order of their numbers.",
        pieces,
    )
    groups = [
        group
        for piece, shift in sheet.pieces
        for group in _piece(strip, piece, shift, strip.number(piece))
    ]
    return true_page(strip.job, tr("Strip"), text, groups, number, total)


def _piece(strip: Strip, piece: Piece, shift: Shift, number: int) -> Iterator[Group]:
    """Draw one piece in page coordinates, its row line from end to end."""
    yield Group(f"piece {number}", (_outline(piece, shift), _number(piece, shift, number)))
    yield Group(
        "row line",
        (shift.mark(stroke(Point(piece.first, 0), Point(piece.last, 0), Style.REGISTRATION)),),
    )
    for place, rows in strip.edges:
        if piece.first <= place <= piece.last:
            yield Group("edge", tuple(_edge(strip, place, rows, shift)))
    for mark, place in enumerate(strip.plan.strip):
        if piece.first + CROSS_MM <= place <= piece.last - CROSS_MM:
            yield Group(f"mark {mark + 1}", tuple(_hole(strip, place, f"{mark + 1}", shift)))
    if strip.pinned:
        for name, place, gap in pin_names(strip.plan):
            if piece.first + CROSS_MM <= place <= piece.last - CROSS_MM:
                at = shift.point(place, strip.plan.side * gap)
                yield Group(f"pin {name}", tuple(_pin(at, name)))
    for join in piece.joins:
        for aside in (-1, 1):
            low = piece.low if aside < 0 else piece.high
            half = strip.half
            at = shift.point(join, max(-half, min(half, low)) - aside * (CROSS_MM + 1))
            yield Group(f"join {join:.3f}", cross_mark(at))


def _outline(piece: Piece, shift: Shift) -> Path:
    box = frame(Box(piece.first, piece.low, piece.last, piece.high), Style.HINT)
    return Path(tuple(map(shift.curve, box.curves)), Style.HINT, closed=True)


def _number(piece: Piece, shift: Shift, number: int) -> Mark:
    at = shift.point(piece.first + 16, piece.low + 2)
    return line(at.x, at.y, f"{number}", 6.0, style=Style.PAGE_NAME, angle=90.0 * shift.quarters)


def _edge(strip: Strip, place: float, rows: Sequence[StripRow], shift: Shift) -> Iterator[Mark]:
    low, high = -strip.half, strip.half
    yield shift.mark(stroke(Point(place, low), Point(place, high), Style.RAFT))
    text = (
        tr("edge of the raft")
        if len(strip.edges) == 1
        else tr("edge, rows {rows}", rows=name_list([row_name(strip, row) for row in rows][:4]))
    )
    at = shift.point(place + 2, high - 1) if shift.quarters else shift.point(place + 4, low + 1)
    yield line(at.x, at.y, text, 2.6, angle=0.0 if shift.quarters else 90.0)


def row_name(strip: Strip, row: StripRow) -> str:
    """Number a row from the datum edge."""
    return f"{strip.plan.rows.index(row) + 1}"


def _hole(strip: Strip, place: float, name: str, shift: Shift) -> Iterator[Mark]:
    centre = shift.point(place, 0)
    yield Circle(centre, strip.radius, Style.HOLE)
    yield from pilot_mark(centre, strip.radius)
    yield line(centre.x + 2.4, centre.y + 2.4, name, _NAME_MM, style=Style.TITLE)


def _pin(at: Point, name: str) -> Iterator[Mark]:
    yield Circle(at, PIN_MM, Style.CENTRE)
    yield from pilot_mark(at, PIN_MM * 1.5)
    yield line(at.x + 3.4, at.y + 2.6, name, _NAME_MM, style=Style.TITLE)


def _error_text(strip: Strip) -> str:
    how = tr(
        "So much comes from setting the strip and reading the tape, and from the printer, which "
        "the proof below holds to 1 mm."
    )
    text = error_words(strip.error, how)
    if strip.stepped is None:
        return text
    stepped = tr(
        "Stepped from row to row instead, each row adds to it: up to {error} at the last.",
        error=about(strip.stepped.worst),
    )
    return f"{text} {stepped}"


def _steps(strip: Strip) -> tuple[tuple[str, str], ...]:
    job, plan = strip.job, strip.plan
    length = job.length(plan.strip[-1])
    pieces = sum(len(sheet.pieces) for sheet in strip.sheets)
    proof = tr(
        "By tape, mark 1 to mark {last} is {length}. More than 1 mm off: print anew.",
        last=len(plan.strip),
        length=length,
    )
    joined = tr(
        "Cut the pieces out, lay cross on cross along a straight edge, tape them together. {proof}",
        proof=proof,
    )
    lines = (
        tr("Chalk a line for each row, level with the left edge, at the distances of the table.")
        if plan.upright
        else tr("Chalk a line for each row, level with the lower edge, at the table's distances.")
    )
    lay = (
        tr(
            "Its line on the chalk line, its edge mark on the edge of the raft. Punch the marks "
            "that the table names."
        )
        if strip.edges
        else tr(
            "Its line on the chalk line, mark 1 at the distance of the table. Punch the marks "
            "that the table names."
        )
    )
    steps = [
        (tr("Make the strip"), joined if pieces > 1 else proof),
        (tr("Chalk the rows"), lines),
        (tr("Lay the strip on each row"), lay),
    ]  # fmt: skip
    if strip.stepped is not None:
        pins = ", ".join(name for name, _, _ in pin_names(plan))
        steps.append(
            (
                tr("Or step from row to row"),
                tr(
                    "Chalk only the first row. For the next one lay the locating marks {pins} on "
                    "the holes that the table names, a nail through each. Errors add up.",
                    pins=pins,
                ),
            )
        )
    return tuple(steps)


def _row_table(strip: Strip, room: float) -> Iterator[Row]:
    job, plan = strip.job, strip.plan
    names = job.design.holes.names
    columns = [
        Column(tr("row"), 11),
        Column(tr("holes"), 34, keeps_end=True),
        Column(tr("line at {axis} ({unit})", axis="x" if plan.upright else "y", unit=job.unit), 30,
               "right"),
        Column(tr("mark 1 at {axis} ({unit})", axis="y" if plan.upright else "x", unit=job.unit),
               34, "right"),
        Column(tr("marks"), 26),
    ]  # fmt: skip
    if strip.stepped is not None:
        columns.append(Column(tr("locating marks on"), room - sum(each.width for each in columns)))
    yield heading(tr("The rows, all distances from the datum corner"), room)
    yield from table(columns, list(_row_cells(strip, len(columns))))
    if plan.strays:
        strays = name_list([names[hole] for hole in plan.strays])
        yield words(
            tr("Not on the strip, to be marked by tape from the cut sheet: {holes}.", holes=strays),
            room,
        )


def _row_cells(strip: Strip, columns: int) -> Iterator[tuple[str, ...]]:
    job, plan = strip.job, strip.plan
    names = job.design.holes.names
    pins = {(pin, gap): name for name, pin, gap in pin_names(plan)}
    for number, row in enumerate(plan.rows):
        first, last = names[row.holes[0]], names[row.holes[-1]]
        cells = [
            f"{number + 1}",
            first if len(row.holes) == 1 else f"{first} … {last}",
            job.figure(row.level),
            job.figure(row.start),
            name_list([f"{mark + 1}" for mark in row.marks]),
        ]
        if columns > len(cells):
            step = plan.steps[number - 1] if number else None
            cells.append(
                ", ".join(
                    tr("{mark} on {hole}", mark=pins[pin, round(step.gap, 3)],
                       hole=names[hole_at(plan, number - 1, pin + step.shift)])
                    for pin in step.pins
                ) if step else ""
            )  # fmt: skip
        yield tuple(cells)


def hole_at(plan: RowPlan, number: int, place: float) -> int:
    """Return the hole of a row that lies at a place of the strip."""
    row = plan.rows[number]
    return min(
        zip(row.holes, row.marks, strict=True), key=lambda pair: abs(plan.strip[pair[1]] - place)
    )[0]


def _picture(strip: Strip, size: tuple[float, float], left: float, top: float) -> Iterator[Mark]:
    """Draw the raft with its rows and the strip on the second of them."""
    plan, shape = strip.plan, strip.job.design.shape
    shift, marks = raft_picture(strip.job, size, left, top)
    yield from marks
    far = float(shape.width if plan.upright else shape.length)

    def on_raft(row: StripRow, along: float, aside: float) -> Point:
        return shift.point(*plan.place(row, (along, aside)))

    for row in plan.rows:
        yield stroke(on_raft(row, -row.start, 0), on_raft(row, far - row.start, 0), Style.HINT)
    row = plan.rows[min(1, len(plan.rows) - 1)]
    first, last = strip.ends
    half = strip.half

    def in_room(at: Point) -> Point:
        """Keep to the room of the picture: a strip can reach far beyond the raft."""
        x = min(max(at.x, left), left + size[0])
        return Point(x, min(max(at.y, top - size[1]), top))

    yield polyline(
        [
            in_room(on_raft(row, *place))
            for place in ((first, -half), (last, -half), (last, half), (first, half))
        ],
        Style.SHEET,
        closed=True,
    )
