"""Which hole is for which crop, and which is plugged for now: told by shape and in words."""

from collections.abc import Iterator, Sequence
from math import sqrt

import numpy as np

from geometry.drawing.figures import diameter_text, holes_text, length_text
from geometry.drawing.marks import Circle, Mark, stroke
from geometry.drawing.styles import Style
from geometry.holes.pairing import least_in_use
from geometry.holes.sites import Holes
from geometry.model.curves import Point
from geometry.model.planting import Planting
from geometry.tongue import mark, plural, tr
from geometry.units import Unit

_FIRST_SHARE = 0.9
_NEXT_SHARE = 0.1
_FIRST_OUTSIDE = 1.25
_NEXT_OUTSIDE = 0.2
_MOST_RINGS = 4
_PLUG = (0.62, 1.0)
_PLUG_OUTSIDE = (0.85, 1.3)
_RINGS = (
    mark("plain"),
    mark("one ring"),
    mark("two rings"),
    mark("three rings"),
    mark("four rings"),
)


def inner_share(number: int) -> float:
    """Return the share of a rim's radius that the rings of a planting leave free."""
    rings = rings_of(number)
    return _FIRST_SHARE - (rings - 1) * _NEXT_SHARE if rings else 1.0


def rings_of(number: int) -> int:
    """Return how many rings the holes of a planting carry: as many as its zone's number."""
    return min(number, _MOST_RINGS)


def hole_marks(
    holes: Holes, index: int, centre: Point, radius: float, *, outside: bool = False
) -> Iterator[Mark]:
    """Draw what a hole carries beside its rim: rings for a zone's crop, four ticks if plugged.

    They lie within the rim, where the saw takes them, or ``outside`` on a small drawing, whose
    holes have room for a name only.
    """
    number = 0 if holes.plantings is None else int(holes.plantings[index])
    for ring in range(rings_of(number)):
        inside = _FIRST_SHARE - ring * _NEXT_SHARE
        share = _FIRST_OUTSIDE + ring * _NEXT_OUTSIDE if outside else inside
        yield Circle(centre, radius * share, Style.CROP)
    if holes.plugged is not None and holes.plugged[index]:
        ends = _PLUG_OUTSIDE if outside else _PLUG
        inner, outer = (radius * share / sqrt(2) for share in ends)
        for along, up in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
            start = Point(centre.x + along * inner, centre.y + up * inner)
            end = Point(centre.x + along * outer, centre.y + up * outer)
            yield stroke(start, end, Style.PLUG)


def hole_lines(holes: Holes, plantings: Sequence[Planting], unit: Unit) -> tuple[str, ...]:
    """Say how many holes of which size there are; with zones for which crop, and how it is marked.

    A last line tells what is plugged for now.
    """
    lines = list(_by_crop(holes, plantings, unit)) if holes.plantings is not None else []
    if not lines:
        lines.append(holes_text(holes.diameters, unit))
    if (plugged := plugged_text(holes, unit)) is not None:
        lines.append(plugged)
    return tuple(lines)


def plugged_text(holes: Holes, unit: Unit) -> str | None:
    """Say how many holes of a raft are in use and how far apart; None where none is plugged."""
    if holes.plugged is None or not holes.plugged.any():
        return None
    idle = int(holes.plugged.sum())
    least = least_in_use(holes)
    text = tr(
        "{holes}, {used} in use now, {idle} plugged (ticks)",
        holes=plural(len(holes), "hole"),
        used=len(holes) - idle,
        idle=idle,
    )
    if least is None:
        return text
    return tr("{holes}; those in use keep {least}", holes=text, least=length_text(least, unit))


def crop_words(planting: Planting, number: int) -> str:
    """Name the crop of a planting, the bed's own or that of a zone."""
    return tr(planting.crop) or (
        tr("no crop named") if number == 0 else tr("zone {number}", number=number)
    )


def _by_crop(holes: Holes, plantings: Sequence[Planting], unit: Unit) -> Iterator[str]:
    for number, planting in enumerate(plantings):
        own = holes.numbers == number
        for diameter in np.unique(holes.diameters[own]).tolist():
            count = int((own & (holes.diameters == diameter)).sum())
            yield (
                tr(
                    "{holes} of {diameter} for {crop} ({rings})",
                    holes=plural(count, "hole"),
                    diameter=diameter_text(diameter, unit),
                    crop=crop_words(planting, number),
                    rings=tr(_RINGS[rings_of(number)]),
                )
            )
