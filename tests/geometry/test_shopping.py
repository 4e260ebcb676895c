"""The shopping list: its sums are the plan's, packs are whole, lengths are measured."""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.model.bed import Bed, One, Split
from geometry.model.outlines import Disc, LShape, Rectangle, Tapered
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.run import Run, RunStage
from geometry.model.sheet import Sheet
from geometry.model.supplies import Packed, Paint, Strip, Supplies, parse_coverage, parse_volume
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import Plan, make_plan
from geometry.shopping import Item, Shopping, rounded_up, shopping_list
from geometry.units import ZERO, Length

BOARD = Sheet("board", Length.of(1250), Length.of(600), Length.of(50), Fraction(14))
PLANTING = Planting(
    Length.of(186), Length.of(50), "basil", "square", edge_margin=Length.of(60), joints="separate"
)


def bench(**changes: object) -> Bed:
    """Four rafts of 581.25 x 560 mm in a bed of 2360 x 580 (job map, scenario A)."""
    bed = Bed(
        "Bench",
        Rectangle(Length.of(2360), Length.of(580)),
        clearance=Length.of(10),
        joint_gap=Length.of(5),
        rafts=Split(4, 1),
        planting=PLANTING,
    )
    return replace(bed, **changes)  # type: ignore[arg-type]


def bought(
    supplies: Supplies | None = None, *beds: Bed, sheets: tuple[Sheet, ...] = (BOARD,)
) -> Shopping:
    project = Project(
        "test", beds=beds or (bench(),), sheets=sheets, supplies=supplies or Supplies()
    )
    return shopping_list(make_plan(project))


def one(shopping: Shopping, kind: str) -> Item:
    (item,) = [each for each in shopping.items if each.kind == kind]
    return item


@pytest.mark.parametrize(
    ("needed", "spares", "pack", "packs"),
    [
        (36, 0, 36, 1),
        (36, 0, 12, 3),
        (36, 0, 35, 2),
        (36, 0, 37, 1),
        (36, 1, 36, 2),
        (36, 100, 72, 1),
    ],
)
def test_packs_are_whole_and_exact_multiples_take_no_more(
    needed: int, spares: int, pack: int, packs: int
) -> None:
    pots = one(bought(Supplies(spares=spares, pots=Packed(pack))), "pot")

    assert (pots.needed, pots.packs, pots.bought) == (needed, packs, packs * pack)


def test_spares_are_rounded_up_to_whole_pieces() -> None:
    assert one(bought(Supplies(spares=5)), "pot").wanted == 38  # 37.8
    assert one(bought(Supplies(spares=0)), "pot").wanted == 36


def test_the_bench_takes_what_a_tape_finds() -> None:
    shopping = bought(Supplies(spares=0))

    assert one(shopping, "sheet").needed == 2
    assert shopping.wall_mm == 2 * (2360 + 580)
    assert shopping.joint_mm == 3 * 560
    faces, edges = 4 * 2 * 581.25 * 560, 4 * 2 * (581.25 + 560) * 50
    assert shopping.painted_mm2 == pytest.approx(faces + edges)
    assert float(one(shopping, "paint").needed) == pytest.approx(2 * (faces + edges) / 1e6 / 8)
    assert shopping.thickness_known


def test_gaps_without_width_need_no_strip() -> None:
    shopping = bought(None, bench(clearance=ZERO, joint_gap=ZERO))

    assert not shopping.of("strip")
    assert bought(None, bench(rafts=One(), clearance=ZERO)).of("strip") == ()


def test_strip_runs_along_the_walls_of_all_beds_or_of_those_that_get_an_edge_seal() -> None:
    sealed = bench(name="sealed", edge_seal=True)

    assert bought(None, bench(), bench(name="other")).wall_mm == 4 * (2360 + 580)
    shopping = bought(None, bench(), sealed)
    assert shopping.wall_mm == 2 * (2360 + 580)
    assert shopping.joint_mm == 2 * 3 * 560


def test_joints_of_two_ways_count_once_each() -> None:
    shopping = bought(None, bench(rafts=Split(4, 2)))
    rafts_long, rafts_wide = Fraction(2325, 4), Fraction(555, 2)

    assert shopping.joint_mm == 3 * 2 * rafts_wide + 4 * rafts_long


def test_a_round_bed_is_sealed_along_its_wall_and_its_joint() -> None:
    tank = Bed(
        "Tank", Disc(Length.of(1500)), Length.of(10), Length.of(6), rafts=Split(2, 1),
        planting=PLANTING,
    )  # fmt: skip
    shopping = bought(None, tank)

    assert float(shopping.wall_mm) == pytest.approx(pi * 1500)
    # The chord of a disc of 740 mm radius, 3 mm off its middle, twice and halved.
    assert float(shopping.joint_mm) == pytest.approx(2 * (740**2 - 3**2) ** 0.5)


def test_paint_of_a_published_example() -> None:
    """231 cubic inches are a US gallon (NIST Handbook 44); 350 ft2 of it paint 350 ft2."""
    paint = Paint(parse_coverage("350 ft2/gal", None), 1, parse_volume("1 gal", None))
    shopping = bought(Supplies(paint=paint))
    square_feet = shopping.painted_mm2 / 304.8**2

    assert float(one(shopping, "paint").needed / paint.tin.litres) == pytest.approx(  # type: ignore[union-attr]
        square_feet / 350
    )
    assert float(parse_volume("1 gal", None).litres) == pytest.approx(3.785411784, abs=1e-12)


def test_no_coat_no_paint() -> None:
    assert not bought(Supplies(paint=Paint(coats=0))).of("paint")


