"""Foam between rims, and between a rim and the edge."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.check_all import check_raft
from geometry.checks.finding import MoveHole
from geometry.checks.ground import Ground
from geometry.checks.measures import measure, measure_all
from geometry.checks.web import check_web
from geometry.model.curves import Arc, Loop, Point
from geometry.rafts.layout import RaftShape
from geometry.rafts.shapes import rectangle_shape
from tests.geometry.checks.rafts import drilled, make_raft, make_rules

DISC = RaftShape(
    Loop((Arc(Point(500, 500), 500, 0, 2 * math.pi),)),
    Fraction(1000),
    Fraction(1000),
    is_rectangle=False,
)


def test_three_inch_rims_at_a_pitch_of_two_and_three_quarters_alarm() -> None:
    # Source: job map, check K9.
    raft = make_raft(drilled([(300, 300), (300 + 2.75 * 25.4, 300)], diameter=76.2))
    ground = Ground(raft, make_rules(spacing=50))

    (finding,) = check_raft(ground)

    assert (finding.code, finding.holes) == ("web", ("A1", "A2"))
    assert finding.amount_mm == pytest.approx(-6.35)
    assert finding.limit_mm == 0
    assert isinstance(finding.cure, MoveHole)
    assert finding.cure.x == pytest.approx(376.2)


def test_rims_of_unlike_holes_are_measured_each_with_its_radius() -> None:
    ground = Ground(
        make_raft(drilled([(300, 300), (400, 300)], diameter=[60, 80])),
        make_rules(spacing=50, web=31),
    )

    (finding,) = check_raft(ground)

    assert (finding.code, finding.amount_mm, finding.limit_mm) == ("web", 30, 31)


def test_a_rim_exactly_the_web_from_the_edge_passes() -> None:
    rules = make_rules(web=25)

    assert not check_raft(Ground(make_raft(drilled([(50, 300)])), rules))
    (finding,) = check_raft(Ground(make_raft(drilled([(49.9, 300)])), rules))
    assert (finding.code, finding.holes) == ("web", ("A1",))
    assert finding.amount_mm == pytest.approx(24.9)
    assert finding.cure == MoveHole("R1", "A1", 50.0, 300.0)


def test_the_edge_of_a_round_raft_is_the_true_circle() -> None:
    # A chord polygon of 64 sides would miss by 500 (1 - cos(pi/64)) = 0.6 mm.
    rules = make_rules(web=25)
    angle = math.pi / 64

    def at(radius: float) -> tuple[float, float]:
        return 500 + radius * math.cos(angle), 500 + radius * math.sin(angle)

    fits = Ground(make_raft(drilled([at(449.999)]), shape=DISC), rules)
    over = Ground(make_raft(drilled([at(450.001)]), shape=DISC), rules)

    assert not check_raft(fits)
    (finding,) = check_raft(over)
    assert finding.amount_mm == pytest.approx(24.999, abs=1e-9)


_holes = st.lists(
    st.tuples(st.integers(30, 970), st.integers(30, 570), st.sampled_from([20, 35, 50])),
    min_size=1,
    max_size=15,
)


@given(placed=_holes)
def test_the_least_web_is_that_of_measuring_all(placed: list[tuple[int, int, int]]) -> None:
    # Source: job map, check H5 (smallest web reported equals the brute-force minimum).
    holes = drilled([(x, y) for x, y, _ in placed], diameter=[d for _, _, d in placed])

    shape = rectangle_shape(Fraction(1000), Fraction(600))

    least = measure(shape, holes, make_rules()).least_web

    edges = [min(x, y, 1000 - x, 600 - y) - d / 2 for x, y, d in placed]
    rims = [
        math.hypot(x - u, y - v) - d / 2 - e / 2
        for k, (x, y, d) in enumerate(placed)
        for u, v, e in placed[k + 1 :]
    ]
    assert least == pytest.approx(min(edges + rims), abs=1e-9)


@settings(max_examples=20)
@given(rafts=st.lists(st.just([]) | _holes, max_size=5))
def test_rafts_measured_together_break_the_rules_they_break_alone(
    rafts: list[list[tuple[int, int, int]]],
) -> None:
    shape = rectangle_shape(Fraction(1000), Fraction(600))
    drills = [
        drilled([(x, y) for x, y, _ in own], diameter=[d for _, _, d in own]) for own in rafts
    ]

    together = measure_all([(shape, holes) for holes in drills], make_rules())

    assert len(together) == len(rafts)
    for own, holes, measures in zip(rafts, drills, together, strict=True):
        near = {
            (k, n)
            for n, (u, v, _) in enumerate(own)
            for k, (x, y, _) in enumerate(own[:n])
            if math.hypot(x - u, y - v) < 200 - 1e-6
        }
        pairs = zip(measures.first.tolist(), measures.second.tolist(), measures.gap, strict=True)
        assert {(k, n) for k, n, gap in pairs if gap < 200 - 1e-6} == near
        assert measures.least_web == measure(shape, holes, make_rules()).least_web
        assert measures.edge.tolist() == [min(x, y, 1000 - x, 600 - y) for x, y, _ in own]


def test_a_raft_without_holes_has_no_web() -> None:
    raft = make_raft(drilled([]))
    measures = measure(raft.shape, raft.holes, make_rules())

    assert measures.least_web == math.inf
    assert not list(check_web(Ground(raft, make_rules()), measures))
