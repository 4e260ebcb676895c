"""The command that tells what is to be done, week by week."""

from datetime import date
from pathlib import Path

from geometry.plan import Plan
from geometry.tongue import tr
from layout_gui.commands.common import json_text, period_of, say, status, with_plan


def weeks(path: Path, since: date | None, count: int | None, *, as_json: bool) -> int:
    """Print what is to be done, week by week, from the week of a day or of the first task on."""
    from geometry.drawing.run_figures import lack_words
    from geometry.drawing.task_words import day_words, task_words, week_words
    from geometry.weeks import plan_weeks
    from layout_gui.output.week_tables import weeks_node

    def work(plan: Plan) -> int:
        found = plan_weeks(plan, period_of(since, count))
        if as_json:
            say(json_text({"project": plan.project.name, **weeks_node(found)}))
        elif not found.weeks:
            say(tr("No run says on which day it is first sown, so there is nothing to do."))
        for made in () if as_json else found.runs:
            if found.weeks and not made.batches and (why := lack_words(made)):
                say(f"{made.run.name}: {why}")
        for week in () if as_json else found.weeks:
            say(week_words(week))
            for task in found.tasks_in(week):
                say(f"  {day_words(task.day)}  {task_words(task)}")
        return status(plan)

    return with_plan(path, work)
