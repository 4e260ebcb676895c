"""Whether the words of a page stand on it, and none on top of another."""

from itertools import combinations
from math import cos, radians, sin

from geometry.drawing.marks import Box, Circle, Path, Text
from geometry.drawing.paper import Page
from geometry.drawing.styles import PENS
from geometry.drawing.text_width import CAP_HEIGHT, DESCENT, text_width
from geometry.model.measure import bounds_of

_SHARE = {"left": 0.0, "middle": 0.5, "right": 1.0}


def texts_of(page: Page) -> list[Text]:
    return [
        mark
        for picture in page.pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if isinstance(mark, Text) and mark.text
    ]


def words_of(page: Page) -> str:
    return " ".join(text.text for text in texts_of(page))


def box_of(text: Text) -> Box:
    wide = text_width(text.text, text.height, bold=PENS[text.style].bold)
    left = -wide * _SHARE[text.anchor]
    turn = radians(text.angle)
    corners = [
        (x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn))
        for x in (left, left + wide)
        for y in (-DESCENT * text.height, CAP_HEIGHT * text.height)
    ]
    xs, ys = zip(*corners, strict=True)
    at = text.at
    return Box(at.x + min(xs), at.y + min(ys), at.x + max(xs), at.y + max(ys))


def _extent(page: Page) -> list[Box]:
    boxes = [box_of(text) for text in texts_of(page)]
    for picture in page.pictures:
        for group in picture.drawing.groups:
            for mark in group.marks:
                match mark:
                    case Circle(centre, radius):
                        x, y = centre
                        boxes.append(Box(x - radius, y - radius, x + radius, y + radius))
                    case Path(curves) if curves:
                        boxes.append(Box(*bounds_of(curves)))
                    case _:
                        pass
    return boxes


def strays(page: Page, border: float = 9.9) -> list[Box]:
    """What lies in the border that a printer may leave white, or beyond the paper."""
    within = Box(border, border, page.width_mm - border, page.height_mm - border)
    return [
        box
        for box in _extent(page)
        if box.left < within.left
        or box.bottom < within.bottom
        or box.right > within.right
        or box.top > within.top
    ]


def collisions(page: Page) -> list[tuple[str, str]]:
    """Pairs of texts that stand on top of each other."""
    boxed = [(text.text, box_of(text).grown(-0.15)) for text in texts_of(page)]
    return [(one, other) for (one, a), (other, b) in combinations(boxed, 2) if a.meets(b)]
