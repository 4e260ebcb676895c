"""The cut sheet as printed: words and figures read back from the PDF."""

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import hypot, radians, tan
from pathlib import Path

import numpy as np
import pytest

from geometry.checks.finding import Finding
from geometry.cutting.best import best_cut_plan
from geometry.cutting.plan import CutPlan, CutSheet, Piece
from geometry.drawing.cautions import CAUTIONS
from geometry.drawing.cut_sheet import compose_cut_sheet, lay_cut_sheet
from geometry.drawing.marks import Text
from geometry.drawing.paper import COMMON, PAPERS
from geometry.drawing.sheet_part import score_lines
from geometry.drawing.text_width import CAP_HEIGHT
from geometry.model.bed import Bed, Obstacle, Spot
from geometry.model.curves import Loop
from geometry.model.outlines import Disc, Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.model.sheet import Cutting, Score, Sheet
from geometry.plan import PlacedRaft, Plan
from geometry.plan import make_plan as make_real_plan
from geometry.units import Length, Unit
from layout_gui.output.pdf import render_pdf
from layout_gui.project import file
from tests.builders import (
    make_bed_plan,
    make_design,
    make_grid,
    make_holes,
    make_loop,
    make_plan,
    make_shape,
)
from tests.layout_gui.output.pdf_reading import Seen, look, read

BOARD = Sheet("board 1250 x 600", Length.of(1250), Length.of(600), Length.of(50), Fraction(14))


def _bench(units: Unit = "mm") -> Plan:
    pieces = tuple(
        Piece("bench-bed-1", Fraction(x), Fraction(10), Fraction(581), Fraction(560), turned=False)
        for x in (10, 594)
    )
    bed = make_bed_plan()
    pipe = Obstacle(
        "standpipe",
        Disc(Length.of(40)),
        centre=Spot(Length.of(2300), Length.of(60)),
        clearance=Length.of(25),
    )
    bed = replace(bed, bed=replace(bed.bed, obstacles=(pipe,)))
    plan = make_plan(bed, units=units, cut=CutPlan((CutSheet(BOARD, pieces, 2),)))
    cutting = Cutting(Length.of(3), Length.of(10))
    return replace(plan, project=replace(plan.project, sheets=(BOARD,), cutting=cutting))


@cache
def _printed(units: Unit = "mm") -> dict[str, tuple[Seen, str]]:
    pages = compose_cut_sheet(_bench(units))
    seen = [look(page) for page in read(render_pdf(pages, title="t")).pages]
    return {
        page.name.partition(",")[0]: (found, " ".join(text for text, _, _ in found.words))
        for page, found in zip(pages, seen, strict=True)
    }


def test_there_is_a_page_for_each_thing_in_the_order_of_work() -> None:
    assert list(_printed()) == [
        "Cut sheet: North bench",
        "Shopping list",
        "Cautions",
        "Sheets 1-2: board 1250 x 600",
        "Cut sheet bench-bed-1",
        "Bed Bench bed",
        "What if",
    ]


def test_the_raft_page_says_what_to_make() -> None:
    _, words = _printed()["Cut sheet bench-bed-1"]

    for fact in (
        "Make it 4 times: R1-R4",
        "581 × 560 mm, 50 mm thick",  # noqa: RUF001 - as printed
        "9 holes of 50 mm",
        "This side up (top face)",
        "Datum corner lower left",
    ):
        assert fact in words


def test_the_proof_measures_follow_from_the_coordinates() -> None:
    """Job map E5: diagonals, and the datum corner to the last hole."""
    _, words = _printed()["Cut sheet bench-bed-1"]

    diagonal = float(re.search(r"Both diagonals of the raft: ([0-9.]+) mm", words)[1])
    assert diagonal == pytest.approx(hypot(581, 560), abs=0.05)
    last = float(re.search(r"last hole, C3: ([0-9.]+) mm", words)[1])
    assert last == pytest.approx(hypot(581 * 5 / 6, 560 * 5 / 6), abs=0.05)


