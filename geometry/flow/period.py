"""Weeks of the calendar. They begin on a Monday and bear the numbers of ISO 8601."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from geometry.errors import GeometryError
from geometry.tongue import tr

USUAL_WEEKS: Final = 12
MOST_WEEKS: Final = 520

FIRST_DAY: Final = date(1900, 1, 1)
LAST_DAY: Final = date(2999, 12, 31)
"""Days before and after are slips; the calendar itself ends in 9999, and runs go on from a day."""


def day_fault(day: date) -> tuple[str, str] | None:
    """Say what is wrong with a day and what to write instead; None when it is within bounds."""
    if FIRST_DAY <= day <= LAST_DAY:
        return None
    return (
        tr("must be from {first} to {last}", first=FIRST_DAY, last=LAST_DAY),
        tr("write the year with four digits"),
    )


@dataclass(frozen=True, slots=True, order=True)
class Week:
    """Seven days from a Monday."""

    first: date

    @classmethod
    def of(cls, day: date) -> "Week":
        """Return the week of a day."""
        return cls(day - timedelta(days=day.weekday()))

    @property
    def last(self) -> date:
        """Its Sunday."""
        return self.first + timedelta(days=6)

    @property
    def number(self) -> int:
        """Its number by ISO 8601: week 1 has the year's first Thursday."""
        return self.first.isocalendar().week

    @property
    def iso(self) -> str:
        """Its name by ISO 8601: 2026-W53."""
        year, week, _ = self.first.isocalendar()
        return f"{year}-W{week:02d}"

    @property
    def days(self) -> tuple[date, ...]:
        """Its days."""
        return tuple(self.first + timedelta(days=n) for n in range(7))

    def after(self, weeks: int) -> "Week":
        """Return the week so many weeks later."""
        return Week(self.first + timedelta(weeks=weeks))


@dataclass(frozen=True, slots=True)
class Period:
    """The weeks that are told: ``count`` of them, from that of the day ``first`` on.

    None is the week with the first task of all.

    Raises:
        GeometryError: It has no week, or more than ten years of them.
    """

    first: date | None = None
    count: int = USUAL_WEEKS

    def __post_init__(self) -> None:
        if not 1 <= self.count <= MOST_WEEKS:
            raise GeometryError(tr("Give 1 to {most} weeks.", most=MOST_WEEKS))
