"""A pot in its hole, cut through the middle."""

from collections.abc import Iterator
from typing import Final

from geometry.afloat.pots import Pot, Seated
from geometry.drawing.marks import Box, Drawing, Group, Mark, frame, polyline, stroke
from geometry.drawing.styles import Style
from geometry.model.curves import Point

_THIN_MM: Final = 1.5
"""A rim of unknown thickness is drawn so thick."""

_BELOW_MM: Final = 4.0
_SHOULDER_MM: Final = 14.0


def underside_of(pot: Pot, seated: Seated, thickness: float) -> float:
    """Return how high the underside of the rim is above the upper face, in mm.

    A pot that falls through is drawn below the foam, one that does not go in on top of it.
    """
    match seated.seat:
        case "falls through":
            return -thickness - _rim_height(pot) - _BELOW_MM
        case "does not go in":
            return pot.depth
        case _:
            return seated.proud


def pot_marks(
    pot: Pot,
    seated: Seated,
    thickness: float,
    at: Point,
    scale: float = 1.0,
    style: Style = Style.POT,
) -> Iterator[Mark]:
    """Draw a pot as it sits; ``at`` is the middle of its hole at the upper face of the foam."""
    low = underside_of(pot, seated, thickness)

    def place(x: float, y: float) -> Point:
        return Point(at.x + x * scale, at.y + (low + y) * scale)

    body, foot, top = pot.body / 2, pot.foot / 2, _rim_height(pot) if pot.bore else 0.0
    corners = (
        *((-body, top), (body, top)),
        *((body, 0.0), (foot, -pot.depth), (-foot, -pot.depth), (-body, 0.0)),
    )
    yield polyline([place(*corner) for corner in corners], style, closed=True)
    if not pot.rim:
        return
    inner = body if pot.bore else 0.0
    for left, right in ((-pot.rim / 2, -inner), (inner, pot.rim / 2)) if inner else (
        (-pot.rim / 2, pot.rim / 2),
    ):  # fmt: skip
        lower, upper = place(left, 0.0), place(right, _rim_height(pot))
        yield frame(Box(lower.x, lower.y, upper.x, upper.y), style)


def reach_of(pot: Pot, seated: Seated, thickness: float) -> tuple[float, float]:
    """Return how far a pot stands above the foam and hangs out below it, in mm."""
    low = underside_of(pot, seated, thickness)
    return max(0.0, low + _rim_height(pot)), max(0.0, pot.depth - low - thickness)


def seat_drawing(pot: Pot, seated: Seated, hole: float, thickness: float) -> Drawing:
    """Draw a pot in a hole through foam of a thickness, in mm; 0, 0 is as in ``pot_marks``."""
    half, edge = hole / 2, max(hole, pot.rim) / 2 + _SHOULDER_MM
    foam = tuple(
        frame(Box(min(side * half, side * edge), -thickness, max(side * half, side * edge), 0.0),
              Style.RAFT)
        for side in (-1, 1)
    )  # fmt: skip
    axis = stroke(Point(0, -thickness - 3), Point(0, 3), Style.HINT)
    pot_itself = tuple(pot_marks(pot, seated, thickness, Point(0, 0)))
    return Drawing((Group("foam", foam), Group("pot", pot_itself), Group("axis", (axis,))))


def drawing_box(
    pot: Pot, seated: Seated, hole: float, thickness: float, shoulder: float = _SHOULDER_MM
) -> Box:
    """Return what ``seat_drawing`` takes up, or with another width of foam beside the rim."""
    low = underside_of(pot, seated, thickness)
    edge = max(hole, pot.rim) / 2 + shoulder
    return Box(-edge, min(-thickness - 3, low - pot.depth), edge, max(3.0, low + _rim_height(pot)))


def _rim_height(pot: Pot) -> float:
    return pot.rim_height or _THIN_MM
