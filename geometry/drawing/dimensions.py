"""Running dimensions: every place measured from the datum, never from its neighbour."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from geometry.drawing.figures import figure
from geometry.drawing.lettering import line
from geometry.drawing.marks import Mark, stroke
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Point
from geometry.units import Unit

FIGURE_MM = 3.2
"""Font size of dimensions."""

_APART_MM = 1.6
_FIRST_MM = 3.0
_JOG_MM = 3.0
_FARTHEST_MM = 9.0


@dataclass(frozen=True, slots=True)
class Ruler:
    """One edge of a drawing along which dimensions run.

    ``start`` is where the datum's edge lies on the page along this axis, ``edge`` where the
    dimensions leave the drawing on the other axis, downwards or to the left. ``scale`` makes page
    millimetres of true ones.
    """

    start: float
    edge: float
    scale: float
    upright: bool

    def at(self, along: float, out: float) -> Point:
        """Return the point so far along the edge and so far out from it."""
        if self.upright:
            return Point(self.edge - out, along)
        return Point(along, self.edge - out)


def running_dimensions(
    places: Sequence[float],
    ruler: Ruler,
    unit: Unit,
    *,
    height: float = FIGURE_MM,
    tiers: int = 1,
) -> tuple[tuple[Mark, ...], bool]:
    """Draw the distance of each place from the datum along one edge.

    Figures that would touch are moved apart, each tied to its place by a slanted line; with two
    ``tiers`` every second figure stands farther out, so that twice as many find room. Where even
    that leaves no room, every second, third … figure stands, the first and the last always.
    Returns the marks and whether every place has its figure.
    """
    shown = _distinct(places, unit)
    pitch = _pitch(height) / tiers
    labels, complete = _thinned(shown, ruler, pitch)
    wanted = [ruler.start + place * ruler.scale for place in labels]
    stands = _spread(wanted, pitch)
    tier = _widest(places, unit, height) + _APART_MM
    marks: list[Mark] = []
    for number, (place, on_edge, stand) in enumerate(zip(labels, wanted, stands, strict=True)):
        bend, end = _FIRST_MM, _FIRST_MM + _JOG_MM
        marks.append(stroke(ruler.at(on_edge, 0.8), ruler.at(on_edge, bend), Style.DIMENSION))
        marks.append(stroke(ruler.at(on_edge, bend), ruler.at(stand, end), Style.DIMENSION))
        if farther := number % tiers:
            near, end = end, end + farther * tier
            marks.append(stroke(ruler.at(stand, near), ruler.at(stand, end), Style.DIMENSION))
        aside = height * CAP_HEIGHT / 2
        text = figure(place, unit)
        if ruler.upright:
            x, y = ruler.at(stand - aside, end + 0.8)
            marks.append(line(x, y, text, height, style=Style.DIMENSION, anchor="right"))
        else:
            x, y = ruler.at(stand + aside, end + 0.8)
            marks.append(line(x, y, text, height, style=Style.DIMENSION, anchor="right", angle=90))
    return tuple(marks), complete


def has_room(
    places: Sequence[float],
    ruler: Ruler,
    unit: Unit,
    *,
    height: float = FIGURE_MM,
    tiers: int = 1,
) -> bool:
    """Tell whether every place gets its figure."""
    return _thinned(_distinct(places, unit), ruler, _pitch(height) / tiers)[1]


def dimension_room(
    places: Sequence[float], unit: Unit, *, height: float = FIGURE_MM, tiers: int = 1
) -> float:
    """Return how far the figures reach out from the edge."""
    widest = _widest(places, unit, height)
    return _FIRST_MM + _JOG_MM + 1.8 + tiers * widest + (tiers - 1) * _APART_MM


def _widest(places: Sequence[float], unit: Unit, height: float) -> float:
    return max((text_width(figure(place, unit), height) for place in places), default=0.0)


def _pitch(height: float) -> float:
    """Return how far apart two figures stand at the least."""
    return height * CAP_HEIGHT + _APART_MM


def _distinct(places: Sequence[float], unit: Unit) -> list[float]:
    """Keep one place for each figure that would be written."""
    return list({figure(place, unit): place for place in sorted(places, reverse=True)}.values())[
        ::-1
    ]


def _thinned(places: list[float], ruler: Ruler, pitch: float) -> tuple[list[float], bool]:
    """Leave out figures until the rest can stand near their places."""
    every = 1
    while True:
        kept = places[:-1:every] + places[-1:]
        wanted = [ruler.start + place * ruler.scale for place in kept]
        stands = _spread(wanted, pitch)
        far = max((abs(a - b) for a, b in zip(wanted, stands, strict=True)), default=0.0)
        if far <= _FARTHEST_MM or len(kept) <= 2:
            return kept, every == 1
        every = max(every + 1, floor(every * 1.3))


def _spread(wanted: Sequence[float], apart: float) -> list[float]:
    """Move rising places apart as little as possible, in the sense of least squares."""
    blocks: list[tuple[float, int]] = []
    for number, place in enumerate(wanted):
        mean, count = place - number * apart, 1
        while blocks and blocks[-1][0] > mean:
            before, size = blocks.pop()
            mean = (before * size + mean * count) / (size + count)
            count += size
        blocks.append((mean, count))
    means = [mean for mean, count in blocks for _ in range(count)]
    return [mean + number * apart for number, mean in enumerate(means)]
