"""What follows for the water, a line each, only where the grower has said something about it."""

from dataclasses import replace
from fractions import Fraction

from geometry.model.pot import Pot
from geometry.model.run import Run, RunStage
from geometry.model.sheet import Sheet
from geometry.model.water import Water
from geometry.plan import make_plan
from geometry.units import Length
from layout_gui.wording.results import result_lines
from tests.layout_gui.panels.desk import make_bench, make_project


def test_nothing_is_told_of_a_bed_of_which_nobody_said_anything() -> None:
    assert list(result_lines(make_plan(make_project()))) == []


def test_water_room_light_float_pots_and_runs_are_told_in_a_line_each() -> None:
    mm = Length.of
    bench = make_bench(water=Water(depth=mm(200)))
    assert bench.planting is not None
    bed = replace(bench, planting=replace(bench.planting, pot="cup"))
    project = replace(
        make_project(bed),
        sheets=(Sheet("board", mm(1250), mm(600), mm(50), density=Fraction(32)),),
        pots=(Pot("cup", mm(48), mm(50), mm(40), mm(56)),),
        runs=(Run("salad", stages=(RunStage("Rafts", 28, bed="Bench"),), target=9),),
    )
    lines = list(result_lines(make_plan(project)))
    # Length by width by depth: 1.2 m by 0.6 m by 0.2 m is 144 litres, for 18 sites 8 each.
    assert lines[0] == "Bench: water: 144 L, 8 L for each site."
    starts = ["room to move", "light", "afloat", "cup"]
    assert [line.split(": ")[1] for line in lines[1:5]] == starts
    assert "one person" in lines[3]
    assert lines[5] == "salad: It does not say on which day it is first sown."
