"""The runs of a project on the rafts of its plan."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction

from geometry.flow import run_plan
from geometry.flow.room import Room, Standing, Taken, stand, take
from geometry.flow.run_plan import Rooms, RunPlan
from geometry.model.run import Run
from geometry.plan import Plan


def rooms(plan: Plan) -> Rooms:
    """Return what each bed of a plan offers."""
    return plan.run_fit.rooms or {bed.bed.name: bed.rooms for bed in plan.beds}


def plan_runs(plan: Plan, until: date | None = None) -> tuple[RunPlan, ...]:
    """Reckon all runs of a project through on its rafts, up to the sowings of the day ``until``.

    Without a day that is the end of the run, or a year beyond its first harvest. A batch of which
    the log says that nothing was picked has failed; its rafts are free from that day.
    """
    failed: dict[str, dict[date, date | None]] = {}
    for grown in plan.project.log.batches:
        if grown.picked == 0:
            failed.setdefault(grown.run, {})[grown.sown] = grown.picked_on
    if until is None and not failed:
        return plan.run_fit.plans
    return run_plan.plan_runs(plan.project.runs, rooms(plan), until, failed)


def place_rafts(plans: Sequence[RunPlan]) -> Standing:
    """Give the rafts of all runs places, no two of them in one on any day."""
    return stand(demand for number, made in enumerate(plans) for demand in made.demands(number))


def take_places(plans: Sequence[RunPlan]) -> Taken:
    """Return how full the beds are with the rafts of all runs, and what finds no place."""
    return take(demand for number, made in enumerate(plans) for demand in made.demands(number))


def most_a_week(runs: Sequence[Run], bed: str, offered: Sequence[Room]) -> Fraction | None:
    """Return the most that runs which float in this bed alone can bring a week.

    Targets do not count: batches are as large as what the bed offers holds. None without such runs.
    """
    own = [
        replace(run, target=None)
        for run in runs
        if {name for stage in run.stages for name in (stage.bed, *stage.more_beds) if name} == {bed}
    ]
    if not own:
        return None
    plans = run_plan.plan_runs(own, {bed: offered})
    return sum((made.per_week for made in plans if not made.lack), Fraction(0))
