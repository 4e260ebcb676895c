"""A choice that is as the bed stands rides as the plan says; one with more heads lies lower."""

from dataclasses import replace

from geometry.compare.choices import ChoiceResult, judge_plan, with_outcome
from geometry.model.project import Choice, Project
from geometry.plan import make_plan
from geometry.units import Length
from tests.layout_gui.panels.desk import make_bench, make_project

AS_IT_IS = Choice("", "Bench")
DENSE = Choice("", "Bench", spacing=Length.of(100), edge_margin=Length.of(50))


def outcome(project: Project, choice: Choice) -> ChoiceResult:
    return with_outcome(project, *judge_plan(project, project.beds[0], choice))


def test_the_bed_as_it_stands_rides_as_its_plan_says() -> None:
    project = make_project()
    plan = make_plan(project)
    water = plan.water_of("Bench")
    assert water is not None
    own = [raft.afloat for raft in water.rafts.values()]
    now, *others = (outcome(project, choice) for choice in (AS_IT_IS, DENSE))
    assert now.afloat == own[0]
    assert now.afloat is not None
    denser = others[0]
    assert denser.plants > now.plants
    assert denser.afloat is not None
    assert denser.afloat.harvest.floating.freeboard < now.afloat.harvest.floating.freeboard


def test_without_a_thickness_nothing_is_told() -> None:
    project = make_project(make_bench())
    bare = replace(project, sheets=(replace(project.sheets[0], thickness=None),))
    assert outcome(bare, AS_IT_IS).afloat is None
    thin = replace(project.sheets[0], name="thin", thickness=Length.of(25))
    two = replace(project, sheets=(*project.sheets, thin))
    assert outcome(two, AS_IT_IS).afloat is None
