"""A printer that is made good, other borders and overlaps, and single pages, as printed."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from geometry.drawing.paper import (
    BAR_MM,
    BORDERS_MM,
    COMMON,
    FACTORS,
    LEAST_MM,
    OVERLAPS_MM,
    PAPERS,
    PageSetup,
    correction,
    own_paper,
    roll_paper,
)
from geometry.drawing.raft import CROSS_MM
from geometry.drawing.template import compose_template, lay_template
from geometry.drawing.tiles import lay_tiles
from geometry.errors import GeometryError
from geometry.plan import PlacedRaft, Plan
from layout_gui.output.documents import CUT_SHEET, TEMPLATE
from layout_gui.output.export import UnknownFileError, export
from layout_gui.output.paper_arguments import read_bars, read_border, read_pages, read_paper
from layout_gui.output.pdf import render_pdf
from tests.builders import make_bed_plan, make_design, make_grid, make_plan, make_shape

DESIGN = make_design(shape=make_shape(580, 560), holes=make_grid(580, 560, columns=3, rows=3))
PT = 72 / 25.4


def bench() -> Plan:
    return make_plan(make_bed_plan([PlacedRaft("R1", DESIGN, 0, 0)]))


def darkness(data: bytes, page: int, dpi: int = 600) -> np.ndarray:
    document = pypdfium2.PdfDocument(data)
    image = document[page].render(scale=dpi / 72, grayscale=True).to_numpy()[::-1]
    document.close()
    return (image[:, :, 0] if image.ndim == 3 else image) < 128


def longest_runs(dark: np.ndarray, pixel: float) -> list[float]:
    """Return how long the unbroken dark lines are that are 90 to 110 mm, in mm, all different."""
    found = set()
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate(([0], row.astype(np.int8), [0]))))
        for start, end in zip(edges[::2], edges[1::2], strict=True):
            if 95 < (end - start) * pixel < 108:
                found.add(round((end - start) * pixel, 2))
    return sorted(found)


def test_factors_of_1_01_and_0_99_give_bars_of_101_and_99_mm() -> None:
    """Printing notes 1.11, rendered at 600 dpi; a line's own width is 0.25 mm."""
    setup = PageSetup(across=1.01, along=0.99)
    data = render_pdf(compose_template(bench(), setup), title="t")
    dark, pixel = darkness(data, 0), 25.4 / 600

    across, along = longest_runs(dark, pixel), longest_runs(dark.T, pixel)

    assert across[0] == pytest.approx(101, abs=0.3)
    assert along[0] == pytest.approx(99, abs=0.3)
    assert across[0] - along[0] == pytest.approx(2, abs=2 * pixel)


def test_the_paper_stays_the_paper_whatever_the_printer_gets_wrong() -> None:
    data = render_pdf(compose_template(bench(), PageSetup(across=1.02, along=0.98)), title="t")

    for page in PdfReader(BytesIO(data)).pages:
        assert float(page.mediabox.width) / PT == pytest.approx(COMMON.width_mm, abs=1e-3)
        assert float(page.mediabox.height) / PT == pytest.approx(COMMON.height_mm, abs=1e-3)
        left, bottom, right, top = (float(value) / PT for value in page.trimbox)
        assert 0 <= left < right <= COMMON.width_mm + 1e-3
        assert 0 <= bottom < top <= COMMON.height_mm + 1e-3


@given(
    st.floats(*BORDERS_MM),
    st.floats(*OVERLAPS_MM),
    st.tuples(st.floats(*FACTORS), st.floats(*FACTORS)),
    st.sampled_from([*PAPERS.values(), own_paper(610, 914)]),
)
@settings(max_examples=60)
def test_every_centre_mark_is_whole_on_a_page_within_the_border(
    border: float, overlap: float, factors: tuple[float, float], paper: object
) -> None:
    setup = PageSetup(paper, border, overlap, *factors)
    tiling = lay_tiles(DESIGN, setup)
    window = tiling.window()

    for kx, ky, edges in ((setup.across, setup.along, window),):
        assert edges.left * kx >= border - 1e-9
        assert edges.bottom * ky >= border - 1e-9
        assert (setup.width_mm - edges.right) * kx >= border - 1e-9
        assert (setup.height_mm - edges.top) * ky >= border - 1e-9
    laid = tiling.laid()
    for x, y in DESIGN.holes.xy:
        at = laid.point(x, y)
        assert any(
            box.left + CROSS_MM - 1e-9 <= at.x <= box.right - CROSS_MM + 1e-9
            and box.bottom + CROSS_MM - 1e-9 <= at.y <= box.top - CROSS_MM + 1e-9
            for box in (tiling.cell(cell).grown(overlap / 2) for cell in tiling.cells)
        )


