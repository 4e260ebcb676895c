"""All holes of all samples, read off their template's pages, lie where the plan has them."""

import csv
import io
from functools import cache
from itertools import cycle
from math import hypot

import pytest
from pypdf import PdfReader

from geometry.drawing.paper import PAPERS
from geometry.drawing.template import lay_mirrored
from layout_gui.output.pdf import render_pdf
from layout_gui.output.tables import write_holes
from tests.layout_gui.output.pdf_reading import Seen, look, read
from tests.paper.putting_together import is_mirrored, put_together
from tests.paper.samples import NAMES, plan_of, template_of

ENOUGH_MM = 0.01
"""Printing notes, test 3: what is put together again equals the model within this."""

Sets = dict[str, list[Seen]]


def tiles_of(reader: PdfReader, printer: tuple[float, float] = (1.0, 1.0)) -> Sets:
    """Return the pages of each raft design without their cover, by the bookmarks."""
    covers = [reader.get_destination_page_number(item) for item in reader.outline]
    ends = [*covers[1:], len(reader.pages)]
    return {
        item.title.partition(": drill")[0]: [
            look(page, printer) for page in reader.pages[cover + 1 : end]
        ]
        for item, cover, end in zip(reader.outline, covers, ends, strict=True)
    }


@cache
def rows_of(sample: str) -> dict[str, dict[str, tuple[float, float, float]]]:
    """Return what ``holes.csv`` says of the first raft of every design: x, y and diameter."""
    plan = plan_of(sample)
    stream = io.StringIO()
    list(write_holes(plan, stream))
    rows = list(csv.DictReader(io.StringIO(stream.getvalue())))
    first = {}
    for bed in plan.beds:
        for raft in bed.rafts:
            first.setdefault(raft.design.name, (bed.bed.name, raft.name))
    return {
        design: {
            row["hole"]: (float(row["x_mm"]), float(row["y_mm"]), float(row["diameter_mm"]))
            for row in rows
            if (row["bed"], row["raft"]) == place
        }
        for design, place in first.items()
    }


def compare(sample: str, sets: Sets) -> None:
    wanted = rows_of(sample)
    assert sets.keys() == wanted.keys()
    for design, pages in sets.items():
        found = put_together(pages)
        assert {hole.name for hole in found} == wanted[design].keys()
        for hole in found:
            x, y, diameter = wanted[design][hole.name]
            assert hypot(hole.at[0] - x, hole.at[1] - y) < ENOUGH_MM, hole
            assert hole.diameter == pytest.approx(diameter, abs=ENOUGH_MM)


@pytest.mark.parametrize(
    ("sample", "paper"),
    [
        *((sample, "common") for sample in NAMES),
        *zip(NAMES[1::2], cycle(["A4", "Letter"]), strict=False),
    ],
)
def test_pages_laid_cross_on_cross_give_every_hole_of_the_plan(sample: str, paper: str) -> None:
    compare(sample, tiles_of(read(template_of(sample, PAPERS[paper]))))


def test_mirrored_pages_give_the_same_holes_with_the_paper_face_down() -> None:
    """What is drilled from below lies where the plan has it, seen from above."""
    plan = plan_of("first-raft")
    data = render_pdf(lay_mirrored(plan).pages(), title="t")
    (seen,) = tiles_of(read(data)).values()

    compare("first-raft", {"herb-tub-1": seen})
    assert is_mirrored(seen)
    assert not is_mirrored(tiles_of(read(template_of("first-raft")))["herb-tub-1"])


def test_a_printer_that_is_wrong_and_corrected_gives_every_hole_of_the_plan() -> None:
    """The printer makes 1 % too much one way and 1 % too little the other."""
    printer = (1 / 0.99, 1 / 1.01)
    data = template_of("first-raft", PAPERS["common"], across=0.99, along=1.01)

    compare("first-raft", tiles_of(read(data), printer))


def test_a_printer_that_is_wrong_and_not_corrected_is_noticed() -> None:
    """The comparison can fail: half a percent puts crosses beside what they say."""
    sets = tiles_of(read(template_of("first-raft")), (1.005, 1.005))

    with pytest.raises(AssertionError):
        compare("first-raft", sets)
