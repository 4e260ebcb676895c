"""What the summary tells of the runs."""

from geometry.flow.run_plan import RunPlan
from geometry.plan import Plan
from geometry.running import plan_runs, take_places


def runs_summary(plan: Plan) -> dict[str, object]:
    """Return the keys of the summary about runs; none where there are no runs.

    ``lack`` says why a run cannot be reckoned, null where it can. ``harvest`` is what is expected
    of each of the ``picks`` of a batch, ``by_week`` what is picked in the week that begins on a
    Monday. Places are raft places; ``left_out`` counts rafts that find none, ``run_places`` those
    on the fullest day of each bed.
    """
    if not plan.project.runs:
        return {}
    made = plan_runs(plan)
    taken = take_places(made)
    left_out = [0] * len(made)
    for demand, rafts in taken.left_out:
        left_out[demand.run] += rafts
    return {
        "runs": [_run(each, short) for each, short in zip(made, left_out, strict=True)],
        "run_places": dict(taken.most),
    }


def _run(made: RunPlan, left_out: int) -> dict[str, object]:
    first, last = made.first_harvest, made.last_sowing
    return {
        "name": made.run.name,
        "crop": made.run.crop,
        "lack": made.lack or None,
        "target": made.run.target,
        "picks": made.run.picks,
        "harvest": round(float(made.harvest), 6),
        "short": round(float(made.short), 6),
        "per_week": round(float(made.per_week), 6),
        "seeds": made.seeds,
        "seed_packs": made.seed_packs,
        "plugs": made.plugs,
        "plug_packs": made.plug_packs,
        "first_harvest": first and first.isoformat(),
        "last_sowing": last and last.isoformat(),
        "batches": len(made.batches),
        "left_out": left_out,
        "stages": [
            {
                "name": stage.stage.name,
                "beds": list(stage.beds),
                "days": stage.stage.days,
                "plants": stage.plants,
                "sites": stage.sites,
                "rafts": stage.rafts,
                "places": stage.places,
                "places_if_shared": stage.shared,
            }
            for stage in made.stages
        ],
        "by_week": {monday.isoformat(): count for monday, count in made.by_week().items()},
    }
