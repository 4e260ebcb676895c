"""The measuring page: a sketch of a bed's shape and boxes to fill in beside the water.

Every box belongs to one field of the window, and every measure of the shape has its box.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot, pi
from typing import Final

from geometry.beds.shapes import (
    AGAIN,
    LEAN,
    LEAN_WORDS,
    MEASURE_WORDS,
    NEEDED,
    SHAPE_WORDS,
    ShapeName,
    shape_of,
)
from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.flow import Part, Row, gap, heading, paginate, row_width, words
from geometry.drawing.lettering import clipped, fitting_height, line, wrapped
from geometry.drawing.marks import Box, Circle, Mark, Path, frame, polyline, stroke
from geometry.drawing.paper import COMMON, Paper
from geometry.drawing.shape_lines import (
    LENGTH,
    OUT,
    ROUND,
    WIDTH,
    MeasureLine,
    corners_of,
    measure_lines,
)
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Curve, Line, Point
from geometry.plan import Plan
from geometry.tongue import mark, tr
from geometry.units import Unit

LEANING: Final[dict[ShapeName, tuple[str, ...]]] = {
    **dict.fromkeys(("rectangle", "rounded", "round ends", "L"), LEAN),
    "round": tuple(name for name in LEAN if name != "length"),
}
"""What is measured once more, lower down, of the shapes whose walls the program lets lean."""

FLOOR: Final = "water-depth"

OBSTACLE_COLUMNS: Final = (
    ("obstacle-name", mark("What it is"), 32.0),
    ("obstacle-diameter", mark("Across"), 19.0),
    ("obstacle-length", mark("or length"), 20.0),
    ("obstacle-width", mark("and width"), 20.0),
    ("obstacle-x", mark("Middle from the left"), 26.0),
    ("obstacle-y", mark("from the bottom"), 26.0),
    ("obstacle-clearance", mark("Keep away"), 23.0),
    ("obstacle-above", mark("Above water"), 24.0),
)
"""The columns of the table of obstacles: field, heading, width in mm."""

CORNERS: Final = 16
_OBSTACLES: Final = 6
_LETTERS: Final = "ABCDEFGH"
_TEXT_MM: Final = 3.8
_LABEL_MM: Final = 4.2
_BOX: Final = (44.0, 12.0)
_WIDEST_MM: Final = 160.0
_ROW_MM: Final = 15.0
_BALL_MM: Final = 4.0
_BALL_TEXT_MM: Final = 5.0
_SKETCH_MM: Final = 92.0
_GRID_MM: Final = 10.0
_TICK_MM: Final = 1.8
_AT: Final = {"diagonal-1": 0.2, "diagonal-2": 0.2, "width-3": 0.24, "corner_radius": 1.5}
"""Where along its line a letter stands, where the middle is taken or too short for it."""
_UNITS: Final[tuple[Unit, ...]] = ("mm", "cm", "in")


@dataclass(frozen=True, slots=True)
class Blank:
    """A box to fill in; ``field`` is the name of the one field of the window that it is for."""

    letter: str
    words: str
    field: str


def measure_blanks(shape: ShapeName) -> tuple[Blank, ...]:
    """Return the boxes for the measures of a shape, those first that it cannot do without."""
    names = (*NEEDED[shape], *(AGAIN if shape == "rectangle" else ()))
    return tuple(
        Blank(letter, tr(MEASURE_WORDS[name]), f"guide-{name}")
        for letter, name in zip(_LETTERS, names, strict=False)
    )


def lean_blanks(shape: ShapeName) -> tuple[Blank, ...]:
    """Return the boxes for walls that lean; none where the program takes only straight ones."""
    return tuple(
        Blank("", _lean_words(shape, name), f"guide-lean-{name}") for name in LEANING.get(shape, ())
    )


def floor_blank() -> Blank:
    """Return the box for how deep the water is, at the level at which the bed is worked."""
    return Blank("", f"{tr('Depth')}, {tr('from the face of the water down to the floor')}", FLOOR)


def _lean_words(shape: ShapeName, name: str) -> str:
    head, from_where = LEAN_WORDS[name]
    if shape == "round" and name == "width":
        return tr("Across there")
    return f"{tr(head)}, {tr(from_where)}" if from_where else tr(head)


def lay_measuring(plan: Plan, paper: Paper = COMMON) -> CutSheetDocument:
    """Lay the measuring pages of a plan's beds; of a plan without beds that of a rectangle."""
    beds = [(shape_of(bed.bed.outline), bed.bed.name) for bed in plan.beds]
    return lay_blank_measuring(beds or [("rectangle", "")], paper, plan.project.units)


