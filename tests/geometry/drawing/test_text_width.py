"""Widths against the fonts themselves, read by fontTools."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from geometry.drawing.text_width import (
    advance_widths,
    drawable,
    missing_characters,
    shortened,
    text_width,
)

FONTS = Path(__file__).parents[3] / "layout_gui" / "resources" / "fonts"


@pytest.mark.parametrize(
    ("file", "bold"), [("DejaVuSans.ttf", False), ("DejaVuSans-Bold.ttf", True)]
)
def test_every_width_is_the_fonts_own(file: str, bold: bool) -> None:
    with TTFont(FONTS / file) as font:
        names, metrics = font.getBestCmap(), font["hmtx"]
        widths = advance_widths(bold=bold)

        assert font["head"].unitsPerEm == 2048
        assert len(widths) > 2500
        assert {sign: metrics[names[ord(sign)]][0] / 2048 for sign in widths} == widths


def test_both_fonts_draw_the_same_characters() -> None:
    assert advance_widths(bold=True).keys() == advance_widths(bold=False).keys()


def test_the_width_of_a_line_is_the_sum_of_its_characters() -> None:
    assert text_width("AV", 10) == text_width("A", 10) + text_width("V", 10)


def test_what_the_font_lacks_is_substituted_and_named() -> None:
    assert drawable("計画 Øre ½") == "□□ Øre ½"
    assert missing_characters("計画 計") == (
        "CJK UNIFIED IDEOGRAPH-8A08",
        "CJK UNIFIED IDEOGRAPH-753B",
    )
    assert missing_characters("Øre ½ \N{MULTIPLICATION SIGN} Жёлтый") == ()


def test_letters_that_need_shaping_count_as_missing_although_the_font_has_them() -> None:
    assert drawable("بيت") == "□□□"
    assert missing_characters("ب") == ("ARABIC LETTER BEH",)


def test_a_composed_letter_is_found_when_it_was_typed_as_two() -> None:
    assert drawable("re\u0301gime") == "régime"


def test_a_long_line_is_shortened_to_its_room() -> None:
    assert shortened("North bench", 4, 100) == "North bench"
    short = shortened("North bench by the old well", 4, 40)
    assert short.endswith("…")
    assert text_width(short, 4) <= 40
