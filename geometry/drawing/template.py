"""The template: every raft design at true size, cut into pages that a printer takes."""

from collections.abc import Container, Iterator
from dataclasses import dataclass
from typing import Final

from geometry.drawing.cover import cover_page
from geometry.drawing.flow import Part, part_page, row_width, words
from geometry.drawing.paper import Page, PageSetup
from geometry.drawing.stamp import stamp_words
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.tile_page import has_room, tile_page
from geometry.drawing.tile_title import FOOTER_MM
from geometry.drawing.tiles import Tiling, lay_tiles
from geometry.plan import BedPlan, Plan, RaftDesign
from geometry.tongue import tr
from geometry.watch import look_up, part

_LONG_NUMBER = 8000
PLAIN: Final = PageSetup()
"""The page that comes out right on A4 and Letter, the printer taken at its word."""


@dataclass(frozen=True, slots=True)
class Template:
    """All sets of a plan, laid out but not drawn yet. ``total`` counts the pages.

    Without a set there is ``instead`` a page that says so: readers open no document without pages.
    """

    sets: tuple[TemplateSet, ...]
    total: int
    instead: tuple[Page, ...] = ()

    @property
    def left_out(self) -> int:
        """How many pages of the grids are left out because nothing would be on them."""
        return sum(len(each.tiling.blank) for each in self.sets)

    def pages(self, only: Container[int] | None = None) -> Iterator[Page]:
        """Draw the pages one after another: for each design its cover, then its tiles.

        With ``only``, just the pages of these numbers, counted from 1 as on the paper.
        """
        yield from (page for number, page in enumerate(self.instead, 1) if _wanted(number, only))
        number = 0
        for template in self.sets:
            for cell in (None, *template.tiling.cells):
                number += 1
                if _wanted(number, only):
                    yield cover_page(template) if cell is None else tile_page(template, cell)


def lay_template(plan: Plan, setup: PageSetup = PLAIN, *, mirrored: bool = False) -> Template:
    """Decide on the pages of every raft design; designs that are used twice come once.

    With ``mirrored``, as the rafts are seen from below, to drill them from there.
    """
    designs = [(bed, design) for bed in plan.beds for design in bed.designs]
    found: list[tuple[BedPlan, RaftDesign, Tiling]] = []
    for at, (bed, design) in enumerate(designs):
        with part(at / len(designs), (at + 1) / len(designs)):
            tiling = _tiling(plan, bed, design, setup, mirrored=mirrored)
        found.append((bed, design, tiling))
    if not found:
        return Template((), 1, (_no_raft(setup, mirrored=mirrored),))
    total = sum(1 + len(tiling.cells) for _, _, tiling in found)
    sets: list[TemplateSet] = []
    cover = 1
    for bed, design, tiling in found:
        sets.append(_set(plan, bed, design, tiling, cover, total))
        cover += 1 + len(tiling.cells)
    return Template(tuple(sets), total)


def compose_template(plan: Plan, setup: PageSetup = PLAIN) -> tuple[Page, ...]:
    """Compose the template of every raft design of a plan, at true size."""
    return tuple(lay_template(plan, setup).pages())


def lay_mirrored(plan: Plan, setup: PageSetup = PLAIN) -> Template:
    """Decide on the pages of the mirrored set: every raft design as it is seen from below."""
    return lay_template(plan, setup, mirrored=True)


def _wanted(number: int, only: Container[int] | None) -> bool:
    return only is None or number in only


def _no_raft(setup: PageSetup, *, mirrored: bool) -> Page:
    title = tr("Mirrored template") if mirrored else tr("Template")
    rows = (words(tr("There is no raft to drill."), row_width(setup.plain)),)
    words_part = Part(title, "", rows, title)
    return part_page(words_part, rows, setup.plain, place=0, number=1, total=1)


def _tiling(
    plan: Plan, bed: BedPlan, design: RaftDesign, setup: PageSetup, *, mirrored: bool
) -> Tiling:
    """Lay the pages out; a strip for words is kept free where the drawing leaves no room.

    On a roll the strip is always there: it costs no page, and the words are in one place.
    """
    if setup.paper.roll_mm is not None:
        return lay_tiles(design, setup, footer=FOOTER_MM, mirrored=mirrored)
    tiling = lay_tiles(design, setup, mirrored=mirrored)
    trial = _set(plan, bed, design, tiling, _LONG_NUMBER, _LONG_NUMBER)
    for at, cell in enumerate(tiling.cells):
        look_up(at / len(tiling.cells))
        if not has_room(trial, cell):
            return lay_tiles(design, setup, footer=FOOTER_MM, mirrored=mirrored)
    return tiling


def _set(
    plan: Plan, bed: BedPlan, design: RaftDesign, tiling: Tiling, cover: int, total: int
) -> TemplateSet:
    rafts = tuple(raft.name for raft in bed.rafts if raft.design.name == design.name)
    return TemplateSet(
        plan.project.name,
        bed.bed.name,
        plan.project.units,
        design,
        rafts,
        tiling,
        cover,
        total,
        bed.plantings,
        stamp_words(plan.project, design),
    )