def test_foam_of_unknown_thickness_is_said_to_be() -> None:
    shopping = bought(None, sheets=(replace(BOARD, thickness=None),))

    assert not shopping.thickness_known
    assert shopping.painted_mm2 == pytest.approx(8 * (581.25 * 560 + (581.25 + 560) * 50))


def test_sheets_on_hand_are_not_bought() -> None:
    item = one(bought(None, sheets=(replace(BOARD, quantity=5),)), "sheet")

    assert (item.needed, item.bought, item.cost) == (2, 0, 0)
    assert one(bought(), "sheet").cost == 28


def test_rafts_that_no_sheet_holds_are_told() -> None:
    assert bought(None, sheets=(replace(BOARD, quantity=1),)).without_foam == 2


@pytest.mark.parametrize(
    ("saw", "serves"),
    [("50 mm", True), ("50.5 mm", True), ("49.5 mm", True), ("50.6 mm", False), ("2 in", False)],
)
def test_a_saw_serves_holes_up_to_half_a_millimetre_off(saw: str, serves: bool) -> None:
    shopping = bought(Supplies(saws=(Length.of(20), Length.of(saw))))

    assert bool(shopping.of("saw")) is not serves
    assert [own.holes for own in shopping.own_saws] == ([36] if serves else [])


def test_what_has_no_price_is_counted_and_not_guessed() -> None:
    supplies = Supplies(spares=0, pots=Packed(10, Fraction("6.5")), strip=Strip(None, Fraction(9)))
    shopping = bought(supplies)

    assert one(shopping, "pot").cost == 26
    assert one(shopping, "strip").cost is None
    assert shopping.cost == 26 + 28
    assert shopping.without_price == 3  # strip, paint, saw


def test_a_project_without_beds_takes_nothing() -> None:
    shopping = shopping_list(make_plan(Project("empty")))

    assert shopping.items == ()
    assert shopping.plants == 0


@pytest.mark.parametrize(
    ("amount", "up"), [("6.2", "6.2"), ("6.20001", "6.3"), ("6.19", "6.2"), ("0", "0")]
)
def test_what_is_measured_is_rounded_up_to_tenths(amount: str, up: str) -> None:
    assert rounded_up(Fraction(amount), Fraction(1, 10)) == Fraction(up)


_OUTLINES = st.sampled_from(
    [
        Rectangle(Length.of(1200), Length.of(600)),
        Rectangle(Length.of("47 5/8 in"), Length.of("7 1/2 in")),
        Disc(Length.of(900)),
        LShape(Length.of(1500), Length.of(900), Length.of(700), Length.of(400)),
        Tapered(Length.of(1200), Length.of(700), Length.of(450)),
    ]
)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    beds = []
    for number in range(draw(st.integers(1, 2))):
        planting = Planting(
            Length.of(draw(st.integers(120, 400))),
            Length.of(draw(st.sampled_from([32, 50, "2 in"]))),
            edge_margin=Length.of(30),
            pattern="square",
            in_use=draw(st.sampled_from(["all", "every second"])),
        )
        zones = (
            (Zone("part", ZoneRules("basil", hole_diameter=Length.of(25)), rafts=("R1",)),)
            if draw(st.booleans())
            else ()
        )
        beds.append(
            Bed(
                f"Bed {number}",
                draw(_OUTLINES),
                Length.of(draw(st.integers(0, 12))),
                Length.of(draw(st.integers(0, 6))),
                rafts=Split(draw(st.integers(1, 3)), draw(st.integers(1, 2))),
                planting=draw(st.none() | st.just(planting)),
                zones=zones,
            )
        )
        if beds[-1].planting is None:
            beds[-1] = replace(beds[-1], zones=())
    supplies = Supplies(
        spares=draw(st.integers(0, 20)),
        pots=Packed(draw(st.none() | st.integers(1, 60))),
        plugs=Packed(draw(st.none() | st.integers(1, 60))),
    )
    return make_plan(Project("any", beds=tuple(beds), sheets=(BOARD,), supplies=supplies))


@settings(max_examples=10, deadline=None)
@given(plans())
def test_the_list_takes_just_what_the_plan_counts(plan: Plan) -> None:
    shopping = shopping_list(plan)
    pots = sum(item.needed for item in shopping.of("pot"))
    plugs = sum(item.needed for item in shopping.of("plug"))

    assert pots + plugs == plan.plants == shopping.plants
    assert plugs == sum(bed.plugged for bed in plan.beds)
    assert sum(item.needed for item in shopping.of("sheet")) == plan.cut.sheet_count
    assert sum(own.holes for own in shopping.own_saws) == 0
    assert {item.size_mm for item in shopping.of("saw")} == {
        item.size_mm for item in shopping.of("pot", "plug")
    }
    for item in shopping.items:
        assert item.needed <= item.wanted <= item.bought or item.is_there
        if item.pack is not None and item.packs:
            assert (item.packs - 1) * item.pack < item.wanted


def test_what_one_sowing_takes_is_on_the_list_in_whole_packs() -> None:
    # 36 holes, four weeks in the bed and a batch a week: 9 plants of 9 / 0.8 = 11.25 seeds.
    stages = (RunStage("tray", 14, Fraction(8, 10)), RunStage("bed", 28, bed="Bench"))
    run = Run("herbs", "basil", stages, seed_pack=50)
    project = Project("test", beds=(bench(),), sheets=(BOARD,), runs=(run,))

    shopping = shopping_list(make_plan(project))

    seed, starter = one(shopping, "seed"), one(shopping, "starter")
    assert (seed.name, seed.needed, seed.packs, seed.bought) == ("herbs", 12, 1, 50)
    assert (starter.needed, starter.packs, starter.bought) == (12, None, 12)
    assert shopping.without_price == bought().without_price
