"""The template: every raft design at true size, cut into pages that a printer takes."""

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.drawing.cover import cover_page
from geometry.drawing.paper import COMMON, Page, Paper
from geometry.drawing.template_set import TemplateSet
from geometry.drawing.tile_page import has_room, tile_page
from geometry.drawing.tile_title import FOOTER_MM
from geometry.drawing.tiles import Tiling, lay_tiles
from geometry.plan import BedPlan, Plan, RaftDesign

_LONG_NUMBER = 8000


@dataclass(frozen=True, slots=True)
class Template:
    """All sets of a plan, laid out but not drawn yet. ``total`` counts the pages."""

    sets: tuple[TemplateSet, ...]
    total: int

    def pages(self) -> Iterator[Page]:
        """Draw the pages one after another: for each design its cover, then its tiles."""
        for template in self.sets:
            yield cover_page(template)
            for cell in template.tiling.cells:
                yield tile_page(template, cell)


def lay_template(plan: Plan, paper: Paper = COMMON) -> Template:
    """Decide on the pages of every raft design; designs that are used twice come once."""
    found = [
        (bed, design, _tiling(plan, bed, design, paper))
        for bed in plan.beds
        for design in bed.designs
    ]
    total = sum(1 + len(tiling.cells) for _, _, tiling in found)
    sets: list[TemplateSet] = []
    cover = 1
    for bed, design, tiling in found:
        sets.append(_set(plan, bed, design, tiling, cover, total))
        cover += 1 + len(tiling.cells)
    return Template(tuple(sets), total)


def compose_template(plan: Plan, paper: Paper = COMMON) -> tuple[Page, ...]:
    """Compose the template of every raft design of a plan, at true size."""
    return tuple(lay_template(plan, paper).pages())


def _tiling(plan: Plan, bed: BedPlan, design: RaftDesign, paper: Paper) -> Tiling:
    """Lay the pages out; a strip for words is kept free where the drawing leaves no room."""
    tiling = lay_tiles(design, paper)
    trial = _set(plan, bed, design, tiling, _LONG_NUMBER, _LONG_NUMBER)
    if all(has_room(trial, cell) for cell in tiling.cells):
        return tiling
    return lay_tiles(design, paper, footer=FOOTER_MM)


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
    )
