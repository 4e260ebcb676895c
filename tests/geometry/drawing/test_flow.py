"""Rows over pages."""

from geometry.drawing.flow import (
    Column,
    Part,
    gap,
    heading,
    paginate,
    part_page,
    row_room,
    table,
    words,
)
from geometry.drawing.marks import Text
from geometry.drawing.paper import COMMON
from geometry.drawing.styles import Style
from geometry.drawing.text_width import text_width


def _texts(part: Part) -> list[list[str]]:
    pages = paginate(part, COMMON)
    return [
        [
            mark.text
            for group in part_page(
                part, rows, COMMON, place=place, number=place + 1, total=len(pages)
            ).pictures[0].drawing.groups
            for mark in group.marks
            if isinstance(mark, Text)
        ]
        for place, rows in enumerate(pages)
    ]  # fmt: skip


def test_a_long_table_runs_over_pages_and_repeats_its_headings() -> None:
    rows = table(
        (Column("hole", 20), Column("x", 20, "right")), [(f"H{n}", f"{n}") for n in range(150)]
    )
    pages = _texts(Part("Part", "task", rows))

    assert len(pages) > 2
    assert all("hole" in page for page in pages)
    found = [text for page in pages for text in page if text.startswith("H")]
    assert found == [f"H{n}" for n in range(150)]
    assert pages[1][0] == "Part (continued)"
    assert "page 2 of" in pages[1][1]


def test_rows_of_a_page_fit_on_it() -> None:
    rows = table((Column("a", 20),), [(f"{n}",) for n in range(150)])

    for page in paginate(Part("p", "t", rows), COMMON):
        assert sum(row.height for row in page) <= row_room(COMMON)


def test_a_heading_stays_with_what_follows() -> None:
    filler = tuple(gap(1) for _ in range(int(row_room(COMMON)) - 5))
    part = Part("p", "t", (*filler, heading("Last"), words("with its words", 100)))
    pages = _texts(part)

    assert "Last" not in pages[0]
    assert pages[1][-2:] == ["Last", "with its words"]


def test_an_empty_part_is_one_page() -> None:
    assert len(paginate(Part("p", "t", ()), COMMON)) == 1
    assert table((Column("a", 20),), []) == ()


def test_a_name_too_wide_for_its_column_or_page_keeps_the_end_that_tells_it_apart() -> None:
    name = "north-facing-bed-beside-the-rainwater-barrels-12"
    rows = table((Column("raft design", 40, keeps_end=True),), [(name,)])
    part = Part(f"Cut sheet {name} {name}", "", rows)
    page = part_page(part, rows, COMMON, place=0, number=1, total=2)
    next_page = part_page(part, rows, COMMON, place=1, number=2, total=2)
    texts = [
        mark
        for group in page.pictures[0].drawing.groups
        for mark in group.marks
        if isinstance(mark, Text)
    ]
    shown = [mark for mark in texts if "…" in mark.text]

    assert next_page.name.endswith("(continued), page 2")
    assert len(shown) == 2
    for mark, room in zip(shown, (COMMON.width_mm - 20 - 34, 40), strict=True):
        assert mark.text.endswith("ls-12")
        assert text_width(mark.text, mark.height, bold=mark.style is Style.TITLE) <= room


def test_a_heading_that_is_too_wide_is_written_smaller() -> None:
    (short,), (long,) = (
        list(heading(text, 100).draw(0, 0)) for text in ("Cuts in order", "Patterns tried " * 4)
    )

    assert isinstance(short, Text)
    assert isinstance(long, Text)
    assert short.height > long.height
    assert text_width(long.text, long.height, bold=True) <= 100
