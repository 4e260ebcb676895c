"""What squeezing asks of a plan: which room, which rafts, how much at most."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

import numpy as np
import pytest

from geometry.compare.squeezing import Question, question_of
from geometry.errors import GeometryError
from geometry.model.bed import Bed, Obstacle, One, Split, Spot
from geometry.model.outlines import Disc, LShape, Outline, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, make_plan
from geometry.units import Length

L_BED = LShape(Length.of(1000), Length.of(600), Length.of(300), Length.of(200))


def plan_of(
    outline: Outline | None = None, *, split: tuple[int, int] = (3, 1), **rules: Any
) -> BedPlan:
    obstacles = rules.pop("obstacles", ())
    planting = Planting(Length.of(150), Length.of(50), edge_margin=Length.of(40))
    bed = Bed(
        "Bed",
        outline or Rectangle(Length.of(1510), Length.of(500)),
        joint_gap=Length.of(5),
        obstacles=obstacles,
        rafts=Split(*split) if split != (1, 1) else One(),
        planting=replace(planting, **rules),
    )
    return make_plan(Project("Test", "mm", (bed,))).beds[0]


def pipe(x: int, y: int) -> Obstacle:
    return Obstacle(
        "pipe", Disc(Length.of(60)), centre=Spot(Length.of(x), Length.of(y)), clearance=Length.of(9)
    )


def test_bed_wide_keeps_away_from_the_plants_next_door_and_asks_for_one_raft() -> None:
    plan = plan_of(joints="bed-wide")

    asked = question_of(plan, "R2")

    assert asked.rafts == ("R2",)
    left, right = plan.rafts[0], plan.rafts[2]
    own = plan.rafts[1]
    expected = [
        (x + raft.x - own.x, y + raft.y - own.y)
        for raft in (left, right)
        for x, y in raft.design.holes.xy.tolist()
    ]
    assert len(asked.room.fixed)
    assert {(round(x, 6), round(y, 6)) for x, y in asked.room.fixed.tolist()} <= {
        (round(x, 6), round(y, 6)) for x, y in expected
    }
    assert asked.room.region.bounds() == (40.0, 40.0, 460.0, 460.0)
    assert asked.room.is_legal(asked.begin)


def test_every_plant_near_enough_to_matter_is_among_the_fixed_ones() -> None:
    plan = plan_of(joints="bed-wide")
    asked = question_of(plan, "R2")
    own = plan.rafts[1]

    for raft in (plan.rafts[0], plan.rafts[2]):
        shift = np.array([raft.x - own.x, raft.y - own.y])
        for x, y in (raft.design.holes.xy + shift).tolist():
            away = max(40 - x, x - 460, 0.0)
            near = away < asked.room.spacing
            told = np.hypot(*(asked.room.fixed - [x, y]).T).min(initial=np.inf) < 1e-6
            assert told == near


def test_interchangeable_keeps_seam_margins_and_all_rafts_of_the_shape_gain() -> None:
    plan = plan_of(joints="interchangeable")

    asked = question_of(plan, "R2")

    assert sorted(asked.rafts) == ["R1", "R2", "R3"]
    assert asked.rafts[0] == "R2"
    assert len(asked.room.fixed) == 0
    assert asked.room.region.bounds() == (72.5, 40, 427.5, 460)


def test_separate_rafts_gain_where_they_are_alike() -> None:
    plan = plan_of(joints="separate", obstacles=(pipe(250, 250),))

    assert question_of(plan, "R2").rafts == ("R2", "R3")
    assert question_of(plan, "R1").rafts == ("R1",)
    assert len(question_of(plan, "R1").room.region.keep_outs) == 1


def test_a_raft_edited_by_hand_is_no_longer_alike() -> None:
    plan = plan_of(joints="separate")
    (x, y), *_ = plan.rafts[2].design.holes.xy.tolist()
    edited = plan_of(
        joints="separate",
        blanks=(_blank("R3", x, y),),
    )

    assert question_of(edited, "R1").rafts == ("R1", "R2")
    assert question_of(edited, "R3").rafts == ("R3",)
    assert len(question_of(edited, "R3").begin) == len(question_of(edited, "R1").begin) - 1


def _blank(raft: str, x: float, y: float) -> Any:
    from geometry.model.planting import Blank  # noqa: PLC0415  a helper's own

    return Blank(raft, Length.of(x), Length.of(y))


@pytest.mark.parametrize("joints", ["bed-wide", "interchangeable", "separate"])
@pytest.mark.parametrize("outline", [None, L_BED, Disc(Length.of(900))])
def test_the_ceiling_is_never_below_what_there_is(joints: Any, outline: Outline | None) -> None:
    plan = plan_of(outline, split=(1, 1) if outline else (3, 1), joints=joints)

    for raft in plan.rafts:
        asked = question_of(plan, raft.name)
        if asked.room.is_legal(asked.begin):
            assert asked.ceiling >= len(asked.begin)


def test_a_square_knows_its_record_and_its_proof() -> None:
    """Side 420 at 150: m_10 is 0.4213, so 9 is proved to be the most below 176.9 mm."""
    asked = question_of(plan_of(joints="separate", spacing=Length.of(177)), "R1")

    assert asked.best_known == 9
    assert asked.ceiling == 9
    assert not asked.can_win
    assert Fraction(177, 420) > Fraction("0.42127954398390343277")


def test_a_disc_knows_its_record_and_its_proof() -> None:
    """Radius 410 at 300: m_7 = 1 and m_8 = 0.8678 (proved) leave 7 as the most above 355.8 mm."""
    disc = Disc(Length.of(900))

    far = question_of(plan_of(disc, split=(1, 1), joints="separate", spacing=Length.of(360)), "R1")
    near = question_of(plan_of(disc, split=(1, 1), joints="separate"), "R1")

    assert (far.best_known, far.ceiling) == (7, 7)
    assert near.best_known is not None
    assert len(near.begin) <= near.best_known <= near.ceiling


def test_the_proof_of_the_whole_bed_counts_where_all_rafts_gain() -> None:
    plan = plan_of(joints="separate")
    assert plan.ceiling is not None

    tight = question_of(replace(plan, ceiling=len(question_of(plan, "R1").begin) * 3 + 2), "R1")

    assert tight.ceiling == len(tight.begin)
    assert not tight.can_win
    wide = question_of(replace(plan_of(joints="bed-wide"), ceiling=0), "R1")
    assert wide.ceiling > 0


def test_other_shapes_and_obstacles_know_no_record() -> None:
    assert question_of(plan_of(L_BED, split=(1, 1), joints="separate"), "R1").best_known is None
    with_pipe = plan_of(joints="separate", obstacles=(pipe(250, 250),))
    assert question_of(with_pipe, "R1").best_known is None


def test_places_are_for_the_tape_of_the_units_unless_the_planting_says_otherwise() -> None:
    plain = plan_of(joints="separate")
    rounded = plan_of(joints="separate", round_to=Length.of(5))

    assert question_of(plain, "R1").step_mm == 1
    assert question_of(plain, "R1", "in").step_mm == 1.5875
    assert question_of(rounded, "R1", "in").step_mm == 5


def test_a_question_asks_for_the_same_numbers_every_time() -> None:
    asked: Question = question_of(plan_of(joints="separate"), "R1")

    assert asked.generator().random() == asked.generator().random()


@pytest.mark.parametrize(
    ("raft", "rules", "sentence"),
    [
        ("R9", {}, "no raft R9"),
        ("R1", {"spacing": Length.of(5), "hole_diameter": Length.of(2)}, "smaller rafts"),
        ("R1", {"in_use": "every second"}, "every second hole"),
    ],
)
def test_what_cannot_be_squeezed_is_refused_with_a_sentence(
    raft: str, rules: dict[str, Any], sentence: str
) -> None:
    plan = plan_of(joints="separate", **rules)

    with pytest.raises(GeometryError, match=sentence):
        question_of(plan, raft)


def test_zones_are_refused_with_a_sentence() -> None:
    plan = plan_of(joints="separate")
    zone = Zone("herbs", ZoneRules(spacing=Length.of(200)), rafts=("R1",))
    zoned = make_plan(Project("Test", "mm", (replace(plan.bed, zones=(zone,)),))).beds[0]

    with pytest.raises(GeometryError, match="zones"):
        question_of(zoned, "R2")


def test_a_bed_without_plants_is_refused() -> None:
    bed = Bed("Bed", Rectangle(Length.of(1000), Length.of(500)))
    plan = make_plan(Project("Test", "mm", (bed,))).beds[0]

    with pytest.raises(GeometryError, match="not planted"):
        question_of(plan, "R1")
