"""The strip: laid row after row it marks the planned holes, as truly as it says."""

from itertools import product
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from geometry.drawing.marks import Path
from geometry.drawing.paper import PAPERS, PageSetup, own_paper
from geometry.drawing.short.job import jobs
from geometry.drawing.short.rows import RowPlan, row_plan
from geometry.drawing.short.slips import (
    JOIN_MM,
    PIN_MM,
    PRINT_SHARE,
    PROOF_MM,
    SET_MM,
    First,
    Laying,
    paper_error,
    stepped_error,
    tape_mm,
)
from geometry.drawing.short.strip import Strip, pin_names, strip_of
from geometry.drawing.short.strip_pages import lay_strip, strip_set
from geometry.drawing.styles import Style
from geometry.model.measure import bounds_of
from geometry.plan import PlacedRaft, RaftDesign
from tests.builders import make_bed_plan, make_design, make_grid, make_holes, make_plan, make_shape
from tests.geometry.drawing.short.stages import centres, groups_of, job_of, stagger

HEXAGONAL = stagger(1000, 600, pitch=150, rows=4, gap=150 * sqrt(3) / 2, offset=75, long=6, short=5)
SHEARED = stagger(700, 700, pitch=160, rows=5, gap=140, offset=45, long=4, short=4)
SQUARE = make_design(shape=make_shape(581, 560), holes=make_grid(581, 560, columns=3, rows=3))


def joined(strip: Strip) -> dict[str, tuple[float, float]]:
    """Put the printed pieces together, cross on cross; where each mark is along and across."""
    places: dict[str, tuple[float, float]] = {}
    short = strip_set(strip.job)
    for sheet, draw in zip(strip.sheets, short.sheets, strict=True):
        groups = list(groups_of(draw(1, 1)))
        found = {**centres(iter(groups), "mark "), **centres(iter(groups), "pin ")}
        for name, (x, y) in found.items():
            for piece, shift in sheet.pieces:
                u, v = shift.back(x, y)
                if piece.first <= u <= piece.last and piece.low <= v <= piece.high:
                    known = places.setdefault(name, (u, v))
                    assert known == pytest.approx((u, v), abs=1e-6)
    return places


@pytest.mark.parametrize("design", [HEXAGONAL, SHEARED, SQUARE])
@pytest.mark.parametrize("paper", ["common", "A3"])
def test_each_row_set_by_its_chalk_line_marks_the_planned_holes(
    design: RaftDesign, paper: str
) -> None:
    strip = strip_of(job_of(design, PageSetup(PAPERS[paper])))
    assert strip is not None
    marks = joined(strip)

    marked: dict[int, tuple[float, float]] = {}
    for row in strip.plan.rows:
        for hole, mark in zip(row.holes, row.marks, strict=True):
            marked[hole] = strip.plan.place(row, marks[f"mark {mark + 1}"])

    assert sorted(marked) == list(range(len(design.holes)))
    for hole, place in marked.items():
        assert place == pytest.approx(tuple(design.holes.xy[hole]), abs=0.01)


@pytest.mark.parametrize("design", [HEXAGONAL, SHEARED, SQUARE])
def test_stepping_by_locating_marks_alone_marks_the_planned_holes(design: RaftDesign) -> None:
    """The second row and all later ones are found from the holes of the row before."""
    strip = strip_of(job_of(design, PageSetup(own_paper(700, 1200))))
    assert strip is not None
    assert strip.pinned
    marks, plan = joined(strip), strip.plan
    names = pin_names(plan)

    def on_raft(pose: tuple[np.ndarray, np.ndarray], place: tuple[float, float]) -> np.ndarray:
        return pose[0] + pose[1] @ np.array(place)

    origin = np.array(plan.place(plan.rows[0], (0.0, 0.0)))
    quarter = np.array([[0.0, -1.0], [1.0, 0.0]]) if plan.upright else np.eye(2)
    pose = (origin, quarter)
    for number, row in enumerate(plan.rows):
        if number:
            step = plan.steps[number - 1]
            assert step is not None
            before = plan.rows[number - 1]
            targets, pins = [], []
            for name, pin, gap in names:
                if pin in step.pins and abs(gap - step.gap) < 0.01:
                    pins.append(np.array(marks[f"pin {name}"]))
                    wanted = pin + step.shift
                    mark = min(before.marks, key=lambda m: abs(plan.strip[m] - wanted))
                    targets.append(design.holes.xy[before.holes[before.marks.index(mark)]])
            arm, target = pins[1] - pins[0], targets[1] - targets[0]
            angle = np.arctan2(target[1], target[0]) - np.arctan2(arm[1], arm[0])
            turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
            pose = (targets[0] - turn @ pins[0], turn)
        for hole, mark in zip(row.holes, row.marks, strict=True):
            found = on_raft(pose, marks[f"mark {mark + 1}"])
            assert found == pytest.approx(design.holes.xy[hole], abs=0.01)


