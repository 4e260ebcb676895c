"""The template as printed: read back from the PDF and held against the plan."""

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from math import hypot, pi

import numpy as np
import pypdfium2
import pytest

from geometry.cutting.plan import CutPlan
from geometry.drawing.check_figures import CARD_MM, CARD_RADIUS_MM
from geometry.drawing.lettering import text_box
from geometry.drawing.marks import Path
from geometry.drawing.paper import COMMON, PAPERS, PageSetup
from geometry.drawing.styles import Style
from geometry.drawing.template import Template, compose_template, lay_mirrored, lay_template
from geometry.model.curves import Arc, Loop, Point
from geometry.model.measure import bounds_of
from geometry.model.project import Project
from geometry.plan import PlacedRaft, Plan
from geometry.rafts.layout import RaftShape
from geometry.units import Unit
from layout_gui.output.pdf import render_pdf
from tests.builders import make_bed_plan, make_design, make_grid, make_holes, make_plan, make_shape
from tests.layout_gui.output.pdf_reading import Seen, look, read


def _round_raft() -> RaftShape:
    loop = Loop((Arc(Point(200, 200), 200, 0, 2 * pi),))
    whole = make_shape(400, 400)
    return RaftShape(loop, whole.length, whole.width, is_rectangle=False)


def _plan(kind: str, units: Unit = "mm") -> Plan:
    design = {
        "bench": make_design(),
        "turned": make_design(
            "long-1", make_shape(720, 180), make_grid(720, 180, columns=7, rows=2)
        ),
        "dense": make_design(
            "nursery-1",
            make_shape(400, 300),
            make_grid(400, 300, columns=11, rows=8, diameter=32),
        ),
        "round": make_design(
            "round-1",
            _round_raft(),
            make_holes(
                [(200, 200)]
                + [(200 + 130 * np.cos(a), 200 + 130 * np.sin(a)) for a in np.arange(8) * pi / 4],
                diameter=50.8,
            ),
        ),
        "plugs": make_design(
            "plugs-1", make_shape(300, 200), make_grid(300, 200, columns=6, rows=4, diameter=12)
        ),
    }[kind]
    rafts = [PlacedRaft(f"R{n + 1}", design, n * 700, 0) for n in range(4)]
    return make_plan(make_bed_plan(rafts), units=units)


KINDS = ("bench", "turned", "dense", "round", "plugs")


@cache
def _printed(kind: str, units: Unit = "mm") -> tuple[Template, tuple[Seen, ...], bytes]:
    plan = _plan(kind, units)
    data = render_pdf(compose_template(plan), title="t")
    return lay_template(plan), tuple(look(page) for page in read(data).pages), data


def _tiles(kind: str) -> Iterator[tuple[Template, tuple[int, int], Seen]]:
    template, pages, _ = _printed(kind)
    for cell, number in template.sets[0].numbers.items():
        yield template, cell, pages[number - 1]


def _marks(seen: Seen) -> list[tuple[float, float]]:
    """Centres to which four short strokes of equal length point, from outside a gap."""
    found = []
    for x, y, _ in seen.circles:
        aims = [
            (hypot(ax - x, ay - y), hypot(bx - x, by - y))
            for ax, ay, bx, by in seen.strokes
            if hypot(ax - x, ay - y) < 1.5 and hypot(bx - x, by - y) < 4.5
        ]
        if len(aims) == 4 and all(0 < near < far for near, far in aims):
            found.append((x, y))
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_every_centre_is_marked_where_the_plan_has_it(kind: str) -> None:
    """Printing notes 1.11: all tiles put back into raft coordinates give the plan's centres."""
    marked = []
    for template, cell, seen in _tiles(kind):
        shift = template.sets[0].tiling.on_page(cell)
        marked += [shift.back(x, y) for x, y in _marks(seen)]
    holes = _printed(kind)[0].sets[0].design.holes

    away = np.hypot(*(np.array(marked)[:, None] - holes.xy[None]).transpose(2, 0, 1))
    assert away.min(axis=0).max() < 0.01
    assert away.min(axis=1).max() < 0.01