def test_every_hole_is_in_the_table_within_half_a_step() -> None:
    """Job map E2: table against exact: error at most half a step, never growing."""
    holes = make_grid(1195, 595, columns=29, rows=13, diameter=20)
    design = make_design("dense-1", make_shape(1195, 595), holes)
    plan = make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    pages = [page for page in compose_cut_sheet(plan) if "dense-1" in page.name]

    assert len(pages) > 1
    table: dict[str, tuple[float, float]] = {}
    for page in pages:
        words = [
            mark.text
            for group in page.pictures[0].drawing.groups
            if group.id == "row"
            for mark in group.marks
            if hasattr(mark, "text")
        ]
        for name, x, y in zip(words, words[1:], words[2:], strict=False):
            if name in holes.names and re.fullmatch(r"[0-9.]+", x):
                table[name] = (float(x), float(y))
    assert table.keys() == set(holes.names)
    found = np.array([table[name] for name in holes.names])
    assert np.abs(found - holes.xy).max() <= 0.05 + 1e-9


def test_running_dimensions_stand_at_the_scale_that_is_stated() -> None:
    seen, words = _printed()["Cut sheet bench-bed-1"]
    scale = int(re.search(r"Scale 1 : ([0-9]+)", words)[1])
    rims = sorted({round(x, 3) for x, _, r in seen.circles if abs(r - 25 / scale) < 1e-3})

    assert [b - a for a, b in pairwise(rims)] == pytest.approx([581 / 3 / scale] * 2, abs=0.01)
    figures = {text for text, _, _ in seen.words}
    assert {"0", "96.8", "290.5", "484.2", "581", "93.3", "280", "466.7", "560"} <= figures
    assert "193.7" not in figures


def test_cuts_are_numbered_and_listed_with_measure_and_edge() -> None:
    seen, words = _printed()["Sheets 1-2: board 1250 x 600"]

    assert "Cut in the order of the numbers" in words
    assert "Cut 2 sheets like this" in words
    assert "The blade takes 3 mm" in words
    assert "581 from the left edge (true edge)" in words
    assert "10 from the lower edge (as bought)" in words
    rings = [circle for circle in seen.circles if abs(circle[2] - 3.3) < 1e-3]
    assert len({(round(x, 3), round(y, 3)) for x, y, _ in rings}) == 5
    for one, other in pairwise(sorted(rings)):
        apart = hypot(one[0] - other[0], one[1] - other[1])
        assert apart < 1e-3 or apart > 6.6


def test_every_line_on_a_sheet_is_told_from_its_trimmed_datum_corner() -> None:
    """Job map R3. The bench's pieces lie behind a trim of 10 mm, one kerf of 3 mm apart."""
    seen, _ = _printed()["Sheets 1-2: board 1250 x 600"]
    words = [text for text, _, _ in seen.words]
    at = words.index("from datum")
    rows = words[at + 1 : words.index("Pieces")]
    told = [(rows[k], rows[k + 2], rows[k + 4]) for k in range(0, len(rows), 5)]

    assert told == [
        ("1", "10", "0"),
        ("2", "10", "0"),
        ("3", "560", "560"),
        ("4", "581", "581"),
        ("5", "581", "1165"),
    ]
    assert {"581", "1165", "560"} <= set(words[:at])


def test_the_bed_page_says_where_an_obstacle_lies() -> None:
    """A pipe of 40 mm about (2300, 60) reaches from 2280 and 40 on."""
    seen, _ = _printed()["Bed Bench bed"]
    words = [text for text, _, _ in seen.words]
    at = words.index("1  standpipe")

    assert words[at + 1 : at + 5] == ["2280", "40", "40 × 40", "25"]  # noqa: RUF001
    assert "1" in words[:at]


SAMPLES = Path(__file__).parents[3] / "sample_projects"


