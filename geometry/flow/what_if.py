"""What changes in a run if a batch fails, an order comes late, or plants are never moved apart."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from math import ceil

from geometry.flow.batches import Season, grow_batches, last_sowing
from geometry.flow.run_plan import DatedBatch, Rooms, RunPlan, plan_runs
from geometry.flow.stages import Stage
from geometry.model.run import Run


@dataclass(frozen=True, slots=True)
class Loss:
    """A batch that comes to nothing: what is missing, and what sowing again brings.

    Sown again on the day ``sown``, as many plants are ripe on the day ``ripe``; to be in time they
    would have been sown by the day of the batch itself. ``free`` says how many rafts stand empty
    from then on, of the stage that the batch is in.
    """

    batch: DatedBatch
    sown: date
    ripe: date
    free: int

    @property
    def late(self) -> int:
        """How many days later than planned there is something to pick."""
        return (self.ripe - self.batch.picked).days


@dataclass(frozen=True, slots=True)
class Order:
    """So many plants wanted on a day: by when to sow how many seeds for them."""

    plants: int
    day: date
    sow_by: date
    seeds: int


def loss_of(made: RunPlan, number: int, noticed: date) -> Loss | None:
    """Return what it means that a batch is found dead on a day; None where there is none then."""
    batch = next((each for each in made.batches if each.number == number), None)
    if batch is None or not batch.sown <= noticed < batch.leaves:
        return None
    at = max(n for n, first in enumerate(batch.begins) if first <= noticed)
    (again,) = grow_batches([noticed.toordinal()], _stages(made.run), 1, _seasons(made.run))
    return Loss(batch, noticed, date.fromordinal(again.picked), batch.rafts[at])


def sow_for(made: RunPlan, plants: int, day: date) -> Order:
    """Return by when, and how many, to sow for an order."""
    run = made.run
    share = Fraction(1)
    for stage in run.stages:
        share *= stage.survival
    sown = last_sowing(day.toordinal(), _stages(run), _seasons(run))
    return Order(plants, day, date.fromordinal(sown), ceil(plants / share))


def at_one_density(run: Run, rooms: Rooms) -> RunPlan | None:
    """Return the same run if its plants stood at the last spacing as long as they float.

    None where they float in one stage alone, or after one without rafts.
    """
    floating = [at for at, stage in enumerate(run.stages) if stage.bed]
    if len(floating) < 2 or floating != list(range(floating[0], floating[-1] + 1)):
        return None
    own = run.stages[floating[0] : floating[-1] + 1]
    share = Fraction(1)
    for stage in own:
        share *= stage.survival
    days = sum(stage.days for stage in own)
    whole = replace(own[-1], days=days, survival=share)
    stages = (*run.stages[: floating[0]], whole, *run.stages[floating[-1] + 1 :])
    made = plan_runs([run], rooms)[0]
    # As many come out of it, so that the two can be compared.
    target = run.target or made.heads
    if made.lack or not target:
        return None
    return plan_runs([replace(run, stages=stages, target=target)], rooms)[0]


def raft_places(made: RunPlan) -> int:
    """Return how many raft places all stages take together."""
    return sum(stage.places for stage in made.stages)


def _stages(run: Run) -> Sequence[Stage]:
    return [Stage(stage.name, stage.days) for stage in run.stages]


def _seasons(run: Run) -> Sequence[Season]:
    return [
        Season(slow.first.toordinal(), slow.last.toordinal(), slow.factor)
        for slow in run.slow_times
    ]
