"""What is to be done, in the grower's words, for the screen, for pages and for calendars."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from geometry.drawing.lettering import clipped, in_number_order, name_ranges
from geometry.flow.period import Week
from geometry.tongue import listed, mark, number, tr, tr_n
from geometry.weeks import Task, TaskKind, Where

WEEKDAYS: Final = (
    mark("Mon"), mark("Tue"), mark("Wed"), mark("Thu"), mark("Fri"), mark("Sat"), mark("Sun"),
)  # fmt: skip

KINDS: Final[dict[TaskKind, str]] = {
    "order seeds": mark("Order seeds"),
    "order plugs": mark("Order plugs"),
    "pick": mark("Pick"),
    "push": mark("Push along"),
    "re-space": mark("Re-space"),
    "wash": mark("Wash"),
    "thin": mark("Thin out"),
    "set": mark("Set"),
    "move": mark("Move on"),
    "sow": mark("Sow"),
}
"""A task in a word or two, to be translated."""


def weekday(day: date) -> str:
    """Return a day of the week, short."""
    return tr(WEEKDAYS[day.weekday()])


def day_words(day: date) -> str:
    """Write a day with its weekday, as ISO 8601 has it: Mon 2026-12-07."""
    return f"{weekday(day)} {day.isoformat()}"


def week_words(week: Week) -> str:
    """Name a week by its number and its days."""
    return tr(
        "Week {number}: {first} to {last}",
        number=week.number, first=day_words(week.first), last=day_words(week.last),
    )  # fmt: skip


def where_words(where: Sequence[Where]) -> str:
    """Say which rafts of which beds."""
    return "; ".join(
        f"{clipped(each.bed)} {', '.join(name_ranges(in_number_order(each.rafts)))}"
        for each in where
    )


def task_words(task: Task) -> str:
    """Say in one sentence what is to be done, without the day."""
    what = _what(task)
    if task.lack:
        what = tr_n(
            "{what}; {n} raft finds no place", "{what}; {n} rafts find no place", task.lack,
            n=number(task.lack, 0), what=what,
        )  # fmt: skip
    whose = _whose(task)
    return f"{whose}: {what}" if whose else what


def _whose(task: Task) -> str:
    if not task.run:
        return ""
    name = clipped(task.run)
    if task.kind in {"order seeds", "order plugs"}:
        return name
    return tr("{run}, batch {batch}", run=name, batch=task.batch)


def _what(task: Task) -> str:
    count = number(task.count, 0)
    of = number(task.of, 0)
    where, whence = where_words(task.where), where_words(task.whence)
    match task.kind:
        case "order seeds":
            return tr_n(
                "order {n} pack of {of} seeds", "order {n} packs of {of} seeds", task.count, of=of
            )
        case "order plugs":
            return tr_n(
                "order {n} pack of {of} plugs", "order {n} packs of {of} plugs", task.count, of=of
            )
        case "sow":
            sown = tr_n("sow {n} seed", "sow {n} seeds", task.count, n=count)
            return tr("{sown} on {where}", sown=sown, where=where) if where else sown
        case "thin":
            return tr("thin out, keep the best {count} of {of}", count=count, of=of)
        case "move":
            moved = {"count": count, "stage": clipped(task.stage)}
            if whence:
                return tr("move {count} plants from {whence} on to {stage}", whence=whence, **moved)
            return tr("move {count} plants on to {stage}", **moved)
        case "set" | "re-space":
            return _set(task, count, where, whence)
        case "pick":
            return _picked(task, count, whence)
        case "wash":
            return tr_n(
                "wash {n} raft from {where}", "wash {n} rafts from {where}", task.count,
                n=count, where=where,
            )  # fmt: skip
        case "push":
            return tr_n(
                "{bed}: push {n} raft along", "{bed}: push {n} rafts along", task.count,
                n=count, bed=listed(clipped(each.bed) for each in task.where),
            )  # fmt: skip


def _picked(task: Task, count: str, whence: str) -> str:
    known = {"count": count, "whence": whence}
    if task.until is not None:
        until = day_words(task.until)
        if whence:
            return tr("pick {count} plants from {whence}, by {until}", until=until, **known)
        return tr("pick {count} plants by {until}", count=count, until=until)
    if whence:
        return tr("pick {count} plants from {whence}", **known)
    return tr("pick {count} plants", count=count)


def _set(task: Task, count: str, where: str, whence: str) -> str:
    known = {"count": count, "stage": clipped(task.stage)}
    if not where:
        return tr("set {count} plants on rafts, {stage}", **known)
    if whence:
        return tr(
            "re-space {count} plants from {whence} to {where}, {stage}",
            whence=whence, where=where, **known,
        )  # fmt: skip
    return tr("set {count} plants on {where}, {stage}", where=where, **known)
