from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.compare.joint_rules import joint_counts
from geometry.compare.split_shift import best_split_shift
from geometry.holes.place import place_holes
from geometry.model.bed import Bed, Fit, Obstacle, One, Split, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import JOINT_RULES, JointRule, Pattern, Planting
from geometry.model.project import Project
from geometry.model.sheet import Sheet
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def mm(value: int | str) -> Length:
    return Length.of(value)


def bench(
    length: int = 1290,
    rafts: Split | One | Fit = Split(2),  # noqa: B008  # a frozen value
    *,
    joints: JointRule = "separate",
    pattern: Pattern = "square",
    spacing: int = 200,
) -> Bed:
    planting = Planting(mm(spacing), mm(50), pattern=pattern, edge_margin=mm(60), joints=joints)
    return Bed(
        "B", Rectangle(mm(length), mm(580)), joint_gap=mm(10), rafts=rafts, planting=planting
    )


def project(bed: Bed, *sheets: Sheet) -> Project:
    return Project("p", beds=(bed,), sheets=sheets)


def plants(bed: Bed) -> int:
    return sum(map(len, place_holes(bed, lay_rafts(bed)).sites))


def test_a_joint_is_moved_to_where_one_column_more_fits() -> None:
    """Two rafts of 640: 520 for centres is three columns; 80 more is a fourth (by hand)."""
    shares: list[float] = []
    shift = best_split_shift(project(bench()), bench(), shares.append)
    assert shift is not None
    assert (shift.along, shift.across) == (mm(80), mm(0))
    assert (shift.plants_now, shift.plants, shift.gain) == (18, 21, 3)
    assert (shift.designs_now, shift.designs) == (1, 2)
    assert shift.exact
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_inches_are_moved_by_sixteenths() -> None:
    bed = replace(bench(), outline=Rectangle(mm("50.7 in"), mm("22.8 in")))
    shift = best_split_shift(replace(project(bed), units="in"), bed)
    assert shift is not None
    assert shift.gain > 0
    assert (shift.along.exact / Fraction("25.4") * 16).denominator == 1


def test_no_raft_is_offered_that_fits_no_sheet() -> None:
    small, large = (Sheet("s", mm(size), mm(600)) for size in (700, 720))
    held = best_split_shift(project(bench(), small), bench())
    free = best_split_shift(project(bench(), large), bench())
    assert held is not None
    assert free is not None
    assert held.gain == 0
    assert (free.gain, free.sheets_now) == (3, 2)


@pytest.mark.parametrize("rafts", [One(), Split(1, 1), Fit(mm(640), mm(600))])
def test_what_is_no_split_has_no_joints_to_move(rafts: Split | One | Fit) -> None:
    assert best_split_shift(project(bench(rafts=rafts)), bench(rafts=rafts)) is None


def test_the_present_shift_is_what_is_compared_with() -> None:
    bed = bench(rafts=Split(2, 1, mm(80)))
    shift = best_split_shift(project(bed), bed)
    assert shift is not None
    assert (shift.along, shift.along_now, shift.gain) == (mm(80), mm(80), 0)


def test_with_something_in_the_way_even_steps_are_tried() -> None:
    pipe = Obstacle("pipe", Disc(mm(40)), centre=Spot(mm(300), mm(300)), clearance=mm(10))
    bed = replace(bench(), obstacles=(pipe,))
    shift = best_split_shift(project(bed), bed)
    assert shift is not None
    assert not shift.exact
    assert shift.plants >= shift.plants_now


@settings(max_examples=6, deadline=None)
@given(
    st.integers(900, 1900),
    st.integers(2, 3),
    st.sampled_from(["square", "hexagonal", "staggered"]),
    st.sampled_from(JOINT_RULES),
    st.integers(150, 260),
)
def test_no_shift_on_a_ruler_holds_more(
    length: int, along: int, pattern: Pattern, joints: JointRule, spacing: int
) -> None:
    bed = bench(length, Split(along), joints=joints, pattern=pattern, spacing=spacing)
    shift = best_split_shift(project(bed), bed)
    assert shift is not None
    for by in range(-spacing, spacing + 1, 5):
        moved = replace(bed, rafts=Split(along, 1, mm(by)))
        if lay_rafts(moved).rafts:
            assert plants(moved) <= shift.plants


@pytest.mark.parametrize("joints", JOINT_RULES)
def test_what_interchangeability_costs_is_the_difference_of_two_plans(joints: JointRule) -> None:
    bed = bench(2590, Split(4), joints=joints, pattern="best", spacing=180)
    counts = joint_counts(bed)
    assert counts is not None
    assert counts.rule == joints
    assert bed.planting is not None
    rules: tuple[JointRule, JointRule] = ("interchangeable", "bed-wide")
    for rule, count in zip(rules, (counts.interchangeable, counts.bed_wide), strict=True):
        assert plants(replace(bed, planting=replace(bed.planting, joints=rule))) == count
    assert counts.cost == counts.bed_wide - counts.interchangeable >= 0
    assert joint_counts(bench(rafts=One())) is None


def test_zones_count_with_the_crop_they_hold() -> None:
    wide = Zone("wide", ZoneRules(spacing=mm(400)), rafts=("R2",))
    bed = replace(bench(joints="bed-wide"), zones=(wide,))
    now = make_plan(project(bed)).beds[0].plants
    assert now < plants(bed)
    assert joint_counts(bed) is None
    shift = best_split_shift(project(bed), bed)
    assert shift is not None
    assert shift.plants_now == now
    assert not shift.exact
