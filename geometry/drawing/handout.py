"""The handout for a class: large letters, pictures from the plan, roles, sums and questions."""

from collections.abc import Callable, Iterator, Sequence
from math import atan2, cos, hypot, pi, sin
from typing import Final

from geometry.drawing.composed import Composed
from geometry.drawing.figures import diameter_text, size_text
from geometry.drawing.flow import Part, Row, gap, page_area, paginate, row_width
from geometry.drawing.handout_sums import QUESTIONS, Sum, main_bed, main_design, sums_of
from geometry.drawing.lettering import LEADING, clipped, fitting_height, line, wrapped
from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, Path, frame, polyline, stroke
from geometry.drawing.paper import COMMON, Page, Paper, Picture
from geometry.drawing.styles import Style
from geometry.drawing.text_width import text_width
from geometry.drawing.transforms import Shift
from geometry.model.curves import Arc, Point
from geometry.model.measure import bounds
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import listed, mark, plural, tr

LEAST_MM: Final = 6.4
"""The smallest letters: 18 points, as large print has them (common practice, no source)."""

_TITLE_MM: Final = 10.0
_HEAD_MM: Final = 7.6
_STEP_MM: Final = 74.0
_PICTURE: Final = (72.0, 62.0)
_LINE_MM: Final = 10.5
_MOST_SHAPES: Final = 400

Draw = Callable[[Box], Iterator[Mark]]

_CHILD_RULES: Final = (
    mark("Only adults cut and drill. Stay behind the line while they do."),
    mark("Wear glasses when foam is cut or drilled. Do not breathe the dust."),
    mark("No running, and never alone at the water."),
    mark("Nothing with a plug comes near the water."),
    mark("Wash your hands when you have finished."),
)
_ADULT_RULES: Final = (
    mark("Knife, saw, drill and hot wire are yours alone; clamp the raft, wear eye and ear "
         "protection, no gloves at a turning saw."),
    mark("Cut and drill outdoors or with the air drawn off. Hot tools make harmful fumes."),
    mark("Cover the water when nobody watches it: a small child can drown in a few centimetres."),
    mark("Outlets near water need a residual-current device. Local and school rules decide."),
)  # fmt: skip
_ROLES: Final = (
    (mark("Reader"), mark("holds the tape at the datum corner and reads it aloud")),
    (mark("Marker"), mark("makes each mark and says the figure again")),
    (mark("Checker"), mark("measures every mark once more")),
    (mark("Writer"), mark("writes the figures down and ticks off the holes")),
    (mark("Tidier"), mark("brings the tools and sweeps up the foam")),
    (mark("Adult"), mark("cuts and drills; nobody else does")),
)


def lay_handout(plan: Plan, paper: Paper = COMMON) -> Composed:
    """Decide what is on which page of the handout for a class."""
    room = row_width(paper)
    parts = [Part(title, "", tuple(rows)) for title, rows in _chapters(plan, room)]
    pages = [
        (part.title, rows, place == 0)
        for part in parts
        for place, rows in enumerate(paginate(part, paper))
    ]

    def draw(number: int) -> Page:
        title, rows, begins = pages[number - 1]
        return _page(paper, title, rows, number, len(pages), begins=begins)

    return Composed(len(pages), draw)


def _page(
    paper: Paper, title: str, rows: Sequence[Row], number: int, total: int, *,
    begins: bool,
) -> Page:  # fmt: skip
    area = page_area(paper)
    count = f"{number} / {total}"
    wide = area.width - text_width(count, LEAST_MM) - 4
    size = fitting_height(title, _TITLE_MM, wide, bold=True)
    marks: list[Mark] = [
        line(area.left, area.top - 8.0, title, size, style=Style.TITLE, room=wide),
        line(area.right, area.top - 8.0, count, LEAST_MM, anchor="right"),
        stroke(Point(area.left, area.top - 13), Point(area.right, area.top - 13), Style.FRAME),
    ]
    groups = [Group("head", tuple(marks))]
    top = area.top - 17.0
    for row in rows:
        groups.append(Group("row", tuple(row.draw(area.left, top))))
        top -= row.height
    return Page(
        paper.width_mm,
        paper.height_mm,
        tr("Handout, page {number}", number=number),
        (Picture(Drawing(tuple(groups))),),
        bookmark=title if begins else "",
    )