@pytest.mark.parametrize("kind", KINDS)
def test_every_hole_is_named_within_8_mm_of_its_rim(kind: str) -> None:
    named = set()
    for template, cell, seen in _tiles(kind):
        shift = template.sets[0].tiling.on_page(cell)
        holes = template.sets[0].design.holes
        places = {
            name: (shift.point(*centre), size / 2)
            for name, centre, size in zip(holes.names, holes.xy, holes.diameters, strict=True)
        }
        for text, x, y in seen.words:
            if text in places:
                centre, radius = places[text]
                assert abs(hypot(x - centre.x, y - centre.y) - radius) < 8
                named.add(text)
    assert named == set(_printed(kind)[0].sets[0].design.holes.names)


@pytest.mark.parametrize("kind", KINDS)
def test_the_distances_on_each_page_are_those_of_the_raft(kind: str) -> None:
    """Needs nothing but the words and circles of the page: the size is true, turned or not."""
    compared = 0
    for template, _, seen in _tiles(kind):
        holes = template.sets[0].design.holes
        centres = dict(zip(holes.names, holes.xy, strict=True))
        rims = [(x, y) for x, y, r in seen.circles if abs(r - holes.diameters[0] / 2) < 1e-3]
        found = {}
        for text, x, y in seen.words:
            if text in centres:
                found[text] = min(rims, key=lambda rim: hypot(rim[0] - x, rim[1] - y))
        names = sorted(found)
        for first, second in pairwise(names):
            there = hypot(*(centres[first] - centres[second]))
            here = hypot(*np.subtract(found[first], found[second]))
            assert here == pytest.approx(there, abs=0.01)
            compared += 1
    assert compared or kind == "bench"


@pytest.mark.parametrize("kind", KINDS)
def test_each_cross_says_where_it_is_on_the_raft(kind: str) -> None:
    """The words of a cross, put on the page, meet the middle of a ring."""
    for template, cell, seen in _tiles(kind):
        shift = template.sets[0].tiling.on_page(cell)
        rings = [(x, y) for x, y, r in seen.circles if abs(r - 2.5) < 1e-3]
        assert len(rings) == 4
        words = " ".join(text for text, _, _ in seen.words)
        said = set(re.findall(r"cross ([A-Z]+[0-9]+): x (-?[0-9.]+), y (-?[0-9.]+)", words))
        assert len(said) == 4
        for _, along, across in said:
            x, y = shift.point(float(along), float(across))
            assert min(hypot(x - rx, y - ry) for rx, ry in rings) < 0.08


def test_a_cross_has_the_same_name_and_place_on_all_its_pages() -> None:
    said: dict[str, set[str]] = {}
    for _, _, seen in _tiles("turned"):
        for text, _, _ in seen.words:
            if found := re.match(r"cross ([A-Z]+[0-9]+)(: x .* mm)", text):
                said.setdefault(found[1], set()).add(found[2])
    assert all(len(places) == 1 for places in said.values())
    assert len(said) == 2 * 4


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_written_beside_the_drawing_touches_no_rim(kind: str) -> None:
    for template, cell, seen in _tiles(kind):
        window = template.sets[0].tiling.window()
        rims = [(x, y, r) for x, y, r in seen.circles if r > 3]
        names = set(template.sets[0].design.holes.names)
        for text, x, y in seen.words:
            numbers = {f"{n}" for n in template.sets[0].numbers.values()}
            if text in names or text in numbers or not window.left < x < window.right:
                continue
            for cx, cy, radius in rims:
                assert abs(hypot(x - cx, y - cy) - radius) > 0.2, (text, cell)


