"""Pages of a comparison say what was worked out, row by row."""

from collections import deque
from dataclasses import replace
from itertools import islice

import pytest

from geometry.compare.comparison import Comparison, compare_bed
from geometry.drawing.comparison_pages import lay_comparison
from geometry.drawing.marks import Text
from geometry.drawing.paper import Page
from geometry.drawing.transforms import marks_of
from geometry.model.bed import Bed
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Choice, Project
from geometry.model.sheet import Sheet
from geometry.units import Length

PLANTING = Planting(
    spacing=Length.of(200),
    hole_diameter=Length.of(50),
    edge_margin=Length.of(100),
    web=Length.of(25),
    pattern="square",
    joints="separate",
)
BED = Bed("bench", Rectangle(Length.of(1200), Length.of(600)), planting=PLANTING)
WIDE = Choice("wide rows", "bench", spacing=Length.of(260))
PROJECT = Project("p", beds=(BED,), choices=(WIDE,))


@pytest.fixture(scope="module")
def whole() -> Comparison:
    return deque(compare_bed(PROJECT, BED, series=("square",)), maxlen=1)[0]


def texts(pages: tuple[Page, ...]) -> list[str]:
    return [
        mark.text
        for page in pages
        for picture in page.pictures
        for mark in marks_of(picture.drawing.groups)
        if isinstance(mark, Text)
    ]


def test_every_choice_has_a_row_and_every_length_its_ends(whole: Comparison) -> None:
    said = texts(tuple(lay_comparison(PROJECT, (("bench", whole),)).pages()))

    assert "bench: choices side by side" in said
    assert {"as it stands", "wide rows"} <= set(said)
    for result in whole.results:
        assert f"{result.plants}" in said
    more = whole.results[1].plants - whole.results[0].plants
    assert f"{more:+d}" in said
    assert {"spacing", "edge margin", "clearance"} <= set(said)
    assert "Plants by spacing" in said
    assert "The comparison was not finished." not in said


def test_what_was_stopped_says_so_and_leaves_out_what_is_not_known(whole: Comparison) -> None:
    part = replace(whole, results=whole.results[:2], thresholds=(), series={}, is_complete=False)
    said = texts(tuple(lay_comparison(PROJECT, (("bench", part),)).pages()))

    assert "The comparison was not finished." in said
    assert "How far each length may go" not in said
    assert "Plants by spacing" not in said


def test_many_choices_run_over_several_pages(whole: Comparison) -> None:
    many = replace(whole, results=whole.results * 8)
    laid = lay_comparison(PROJECT, (("bench", many), ("other", whole)))

    said = texts(tuple(laid.pages()))
    assert laid.total > 1
    assert "other: choices side by side" in said
    assert f"page 2 of {laid.total}" in said


def test_without_anything_compared_the_page_says_so() -> None:
    said = texts(tuple(lay_comparison(PROJECT, ()).pages()))

    assert "No bed is planted; there is nothing to compare." in said


def test_leaves_and_foam_above_the_water_stand_beside_each_choice(whole: Comparison) -> None:
    assert "Leaves, and foam above the water" not in texts(
        tuple(lay_comparison(PROJECT, (("bench", whole),)).pages())
    )
    planting = replace(PLANTING, crop="lettuce, head")
    bed = replace(BED, planting=planting)
    board = Sheet("board", Length.of(1250), Length.of(600), thickness=Length.of(50))
    project = replace(PROJECT, beds=(bed,), sheets=(board,))
    part = tuple(islice(compare_bed(project, bed, series=(), shares=("choices",)), 3))[-1]

    said = texts(tuple(lay_comparison(project, (("bench", part),)).pages()))

    assert "Leaves, and foam above the water" in said
    for result in part.results:
        assert result.growing is not None
        assert result.afloat is not None
        assert f"day {result.growing.touch_day}" in said or "never" in said
        assert f"{result.afloat.harvest.lift:.1f} kg" in said
        assert f"{result.afloat.harvest.floating.freeboard:.1f} mm".replace(".0 ", " ") in said