@pytest.mark.parametrize("name", ["school-bench", "backyard-tanks", "round-pool"])
def test_every_figure_of_a_raft_read_back_from_the_pdf_is_that_of_the_plan(name: str) -> None:
    """Job map E2 and E5, in millimetres, inches and centimetres: half a step off at the most.

    The tables and the figures along the edges are read by pypdf from the printed pages.
    """
    path = SAMPLES / f"{name}.raft.json"
    plan = make_real_plan(file.loads(path.read_bytes(), path.name))
    unit = plan.project.units
    half = {"mm": 0.05, "cm": 0.05, "in": 25.4 / 32}[unit] + 1e-9
    for bed in plan.beds:
        for design in bed.designs:
            pages = [
                page
                for page in compose_cut_sheet(plan)
                if page.name.startswith(f"Cut sheet {design.name}")
            ]
            words = [
                text
                for page in read(render_pdf(pages, title="t")).pages
                for text, _, _ in look(page).words
            ]
            holes = dict(zip(design.holes.names, design.holes.xy.tolist(), strict=True))
            told = {
                word: (_mm(x, unit), _mm(y, unit))
                for word, x, y in zip(words, words[1:], words[2:], strict=False)
                if word in holes and _is_figure(x) and _is_figure(y)
            }
            assert told.keys() == holes.keys()
            for hole, place in told.items():
                assert np.abs(np.subtract(place, holes[hole])).max() <= half
            figures = {_mm(text, unit) for text in words if _is_figure(text)}
            for end in (float(design.shape.length), float(design.shape.width)):
                assert min(abs(end - shown) for shown in figures) <= half


def _mm(text: str, unit: Unit) -> float:
    exact = float(sum(map(Fraction, text.split())))
    return exact * {"mm": 1.0, "cm": 10.0, "in": 25.4}[unit]


def test_the_overview_counts_everything() -> None:
    _, words = _printed()["Cut sheet: North bench"]

    assert "36 plants, 4 rafts and 2 sheets of foam" in words
    for fact in ("42", "staggered", "across", "186.7", "R1-R4", "1250 × 600"):  # noqa: RUF001
        assert fact in words


@pytest.mark.parametrize(
    "subject",
    [
        "mask", "vacuum", "away from the water", "Clamp", "No gloves", "eye", "fumes",
        "cure", "GFCI", "RCD", "child", "100 kg", "Local codes", "licensed", "two people",
        "flame retardant", "who made the foam",
    ],
)  # fmt: skip
def test_cautions_name_what_can_hurt(subject: str) -> None:
    """Trade facts section 8: cautions of public bodies."""
    assert subject in " ".join(head + " " + text for head, text in CAUTIONS)
    assert all(head in _printed()["Cautions"][1] for head, _ in CAUTIONS)


def test_a_tenth_of_a_metre_of_water_weighs_100_kg_on_a_square_metre() -> None:
    """1 m² x 0.1 m x 1000 kg/m³; and 144 in³ of water are 5.2 lb."""
    assert 1 * 0.1 * 1000 == 100
    assert pytest.approx(5.2, abs=0.01) == 144 * 0.0254**3 * 1000 / 0.45359237


def test_the_bed_page_shows_the_rafts_by_name_and_the_obstacle() -> None:
    seen, words = _printed()["Bed Bench bed"]

    for fact in ("R1", "R4", "standpipe", "2360 × 580 mm", "596", "1768"):  # noqa: RUF001
        assert fact in words
    names = {text: (x, y) for text, x, y in seen.words if re.fullmatch("R[1-4]", text) and y > 150}
    assert sorted(names, key=lambda name: names[name][0]) == ["R1", "R2", "R3", "R4"]


def test_a_turned_raft_is_marked() -> None:
    design = make_design(shape=make_shape(400, 200), holes=make_holes([(50, 30)]))
    rafts = [PlacedRaft("R1", design, 0, 0), PlacedRaft("R2", design, 500, 0, turned=True)]
    pages = compose_cut_sheet(make_plan(make_bed_plan(rafts)))
    words = [
        mark.text
        for group in pages[-2].pictures[0].drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    ]

    assert "R2 ½" in words
    assert "half round" in words