def lay_blank_measuring(
    shapes: Sequence[tuple[ShapeName, str]], paper: Paper = COMMON, unit: Unit | None = None
) -> CutSheetDocument:
    """Lay the measuring pages of shapes, each with the name of its bed, or with a box for it.

    With ``unit``, its box is ticked already.
    """
    room = row_width(paper)
    parts = [part for shape, name in shapes for part in _parts(shape, name, room, unit)]
    return CutSheetDocument(paper, tuple((part, paginate(part, paper)) for part in parts))


def _parts(shape: ShapeName, name: str, room: float, unit: Unit | None) -> tuple[Part, Part]:
    title = tr("Measuring page: {shape}", shape=tr(SHAPE_WORDS[shape]))
    return (
        Part(
            title,
            tr("Fill in beside the water, then type it into the guide"),
            (_name_row(name, room, unit), *_measure_rows(shape, room)),
            bookmark=title,
        ),
        Part(
            tr("Walls, water and obstacles"),
            tr("Second page of: {title}", title=title),
            (_name_row(name, room, unit), *_wall_rows(shape, room), *_obstacle_rows(room)),
        ),
    )


def _name_row(name: str, room: float, unit: Unit | None) -> Row:
    """Make the boxes for the name of the bed and for the unit of all figures."""

    def draw(left: float, top: float) -> Iterator[Mark]:
        low = top - 10.0
        bed = tr("Bed")
        yield line(left, low + 3.2, bed, _LABEL_MM, style=Style.TITLE)
        start = left + text_width(bed, _LABEL_MM, bold=True) + 3
        end = left + room - 84
        yield frame(Box(start, low, end, low + 9.0), Style.FRAME)
        if name:
            shown = clipped(name)
            wide = end - start - 4
            yield line(
                start + 2, low + 2.8, shown, fitting_height(shown, _LABEL_MM, wide), room=wide
            )
        said = tr("Measured in")
        size = fitting_height(said, _LABEL_MM, 30, bold=True)
        x = left + room - 80
        yield line(x, low + 3.2, said, size, style=Style.TITLE, room=32)
        for place, each in enumerate(_UNITS):
            at = x + 34 + place * 17
            box = Box(at, low + 1.6, at + 5, low + 6.6)
            yield frame(box, Style.FRAME)
            if each == unit:
                yield stroke(Point(box.left, box.bottom), Point(box.right, box.top), Style.DATUM)
                yield stroke(Point(box.left, box.top), Point(box.right, box.bottom), Style.DATUM)
            yield line(at + 6.5, low + 3.2, each, _LABEL_MM)

    return Row(13.0, draw)


def _measure_rows(shape: ShapeName, room: float) -> Iterator[Row]:
    yield words(
        tr(
            "Measure the water, not the frame: inside, at the waterline, with the liner in and "
            "the bed full. Use one tape, and write what it shows, not a round number."
        ),
        room,
        height=_TEXT_MM,
    )
    yield gap(2)
    if shape == "free":
        yield words(
            tr(
                "Draw the bed as seen from above. Number its corners, going round. Measure each "
                "from the same wall on the left and from the same wall at the bottom."
            ),
            room,
            height=_TEXT_MM,
        )
        yield _grid_row(room)
        yield gap(3)
        yield from _corner_rows(room)
        return
    blanks = measure_blanks(shape)
    yield _sketch_row(shape, blanks, room)
    yield gap(2)
    needed = len(NEEDED[shape])
    yield from _blank_rows(blanks[:needed], room)
    if again := blanks[needed:]:
        yield heading(tr("Measured again elsewhere: the least counts"), room)
        yield from _blank_rows(again, room)


def _sketch_row(shape: ShapeName, blanks: Sequence[Blank], room: float) -> Row:
    """Draw the shape with a line and a letter for each measure."""
    scale = _SKETCH_MM / (WIDTH + 2 * OUT + 0.16)
    letters = {blank.field: blank.letter for blank in blanks}

    def draw(left: float, top: float) -> Iterator[Mark]:
        at = Shift(left + room / 2 - LENGTH * scale / 2, top - (WIDTH + OUT + 0.08) * scale, scale)
        yield Path(tuple(map(at.curve, _outline(shape))), Style.WATER, closed=True)
        corner = at.point(LENGTH / 2 - WIDTH / 2 if shape == "round" else 0, 0)
        yield polyline(
            [Point(corner.x + 7, corner.y), corner, Point(corner.x, corner.y + 7)], Style.DATUM
        )
        for measure in measure_lines(shape):
            yield from _measure_marks(measure, letters[f"guide-{measure.name}"], at)

    return Row(_SKETCH_MM, draw)


