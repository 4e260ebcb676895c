"""What reaches no place for a centre changes nothing; from there on it does."""

from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.model.bed import Bed, Obstacle, Split, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import JOINT_RULES, JointRule, Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, make_plan
from geometry.units import Length

mm = Length.of
BED = Bed(
    "bench",
    Rectangle(mm(1200), mm(600)),
    joint_gap=mm(5),
    rafts=Split(2, 1),
    planting=Planting(mm(190), mm(50), pattern="square", edge_margin=mm(60)),
)


def planned(bed: Bed) -> BedPlan:
    return make_plan(Project("p", beds=(bed,))).beds[0]


@pytest.mark.parametrize("joints", JOINT_RULES)
def test_a_pipe_in_a_corner_leaves_the_rows_of_the_bare_bed(joints: JointRule) -> None:
    """A pipe of radius 20 at (20, 20) keeps centres 55 mm away; the nearest is at (60, 60)."""
    assert BED.planting is not None
    bare = replace(BED, planting=replace(BED.planting, joints=joints))
    pipe = Obstacle("pipe", Disc(mm(40)), Spot(mm(20), mm(20)), None, mm(10))
    one, other = planned(replace(bare, obstacles=(pipe,))), planned(bare)

    assert [raft.design.holes for raft in one.rafts] == [raft.design.holes for raft in other.rafts]
    assert one.tried == other.tried
    assert one.proof is not None
    assert other.proof is not None
    assert (one.proof.kind, one.proof.families) == (other.proof.kind, other.proof.families)


@pytest.mark.parametrize("unit", [Fraction(1), Fraction(254, 10)])
def test_what_touches_the_places_for_centres_is_not_in_the_way_and_a_hair_more_is(
    unit: Fraction,
) -> None:
    """Centres from 4 to 20 along one row; radius 2 and hole 1 with the pipe's middle at y = 1."""
    planting = Planting(
        Length(8 * unit), Length(2 * unit), pattern="square", edge_margin=Length(4 * unit)
    )
    bed = Bed("row", Rectangle(Length(24 * unit), Length(8 * unit)), planting=planting)

    def plants(radius: Fraction) -> int:
        pipe = Obstacle("pipe", Disc(Length(2 * radius)), Spot(Length(12 * unit), Length(1 * unit)))
        return planned(replace(bed, obstacles=(pipe,))).plants

    assert plants(2 * unit) == 3
    assert plants(2 * unit + Fraction(1, 1000)) == 2