@settings(max_examples=40, deadline=None)
@given(
    columns=st.integers(2, 9), rows=st.integers(1, 7), length=st.floats(200, 1400),
    width=st.floats(150, 1100), paper=st.sampled_from(sorted(PAPERS)),
)  # fmt: skip
def test_every_mark_is_whole_on_some_piece_and_every_piece_on_its_page(
    columns: int, rows: int, length: float, width: float, paper: str
) -> None:
    holes = make_grid(length, width, columns=columns, rows=rows, diameter=30)
    job = job_of(make_design(shape=make_shape(length, width), holes=holes),
                 PageSetup(PAPERS[paper]))  # fmt: skip
    strip = strip_of(job)
    assert strip is not None
    marks = joined(strip)

    assert {f"mark {n + 1}" for n in range(len(strip.plan.strip))} <= marks.keys()
    for number, place in enumerate(strip.plan.strip):
        assert marks[f"mark {number + 1}"] == pytest.approx((place, 0), abs=1e-5)
    border, setup = job.setup.border, job.setup
    for sheet in strip.sheets:
        for piece, shift in sheet.pieces:
            for u, v in product((piece.first, piece.last), (piece.low, piece.high)):
                x, y = shift.point(u, v)
                assert border - 1e-6 <= x <= setup.width_mm - border + 1e-6
                assert border - 1e-6 <= y <= setup.height_mm - border + 1e-6


def test_the_pages_of_a_1050_mm_row_counted_by_hand() -> None:
    """Eight marks 150 apart, the first 75 from the edge, holes of 20, on the common page.

    The strip is 1,149 mm long, from 7 beyond the edge to 7 beyond the last rim, and 32 high. The
    room is 181 x 231.4: five pieces side by side, up the page, each 231.4 long less what overlaps,
    so cut near 144 (moved to 133.4, clear of the hole at 150), 354.8, 576.2, 797.6 and 1,019.
    """
    holes = make_grid(1200, 100, columns=8, rows=1, diameter=20)
    strip = strip_of(job_of(make_design(shape=make_shape(1200, 100), holes=holes)))
    assert strip is not None

    assert strip.joins == pytest.approx((133.4, 354.8, 576.2, 797.6, 1019.0))
    assert [len(sheet.pieces) for sheet in strip.sheets] == [5, 1]


def test_pieces_are_numbered_along_the_strip_wherever_they_stand() -> None:
    holes = make_grid(1200, 100, columns=8, rows=1, diameter=20)
    for design in (make_design(shape=make_shape(1200, 100), holes=holes), HEXAGONAL, SHEARED):
        strip = strip_of(job_of(design))
        assert strip is not None
        pieces = [piece for sheet in strip.sheets for piece, _ in sheet.pieces]
        along = sorted(pieces, key=lambda piece: piece.first)

        assert [strip.number(piece) for piece in along] == list(range(1, len(pieces) + 1))
        printed = {
            group.id for draw in strip_set(strip.job).sheets for group in groups_of(draw(1, 1))
            if group.id.startswith("piece ")
        }  # fmt: skip
        assert printed == {f"piece {number}" for number in range(1, len(pieces) + 1)}


def _linear_worst(strip: Strip, mark: int) -> float:
    """The largest error along the row that the slips allow, by linear programming."""
    joins, marks = strip.joins, strip.plan.strip
    edge = max((-place for place, _ in strip.edges), default=0.0)
    start = SET_MM if strip.edges else SET_MM + tape_mm(strip.job.unit)

    def printed(place: float) -> list[float]:
        return [place, *[1.0 if join < place else 0.0 for join in joins]]

    proofs = np.array([printed(place) for place in marks])
    bounds = [(-PRINT_SHARE, PRINT_SHARE), *[(-JOIN_MM, JOIN_MM)] * len(joins)]
    found = linprog(
        -np.array(printed(marks[mark])),
        A_ub=np.vstack([proofs, -proofs]),
        b_ub=np.full(2 * len(marks), PROOF_MM),
        bounds=bounds,
    )
    return start + PRINT_SHARE * edge - found.fun


@pytest.mark.parametrize("design", [HEXAGONAL, SHEARED, SQUARE])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_the_stated_error_is_the_worst_that_the_slips_allow(design: RaftDesign, unit: str) -> None:
    strip = strip_of(job_of(design, unit=unit))
    assert strip is not None

    worst = max(_linear_worst(strip, mark) for mark in range(len(strip.plan.strip)))

    assert strip.error.along == pytest.approx(worst + strip.plan.off_mm, abs=1e-6)
    assert strip.error.across == pytest.approx(SET_MM + tape_mm(unit) + strip.plan.off_mm)