def test_inches_are_shown_in_sixteenths() -> None:
    _, words = _printed("in")["Cut sheet bench-bed-1"]

    assert "22 7/8 × 22 1/16 in" in words  # noqa: RUF001 - as printed
    assert "x (in)" in words
    assert "3 13/16" in words  # 96.83 mm


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
def test_nothing_is_written_in_the_border_of_the_paper(paper: object) -> None:
    pages = compose_cut_sheet(_bench(), paper)
    for page in read(render_pdf(pages, title="t")).pages:
        seen = look(page)
        for _, x, y in seen.words:
            assert 10 - 1e-6 <= x <= paper.width_mm - 10
            assert 10 - 1e-6 <= y <= paper.height_mm - 10


def test_many_rafts_are_left_to_the_table_of_holes() -> None:
    design = make_design(shape=make_shape(500, 500), holes=make_holes([(250, 250)]))
    rafts = [PlacedRaft(f"R{n}", design, n * 510, 0) for n in range(300)]
    document = lay_cut_sheet(make_plan(make_bed_plan(rafts)), COMMON)
    words = " ".join(
        mark.text
        for page in document.pages()
        for group in page.pictures[0].drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    )

    assert document.total == 6
    assert "holes.csv" in words


def test_a_bed_whose_outline_cannot_be_drawn_has_no_page() -> None:
    bed = make_bed_plan([])
    bed = replace(bed, layout=replace(bed.layout, outline=Loop(())))

    assert [page.bookmark for page in compose_cut_sheet(make_plan(bed))] == ["Overview", "Cautions"]


def test_pages_of_other_scripts_name_what_the_font_lacks() -> None:
    words = " ".join(
        mark.text
        for group in compose_cut_sheet(make_plan(name="計画"))[0].pictures[0].drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    )

    assert "cjk unified ideograph-8a08" in words


def _words(plan: Plan, page_name: str) -> list[str]:
    return [
        mark.text
        for page in compose_cut_sheet(plan)
        if page.name.startswith(page_name)
        for group in page.pictures[0].drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    ]


def test_a_long_bed_is_drawn_in_stretches_in_which_every_raft_is_named_once() -> None:
    design = make_design(shape=make_shape(500, 500), holes=make_holes([(250, 250)]))
    rafts = [PlacedRaft(f"R{n}", design, n * 510.0, 0) for n in range(60)]
    outline = make_loop((0, 0), (30590, 0), (30590, 500), (0, 500))
    words = _words(make_plan(make_bed_plan(rafts, outline=outline)), "Bed Bench bed")

    stretches = [text for text in words if text.startswith("scale 1 :")]
    assert len(stretches) > 3
    assert ", 0 to " in stretches[0]
    assert "30590 mm from the datum corner" in stretches[-1]
    for raft in rafts:
        assert words.count(raft.name) == 2  # on the drawing and in the table


def test_a_tall_raft_stands_beside_what_proves_it() -> None:
    shape = make_shape(606, 1219)
    design = make_design("tall-1", shape, make_grid(606, 1219, columns=3, rows=6))
    pages = compose_cut_sheet(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])))
    first, table = [page for page in pages if "tall-1" in page.name]
    seen = look(read(render_pdf([first], title="t")).pages[0])

    places = {text: x for text, x, _ in seen.words}
    rightmost = max(x + r for x, _, r in seen.circles)
    assert places["Proof by tape, before the"] > rightmost
    assert "F3" in places
    assert "F3" in [
        text for text, _, _ in look(read(render_pdf([table], title="t")).pages[0]).words
    ]


