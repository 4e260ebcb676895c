"""Pictures of pages and drawings: how large they are and what they are called; Qt paints them."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from geometry.drawing.marks import Drawing, Group
from geometry.drawing.paper import Page, Picture
from geometry.drawing.raft import draw_raft
from geometry.drawing.transforms import Shift
from geometry.plan import RaftDesign
from geometry.tongue import number, tr
from geometry.units import Unit

DPI: Final = (36, 1200)
"""The fewest and the most dots per inch."""

MOST_PIXELS: Final = 150_000_000
"""So many shades of grey take 150 MB while a picture is painted; most programs open such a file."""

MOST_SIDE: Final = 32_000
"""Painters count pixels in 16 bits."""

_AROUND_MM: Final = 10.0
_MM_PER_INCH: Final = 25.4


class PictureError(ValueError):
    """A picture would be too large; the text says by how much fewer dots it is not."""


@dataclass(frozen=True, slots=True)
class Pictures:
    """The wish for pictures of all that is written: dots per inch, and what paints a page (PNG)."""

    dpi: int
    paint: Callable[[Page, int], bytes]

    def of(self, page: Page, name: str) -> bytes:
        """Paint a page.

        Raises:
            PictureError: The picture, which goes by this ``name``, would be too large.
        """
        refuse_large(page, self.dpi, name)
        try:
            return self.paint(page, self.dpi)
        except MemoryError as error:
            raise PictureError(
                tr("There is too little memory for {name}; choose fewer dots per inch.", name=name)
            ) from error


def pixels_of(page: Page, dpi: float) -> tuple[int, int]:
    """Return how many pixels wide and high the picture of a page is, as it is sent to paper."""
    across, along = page.stretch
    per_mm = dpi / _MM_PER_INCH
    wide, high = round(page.width_mm * across * per_mm), round(page.height_mm * along * per_mm)
    return max(1, wide), max(1, high)


def refuse_large(page: Page, dpi: int, name: str) -> None:
    """Refuse a picture of too many pixels.

    Raises:
        PictureError: It has too many; the text says how many dots per inch would do.
    """
    wide, high = pixels_of(page, dpi)
    if wide * high <= MOST_PIXELS and max(wide, high) <= MOST_SIDE:
        return
    most = min((MOST_PIXELS / (wide * high)) ** 0.5, MOST_SIDE / max(wide, high)) * dpi
    if most < DPI[0]:
        raise PictureError(tr("{name} is too large for a picture; do without pictures.", name=name))
    raise PictureError(
        tr(
            "{name} would be a picture of {pixels} million pixels at {dpi} dots per inch; "
            "choose {most} or fewer.",
            name=name,
            pixels=number(round(wide * high / 1e6)),
            dpi=dpi,
            most=int(most * 0.999),
        )
    )


def page_picture_name(file: str, at: int, total: int) -> str:
    """Return the name of the picture of a page of a document; the total tells sets apart."""
    return f"{file.removesuffix('.pdf')}-{at:0{len(str(total))}}-of-{total}.png"


def is_page_picture(name: str, file: str) -> bool:
    """Tell whether a file name is that of a picture of a page of a document."""
    stem, _, total = name.removesuffix(".png").rpartition("-of-")
    start, _, at = stem.rpartition("-")
    is_numbered = at.isdecimal() and total.isdecimal()
    return name.endswith(".png") and is_numbered and start == file.removesuffix(".pdf")


def raft_page(design: RaftDesign, unit: Unit) -> Page:
    """Put the drawing of a raft, its size in this unit, on a page with a little room around it."""
    width, height = float(design.shape.length), float(design.shape.width)
    around = 2 * _AROUND_MM
    drawing = draw_raft(design, unit=unit)
    shift = Shift(_AROUND_MM, _AROUND_MM)
    groups = (Group(each.id, tuple(map(shift.mark, each.marks))) for each in drawing.groups)
    picture = Picture(Drawing(tuple(groups)))
    return Page(width + around, height + around, design.name, (picture,))
