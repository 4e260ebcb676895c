"""How a hole is sawn through the foam: from one face or from both, drawn as a section."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal

from geometry.afloat.pots import Pot, Seated
from geometry.drawing.bench import BENCH_MM, arrow
from geometry.drawing.figures import length_text
from geometry.drawing.flow import Row
from geometry.drawing.lettering import fitting_height, line
from geometry.drawing.marks import Box, Mark, frame, stroke
from geometry.drawing.pot_section import pot_marks, reach_of
from geometry.drawing.scales import best_scale
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.model.curves import Point
from geometry.model.sheet import Cutting
from geometry.tongue import tr
from geometry.units import MM_PER, Unit

Faces = Literal["one", "both", "too deep", "unknown"]

_USUAL_IN: Final = MM_PER["in"] * Fraction(3, 2)
_USUAL_MM: Final = Fraction(38)
_SHOULDER_MM = 13.0
_TALLEST_MM = 50.0
_FACE_MM = 3.4
_HEAD_MM = 13.0
_LOW_HEAD_MM = 11.5
"""The head that is just high enough for the title and the name of the face."""

_HATCH_MM = 3.2
_SIDE_MM = 5.0


def usual_reach(unit: Unit) -> Fraction:
    """Return how deep hole saws usually cut: 38 mm or 1 1/2 in (common practice, no source)."""
    return _USUAL_IN if unit == "in" else _USUAL_MM


@dataclass(frozen=True, slots=True)
class Drilling:
    """How the holes of a raft are sawn.

    ``thickness`` of the foam is None where it is not one figure. ``reach`` is how deep the saw
    cuts from one face; ``is_usual`` says that nobody has measured it.
    """

    thickness: Fraction | None
    reach: Fraction
    is_usual: bool

    @property
    def faces(self) -> Faces:
        """From how many faces the saw gets through."""
        if self.thickness is None:
            return "unknown"
        if self.thickness <= self.reach:
            return "one"
        return "both" if self.thickness <= 2 * self.reach else "too deep"


def drilling_of(thickness: Fraction | None, cutting: Cutting, unit: Unit) -> Drilling:
    """Say how foam of a thickness is sawn with the hole saw of a project."""
    depth = cutting.saw_depth
    return Drilling(thickness, depth.exact if depth else usual_reach(unit), depth is None)


def drilling_words(drilling: Drilling, unit: Unit) -> str:
    """Say in what order the holes are drilled."""
    reach = length_text(drilling.reach, unit)
    saw = (
        tr("Hole saws usually reach {reach}: measure yours.", reach=reach)
        if drilling.is_usual
        else tr("The hole saw reaches {reach}.", reach=reach)
    )
    return f"{_way_words(drilling, unit)} {saw}"


def _way_words(drilling: Drilling, unit: Unit) -> str:
    if drilling.thickness is None:
        return tr(
            "How thick the foam is, is not known. Where the saw does not reach through it: pilot "
            "right through first, then half from each face."
        )
    thickness = length_text(drilling.thickness, unit)
    half = length_text(drilling.thickness / 2, unit)
    match drilling.faces:
        case "one":
            return tr("Saw from the top face in one go, on a board that may be cut into.")
        case "both":
            return tr(
                "Saw from both faces. 1: pilot right through the {thickness} at every hole. "
                "2: {half} deep from the top face. 3: turn the raft over, the rest from below.",
                thickness=thickness,
                half=half,
            )
        case _:
            return tr(
                "This saw does not get through {thickness} of foam, not even from both faces: "
                "take one that reaches {half} or more.",
                thickness=thickness,
                half=half,
            )


def section_row(
    drilling: Drilling,
    diameter: float,
    unit: Unit,
    room: float,
    held: tuple[Pot, Seated] | None = None,
) -> Row | None:
    """Draw a section through a hole, at true size where there is room; None without thickness.

    The pot that it ``held`` shows where it will sit.
    """
    if drilling.thickness is None:
        return None
    thick = float(drilling.thickness)
    scale = best_scale(diameter, thick, room - 2 * _SHOULDER_MM - _SIDE_MM, _TALLEST_MM)
    deep, wide = thick / scale, diameter / scale
    above, below = (each / scale for each in (reach_of(*held, thick) if held else (0.0, 0.0)))

    head = max(_HEAD_MM, _LOW_HEAD_MM + above)

    def draw(left: float, top: float) -> Iterator[Mark]:
        title = tr("A hole at true size") if scale == 1 else tr("A hole, 1 : {scale}", scale=scale)
        height = fitting_height(title, BENCH_MM, room, bold=True)
        yield line(left, top - BENCH_MM, title, height, style=Style.TITLE, room=room)
        face = top - head
        foam = Box(left, face - deep, left + wide + 2 * _SHOULDER_MM, face)
        yield line(left, face + above + 1.6, tr("top face"), _FACE_MM)
        yield from _section(drilling, foam, unit, 1 / scale)
        if held:
            middle = Point((foam.left + foam.right) / 2, face)
            yield from pot_marks(*held, thick, middle, 1 / scale, Style.HINT)

    return Row(head + deep + max(below, 3.0), draw)


def _section(drilling: Drilling, foam: Box, unit: Unit, scale: float) -> Iterator[Mark]:
    hole = Box(foam.left + _SHOULDER_MM, foam.bottom, foam.right - _SHOULDER_MM, foam.top)
    for part in (
        Box(foam.left, foam.bottom, hole.left, foam.top),
        Box(hole.right, foam.bottom, foam.right, foam.top),
    ):
        yield from hatch(part)
        yield frame(part, Style.RAFT)
    middle = (hole.left + hole.right) / 2
    yield stroke(Point(middle, foam.bottom - 2), Point(middle, foam.top + 1), Style.HINT)
    yield from _saw_marks(drilling, hole, scale)
    thickness = length_text(drilling.thickness or 0, unit)
    yield line(
        foam.right + 1.6 + BENCH_MM * CAP_HEIGHT, (foam.bottom + foam.top) / 2, thickness,
        BENCH_MM, anchor="middle", angle=90,
    )  # fmt: skip


def _saw_marks(drilling: Drilling, hole: Box, scale: float) -> Iterator[Mark]:
    """Show from which face the saw comes, and how far."""
    x = hole.left + hole.width / 4
    if drilling.faces == "one":
        yield arrow(Point(x, hole.top - 0.6), Point(x, hole.bottom + 0.6))
        return
    meets = drilling.faces == "both"
    deep = hole.height / 2 if meets else float(drilling.reach) * scale
    for number, face, end in (
        ("2", hole.top, hole.top - deep),
        ("3", hole.bottom, hole.bottom + deep),
    ):
        yield stroke(Point(hole.left, end), Point(hole.right, end), Style.KEEP_OUT)
        towards = 0.6 if face < end else -0.6
        yield arrow(Point(x, face + towards), Point(x, end - towards))
        if meets:
            height = min(BENCH_MM, hole.width / 4, hole.height / 4)
            low = (face + end - height * CAP_HEIGHT) / 2
            at = hole.right - hole.width / 4
            yield line(at, low, number, height, style=Style.TITLE, anchor="middle")


def hatch(part: Box) -> Iterator[Mark]:
    """Fill a cut face with slanted lines."""
    at = part.left - part.height + _HATCH_MM / 2
    while at < part.right:
        low, high = max(at, part.left), min(at + part.height, part.right)
        start = Point(low, part.bottom + low - at)
        yield stroke(start, Point(high, part.bottom + high - at), Style.RULE)
        at += _HATCH_MM
