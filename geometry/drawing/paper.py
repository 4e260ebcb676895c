"""Pages of paper: their sizes, and what is drawn on one of them."""

from dataclasses import dataclass
from typing import Final

from geometry.drawing.marks import Box, Drawing
from geometry.tongue import mark, number, tr

BORDER_MM: Final = 10.0
"""The edge of the paper that a printer may leave white."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright, as it lies in the printer; its name is to be translated."""

    name: str
    width_mm: float
    height_mm: float

    @property
    def size(self) -> str:
        """The size in words."""
        return tr(
            "{width} \N{MULTIPLICATION SIGN} {height} mm",
            width=number(self.width_mm),
            height=number(self.height_mm),
        )


COMMON: Final = Paper(mark("A4 or Letter"), 210, 279.4)
"""The part that A4 and Letter have in common: comes out at true size on either."""

PAPERS: Final[dict[str, Paper]] = {
    "common": COMMON,
    "A4": Paper("A4", 210, 297),
    "A3": Paper("A3", 297, 420),
    "Letter": Paper("Letter", 215.9, 279.4),
    "Legal": Paper("Legal", 215.9, 355.6),
    "Tabloid": Paper("Tabloid", 279.4, 431.8),
}


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing in page millimetres; nothing of it shows outside ``clip``, if there is one."""

    drawing: Drawing
    clip: Box | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One page, its origin at the lower left corner of the paper.

    ``pictures`` are drawn in order. ``name`` tells what is on the page. ``bookmark`` is the title
    of the part of the document that begins here, empty within a part. ``trim`` is the part of the
    paper that is used, None for all of it.
    """

    width_mm: float
    height_mm: float
    name: str
    pictures: tuple[Picture, ...]
    bookmark: str = ""
    trim: Box | None = None
