"""Pages of paper: their sizes, and what is drawn on one of them."""

from dataclasses import dataclass, replace
from typing import Final

from geometry.drawing.marks import Box, Drawing
from geometry.errors import GeometryError
from geometry.flow.period import Period
from geometry.tongue import mark, number, tr

BORDER_MM: Final = 10.0
"""The edge of the paper that a printer may leave white."""

BORDERS_MM: Final = (3.0, 12.0)
"""The narrowest and the widest border; printers leave 2 to 7 mm white."""

OVERLAP_MM: Final = 10.0
"""How much two neighbouring pages show of the same drawing."""

OVERLAPS_MM: Final = (10.0, 40.0)
"""The least overlap still shows every centre mark whole on one page."""

BAR_MM: Final = 100.0
"""The bar on the first page of a template that is measured to correct the printer."""

FACTORS: Final = (0.95, 1.05)
"""What a printer may be wrong by; more is a page scale somewhere, which must be found instead."""

PEGS_MM: Final = 100.0
"""How far the first hole of a perforated board can be from its edge."""

LEAST_MM: Final = (210.0, 279.4)
"""The width and height that a page must have for the first page of a template to find room."""

ROLL_MM: Final = 914.0
"""A usual width of the rolls in copy shops, 36 in; the other one is 610 mm, 24 in."""

ROLLS_MM: Final = (280.0, 2000.0)
"""The narrowest and the widest roll that can be named."""

ROLL_EDGE_MM: Final = 20.0
"""How much paper a page from a roll leaves all round the raft."""

LONGEST_MM: Final = 5000.0
"""The most that a side of a page may measure: viewers refuse pages above 14,400 points."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of paper, upright, as it lies in the printer; its name is to be translated.

    With ``roll_mm`` templates come from a roll so wide, each page as large as its raft asks for;
    width and height are then those of all other pages. Words keep off its edge by ``white_mm``.
    """

    name: str
    width_mm: float
    height_mm: float
    roll_mm: float | None = None
    white_mm: float = BORDER_MM

    @property
    def size(self) -> str:
        """The size in words."""
        return tr(
            "{width} \N{MULTIPLICATION SIGN} {height} mm",
            width=number(self.width_mm),
            height=number(self.height_mm),
        )

    @property
    def said(self) -> str:
        """Its name in words; one's own paper has none but its size."""
        if self.roll_mm is not None:
            return tr("a roll {roll} mm wide", roll=number(self.roll_mm))
        return self.size if self.name == _OWN else tr(self.name)


_OWN: Final = mark("of your own")


def is_same_size(paper: Paper, other: Paper) -> bool:
    """Tell whether two papers are as large as each other, whatever they are called."""
    if paper.roll_mm != other.roll_mm:
        return False
    apart = (paper.width_mm - other.width_mm, paper.height_mm - other.height_mm)
    return max(map(abs, apart)) < 0.05


def own_paper(width_mm: float, height_mm: float) -> Paper:
    """Return a paper of one's own size, upright whichever side is named first.

    Raises:
        GeometryError: The paper is too small for the words, or larger than viewers show.
    """
    width_mm, height_mm = sorted((width_mm, height_mm))
    if width_mm < LEAST_MM[0] or height_mm < LEAST_MM[1]:
        raise GeometryError(
            tr(
                "Paper must be {width} mm wide and {height} mm high or more.",
                width=number(LEAST_MM[0]),
                height=number(LEAST_MM[1]),
            )
        )
    if max(width_mm, height_mm) > LONGEST_MM:
        raise GeometryError(
            tr("Paper must measure {most} mm or less each way.", most=number(LONGEST_MM))
        )
    return Paper(_OWN, width_mm, height_mm)


def roll_paper(width_mm: float) -> Paper:
    """Return the paper of a plotter: a roll for templates, the common page for the rest.

    Raises:
        GeometryError: No roll is so narrow or so wide.
    """
    least, most = ROLLS_MM
    if not least <= width_mm <= most:
        raise GeometryError(
            tr(
                "A roll must be {least} to {most} mm wide; usual are 610 and 914 mm.",
                least=number(least),
                most=number(most),
            )
        )
    return Paper(mark("from a roll"), COMMON.width_mm, COMMON.height_mm, width_mm)


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


def serves(measured: Paper, used: Paper) -> bool:
    """Tell whether what was measured with one paper holds for a page of another.

    The page that fits A4 and Letter is printed on either of them.
    """
    both = {measured, used}
    is_common = COMMON in both and not both.isdisjoint({PAPERS["A4"], PAPERS["Letter"]})
    return is_common or is_same_size(measured, used)


@dataclass(frozen=True, slots=True)
class PrinterStamp:
    """Whose correction it is: the printer's name, the paper and the day it was measured with.

    The day is written as 2026-11-25; empty where nobody noted it.
    """

    printer: str
    paper: Paper
    day: str = ""


