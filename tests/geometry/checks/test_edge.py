"""Edge margin: from the raft's edge to the centre of a hole."""

import pytest

from geometry.checks.check_all import check_raft
from geometry.checks.finding import LeaveOut, MoveHole
from geometry.checks.ground import Ground
from tests.geometry.checks.rafts import cured, drilled, make_raft, make_rules

RULES = make_rules(edge_margin=60)


def test_a_centre_exactly_on_the_margin_passes() -> None:
    assert not check_raft(Ground(make_raft(drilled([(60, 60), (940, 540)])), RULES))


def test_a_centre_too_near_the_edge_moves_straight_away_from_it() -> None:
    (finding,) = check_raft(Ground(make_raft(drilled([(300, 552.5)])), RULES))

    assert (finding.code, finding.amount_mm, finding.limit_mm) == ("edge", 47.5, 60)
    assert finding.cure == MoveHole("R1", "A1", 300.0, 540.0)


def test_in_a_corner_the_hole_leaves_both_edges() -> None:
    raft = make_raft(drilled([(40, 45)]))

    (finding,) = check_raft(Ground(raft, RULES))

    assert finding.amount_mm == 40
    assert finding.cure == MoveHole("R1", "A1", 60.0, 60.0)
    assert not check_raft(Ground(cured([raft], finding.cure)[0], RULES))


def test_a_centre_off_the_raft_has_a_negative_amount_and_comes_back() -> None:
    raft = make_raft(drilled([(-30, 300)]))

    found = check_raft(Ground(raft, RULES))

    assert [(finding.code, finding.amount_mm) for finding in found] == [("web", -55), ("edge", -30)]
    assert found[1].cure == MoveHole("R1", "A1", 60.0, 300.0)


def test_a_hole_that_would_crowd_another_comes_in_beside_it() -> None:
    # 60 mm from the edge and 200 mm from the other: 300 less the root of 200² - 180².
    (finding,) = check_raft(Ground(make_raft(drilled([(40, 300), (240, 300)])), RULES))

    assert isinstance(finding.cure, MoveHole)
    assert finding.cure.x == pytest.approx(60, abs=0.002)
    assert abs(finding.cure.y - 300) == pytest.approx(87.178, abs=0.005)


def test_a_hole_that_cannot_come_in_without_crowding_is_left_out() -> None:
    raft = make_raft(drilled([(40, 60), (240, 60)]), size=(1000, 120))

    (finding,) = check_raft(Ground(raft, RULES))

    assert finding.cure == LeaveOut("R1", "A1")


def test_a_raft_too_narrow_for_the_margin_leaves_its_holes_out() -> None:
    raft = make_raft(drilled([(500, 50)]), size=(1000, 100))

    (finding,) = check_raft(Ground(raft, RULES))

    assert finding.amount_mm == pytest.approx(50)
    assert finding.cure == LeaveOut("R1", "A1")
