"""The tasks of a plan as a calendar file (RFC 5545) that calendars of all kinds take in."""

from collections import Counter
from datetime import UTC, datetime, time, timedelta
from hashlib import sha256
from typing import Final

from icalendar import Calendar, Event

from geometry.drawing.task_words import KINDS, task_words
from geometry.tongue import tr
from geometry.weeks import Task, Weeks

_MAKER: Final = "-//Raftwright//Weeks//EN"


def calendar_bytes(weeks: Weeks, name: str) -> bytes:
    """Write each task as an event of a whole day, or of the days it goes on for.

    Its UID names the task and not its day, so that a calendar that is taken in again moves what
    has moved. No clock is asked: DTSTAMP is the first day of the task, and the same plan gives the
    same bytes. Events do not mark the day as taken.
    """
    calendar = Calendar()
    calendar.add("prodid", _MAKER)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", name)
    seen: Counter[str] = Counter()
    for task in weeks.tasks:
        calendar.add_component(_event(task, _uid(task, name, seen)))
    return bytes(calendar.to_ical())


def _event(task: Task, uid: str) -> Event:
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", datetime.combine(task.day, time(), UTC))
    event.add("dtstart", task.day)
    event.add("dtend", (task.until or task.day) + timedelta(days=1))
    event.add("summary", task_words(task))
    event.add("categories", [tr(KINDS[task.kind])])
    event.add("transp", "TRANSPARENT")
    return event


def _uid(task: Task, name: str, seen: Counter[str]) -> str:
    push = [each.bed for each in task.where] if task.kind == "push" else []
    push += [task.day.isoformat()] if push else []
    key = "\n".join((name, task.run, str(task.batch), task.kind, task.stage, *push))
    seen[key] += 1
    name_of_task = sha256(f"{key}\n{seen[key]}".encode()).hexdigest()[:32]
    return f"{name_of_task}@raftwright"