def test_a_small_raft_has_all_on_one_page() -> None:
    pages = [page for page in compose_cut_sheet(_bench()) if "bench-bed-1" in page.name]
    words = [text for text, _, _ in look(read(render_pdf(pages, title="t")).pages[0]).words]

    assert len(pages) == 1
    for fact in ("hole", "x (mm)", "C3", "484.2", "466.7", "Both diagonals of the raft: 806.9 mm"):
        assert fact in words


def test_what_is_read_at_the_bench_is_large_enough_for_arms_length() -> None:
    """ISO 3098 has 3.5 mm among its sizes; ISO 9241-303 asks for 16 minutes of arc (from memory).

    The figures along the edges, those of the table and what is said of holes and proofs.
    """
    least = tan(radians(16 / 60)) * 650
    (page,) = [page for page in compose_cut_sheet(_bench()) if "bench-bed-1" in page.name]
    texts = [
        mark
        for group in page.pictures[0].drawing.groups
        for mark in group.marks
        if isinstance(mark, Text)
    ]
    figures = [text for text in texts if re.fullmatch(r"[0-9. /]+", text.text)]

    assert len(figures) > 18
    assert all(text.height * CAP_HEIGHT >= max(least, 3.49) for text in figures)
    assert any("9 holes" in text.text and text.height >= 6.4 for text in texts)


def test_a_turned_raft_is_told_of_where_it_is_made() -> None:
    design = make_design(shape=make_shape(400, 200), holes=make_holes([(50, 30)]))
    rafts = [PlacedRaft("R1", design, 0, 0), PlacedRaft("R2", design, 500, 0, turned=True)]
    plan = make_plan(make_bed_plan(rafts))
    words = _words(plan, "Cut sheet bench-bed-1")

    assert any(text.startswith("R2 lies turned half round (½)") for text in words)
    assert "½" in words
    plain = _words(make_plan(make_bed_plan(rafts[:1])), "Cut sheet bench-bed-1")
    assert not any("½" in text for text in plain)


def test_dry_foam_is_weighed_where_its_density_is_known() -> None:
    """581 x 560 x 50 mm less nine holes of 50 mm, at 32 kg/m³: by hand."""
    plan = _bench()
    heavy = replace(BOARD, density=Fraction(32))
    cut = replace(plan.cut.sheets[0], sheet=heavy)
    plan = replace(plan, cut=replace(plan.cut, sheets=(cut,)))
    kg = (0.581 * 0.560 - 9 * 0.025**2 * 3.14159265) * 0.05 * 32

    assert f"The dry raft weighs about {kg:.1f} kg." in _words(plan, "Cut sheet bench-bed-1")
    assert not any("weighs" in text for text in _words(_bench(), "Cut sheet bench-bed-1"))
    inches = replace(plan, project=replace(plan.project, units="in"))
    pounds = kg / 0.45359237
    assert f"The dry raft weighs about {pounds:.1f} lb." in _words(inches, "Cut sheet bench-bed-1")


@pytest.mark.parametrize(
    ("units", "thick", "depth", "said"),
    [
        ("in", "2 in", "1 1/2 in", "Saw from both faces. 1: pilot right through the 2 in"),
        ("mm", 50, 38, "2: 25 mm deep from the top face."),
        ("mm", 76, 38, "2: 38 mm deep from the top face."),
        ("mm", 38, 38, "Saw from the top face in one go"),
        ("mm", 77, 38, "take one that reaches 38.5 mm or more."),
        ("mm", 50, None, "Hole saws usually reach 38 mm: measure yours."),
        ("in", "1 1/2 in", None, "Saw from the top face in one go"),
        ("in", "2 in", None, "Hole saws usually reach 1 1/2 in: measure yours."),
        ("mm", None, 38, "How thick the foam is, is not known."),
    ],
)
def test_a_saw_that_is_too_shallow_works_from_both_faces(
    units: Unit, thick: str | int | None, depth: str | int | None, said: str
) -> None:
    """Job map K8: 2 in foam, 1 1/2 in cup: turn the raft over."""
    board = replace(BOARD, thickness=None if thick is None else Length.of(thick))
    plan = _bench(units)
    cut = replace(plan.cut.sheets[0], sheet=board)
    cutting = replace(plan.project.cutting, saw_depth=None if depth is None else Length.of(depth))
    project = replace(plan.project, cutting=cutting, sheets=(board,))
    plan = replace(plan, project=project, cut=replace(plan.cut, sheets=(cut,)))
    words = " ".join(_words(plan, "Cut sheet bench-bed-1"))

    assert said in words
    assert ("A hole" in words) == (thick is not None)


