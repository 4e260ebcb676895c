"""One long page for each raft: as large as it needs, in strips or lengths where it must be."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.drawing.paper import COMMON, PAPERS, PageSetup, is_same_size, roll_paper
from geometry.drawing.template import lay_template
from geometry.drawing.tiles import Tiling, lay_tiles
from geometry.errors import GeometryError
from geometry.plan import PlacedRaft
from tests.builders import make_bed_plan, make_design, make_grid, make_holes, make_plan, make_shape


def _tiling(length: float, width: float, roll: float = 914, **setup: float) -> Tiling:
    columns, rows = max(1, round(length / 200)), max(1, round(width / 200))
    design = make_design(
        shape=make_shape(length, width),
        holes=make_grid(length, width, columns=columns, rows=rows, diameter=30),
    )
    return lay_tiles(design, PageSetup(roll_paper(roll), **setup), footer=42)


def test_a_page_is_as_large_as_its_raft_and_20_mm_all_round() -> None:
    """Printing notes 1.7: page size = raft + 20 mm; the words at the foot have their own strip."""
    tiling = _tiling(1200, 600)
    paper = tiling.setup.paper

    assert (paper.width_mm, paper.height_mm) == (640, 1240 + 42)
    assert tiling.cells == ((0, 0),)
    shown = tiling.shown((0, 0))
    border = tiling.border
    assert (shown.left - border, shown.right + border) == pytest.approx((-20, 620))
    assert (shown.bottom - border, shown.top + border) == pytest.approx((-20, 1220))


@pytest.mark.parametrize(("length", "width"), [(1200, 600), (600, 1200)])
def test_the_shorter_side_goes_across_the_roll(length: float, width: float) -> None:
    tiling = _tiling(length, width)

    assert tiling.turned == (length > width)
    assert tiling.setup.paper.width_mm == 640


def test_a_raft_that_just_fits_a_roll_of_24_in_comes_in_one() -> None:
    """24 in are 609.6 mm, sold as 610: 570 and twice 20 fill it."""
    assert _tiling(1200, 570, roll=610).columns == 1
    assert _tiling(1200, 571, roll=610).columns == 2


def test_what_is_longer_than_readers_show_comes_in_equal_lengths() -> None:
    """Printing notes 1.7: 14,400 points are 5,080 mm, so pages end at 5,000 mm."""
    tiling = _tiling(7300, 580)

    assert (tiling.columns, tiling.rows) == (1, 2)
    assert tiling.setup.paper.height_mm < 4000
    assert _tiling(4918, 580).rows == 1
    assert _tiling(4919, 580).rows == 2


@settings(max_examples=60, deadline=None)
@given(
    length=st.floats(30, 12_000),
    width=st.floats(30, 3000),
    roll=st.sampled_from([610.0, 914.0, 1067.0]),
    overlap=st.floats(10, 40),
    factor=st.sampled_from([0.97, 1.0, 1.03]),
)
def test_pages_fit_the_roll_and_cover_the_raft(
    length: float, width: float, roll: float, overlap: float, factor: float
) -> None:
    tiling = _tiling(length, width, roll, overlap_mm=overlap, across=factor, along=factor)
    paper = tiling.setup.paper

    assert paper.width_mm <= roll
    assert paper.height_mm <= 5000
    assert paper.width_mm == int(paper.width_mm) or paper.width_mm == roll
    far = (width, length) if tiling.turned else (length, width)
    first, last = tiling.shown((0, 0)), tiling.shown((tiling.columns - 1, tiling.rows - 1))
    assert max(first.left, first.bottom) <= -1 + 1e-6
    assert last.right >= far[0] + 1 - 1e-6
    assert last.top >= far[1] + 1 - 1e-6
    for one, other in pairwise(tiling.shown((0, row)) for row in range(tiling.rows)):
        assert one.top - other.bottom >= overlap - 1e-6


def test_a_raft_wider_than_the_roll_says_so_and_what_helps() -> None:
    wide = make_design("wide-1", make_shape(1200, 700), make_holes([(300, 300)]))
    plan = make_plan(make_bed_plan([PlacedRaft("R1", wide, 0, 0)]))
    (narrow,) = lay_template(plan, PageSetup(roll_paper(610))).sets
    (enough,) = lay_template(plan, PageSetup(roll_paper(914))).sets

    assert "comes in 2 strips" in narrow.roll_note
    assert "A roll 740 mm wide takes it in one." in narrow.roll_note
    assert enough.roll_note == ""
    assert "print at 100 %, no fitting, on a roll 914 mm wide" in enough.roll_words[0]


def test_the_cover_of_a_roll_is_a_common_page_with_its_words() -> None:
    pages = tuple(lay_template(make_plan(), PageSetup(roll_paper(914))).pages())
    words = " ".join(
        mark.text
        for picture in pages[0].pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if hasattr(mark, "text")
    )

    assert (pages[0].width_mm, pages[0].height_mm) == (COMMON.width_mm, COMMON.height_mm)
    assert "Have the rest printed from the roll" in words
    assert (pages[1].width_mm, len(pages)) == (600, 2)


def test_a_roll_is_no_sheet_whatever_its_other_pages_measure() -> None:
    """What a home printer gets wrong must not be made good on a plotter."""
    assert not is_same_size(roll_paper(914), COMMON)
    assert not is_same_size(roll_paper(914), roll_paper(610))
    assert is_same_size(PAPERS["A4"], PAPERS["A4"])


@pytest.mark.parametrize("width", [0, 279, 2001, 1e9])
def test_a_roll_that_cannot_be_is_refused(width: float) -> None:
    with pytest.raises(GeometryError, match="usual are 610 and 914 mm"):
        roll_paper(width)