@pytest.mark.parametrize("factors", [(1.0, 1.0), (1.05, 1.05), (0.95, 1.05)])
@pytest.mark.parametrize("border", BORDERS_MM)
def test_the_words_of_the_first_page_stay_on_the_paper(
    border: float, factors: tuple[float, float]
) -> None:
    setup = PageSetup(COMMON, border, 10, *factors)
    dark = darkness(render_pdf(compose_template(bench(), setup)[:1], title="t"), 0, dpi=150)

    margin = int((border - 0.5) / 25.4 * 150)
    assert not dark[:margin].any()
    assert not dark[-margin:].any()
    assert not dark[:, :margin].any()
    assert not dark[:, -margin:].any()


def test_every_template_page_says_what_was_corrected() -> None:
    data = render_pdf(compose_template(bench(), PageSetup(across=1.004, along=0.9975)), title="t")

    for page in PdfReader(BytesIO(data)).pages:
        words = " ".join(page.extract_text().split())
        assert "1.0040 across" in words
        assert "0.9975 along" in words


def test_only_the_pages_that_are_wanted_are_written(tmp_path: Path) -> None:
    plan = bench()
    only = frozenset({TEMPLATE, CUT_SHEET})
    whole = export(plan, tmp_path, only)
    part = export(plan, tmp_path, only, pages={TEMPLATE: {2, 4}, CUT_SHEET: {1}})

    assert [path.name for path in part] == ["template-part.pdf", "cut-sheet-part.pdf"]
    pages = PdfReader(whole[0]).pages
    chosen = PdfReader(part[0]).pages
    assert [page.extract_text() for page in chosen] == [
        pages[number - 1].extract_text() for number in (2, 4)
    ]
    assert len(PdfReader(part[1]).pages) == 1


def test_pages_that_are_not_there_are_refused(tmp_path: Path) -> None:
    total = lay_template(bench()).total

    with pytest.raises(UnknownFileError, match=f"{total} pages"):
        export(bench(), tmp_path, frozenset({TEMPLATE}), pages={TEMPLATE: {total + 1}})

    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("text", "pages"), [("1", {1}), ("1,3-5", {1, 3, 4, 5}), ("2-2", {2})])
def test_page_numbers_are_read(text: str, pages: set[int]) -> None:
    assert read_pages(text) == pages


@pytest.mark.parametrize("text", ["", "0", "a", "3-1", "1,,2", "-3", "1-99999999999"])
def test_other_page_numbers_are_refused(text: str) -> None:
    with pytest.raises(GeometryError, match="1,3-5"):
        read_pages(text)


def test_papers_borders_and_bars_are_read() -> None:
    assert read_paper("A3") == PAPERS["A3"]
    assert read_paper("roll") == roll_paper(914)
    assert read_paper("roll:610") == roll_paper(610)
    assert read_paper("roll:36 in") == roll_paper(914.4)
    assert read_paper("24 in x 1.2 m") == own_paper(609.6, 1200)
    assert read_border("1/4 in") == 6.35
    assert read_bars("99.6,100.2") == (correction(BAR_MM, 99.6), correction(BAR_MM, 100.2))
    for text in ("A9", "100x100", f"{LEAST_MM[0]}x6000"):
        with pytest.raises(GeometryError):
            read_paper(text)
    for text in ("Nix", "x", "Lux 4"):  # a name with an x in it is no size
        with pytest.raises(GeometryError, match="common, A4, A3"):
            read_paper(text)
    with pytest.raises(GeometryError, match="both"):
        read_bars("99.6")
    with pytest.raises(GeometryError, match="100 %"):
        read_bars("99.6,90")
