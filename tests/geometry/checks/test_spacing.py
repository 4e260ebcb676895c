"""Spacing on one raft, from centre to centre."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.check_all import check_raft
from geometry.checks.finding import Finding, LeaveOut, MoveHole
from geometry.checks.ground import Ground
from geometry.checks.raft_in_bed import RaftInBed
from tests.geometry.checks.rafts import cured, drilled, make_raft, make_rules


def _found(raft: RaftInBed, **rules: float) -> tuple[Finding, ...]:
    return check_raft(Ground(raft, make_rules(**rules)))  # type: ignore[arg-type]  # lengths only


def test_plants_exactly_the_spacing_apart_pass() -> None:
    assert not _found(make_raft(drilled([(100, 100), (340, 100), (220, 260)])))


@pytest.mark.parametrize(("short_by", "told"), [(0.9e-6, 0), (1.1e-6, 1)])
def test_the_limit_has_one_tolerance(short_by: float, told: int) -> None:
    assert len(_found(make_raft(drilled([(100, 100), (300 - short_by, 100)])))) == told


def test_a_finding_says_what_where_and_how_far_off() -> None:
    raft = make_raft(drilled([(100, 100), (290, 100)], pinned=[1]), at=(1010, 10))

    (finding,) = _found(raft)

    assert finding == Finding(
        code="spacing",
        severity="problem",
        bed="Bench",
        raft="R1",
        holes=("A1", "A2"),
        place=(1205.0, 110.0),
        amount_mm=190.0,
        limit_mm=200.0,
        cure=MoveHole("R1", "A2", 300.0, 100.0),
    )


def test_the_place_follows_a_turned_raft() -> None:
    raft = make_raft(drilled([(100, 100), (290, 100)]), at=(1000, 0), turned=True)

    (finding,) = _found(raft)

    assert finding.place == (1000 + 1000 - 195, 500)


def test_a_pinned_hole_moves_before_one_of_the_pattern() -> None:
    (finding,) = _found(make_raft(drilled([(110, 100), (300, 100)], pinned=[0])))

    assert finding.cure == MoveHole("R1", "A1", 100.0, 100.0)


def test_the_missing_amount_is_rounded_up_to_thousandths() -> None:
    (finding,) = _found(make_raft(drilled([(100, 100), (299.99951, 100)])))

    assert finding.cure == MoveHole("R1", "A2", 300.0, 100.0)


def test_a_hole_between_others_moves_to_the_nearest_place_that_all_rules_allow() -> None:
    # 200 mm from both neighbours, straight up: the square root of 200² - 190² is 62.45.
    found = _found(make_raft(drilled([(100, 300), (290, 300), (480, 300)], pinned=[1])))

    assert len(found) == 2
    for finding in found:
        assert isinstance(finding.cure, MoveHole)
        assert finding.cure.x == pytest.approx(290, abs=0.002)
        assert abs(finding.cure.y - 300) == pytest.approx(62.45, abs=0.006)


def test_a_hole_without_a_way_out_is_left_out() -> None:
    # On a raft as narrow as a hole there is no place 200 mm from both neighbours.
    holes = drilled([(100, 25), (290, 25), (480, 25)], pinned=[1])

    found = _found(make_raft(holes, size=(1000, 50)))

    assert [finding.cure for finding in found] == [LeaveOut("R1", "A2")] * 2


def test_a_move_over_the_edge_is_no_cure() -> None:
    (finding,) = _found(make_raft(drilled([(790, 25), (970, 25)]), size=(1000, 50)))

    assert finding.cure == LeaveOut("R1", "A2")


def test_two_holes_in_one_place_are_parted() -> None:
    (near, overlap) = _found(make_raft(drilled([(300, 300), (300, 300)])))

    assert (near.code, near.amount_mm) == ("spacing", 0)
    assert (overlap.code, overlap.amount_mm) == ("web", -50)
    assert near.cure == overlap.cure == MoveHole("R1", "A2", 500.0, 300.0)


_centres = st.lists(
    st.tuples(st.integers(0, 2000).map(lambda n: n / 2), st.integers(0, 1200).map(lambda n: n / 2)),
    max_size=12,
    unique=True,
)


@given(centres=_centres)
def test_the_pairs_are_those_of_comparing_all(centres: list[tuple[float, float]]) -> None:
    raft = make_raft(drilled(centres))

    told = {finding.holes for finding in _found(raft) if finding.code == "spacing"}

    xy, names = raft.holes.xy, raft.holes.names
    assert told == {
        (names[i], names[j])
        for i in range(len(xy))
        for j in range(i + 1, len(xy))
        if np.hypot(*(xy[i] - xy[j])) < 200 - 1e-6
    }


@settings(deadline=None, max_examples=20)
@given(centres=_centres, web=st.sampled_from([0, 30]), margin=st.sampled_from([0, 60]))
def test_every_cure_clears_its_finding_and_brings_no_new_one(
    centres: list[tuple[float, float]], web: float, margin: float
) -> None:
    raft = make_raft(drilled(centres, pinned=range(0, len(centres), 3)))
    found = _found(raft, web=web, edge_margin=margin)
    keys = {finding.key for finding in found}

    for finding in found:
        (after,) = cured([raft], finding.cure)
        left = {other.key for other in _found(after, web=web, edge_margin=margin)}
        assert left <= keys - {finding.key}


@settings(deadline=None, max_examples=20)
@given(centres=_centres, margin=st.sampled_from([25, 60]))
def test_no_place_is_nearer_than_the_one_a_hole_is_given(
    centres: list[tuple[float, float]], margin: float
) -> None:
    raft = make_raft(drilled(centres))
    ground = Ground(raft, make_rules(edge_margin=margin))
    steps = np.arange(-200, 201, 5.0)
    around = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)

    for hole in range(len(centres)):
        place = raft.holes.xy[hole]
        if ground.allows(np.array([hole]), place[None])[0]:
            continue
        allowed = ground.allows(np.full(len(around), hole), place + around)
        nearest = np.hypot(*around[allowed].T).min(initial=np.inf)
        if found := ground._nearest_place(hole):
            assert np.hypot(*(np.array(found) - place)) <= nearest + 0.01
        else:
            assert nearest > 195