def _chapters(plan: Plan, room: float) -> Iterator[tuple[str, Iterator[Row]]]:
    bed = main_bed(plan)
    if bed is None:
        yield tr("Our rafts"), iter([_words(tr("There are no rafts yet."), room)])
        return
    design = main_design(bed)
    yield tr("What is a raft?"), _raft_rows(plan, bed, design, room)
    yield tr("Safe work"), _safety_rows(room)
    yield tr("What we do"), _step_rows(plan, bed, design, room)
    yield tr("Who does what"), _role_rows(bed, room)
    yield tr("Sums"), _sum_rows(sums_of(plan, bed), room)
    yield tr("Questions"), _question_rows(room)


# -- rows of large letters ------------------------------------------------------------------------


def _words(text: str, room: float, *, indent: float = 0.0, sign: str = "") -> Row:
    """Make a paragraph, behind a sign if there is one."""
    rows = wrapped(text, LEAST_MM, room - indent)

    def draw(left: float, top: float) -> Iterator[Mark]:
        at = top - LEAST_MM
        if sign:
            yield line(left, at, sign, LEAST_MM, style=Style.TITLE)
        for number, row in enumerate(rows):
            yield line(left + indent, at - number * LEAST_MM * LEADING, row, LEAST_MM)

    return Row(len(rows) * LEAST_MM * LEADING + 1.5, draw)


def _head(text: str, room: float) -> Row:
    size = max(LEAST_MM, fitting_height(text, _HEAD_MM, room, bold=True))
    rows = wrapped(text, size, room, bold=True)

    def draw(left: float, top: float) -> Iterator[Mark]:
        for number, row in enumerate(rows):
            yield line(left, top - _HEAD_MM - number * size * LEADING, row, size, style=Style.TITLE)

    return Row(_HEAD_MM + (len(rows) - 1) * size * LEADING + 4.5, draw, keeps=True)


def _picture(height: float, room: float, picture: Draw) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from picture(Box(left, top - height + 2, left + room, top - 1))

    return Row(height, draw)


# -- chapters -------------------------------------------------------------------------------------


def _raft_rows(plan: Plan, bed: BedPlan, design: RaftDesign, room: float) -> Iterator[Row]:
    unit = plan.project.units
    yield _words(
        tr(
            "A raft is a board of foam that floats on water. It has holes. In each hole sits a "
            "pot with one plant. The roots hang in the water, the leaves grow above it."
        ),
        room,
    )
    yield gap(2)
    yield _picture(72, room, _section)
    yield _words(
        tr(
            "Ours is for “{bed}”: {rafts}, {plants}. One raft measures {size}.",
            bed=clipped(bed.bed.name),
            rafts=plural(len(bed.rafts), "raft"),
            plants=plural(bed.plants, "plant"),
            size=size_text(design.shape, unit),
        ),
        room,
    )
    yield gap(2)
    yield _picture(92, room, lambda box: _raft_marks(design, box, "holes"))


def _safety_rows(room: float) -> Iterator[Row]:
    yield _head(tr("For all of us"), room)
    for rule in _CHILD_RULES:
        yield _words(tr(rule), room, indent=9, sign="\N{BULLET}")
    yield gap(4)
    yield _head(tr("For the adults"), room)
    for rule in _ADULT_RULES:
        yield _words(tr(rule), room, indent=9, sign="\N{BULLET}")


