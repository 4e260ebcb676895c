"""Thresholds of a bed: each holds where it says, and one step on it does not."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geometry.compare.counting import BedCounter, Knob, changed
from geometry.compare.thresholds import Threshold, find_threshold, fine_step, thresholds
from geometry.holes.place import place_holes
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Disc, LShape, Rectangle
from geometry.model.planting import Pin, Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import make_plan
from geometry.rafts.split import lay_rafts
from geometry.units import Length, Unit


def length(mm: Fraction | float | str) -> Length:
    return Length(Fraction(mm))


PLANTING = Planting(
    length(200),
    length(50),
    pattern="best",
    edge_margin=length(60),
    web=length(20),
    joints="separate",
)
BED = Bed("bench", Rectangle(length(1200), length(600)), length(10), planting=PLANTING)


def plants(bed: Bed) -> int:
    return sum(len(sites.xy) for sites in place_holes(bed, lay_rafts(bed)).sites)


def by_knob(bed: Bed, unit: Unit = "mm") -> dict[Knob, Threshold]:
    return {each.knob: each for each in thresholds(bed, unit)}


plantings = st.builds(
    Planting,
    spacing=st.integers(90, 260).map(length),
    hole_diameter=st.just(length(50)),
    pattern=st.sampled_from(["square", "hexagonal", "staggered", "mixed", "best"]),
    rows=st.sampled_from(["along", "across", "best"]),
    edge_margin=st.integers(0, 90).map(length),
    web=st.just(length(20)),
    joints=st.sampled_from(["separate", "bed-wide", "interchangeable"]),
    spread=st.booleans(),
)
beds = st.builds(
    Bed,
    st.just("bed"),
    st.builds(Rectangle, st.integers(500, 1800).map(length), st.integers(300, 900).map(length)),
    st.integers(0, 20).map(length),
    st.integers(0, 15).map(length),
    rafts=st.builds(Split, st.integers(1, 3), st.integers(1, 2)),
    planting=plantings,
)


@given(bed=beds, unit=st.sampled_from(["mm", "in"]))
@settings(max_examples=25, deadline=None)
def test_thresholds_agree_with_counting(bed: Bed, unit: Unit) -> None:
    now = plants(bed)
    for found in thresholds(bed, unit):
        assert found.plants == now
        if found.same_up_to is not None:
            assert found.same_up_to >= found.now
            assert plants(changed(bed, found.knob, found.same_up_to)) >= now
            after = (found.same_up_to // found.step + 1) * found.step
            assert plants(changed(bed, found.knob, after)) < now
        if found.more_at is not None:
            assert found.more_at < found.now or found.knob == "joint_gap"
            assert plants(changed(bed, found.knob, found.more_at)) == found.more_plants > now
            back = found.step if found.more_at < found.now else -found.step
            assert plants(changed(bed, found.knob, found.more_at + back)) <= now


@given(bed=beds)
@settings(max_examples=25, deadline=None)
def test_the_closed_form_is_what_halving_finds(bed: Bed) -> None:
    assert bed.planting is not None
    assume(bed.planting.joints == "separate" or bed.rafts == Split(1, 1))
    counter = BedCounter(bed, bed.planting)
    assume(counter.room is not None and counter.plants() > 1)
    halving = BedCounter(bed, bed.planting)
    halving.__dict__["room"] = None  # as if the bed had no closed form

    closed, halved = (
        list(find_threshold(each, "spacing", "mm"))[-1] for each in (counter, halving)
    )
    assert closed == halved


def test_the_worked_bench() -> None:
    """Room 1060 x 460 mm, square rows at 200: 6 x 3, up to 212 along and 230 across."""
    bed = replace(BED, planting=replace(PLANTING, pattern="square"))
    found = by_knob(bed)

    assert found["spacing"].same_up_to == 212
    assert (found["spacing"].more_at, found["spacing"].more_plants) == (
        Fraction("176.6"), 21,
    )  # fmt: skip
    # Five pitches of 200 leave 60 of 1180, so that 90 mm are free at each end; two rows leave 90.
    assert found["edge_margin"].same_up_to == 90
    assert found["clearance"].same_up_to == 40
    assert "joint_gap" not in found


def test_a_joint_gap_is_looked_at_both_ways() -> None:
    """Two rafts of 590 less half the gap; square rows at 200 with 60 mm margins, bed-wide."""
    planting = replace(PLANTING, pattern="square", joints="bed-wide")
    bed = replace(BED, joint_gap=length(0), rafts=Split(2, 1), planting=planting)

    assert "joint_gap" in by_knob(bed)


def test_thresholds_leave_hand_edits_aside() -> None:
    planting = replace(PLANTING, pins=(Pin("R1", length(300), length(300)),))

    assert thresholds(replace(BED, planting=planting), "mm") == thresholds(BED, "mm")


@pytest.mark.parametrize(
    "outline", [Disc(length(900)), LShape(*map(length, (1100, 900, 500, 400)))]
)
def test_odd_outlines_are_halved_between_counts(outline: Disc | LShape) -> None:
    bed = replace(BED, outline=outline)
    for found in thresholds(bed, "mm"):
        assert found.step == (fine_step("mm") if found.knob == "spacing" else 1)
        if found.same_up_to is not None:
            assert plants(changed(bed, found.knob, found.same_up_to)) >= found.plants


def test_a_bed_in_which_nothing_fits_gains_by_a_smaller_margin() -> None:
    bed = replace(BED, planting=replace(PLANTING, edge_margin=length(300)))
    found = by_knob(bed)["edge_margin"]

    assert found.plants == 0
    assert found.same_up_to is None
    assert found.more_at == 290


def test_a_bed_with_a_zone_is_counted_with_all_its_plantings() -> None:
    zone = Zone(
        "herbs",
        ZoneRules(spacing=length(120)),
        shape=Rectangle(length(400), length(600)),
        corner=(length(0), length(0)),
    )
    bed = replace(BED, zones=(zone,))
    counter = BedCounter(bed, PLANTING)
    (plan,) = make_plan(Project("p", beds=(bed,))).beds

    assert counter.plants() == plan.plants
    assert counter.room is None
    assert not counter.is_quick


def test_without_planting_there_are_none() -> None:
    assert thresholds(replace(BED, planting=None), "mm") == ()
