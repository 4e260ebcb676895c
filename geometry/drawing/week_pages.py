"""The weeks on paper: the rhythm in figures, then week by week a small map and boxes to tick."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from geometry.drawing.cut_sheet import CutSheetDocument
from geometry.drawing.flow import (
    Column,
    Part,
    Row,
    gap,
    heading,
    page_area,
    paginate,
    row_width,
    table,
    words,
)
from geometry.drawing.lettering import LEADING, clipped, line, wrapped
from geometry.drawing.marks import Box, Mark, frame
from geometry.drawing.paper import COMMON, Paper
from geometry.drawing.run_figures import run_lines
from geometry.drawing.styles import Style
from geometry.drawing.task_words import day_words, task_words, week_words
from geometry.drawing.week_map import (
    MapSize,
    StageKey,
    bed_words,
    draw_bed,
    draw_key,
    key_rows,
    map_size,
    stage_keys,
)
from geometry.flow.period import Period, Week
from geometry.flow.run_plan import RunPlan
from geometry.model.curves import Point
from geometry.plan import Plan
from geometry.tongue import listed, number, tr, tr_n
from geometry.weeks import ORDER_DAYS, BedWeeks, Task, Weeks, plan_weeks

_TEXT_MM: Final = 3.4
_DAY_MM: Final = 35.0
_BOX_MM: Final = 4.0
_MAP_MM: Final = 18.0
_BED_MM: Final = 2.8
_MOST_BEDS: Final = 6
"""More beds than these are not drawn in each week; their rafts stand in the list of tasks."""


def lay_weeks(plan: Plan, paper: Paper = COMMON, period: Period | None = None) -> CutSheetDocument:
    """Decide what is on which page."""
    weeks = plan_weeks(plan, period)
    width = row_width(paper)
    parts = [
        Part(
            tr("The weeks"),
            tr("{name}: what is sown, how much of it, and when", name=clipped(plan.project.name)),
            tuple(_rhythm(plan, weeks, width)),
            bookmark=tr("The weeks"),
        )
    ]
    if weeks.weeks:
        parts.append(
            Part(
                tr("Week by week"),
                tr("{name}: tick what is done", name=clipped(plan.project.name)),
                tuple(_by_week(weeks, width, page_area(paper).height)),
                bookmark=tr("Week by week"),
            )
        )
    return CutSheetDocument(paper, tuple((part, paginate(part, paper)) for part in parts))


def _rhythm(plan: Plan, weeks: Weeks, width: float) -> Iterator[Row]:
    if not weeks.weeks:
        yield words(_why_none(plan), width, height=_TEXT_MM)
        return
    keys = stage_keys(weeks)
    for run, made in enumerate(weeks.runs):
        yield heading(clipped(made.run.name), width)
        for text in run_lines(made):
            yield words(text, width, height=_TEXT_MM)
        yield gap(1)
        yield from _stage_table(run, made, keys, width)
        yield gap()
    if weeks.beds:
        yield heading(tr("Places in the beds"), width)
        yield from _bed_table(weeks, width)
        yield gap()
    for text in _lacking(weeks):
        yield words(text, width, height=_TEXT_MM)
    for text in _notes(weeks):
        yield words(text, width, height=_TEXT_MM)


def _why_none(plan: Plan) -> str:
    if plan.project.runs:
        return tr("No run says on which day it is first sown; type that under Grow.")
    return tr("Nothing is sown yet; say under Grow what is sown, and when.")


def _stage_table(
    run: int, made: RunPlan, keys: Mapping[tuple[int, int], StageKey], width: float
) -> tuple[Row, ...]:
    columns = (
        Column("", 9),
        Column(tr("stage"), 32),
        Column(tr("days"), 14, "right"),
        Column(tr("go on"), 18, "right"),
        Column(tr("plants"), 18, "right"),
        Column(tr("on a raft"), 21, "right"),
        Column(tr("rafts"), 15, "right"),
        Column(tr("places"), 18, "right"),
        Column(tr("beds"), width - 145, keeps_end=True),
    )
    cells = [
        (
            keys[run, at].letter if (run, at) in keys else "",
            clipped(stage.stage.name),
            str(stage.stage.days),
            f"{number(float(stage.stage.survival * 100))} %",
            number(stage.plants, 0),
            str(stage.sites or ""),
            number(stage.rafts, 0) if stage.sites else "",
            number(stage.places, 0) if stage.sites else "",
            ", ".join(map(clipped, stage.beds)),
        )
        for at, stage in enumerate(made.stages)
    ]
    return table(columns, cells)


def _bed_table(weeks: Weeks, width: float) -> tuple[Row, ...]:
    columns = (
        Column(tr("bed"), width - 124),
        Column(tr("rafts"), 22, "right"),
        Column(tr("most taken in these weeks"), 51, "right"),
        Column(tr("always free"), 51, "right"),
    )
    days = [day for week in weeks.weeks for day in week.days]
    cells = []
    for bed in weeks.beds:
        most = max(bed.taken(days))
        there = len(bed.places)
        cells.append((clipped(bed.name), *(number(n) for n in (there, most, there - most))))
    return table(columns, cells)


def _lacking(weeks: Weeks) -> Iterator[str]:
    lacking: Counter[int] = Counter()
    for demand, count in weeks.left_out:
        lacking[demand.run] += count
    for run, count in lacking.items():
        yield tr_n(
            "{run}: {n} raft finds no place in these weeks.",
            "{run}: {n} rafts find no place in these weeks.",
            count, run=clipped(weeks.runs[run].run.name), n=number(count, 0),
        )  # fmt: skip


def _notes(weeks: Weeks) -> Iterator[str]:
    yield tr(
        "What is expected is reckoned from the shares that go on; write down what comes, and "
        "reckon with that."
    )
    yield tr("Weeks begin on Monday and bear the numbers of ISO 8601.")
    if any(task.kind in {"order seeds", "order plugs"} for task in weeks.tasks):
        yield tr(
            "Seeds and plugs are ordered {days} days ahead: common practice, no source.",
            days=ORDER_DAYS,
        )
    if pushed := [clipped(bed.name) for bed in weeks.beds if bed.lanes]:
        yield tr(
            "Rafts are pushed along in {beds}: R1 and the like name places there, not boards. "
            "Plants come from the places of the evening before and go to those after the push.",
            beds=listed(pushed),
        )


def _by_week(weeks: Weeks, width: float, high: float) -> Iterator[Row]:
    keys = stage_keys(weeks)
    legend = _legend(tuple(keys.values()), width)
    for week in weeks.weeks:
        tasks = weeks.tasks_in(week)
        rows = [replace(heading(week_words(week), width), keeps=True)]
        rows += _maps(weeks, week, keys, width)
        own = [_task_row(task, tasks[n - 1] if n else None, width) for n, task in enumerate(tasks)]
        if not own:
            own = [words(tr("Nothing is to be done."), width, height=_TEXT_MM)]
        head = len(rows)
        rows += own
        # As much of a week as possible stays together, and always its map with its first tasks.
        tied, room = 0.0, high * 0.6
        for at, row in enumerate(rows[:-1]):
            tied += row.height
            if at < head or tied < room:
                rows[at] = replace(row, keeps=True)
        rows[-1] = replace(rows[-1], keeps=True)
        rows[0] = replace(rows[0], header=legend)
        yield from rows
        yield gap(4)


def _legend(keys: Sequence[StageKey], width: float) -> Row:
    rows = key_rows(keys, width, _TEXT_MM)

    def draw(left: float, top: float) -> Iterator[Mark]:
        for at, row in enumerate(rows):
            for key, aside in row:
                place = Point(left + aside, top - 1.0 - at * 7.0)
                yield from draw_key(key, place)
                yield line(place.x + 11.0, place.y - 3.7, key.words, _TEXT_MM)

    return Row(len(rows) * 7.0 + 2.0, draw)


def _maps(
    weeks: Weeks, week: Week, keys: Mapping[tuple[int, int], StageKey], width: float
) -> list[Row]:
    """Draw the beds, several beside each other where they are small."""
    shelves: list[list[tuple[BedWeeks, MapSize, float]]] = [[]]
    at = 0.0
    busy = [bed for bed in weeks.beds if bed.is_used(week)]
    for bed in busy[:_MOST_BEDS]:
        size = map_size(bed, (width, _MAP_MM))
        if at + size.width > width + 1e-6 and shelves[-1]:
            shelves.append([])
            at = 0.0
        shelves[-1].append((bed, size, at))
        at += size.width + 6.0
    return [_shelf(shelf, week, keys) for shelf in shelves if shelf]


def _shelf(
    shelf: Sequence[tuple[BedWeeks, MapSize, float]],
    week: Week,
    keys: Mapping[tuple[int, int], StageKey],
) -> Row:
    def draw(left: float, top: float) -> Iterator[Mark]:
        for bed, size, aside in shelf:
            yield line(
                left + aside, top - _BED_MM, bed_words(bed), _BED_MM,
                room=max(size.width, 20.0),
            )  # fmt: skip
            yield from draw_bed(bed, week, keys, Point(left + aside, top - _BED_MM * 1.5), size)

    return Row(max(size.height for _, size, _ in shelf) + _BED_MM * 1.5 + 2.5, draw)


def _task_row(task: Task, before: Task | None, width: float) -> Row:
    texts = wrapped(task_words(task), _TEXT_MM, width - _DAY_MM - _BOX_MM - 3)
    is_first = before is None or before.day != task.day
    height = max(len(texts) * _TEXT_MM * LEADING, _BOX_MM) + 1.6

    def draw(left: float, top: float) -> Iterator[Mark]:
        y = top - _TEXT_MM - 0.5
        if is_first:
            yield line(left, y, day_words(task.day), _TEXT_MM, style=Style.TITLE)
        box = left + _DAY_MM
        yield frame(Box(box, y - 0.6, box + _BOX_MM, y - 0.6 + _BOX_MM), Style.FRAME)
        for at, text in enumerate(texts):
            yield line(box + _BOX_MM + 3, y - at * _TEXT_MM * LEADING, text, _TEXT_MM)

    return Row(height, draw)
