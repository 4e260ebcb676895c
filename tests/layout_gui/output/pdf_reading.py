"""What a PDF says, read from its content streams by pypdf: strokes, circles and words in mm."""

from dataclasses import dataclass, field
from io import BytesIO
from math import hypot

import numpy as np
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

MM = 25.4 / 72


@dataclass
class Seen:
    strokes: list[tuple[float, float, float, float]] = field(default_factory=list)
    circles: list[tuple[float, float, float]] = field(default_factory=list)
    words: list[tuple[str, float, float]] = field(default_factory=list)
    widths: set[float] = field(default_factory=set)


def read(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data))


def look(page: PageObject) -> Seen:
    """Read a page whose content stands in points without scaling."""
    seen = Seen()
    points: list[tuple[float, float]] = []
    curves = 0
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        match operator:
            case b"m":
                points, curves = [_pair(operands)], 0
            case b"l":
                points.append(_pair(operands))
            case b"c":
                points.append(_pair(operands[4:]))
                curves += 1
            case b"w":
                seen.widths.add(float(operands[0]) * MM)
            case b"cm":
                assert [float(number) for number in operands] == [1, 0, 0, 1, 0, 0]
            case b"S" | b"s" | b"f" | b"f*" | b"B":
                _finish(points, curves, seen, stroked=operator in {b"S", b"s"})
    page.extract_text(visitor_text=lambda text, _cm, tm, _font, _size: _word(seen, text, tm))
    return seen


def _pair(operands: list[float]) -> tuple[float, float]:
    return float(operands[0]) * MM, float(operands[1]) * MM


def _finish(points: list[tuple[float, float]], curves: int, seen: Seen, *, stroked: bool) -> None:
    if curves == 4 and len(points) == 5:
        x, y = np.mean(points[1:], axis=0)
        radii = [hypot(px - x, py - y) for px, py in points[1:]]
        if max(radii) - min(radii) < 1e-3:
            seen.circles.append((float(x), float(y), float(np.mean(radii))))
    elif not curves and len(points) == 2 and stroked:
        seen.strokes.append((*points[0], *points[1]))


def _word(seen: Seen, text: str, matrix: list[float]) -> None:
    if text.strip():
        seen.words.append((text.strip(), matrix[4] * MM, matrix[5] * MM))
