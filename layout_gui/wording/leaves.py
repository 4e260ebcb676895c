"""How leaves close over the water, in words, and what had to be assumed for it."""

from collections.abc import Sequence
from typing import Final

from geometry.compare.courses import Assumption, Course
from geometry.compare.growing import Growing
from geometry.tongue import mark, number, tr

ASSUMED: Final[dict[Assumption, str]] = {
    "planted as the hole": mark(
        "plants come onto the water as wide as their hole (common practice, no source)"
    ),
    "middle width": mark("the middle of the published widths"),
    "middle days": mark("the middle of the published days"),
}


def percent(share: float) -> str:
    """Write a share as a percentage, rounded down so that 98 % is never said too early."""
    return tr("{n} %", n=number(int(share * 100 + 1e-9)))


def growing_sentences(found: Growing) -> Sequence[str]:
    """Say when leaves touch, when the water is as good as covered, and how much is at harvest."""
    said = []
    if found.nearest is not None:
        said.append(
            tr("Leaves touch on day {day}.", day=found.touch_day)
            if found.touch_day is not None
            else tr("Leaves do not touch up to day {day}.", day=found.last)
        )
    if found.respace_day is not None:
        said.append(
            tr(
                "On day {day} they cover 98 % of the water: the day to move plants apart, if you "
                "do (Petropoulou and others 2023).",
                day=found.respace_day,
            )
        )
    else:
        said.append(tr("They do not come to cover 98 % of the water."))
    if found.harvest_day is not None and found.at_harvest is not None:
        said.append(
            tr(
                "At harvest on day {day} they cover {share}.",
                day=found.harvest_day,
                share=percent(found.at_harvest),
            )
        )
    return said


def assumed_words(course: Course | None) -> str:
    """Say what the days of a crop's leaves rest on; empty where none are known."""
    if course is None:
        return ""
    if course.measured is not None:
        return tr("By the widths you measured.")
    law = tr(
        "Reckoned by the logistic law between the widths at planting and grown up; measure your "
        "own, and they count instead."
    )
    if not course.assumed:
        return law
    assumed = "; ".join(tr(ASSUMED[each]) for each in course.assumed)
    return tr("{law} Assumed: {assumptions}.", law=law, assumptions=assumed)
