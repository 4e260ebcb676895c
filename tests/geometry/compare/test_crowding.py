"""Leaves that reach into each other, counted from centres and radii."""

from dataclasses import replace
from math import hypot

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.compare.crowding import MOST_SPACINGS, Crowding, crowding, leaf_circles, overlapping
from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.zone import Zone, ZoneRules
from geometry.plan import BedPlan, make_plan
from geometry.units import Length

PLANTING = Planting(
    Length.of(200), Length.of(50), pattern="square", edge_margin=Length.of(100), spread=False
)
BED = Bed("b", Rectangle(Length.of(1200), Length.of(600)), planting=PLANTING, rafts=Split(2, 1))


def planned(bed: Bed = BED) -> BedPlan:
    return make_plan(Project("p", beds=(bed,))).beds[0]


def test_leaves_that_only_touch_do_not_overlap() -> None:
    """By hand: 3 x 3 plants at 200 mm on each of two rafts, 200 mm across the joint as well."""
    plan = planned()
    assert plan.plants == 18

    assert crowding(plan, (200.0,)) == Crowding(18, pytest.approx(200), 0, 0.0)  # type: ignore[arg-type]


def test_a_little_wider_and_all_neighbours_overlap() -> None:
    """In a grid of 6 x 3 there are 5 * 3 + 6 * 2 = 27 neighbours, and 2 * 5 * 2 diagonals."""
    plan = planned()

    near = crowding(plan, (201.0,))
    far = crowding(plan, (283.0,))

    assert (near.pairs, near.deepest) == (27, pytest.approx(1))
    assert far.pairs == 27 + 20  # 283 is just over 200 times the root of two
    assert crowding(plan, (282.0,)).pairs == 27


def test_plugged_holes_have_no_leaves() -> None:
    one = replace(BED, rafts=Split(1, 1))
    half = planned(replace(one, planting=replace(PLANTING, in_use="every second")))

    found = crowding(half, (201.0,))

    assert found.plants == half.plants - half.plugged
    assert found.pairs == 0
    assert found.nearest == pytest.approx(200 * 2**0.5)


def test_each_planting_has_its_own_width() -> None:
    bed = replace(BED, zones=(Zone("z", ZoneRules(crop="basil"), rafts=("R2",)),))
    plan = planned(bed)

    _, radii = leaf_circles(plan, (100.0, 300.0))
    assert sorted(set(radii.tolist())) == [50, 150]
    only, own = leaf_circles(plan, (None, 300.0))
    assert len(only) == plan.crops[1].plants
    assert set(own.tolist()) == {150}


def test_leaves_beyond_all_measure_are_not_counted() -> None:
    found = crowding(planned(), (200.0 * MOST_SPACINGS + 1,))

    assert found.pairs is None
    assert found.deepest > 0


@pytest.mark.parametrize("spacing", ["700", "1300"])
def test_one_plant_or_none_is_crowded_by_nobody(spacing: str) -> None:
    lone = replace(BED, rafts=Split(1, 1), planting=replace(PLANTING, spacing=Length.of(1300)))
    none = replace(BED, planting=replace(PLANTING, edge_margin=Length.of(500)))

    assert crowding(planned(lone), (float(spacing),)) == Crowding(1, None, 0, 0.0)
    assert crowding(planned(none), (300.0,)) == Crowding(0, None, 0, 0.0)


circles = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 60), st.integers(1, 20)), max_size=25
)


@given(circles)
def test_pairs_are_those_that_all_against_all_finds(found: list[tuple[int, int, int]]) -> None:
    xy = np.array([(x, y) for x, y, _ in found], dtype=float).reshape(-1, 2)
    radii = np.array([r for *_, r in found], dtype=float)

    first, second, depth = overlapping(xy, radii)

    wanted = {
        (i, j): a[2] + b[2] - hypot(a[0] - b[0], a[1] - b[1])
        for i, a in enumerate(found)
        for j, b in enumerate(found)
        if i < j and a[2] + b[2] - hypot(a[0] - b[0], a[1] - b[1]) > 1e-6
    }
    pairs = zip(first.tolist(), second.tolist(), strict=True)
    assert dict(zip(pairs, depth.tolist(), strict=True)) == pytest.approx(wanted)