def test_the_first_page_has_two_bars_each_way_as_single_strokes() -> None:
    seen = _printed("bench")[1][0]

    across = [b[2] - b[0] for b in seen.strokes if b[1] == b[3] and b[2] - b[0] > 90]
    along = [b[3] - b[1] for b in seen.strokes if b[0] == b[2] and b[3] - b[1] > 90]
    for found in (across, along):
        assert sorted(found) == pytest.approx([100, 101.6], abs=1e-4)


def test_the_card_outline_has_the_size_of_a_bank_card() -> None:
    """ISO/IEC 7810 ID-1: 85.60 x 53.98 mm, corner radius 2.88 to 3.48 mm."""
    assert CARD_MM == (85.60, 53.98)
    assert 2.88 <= CARD_RADIUS_MM <= 3.48
    page = compose_template(_plan("bench"))[0]
    (card,) = [
        mark
        for picture in page.pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if any(isinstance(curve, Arc) for curve in getattr(mark, "curves", ()))
    ]
    arcs = [curve for curve in card.curves if isinstance(curve, Arc)]
    xs, ys = ([arc.centre[axis] for arc in arcs] for axis in (0, 1))
    assert max(xs) - min(xs) + 2 * CARD_RADIUS_MM == pytest.approx(85.60)
    assert max(ys) - min(ys) + 2 * CARD_RADIUS_MM == pytest.approx(53.98)


def test_the_bars_of_the_rendered_first_page_measure_true() -> None:
    dpi = 300
    data = _printed("bench")[2]
    (x0, y0, x1, _), *_ = [
        bar for bar in _printed("bench")[1][0].strokes if bar[2] - bar[0] == pytest.approx(100)
    ]
    document = pypdfium2.PdfDocument(data)
    image = document[0].render(scale=dpi / 72, grayscale=True).to_numpy()[::-1]
    document.close()
    image = image[:, :, 0] if image.ndim == 3 else image
    pixel = 25.4 / dpi
    rows = image[int((y0 - 0.3) / pixel) : int((y0 + 0.4) / pixel)].min(axis=0) < 128
    dark = np.flatnonzero(rows[int((x0 - 2) / pixel) : int((x1 + 2) / pixel)])
    assert (dark[-1] - dark[0] + 1) * pixel == pytest.approx(100.25, abs=pixel * 1.5)


@pytest.mark.parametrize("kind", KINDS)
def test_every_page_says_what_it_is(kind: str) -> None:
    template, pages, _ = _printed(kind)
    name = template.sets[0].design.name
    for number, seen in enumerate(pages, 1):
        words = " ".join(text for text, _, _ in seen.words)
        assert name in words
        assert "North bench" in words
        assert "Bench bed" in words
        assert f"age {number} of {len(pages)}" in words
        assert "op face up" in words
        assert "210 × 279.4 mm" in words  # noqa: RUF001 - as printed
        assert "100 %" in words
        assert "never fit, shrink" in words
        assert "rill 4 of these: R1-R4" in words


@pytest.mark.parametrize("kind", KINDS)
def test_neighbours_agree_on_which_edge_goes_under(kind: str) -> None:
    template, pages, _ = _printed(kind)
    numbers = template.sets[0].numbers
    for (column, row), number in numbers.items():
        words = " ".join(text for text, _, _ in pages[number - 1].words).lower()
        for side, beside in (("left", (column - 1, row)), ("bottom", (column, row - 1))):
            told = f"{side} edge under page {numbers.get(beside)}" in words
            assert told == (beside in numbers)


def test_check_bars_stand_on_the_tiles_where_the_drawing_leaves_room() -> None:
    both = 0
    for _, _, seen in _tiles("bench"):
        along = [b for b in seen.strokes if b[3] - b[1] == pytest.approx(100, abs=1e-4)]
        across = [b for b in seen.strokes if b[2] - b[0] == pytest.approx(100, abs=1e-4)]
        both += len(along) == len(across) == 1
    assert both >= 8