def _measure_marks(measure: MeasureLine, letter: str, at: Shift) -> Iterator[Mark]:
    start, end = (at.point(x, WIDTH - y) for x, y in (measure.start, measure.end))
    yield stroke(start, end, Style.DIMENSION)
    long = hypot(end.x - start.x, end.y - start.y)
    x, y = (end.x - start.x) / long * _TICK_MM, (end.y - start.y) / long * _TICK_MM
    for place in (start, end):
        yield stroke(Point(place.x - y, place.y + x), Point(place.x + y, place.y - x), Style.FRAME)
    share = _AT.get(measure.name, 0.5)
    yield from _ball(
        start.x + share * (end.x - start.x), start.y + share * (end.y - start.y), letter
    )


def _ball(x: float, y: float, letter: str) -> Iterator[Mark]:
    yield Circle(Point(x, y), _BALL_MM, Style.WHITE)
    yield Circle(Point(x, y), _BALL_MM, Style.FRAME)
    low = y - _BALL_TEXT_MM * CAP_HEIGHT / 2
    yield line(x, low, letter, _BALL_TEXT_MM, style=Style.TITLE, anchor="middle")


def _outline(shape: ShapeName) -> tuple[Curve, ...]:
    """Return a shape in its box of ``LENGTH`` by ``WIDTH``, y up."""
    match shape:
        case "round":
            return (Arc(Point(LENGTH / 2, WIDTH / 2), WIDTH / 2, 0, 2 * pi),)
        case "rectangle":
            return _rounded(0.0)
        case "rounded":
            return _rounded(ROUND)
        case "round ends":
            return _rounded(WIDTH / 2)
        case _:
            corners = [Point(x, WIDTH - y) for x, y in corners_of(shape)]
            ends = [*corners[1:], corners[0]]
            return tuple(Line(a, b) for a, b in zip(corners, ends, strict=True))


def _rounded(radius: float) -> tuple[Curve, ...]:
    left, right, low, high = radius, LENGTH - radius, radius, WIDTH - radius
    sides = (
        Line(Point(left, 0), Point(right, 0)), Line(Point(LENGTH, low), Point(LENGTH, high)),
        Line(Point(right, WIDTH), Point(left, WIDTH)), Line(Point(0, high), Point(0, low)),
    )  # fmt: skip
    if not radius:
        return sides
    turns = (
        Arc(Point(right, low), radius, -pi / 2, pi / 2), Arc(Point(right, high), radius, 0, pi / 2),
        Arc(Point(left, high), radius, pi / 2, pi / 2), Arc(Point(left, low), radius, pi, pi / 2),
    )  # fmt: skip
    return tuple(curve for pair in zip(sides, turns, strict=True) for curve in pair)


def _blank_rows(blanks: Sequence[Blank], room: float) -> Iterator[Row]:
    """Put boxes in two columns."""
    for first in range(0, len(blanks), 2):
        yield _blank_row(blanks[first : first + 2], room)


def _blank_row(blanks: Sequence[Blank], room: float) -> Row:
    column = room / 2

    def draw(left: float, top: float) -> Iterator[Mark]:
        for place, blank in enumerate(blanks):
            x, middle = left + place * column, top - _BOX[1] / 2 - 1
            right = x + min(column, _WIDEST_MM) - 5
            if blank.letter:
                yield from _ball(x + _BALL_MM + 0.2, middle, blank.letter)
            start = x + (2 * _BALL_MM + 2.5 if blank.letter else 0)
            wide = right - _BOX[0] - start - 2
            yield from _two_lines(start, middle, blank.words, wide)
            low = middle - _BOX[1] / 2
            yield frame(Box(right - _BOX[0], low, right, low + _BOX[1]), Style.FRAME)

    return Row(_ROW_MM, draw)


def _two_lines(x: float, middle: float, text: str, wide: float) -> Iterator[Mark]:
    """Write a label beside its box: what it is, and beneath, smaller, from where to where."""
    head, _, more = text.partition(", ")
    low = middle - (_LABEL_MM * CAP_HEIGHT / 2 if not more else -0.8)
    yield line(x, low, head, fitting_height(head, _LABEL_MM, wide), room=wide)
    if more:
        yield line(x, low - 4.4, more, fitting_height(more, 3.2, wide), room=wide)