def test_diameters_that_differ_have_their_column() -> None:
    holes = make_holes([(100, 100), (300, 100)], diameter=50)
    mixed = replace(holes, diameters=np.array([50.0, 32.0]))
    design = make_design("mixed-1", holes=mixed)
    words = _words(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])), "Cut sheet mixed-1")

    assert "1 hole of 32 mm and 1 hole of 50 mm" in words
    assert "diameter" in words


def test_a_raft_without_holes_says_so() -> None:
    design = make_design("bare-1", holes=make_holes([]))
    words = _words(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])), "Cut sheet bare-1")

    assert "no holes" in words
    assert "hole" not in words


def test_dense_dimensions_refer_to_the_table() -> None:
    rng = np.random.default_rng(3)
    centres = [tuple(pair) for pair in rng.uniform(30, 530, (120, 2))]
    design = make_design("wild-1", holes=make_holes(centres, diameter=12))
    words = _words(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])), "Cut sheet wild-1")

    assert any("places without a figure are in the table" in text for text in words)


def test_a_sheet_that_is_the_raft_needs_no_cut() -> None:
    piece = Piece(
        "bench-bed-1", Fraction(0), Fraction(0), Fraction(1250), Fraction(600), turned=False
    )
    plan = make_plan(cut=CutPlan((CutSheet(BOARD, (piece,), 1),), (("bench-bed-1", 3),)))
    plan = replace(plan, project=replace(plan.project, sheets=(BOARD,)))
    words = _words(plan, "Sheet 1")

    assert "None: the sheet is the raft." in words
    assert any("No blade width is counted" in text for text in words)
    assert "No sheet on hand holds 3 rafts of bench-bed-1." in _words(plan, "Cut sheet: ")


def _cut_for_real(sheet: Sheet, count: int, cutting: Cutting = Cutting(Length.of(3))) -> Plan:  # noqa: B008
    needed = [("bench-bed-1", Fraction(581), Fraction(560), count)]
    plan = make_plan(cut=best_cut_plan(needed, (sheet,), cutting))
    return replace(plan, project=replace(plan.project, sheets=(sheet,), cutting=cutting))


def test_offcuts_worth_keeping_are_drawn_and_listed() -> None:
    words = _words(_cut_for_real(replace(BOARD, length=Length.of(1500)), 2), "Sheet 1")

    # 1500 less two turned rafts of 560 and two kerfs of 3 leaves 374, over the board's width.
    at = len(words) - 1 - words[::-1].index("offcut A")
    assert words[at : at + 4] == ["offcut A", "1", "1", "600 × 374"]  # noqa: RUF001
    assert words.count("offcut A") == 2  # in the drawing and in the table
    assert any(text.startswith("Offcuts with a letter are worth keeping") for text in words)
    assert "374 × 600 mm" in words  # noqa: RUF001


def test_score_lines_and_short_boards_are_told_of() -> None:
    scored = replace(BOARD, score=Score(across=Length.of(400)), tolerance=Length.of(4))
    plan = _cut_for_real(scored, 2)
    words = " ".join(_words(plan, "Sheet 1"))

    assert score_lines(scored) == (
        ((400, 0), (400, 600)),
        ((800, 0), (800, 600)),
        ((1200, 0), (1200, 600)),
    )
    assert "Grey dashed lines are scores" in words
    assert "A board may be up to 4 mm short" in words
    assert "Grey dashed" not in " ".join(_words(_cut_for_real(BOARD, 2), "Sheet 1"))