def _step_rows(plan: Plan, bed: BedPlan, design: RaftDesign, room: float) -> Iterator[Row]:
    unit = plan.project.units
    holes = len(design.holes)
    diameters = listed(
        diameter_text(size, unit) for size in sorted(set(design.holes.diameters.tolist()))
    ) if holes else ""  # fmt: skip
    named = [tr(crop.crop) for crop in bed.crops if crop.crop]
    crops = listed(named) if named else ""
    steps: list[tuple[str, str, bool, Draw]] = [
        (
            tr("Measure"),
            tr("Measure the bed inside, with the water in it. Write every figure down at once."),
            False,
            lambda box: _bed_marks(bed, box, rafts=False),
        ),
        (
            tr("Cut"),
            tr(
                "An adult cuts the rafts out of the foam. We measure each one: {size}.",
                size=size_text(design.shape, unit),
            ),
            True,
            lambda box: _sheet_marks(plan, design, box),
        ),
    ]
    if holes:
        steps += [
            (
                tr("Mark"),
                tr(
                    "Put the datum corner, the heavy angle, at the lower left. Measure every hole "
                    "from there, never from the last hole."
                ),
                False,
                lambda box: _raft_marks(design, box, "marks"),
            ),
            (
                tr("Drill and brush"),
                tr(
                    "An adult drills {holes} of {diameter} in each raft, away from the water. "
                    "We count them, and brush and wash off the crumbs.",
                    holes=plural(holes, "hole"),
                    diameter=diameters,
                ),
                True,
                lambda box: _raft_marks(design, box, "holes"),
            ),
            (
                tr("Plant"),
                tr("One plant in each pot, one pot in each hole: {crop}.", crop=crops)
                if crops
                else tr("One plant in each pot, one pot in each hole."),
                False,
                lambda box: _raft_marks(design, box, "plants"),
            ),
        ]
    steps.append(
        (
            tr("Float"),
            tr("Two carry each raft flat and lay it on the water. The roots must get wet."),
            True,
            lambda box: _bed_marks(bed, box, rafts=True),
        )
    )
    for number, (head, text, is_adult, picture) in enumerate(steps, start=1):
        yield _step(number, head, text, picture, room, is_adult=is_adult)


def _step(
    number: int, head: str, text: str, picture: Draw, room: float, *, is_adult: bool
) -> Row:  # fmt: skip
    start = _PICTURE[0] + 6
    rows = wrapped(text, LEAST_MM, room - start)
    title = f"{number}  {head}"

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield from picture(Box(left, top - _PICTURE[1] - 2, left + _PICTURE[0], top - 2))
        at = top - 2 - _HEAD_MM
        yield line(
            left + start, at, title, fitting_height(title, _HEAD_MM, room - start, bold=True),
            style=Style.TITLE, room=room - start,
        )  # fmt: skip
        for place, row in enumerate(rows):
            yield line(left + start, at - 11 - place * LEAST_MM * LEADING, row, LEAST_MM)
        if is_adult:
            words = tr("with an adult")
            wide = text_width(words, LEAST_MM, bold=True) + 6
            end = at - 11 - (len(rows) - 1) * LEAST_MM * LEADING
            low = min(top - _PICTURE[1] - 2, end - 13)
            yield frame(Box(left + start, low, left + start + wide, low + 10), Style.DATUM)
            yield line(left + start + 3, low + 2.8, words, LEAST_MM, style=Style.TITLE)

    needed = _HEAD_MM + 13 + (len(rows) - 1) * LEAST_MM * LEADING + (18 if is_adult else 6)
    return Row(max(_STEP_MM, needed), draw)


def _role_rows(bed: BedPlan, room: float) -> Iterator[Row]:
    rafts = len(bed.rafts)
    if 1 < rafts <= 8:
        yield _words(tr("One group for each raft makes {n} groups.", n=rafts), room)
    yield _words(tr("Change places after each row of holes. Write your names here."), room)
    yield gap(3)
    for head, text in _ROLES:
        yield _role(tr(head), tr(text), room)


def _role(head: str, text: str, room: float) -> Row:
    rows = wrapped(text, LEAST_MM, room)
    name = text_width(head, _HEAD_MM, bold=True) + 6

    def draw(left: float, top: float) -> Iterator[Mark]:
        at = top - _HEAD_MM
        yield line(left, at, head, _HEAD_MM, style=Style.TITLE)
        yield stroke(Point(left + name, at - 1), Point(left + room, at - 1), Style.FRAME)
        for place, row in enumerate(rows):
            yield line(left, at - 10 - place * LEAST_MM * LEADING, row, LEAST_MM)

    return Row(_HEAD_MM + 12 + len(rows) * LEAST_MM * LEADING, draw)


