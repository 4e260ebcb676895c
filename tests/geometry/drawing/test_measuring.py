"""The measuring page: every measure of a shape has a letter and a box, all on the paper."""

from collections import Counter

import pytest

from geometry.beds.levels import may_lean
from geometry.beds.shapes import AGAIN, NEEDED, SHAPES, ShapeName
from geometry.drawing.measuring import (
    LEANING,
    lay_blank_measuring,
    lay_measuring,
    lean_blanks,
    measure_blanks,
)
from geometry.drawing.paper import PAPERS
from geometry.drawing.shape_lines import measure_lines
from geometry.model.bed import Bed
from geometry.model.outlines import Disc, Polygon, Rectangle
from geometry.model.project import Project
from geometry.plan import make_plan
from geometry.tongue import speaking
from geometry.units import Length
from layout_gui.__main__ import _SHAPES
from layout_gui.project.first import usual_outline
from layout_gui.tongues import tongue_of
from tests.geometry.drawing.on_page import collisions, strays, texts_of, words_of


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("paper", ["common", "Letter", "A4"])
def test_nothing_stands_off_the_page_or_on_top_of_another(paper: str, language: str) -> None:
    shapes: list[tuple[ShapeName, str]] = [
        (shape, "A bed with a name too long for its box " * 4) for shape in SHAPES
    ]
    with speaking(tongue_of(language)):
        pages = list(lay_blank_measuring(shapes, PAPERS[paper], "in").pages())

    assert len(pages) == 2 * len(SHAPES)
    for page in pages:
        assert strays(page) == [], page.name
        assert collisions(page) == [], page.name


@pytest.mark.parametrize("shape", SHAPES)
def test_each_measure_has_one_letter_at_its_line_and_one_at_its_box(shape: ShapeName) -> None:
    first = next(lay_blank_measuring([(shape, "")]).pages())
    letters = Counter(text.text for text in texts_of(first) if len(text.text) == 1)
    blanks = measure_blanks(shape)

    assert {blank.field for blank in blanks} == {
        f"guide-{line.name}" for line in measure_lines(shape)
    }
    assert len(blanks) == len(NEEDED[shape]) + (len(AGAIN) if shape == "rectangle" else 0)
    if shape != "free":
        assert letters == {blank.letter: 2 for blank in blanks}


@pytest.mark.parametrize("shape", SHAPES)
def test_walls_may_lean_on_paper_where_the_program_lets_them(shape: ShapeName) -> None:
    assert bool(lean_blanks(shape)) is may_lean(usual_outline(shape, "mm"))
    assert (shape in LEANING) is bool(lean_blanks(shape))


def test_each_bed_has_the_pages_of_its_own_shape() -> None:
    corners = [(Length.of(x), Length.of(y)) for x, y in ((0, 0), (900, 0), (500, 700))]
    plan = make_plan(
        Project(
            "test",
            "cm",
            (
                Bed("Pond", Disc(Length.of(900))),
                Bed("Trough", Rectangle(Length.of(900), Length.of(500), Length.of(60))),
                Bed("Corner", Polygon(tuple(corners))),
            ),
        )
    )
    pages = list(lay_measuring(plan).pages())

    assert [page.bookmark for page in pages if page.bookmark] == [
        "Measuring page: round",
        "Measuring page: rounded corners",
        "Measuring page: corner by corner",
    ]
    for number, name in enumerate(("Pond", "Trough", "Corner")):
        assert all(name in words_of(page) for page in pages[2 * number : 2 * number + 2])


def test_without_a_bed_there_is_the_page_of_a_rectangle() -> None:
    page = next(lay_measuring(make_plan(Project("empty"))).pages())

    assert page.bookmark == "Measuring page: rectangle"


def test_the_command_knows_every_shape() -> None:
    assert tuple(each.replace("-", " ") for each in _SHAPES) == SHAPES
