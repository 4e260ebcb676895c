"""Rafts that jam, do not come out, or leave too much water open, and what clears it."""

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.checks.finding import Finding, SealEdge, SetLength
from geometry.checks.levels import fit_of
from geometry.model.allowances import Allowances
from geometry.model.bed import Bed, Obstacle, One, Split, Spot
from geometry.model.limits import Limits
from geometry.model.outlines import Rectangle, RoundEnded
from geometry.model.planting import Planting
from geometry.model.pot import Pot
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.water import Walls, Water
from geometry.plan import Plan, make_plan
from geometry.rafts.split import lay_rafts
from geometry.units import Length
from layout_gui.project.edits import apply_cure

mm = Length.of
BENCH = Bed("Bench", Rectangle(mm(2360), mm(580)), mm(10), mm(5), rafts=Split(4, 1))
BOARD = Sheet("board", mm(1250), mm(600), mm(50), density=Fraction(32))
LEANING = Water(low=mm(100), walls=Walls(mm(100), mm(2330), mm(550)))


def planned(bed: Bed, **keys: object) -> Plan:
    return make_plan(Project("P", beds=(bed,), **{"sheets": (BOARD,), **keys}))  # type: ignore[arg-type]


def told(plan: Plan, code: str) -> tuple[Finding, ...]:
    return tuple(finding for finding in plan.findings if finding.code == code)


def cured(plan: Plan, finding: Finding) -> Plan:
    return make_plan(apply_cure(plan.project, plan, finding), plan)


def bar(x: float, width: float, above: float = 100) -> Obstacle:
    shape = Rectangle(mm(width), mm(700))
    return Obstacle(f"bar {x:g}", shape, None, Spot(mm(x), mm(-50)), above=mm(above))


def test_nothing_is_told_of_a_bed_of_which_only_its_outline_is_known() -> None:
    for bed in (BENCH, replace(BENCH, water=Water(low=mm(100), high=mm(50)))):
        assert not planned(bed).findings


def test_rafts_that_jam_at_low_water_are_told_with_the_clearance_that_frees_them() -> None:
    plan = planned(replace(BENCH, water=LEANING))
    (jam,) = told(plan, "jam")

    # 20 mm of room across, 30 mm taken off by the walls: 10 are missing, 5 at each wall.
    assert (jam.raft, jam.subject, jam.amount_mm) == ("R1", "low across", -10)
    assert jam.cure == SetLength("clearance", 15)
    assert not told(cured(plan, jam), "jam")
    assert told(make_plan(apply_cure(plan.project, plan, replace(
        jam, cure=SetLength("clearance", 14)))), "jam")  # fmt: skip


def test_a_bed_in_inches_is_freed_in_sixteenths() -> None:
    walls = Walls(mm("6 in"), mm("95 in"), mm("23 in"))
    bed = Bed(
        "Tub", Rectangle(mm("96 in"), mm("24 in")), mm("3/8 in"), rafts=One(),
        water=Water(low=mm("6 in"), walls=walls),
    )  # fmt: skip
    plan = planned(bed, sheets=())
    for jam in told(plan, "jam"):
        assert jam.cure == SetLength("clearance", 12.7)
        project = apply_cure(plan.project, plan, jam)
        assert project.beds[0].clearance == mm("1/2 in")
        assert not told(make_plan(project, plan), "jam")
    assert len(told(plan, "jam")) == 2


def test_rafts_that_grow_into_each_other_are_freed_by_wider_joints() -> None:
    bed = replace(BENCH, clearance=mm(1), joint_gap=mm(1))
    plan = planned(bed, allowances=Allowances(film=mm(0.1), warming=Fraction(30)))
    (jam,) = told(plan, "jam")

    assert jam.subject == "working along"
    assert jam.cure == SetLength("joint_gap", 2)
    assert not told(cured(plan, jam), "jam")