def _sum_rows(sums: Sequence[Sum], room: float) -> Iterator[Row]:
    for each in sums:
        yield _head(each.question, room)
        for row in wrapped(each.working, LEAST_MM, room - 9, bold=True):
            yield _working(row, room)
        if each.meaning:
            yield _words(each.meaning, room, indent=9)
        yield gap(4)


def _working(text: str, room: float) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        yield line(left + 9, top - LEAST_MM, text, LEAST_MM, style=Style.TITLE, room=room - 9)

    return Row(LEAST_MM * LEADING + 1, draw, keeps=True)


def _question_rows(room: float) -> Iterator[Row]:
    for number, question in enumerate(QUESTIONS, start=1):
        yield _question(number, tr(question), room)


def _question(number: int, text: str, room: float) -> Row:
    rows = wrapped(text, LEAST_MM, room - 9)
    height = len(rows) * LEAST_MM * LEADING

    def draw(left: float, top: float) -> Iterator[Mark]:
        at = top - LEAST_MM
        yield line(left, at, f"{number}", LEAST_MM, style=Style.TITLE)
        for place, row in enumerate(rows):
            yield line(left + 9, at - place * LEAST_MM * LEADING, row, LEAST_MM)
        for place in (1, 2):
            y = top - height - place * _LINE_MM
            yield stroke(Point(left + 9, y), Point(left + room, y), Style.RULE)

    return Row(height + 2 * _LINE_MM + 3, draw)


# -- pictures -------------------------------------------------------------------------------------


def _fitted(length: float, width: float, box: Box) -> Shift:
    """Put a drawing of this size into the middle of a box."""
    scale = min(box.width / length, box.height / width)
    return Shift(
        (box.left + box.right - length * scale) / 2,
        (box.bottom + box.top - width * scale) / 2,
        scale,
    )


def _raft_marks(design: RaftDesign, box: Box, shows: str) -> Iterator[Mark]:
    """Draw a raft with crosses ("marks"), rims ("holes"), or with plants in them."""
    shape = design.shape
    at = _fitted(float(shape.length), float(shape.width), box.grown(-2))
    yield Path(tuple(map(at.curve, shape.loop.curves)), Style.RAFT, closed=True)
    datum = at.point(0, 0)
    reach = min(9.0, float(min(shape.length, shape.width)) * at.scale / 3)
    yield polyline(
        [Point(datum.x + reach, datum.y), datum, Point(datum.x, datum.y + reach)], Style.DATUM
    )
    holes = zip(at.points(design.holes.xy).tolist(), design.holes.diameters.tolist(), strict=True)
    for number, ((x, y), diameter) in enumerate(holes):
        if number >= _MOST_SHAPES:
            return
        radius = diameter / 2 * at.scale
        if shows == "marks":
            arm = min(max(radius, 0.8), 2.5)
            yield stroke(Point(x - arm, y), Point(x + arm, y), Style.HOLE)
            yield stroke(Point(x, y - arm), Point(x, y + arm), Style.HOLE)
            continue
        yield Circle(Point(x, y), radius, Style.HOLE)
        if shows == "plants":
            yield Circle(Point(x, y), radius * 0.55, Style.SOLID)


def _bed_marks(bed: BedPlan, box: Box, *, rafts: bool) -> Iterator[Mark]:
    """Draw a bed, empty or with its rafts."""
    outline = bed.layout.outline
    left, bottom, right, top = bounds(outline)
    at = _fitted(right - left, top - bottom, box.grown(-5))
    at = Shift(at.x - left * at.scale, at.y - bottom * at.scale, at.scale)
    yield Path(tuple(map(at.curve, outline.curves)), Style.WATER, closed=True)
    if rafts:
        for raft in bed.layout.rafts[:_MOST_SHAPES]:
            yield Path(tuple(map(at.curve, raft.loop_in_bed.curves)), Style.RAFT, closed=True)
        return
    low, high = at.point(left, bottom), at.point(right, top)
    for start, end, x, y in (
        (Point(low.x, low.y - 3), Point(high.x, low.y - 3), 0.0, 1.5),
        (Point(low.x - 3, low.y), Point(low.x - 3, high.y), 1.5, 0.0),
    ):
        yield stroke(start, end, Style.REFERENCE)
        for place in (start, end):
            yield stroke(
                Point(place.x - x, place.y - y), Point(place.x + x, place.y + y), Style.REFERENCE
            )