def test_inch_projects_get_inch_bars_and_figures() -> None:
    template, pages, _ = _printed("bench", "in")

    words = " ".join(text for text, _, _ in pages[0].words)
    assert "1 15/16 in (50 mm)" in words
    assert "22 7/8 × 22 1/16 in" in words  # noqa: RUF001 - as printed
    tile = pages[template.sets[0].numbers[0, 0] - 1]
    assert [b for b in tile.strokes if b[3] - b[1] == pytest.approx(101.6, abs=1e-4)]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS.keys())
def test_pages_have_the_size_of_the_paper_and_keep_its_border_free(paper: object) -> None:
    """ISO 216 for A4 and A3, ANSI/ASME Y14.1 for Letter and Tabloid (8.5 x 11 and 11 x 17 in)."""
    pages = compose_template(_plan("bench"), PageSetup(paper))

    for page in pages:
        assert (page.width_mm, page.height_mm) == (paper.width_mm, paper.height_mm)
        assert page.trim is None or (page.trim.left, page.trim.bottom) >= (10, 10)
    assert (PAPERS["A4"].width_mm, PAPERS["A4"].height_mm) == (210, 297)
    assert (PAPERS["A3"].width_mm, PAPERS["A3"].height_mm) == (297, 420)
    assert PAPERS["Letter"].width_mm == pytest.approx(8.5 * 25.4)
    assert PAPERS["Letter"].height_mm == pytest.approx(11 * 25.4)
    assert PAPERS["Tabloid"].height_mm == pytest.approx(17 * 25.4)
    assert COMMON.width_mm == min(PAPERS["A4"].width_mm, PAPERS["Letter"].width_mm)
    assert COMMON.height_mm == min(PAPERS["A4"].height_mm, PAPERS["Letter"].height_mm)


def test_rafts_that_are_alike_come_once_and_each_design_begins_a_part() -> None:
    one = make_design("one-1", make_shape(150, 150), make_holes([(75, 75)]))
    two = make_design("two-1", make_shape(150, 200), make_holes([(75, 75)]))
    rafts = [PlacedRaft(f"R{n}", design, 0, 0) for n, design in enumerate((one, two, one))]
    pages = compose_template(make_plan(make_bed_plan(rafts)))

    assert [page.bookmark for page in pages if page.bookmark] == [
        "one-1: drill 2 of these: R0, R2",
        "two-1: drill 1 of these: R1",
    ]
    assert len(pages) == 4


def test_a_project_in_another_script_says_what_it_could_not_print() -> None:
    plan = make_plan(name="計画 Øre")
    seen = look(read(render_pdf(compose_template(plan), title="計画")).pages[0])
    words = " ".join(text for text, _, _ in seen.words)

    assert "□□ Øre, bed Bench bed" in words
    assert "cjk unified ideograph-8a08" in words


def test_a_raft_without_holes_still_has_its_outline() -> None:
    design = make_design("bare-1", make_shape(150, 150), make_holes([]))
    pages = compose_template(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])))

    assert len(pages) == 2


def test_the_same_plan_gives_the_same_bytes() -> None:
    plan = _plan("round")

    assert render_pdf(compose_template(plan), title="t") == _printed("round")[2]


def _cover_words(plan: Plan) -> str:
    return " ".join(
        mark.text
        for picture in compose_template(plan)[0].pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    )


def test_pages_left_out_are_listed_and_their_neighbours_know() -> None:
    """A frame of foam with one hole: the middle of the raft has nothing to print."""
    design = make_design("frame-1", make_shape(800, 1000), make_holes([(100, 100)]))
    plan = make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    tiling = lay_template(plan).sets[0].tiling
    pages = compose_template(plan)

    assert tiling.blank
    assert {row for _, row in tiling.blank} == {1, 2}
    assert {column for column, _ in tiling.blank} == {1, 2, 3}
    assert "row 2 columns 2-4; row 3 columns 2-4." in _cover_words(plan)
    words = [
        mark.text
        for page in pages[1:]
        for group in page.pictures[2].drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    ]
    assert any("the page beyond is left out" in text for text in words)


