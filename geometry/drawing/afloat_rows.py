"""The rows of a bed's page that tell how its rafts ride, with the bed cut through at a scale."""

from collections.abc import Iterator
from typing import Final

from geometry.drawing.afloat_figures import raft_lines, worst_design
from geometry.drawing.flow import Row, gap, heading, words
from geometry.drawing.lettering import line
from geometry.drawing.marks import Mark
from geometry.drawing.scales import best_scale
from geometry.drawing.section import Axis, Section, cut_through, draw_section, level_room
from geometry.drawing.styles import Style
from geometry.drawing.transforms import Shift, marks_of
from geometry.plan import BedPlan, Plan
from geometry.tongue import tr
from geometry.units import Unit

_WORDS_MM: Final = 3.8
_LETTER_MM: Final = 3.2
_TITLE_MM: Final = 3.8
_TALLEST_MM: Final = 60.0
_SMALLEST: Final = 20
"""At a smaller scale than one to this, foam cannot be told from a line."""


def afloat_rows(plan: Plan, bed: BedPlan, room: float) -> tuple[Row, ...]:
    """Say how the heaviest raft of a bed rides and who lifts it; nothing while it is not known.

    Where the depth of the water is known, the bed is drawn cut through.
    """
    design = worst_design(plan, bed)
    said = raft_lines(plan, bed, design) if design is not None else ()
    if not said:
        return ()
    rows = [
        heading(tr("Afloat, and lifting")),
        *(words(each, room, height=_WORDS_MM) for each in said),
    ]
    if bed.bed.water.depth is not None and (drawn := _drawn(plan, bed, room)) is not None:
        rows += [gap(1), drawn]
    return (*rows, gap())


def _drawn(plan: Plan, bed: BedPlan, room: float) -> Row | None:
    """Draw the bed cut across, or along where that is too wide for the page."""
    unit = plan.project.units
    axes: tuple[Axis, Axis] = ("across", "along")
    for axis in axes:
        section = cut_through(plan, bed, axis, "working", "harvest")
        if section is None or not section.rafts:
            continue
        scale = _scale(section, unit, room)
        if scale <= _SMALLEST:
            return _row(section, unit, scale)
    return None


def _scale(section: Section, unit: Unit, room: float) -> int:
    beside = level_room(section, unit, _LETTER_MM)
    return best_scale(section.box.width, section.box.height, room - beside, _TALLEST_MM)


def _row(section: Section, unit: Unit, scale: int) -> Row:
    box = section.box
    title = (
        tr("Cut along the bed at the harvest, 1 : {scale}", scale=scale)
        if section.axis == "along"
        else tr("Cut across the bed at the harvest, 1 : {scale}", scale=scale)
    )
    high = box.height / scale

    def draw(left: float, top: float) -> Iterator[Mark]:
        yield line(left, top - _TITLE_MM, title, _TITLE_MM, style=Style.TITLE)
        base = top - _TITLE_MM - 3 - high
        here = Shift(left - box.left / scale, base - box.bottom / scale, 1 / scale)
        drawing = draw_section(section, unit, _LETTER_MM * scale)
        yield from map(here.mark, marks_of(drawing.groups))

    return Row(_TITLE_MM + 4 + high, draw)