def test_a_round_raft_that_jams_is_shown_where_it_does() -> None:
    tank = Bed("Tank", RoundEnded(mm(1800), mm(600)), mm(5), rafts=One())
    water = Water(low=mm(100), walls=Walls(mm(100), mm(1780), mm(580)))
    plan = planned(replace(tank, water=water))
    (jam,) = told(plan, "jam")

    assert jam.subject == "low wall"
    assert jam.place is not None
    assert jam.amount_mm == pytest.approx(-5)
    assert jam.cure == SetLength("clearance", 10)
    assert not told(cured(plan, jam), "jam")


@settings(max_examples=10, deadline=None)
@given(
    rafts=st.builds(Split, st.integers(1, 4), st.just(1)) | st.just(One()),
    clearance=st.integers(0, 30).map(lambda n: mm(Fraction(n, 2))),
    gap=st.integers(0, 6),
    lean=st.integers(0, 60),
    warm=st.integers(0, 60),
    is_round=st.booleans(),
)
def test_the_offered_change_frees_every_raft_that_jams(
    rafts: Split | One, clearance: Length, gap: int, lean: int, warm: int, is_round: bool
) -> None:
    bed = Bed(
        "Bed",
        RoundEnded(mm(2000), mm(600)) if is_round else Rectangle(mm(2000), mm(600)),
        clearance,
        mm(gap),
        rafts=rafts,
        water=Water(low=mm(100), walls=Walls(mm(100), mm(2000 - lean), mm(600 - lean))),
    )
    allowances = Allowances(film=mm("0.2 mm"), warming=Fraction(warm))
    jams = jamming(bed, allowances)
    assume(jams)
    for jam in jams:
        assert isinstance(jam.cure, SetLength)
        gap = {jam.cure.field: mm(jam.cure.mm)}
        assert jam.key not in {left.key for left in jamming(replace(bed, **gap), allowances)}


def jamming(bed: Bed, allowances: Allowances) -> tuple[Finding, ...]:
    return fit_of(bed, lay_rafts(bed), allowances).findings


def test_the_gaps_of_the_bench_are_four_point_nine_parts_in_a_hundred() -> None:
    # 1 - raft area / bed area: four rafts of 581 x 560 mm in 2360 x 580 mm leave 4.9 % open.
    light = planned(BENCH).waters[0].fit.light

    assert light.open_share == pytest.approx(1 - 4 * 581.25 * 560 / (2360 * 580))
    assert f"{100 * light.open_share:.1f}" == "4.9"
    # 20 mm along two long walls, 20 more at the ends, and three joints of 5 mm.
    assert light.wall == pytest.approx(2360 * 580 - 2340 * 560)
    assert light.joints == pytest.approx(3 * 5 * 560)


def test_holes_without_a_rim_over_them_and_empty_ones_are_measured() -> None:
    planting = Planting(mm(200), mm(50), edge_margin=mm(60), pot="plug")
    plug = Pot("plug", mm(40), mm(50), mm(30))
    plan = planned(replace(BENCH, planting=planting), pots=(plug,))
    light = plan.waters[0].fit.light

    assert light.loose == pytest.approx(plan.plants * pi / 4 * (50**2 - 40**2))
    with_rim = planned(
        replace(BENCH, planting=planting), pots=(replace(plug, rim=mm(56)),)
    ).waters[0].fit.light  # fmt: skip
    assert with_rim.loose == 0
    every_second = replace(planting, in_use="every second")
    plan = planned(replace(BENCH, planting=every_second), pots=(plug,))
    light = plan.waters[0].fit.light
    assert light.plugged == pytest.approx(plan.beds[0].plugged * pi / 4 * 50**2)
    in_use = plan.plants - plan.beds[0].plugged
    assert light.loose == pytest.approx(in_use * pi / 4 * (50**2 - 40**2))