def test_the_map_of_a_long_raft_can_be_read() -> None:
    """Its list of pages left out must not take the room of the map."""
    holes = make_grid(6000, 1200, columns=15, rows=3)
    design = make_design("long-1", make_shape(6000, 1200), holes)
    cover = next(lay_template(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))).pages())
    marks = [
        mark
        for picture in cover.pictures
        for group in picture.drawing.groups
        for mark in group.marks
    ]
    boxes = [box.grown(-0.05) for box in map(text_box, marks) if box is not None]
    raft = next(mark for mark in marks if isinstance(mark, Path) and mark.style is Style.RAFT)
    x0, y0, x1, y1 = bounds_of(raft.curves)

    assert max(x1 - x0, y1 - y0) > 60
    assert not any(one.meets(other) for one, other in combinations(boxes, 2))


def test_a_hole_larger_than_the_cover_is_not_drawn_there() -> None:
    holes = make_holes([(150, 150)], diameter=120)
    design = make_design("wide-1", make_shape(300, 300), holes)
    words = _cover_words(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])))

    assert "too large for this page" in words


def test_a_hole_wider_than_its_place_on_the_cover_is_drawn_above_and_below() -> None:
    """Three-inch net pots are common practice (no source): their saw must have a place to lie."""
    holes = make_holes([(150, 150)], diameter=76.2)
    design = make_design("wide-1", make_shape(300, 300), holes)
    cover = compose_template(make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)])))[0]
    (marks,) = [
        group.marks
        for picture in cover.pictures
        for group in picture.drawing.groups
        if group.id == "largest-hole"
    ]
    arcs = [
        curve for mark in marks for curve in getattr(mark, "curves", ()) if isinstance(curve, Arc)
    ]

    assert len(arcs) == 2
    assert {arc.radius for arc in arcs} == {38.1}
    assert len({arc.centre for arc in arcs}) == 1
    reach = [
        arc.centre.x + arc.radius * np.cos(arc.angle + arc.sweep * n)
        for arc in arcs
        for n in (0, 1)
    ]
    assert min(reach) > 100
    assert max(reach) < COMMON.width_mm - 10


def test_the_tape_distance_is_that_of_the_farthest_crosses() -> None:
    words = _cover_words(_plan("bench"))
    found = re.search(r"cross ([A-Z])([0-9]) to cross ([A-Z])([0-9]) is ([0-9.]+) mm", words)

    tiling = lay_template(_plan("bench")).sets[0].tiling
    assert found
    assert float(found[5]) == pytest.approx(
        hypot(tiling.columns * tiling.step_x, tiling.rows * tiling.step_y), abs=0.05
    )


@pytest.mark.parametrize("kind", KINDS)
def test_no_word_stands_in_the_border_that_printers_leave_white(kind: str) -> None:
    for seen in _printed(kind)[1]:
        for text, x, y in seen.words:
            assert 10 - 1e-6 <= x <= 200, text
            assert 10 - 1e-6 <= y <= 269.4, text


def test_a_cover_with_many_kinds_of_holes_keeps_within_the_page() -> None:
    holes = make_grid(560, 560, columns=6, rows=6)
    sizes = np.tile(np.arange(30, 48, dtype=np.float64), 2)
    design = make_design("mixed-1", holes=replace(holes, diameters=sizes))
    plan = make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    cover = look(read(render_pdf(compose_template(plan), title="t")).pages[0])

    assert "… the rest is on the cut sheet" in _cover_words(plan)
    assert min(y for _, _, y in cover.words) >= 10 - 1e-6


@pytest.mark.parametrize("lay", [lay_template, lay_mirrored])
def test_without_a_raft_there_is_a_page_that_says_so(lay: Callable[[Plan], Template]) -> None:
    """Readers open no document without pages."""
    laid = lay(Plan(Project("empty"), (), CutPlan(), ()))

    (page,) = read(render_pdf(laid.pages(), title="none")).pages

    assert laid.total == 1
    assert "There is no raft to drill." in page.extract_text()
    assert not list(laid.pages({2}))
