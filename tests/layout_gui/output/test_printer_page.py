"""The printer page as it is printed, and templates out of a printer that was measured by it."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from geometry.drawing.marks import Box, Text
from geometry.drawing.marks import Path as Stroke
from geometry.drawing.paper import COMMON, PAPERS, PageSetup, Paper, own_paper
from geometry.drawing.printer import TICKS_MM, Printer, judged_printer, line_mm, measured_line
from geometry.drawing.printer_page import PrinterPages, line_ends, printer_page
from geometry.drawing.styles import Style
from geometry.drawing.template import compose_template, lay_template
from geometry.drawing.text_width import text_width
from geometry.plan import PlacedRaft, Plan
from geometry.tongue import speaking
from geometry.units import Length
from layout_gui.output.documents import DOCUMENTS, PageDocument
from layout_gui.output.export import export
from layout_gui.output.pdf import render_pdf
from layout_gui.output.printer_pdf import write_printer_pages
from layout_gui.tongues import tongue_of
from tests.builders import make_bed_plan, make_design, make_grid, make_plan, make_shape
from tests.layout_gui.output.pdf_reading import look, read

A4, LETTER = PAPERS["A4"], PAPERS["Letter"]
DPI = 600
PIXEL = 25.4 / DPI
ROLL = own_paper(610, 1200)


def darkness(data: bytes, page: int = 0) -> np.ndarray:
    """Render at 600 dpi; row 0 is the lower edge."""
    document = pypdfium2.PdfDocument(data)
    image = document[page].render(scale=DPI / 72, grayscale=True).to_numpy()[::-1]
    document.close()
    return (image[:, :, 0] if image.ndim == 3 else image) < 128


def extent(dark: np.ndarray, at: float) -> float:
    """Return from the middle of the first to the middle of the last end tick, in mm.

    Looked at 3 mm beside the line, where nothing but its end ticks and the other line is dark.
    """
    row = np.flatnonzero(dark[round(at / PIXEL)])
    runs = np.split(row, np.flatnonzero(np.diff(row) > 1) + 1)
    return float(np.mean(runs[-1]) - np.mean(runs[0])) * PIXEL


@pytest.mark.parametrize("paper", [A4, LETTER, COMMON])
def test_the_lines_are_true_to_a_pixel_at_600_dpi(paper: Paper) -> None:
    dark = darkness(render_pdf([printer_page(paper)], title="t"))

    (_, y), _ = line_ends(paper, "across")
    (x, _), _ = line_ends(paper, "along")
    assert extent(dark, y - 3) == pytest.approx(line_mm(paper, "across"), abs=PIXEL)
    assert extent(dark.T, x - 3) == pytest.approx(line_mm(paper, "along"), abs=PIXEL)


@given(st.floats(210, 5000), st.floats(279.4, 5000))
@settings(max_examples=25)
def test_lines_of_any_paper_end_12_mm_from_its_edges_or_a_little_farther(
    width: float, height: float
) -> None:
    paper = own_paper(width, height)
    for way, side in (("across", paper.width_mm), ("along", paper.height_mm)):
        start, end = line_ends(paper, way)
        first, last = (start.x, end.x) if way == "across" else (start.y, end.y)
        assert last - first == pytest.approx(line_mm(paper, way), abs=1e-9)
        assert 12 - 1e-6 <= first < 12.5 + 1e-6
        assert first == pytest.approx(side - last)


def test_the_content_says_the_same_to_a_micrometre() -> None:
    page = read(render_pdf([printer_page(A4)], title="t")).pages[0]

    strokes = {tuple(round(value, 3) for value in stroke) for stroke in look(page).strokes}

    assert (12.0, 26.0, 198.0, 26.0) in strokes
    assert (26.0, 12.0, 26.0, 285.0) in strokes
    strokes = {one for one in strokes if abs(one[2] - one[0] + one[3] - one[1] - 4.4) < 0.01}
    for far in TICKS_MM:
        feet = {
            "lower": [s for s in strokes if s[1] == s[3] == far],
            "upper": [s for s in strokes if s[1] == s[3] == 297 - far],
            "left": [s for s in strokes if s[0] == s[2] == far],
            "right": [s for s in strokes if s[0] == s[2] == 210 - far],
        }
        assert {side: len(found) for side, found in feet.items()} == dict.fromkeys(feet, 1)


@pytest.mark.parametrize("white", [1.9, 4.2, 6.7, 11.9])
def test_the_first_whole_tick_tells_what_a_printer_leaves_white(white: float) -> None:
    dark = darkness(render_pdf([printer_page(A4)], title="t"))
    lost = round(white / PIXEL)
    seen = dark.copy()
    seen[:lost] = seen[-lost:] = seen[:, :lost] = seen[:, -lost:] = False

    for turned in (seen, seen[::-1], seen.T, seen.T[::-1]):
        middle = turned.shape[1] // 2
        strip = turned[:, middle - round(25 / PIXEL) : middle + round(25 / PIXEL)]
        whole = [far for far in TICKS_MM if strip[round(far / PIXEL)].sum() * PIXEL > 4]
        assert whole[0] == next(far for far in TICKS_MM if far > white)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("paper", [*PAPERS.values(), ROLL])
def test_words_stand_apart_from_the_ticks_and_within_the_paper(
    paper: Paper, unit: str, language: str
) -> None:
    with speaking(tongue_of(language)):
        page = printer_page(paper, unit)

    groups = {group.id: group.marks for group in page.pictures[0].drawing.groups}
    words = [mark for mark in groups["steps"] if isinstance(mark, Text)]
    boxes = [_box(text) for text in words]
    (_, floor), _ = line_ends(paper, "across")
    for text, box in zip(words, boxes, strict=True):
        assert not text.text.endswith("…")
        assert box.left > line_ends(paper, "along")[0].x + 6
        assert box.bottom > floor + 6
        assert box.right < paper.width_mm - 20
        assert box.top < paper.height_mm - 20
        assert not any(box.meets(other) for other in boxes if other is not box)
    frames = [mark for mark in groups["steps"] if isinstance(mark, Stroke)]
    assert len(frames) == 8


def _box(text: Text) -> Box:
    bold = text.style.value == "title"
    width = text_width(text.text, text.height, bold=bold)
    return Box(text.at.x, text.at.y, text.at.x + width, text.at.y + text.height * 0.7)


def test_the_page_names_itself_its_paper_and_the_edge_that_goes_first(tmp_path: Path) -> None:
    path = write_printer_pages((A4, LETTER, ROLL), tmp_path / "p.pdf")

    pages = PdfReader(path).pages
    words = [" ".join(page.extract_text().split()) for page in pages]
    assert [float(page.mediabox.width) * 25.4 / 72 for page in pages] == pytest.approx(
        [210, 215.9, 610], abs=1e-3
    )
    for text, name in zip(words, ("A4", "Letter", ROLL.size), strict=True):
        assert f"Printer page: {name}" in text
        assert "This edge enters the printer first" in text
        assert "Print this page at 100 %" in text
    assert PdfReader(path).outline[1].title == "Printer page, Letter"
    with pytest.raises(FileExistsError, match="already"):
        write_printer_pages((A4,), path)
    assert list(tmp_path.iterdir()) == [path]


def test_pages_of_some_numbers() -> None:
    pages = PrinterPages((A4, LETTER))

    assert pages.total == 2
    assert [page.name for page in pages.pages({2})] == ["Printer page, Letter"]


def bench() -> Plan:
    design = make_design(shape=make_shape(300, 200), holes=make_grid(300, 200, columns=3, rows=2))
    return make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))


def measured(page: Callable[[PageSetup], bytes], kx: float, ky: float) -> Printer:
    """Measure a simulated printer that brings pages ``kx`` and ``ky`` times as large."""
    dark = darkness(page(PageSetup(paper=A4)))
    (_, y), _ = line_ends(A4, "across")
    (x, _), _ = line_ends(A4, "along")
    lines = [
        measured_line(A4, way, Length.rounded(found))
        for way, found in (
            ("across", extent(dark, y - 3) * kx),
            ("along", extent(dark.T, x - 3) * ky),
        )
    ]
    return judged_printer("Hall", *lines, A4, [Length.of(5)], day="2026-11-25")


def test_a_measured_printer_brings_corrected_templates_at_true_size() -> None:
    """The printer makes 0.9935 and 1.006 of what it is sent: measured, then made good."""
    kx, ky = 0.9935, 1.006
    hall = measured(lambda _setup: render_pdf([printer_page(A4)], title="t"), kx, ky)

    data = render_pdf(compose_template(bench(), hall.on(PageSetup(paper=A4))), title="t")
    dark = darkness(data)
    bars = sorted({round(run * PIXEL * kx, 2) for row in dark[::3] for run in _runs(row)})
    uprights = sorted({round(run * PIXEL * ky, 2) for row in dark.T[::3] for run in _runs(row)})
    for found in (bars, uprights):
        # The bar of 100 mm with the width of its ticks, 0.25 mm, and a pixel.
        assert any(abs(length - 100.1) <= 0.2 for length in found)


def _runs(row: np.ndarray) -> list[int]:
    edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
    return [int(length) for length in edges[1::2] - edges[::2] if 99 < length * PIXEL < 101.4]


def test_every_page_of_a_corrected_template_says_so_and_stands_upright() -> None:
    hall = Printer("Hall", A4, 1 / 0.9935, 1 / 1.006, 5, "2026-11-25")
    pages = list(lay_template(bench(), hall.on(PageSetup(paper=A4))).pages())
    data = read(render_pdf(pages, title="t"))
    for page, drawn in zip(data.pages, pages, strict=True):
        assert page.mediabox.width < page.mediabox.height
        kx, ky = drawn.stretch
        assert (kx * 0.9935, ky * 1.006) == pytest.approx((1, 1), abs=1e-9)
        scale = [op for op, name in _operations(page) if name == b"cm"][-1]
        assert [float(scale[0]), float(scale[3])] == pytest.approx([kx, ky], abs=1e-5)
        words = " ".join(page.extract_text().split())
        assert "Corrected for Hall, A4, measured 2026-11-25: 1.0065 across, 0.9940 along" in words


def _operations(page: PageObject) -> list[tuple[list[object], bytes]]:
    return ContentStream(page.get_contents(), page.pdf).operations


def test_the_workshop_and_the_printer_page_are_never_corrected(tmp_path: Path) -> None:
    setup = Printer("Hall", A4, 1.01, 0.99, 5, "2026-11-25").on(PageSetup(paper=A4))
    names = frozenset({"printer-page.pdf", "cut-sheet.pdf"})

    for path in export(bench(), tmp_path, names, setup=setup):
        for page in PdfReader(BytesIO(path.read_bytes())).pages:
            assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(210, abs=1e-3)
            assert "Hall" not in page.extract_text()


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_long_name_of_a_printer_stays_above_the_border_of_crowded_pages(language: str) -> None:
    design = make_design(shape=make_shape(450, 300), holes=make_grid(450, 300, columns=12, rows=8))
    plan = make_plan(make_bed_plan([PlacedRaft("R1", design, 0, 0)]))
    setup = Printer("W" * 40, A4, 0.9952, 1.0074, 5, "2026-11-25").on(PageSetup(paper=A4))
    with speaking(tongue_of(language)):
        template = lay_template(plan, setup)
        pages = list(template.pages())

    assert template.sets[0].tiling.footer
    lowest = min(
        mark.at.y
        for page in pages
        for picture in page.pictures
        for group in picture.drawing.groups
        for mark in group.marks
        if isinstance(mark, Text) and group.id == "title"
    )
    assert lowest >= setup.border


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda document: document.file)
def test_every_page_is_corrected_and_says_so_or_neither(document: PageDocument) -> None:
    hall = Printer("Hallprinter", A4, 1.0125, 0.9875, 5, "2026-11-25")

    for page in document.lay(bench(), hall.on(PageSetup(paper=A4))).pages():
        marks = [
            mark
            for picture in page.pictures
            for group in picture.drawing.groups
            for mark in group.marks
        ]
        words = " ".join(mark.text for mark in marks if isinstance(mark, Text))
        is_corrected = page.stretch == (1.0125, 0.9875)
        assert is_corrected or page.stretch == (1, 1)
        told = all(word in words for word in ("Hallprinter", "2026-11-25", "1.0125", "0.9875"))
        is_measured = any(mark.style is Style.CHECK_BAR for mark in marks)
        assert told is (is_corrected and is_measured), page.name
