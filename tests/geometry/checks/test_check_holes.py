"""All holes of a bed: what is taken over from the last check never changes the result."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.check_holes import check_holes
from geometry.checks.raft_in_bed import RaftInBed
from geometry.checks.rules import hazards_of
from geometry.model.bed import Bed, Obstacle, Spot
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import JointRule
from geometry.units import Length
from tests.geometry.checks.rafts import drilled, make_raft, make_rules

PIPES = hazards_of(
    Bed(
        "Bench",
        Rectangle(Length.of(4030), Length.of(1810)),
        obstacles=tuple(
            Obstacle(
                f"pipe {k}",
                Disc(Length.of(40)),
                Spot(Length.of(1000 * k), Length.of(600)),
                None,
                Length.of(20),
            )
            for k in range(4)
        ),
    )
)
SHAPE = make_raft(drilled([])).shape

_moves = st.lists(
    st.tuples(
        st.integers(0, 11),
        st.integers(0, 14),
        st.integers(-20, 1020),
        st.integers(-20, 620),
    ),
    max_size=4,
)


def _grid() -> list[tuple[float, float]]:
    return [(100.0 + 200 * i, 100.0 + 200 * j) for j in range(3) for i in range(5)]


def _bed(moves: list[tuple[int, int, int, int]]) -> list[RaftInBed]:
    centres = [_grid() for _ in range(12)]
    pinned: list[set[int]] = [set() for _ in centres]
    for raft, hole, x, y in moves:
        centres[raft][hole] = (float(x), float(y))
        pinned[raft].add(hole)
    return [
        RaftInBed(
            "Bench",
            f"R{k + 1}",
            SHAPE,
            drilled(centres[k], pinned=sorted(pinned[k])),
            1010 * (k % 4),
            610 * (k // 4),
            k % 5 == 1,
        )
        for k in range(12)
    ]


@settings(deadline=None, max_examples=12)
@given(
    first=_moves,
    then=_moves,
    joints=st.sampled_from(["bed-wide", "interchangeable", "separate"]),
)
def test_checking_again_only_where_something_changed_finds_the_same(
    first: list[tuple[int, int, int, int]],
    then: list[tuple[int, int, int, int]],
    joints: JointRule,
) -> None:
    rules = make_rules(joints=joints, web=20, edge_margin=60)
    before = check_holes(_bed(first), rules, PIPES)

    again = check_holes(_bed(then), rules, PIPES, before)

    fresh = check_holes(_bed(then), rules, PIPES)
    assert again.findings == fresh.findings
    assert again.least_web_mm == fresh.least_web_mm


@settings(deadline=None, max_examples=14)
@given(
    first=_moves,
    raft=st.integers(0, 11),
    hole=st.integers(0, 14),
    way=st.lists(st.tuples(st.integers(-150, 1150), st.integers(-150, 750)), max_size=4),
    joints=st.sampled_from(["bed-wide", "separate"]),
)
def test_a_hole_that_is_dragged_changes_findings_and_cures_only_where_it_matters(
    first: list[tuple[int, int, int, int]],
    raft: int,
    hole: int,
    way: list[tuple[int, int]],
    joints: JointRule,
) -> None:
    rules = make_rules(joints=joints, web=20, edge_margin=60)
    dragged = check_holes(_bed(first), rules, PIPES)

    for place in way:
        bed = _bed([*first, (raft, hole, *place)])
        dragged = check_holes(bed, rules, PIPES, dragged)
        assert dragged.findings == check_holes(bed, rules, PIPES).findings


def test_an_unchanged_raft_is_not_measured_again() -> None:
    rafts = _bed([])
    rules = make_rules()
    before = check_holes(rafts, rules)
    moved = [*rafts[:-1], _bed([(11, 0, 50, 50)])[-1]]

    again = check_holes(moved, rules, (), before)

    assert set(again.measures.values()) & set(before.measures.values())
    assert len(set(again.measures.values()) - set(before.measures.values())) == 1


def test_other_rules_are_a_new_check() -> None:
    rafts = _bed([])
    before = check_holes(rafts, make_rules(spacing=200))

    again = check_holes(rafts, make_rules(spacing=201), (), before)

    # 22 neighbouring pairs on each raft; the joints are 210 wide.
    assert len(again.findings) == 12 * 22


def test_the_least_web_is_that_of_the_worst_raft() -> None:
    checked = check_holes(_bed([(3, 0, 100, 110), (5, 0, 28, 100)]), make_rules())

    assert checked.least_web_mm == 3


def test_without_holes_there_is_no_least_web() -> None:
    checked = check_holes([make_raft(drilled([]))], make_rules())

    assert checked.least_web_mm is None
    assert checked.findings == ()
    assert check_holes([], make_rules()).findings == ()


def test_ten_thousand_faults_are_all_told() -> None:
    x, y = np.meshgrid(np.arange(100) * 10.0 + 5, np.arange(100) * 10.0 + 5)
    raft = make_raft(
        drilled(np.column_stack([x.ravel(), y.ravel()]), diameter=4), size=(1000, 1000)
    )

    checked = check_holes([raft], make_rules(spacing=12))

    assert len(checked.findings) == 2 * 100 * 99
