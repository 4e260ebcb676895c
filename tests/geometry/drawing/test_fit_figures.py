"""The room of rafts in words, and what of it stands on paper."""

from dataclasses import replace
from fractions import Fraction

from geometry.drawing.bed_part import bed_part
from geometry.drawing.fit_figures import fit_lines, level_facts, light_facts, room_line
from geometry.drawing.paper import PAPERS
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed, Obstacle, One, Split, Spot
from geometry.model.outlines import Rectangle, RoundEnded, Tapered
from geometry.model.project import Project
from geometry.model.water import Walls, Water
from geometry.plan import Plan, make_plan
from geometry.units import Length

mm = Length.of
BENCH = Bed("Bench", Rectangle(mm(2360), mm(580)), mm(10), mm(5), rafts=Split(4, 1))
LEANING = Water(low=mm(100), high=mm(20), walls=Walls(mm(100), mm(2340), mm(565)))


def planned(bed: Bed, **keys: object) -> Plan:
    return make_plan(Project("P", beds=(bed,), **keys))  # type: ignore[arg-type]


def test_each_level_has_a_line_on_paper_once_its_water_is_known() -> None:
    plan = planned(replace(BENCH, water=LEANING))
    low, working, high, try_it = fit_lines(plan, plan.beds[0])

    assert low == "Low water: 15 mm along, 5 mm across."
    assert working == "Working level: 35 mm along, 20 mm across."
    assert high == "High water: 39 mm along, 23 mm across."
    assert "try the first raft" in try_it
    assert [*fit_lines(planned(BENCH), planned(BENCH).beds[0])] == []


def test_the_page_of_a_bed_is_as_before_while_nothing_more_is_known() -> None:
    plain, known = planned(BENCH), planned(replace(BENCH, water=LEANING))
    rows = [len(bed_part(plan, plan.beds[0], PAPERS["A4"]).rows) for plan in (plain, known)]

    assert rows[1] - rows[0] == 6


def test_room_that_is_missing_and_shapes_that_are_not_known_are_owned_up_to() -> None:
    plan = planned(replace(BENCH, water=replace(LEANING, low=mm(200))))
    low, *_ = level_facts(plan, plan.beds[0])
    assert low.value == "5 mm missing along, 10 mm missing across"
    assert room_line(plan.waters[0].fit, "mm") == "jams at low water"

    round_ended = replace(BENCH, outline=RoundEnded(mm(1800), mm(600)), rafts=One())
    water = Water(low=mm(100), walls=Walls(mm(100), mm(1782), mm(582)))
    plan = planned(replace(round_ended, water=water))
    (low, _) = level_facts(plan, plan.beds[0])
    assert low.note == "R1 comes nearest to the wall, 1 mm off it."

    tapered = replace(BENCH, outline=Tapered(mm(1800), mm(600), mm(500)), water=water)
    assert not planned(tapered).findings


def test_inches_are_read_off_a_tape() -> None:
    plan = planned(BENCH, units="in", allowances=Allowances(warming=Fraction(30)))
    (working,) = level_facts(plan, plan.beds[0])

    assert working.value == "1 3/16 to 1 3/8 in along, 3/4 to 13/16 in across"
    shown = {fact.name: fact.value for fact in light_facts(plan, plan.beds[0])}
    assert shown["Open in all"].endswith(" ft²")


def test_how_rafts_come_out_from_under_a_brace_is_told() -> None:
    brace = Obstacle(
        "brace", Rectangle(mm(60), mm(700)), None, Spot(mm(700), mm(-60)), above=mm(90)
    )
    plan = planned(replace(BENCH, obstacles=(brace,)))
    (line,) = fit_lines(plan, plan.beds[0])

    assert line.startswith("1 raft lies under brace. R2: only once its neighbours are out.")
