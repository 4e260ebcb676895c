"""The hole table and the summary, read back with the standard library."""

import csv
import io
import json
import time
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from geometry import plan as planning
from geometry.cutting.plan import CutPlan, CutSheet, Piece
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.supplies import Supplies, parse_volume
from geometry.model.water import Walls, Water
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import PlacedRaft, Plan
from geometry.units import Length
from layout_gui.output.tables import HEADER, summary_json, write_holes
from tests.builders import make_bed_plan, make_design, make_holes, make_plan, make_shape
from tests.geometry.checks.test_pot_seats import potted


def _written(plan: Plan) -> str:
    stream = io.StringIO()
    for _ in write_holes(plan, stream):
        pass
    return stream.getvalue()


def _rows(plan: Plan) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(_written(plan))))


def test_the_header_is_the_fixed_one() -> None:
    first = _written(make_plan()).splitlines()[0]

    assert first == "bed,raft,hole,crop,x_mm,y_mm,diameter_mm,bed_x_mm,bed_y_mm"
    assert tuple(first.split(",")) == HEADER


def test_there_is_one_row_for_each_hole_of_each_placed_raft() -> None:
    plan = make_plan()
    rows = _rows(plan)

    assert len(rows) == plan.plants == 36
    assert len({(row["raft"], row["hole"]) for row in rows}) == 36
    assert {row["crop"] for row in rows} == {"lettuce, head"}


def test_positions_come_back_within_a_micrometre_and_have_three_decimals() -> None:
    holes = make_holes([(1 / 3, 2 / 7), (100, 193.6666666667)], diameter=25.4)
    design = make_design(holes=holes)
    rows = _rows(make_plan(make_bed_plan([PlacedRaft("R1", design, 10.1, 20)])))

    found = np.array([[float(row["x_mm"]), float(row["y_mm"])] for row in rows])
    assert np.abs(found - holes.xy).max() <= 1e-6
    in_bed = np.array([[float(row["bed_x_mm"]), float(row["bed_y_mm"])] for row in rows])
    assert np.abs(in_bed - holes.xy - [10.1, 20]).max() <= 1e-6
    for row in rows:
        for column in HEADER[4:]:
            assert len(row[column].partition(".")[2]) >= 3
    assert rows[1]["x_mm"] == "100.000"
    assert rows[0]["diameter_mm"] == "25.400"


def test_a_turned_raft_lies_half_round_about_its_box() -> None:
    design = make_design(shape=make_shape(400, 200), holes=make_holes([(50, 30)]))
    turned = PlacedRaft("R1", design, 1000, 500, turned=True)
    (row,) = _rows(make_plan(make_bed_plan([turned])))

    assert (float(row["x_mm"]), float(row["y_mm"])) == (50, 30)
    assert (float(row["bed_x_mm"]), float(row["bed_y_mm"])) == (1350, 670)


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\tcmd", '=A1,"x"'])
def test_a_name_never_becomes_a_formula(name: str) -> None:
    bed = Bed(
        name,
        Rectangle(Length.of(100), Length.of(100)),
        planting=Planting(Length.of(50), Length.of(20), crop=name),
    )
    (row,) = _rows(
        make_plan(
            make_bed_plan(
                [PlacedRaft("R1", make_design(holes=make_holes([(1, 1)])), 0, 0)], bed=bed
            )
        )
    )

    assert row["bed"] == row["crop"] == f"'{name}"


def test_a_place_just_below_zero_is_not_written_as_minus_zero() -> None:
    design = make_design(holes=make_holes([(-1e-9, 0)]))
    (row,) = _rows(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])))

    assert float(row["x_mm"]) == 0
    assert not row["x_mm"].startswith("-")


def test_a_quarter_of_a_million_holes_are_written_in_a_moment() -> None:
    holes = make_holes([(n * 0.1234567, n * 0.7) for n in range(100)], names=None)
    design = make_design(holes=holes)
    rafts = [PlacedRaft(f"R{n}", design, n * 1.1, n * 0.3) for n in range(2500)]
    plan = make_plan(make_bed_plan(rafts))
    start = time.process_time()

    assert _written(plan).count("\n") == 250_001
    assert time.process_time() - start < 5


def test_the_summary_counts_what_the_table_holds() -> None:
    plan = make_plan()
    summary = json.loads(summary_json(plan))

    assert summary["total"]["plants"] == len(_rows(plan))
    assert summary["total"]["rafts"] == 4
    assert [bed["name"] for bed in summary["beds"]] == ["Bench bed"]
    bed = summary["beds"][0]
    assert bed["ceiling"] == 42
    assert bed["proof"] is None
    assert bed["pattern"] == "square"


def test_the_summary_tells_what_the_cutting_needs_and_wastes() -> None:
    board = Sheet("board", Length.of(1250), Length.of(600), price=Fraction(14))
    piece = Piece("bench-1", Fraction(0), Fraction(0), Fraction(1000), Fraction(500), turned=False)
    cut = CutPlan((CutSheet(board, (piece,), 2),), (("bench-1", 3),), "sheets", Fraction(2))
    total = json.loads(summary_json(make_plan(cut=cut)))["total"]

    assert (total["sheets"], total["sheets_bought"], total["offcuts_used"]) == (2, 2, 0)
    assert (total["cost"], total["aim"], total["bound"]) == (28, "sheets", 2)
    assert total["proved"]
    assert total["rafts_without_sheet"] == 3
    assert total["raft_area_cut_m2"] + total["waste_area_m2"] == pytest.approx(2 * 1.25 * 0.6)
    assert total["waste_share"] == pytest.approx(1 / 3)
    assert total["offcuts"] == [{"length_mm": 600, "width_mm": 250, "count": 2}]


