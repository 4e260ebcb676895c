"""Rafts float free of the wall, or the change that lets them is told."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.checks.finding import Finding, SetLength
from geometry.checks.raft_fit import check_raft_fit
from geometry.model.bed import Bed, Fit, One, RaftRule, Split
from geometry.model.outlines import (
    Disc,
    LShape,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.planting import Planting
from geometry.rafts.split import lay_rafts
from geometry.units import Length


def _mm(value: float) -> Length:
    return Length.of(value)


def _bench(clearance: float = 10, joint_gap: float = 5, rafts: RaftRule | None = None) -> Bed:
    return Bed(
        "Bench",
        Rectangle(_mm(2360), _mm(580)),
        _mm(clearance),
        _mm(joint_gap),
        rafts=rafts or Split(4, 1),
    )


def _found(bed: Bed) -> list[Finding]:
    return list(check_raft_fit(bed, lay_rafts(bed)))


def test_rafts_with_play_have_nothing_to_find() -> None:
    assert not _found(_bench())


@pytest.mark.parametrize(
    ("bed", "subjects"),
    [
        (_bench(clearance=0), ["clearance"]),
        (_bench(joint_gap=0), ["joint_gap"]),
        (_bench(0, 0), ["clearance", "joint_gap"]),
        (_bench(0, 0, One()), ["clearance"]),
    ],
)
def test_rafts_without_play_get_a_note(bed: Bed, subjects: list[str]) -> None:
    found = _found(bed)

    assert [(finding.severity, finding.subject) for finding in found] == [
        ("note", subject) for subject in subjects
    ]
    for finding in found:
        assert isinstance(finding.cure, SetLength)
        value = _mm(finding.cure.mm)
        is_clearance = finding.cure.field == "clearance"
        cured = replace(bed, clearance=value) if is_clearance else replace(bed, joint_gap=value)
        assert finding.key not in {other.key for other in _found(cured)}


def test_a_clearance_that_leaves_no_raft_is_a_problem_with_a_cure() -> None:
    bed = _bench(clearance=300)

    (finding,) = _found(bed)

    assert (finding.code, finding.severity, finding.subject) == ("raft-fit", "problem", "clearance")
    assert finding.amount_mm == 300
    assert finding.cure == SetLength("clearance", 289.0)
    assert not _found(replace(bed, clearance=_mm(289)))


def test_the_cure_leaves_room_for_a_hole() -> None:
    planting = Planting(_mm(200), _mm(50), edge_margin=_mm(60))
    bed = replace(_bench(clearance=300), planting=planting)

    (finding,) = _found(bed)

    # 580 less twice 230 is 120: twice the edge margin.
    assert finding.cure == SetLength("clearance", 230.0)


def test_joint_gaps_that_eat_the_bed_are_to_blame_themselves() -> None:
    bed = _bench(joint_gap=800)

    (finding,) = _found(bed)

    assert (finding.subject, finding.amount_mm) == ("joint_gap", 800)
    # Three gaps in 2340 mm.
    assert finding.cure == SetLength("joint_gap", 779.0)
    assert not _found(replace(bed, joint_gap=_mm(779)))


def test_a_bed_too_small_for_its_margin_has_no_cure_by_clearance() -> None:
    planting = Planting(_mm(200), _mm(50), edge_margin=_mm(400))
    bed = replace(_bench(clearance=300), planting=planting)

    (finding,) = _found(bed)

    assert finding.cure is None


def test_a_raft_nearer_to_the_wall_than_the_clearance_is_told_with_its_place() -> None:
    layout = lay_rafts(_bench(clearance=10))

    found = list(check_raft_fit(_bench(clearance=12), layout))

    assert [finding.raft for finding in found] == ["R1", "R2", "R3", "R4"]
    assert {(finding.amount_mm, finding.limit_mm) for finding in found} == {(10, 12)}
    assert found[0].place == (10, 10)


def test_an_inner_corner_of_the_bed_that_meets_a_straight_side_is_seen() -> None:
    shape = LShape(_mm(2000), _mm(1000), _mm(1000), _mm(400))
    layout = lay_rafts(Bed("L", Rectangle(_mm(2000), _mm(1000)), _mm(10)))
    bed = Bed("L", shape, _mm(10))
    outline = lay_rafts(bed).outline

    (finding,) = check_raft_fit(bed, replace(layout, outline=outline))

    assert finding.severity == "problem"
    assert finding.amount_mm is not None
    assert finding.amount_mm < 0


_lengths = st.integers(300, 4000).map(_mm)
_outlines: st.SearchStrategy[Outline] = st.one_of(
    st.builds(Disc, _lengths),
    st.builds(RoundEnded, _lengths, _lengths),
    st.builds(Tapered, _lengths, _lengths, _lengths),
    st.builds(Rectangle, _lengths, _lengths, st.integers(0, 150).map(_mm)),
    st.builds(
        lambda length, width, x, y: LShape(
            _mm(length), _mm(width), _mm(length * x / 8), _mm(width * y / 8)
        ),
        st.integers(300, 4000),
        st.integers(300, 4000),
        st.integers(1, 7),
        st.integers(1, 7),
    ),
    st.builds(
        lambda a, b, c: Polygon(
            tuple((_mm(x), _mm(y)) for x, y in ((0, 0), (a, 50), (a + 100, b), (300, b + c)))
        ),
        st.integers(600, 3000),
        st.integers(400, 2000),
        st.integers(1, 300),
    ),
)


@settings(deadline=None, max_examples=40)
@given(
    outline=_outlines,
    clearance=st.integers(1, 60),
    gap=st.integers(1, 20),
    rule=st.one_of(
        st.builds(Split, st.integers(1, 4), st.integers(1, 3)),
        st.builds(Fit, st.integers(500, 1500).map(_mm), st.integers(400, 1000).map(_mm)),
    ),
)
def test_rafts_as_they_are_laid_keep_the_clearance(
    outline: Outline, clearance: int, gap: int, rule: RaftRule
) -> None:
    bed = Bed("Pond", outline, _mm(clearance), _mm(gap), rafts=rule)
    layout = lay_rafts(bed)

    assert not layout.rafts or not list(check_raft_fit(bed, layout))


@pytest.mark.parametrize(
    ("rule", "field", "most"),
    [
        (Split(2, 1, Length.of(600)), "rafts.shift_along", 489.0),
        (Split(2, 1, Length.of(-600)), "rafts.shift_along", -489.0),
        (Split(2, 2, Length.of(30), Length.of(700)), "rafts.shift_across", 289.0),
    ],
)
def test_joints_moved_off_the_bed_are_to_blame_themselves(
    rule: Split, field: str, most: float
) -> None:
    bed = Bed("B", Rectangle(Length.of(1000), Length.of(600)), Length.of(10), rafts=rule)
    (finding,) = check_raft_fit(bed, lay_rafts(bed))
    assert (finding.code, finding.severity, finding.subject) == ("raft-fit", "problem", field)
    assert finding.cure == SetLength(field, most)
    assert finding.limit_mm == abs(most)
    name = field.removeprefix("rafts.")
    cured = replace(bed, rafts=replace(rule, **{name: Length.of(most)}))
    assert lay_rafts(cured).rafts
