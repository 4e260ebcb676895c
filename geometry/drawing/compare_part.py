"""The part of the cut sheet that compares: other choices, thresholds, and the curve of steps.

Only what is soon counted stands here, decided by the plan alone and never by a clock, so that the
same plan always gives the same pages.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from geometry.compare.choices import ChoiceResult, applied, choices_for, judge
from geometry.compare.counting import BedCounter, Counted, Knob
from geometry.compare.steps import Step, growing_curve
from geometry.compare.thresholds import Threshold, coarse_step, find_threshold, knobs_of
from geometry.drawing.dimensions import Ruler, dimension_room, running_dimensions
from geometry.drawing.figures import UNIT_WORDS, figure
from geometry.drawing.flow import Column, Part, Row, gap, heading, row_width, table, together, words
from geometry.drawing.lettering import clipped, line
from geometry.drawing.marks import Mark, polyline, stroke
from geometry.drawing.overview import better_ways
from geometry.drawing.paper import Paper
from geometry.drawing.pattern_names import pattern_name, rows_name
from geometry.drawing.styles import Style
from geometry.drawing.text_width import text_width
from geometry.drawing.transforms import Shift
from geometry.model.curves import Point
from geometry.model.planting import Planting
from geometry.model.project import Choice
from geometry.plan import BedPlan, Plan
from geometry.tongue import mark, plural, tr
from geometry.units import Length, Unit, exact_text, format_density

_MOST_RAFTS: Final = 400
_MOST_PLANTS: Final = 20_000
"""Beds larger than that are not counted again for paper."""
_KEPT: Final = 12
_KEPT_ON_ODD: Final = 2
"""So many kept choices are counted; on rafts of odd shape a count takes as long as the plan."""
_CURVE_COUNTS: Final = 200
_NARROWEST: Final = 7
_WIDEST: Final = 14
"""The curve runs from seven tenths to fourteen tenths of the present spacing."""

_KNOB_WORDS: Final[dict[Knob, str]] = {
    "spacing": mark("spacing"),
    "edge_margin": mark("edge margin"),
    "clearance": mark("clearance"),
    "joint_gap": mark("joint gap"),
}
_HEAD_MM: Final = 10.0
_CURVE_MM: Final = 42.0
_COUNT_MM: Final = 2.6
_LEFT_MM: Final = 14.0


def compare_part(plan: Plan, paper: Paper) -> Part | None:
    """Compose the part that compares; None where nothing is soon compared."""
    room = row_width(paper)
    rows: list[Row] = []
    for bed in plan.beds:
        if bed.bed.planting is None or not bed.rafts:
            continue
        if own := tuple(_bed_rows(plan, bed, bed.bed.planting, room)):
            rows += [*([gap(4)] if rows else []), *own]
    if not rows:
        return None
    return Part(
        tr("What if"),
        tr(
            "{name}: other choices, and where plants are won or lost",
            name=clipped(plan.project.name),
        ),
        tuple(rows),
        bookmark=tr("What if"),
    )


def _bed_rows(plan: Plan, bed: BedPlan, planting: Planting, room: float) -> Iterator[Row]:
    unit = plan.project.units
    counter = BedCounter(bed.bed, planting)
    quick = counter.is_quick and len(bed.rafts) <= _MOST_RAFTS and bed.plants <= _MOST_PLANTS
    choices = _choice_cells(plan, bed, planting, quick=quick)
    if len(choices) < 2 and not quick:
        return
    yield heading(tr("{name}: choices side by side", name=clipped(bed.bed.name)), room)
    if planting.pins or planting.blanks:
        yield words(tr("Counted without the holes placed or left out by hand."), room, height=2.8)
    yield from _choice_table(choices, unit)
    left_out = len(_chosen(plan, bed, planting)[0]) - _most_kept(quick=quick)
    if left_out > 0:
        yield words(
            tr("{left_out} not counted here.", left_out=plural(left_out, "more kept choice")),
            room,
            height=2.8,
        )
    if not quick:
        yield words(
            tr(
                "Other spacings, thresholds and the curve take longer to count for this bed than "
                "printing should: look under What if in the program."
            ),
            room,
            height=2.8,
        )
        return
    yield gap(2)
    yield heading(tr("How far each length may go"))
    found = [deque(find_threshold(counter, knob, unit), maxlen=1)[0] for knob in knobs_of(counter)]
    yield from together(threshold_table(found, unit))
    yield gap(2)
    spacing = counter.now("spacing")
    steps: tuple[Step, ...] = deque(
        growing_curve(
            lambda value: counter.at("spacing", value),
            narrowest=spacing * _NARROWEST / 10,
            widest=spacing * _WIDEST / 10,
            step=coarse_step(unit),
            most=_CURVE_COUNTS,
        ),
        maxlen=1,
    )[0]
    yield curve_row(steps, float(spacing), unit, room, coarse_step(unit))


def _choice_table(cells: Sequence[Sequence[str]], unit: Unit) -> tuple[Row, ...]:
    return table(
        (
            Column(tr("choice"), 44),
            Column(tr("rows"), 36),
            Column(tr("spacing ({unit})", unit=unit), 30, "right"),
            Column(tr("edge"), 18, "right"),
            Column(tr("plants"), 18, "right"),
            Column("", 15, "right"),
            Column(tr("density"), 29, "right"),
        ),
        cells,
    )


def _choice_cells(
    plan: Plan, bed: BedPlan, planting: Planting, *, quick: bool
) -> list[tuple[str, ...]]:
    """What each choice gives, the bed as it stands first.

    Where counting is slow, the other patterns that the plan has tried anyway stand for more.
    """
    unit = plan.project.units
    now = _as_it_stands(bed, planting)
    cells = [_cells(tr("as it stands"), planting, now, now.plants, bed, unit)]
    kept, offered = _chosen(plan, bed, planting)
    for choice in [*kept[: _most_kept(quick=quick)], *(offered if quick else ())]:
        rules = applied(planting, choice)
        if choice.count is not None or choice.density is not None:
            judged = judge(plan.project, bed.bed, choice)
            rules, counted = judged.planting, _judged(judged)
        else:
            counted = _counted(bed, rules)
        name = choice.name or _change(planting, rules, unit)
        cells.append(_cells(name, rules, counted, now.plants, bed, unit))
    if not quick and not bed.bed.zones:
        for tried in better_ways(bed)[1:]:
            counted = Counted(tried.plants, tried.pattern, tried.direction)
            name = _pattern_words(tried.pattern)
            cells.append(_cells(name, planting, counted, now.plants, bed, unit))
    return cells


def _cells(
    name: str, rules: Planting, counted: Counted, now: int, bed: BedPlan, unit: Unit
) -> tuple[str, ...]:
    return (
        name,
        rows_name(counted.pattern, counted.direction),
        figure(rules.spacing.exact, unit),
        figure(rules.edge_margin.exact, unit),
        f"{counted.plants}",
        f"{counted.plants - now:+d}" if counted.plants != now else "",
        format_density(counted.plants / (bed.area_mm2 / 1e6), unit),
    )


def _as_it_stands(bed: BedPlan, planting: Planting) -> Counted:
    """What the plan has counted already."""
    if bed.steps is None or not bed.tried:
        return _counted(bed, planting)
    plants = sum(map(len, bed.steps.pattern.sites))
    return Counted(plants, bed.tried[0].pattern, bed.tried[0].direction)


def _counted(bed: BedPlan, planting: Planting) -> Counted:
    return BedCounter(bed.bed, planting).counted("spacing", planting.spacing.exact)


def _judged(result: ChoiceResult) -> Counted:
    return Counted(result.plants, result.pattern, result.direction)


def _chosen(
    plan: Plan, bed: BedPlan, planting: Planting
) -> tuple[Sequence[Choice], Sequence[Choice]]:
    """The choices worth counting: kept ones, and offered ones that change one thing."""
    _, *choices = choices_for(plan.project, bed.bed)
    kept = [choice for choice in choices if choice.name]
    offered = [
        choice
        for choice in choices
        if not choice.name and _changes(planting, applied(planting, choice)) == 1
    ]
    return kept, offered


def _most_kept(*, quick: bool) -> int:
    return _KEPT if quick else _KEPT_ON_ODD


def _changes(planting: Planting, other: Planting) -> int:
    return sum(
        getattr(planting, name) != getattr(other, name)
        for name in ("pattern", "spacing", "edge_margin")
    )


def _change(planting: Planting, other: Planting, unit: Unit) -> str:
    """Name the one thing that an offered choice changes."""
    if other.pattern != planting.pattern:
        return _pattern_words(other.pattern)
    if other.spacing != planting.spacing:
        return tr("spacing {spacing}", spacing=exact_text(other.spacing, unit))
    return tr("edge margin {margin}", margin=exact_text(other.edge_margin, unit))


def _pattern_words(pattern: str) -> str:
    special = {
        "best": mark("best of all patterns"),
        "rings": mark("rings"),
        "rows": mark("rows one by one"),
    }
    if pattern in special:
        return tr(special[pattern])
    return tr("{pattern} rows", pattern=pattern_name(pattern))


def threshold_table(found: Sequence[Threshold], unit: Unit) -> tuple[Row, ...]:
    """Make a table of how far each length may go with the same plants."""
    plants = found[0].plants if found else 0
    return table(
        (
            Column(tr("length"), 36),
            Column(tr("now"), 32, "right"),
            Column(tr("the same {plants} up to", plants=plants), 44, "right"),
            Column(tr("more at"), 36, "right"),
            Column(tr("gain"), 20, "right"),
        ),
        [_threshold_cells(threshold, unit) for threshold in found],
    )


def _threshold_cells(threshold: Threshold, unit: Unit) -> tuple[str, ...]:
    def text(value: Fraction | None) -> str:
        return "" if value is None else exact_text(Length(value), unit)

    gain = threshold.more_plants - threshold.plants
    return (
        tr(_KNOB_WORDS[threshold.knob]),
        text(threshold.now),
        text(threshold.same_up_to) or tr("no end found"),
        text(threshold.more_at) or tr("none found"),
        "" if threshold.more_at is None else f"{gain:+d}",
    )


def curve_row(steps: Sequence[Step], now: float, unit: Unit, room: float, step: Fraction) -> Row:
    """Draw how the count falls as the spacing grows, each step's end with its figure.

    The steps were counted to whole multiples of ``step`` (mm).
    """
    *ends, high = [float(step.spacing) for step in steps]
    low = now * _NARROWEST / 10
    most = max(step.count for step in steps) or 1
    scale = (room - _LEFT_MM - 4) / (high - low)
    below = dimension_room(ends, unit) + 5
    words_below = tr(
        "Spacing in {unit}. Each figure is the widest that still holds the "
        "plants to its left, on whole steps of {step}",
        unit=tr(UNIT_WORDS[unit]),
        step=exact_text(Length(step), unit),
    )

    def draw(left: float, top: float) -> Iterator[Mark]:
        floor = top - _HEAD_MM - _CURVE_MM
        yield line(left, top - 4.4, tr("Plants by spacing"), 3.2, style=Style.TITLE)
        at = Shift(left + _LEFT_MM - low * scale, floor, 1)
        yield from _curve_marks(steps, at, low, scale, _CURVE_MM / most)
        x = at.x + now * scale
        yield stroke(Point(x, floor), Point(x, floor + _CURVE_MM + 4), Style.HINT)
        yield line(x + 1, floor + _CURVE_MM + 2, tr("now"), _COUNT_MM)
        yield stroke(
            Point(left + _LEFT_MM, floor), Point(left + _LEFT_MM, floor + _CURVE_MM), Style.FRAME
        )
        yield stroke(Point(left + _LEFT_MM, floor), Point(at.x + high * scale, floor), Style.FRAME)
        ruler = Ruler(at.x, floor, scale, upright=False)
        yield from running_dimensions(ends, ruler, unit)[0]
        yield line(left, top - _HEAD_MM - _CURVE_MM - below + 1.2, words_below, 2.8)

    return Row(_HEAD_MM + _CURVE_MM + below, draw)


def _curve_marks(
    steps: Sequence[Step], at: Shift, low: float, scale: float, tall: float
) -> Iterator[Mark]:
    points: list[Point] = []
    start = low
    for step in steps:
        y = at.y + step.count * tall
        x0, x1 = at.x + start * scale, at.x + float(step.spacing) * scale
        points += [Point(x0, y), Point(x1, y)]
        text = f"{step.count}"
        if x1 - x0 >= text_width(text, _COUNT_MM) + 1:
            yield line((x0 + x1) / 2, y + 0.8, text, _COUNT_MM, anchor="middle")
        start = float(step.spacing)
    yield polyline(points, Style.CUT)
