import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.plan import BedPlan, PlacedRaft
from layout_gui.canvas.places import Places, to_bed, to_raft
from tests.builders import make_bed_plan, make_design
from tests.layout_gui.canvas.hand_made import HandMade

COORDINATE = st.floats(-1e5, 1e5)


def bed_plan(**options: object) -> BedPlan:
    plan = HandMade(**options)  # type: ignore[arg-type]
    return plan(plan.project(), None).beds[0]


@given(x=COORDINATE, y=COORDINATE, left=COORDINATE, bottom=COORDINATE, turned=st.booleans())
def test_raft_and_bed_coordinates_are_each_other_s_way_back(
    x: float, y: float, left: float, bottom: float, turned: bool
) -> None:
    placed = PlacedRaft("R1", make_design(), left, bottom, turned)
    there = to_bed(placed, np.array([[x, y]]))[0]
    assert to_raft(placed, *there) == pytest.approx((x, y), abs=1e-6)


def test_a_turned_raft_has_its_datum_corner_at_the_upper_right() -> None:
    placed = PlacedRaft("R1", make_design(), 10, 20, turned=True)  # 581 x 560
    assert to_bed(placed, np.zeros((1, 2))).tolist() == [[591, 580]]


@pytest.mark.parametrize("turned", [frozenset(), frozenset({"R2"})])
def test_a_hole_is_found_anywhere_within_its_rim_and_a_little_beside(
    turned: frozenset[str],
) -> None:
    places = Places(bed_plan(turned=turned))
    for spot in places.spots(places.all_names()):
        assert places.hole_at(spot.x + 17, spot.y - 17, 0) == spot
        assert places.hole_at(spot.x + 26, spot.y, 0) is None
        assert places.hole_at(spot.x + 26, spot.y, 2) == spot


def test_a_hole_over_the_edge_of_its_raft_is_found_too() -> None:
    plan = HandMade(length=300, columns=8)
    places = Places(plan(plan.project(), None).beds[0])
    first = places.spots([("R1", "A1")])[0]
    assert first.x - first.radius < 10
    assert places.hole_at(first.x - 20, first.y, 0) == first


def test_a_frame_holds_the_holes_whose_centres_lie_in_it() -> None:
    places = Places(bed_plan(along=3, across=2, turned=frozenset({"R4"})))
    box = (100, 90, 1300, 600)
    inside = {
        spot.name
        for spot in places.spots(places.all_names())
        if box[0] <= spot.x <= box[2] and box[1] <= spot.y <= box[3]
    }
    assert set(places.holes_in(*box)) == inside
    assert places.count_in(*box) == len(inside)
    assert 0 < len(inside) < len(places.all_names())


def test_rafts_are_found_by_place() -> None:
    places = Places(bed_plan())
    assert places.raft_at(5, 5) is None
    first, second = places.raft_at(11, 11), places.raft_at(1214, 409)
    assert first is not None
    assert second is not None
    assert (first.name, second.name) == ("R1", "R2")
    assert places.raft_at(612, 100) is None


def test_holes_are_named_by_their_exact_place() -> None:
    places = Places(bed_plan(turned=frozenset({"R2"})))
    for name in places.all_names():
        (spot,) = places.spots([name])
        assert places.names_at([(spot.raft, spot.x, spot.y)]) == [name]
        assert places.names_at([(spot.raft, spot.x + 1, spot.y)]) == []


def test_holes_follow_each_other_in_name_order_from_raft_to_raft() -> None:
    places = Places(bed_plan(columns=2, rows=1))
    walk = [places.next_to(None, 1)]
    while walk[-1] is not None:
        walk.append(places.next_to(walk[-1], 1))
    assert walk == [("R1", "A1"), ("R1", "A2"), ("R2", "A1"), ("R2", "A2"), None]
    assert places.next_to(None, -1) == ("R2", "A2")
    assert places.next_to(("R1", "A1"), -1) is None


def test_names_that_are_gone_have_no_place() -> None:
    places = Places(make_bed_plan())
    assert places.spots([("R1", "Z9"), ("R77", "A1")]) == []
    assert places.names_at([("R77", 0.0, 0.0)]) == []


def test_many_circles_are_the_spots_in_short() -> None:
    places = Places(bed_plan(along=3, turned=frozenset({"R2"})))
    names = [name for name in places.all_names() if name[0] != "R1" or name[1] in {"A1", "B3"}]
    spots = places.spots(names)
    expected = [(spot.x, spot.y, spot.radius) for spot in spots]
    assert sorted(places.circles(names).tolist()) == sorted(map(list, expected))
    assert places.circles([("R77", "A1")]).shape == (0, 3)
