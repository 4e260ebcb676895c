"""The plan against the check values of the job map, section 8 ("Formulas with check values").

Each test names its formula there. The job map's figures are worked by hand from formulas that are
common practice; they were not taken from the program.
"""

import csv
import io
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from geometry.holes.joints import seam_margin
from geometry.model.bed import Bed, RaftRule, Split
from geometry.model.outlines import Measured, Outline, Rectangle, RoundEnded
from geometry.model.planting import Direction, Pattern, Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Sheet
from geometry.plan import BedPlan, make_plan
from geometry.units import ZERO, Length
from layout_gui.output.tables import write_holes

INCH = Fraction(254, 10)
FOOT = 12 * INCH


def _length(value: float | Fraction | str) -> Length:
    return Length.of(value)


def _planting(
    spacing: float | Fraction,
    *,
    pattern: Pattern = "square",
    rows: Direction = "best",
    margin: float | Fraction = 0,
    hole: float | Fraction = 20,
    spread: bool = True,
) -> Planting:
    return Planting(
        _length(spacing),
        _length(hole),
        pattern=pattern,
        rows=rows,
        edge_margin=_length(margin),
        spread=spread,
        joints="separate",
    )


def _plan(
    outline: Outline,
    planting: Planting | None,
    *,
    clearance: float = 0,
    gap: float | Fraction = 0,
    rafts: RaftRule | None = None,
) -> BedPlan:
    bed = Bed(
        "Bed",
        outline,
        _length(clearance),
        _length(gap),
        rafts=rafts or Split(1, 1),
        planting=planting,
    )
    (plan,) = make_plan(Project("Formulas", beds=(bed,))).beds
    return plan


def _board(length: float | Fraction, width: float | Fraction, planting: Planting | None) -> BedPlan:
    return _plan(Rectangle(_length(length), _length(width)), planting)


def test_1_holes_on_a_line() -> None:
    # Formula 1: L 48, e 4, p 8 -> 6, an exact fit; here in inches, as one row.
    plan = _board(48 * INCH, 8 * INCH, _planting(8 * INCH, margin=4 * INCH))

    assert plan.plants == 6


def test_2_even_spread_gives_half_a_pitch_at_each_joint() -> None:
    # Formula 2: L 581, N 3, half-pitch margin -> p 193.67, e 96.83.
    outline = Rectangle(_length(4 * 581), _length(581))
    planting = replace(_planting(190), joints="interchangeable")
    plan = _plan(outline, planting, rafts=Split(4, 1))

    for raft in plan.rafts:
        columns = np.unique(raft.design.holes.xy[:, 0].round(6))
        assert columns == pytest.approx([96.83, 290.5, 484.17], abs=0.005)
    assert plan.tried[0].pitch_mm == pytest.approx(193.67, abs=0.005)


@pytest.mark.parametrize(
    ("pitch", "gap", "margin"),
    [(Fraction(200), Fraction(6), Fraction(97)), (8 * INCH, INCH / 2, Fraction(15, 4) * INCH)],
)
def test_3_seam_margin(pitch: Fraction, gap: Fraction, margin: Fraction) -> None:
    # Formula 3: e = (p - g) / 2. p 200, g 6 -> 97. p 8 in, g 1/2 in -> 3 3/4 in.
    length = 2 * margin + 2 * pitch
    outline = Rectangle(_length(2 * length + gap), _length(2 * pitch))
    planting = replace(_planting(pitch), joints="interchangeable")
    plan = _plan(outline, planting, gap=gap, rafts=Split(2, 1))

    assert seam_margin(pitch, gap) == margin
    left, right = plan.rafts
    last_of_left = left.x + float(left.design.holes.xy[:, 0].max())
    first_of_right = right.x + float(right.design.holes.xy[:, 0].min())
    assert float(left.design.holes.xy[:, 0].min()) == pytest.approx(float(margin), abs=1e-6)
    assert first_of_right - last_of_left == pytest.approx(float(pitch), abs=1e-6)


@pytest.mark.parametrize(
    ("margin", "square", "along", "across"),
    [(4, 18, 17, 15), (3, 18, 17, 18), (2.5, 18, 17, 18), (2, 18, 18, 21)],
)
def test_4_staggered_rows_on_a_bounded_raft(
    margin: float, square: int, along: int, across: int
) -> None:
    # Formula 4: 24 x 48 in, p 8, by margin: square, rows along, rows across.
    def plants(pattern: Pattern, rows: Direction) -> int:
        planting = _planting(8 * INCH, pattern=pattern, rows=rows, margin=Fraction(margin) * INCH)
        return _board(4 * FOOT, 2 * FOOT, planting).plants

    assert plants("square", "best") == square
    assert plants("hexagonal", "along") == along
    assert plants("hexagonal", "across") == across


