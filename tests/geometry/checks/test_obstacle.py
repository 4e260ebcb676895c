"""Rims keep away from obstacles, measured from their true outline."""

import math

import pytest

from geometry.checks.check_all import check_raft
from geometry.checks.finding import Finding, LeaveOut, MoveHole
from geometry.checks.ground import Ground
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import Hazard, hazards_of
from geometry.model.bed import Bed, Obstacle, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.units import Length
from tests.geometry.checks.rafts import drilled, make_raft, make_rules


def _hazards(*obstacles: Obstacle) -> tuple[Hazard, ...]:
    return hazards_of(Bed("Bench", Rectangle(Length.of(2000), Length.of(600)), obstacles=obstacles))


PIPE = Obstacle(
    "standpipe", Disc(Length.of(40)), Spot(Length.of(1500), Length.of(300)), None, Length.of(25)
)
BRACE = Obstacle(
    "brace",
    Rectangle(Length.of(100), Length.of(600)),
    None,
    Spot(Length.of(1500), Length.of(0)),
    Length.of(10),
)


def _found(raft: RaftInBed, obstacle: Obstacle = PIPE) -> tuple[Finding, ...]:
    return check_raft(Ground(raft, make_rules(), _hazards(obstacle)))


def test_a_rim_exactly_the_clearance_away_passes() -> None:
    # Pipe radius 20, clearance 25, hole radius 25: centres 70 apart.
    assert not _found(make_raft(drilled([(430, 300)]), at=(1000, 0)))


def test_a_rim_too_near_moves_straight_away() -> None:
    raft = make_raft(drilled([(440, 300)]), at=(1000, 0))

    (finding,) = _found(raft)

    assert (finding.code, finding.subject, finding.holes) == ("obstacle", "standpipe", ("A1",))
    assert finding.amount_mm == pytest.approx(15)
    assert finding.limit_mm == 25
    assert finding.place == (1440.0, 300.0)
    assert finding.cure == MoveHole("R1", "A1", 430.0, 300.0)


def test_on_a_turned_raft_the_move_is_turned_too() -> None:
    raft = make_raft(drilled([(560, 300)]), at=(1000, 0), turned=True)

    (finding,) = _found(raft)

    assert finding.place == (1440.0, 300.0)
    assert finding.cure == MoveHole("R1", "A1", 570.0, 300.0)


def test_a_slanting_distance_is_that_of_circles() -> None:
    away = 69.9995
    raft = make_raft(drilled([(500 + away * math.cos(1), 300 + away * math.sin(1))]), at=(1000, 0))

    (finding,) = _found(raft)

    assert finding.amount_mm == pytest.approx(24.9995, abs=1e-9)


def test_a_hole_within_the_obstacle_has_a_negative_amount() -> None:
    (finding,) = _found(make_raft(drilled([(520, 300)]), at=(1000, 0)), BRACE)

    assert finding.amount_mm == pytest.approx(-45)
    assert finding.cure == MoveHole("R1", "A1", 465.0, 300.0)


def test_a_hole_that_would_crowd_another_goes_round() -> None:
    raft = make_raft(drilled([(440, 300), (240, 300)]), at=(1000, 0))

    (finding,) = _found(raft)

    # 70 mm from the pipe at 500 and 200 mm from the other hole at 240.
    assert isinstance(finding.cure, MoveHole)
    x, y = finding.cure.x, finding.cure.y - 300
    assert math.hypot(500 - x, y) == pytest.approx(70, abs=0.003)
    assert math.hypot(240 - x, y) == pytest.approx(200, abs=0.003)


def test_a_hole_shut_in_by_an_obstacle_is_left_out() -> None:
    # On this side the other hole is too near, on the far side the raft ends too soon.
    raft = make_raft(drilled([(470, 25), (280, 25)]), size=(600, 50), at=(1000, 0))

    found = _found(raft, BRACE)

    assert {finding.code for finding in found} == {"obstacle", "spacing"}
    assert [f.cure for f in found if f.code == "obstacle"] == [LeaveOut("R1", "A1")]
