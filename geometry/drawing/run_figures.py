"""What a run takes and gives, in sentences for paper and commands."""

from collections.abc import Iterator
from typing import Final

from geometry.drawing.task_words import day_words
from geometry.flow.run_plan import Lack, RunPlan
from geometry.tongue import mark, number, plural, tr, tr_n

_LACKS: Final[dict[Lack, str]] = {
    "stages": mark("It has no stage yet."),
    "sites": mark("Nobody knows how many plants its rafts hold: plant the bed, or type a number."),
    "target": mark("Say how many you want, or in which bed they float."),
    "room": mark("There is not even room for one raft of each batch."),
}


def lack_words(made: RunPlan) -> str:
    """Say why a run cannot be reckoned, or why it has a first day and no batch; empty otherwise."""
    if made.lack:
        return tr(_LACKS[made.lack])
    if made.run.first is not None and made.first_harvest is None:
        return tr("No batch is sown and ripe in time: look at its pauses and its last day.")
    return ""


def run_lines(made: RunPlan) -> Iterator[str]:
    """Say what a run takes and gives: its rhythm, a batch, the first harvest, what is short."""
    run = made.run
    if run.first is None:
        yield tr("It does not say on which day it is first sown.")
        return
    if made.lack or not made.batches:
        yield lack_words(made)
        return
    yield tr_n(
        "A batch every day, the first on {first}.",
        "A batch every {n} days, the first on {first}.",
        run.every, first=day_words(run.first),
    )  # fmt: skip
    yield tr(
        "Each batch: {seeds}, about {heads} to pick after {days}; that is {per_week} a week.",
        seeds=plural(made.seeds, "seed", shown=number(made.seeds, 0)),
        heads=plural(made.heads, "plant", shown=number(made.heads, 0)),
        days=plural(made.days, "day"),
        per_week=number(float(made.per_week), 1),
    )
    if made.first_harvest is not None:
        yield tr("The first harvest is on {day}.", day=day_words(made.first_harvest))
    if made.short > 0 and run.target is not None:
        yield tr(
            "{target} are wanted: {short} short.",
            target=number(run.target, 0), short=number(float(made.short), 1),
        )  # fmt: skip
