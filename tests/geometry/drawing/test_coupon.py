"""The test coupon: which holes it has, how large, and that its page can be used."""

from dataclasses import replace
from io import BytesIO
from math import hypot

import pytest
from pypdf import PdfReader

from geometry.drawing.coupon import coupons_of, lay_coupon
from geometry.drawing.marks import Circle
from geometry.drawing.paper import PAPERS, Page, PageSetup
from geometry.drawing.styles import Style
from geometry.model.supplies import Supplies
from geometry.plan import Plan, make_plan
from geometry.tongue import speaking
from geometry.units import Length, Unit
from layout_gui.output.pdf import render_pdf
from layout_gui.project.edits_pots import add_pot
from layout_gui.tongues import tongue_of
from tests.geometry.checks.test_pot_seats import potted
from tests.geometry.drawing.on_page import words_of
from tests.layout_gui.output.page_words import words_on_words, words_outside
from tests.layout_gui.output.pdf_reading import look

of = Length.of


def plan_of(unit: Unit = "mm", *saws: str, **changes: object) -> Plan:
    supplies = Supplies(saws=tuple(of(saw) for saw in saws))
    return make_plan(replace(potted(**changes), units=unit, supplies=supplies))


def radii(page: Page) -> list[float]:
    marks = [mark for picture in page.pictures for each in picture.drawing.groups for mark in
             each.marks]  # fmt: skip
    return [mark.radius for mark in marks if isinstance(mark, Circle) and mark.style is Style.HOLE]


@pytest.mark.parametrize(
    ("hole", "saws", "sizes"),
    [
        # Sizes that saws are sold in, from memory; 1 3/4 in for a 2 in pot is common practice.
        ("1 3/4 in", (), (41.275, 44.45, 47.625)),
        # A hole that does not suit the pot is not what is tried.
        ("50 mm", (), (41.275, 44.45, 47.625)),
        # A saw of 48 mm is the one of 1 7/8 in, labelled in millimetres.
        ("1 3/4 in", ("48 mm", "43 mm"), (43.0, 44.45, 48.0)),
        ("44.2 mm", ("44 mm",), (41.275, 44.0, 47.625)),
    ],
)
def test_it_tries_the_saw_wanted_and_its_neighbours(
    hole: str, saws: tuple[str, ...], sizes: tuple[float, ...]
) -> None:
    plan = plan_of("mm", *saws, hole_diameter=of(hole))

    (coupon,) = coupons_of(plan)

    assert [trial.fit.saw.mm for trial in coupon.trials] == pytest.approx(sizes)
    assert coupon.wanted.mm == pytest.approx(sizes[1])
    (page,) = lay_coupon(plan, PageSetup()).pages()
    assert sorted(radii(page)) == pytest.approx([size / 2 for size in sizes])


def test_its_holes_and_bars_come_out_at_true_size_on_a_printer_that_is_corrected() -> None:
    setup = PageSetup(PAPERS["A4"], across=1.01, along=0.99)
    document = lay_coupon(plan_of(), setup)
    reader = PdfReader(BytesIO(render_pdf(document.pages(), title="coupon")))

    seen = look(reader.pages[0], (1 / 1.01, 1 / 0.99))

    rims = sorted(2 * radius for _, _, radius in seen.circles if radius > 10)
    assert rims == pytest.approx([41.275, 44.45, 47.625], abs=0.02)
    bars = [hypot(x - left, y - low) for left, low, x, y in seen.strokes]
    assert sum(abs(length - 100) < 0.02 for length in bars) == 2


@pytest.mark.parametrize("tongue", ["en", "es"])
@pytest.mark.parametrize("paper", ["common", "A4"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_word_stands_on_another_or_on_the_edge(unit: Unit, paper: str, tongue: str) -> None:
    with speaking(tongue_of(tongue)):
        for plan in (plan_of(unit, "1 3/4 in"), plan_of(unit, pot=""), plan_of(unit, pot="large")):
            for page in lay_coupon(plan, PageSetup(PAPERS[paper])).pages():
                assert [*words_on_words(page), *words_outside(page, 9.5)] == []


def test_it_says_what_is_expected_and_whose_saw_it_is() -> None:
    (page,) = lay_coupon(plan_of("in", "1 3/4 in"), PageSetup()).pages()

    words = words_of(page)
    assert "Saw of 1 5/8 in (a usual size, from memory)" in words
    assert "expected: stands proud, its rim 12.8 mm above the foam" in words
    assert "Saw of 1 3/4 in (the one wanted; yours)" in words
    assert "expected: tight, 0 mm of play, rim on 3.2 mm of foam" in words


def test_very_wide_holes_have_a_page_each_and_a_plan_without_a_pot_says_so() -> None:
    project = potted(pot="", hole_diameter=of("4 in"), spacing=of(300), edge_margin=of(80))
    none = lay_coupon(make_plan(project), PageSetup())
    assert none.total == 1
    assert "No pot is named yet" in words_of(next(iter(none.pages())))

    wide = replace(
        project.pots[0], name="wide", body=of(101), foot=of(90), rim=of(120), depth=of(90)
    )
    wider, _ = add_pot(project, wide, "Bed")
    document = lay_coupon(make_plan(wider), PageSetup())
    pages = list(document.pages())
    assert len(pages) == document.total == 2
    assert [radii(page) for page in pages] == [
        [pytest.approx(47.625)],
        [pytest.approx(50.8)],
    ]
