import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.units import Unit
from layout_gui.canvas.places import Places
from layout_gui.canvas.snapping import Snapper, make_snapper
from tests.layout_gui.canvas.hand_made import HandMade

# Rafts of 600 x 400 at x = 10 and 615, y = 10; columns at 100, 300, 500, rows at 100, 300.


def snapper(*, unit: Unit = "mm", turned: frozenset[str] = frozenset()) -> Snapper:
    plan = HandMade(turned=turned)
    places = Places(plan(plan.project(), None).beds[0])
    return make_snapper(places, places.rafts["R1"], without=frozenset({("R1", "A2")}), unit=unit)


def test_rows_and_columns_of_other_holes_attract() -> None:
    place, guides = snapper().snap(112, 308, 6)
    assert place == (110, 310)
    assert [(guide.axis, guide.at) for guide in guides] == [("x", 110), ("y", 310)]
    # The line reaches from the hole it belongs to as far as the place itself.
    assert guides[0].low <= 110
    assert guides[0].high >= 310


def test_the_middle_of_the_raft_attracts() -> None:
    place, guides = snapper().snap(200, 213, 6)
    assert place == (200, 210)
    assert [(guide.axis, guide.at, guide.low, guide.high) for guide in guides] == [
        ("y", 210, 10, 610)
    ]


def test_a_neighbour_s_holes_attract() -> None:
    assert snapper().snap(200, 111.5, 6)[0] == (200, 110)


def test_a_moved_hole_does_not_hold_itself_back() -> None:
    plan = HandMade(rows=1, along=1)
    places = Places(plan(plan.project(), None).beds[0])
    moved = frozenset({("R1", "A1")})
    alone = make_snapper(places, places.rafts["R1"], without=moved, unit="mm")
    assert alone.snap(112.4, 100, 6)[0] == (112, 100)


def test_beyond_reach_only_the_grid_of_the_tape_counts() -> None:
    place, guides = snapper().snap(117.6, 318.4, 6)
    assert place == (118, 318)
    assert guides == ()


@given(x=st.floats(120, 200), y=st.floats(120, 200))
def test_in_inches_the_grid_is_a_sixteenth_from_the_datum(x: float, y: float) -> None:
    (at_x, at_y), guides = snapper(unit="in").snap(x, y, 0)
    assert guides == ()
    for snapped, value in ((at_x, x), (at_y, y)):
        steps = (snapped - 10) / (25.4 / 16)
        assert steps == pytest.approx(round(steps), abs=1e-9)
        assert abs(snapped - value) <= 25.4 / 32 + 1e-9


def test_a_turned_raft_is_measured_from_its_own_datum() -> None:
    # Datum corner at (610, 410): 1/16 in steps count from there.
    (x, y), _ = snapper(unit="in", turned=frozenset({"R1"})).snap(150, 150, 0)
    for gap in (610 - x, 410 - y):
        assert gap / (25.4 / 16) == pytest.approx(round(gap / (25.4 / 16)), abs=1e-9)