def test_density_and_open_water_of_the_summary() -> None:
    """Job map formula 17: four 581 x 560 in 2360 x 580 mm leave 4.9 % open water."""
    (bed,) = json.loads(summary_json(make_plan()))["beds"]

    assert bed["open_water_share"] == pytest.approx(0.049, abs=5e-4)
    assert bed["density_per_m2"] == pytest.approx(36 / (2.36 * 0.58))
    assert bed["density_per_m2"] / bed["density_per_ft2"] == pytest.approx(10.7639104)


def test_a_bed_without_holes_has_no_ceiling_and_no_pattern() -> None:
    empty = replace(make_bed_plan(), tried=(), ceiling=None, least_web_mm=None, plants=0)
    (bed,) = json.loads(summary_json(make_plan(empty)))["beds"]

    assert (bed["ceiling"], bed["pattern"], bed["least_web_mm"]) == (None, None, None)


def test_each_hole_has_the_crop_of_its_zone_and_the_summary_counts_them() -> None:
    square = Planting(
        Length.of(200), Length.of(50), crop="lettuce", pattern="square", in_use="every second",
        joints="separate",
    )  # fmt: skip
    herbs = Zone(
        "herbs",
        ZoneRules(crop="basil", hole_diameter=Length.of(40), in_use="all"),
        rafts=("R2",),
    )
    outline = Rectangle(Length.of(1700), Length.of(850))
    bed = Bed("Bench", outline, rafts=Split(2, 1), planting=square, zones=(herbs,))
    plan = planning.make_plan(Project("test", beds=(bed,)))

    rows = _rows(plan)

    assert {(row["raft"], row["crop"], row["diameter_mm"]) for row in rows} == {
        ("R1", "lettuce", "50.000"),
        ("R2", "basil", "40.000"),
    }
    (summary,) = json.loads(summary_json(plan))["beds"]
    # 850 mm: floor(850 / 200) + 1 = 5 a side (job-map formula 1); 13 of 25 on the checkerboard.
    assert summary["crops"] == [
        {"crop": "lettuce", "plants": 25},
        {"crop": "basil", "plants": 25},
    ]
    assert (summary["plants"], summary["in_use"], summary["plugged"]) == (50, 38, 12)


def test_the_summary_tells_how_much_water_a_bed_holds() -> None:
    # Job map, formula 12: 2.4 x 1.2 x 0.2 m is 576 L, by geometry; 480 L were metered.
    water = Water(Length.of(200), low=Length.of(50), metered=parse_volume("480 L", "mm"))
    planting = Planting(Length.of(200), Length.of(50))
    bed = Bed("deep", Rectangle(Length.of(2400), Length.of(1200)), planting=planting, water=water)
    dry = replace(bed, name="not measured", water=Water())
    plan = planning.make_plan(Project("p", beds=(bed, dry)))
    told, untold = json.loads(summary_json(plan))["beds"]
    assert (told["litres"], told["litres_low"], told["metered_litres"]) == (576, 432, 480)
    assert told["litres_per_site"] == pytest.approx(480 / told["plants"])
    assert told["water_kg"] == pytest.approx(480 * 0.9982, abs=0.01)
    assert untold["litres"] is untold["litres_per_site"] is None


def test_the_summary_tells_the_room_at_each_level_and_what_lies_open() -> None:
    water = Water(low=Length.of(100), walls=Walls(Length.of(100), Length.of(2345), Length.of(565)))
    outline = Rectangle(Length.of(2360), Length.of(580))
    bed = Bed("b", outline, Length.of(10), Length.of(5), rafts=Split(4, 1), water=water)
    told = json.loads(summary_json(planning.make_plan(Project("p", beds=(bed,)))))["beds"][0]

    assert told["widest_gap_mm"] == 35
    assert told["open_water_parts"]["open"]["share"] == told["open_water_share"]
    assert [(each["level"], each["level_mm"]) for each in told["levels"]] == [
        ("low", -100),
        ("working", 0),
    ]
    assert told["levels"][0]["along_mm"] == [20, 20]
    assert told["levels"][0]["across_mm"] == [5, 5]


def test_the_summary_tells_how_each_pot_sits_and_which_saw_to_take() -> None:
    supplies = Supplies(saws=(Length.of("44 mm"),))
    plan = planning.make_plan(replace(potted(), supplies=supplies))

    (told,) = json.loads(summary_json(plan))["beds"][0]["pots"]

    assert told == {
        "zone": None,
        "pot": "small",
        "seat": "tight",
        "hole_mm": 44.45,
        "play_mm": 0.0,
        "proud_mm": 0.0,
        "lip_mm": 3.175,
        "saw_mm": 44.0,
        "best_saw_mm": 44.0,
        "best_saw_is_own": True,
    }
    bare = json.loads(summary_json(planning.make_plan(potted(pot=""))))
    assert bare["beds"][0]["pots"] == []
