"""What follows for water, rafts, pots and runs, a line each: for who works without the window."""

from collections.abc import Iterator

from geometry.drawing.afloat_figures import float_line, raft_in_water, worst_design
from geometry.drawing.fit_figures import fit_in, light_line, room_line
from geometry.drawing.run_figures import run_lines
from geometry.drawing.seat_words import seat_words
from geometry.drawing.water_figures import water_line
from geometry.model.water import Water
from geometry.plan import BedPlan, Plan
from geometry.running import plan_runs
from geometry.tongue import tr


def result_lines(plan: Plan) -> Iterator[str]:
    """Tell of the beds whose water or pots are known, and of all runs."""
    for bed in plan.beds:
        looked = plan.water_of(bed.bed.name)
        if looked is None or (bed.bed.water == Water() and not any(looked.surroundings.pots)):
            continue
        for line in filter(None, _bed_lines(plan, bed)):
            yield f"{bed.bed.name}: {line}."
    for made in plan_runs(plan):
        yield " ".join((f"{made.run.name}:", *run_lines(made)))


def _bed_lines(plan: Plan, bed: BedPlan) -> Iterator[str]:
    unit, looked = plan.project.units, plan.water_of(bed.bed.name)
    if water := water_line(plan, bed):
        yield tr("water: {line}", line=water)
    if fit := fit_in(plan, bed):
        yield tr("room to move: {line}", line=room_line(fit, unit))
        yield tr("light: {line}", line=light_line(fit))
    worst = worst_design(plan, bed)
    raft = raft_in_water(plan, bed, worst) if worst else None
    if raft is not None and (line := float_line(raft.afloat, plan.project.limits, unit)):
        yield tr("afloat: {line}", line=line)
    if looked is not None:
        pairs = zip(looked.surroundings.pots, looked.seats, strict=True)
        for pot, seated in dict.fromkeys(pairs):
            if pot is not None and seated is not None:
                yield tr("{pot}: {line}", pot=pot.name, line=seat_words(seated))
