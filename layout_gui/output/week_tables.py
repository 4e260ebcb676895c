"""The weeks of a plan as tables for other programs: what is to be done, and who stands where."""

import csv
from collections.abc import Sequence
from typing import Final, TextIO

from geometry.drawing.lettering import in_number_order
from geometry.drawing.task_words import task_words
from geometry.flow.period import Week
from geometry.flow.room import Stand
from geometry.weeks import BedWeeks, PlaceInWeek, Task, Weeks, Where
from layout_gui.output.tables import plain

TASKS_HEADER: Final = (
    "day",
    "week",
    "task",
    "run",
    "batch",
    "stage",
    "count",
    "of",
    "rafts",
    "from_rafts",
    "until",
    "rafts_without_place",
)
"""The columns of ``tasks.csv``, in order."""

WEEKS_HEADER: Final = (
    "week",
    "monday",
    "bed",
    "place",
    "run",
    "batch",
    "stage",
    "plants",
    "comes",
    "goes",
)
"""The columns of ``weeks.csv``, in order."""


def write_tasks(weeks: Weeks, stream: TextIO) -> None:
    """Write one row for each task.

    Days and weeks as ISO 8601 has them. ``count`` is seeds, plants, packs or rafts, as the task
    has it, ``of`` the plants there were before or the pieces in a pack. ``rafts`` and
    ``from_rafts`` are places by bed, "North: R1 R2; South: R3". What does not apply is empty.
    """
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(TASKS_HEADER)
    table.writerows(_task(task) for task in weeks.tasks)


def _task(task: Task) -> tuple[object, ...]:
    return (
        task.day.isoformat(),
        Week.of(task.day).iso,
        task.kind,
        plain(task.run),
        task.batch or "",
        plain(task.stage),
        task.count,
        task.of or "",
        plain(_where(task.where)),
        plain(_where(task.whence)),
        task.until.isoformat() if task.until else "",
        task.lack or "",
    )


def _where(where: Sequence[Where]) -> str:
    return "; ".join(f"{each.bed}: {' '.join(in_number_order(each.rafts))}" for each in where)


def weeks_node(weeks: Weeks) -> dict[str, object]:
    """Return the tasks week by week as plain values for JSON; names stand as they are."""
    return {
        "weeks": [
            {
                "week": week.iso,
                "monday": week.first.isoformat(),
                "tasks": [_task_node(task) for task in weeks.tasks_in(week)],
            }
            for week in weeks.weeks
        ],
        "rafts_without_place": sum(count for _, count in weeks.left_out),
    }


def _task_node(task: Task) -> dict[str, object]:
    return {
        "day": task.day.isoformat(),
        "task": task.kind,
        "text": task_words(task),
        "run": task.run or None,
        "batch": task.batch or None,
        "stage": task.stage or None,
        "count": task.count,
        "of": task.of or None,
        "rafts": [{"bed": each.bed, "rafts": list(each.rafts)} for each in task.where],
        "from_rafts": [{"bed": each.bed, "rafts": list(each.rafts)} for each in task.whence],
        "until": task.until.isoformat() if task.until else None,
        "rafts_without_place": task.lack,
    }


def write_weeks(weeks: Weeks, stream: TextIO) -> None:
    """Write one row for each raft that stands in a place in a week.

    ``comes`` and ``goes`` are the days of that week on which it is set there and is gone again.
    Rafts that batches share have no batch and no count of plants. Names are guarded as in
    ``holes.csv``.
    """
    table = csv.writer(stream, lineterminator="\n")
    table.writerow(WEEKS_HEADER)
    for week in weeks.weeks:
        for bed in weeks.beds:
            for place in bed.in_week(week):
                table.writerows(_place(weeks, week, bed, place))


def _place(weeks: Weeks, week: Week, bed: BedWeeks, place: PlaceInWeek) -> list[tuple[object, ...]]:
    return [
        (week.iso, week.first.isoformat(), plain(bed.name), plain(place.place), *_raft(weeks, who),
         comes, goes)
        for who, comes, goes in (
            (place.gone, "", place.goes.isoformat() if place.goes else ""),
            (place.now, place.comes.isoformat() if place.comes else "", ""),
        )
        if who is not None
    ]  # fmt: skip


def _raft(weeks: Weeks, who: Stand) -> tuple[object, ...]:
    demand, made = who.demand, weeks.runs[who.demand.run]
    stage = made.run.stages[demand.stage].name
    return (
        plain(made.run.name),
        demand.batch or "",
        plain(stage),
        who.plants if demand.batch else "",
    )