def _stepped(signs: np.ndarray, rows: int) -> tuple[float, float]:
    """Step a strip of two marks, 200 mm apart, up straight rows 100 mm apart, for true.

    The signs are those of the printer's two shares, of the start, of both ends of the first line,
    and of three slips a row.
    """
    stretch = 1 + signs[0] * min(PRINT_SHARE, PROOF_MM / 200)
    up = 1 + signs[1] * PRINT_SHARE
    ink = np.array([[0.0, 0.0], [200 * stretch, 0.0]])
    pins = np.array([[0.0, -100 * up], [200 * stretch, -100 * up]])
    low, high = 0.7 * signs[3], 0.7 * signs[4]
    angle = np.arcsin((high - low) / 200)
    at = np.array([0.4 * signs[2], low])
    worst = np.zeros(2)
    holes = ink
    for row in range(rows):
        if row:
            slip = PIN_MM * signs[2 + 3 * row : 5 + 3 * row]
            first = holes[0] + slip[:2]
            second = holes[1] + (0, slip[2])
            angle = np.arctan2(*(second - first)[::-1])
            turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
            at = first - turn @ pins[0]
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        holes = ink @ turn.T + at
        worst = np.maximum(worst, np.abs(holes - [[0, 100 * row], [200, 100 * row]]).max(axis=0))
    return float(worst[0]), float(worst[1])


def test_the_error_of_stepping_is_the_worst_of_all_slips_tried_out() -> None:
    rows = 3
    pins = ((0.0, -100.0), (200.0, -100.0))
    layings = [Laying((0.0, 100.0 * n), n - 1, pins, ((0.0, 0.0), (200.0, 0.0)))
               for n in range(1, rows)]  # fmt: skip
    marks = [[(0.0, 0.0), (200.0, 0.0)]] * rows
    stated = stepped_error(First(200, 0.4, 0.7), layings, marks, paper_error(200, ()))

    tried = np.array([
        _stepped(np.array(signs), rows) for signs in product((-1, 1), repeat=5 + 3 * (rows - 1))
    ]).max(axis=0)  # fmt: skip

    # Small angles are taken as such, which leaves a few hundredths.
    assert stated.along == pytest.approx(tried[0], abs=0.05)
    assert stated.across == pytest.approx(tried[1], abs=0.05)


def test_holes_laid_by_hand_have_no_strip_and_the_page_says_why() -> None:
    rng = np.random.default_rng(5)
    design = make_design(shape=make_shape(900, 600), holes=make_holes(
        [tuple(place) for place in rng.uniform(60, 540, (14, 2))]))  # fmt: skip
    job = job_of(design)

    short = strip_set(job)
    document = lay_strip(job.plan, job.setup)

    assert "no rows" in short.reason
    assert not short.sheets
    assert document.total == 1 == len(list(document.pages()))


@pytest.mark.parametrize("centres", [(), ((100, 100),)])
def test_a_raft_with_no_hole_or_one_says_so(centres: tuple[tuple[float, float], ...]) -> None:
    job = job_of(make_design(holes=make_holes(centres)))

    assert "fewer than two holes" in strip_set(job).reason


def test_no_raft_at_all_still_makes_a_page() -> None:
    document = lay_strip(make_plan(*(), name="empty"), PageSetup())

    assert document.total == len(list(document.pages())) >= 1


def test_a_hole_left_out_and_one_moved_by_hand_are_told_apart() -> None:
    grid = make_grid(900, 600, columns=5, rows=4)
    xy = [tuple(place) for place in grid.xy.tolist()]
    xy[7] = (xy[7][0] + 9, xy[7][1] + 4)
    del xy[12]
    design = make_design(shape=make_shape(900, 600), holes=make_holes(xy))
    plan = row_plan(design.holes, upright=False)
    assert isinstance(plan, RowPlan)

    assert plan.strays == (7,)
    assert sorted(hole for row in plan.rows for hole in row.holes) == [
        hole for hole in range(19) if hole != 7
    ]


def test_the_pages_of_words_and_strips_are_counted_as_they_come() -> None:
    job = jobs(make_plan(), PageSetup())[0]
    document = lay_strip(job.plan, job.setup)
    pages = list(document.pages())

    assert document.total == len(pages) == sum(map(document.pages_of, document.sets))
    assert list(document.pages({2})) == [pages[1]]
    assert all(page.stretch == (1.0, 1.0) for page in pages)


def test_the_picture_of_a_strip_that_reaches_beyond_the_raft_stays_within_the_border() -> None:
    """The second row begins half a raft to the right; the strip on it is as long as the first."""
    holes = make_holes(
        [(100, 100), (350, 100), (600, 100), (800, 100), (400, 300), (650, 300)],
        names=["A1", "A2", "A3", "A4", "B1", "B2"],
    )
    job = job_of(make_design("ell-1", make_shape(900, 400), holes), PageSetup(PAPERS["A3"]))
    assert strip_of(job) is not None
    page = next(lay_strip(make_plan(make_bed_plan([PlacedRaft("R1", job.design, 0, 0)])), job.setup)
                .pages({1}))  # fmt: skip
    reach = [
        bounds_of(mark.curves)[2]
        for picture in page.pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if isinstance(mark, Path) and mark.style is Style.SHEET
    ]

    assert reach
    assert max(reach) <= page.width_mm - 10
