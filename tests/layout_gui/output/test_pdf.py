"""PDF read back by pypdf and drawn by pypdfium2."""

import re
from math import pi

import numpy as np
import pypdfium2
import pytest

from geometry.drawing.marks import Box, Circle, Drawing, Group, Mark, Path, Text, frame, stroke
from geometry.drawing.paper import Page, Picture
from geometry.drawing.styles import PENS, Style
from geometry.drawing.text_width import text_width
from geometry.model.curves import Arc, Point
from layout_gui.output.fonts import BOLD, FILES, REGULAR, font_name
from layout_gui.output.pdf import render_pdf
from tests.layout_gui.output.pdf_reading import look, read


def _page(
    *marks: Mark, clip: Box | None = None, bookmark: str = "", trim: Box | None = None
) -> Page:
    drawing = Drawing((Group("g", marks),))
    return Page(210, 279.4, "p", (Picture(drawing, clip),), bookmark, trim)


def test_the_wishes_of_the_document_are_set() -> None:
    """ISO 32000-1 table 150: PrintScaling, Duplex and DisplayDocTitle."""
    reader = read(render_pdf([_page()], title="North bench: template"))
    root = reader.trailer["/Root"]

    assert reader.pdf_header == "%PDF-1.7"
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert root["/ViewerPreferences"]["/Duplex"] == "/Simplex"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert root["/Lang"] == "en"
    assert reader.metadata.title == "North bench: template"


def test_each_page_has_its_own_boxes() -> None:
    pages = [_page(trim=Box(10, 20, 200, 269.4)), _page()]
    first, second = read(render_pdf(pages, title="t")).pages

    mm = 72 / 25.4
    assert [float(side) for side in first.mediabox] == pytest.approx([0, 0, 210 * mm, 279.4 * mm])
    assert [float(side) for side in first.trimbox] == pytest.approx(
        [10 * mm, 20 * mm, 200 * mm, 269.4 * mm], abs=1e-3
    )
    assert [float(side) for side in second.trimbox] == pytest.approx(
        [0, 0, 210 * mm, 279.4 * mm], abs=1e-3
    )


def test_bookmarks_lead_to_the_pages_that_begin_a_part() -> None:
    pages = [_page(bookmark="one"), _page(), _page(bookmark="zwölf")]
    reader = read(render_pdf(pages, title="t"))

    found = [(item.title, reader.get_destination_page_number(item)) for item in reader.outline]
    assert found == [("one", 0), ("zwölf", 2)]


def test_every_font_is_embedded() -> None:
    words = [
        Text(Point(20, 50), "regular ½", 4, Style.LABEL),
        Text(Point(20, 70), "bold", 4, Style.TITLE),
    ]
    (page,) = read(render_pdf([_page(*words)], title="t")).pages
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]

    assert len(fonts) >= 2
    for font in fonts:
        assert "/FontFile2" in font["/FontDescriptor"].get_object()
        assert "DejaVuSans" in font["/BaseFont"]


def test_words_can_be_searched_and_stand_where_they_should() -> None:
    words = [
        Text(Point(20, 50), "Øre ½ × Жук", 4, Style.LABEL),  # noqa: RUF001 - letters of the font
        Text(Point(100, 50), "middle", 5, Style.TITLE, "middle"),
        Text(Point(100, 80), "right", 5, Style.LABEL, "right"),
        Text(Point(100, 120), "up", 5, Style.LABEL, "right", 90),
    ]
    seen = look(read(render_pdf([_page(*words)], title="t")).pages[0])
    places = {text: (x, y) for text, x, y in seen.words}

    assert places["Øre ½ × Жук"] == pytest.approx((20, 50), abs=1e-3)  # noqa: RUF001 - as above
    half = text_width("middle", 5, bold=True) / 2
    assert places["middle"] == pytest.approx((100 - half, 50), abs=1e-3)
    assert places["right"] == pytest.approx((100 - text_width("right", 5), 80), abs=1e-3)
    assert places["up"] == pytest.approx((100, 120 - text_width("up", 5)), abs=1e-3)


def test_what_the_font_lacks_prints_as_a_box() -> None:
    seen = look(
        read(render_pdf([_page(Text(Point(9, 9), "計 bed", 4, Style.LABEL))], title="計")).pages[0]
    )

    assert [text for text, _, _ in seen.words] == ["□ bed"]