@pytest.mark.parametrize(
    ("size", "planting", "plants", "density"),
    [
        # Formula 5: 21 and 18 sites on 2 x 4 ft.
        ((4, 2), _planting(8 * INCH, pattern="hexagonal", margin=2 * INCH), 21, 28.3),
        ((4, 2), _planting(8 * INCH, margin=4 * INCH), 18, 24.2),
        # Trade facts, section 9: 4 x 4 ft with 36 holes, source U3; 4 x 8 ft at 12 in, source U2.
        ((4, 4), _planting(8 * INCH, margin=4 * INCH), 36, 24.2),
        ((8, 4), _planting(12 * INCH, margin=6 * INCH), 32, 10.8),
    ],
)
def test_5_density(size: tuple[int, int], planting: Planting, plants: int, density: float) -> None:
    plan = _board(size[0] * FOOT, size[1] * FOOT, planting)

    assert plan.plants == plants
    assert plan.density_per_m2 == pytest.approx(density, abs=0.05)


def test_5_feet_are_not_swapped_for_600_millimetres() -> None:
    # Trade facts, section 9: 21 holes are 28.3 per m2 on 2 x 4 ft and 29.2 on 600 x 1200 mm.
    planting = _planting(200, pattern="hexagonal", margin=50)
    plan = _board(1200, 600, planting)

    assert plan.plants == 21
    assert plan.density_per_m2 == pytest.approx(29.2, abs=0.05)


def test_15_what_is_printed_never_drifts() -> None:
    # Formula 15: stepping multiplies an error by N - 1; from the datum there is one error only.
    pitch = Fraction(100, 3)
    plan = _board(41 * pitch, pitch, _planting(pitch, margin=pitch / 2, hole=10))
    project = Project("Drift", beds=(plan.bed,))
    stream = io.StringIO(newline="")
    for _ in write_holes(make_plan(project), stream):
        pass
    printed = [Fraction(row["x_mm"]) for row in csv.DictReader(io.StringIO(stream.getvalue()))]

    exact = [pitch / 2 + step * pitch for step in range(41)]
    assert len(printed) == 41
    errors = [abs(shown - true) for shown, true in zip(sorted(printed), exact, strict=True)]
    assert max(errors) <= Fraction(1, 2000)


def test_17_open_water_share() -> None:
    # Formula 17: four 581 x 560 in 2360 x 580 mm -> 4.9 %.
    plan = _plan(
        Rectangle(_length(2360), _length(580)), None, clearance=10, gap=5, rafts=Split(4, 1)
    )

    assert plan.open_water_share == pytest.approx(0.049, abs=0.0005)


def test_19_area_of_a_round_ended_outline() -> None:
    # Formula 19: 72 x 24 in -> 1604 square inches.
    plan = _plan(RoundEnded(_length(72 * INCH), _length(24 * INCH)), None)

    assert plan.area_mm2 / float(INCH**2) == pytest.approx(1604, abs=0.5)


def test_r1_a_bench_is_split_into_equal_rafts() -> None:
    # Job map, capability R1: 2360, 10, 5, four -> 581; rafts and gaps make up the bed.
    plan = _plan(
        Rectangle(_length(2360), _length(580)), None, clearance=10, gap=5, rafts=Split(4, 1)
    )

    lengths = [raft.design.shape.length for raft in plan.rafts]
    assert [int(length) for length in lengths] == [581] * 4
    assert sum(lengths) + 2 * 10 + 3 * 5 == 2360
    assert {raft.design.shape.width for raft in plan.rafts} == {560}


def test_b1_the_smallest_measured_width_counts() -> None:
    # Job map, capability B1: 582/580/577 -> 577; unequal measures raise a notice.
    widths = (_length(582), _length(580), _length(577))
    plan = _plan(Measured(widths, (_length(2360),)), None, clearance=10)

    assert [raft.design.shape.width for raft in plan.rafts] == [557]
    assert [f.amount_mm for f in plan.findings if f.code == "skew"] == [5]


def test_scenario_a_needs_two_boards() -> None:
    # Job map, section 9, user A: four rafts, two per 1250 x 600 board, 36 sites, 26 per m2.
    bed = Bed(
        "Bench",
        Rectangle(_length(2360), _length(580)),
        _length(10),
        _length(5),
        rafts=Split(4, 1),
        planting=replace(_planting(185, hole=50), joints="interchangeable"),
    )
    board = Sheet("board", _length(1250), _length(600))
    project = Project("School", beds=(bed,), sheets=(board,), cutting=Cutting(_length(3), ZERO))

    plan = make_plan(project)

    assert plan.cut.sheet_count == 2
    assert plan.plants == 36
    assert plan.beds[0].density_per_m2 == pytest.approx(26, abs=0.5)


def test_nursery_and_finishing_rafts_of_2_by_4_ft_have_the_two_densities() -> None:
    # Formula 5: 60 and 21 sites on 2 x 4 ft (0.7432 m2) are 80.7 and 28.3 per m2. The spacings
    # are ours: 4 1/2 in and 8 in with 2 in margins hold just so many. With every second hole
    # plugged, half of the nursery's density stays in use.
    board = Rectangle(_length("48 in"), _length("24 in"))
    for spacing, sites, density in (("4 1/2 in", 60, 80.7), ("8 in", 21, 28.3)):
        planting = replace(
            _planting(_length(spacing).exact, pattern="best", margin=2 * INCH),
            in_use="every second",
        )
        plan = _plan(board, planting)

        assert plan.plants == sites
        assert plan.density_per_m2 == pytest.approx(density, abs=0.05)
        assert plan.plugged == sites // 2
        assert [(crop.plants, crop.plugged) for crop in plan.crops] == [(sites, sites // 2)]