def _grid_row(room: float) -> Row:
    """Draw the ground for a sketch of one's own, with the two walls that all is measured from."""
    across, up = int((room - 20) // _GRID_MM), 9

    def draw(left: float, top: float) -> Iterator[Mark]:
        x, low = left + 12, top - 4 - up * _GRID_MM
        right, high = x + across * _GRID_MM, top - 4
        for n in range(1, across + 1):
            at = x + n * _GRID_MM
            yield stroke(Point(at, low), Point(at, high), Style.RULE)
        for n in range(1, up + 1):
            at = low + n * _GRID_MM
            yield stroke(Point(x, at), Point(right, at), Style.RULE)
        yield polyline([Point(x, high), Point(x, low), Point(right, low)], Style.DATUM)
        yield line(right, low - 4.6, tr("from the left"), 3.4, anchor="right")
        yield line(x - 2, high, tr("from the bottom"), 3.4, anchor="right", angle=90)

    return Row(up * _GRID_MM + 11, draw)


def _corner_rows(room: float) -> Iterator[Row]:
    """Make the boxes for the corners, in two columns."""
    half, column = CORNERS // 2, room / 2
    box = (30.0, 8.6)
    fields = (mark("From the left"), mark("From the bottom"))

    def heads(left: float, top: float) -> Iterator[Mark]:
        for place in range(2):
            x = left + place * column + 14
            for number, text in enumerate(fields):
                yield line(
                    x + number * (box[0] + 4), top - 4, tr(text),
                    fitting_height(tr(text), 3.4, box[0] + 2, bold=True),
                    style=Style.TITLE, room=box[0] + 2,
                )  # fmt: skip

    header = Row(5.4, heads, keeps=True)
    yield header
    for number in range(1, half + 1):
        yield _corner_row(number, half, column, box, header)


def _corner_row(
    number: int, half: int, column: float, box: tuple[float, float], header: Row
) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        for place in range(2):
            x = left + place * column
            yield line(
                x + 10, top - 6.2, f"{number + place * half}", _LABEL_MM, style=Style.TITLE,
                anchor="right",
            )  # fmt: skip
            for n in range(2):
                start = x + 14 + n * (box[0] + 4)
                yield frame(Box(start, top - box[1], start + box[0], top), Style.FRAME)

    return Row(box[1] + 1.6, draw, header=header)


def _wall_rows(shape: ShapeName, room: float) -> Iterator[Row]:
    yield heading(tr("Walls and water"), room)
    yield _blank_row((floor_blank(),), 2 * room)
    blanks = lean_blanks(shape)
    if not blanks:
        yield words(
            tr("For this shape take all measures at the lowest water the bed will have."),
            room,
            height=_TEXT_MM,
        )
        yield gap(4)
        return
    yield _tick_row((tr("Walls straight"), tr("Walls lean")))
    yield words(
        tr(
            "Where walls lean, measure the inside once more, straight below the first measuring, "
            "and how far below it the water stands when it is highest and when it is lowest."
        ),
        room,
        height=_TEXT_MM,
    )
    yield gap(2)
    yield _blank_row(blanks[:1], 2 * room)
    yield from _blank_rows(blanks[1:], room)
    yield gap(4)


def _tick_row(texts: Sequence[str]) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        x = left
        for text in texts:
            yield frame(Box(x, top - 6, x + 5, top - 1), Style.FRAME)
            yield line(x + 7, top - 5, text, _LABEL_MM)
            x += 7 + text_width(text, _LABEL_MM) + 12

    return Row(8.5, draw)


def _obstacle_rows(room: float) -> Iterator[Row]:
    yield heading(tr("What stands in the water or above it"), room)
    yield words(
        tr(
            "Standpipe, overflow, air stone, brace, heater, inlet. Measure to its middle, from the "
            "left and from the bottom of the sketch: from the heavy angle. Keep away is how far "
            "the rim of a hole must stay off it."
        ),
        room,
        height=_TEXT_MM,
    )
    yield gap(2)
    scale = room / sum(wide for _, _, wide in OBSTACLE_COLUMNS)

    def heads(left: float, top: float) -> Iterator[Mark]:
        x = left
        for _, text, wide in OBSTACLE_COLUMNS:
            rows = wrapped(tr(text), 3.4, wide * scale - 1, bold=True)
            for up, row in enumerate(reversed(rows)):
                yield line(x + 1, top - 8.6 + up * 4.4, row, 3.4, style=Style.TITLE)
            x += wide * scale

    header = Row(10.0, heads, keeps=True)
    yield header
    for _ in range(_OBSTACLES):
        yield _obstacle_row(scale, header)


def _obstacle_row(scale: float, header: Row) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        x = left
        for _, _, wide in OBSTACLE_COLUMNS:
            yield frame(Box(x, top - 11, x + wide * scale, top), Style.FRAME)
            x += wide * scale

    return Row(11.0, draw, header=header)
