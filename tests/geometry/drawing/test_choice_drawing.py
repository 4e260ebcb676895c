"""The small drawing of a choice has every hole where the plan has it."""

from dataclasses import replace

import numpy as np
import pytest

from geometry.drawing.choice_drawing import MOST_IN_BED, MOST_IN_RAFT, draw_choice
from geometry.drawing.marks import Circle, Drawing, Path
from geometry.drawing.transforms import marks_of
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.plan import BedPlan, make_plan
from geometry.units import Length

PLANTING = Planting(Length.of(100), Length.of(40), pattern="square", joints="separate")
BED = Bed("b", Rectangle(Length.of(1000), Length.of(600)), rafts=Split(2, 1), planting=PLANTING)


def planned(bed: Bed) -> BedPlan:
    return make_plan(Project("p", beds=(bed,))).beds[0]


def drawn(plan: BedPlan) -> Drawing:
    made = draw_choice(plan)
    assert made is not None
    return made


def circles(drawing: Drawing) -> list[tuple[float, float, float]]:
    return sorted(
        (mark.centre.x, mark.centre.y, mark.radius)
        for mark in marks_of(drawing.groups)
        if isinstance(mark, Circle)
    )


def test_a_small_bed_is_drawn_whole() -> None:
    plan = planned(BED)
    made = drawn(plan)

    wanted = []
    for raft in plan.rafts:
        size = np.array([raft.design.shape.length, raft.design.shape.width], dtype=float)
        places = raft.design.holes.xy
        places = size - places if raft.turned else places
        wanted += [(x + raft.x, y + raft.y, 20.0) for x, y in places.tolist()]
    assert np.array(circles(made)) == pytest.approx(np.array(sorted(wanted)))
    assert [group.id for group in made.groups] == ["water", "rafts", "holes"]
    assert sum(isinstance(mark, Path) for mark in marks_of(made.groups)) == 1 + len(plan.rafts)


@pytest.mark.parametrize(
    "bed",
    [
        replace(BED, outline=Rectangle(Length.of(9000), Length.of(600)), rafts=Split(8, 1)),
        replace(BED, outline=Rectangle(Length.of(3000), Length.of(2400))),
    ],
    ids=["long", "large"],
)
def test_a_long_or_a_large_bed_is_drawn_as_its_fullest_raft(bed: Bed) -> None:
    plan = planned(bed)
    made = drawn(plan)

    fullest = max(plan.designs, key=lambda design: len(design.holes))
    assert len(circles(made)) == len(fullest.holes)
    assert [group.id for group in made.groups] == ["rafts", "holes"]


def test_of_a_very_full_raft_the_datum_corner_is_drawn() -> None:
    dense = replace(PLANTING, spacing=Length.of(50), hole_diameter=Length.of(20))
    bed = replace(
        BED, outline=Rectangle(Length.of(4000), Length.of(2400)), rafts=Split(1, 1), planting=dense
    )
    plan = planned(bed)
    assert plan.plants > MOST_IN_RAFT > MOST_IN_BED

    found = np.array(circles(drawn(plan)))

    assert len(found) == MOST_IN_RAFT
    assert found[:, :2].max() < plan.designs[0].holes.xy.max()


def test_a_bed_without_rafts_has_no_drawing() -> None:
    assert draw_choice(planned(replace(BED, clearance=Length.of(400)))) is None