def test_circles_and_strokes_come_back_in_millimetres() -> None:
    marks = [
        Circle(Point(50.123, 60.456), 25.4, Style.HOLE),
        stroke(Point(10, 10), Point(110, 10), Style.CHECK_BAR),
    ]
    seen = look(read(render_pdf([_page(*marks)], title="t")).pages[0])

    assert seen.circles == [pytest.approx((50.123, 60.456, 25.4), abs=1e-4)]
    assert seen.strokes == [pytest.approx((10, 10, 110, 10), abs=1e-4)]


def test_no_line_has_no_width() -> None:
    marks = [stroke(Point(0, n), Point(9, n), style) for n, style in enumerate(Style)]
    seen = look(read(render_pdf([_page(*marks)], title="t")).pages[0])

    assert all(pen.width_mm >= 0.15 for pen in PENS.values())
    assert min(seen.widths) >= 0.15 - 1e-4


def test_layers_are_names_and_every_style_has_its_pen() -> None:
    assert set(PENS) == set(Style)
    assert len({pen.layer for pen in PENS.values()}) == len(PENS)
    assert all(re.fullmatch("[a-z-]+", pen.layer) for pen in PENS.values())
    assert "hole" in PENS[Style.HOLE].layer
    assert "hole" in PENS[Style.CENTRE].layer


def test_the_same_pages_give_the_same_bytes() -> None:
    pages = [_page(Text(Point(20, 50), "North bench", 4, Style.LABEL), bookmark="b")]

    assert render_pdf(pages, title="t") == render_pdf(pages, title="t")


def _drawn(page: Page, dpi: int) -> np.ndarray:
    document = pypdfium2.PdfDocument(render_pdf([page], title="t"))
    image = document[0].render(scale=dpi / 72, grayscale=True).to_numpy()
    document.close()
    return image[::-1, :, 0] if image.ndim == 3 else image[::-1]


@pytest.mark.parametrize("dpi", [300, 600])
def test_bars_measure_100_mm_both_ways_within_a_pixel(dpi: int) -> None:
    bars = [
        stroke(Point(30, 20), Point(130, 20), Style.CHECK_BAR),
        stroke(Point(20, 40), Point(20, 140), Style.CHECK_BAR),
    ]
    dark = _drawn(_page(*bars), dpi) < 128
    pixel = 25.4 / dpi

    across = np.flatnonzero(dark[int(15 / pixel) : int(25 / pixel), int(25 / pixel) :].any(axis=0))
    along = np.flatnonzero(dark[int(35 / pixel) :, int(15 / pixel) : int(25 / pixel)].any(axis=1))
    for found in (across, along):
        assert (found[-1] - found[0] + 1) * pixel == pytest.approx(100, abs=pixel)


def test_nothing_shows_outside_a_clip() -> None:
    marks = [Circle(Point(50, 50), 25, Style.HOLE)]
    dark = _drawn(_page(*marks, clip=Box(50, 0, 210, 279.4)), 100) < 128
    _, columns = np.nonzero(dark)

    assert columns.min() * 25.4 / 100 >= 49.5
    assert columns.max() * 25.4 / 100 == pytest.approx(75, abs=0.5)


def test_large_arcs_are_true() -> None:
    arc = Path((Arc(Point(0, 0), 200, 0, pi / 2),), Style.RAFT)
    dark = _drawn(_page(arc), 300) < 128
    rows, columns = np.nonzero(dark)
    away = np.hypot((columns + 0.5) * 25.4 / 300, (rows + 0.5) * 25.4 / 300)

    assert np.abs(away - 200).max() < 0.35


def test_a_filled_box_is_filled_with_its_grey() -> None:
    image = _drawn(_page(frame(Box(10, 10, 60, 60), Style.SHADE)), 72)

    assert image[100, 100] == pytest.approx(255 * 0.8, abs=2)


def test_the_fonts_are_bundled_with_their_licence() -> None:
    assert font_name(bold=False) == REGULAR
    assert font_name(bold=True) == BOLD
    for file in FILES.values():
        assert file.is_file()
        assert (file.parent / "LICENCE.txt").is_file()
