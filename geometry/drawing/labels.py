"""Raft labels: one to cut out for each raft of each bed."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, hypot
from typing import Final

from geometry.drawing.composed import Composed
from geometry.drawing.flow import page_area
from geometry.drawing.lettering import clipped, fitting_height, line, wrapped
from geometry.drawing.marks import Box, Drawing, Group, Mark, Path, polyline, stroke
from geometry.drawing.paper import COMMON, Page, Paper, Picture
from geometry.drawing.styles import Style
from geometry.drawing.text_width import shortened_within, text_width
from geometry.drawing.transforms import Shift, half_turn
from geometry.flow.period import Period
from geometry.flow.room import Stand
from geometry.model.curves import Point
from geometry.plan import BedPlan, PlacedRaft, Plan, RaftDesign
from geometry.tongue import plural, tr, tr_n
from geometry.weeks import Weeks, plan_weeks

WIDTH_MM: Final = 90.0
HEIGHT_MM: Final = 50.0
"""A label, before it is cut out."""

_HEAD_MM: Final = 9.0
_BEYOND_MM: Final = 3.0
_MARGIN_MM: Final = 4.0
_NAME_MM: Final = 15.0
_BED_MM: Final = 5.4
_LINE_MM: Final = 3.9
_STEP_MM: Final = 5.6
_CLOSE_STEP_MM: Final = 4.4
_SKETCH: Final = (32.0, 20.0)
_BARB_MM: Final = 2.2
_CORNER_MM: Final = 4.0


@dataclass(frozen=True, slots=True)
class _Label:
    """What stands on one label."""

    bed: BedPlan
    raft: PlacedRaft
    stage: tuple[str, ...] = ()


def lay_labels(plan: Plan, paper: Paper = COMMON, period: Period | None = None) -> Composed:
    """Decide how many pages of labels there are: as many labels on each as the paper holds.

    A label says which batch stands there first in the weeks of the ``period``, and in which stage.
    """
    stages = _stages(plan, period)
    labels = [
        _Label(bed, raft, stages.get((bed.bed.name, raft.name), ()))
        for bed in plan.beds
        for raft in bed.rafts
    ]
    columns, rows = label_grid(paper)
    each = columns * rows
    total = max(1, ceil(len(labels) / each))

    def draw(number: int) -> Page:
        return _page(plan, labels[each * (number - 1) : each * number], paper, number, total)

    return Composed(total, draw)


def label_grid(paper: Paper) -> tuple[int, int]:
    """Return how many labels stand side by side, and how many above each other."""
    area = page_area(paper)
    return int(area.width // WIDTH_MM), int((area.height - _HEAD_MM) // HEIGHT_MM)


def _page(plan: Plan, labels: Sequence[_Label], paper: Paper, number: int, total: int) -> Page:
    area = page_area(paper)
    name = tr("Raft labels, page {number}", number=number)
    groups = [Group("head", tuple(_head(plan, labels, area, number, total)))]
    columns, _ = label_grid(paper)
    left = area.left + (area.width - columns * WIDTH_MM) / 2
    top = area.top - _HEAD_MM
    groups.append(Group("cuts", tuple(_cuts(len(labels), columns, left, top, area.bottom))))
    for place, label in enumerate(labels):
        row, column = divmod(place, columns)
        x, y = left + column * WIDTH_MM, top - row * HEIGHT_MM
        box = Box(x, y - HEIGHT_MM, x + WIDTH_MM, y).grown(-_MARGIN_MM)
        groups.append(Group("label", tuple(_label(plan, label, box))))
    return Page(
        paper.width_mm,
        paper.height_mm,
        name,
        (Picture(Drawing(tuple(groups))),),
        bookmark=tr("Raft labels") if number == 1 else "",
    )


def _head(
    plan: Plan, labels: Sequence[_Label], area: Box, number: int, total: int
) -> Iterator[Mark]:
    title = tr("Raft labels: {name}", name=clipped(plan.project.name))
    page = tr("page {number} of {total}", number=number, total=total)
    wide = area.width - text_width(page, 3.4) - 4
    yield line(
        area.left, area.top - 3.4, title, fitting_height(title, 4, wide, bold=True),
        style=Style.TITLE, room=wide,
    )  # fmt: skip
    yield line(area.right, area.top - 3.4, page, 3.4, anchor="right")
    advice = (
        tr(
            "Cut along the lines. Waterproof paper or clear tape outlasts a season. "
            "The arrow points to the datum corner."
        )
        if labels
        else tr("There are no rafts yet, so there are no labels.")
    )
    yield line(
        area.left, area.top - 7.4, advice, fitting_height(advice, 2.9, area.width), room=area.width
    )


def _cuts(count: int, columns: int, left: float, top: float, floor: float) -> Iterator[Mark]:
    """Draw the lines to cut along; they reach a little beyond the labels, never below ``floor``."""
    filled = [min(columns, count - first) for first in range(0, count, columns)]
    for row in range(len(filled) + 1 if filled else 0):
        wide = max(filled[max(0, row - 1) : row + 1])
        y, right = top - row * HEIGHT_MM, left + wide * WIDTH_MM
        yield stroke(Point(left - _BEYOND_MM, y), Point(right + _BEYOND_MM, y), Style.FRAME)
    for column in range(filled[0] + 1 if filled else 0):
        rows = sum(wide >= column for wide in filled)
        x, low = left + column * WIDTH_MM, top - rows * HEIGHT_MM
        yield stroke(Point(x, top), Point(x, max(floor, low - _BEYOND_MM)), Style.FRAME)


def _label(plan: Plan, label: _Label, box: Box) -> Iterator[Mark]:
    raft, design = label.raft, label.raft.design
    aside = box.width - _SKETCH[0] - 4
    wide = fitting_height(raft.name, _NAME_MM, aside, bold=True)
    yield line(box.left, box.top - _NAME_MM * 0.75, raft.name, wide, style=Style.TITLE, room=aside)
    bed = clipped(label.bed.bed.name)
    y = box.top - _NAME_MM * 0.75 - _BED_MM - 3.2
    yield line(
        box.left, y, bed, fitting_height(bed, _BED_MM, aside, bold=True), style=Style.TITLE,
        room=aside,
    )  # fmt: skip
    yield from _sketch(raft, Box(box.right - _SKETCH[0], box.top - _SKETCH[1], box.right, box.top))
    lies = tr("½ lies turned half round") if raft.turned else tr("lies as drawn")
    size = fitting_height(lies, 3.0, _SKETCH[0] + 6)
    yield line(box.right, box.top - _SKETCH[1] - 3.8, lies, size, anchor="right")
    holes = _holes_words(label.bed, design)
    told = [*label.stage, holes] if label.stage else wrapped(holes, _LINE_MM, box.width)[:2]
    texts = (*told, _design_words(plan, design, box.width))
    step = _CLOSE_STEP_MM if label.stage else _STEP_MM
    for number, text in enumerate(reversed(texts)):
        y = box.bottom + 1.2 + number * step
        yield line(box.left, y, text, fitting_height(text, _LINE_MM, box.width), room=box.width)


def _stages(plan: Plan, period: Period | None) -> dict[tuple[str, str], tuple[str, str]]:
    """Say for each raft, by bed and name, who stands there first; none where rafts are pushed."""
    weeks = plan_weeks(plan, period)
    found: dict[tuple[str, str], Stand] = {}
    for bed in weeks.beds:
        for each in bed.stands if not bed.lanes else ():
            if each.last < weeks.weeks[0].first or each.demand.first > weeks.weeks[-1].last:
                continue
            key = each.bed, each.raft
            if key not in found or each.demand.first < found[key].demand.first:
                found[key] = each
    return {key: _stage_words(weeks, each) for key, each in found.items()}


def _stage_words(weeks: Weeks, stand: Stand) -> tuple[str, str]:
    """Name run, batch and stage; then the first and the last day."""
    run = weeks.runs[stand.demand.run].run
    known = {"run": clipped(run.name), "stage": clipped(run.stages[stand.demand.stage].name)}
    days = tr("{first} to {last}", first=f"{stand.demand.first}", last=f"{stand.last}")
    if not stand.demand.batch:
        return tr("{run}, {stage}", **known), days
    return tr("{run}, batch {batch}, {stage}", batch=stand.demand.batch, **known), days


def _design_words(plan: Plan, design: RaftDesign, room: float) -> str:
    revision = plan.project.details.revision
    if not revision:
        return tr("raft design {name}", name=shortened_within(design.name, _LINE_MM, room * 0.7))
    return tr(
        "raft design {name}, revision {revision}",
        name=shortened_within(design.name, _LINE_MM, room * 0.45),
        revision=clipped(revision),
    )


def _holes_words(bed: BedPlan, design: RaftDesign) -> str:
    """Say what grows on the raft: the plants of each crop, and what is plugged for now."""
    holes = design.holes
    if not len(holes) or not bed.plantings:
        return tr("no holes")
    count = holes.count_by_planting(len(bed.plantings)).tolist()
    idle = holes.count_by_planting(len(bed.plantings), plugged=True).tolist()
    grown: dict[str, int] = {}
    for planting, drilled, plugged in zip(bed.plantings, count, idle, strict=True):
        grown[planting.crop] = grown.get(planting.crop, 0) + drilled - plugged
    told = [
        tr("{plants}, {crop}", plants=plural(plants, "plant"), crop=tr(crop))
        if crop
        else plural(plants, "plant")
        for crop, plants in grown.items()
        if plants
    ]
    if plugged := sum(idle):
        told.append(tr_n("{n} hole plugged", "{n} holes plugged", plugged))
    return "; ".join(told)


def _sketch(raft: PlacedRaft, room: Box) -> Iterator[Mark]:
    """Draw the raft as it lies in the bed, with an arrow to its datum corner."""
    shape = raft.design.shape
    length, width = float(shape.length), float(shape.width)
    inner = room.grown(-1.0)
    scale = min(inner.width / length, inner.height / width)
    left = (inner.left + inner.right - length * scale) / 2
    bottom = (inner.bottom + inner.top - width * scale) / 2
    at = Shift(left, bottom, scale)
    if raft.turned:
        at = half_turn(length * scale, width * scale, left, bottom)
        at = Shift(at.x, at.y, scale, quarters=2)
    yield Path(tuple(map(at.curve, shape.loop.curves)), Style.RAFT, closed=True)
    sign = -1 if raft.turned else 1
    datum = at.point(0, 0)
    reach = min(_CORNER_MM, length * scale / 2, width * scale / 2) * sign
    yield polyline(
        [Point(datum.x + reach, datum.y), datum, Point(datum.x, datum.y + reach)], Style.DATUM
    )
    yield from _arrow(at.point(length * 0.55, width * 0.55), datum)


def _arrow(start: Point, tip: Point) -> Iterator[Mark]:
    """Draw an arrow that ends a little before ``tip``."""
    away = hypot(start.x - tip.x, start.y - tip.y)
    x, y = (start.x - tip.x) / away, (start.y - tip.y) / away
    end = Point(tip.x + x * 2.0, tip.y + y * 2.0)
    yield stroke(start, end, Style.REFERENCE)
    barb = min(_BARB_MM, away / 3)
    for side in (1, -1):
        yield stroke(
            end,
            Point(end.x + barb * (x + side * y * 0.5), end.y + barb * (y - side * x * 0.5)),
            Style.REFERENCE,
        )
