"""The shapes that beds are told by, and the measures that each of them takes.

A shape is what a grower sees, an outline is what its measures come to. A rectangle stays one when
it was measured several times; a rectangle with one corner cut off is kept as a free outline.
"""

from typing import Final, Literal

from geometry.errors import GeometryError
from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.tongue import mark, tr
from geometry.units import ZERO, Length

ShapeName = Literal[
    "rectangle", "rounded", "round", "round ends", "L", "corner cut", "tapered", "free"
]

SHAPES: Final[tuple[ShapeName, ...]] = (
    "rectangle", "rounded", "round", "round ends", "L", "corner cut", "tapered", "free",
)  # fmt: skip

NEEDED: Final[dict[ShapeName, tuple[str, ...]]] = {
    "rectangle": ("length", "width"),
    "rounded": ("length", "width", "corner_radius"),
    "round": ("diameter",),
    "round ends": ("length", "width"),
    "L": ("length", "width", "notch_length", "notch_width"),
    "corner cut": ("length", "width", "cut_length", "cut_width"),
    "tapered": ("length", "width_start", "width_end"),
    "free": (),
}
"""The measures that each shape cannot do without."""

AGAIN: Final = ("length-2", "width-2", "width-3", "diagonal-1", "diagonal-2")
"""What may be measured once more on a rectangle."""


SHAPE_WORDS: Final[dict[ShapeName, str]] = {
    "rectangle": mark("rectangle"),
    "rounded": mark("rounded corners"),
    "round": mark("round"),
    "round ends": mark("round ends"),
    "L": mark("L"),
    "corner cut": mark("one corner cut off"),
    "tapered": mark("tapered"),
    "free": mark("corner by corner"),
}


MEASURE_WORDS: Final[dict[str, str]] = {
    "length": mark("Length"),
    "width": mark("Width"),
    "corner_radius": mark("Corner radius"),
    "diameter": mark("Across"),
    "notch_length": mark("Notch length"),
    "notch_width": mark("Notch width"),
    "cut_length": mark("Cut length"),
    "cut_width": mark("Cut width"),
    "width_start": mark("Width at start"),
    "width_end": mark("Width at end"),
    "length-2": mark("Length again"),
    "width-2": mark("Width again"),
    "width-3": mark("Middle width"),
    "diagonal-1": mark("Corner to corner"),
    "diagonal-2": mark("Other corners"),
}
"""What each measure is called, on screen and on paper."""

LEAN: Final = ("depth", "length", "width", "highest", "lowest")
"""What is measured where walls lean: the inside once more, lower down, and the water."""

LEAN_WORDS: Final[dict[str, tuple[str, str]]] = {
    "depth": (mark("Depth"), mark("from the first measuring down to the second")),
    "length": (mark("Length there"), ""),
    "width": (mark("Width there"), ""),
    "highest": (mark("Highest water"), mark("below the first measuring")),
    "lowest": (mark("Lowest water"), mark("below the first measuring")),
}
"""What each of these is called, and from where to where it runs."""


def shape_of(outline: Outline) -> ShapeName:
    """Name the shape of an outline."""
    match outline:
        case Rectangle(corner_radius=radius):
            return "rounded" if radius.exact else "rectangle"
        case Measured():
            return "rectangle"
        case Disc():
            return "round"
        case RoundEnded():
            return "round ends"
        case LShape():
            return "L"
        case Tapered():
            return "tapered"
        case Polygon():
            return "corner cut" if cut_of(outline) else "free"


def with_cut(length: Length, width: Length, cut_length: Length, cut_width: Length) -> Polygon:
    """A rectangle whose upper right corner is cut off straight."""
    for name, cut, side in (("length", cut_length, length), ("width", cut_width, width)):
        if not 0 < cut.exact < side.exact:
            raise GeometryError(tr(_CUT_TOO_LONG[name]))
    right, top = (
        Length(side.exact - cut.exact) for side, cut in ((length, cut_length), (width, cut_width))
    )
    return Polygon(((ZERO, ZERO), (length, ZERO), (length, top), (right, width), (ZERO, width)))


_CUT_TOO_LONG: Final = {
    "length": mark("The cut must be shorter than the length, and more than nothing."),
    "width": mark("The cut must be narrower than the width, and more than nothing."),
}


def cut_of(outline: Polygon) -> tuple[Length, Length, Length, Length] | None:
    """Length, width, length and width of the cut, where only the upper right corner is cut."""
    if len(outline.points) != 5:
        return None
    x = [point[0] for point in outline.points]
    y = [point[1] for point in outline.points]
    length, width = x[1], y[4]
    cut = Length(length.exact - x[3].exact), Length(width.exact - y[2].exact)
    try:
        is_cut = outline == with_cut(length, width, *cut)
    except GeometryError:
        return None
    return (length, width, *cut) if is_cut else None