_USUAL_PERIOD: Final = Period()


@dataclass(frozen=True, slots=True)
class PageSetup:
    """How a template is put on paper.

    ``border_mm`` stays white, ``overlap_mm`` is shown by both of two neighbouring pages.
    ``across`` and ``along`` make good what the printer gets wrong: what is sent to it is that many
    times as large. Pages are composed in true millimetres, so the paper seems to measure
    ``width_mm`` by ``height_mm``. ``stamp`` tells which printer that is, None where the
    bars of the first page were measured.
    ``pegs`` is how far the first hole of a perforated board is from its two edges, None while
    nobody has measured it. ``period`` is which weeks are told.

    Raises:
        GeometryError: A figure is out of its bounds; the sentence says which.
    """

    paper: Paper = COMMON
    border_mm: float = BORDER_MM
    overlap_mm: float = OVERLAP_MM
    across: float = 1.0
    along: float = 1.0
    stamp: PrinterStamp | None = None
    pegs: tuple[float, float] | None = None
    period: Period = _USUAL_PERIOD

    def __post_init__(self) -> None:
        least, most = BORDERS_MM
        if not least <= self.border_mm <= most:
            raise GeometryError(
                tr(
                    "The white border must be {least} to {most} mm.",
                    least=number(least),
                    most=number(most),
                )
            )
        least, most = OVERLAPS_MM
        if not least <= self.overlap_mm <= most:
            raise GeometryError(
                tr(
                    "The overlap of pages must be {least} to {most} mm.",
                    least=number(least),
                    most=number(most),
                )
            )
        for place in self.pegs or ():
            if not 0 <= place <= PEGS_MM:
                raise GeometryError(
                    tr(
                        "The first hole of a pegboard is 0 to {most} mm from its edge.",
                        most=number(PEGS_MM),
                    )
                )
        for factor in (self.across, self.along):
            if not FACTORS[0] <= factor <= FACTORS[1]:
                raise GeometryError(
                    tr("No printer is so wrong: print again at 100 %, then measure.")
                )

    @property
    def width_mm(self) -> float:
        """The width of the paper in millimetres as they come out of the printer."""
        return self.paper.width_mm / self.across

    @property
    def height_mm(self) -> float:
        """The height of the paper in millimetres as they come out of the printer."""
        return self.paper.height_mm / self.along

    @property
    def plain(self) -> Paper:
        """The paper of pages that need no true scale; their words heed a wider border as well."""
        return replace(self.paper, white_mm=max(BORDER_MM, self.border_mm))

    @property
    def true(self) -> Paper:
        """The same in millimetres as they come out of the printer, for pages at true scale."""
        return Paper(
            self.paper.name, self.width_mm, self.height_mm, white_mm=max(BORDER_MM, self.border)
        )

    @property
    def border(self) -> float:
        """The white border in such millimetres."""
        return self.border_mm / min(self.across, self.along)

    @property
    def is_corrected(self) -> bool:
        """Whether the printer is corrected at all."""
        return (self.across, self.along) != (1.0, 1.0)

    @property
    def words(self) -> str:
        """The paper and the correction, as every page says them."""
        paper = tr("Paper {name}, page {size}.", name=tr(self.paper.name), size=self.paper.size)
        words = f"{paper} {self._correction}".rstrip()
        if self.stamp is None or serves(self.stamp.paper, self.paper):
            return words
        return f"{words} {tr('That was other paper than this one.')}"

    @property
    def _correction(self) -> str:
        factors = {"across": number(self.across, 4), "along": number(self.along, 4)}
        if self.stamp is None:
            if not self.is_corrected:
                return ""
            return tr("Corrected for the printer: {across} across, {along} along.", **factors)
        known = {
            "printer": self.stamp.printer,
            "paper": self.stamp.paper.said,
            "day": self.stamp.day or tr("on an unknown day"),
        }
        if not self.is_corrected:
            return tr("{printer}, {paper}, measured {day}: true as it is.", **known)
        return tr(
            "Corrected for {printer}, {paper}, measured {day}: {across} across, {along} along.",
            **known,
            **factors,
        )


def correction(wanted_mm: float, measured_mm: float) -> float:
    """Return by what to stretch, when a line of ``wanted_mm`` comes out as ``measured_mm``.

    Raises:
        GeometryError: The printer cannot be so wrong; the sentence says what to do.
    """
    factor = wanted_mm / measured_mm if measured_mm > 0 else 0.0
    return PageSetup(across=factor).across


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
    paper that is used, None for all of it. ``stretch`` is by what the page is larger, across and
    along, where it is sent to a printer that is to be corrected.
    """

    width_mm: float
    height_mm: float
    name: str
    pictures: tuple[Picture, ...]
    bookmark: str = ""
    trim: Box | None = None
    stretch: tuple[float, float] = (1.0, 1.0)