def test_the_overview_says_what_is_proved_about_the_sheets() -> None:
    proved = _cut_for_real(BOARD, 4)
    loose = replace(proved, cut=replace(proved.cut, bound=Fraction(1), aim="sheets"))
    stock = _cut_for_real(replace(BOARD, offcut=True, quantity=9), 4)

    assert any(
        text.startswith("2 sheets for 28.00; no plan needs fewer; 13%")
        for text in _words(proved, "Cut sheet: ")
    )
    assert any("between 1 and 2 sheets are needed" in text for text in _words(loose, "Cut sheet: "))
    assert any(text.startswith("Nothing is bought") for text in _words(stock, "Cut sheet: "))
    assert "on hand" in _words(stock, "Cut sheet: ")


def test_pieces_that_no_straight_cut_parts_are_named() -> None:
    wheel = ((0, 0, 700, 300), (700, 0, 300, 700), (300, 700, 700, 300), (0, 300, 300, 700))
    pieces = tuple(
        Piece(f"p{n}", *map(Fraction, place), turned=False) for n, place in enumerate(wheel)
    )
    square = Sheet("square", Length.of(1000), Length.of(1000))
    words = _words(make_plan(cut=CutPlan((CutSheet(square, pieces, 1),))), "Sheet 1")

    assert any("straight cuts" in text and "cannot" in text for text in words)


def test_problems_are_told_before_the_first_cut() -> None:
    finding = Finding("web", "problem", "Bench bed", "R1", ("A1", "A2"))
    plan = replace(make_plan(), findings=(finding,))

    assert any("found 1 problem" in text for text in _words(plan, "Cut sheet: "))


def test_a_bed_without_planting_has_no_patterns_tried() -> None:
    bed = make_bed_plan()
    bare = replace(bed, bed=replace(bed.bed, planting=None), tried=())

    assert not any("Patterns tried" in text for text in _words(make_plan(bare), "Cut sheet: "))


@pytest.mark.parametrize(
    ("units", "step", "on"),
    [("mm", "1 mm", 1.0), ("in", "1/16 in", 25.4 / 16), ("in", "1 mm", 1.0)],
)
def test_rounded_holes_are_printed_as_they_are_drilled(units: Unit, step: str, on: float) -> None:
    bed = Bed(
        "Bench",
        Rectangle(Length.of("47 5/8 in"), Length.of("23 in")),
        planting=Planting(
            Length.of("7 1/8 in"), Length.of("2 in"), edge_margin=Length.of("2 3/4 in"),
            round_to=Length.of(step),
        ),
    )  # fmt: skip
    plan = make_real_plan(Project("Bench", units, (bed,)))
    (design,) = plan.beds[0].designs
    words = [
        text
        for page in read(render_pdf(compose_cut_sheet(plan), title="t")).pages
        for text, _, _ in look(page).words
    ]

    assert any(text.endswith(f", on steps of {step}") for text in words)
    for name, (x, y) in zip(design.holes.names, design.holes.xy.tolist(), strict=True):
        told = [words[k + 1 : k + 3] for k, text in enumerate(words) if text == name]
        pairs = [pair for pair in told if len(pair) == 2 and _is_figure(pair[0])]
        said: Unit = "in" if step.endswith("in") else "mm"
        assert [_exact(text, said) for text in pairs[-1]] == pytest.approx([x, y], abs=1e-6)
        assert (x / on, y / on) == pytest.approx((round(x / on), round(y / on)), abs=1e-6)
    assert design.holes.names


def _is_figure(text: str) -> bool:
    return re.fullmatch(r"[0-9]+(\.[0-9]+)?( [0-9]+/[0-9]+)?|[0-9]+/[0-9]+", text) is not None


def _exact(text: str, units: Unit) -> float:
    return float(sum(map(Fraction, text.split()))) * (25.4 if units == "in" else 1)
