"""What a run takes and gives, in sentences for paper and commands."""

from collections.abc import Iterator

from geometry.drawing.task_words import day_words
from geometry.flow.run_plan import RunPlan
from geometry.tongue import number, plural, tr, tr_n


def run_lines(made: RunPlan) -> Iterator[str]:
    """Say what a run takes and gives: its rhythm, a batch, the first harvest, what is short."""
    run = made.run
    if run.first is None:
        yield tr("It does not say on which day it is first sown.")
        return
    if made.lack or not made.batches:
        yield tr("It cannot be reckoned yet; Grow says why.")
        return
    yield tr_n(
        "A batch every day, the first on {first}.",
        "A batch every {n} days, the first on {first}.",
        run.every, first=day_words(run.first),
    )  # fmt: skip
    yield tr(
        "Each batch: {seeds}, about {heads} to pick after {days}; that is {per_week} a week.",
        seeds=plural(made.seeds, "seed", shown=number(made.seeds, grouped=True)),
        heads=plural(made.heads, "plant", shown=number(made.heads, grouped=True)),
        days=plural(made.days, "day"),
        per_week=number(float(made.per_week), 1, grouped=True),
    )
    if made.first_harvest is not None:
        yield tr("The first harvest is on {day}.", day=day_words(made.first_harvest))
    if made.short > 0 and run.target is not None:
        yield tr(
            "{target} are wanted: {short} short.",
            target=number(run.target, grouped=True), short=number(float(made.short), 1),
        )  # fmt: skip
