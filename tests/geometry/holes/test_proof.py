"""What is proved of a bed is said for the case in which it is proved, and for no other."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.holes.proof import Proof
from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Blank, Planting
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.units import Length


def length(mm: float | Fraction) -> Length:
    return Length(Fraction(mm))


PLANTING = Planting(length(200), length(50), edge_margin=length(60), joints="separate")
BED = Bed("bed", Rectangle(length(1200), length(800)), planting=PLANTING)
PIPE = Obstacle("pipe", Disc(length(40)), centre=Spot(length(600), length(400)))


def proof(bed: Bed) -> Proof:
    (plan,) = make_plan(Project("p", beds=(bed,))).beds
    assert plan.proof is not None
    assert plan.proof.ceiling == plan.ceiling
    return plan.proof


def planted(**rules: object) -> Bed:
    return replace(BED, planting=replace(PLANTING, **rules))


def test_rows_on_a_rectangle_are_searched_through() -> None:
    assert proof(BED).kind == "rows"
    assert proof(BED).families == ("square", "staggered", "mixed")
    assert proof(planted(pattern="hexagonal", rows="along")).families == ("hexagonal",)
    assert proof(planted(pattern="hexagonal", rows="along")).direction == "along"


def test_odd_outlines_and_obstacles_know_the_best_shift() -> None:
    for bed in (
        replace(BED, outline=Disc(length(1000))),
        replace(BED, obstacles=(PIPE,)),
    ):
        assert proof(bed).kind == "shift"
        assert proof(bed).families == ("square", "hexagonal")
    rings = replace(BED, outline=Disc(length(1000)), planting=replace(PLANTING, pattern="rings"))
    assert (proof(rings).kind, proof(rings).families) == ("open", ())


def test_joints_that_bind_leave_only_the_ceiling() -> None:
    bed = replace(BED, rafts=Split(2, 1), joint_gap=length(5))
    tight = replace(bed, planting=replace(PLANTING, joints="bed-wide"))
    # Two margins of 98 and the gap of 5 are more than the spacing.
    loose = replace(bed, planting=replace(PLANTING, joints="bed-wide", edge_margin=length(98)))

    assert proof(bed).kind == "rows"
    assert proof(tight).kind == "open"
    assert proof(loose).kind == "rows"
    assert not proof(loose).alike
    alike = replace(tight, planting=replace(PLANTING, joints="interchangeable"))
    assert proof(alike).alike


def test_a_reached_ceiling_is_full_and_hand_edits_end_what_is_known_of_the_pattern() -> None:
    # Two points in a square of side 200 stand at most 283 apart, three at most 207.
    bed = planted(spacing=length(270))
    full = replace(bed, outline=Rectangle(length(320), length(320)))
    assert proof(full).kind == "full"
    assert (proof(full).shape, proof(full).record) == ("square", 2)

    blank = replace(PLANTING, blanks=(Blank("R1", length(60), length(60)),))
    edited = replace(BED, planting=blank)
    (plan,) = make_plan(Project("p", beds=(edited,))).beds
    assert plan.proof is not None
    (before,) = make_plan(Project("p", beds=(BED,))).beds
    kinds = {before.plants: "rows", before.plants - 1: "open"}
    assert plan.proof.kind == kinds[plan.plants]


@pytest.mark.parametrize(
    ("side", "spacing", "record"),
    # m_39 = 0.1944, m_40 = 0.1882 (Specht, data/points-in-square.csv): 39 points at 0.19.
    [(1000, 190, 39), (1000, 1500, 1), (1000, 50, None)],
)
def test_the_record_for_a_square_is_known_but_no_proof(
    side: int, spacing: int, record: int | None
) -> None:
    bed = Bed(
        "square",
        Rectangle(length(side + 120), length(side + 120)),
        planting=replace(PLANTING, spacing=length(spacing), hole_diameter=length(5)),
    )
    assert proof(bed).record == record
    assert proof(bed).shape == "square"


def test_a_disc_has_records_and_other_shapes_none() -> None:
    # m_19 = 0.5176, m_20 = 0.4852 (Specht, data/points-in-circle.csv): 19 points at 0.5.
    disc = Bed("disc", Disc(length(1120)), planting=replace(PLANTING, spacing=length(250)))

    assert (proof(disc).shape, proof(disc).record) == ("disc", 19)
    assert (proof(BED).shape, proof(BED).record) == ("", None)


def test_without_planting_nothing_is_proved() -> None:
    (plan,) = make_plan(Project("p", beds=(replace(BED, planting=None),))).beds

    assert plan.proof is None
