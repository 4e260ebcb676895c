"""The water pages: for each bed its figures, what rain does, cautions, and lines for readings."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from geometry.afloat.volumes import Volumes
from geometry.drawing.cautions import CAUTION_HEADS, CAUTIONS
from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.flow import (
    Column,
    Part,
    Row,
    gap,
    heading,
    paginate,
    row_room,
    row_width,
    table,
    words,
)
from geometry.drawing.lettering import clipped
from geometry.drawing.paper import COMMON, Paper
from geometry.drawing.water_figures import (
    dose_words,
    fact_rows,
    no_water_words,
    rain_words,
    volumes_in,
)
from geometry.plan import BedPlan, Plan
from geometry.tongue import tr
from geometry.units import MM_PER, Unit

_RAIN_MM: Final = (Fraction(10), Fraction(25), Fraction(50))
_RAIN_IN: Final = tuple(MM_PER["in"] * inches for inches in (Fraction(1, 2), 1, 2))
_SMALL_MM: Final = 2.8
_LINE_MM: Final = 4.6
_FEWEST_LINES: Final = 4


def lay_water(plan: Plan, paper: Paper = COMMON) -> CutSheetDocument:
    """Lay one page for each bed; on small paper a page may run on."""
    parts = [_part(plan, bed, paper) for bed in plan.beds]
    return CutSheetDocument(paper, tuple((part, paginate(part, paper)) for part in parts))


def _part(plan: Plan, bed: BedPlan, paper: Paper) -> Part:
    room = row_width(paper)
    name = clipped(bed.bed.name)
    columns = _columns(plan.project.units, room)
    blank = ("",) * len(columns)
    rows = [*_figures(plan, bed, room), *_cautions(room), heading(tr("Readings"))]
    left = row_room(paper) - sum(row.height for row in rows)
    head, line = table(columns, [blank], height=_LINE_MM)
    lines = max(int((left - head.height) / line.height), _FEWEST_LINES)
    rows += table(columns, [blank] * lines, height=_LINE_MM)
    return Part(
        tr("Water of {name}", name=name),
        tr("{project}: hang it beside the bed", project=clipped(plan.project.name)),
        tuple(rows),
        bookmark=tr("Water of {name}", name=name),
    )


def _figures(plan: Plan, bed: BedPlan, room: float) -> Iterator[Row]:
    volumes = volumes_in(plan, bed)
    if volumes is None:
        yield words(no_water_words(plan, bed), room)
        yield gap()
        return
    unit = plan.project.units
    yield from fact_rows(plan, bed, room)
    yield words(dose_words(volumes, unit), room)
    yield gap(1.5)
    yield from _rain(volumes, unit, room)


def _rain(volumes: Volumes, unit: Unit, room: float) -> Iterator[Row]:
    yield heading(tr("If it rains into the full bed"))
    for rain in _RAIN_IN if unit == "in" else _RAIN_MM:
        yield words(rain_words(volumes, float(rain), unit), room, height=_SMALL_MM)
    yield gap(1.5)


def _cautions(room: float) -> Iterator[Row]:
    for head, text in CAUTIONS:
        if head in CAUTION_HEADS:
            yield heading(tr(head), height=3.2)
            yield words(tr(text), room, height=_SMALL_MM)
    yield gap(1.5)


def _columns(unit: Unit, room: float) -> tuple[Column, ...]:
    return (
        Column(tr("day"), 26),
        Column("°F" if unit == "in" else "°C", 18),
        Column("EC", 20),
        Column("pH", 18),
        Column(tr("oxygen, mg/L"), 34),
        Column(tr("filled up"), 28),
        Column(tr("what was added, who"), room - 144),
    )
