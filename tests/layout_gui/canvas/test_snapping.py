from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.model.guide_line import GuideLine
from geometry.units import Length, Unit
from layout_gui.canvas.places import Places
from layout_gui.canvas.snapping import Grid, Snapper, make_snapper, snap_words
from tests.layout_gui.canvas.hand_made import HandMade

# Rafts of 600 x 400 at x = 10 and 615, y = 10; columns at 100, 300, 500, rows at 100, 300.


def snapper(*, unit: Unit = "mm", turned: frozenset[str] = frozenset(), **more: Any) -> Snapper:
    plan = HandMade(turned=turned)
    places = Places(plan(plan.project(), None).beds[0])
    moved = frozenset({("R1", "A2")})
    return make_snapper(places, places.rafts["R1"], without=moved, unit=unit, **more)


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


def words(x: float, y: float, **more: Any) -> str:
    return snap_words(snapper(**more).snap(x, y, 6)[1])


def test_each_line_says_what_it_is() -> None:
    # The raft is 600 x 400 at (10, 10) in a bed of 1225 x 420; centres keep 60 from its edge.
    assert words(112, 200) == "in line with A1"
    assert words(512, 308) == "in line with B3"  # of a column the hole that is nearest
    assert words(150, 212) == "middle of R1"
    assert words(72, 180) == "margin of R1"
    assert words(609, 180) == "edge of R1"
    assert words(613, 180) == "middle of the bed"
    assert words(716, 180) == "in line with A1 of R2"
    assert words(70, 210) == "margin of R1, middle of R1"
    assert words(150, 180) == ""


def test_guide_lines_attract_and_win_where_lines_coincide() -> None:
    lines = (
        GuideLine("North", "x", Length.of(150)),
        GuideLine("North", "y", Length.of(110)),
        GuideLine("North", "y", Length.of(183)),
    )
    place, guides = snapper(guide_lines=lines).snap(152, 112, 6)
    assert place == (150, 110)
    assert [guide.word for guide in guides] == ["guide line", "guide line"]
    assert [(guide.low, guide.high) for guide in guides] == [(0, 420), (0, 1225)]


def test_the_grid_attracts_where_no_line_does() -> None:
    grid = Grid(25, (5, 5))
    place, guides = snapper(grid=grid).snap(158, 182, 6)
    assert place == (155, 180)
    assert [guide.word for guide in guides] == ["grid", "grid"]
    assert snapper(grid=grid).snap(107, 166.4, 6)[0] == (110, 166)


@given(x=st.floats(-50, 700), y=st.floats(-50, 500), reach=st.floats(0, 20))
def test_nothing_jumps_farther_than_its_reach(x: float, y: float, reach: float) -> None:
    (at_x, at_y), guides = snapper(grid=Grid(17)).snap(x, y, reach)
    for snapped, value in ((at_x, x), (at_y, y)):
        assert abs(snapped - value) <= max(reach, 0.5) + 1e-9
    for guide in guides:
        assert guide.low <= guide.beside <= guide.high
        assert guide.word