def _sheet_marks(plan: Plan, design: RaftDesign, box: Box) -> Iterator[Mark]:
    """Draw the sheet that a raft is cut from, or the raft where no sheet is known."""
    cut = next(
        (
            each
            for each in plan.cut.sheets
            if any(piece.design == design.name for piece in each.pieces)
        ),
        None,
    )
    if cut is None:
        shape = design.shape
        at = _fitted(float(shape.length), float(shape.width), box.grown(-2))
        yield Path(tuple(map(at.curve, shape.loop.curves)), Style.RAFT, closed=True)
        return
    length, width = cut.sheet.length.mm, cut.sheet.width.mm
    at = _fitted(length, width, box.grown(-2))
    low, high = at.point(0, 0), at.point(length, width)
    yield frame(Box(*low, *high), Style.SHEET)
    for piece in cut.pieces[:_MOST_SHAPES]:
        start = at.point(float(piece.x), float(piece.y))
        end = at.point(float(piece.x + piece.length), float(piece.y + piece.width))
        yield frame(Box(*start, *end), Style.CUT)


def _section(box: Box) -> Iterator[Mark]:
    """Draw a raft from the side: foam on water, a pot in a hole, leaves above, roots below."""
    middle, water = box.left + box.width * 0.36, box.bottom + box.height * 0.5
    left, right = box.left + 6, box.left + box.width * 0.66
    for x0, x1 in ((left, middle - 9), (middle + 9, right)):
        yield frame(Box(x0, water - 3, x1, water + 9), Style.RAFT)
    for x0, x1 in ((box.left, left), (right, right + 12)):
        yield stroke(Point(x0, water), Point(x1, water), Style.WATER)
    yield polyline(
        [
            Point(middle - 11, water + 9), Point(middle - 8.6, water + 9),
            Point(middle - 6, water - 10), Point(middle + 6, water - 10),
            Point(middle + 8.6, water + 9), Point(middle + 11, water + 9),
        ],
        Style.HOLE,
    )  # fmt: skip
    yield stroke(Point(middle, water + 4), Point(middle, water + 16), Style.HOLE)
    for side in (1, -1):
        for far, up in ((9, 20), (15, 14)):
            yield from _leaf(middle, water + 9, middle + side * far, water + up)
        for far, down in ((2, 27), (6, 24), (10, 19)):
            yield polyline(
                [
                    Point(middle + side * far * 0.3, water - 10),
                    Point(middle + side * far * 0.8, water - (10 + down) / 2),
                    Point(middle + side * far, water - down),
                ],
                Style.CENTRE,
            )
    for text, tip in (
        (tr("leaves"), Point(middle + 15, water + 17)),
        (tr("foam"), Point(right - 4, water + 4)),
        (tr("water"), Point(right + 10, water - 1)),
        (tr("roots"), Point(middle + 9, water - 18)),
    ):
        place = Point(right + 17, tip.y - 1.6 if text != tr("water") else tip.y - 7)
        yield stroke(tip, Point(place.x - 1, place.y + 2), Style.REFERENCE)
        yield line(place.x, place.y, text, LEAST_MM, room=box.right - place.x)


def _leaf(x: float, y: float, tip_x: float, tip_y: float) -> Iterator[Mark]:
    """Draw a leaf as two bows, a sixth of a circle each, from its stalk to its tip."""
    along = atan2(tip_y - y, tip_x - x)
    radius = hypot(tip_x - x, tip_y - y)
    # A chord as long as the radius: the centres stand as the tips of equilateral triangles.
    for start, turn in ((Point(x, y), along + pi / 3), (Point(tip_x, tip_y), along - 2 * pi / 3)):
        centre = Point(start.x + radius * cos(turn), start.y + radius * sin(turn))
        yield Path((Arc(centre, radius, turn + pi, pi / 3),), Style.HOLE)
