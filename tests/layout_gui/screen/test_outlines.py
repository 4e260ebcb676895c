"""Outlines by Qt. The bundled fonts have Arabic and Hebrew letters: no other font is needed."""

from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from PySide6.QtCore import QObject
from PySide6.QtGui import QFontDatabase, QImage, QPainter

from geometry.drawing.marks import Text
from geometry.drawing.outlining import Outlined, outlining
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Point
from layout_gui.screen.outlines import outline_text
from layout_gui.screen.painter import text_path
from layout_gui.windows.look import load_fonts

IN_NO_FONT = "\U0010fffd"
"""The last private sign: fonts leave it alone."""


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    load_fonts()


def box(found: Outlined) -> tuple[float, float, float, float]:
    places = [place for _, points in found.steps for place in points]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return min(xs), min(ys), max(xs), max(ys)


def told(found: Outlined) -> tuple[float, object, str]:
    return found.width, found.steps, found.missing


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["North bench 2", "AVATAR Ty.", "Жук Ωμέγα ½"])
def test_lines_of_the_bundled_font_are_as_wide_as_the_table_says(text: str, bold: bool) -> None:
    assert outline_text(text, bold).width == pytest.approx(text_width(text, 1, bold=bold), abs=0.01)


def test_a_capital_stands_upright_on_its_baseline() -> None:
    left, bottom, right, top = box(outline_text("H", False))
    assert (bottom, top) == pytest.approx((0, CAP_HEIGHT), abs=0.003)
    assert 0 < left < right < text_width("H", 1)


def test_letters_of_arabic_are_joined() -> None:
    apart = sum(outline_text(sign, False).width for sign in "بيت")
    assert outline_text("بيت", False).width < apart - 0.5


def test_hebrew_runs_from_the_right() -> None:
    """Unicode Standard Annex 9: lamed, the only letter with a high neck here, is typed first."""
    for text, expected in (("לא", "right"), ("אל", "left")):
        found = outline_text(text, False)
        top = max((y, x) for _, points in found.steps for x, y in points)
        assert ("right" if top[1] > found.width / 2 else "left") == expected


def test_an_isolated_name_leaves_the_words_around_it_in_order() -> None:
    """Annex 9 again: with the isolate the figure after the name stays behind it."""
    plain = outline_text("A \u2068שבת\u2069, 4 W", False)
    before, name, after = (outline_text(part, False).width for part in ("A ", "שבת", ", 4 W"))
    assert plain.width == pytest.approx(before + name + after, abs=0.01)
    tail = outline_text(", 4 W", False)
    offset = before + name
    moved = {(round(x + offset, 2), round(y, 2)) for _, points in tail.steps for x, y in points}
    seen = {(round(x, 2), round(y, 2)) for _, points in plain.steps for x, y in points}
    assert len(moved & seen) > 0.9 * len(moved)


def test_what_no_font_has_is_named_and_nothing_else() -> None:
    assert outline_text(f"A{IN_NO_FONT} שבת", False).missing == IN_NO_FONT
    assert outline_text("שבת \u2068\u200f\u2069", False).missing == ""


@pytest.mark.parametrize("text", ["हिन्दी", "ไทย", "計画", "한국", "\N{SEEDLING}\ufe0f", "𞤀𞤁"])
def test_a_letter_is_drawn_or_named_whatever_fonts_there_are(text: str) -> None:
    found = outline_text(text, False)
    assert found.width > 0
    assert found.steps or set(found.missing) == set(text) - {"\ufe0f"}
    assert set(found.missing) <= set(text)


def test_threads_outline_as_one_does_while_the_window_paints() -> None:
    texts = [f"שבת {number} حوض" for number in range(40)]
    alone = [told(outline_text(text, False)) for text in texts]
    with ThreadPoolExecutor(4) as workers:
        asked = [workers.submit(outline_text, text, False) for text in texts * 3]
        image = QImage(200, 40, QImage.Format.Format_RGB32)
        painter = QPainter(image)
        for text in texts:
            painter.drawText(10, 30, text)
        painter.end()
    assert [told(each.result()) for each in asked] == alone * 3


def test_the_page_on_the_screen_is_drawn_by_the_same_outlines() -> None:
    found = outline_text("שבת 2", False)
    with outlining(outline_text):
        mark = Text(Point(50, 70), "שבת 2", 10, Style.LABEL, "right")
        path = text_path(mark).boundingRect()
    left, bottom, right, top = box(found)
    start = 50 - 10 * found.width
    assert path.left() == pytest.approx(start + 10 * left, abs=0.02)
    assert path.right() == pytest.approx(start + 10 * right, abs=0.02)
    assert (path.top(), path.bottom()) == pytest.approx((70 + 10 * bottom, 70 + 10 * top), abs=0.02)


def one_letter_font(letter: str) -> bytes:
    """A font of our own: one letter, a square of half the size on the baseline."""
    pen = TTGlyphPen(None)
    for number, corner in enumerate(((0, 0), (0, 500), (500, 500), (500, 0))):
        (pen.lineTo if number else pen.moveTo)(corner)
    pen.closePath()
    made = FontBuilder(1000, isTTF=True)
    made.setupGlyphOrder([".notdef", "letter"])
    made.setupCharacterMap({ord(letter): "letter"})
    made.setupGlyf({".notdef": TTGlyphPen(None).glyph(), "letter": pen.glyph()})
    made.setupHorizontalMetrics({".notdef": (600, 0), "letter": (600, 0)})
    made.setupHorizontalHeader(ascent=800, descent=-200)
    made.setupNameTable({"familyName": "Raftwright Test", "styleName": "Regular"})
    made.setupOS2(sTypoAscender=800, usWinAscent=800, usWinDescent=200)
    made.setupPost()
    stream = BytesIO()
    made.save(stream)
    return stream.getvalue()


def test_a_letter_that_one_font_has_is_drawn_by_that_font() -> None:
    rare = "\N{OLD TURKIC LETTER ORKHON A}"
    number = QFontDatabase.addApplicationFontFromData(one_letter_font(rare))
    try:
        found = outline_text(rare, False)
        drawn = box(found)
    finally:
        QFontDatabase.removeApplicationFont(number)
    assert found.missing == ""
    assert found.width == pytest.approx(0.6, abs=0.01)
    assert drawn == pytest.approx((0, 0, 0.5, 0.5), abs=0.01)