def test_a_gap_beyond_the_limit_is_closed_by_a_strip_or_made_narrower() -> None:
    plan = planned(BENCH, limits=Limits(gap=mm(20)))
    (gap,) = told(plan, "gap")
    assert (gap.amount_mm, gap.limit_mm, gap.subject) == (35, 20, "working along")
    assert gap.cure == SealEdge()
    assert not told(cured(plan, gap), "gap")

    plan = planned(replace(BENCH, edge_seal=True), limits=Limits(gap=mm(12)))
    (gap,) = told(plan, "gap")
    assert gap.amount_mm == 15
    assert gap.cure == SetLength("joint_gap", 4)
    assert not told(cured(plan, gap), "gap")

    one = replace(BENCH, rafts=One(), joint_gap=mm(0), edge_seal=False, water=Water(high=mm(10)))
    assert not told(planned(one, limits=Limits(gap=mm(20))), "gap")


def test_open_water_beyond_the_limit_is_a_question_that_a_strip_may_settle() -> None:
    plan = planned(BENCH, limits=Limits(open_water=Fraction(4, 100)))
    (found,) = told(plan, "open-water")
    assert found.severity == "question"
    assert found.cure == SealEdge()
    assert not told(cured(plan, found), "open-water")
    assert not told(planned(BENCH, limits=Limits(open_water=Fraction(5, 100))), "open-water")
    (found,) = told(planned(BENCH, limits=Limits(open_water=Fraction(1, 1000))), "open-water")
    assert found.cure is None


def test_rafts_between_bars_come_out_and_those_under_them_are_slid() -> None:
    # Rafts of 581.25 mm begin at 10, 596.25, 1182.5 and 1768.75.
    free = planned(replace(BENCH, obstacles=(bar(591.25, 5),))).waters[0].fit.lifting
    assert free.covered == ()
    slid = planned(replace(BENCH, obstacles=(bar(590, 10),))).waters[0].fit.lifting
    assert (set(slid.covered), set(slid.slid)) == ({"R1", "R2"}, {"R1", "R2"})


def test_a_raft_under_a_bar_comes_out_once_its_neighbour_is_out() -> None:
    plan = planned(replace(BENCH, obstacles=(bar(700, 60),)))
    lifting = plan.waters[0].fit.lifting

    assert lifting.covered == lifting.after == ("R2",)
    assert not told(plan, "lift")


def test_rafts_that_find_no_gap_between_bars_are_trapped() -> None:
    bars = tuple(bar(x, 60) for x in range(200, 2300, 400))
    plan = planned(replace(BENCH, obstacles=bars))
    found = told(plan, "lift")

    assert [finding.raft for finding in found] == ["R1", "R2", "R3", "R4"]
    assert found[0].subject == "bar 200"
    whole = planned(replace(BENCH, rafts=One(), obstacles=(bar(1100, 60),)))
    assert told(whole, "lift")


def test_what_stands_in_the_water_keeps_no_raft_from_coming_out() -> None:
    pipe = replace(bar(700, 60), above=None)
    assert not planned(replace(BENCH, obstacles=(pipe,))).waters[0].fit.lifting.covered


def test_a_bar_so_low_that_high_water_presses_rafts_against_it_is_told() -> None:
    bed = replace(BENCH, obstacles=(bar(700, 60, above=70),), water=Water(high=mm(30)))
    plan = planned(bed)
    (found,) = told(plan, "pressed")

    # A bare board of 50 mm and 32 kg/m3 shows 48.4 mm: Archimedes.
    assert found.amount_mm == pytest.approx(30 + 50 - 50 * 32 / 998.2, abs=0.01)
    assert found.cure == SetLength("water.high", 21)
    assert not told(cured(plan, found), "pressed")
    unknown = replace(plan.project, sheets=(replace(BOARD, density=None),))
    assert not told(make_plan(unknown, plan), "pressed")


def test_what_is_known_of_the_fit_is_taken_over_when_only_the_planting_changes() -> None:
    planting = Planting(mm(200), mm(50), edge_margin=mm(60))
    plan = planned(replace(BENCH, planting=planting))
    other = replace(planting, spacing=mm(190))
    after = make_plan(replace(plan.project, beds=(replace(BENCH, planting=other),)), plan)

    assert after.waters[0].fit is plan.waters[0].fit
    assert after.waters[0].fit == make_plan(after.project).waters[0].fit
