"""What is found about a bed as a whole: shape, skew, room, hand edits."""

from dataclasses import replace

import pytest

from geometry.checks.bed_shape import check_bed_shape
from geometry.checks.check_all import check_bed
from geometry.checks.finding import DropHandEdit, Finding, SetLength
from geometry.checks.skew import check_skew
from geometry.model.bed import Bed, Obstacle
from geometry.model.outlines import Disc, Measured, Polygon, Rectangle
from geometry.model.planting import Blank, Pin, Planting
from geometry.units import ZERO, Length
from tests.geometry.checks.rafts import drilled, make_raft

_MM = Length.of


def _bed(planting: Planting | None = None) -> Bed:
    return Bed("Bench", Rectangle(_MM(2360), _MM(580)), _MM(10), _MM(5), planting=planting)


def _planting(*, spacing: float = 200, hole: float = 50, margin: float = 60) -> Planting:
    return Planting(_MM(spacing), _MM(hole), edge_margin=_MM(margin))


def _corners(*points: tuple[float, float]) -> Polygon:
    return Polygon(tuple((_MM(x), _MM(y)) for x, y in points))


def test_outlines_that_cannot_be_drawn_are_told_by_name() -> None:
    bow_tie = _corners((0, 0), (1000, 500), (1000, 0), (0, 500))
    nothing = _corners((0, 0), (100, 0), (200, 0))
    bed = replace(_bed(), outline=bow_tie, obstacles=(Obstacle("stone", nothing),))

    assert [(f.code, f.severity, f.subject) for f in check_bed_shape(bed)] == [
        ("bed-shape", "problem", "outline"),
        ("bed-shape", "problem", "stone"),
    ]
    assert not list(check_bed_shape(_bed()))


def _measured(
    widths: tuple[float, ...], lengths: tuple[float, ...], diagonals: tuple[float, ...] = ()
) -> Bed:
    outline = Measured(*(tuple(map(_MM, group)) for group in (widths, lengths, diagonals)))
    return replace(_bed(), outline=outline)


def test_unlike_widths_are_a_note() -> None:
    # Source: job map, check B1 (582, 580 and 577 mm; unequal measures raise a notice).
    (finding,) = check_skew(_measured((582, 580, 577), (2360,)))

    assert (finding.code, finding.severity, finding.amount_mm) == ("skew", "note", 5)


def test_unlike_diagonals_are_a_note_and_large_ones_a_question() -> None:
    (small,) = check_skew(_measured((580,), (2360,), (2428, 2432)))
    (large,) = check_skew(_measured((580,), (2360,), (2420, 2440)))

    assert (small.severity, small.amount_mm) == ("note", 4)
    assert (large.severity, large.amount_mm) == ("question", 20)


def test_a_true_bed_and_other_outlines_raise_none() -> None:
    assert not list(check_skew(_measured((580, 580), (2360, 2360), (2430, 2430))))
    assert not list(check_skew(_bed()))


def test_a_planted_bed_without_a_hole_is_a_problem() -> None:
    bed = _bed(_planting(margin=300))
    raft = make_raft(drilled([]), size=(581, 560), at=(10, 10))

    (finding,) = check_bed(bed, [raft])

    assert (finding.code, finding.severity) == ("no-room", "problem")
    assert (finding.amount_mm, finding.limit_mm) == (280, 300)
    assert finding.place == (300.5, 290.0)
    assert finding.cure == SetLength("planting.edge_margin", 280.0)


@pytest.mark.parametrize(
    ("planting", "cure"),
    [
        (Planting(_MM(200), _MM(50), web=_MM(100)), SetLength("planting.web", 75.0)),
        (Planting(_MM(250), _MM(210)), SetLength("planting.hole_diameter", 200.0)),
        (
            Planting(_MM(250), _MM(50), joints="interchangeable"),
            SetLength("planting.spacing", 205.0),
        ),
        (Planting(_MM(200), _MM(50), edge_margin=_MM(120), web=_MM(120)), None),
    ],
)
def test_the_one_length_that_leaves_no_room_is_cured(
    planting: Planting, cure: SetLength | None
) -> None:
    rafts = [make_raft(drilled([]), size=(400, 200), name=name) for name in ("R1", "R2")]

    found = [f for f in check_bed(_bed(planting), rafts) if f.code == "no-room"]

    assert [finding.cure for finding in found] == [cure]


def test_no_holes_are_wanted_without_planting_or_when_all_were_left_out() -> None:
    raft = make_raft(drilled([]))
    blank = Blank("R1", _MM(290), _MM(280))

    assert not check_bed(_bed(), [raft])
    assert not check_bed(_bed(replace(_planting(), blanks=(blank,))), [raft])
    assert not check_bed(_bed(_planting()), [])


def _edits(found: tuple[Finding, ...]) -> list[tuple[str, str, str, object]]:
    return [(f.code, f.severity, f.raft, f.place) for f in found]


def test_hand_edits_that_mean_nothing_any_more_are_noted_one_by_one() -> None:
    gone = Pin("R9", _MM(100), _MM(100))
    idle, other = Blank("R1", _MM(7.5), _MM(20)), Blank("R1", _MM(8), _MM(20))
    lost, used = Blank("R9", _MM(10), _MM(20)), Blank("R1", _MM(300), _MM(300))
    planting = replace(_planting(), pins=(gone,), blanks=(idle, other, lost, used))
    raft = make_raft(drilled([(100, 100)]), at=(10, 10))

    found = check_bed(_bed(planting), [raft], (idle, other))

    assert _edits(found) == [
        ("pin-idle", "note", "R9", None),
        ("blank-idle", "note", "R1", (17.5, 30)),
        ("blank-idle", "note", "R1", (18, 30)),
        ("blank-idle", "note", "R9", None),
    ]
    assert found[1].cure == DropHandEdit("R1", 7.5, 20)
    assert len({finding.key for finding in found}) == 4


def test_a_usual_bed_raises_nothing() -> None:
    pipe = Obstacle("standpipe", Disc(_MM(40)), clearance=ZERO)
    bed = replace(_bed(_planting()), obstacles=(pipe,))

    assert not check_bed(bed, [make_raft(drilled([(100, 100)]))])
