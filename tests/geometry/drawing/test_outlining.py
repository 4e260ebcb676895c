"""Words beyond the bundled fonts: with a made-up outliner, since no test may count on fonts."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.lettering import line, wrapped
from geometry.drawing.outlining import Outlined, outlined, outlining, subpaths
from geometry.drawing.text_width import (
    SUBSTITUTE,
    advance_widths,
    drawable,
    harmless,
    is_set,
    missing_characters,
    text_outline,
    text_width,
)
from geometry.model.curves import Point
from geometry.tongue import isolated, tr, tr_n

NOWHERE = "\N{CJK UNIFIED IDEOGRAPH-8A08}"
SQUARE = (
    ("move", (Point(0, 0),)),
    ("line", (Point(0.5, 0),)),
    ("line", (Point(0.5, 0.5),)),
    ("curve", (Point(0.4, 0.5), Point(0.1, 0.5), Point(0, 0.5))),
)


def squares(text: str, bold: bool) -> Outlined:
    """Half an em a sign; bold is wider; one sign is in no font."""
    return Outlined(
        len(text) * (0.6 if bold else 0.5), lambda: SQUARE, NOWHERE if NOWHERE in text else ""
    )


def test_what_the_bundled_fonts_set_is_never_outlined() -> None:
    def refuse(_text: str, _bold: bool) -> Outlined:
        raise AssertionError

    with outlining(refuse):
        for text in ("North bench 2", "Øre ½ × Жук Ωμέγα", "", "soft\xadhyphen, joined\u200bhere"):  # noqa: RUF001
            assert is_set(drawable(text))
            assert text_outline(drawable(text)) is None


def test_other_letters_stay_as_typed_and_are_as_wide_as_their_outlines() -> None:
    with outlining(squares):
        assert drawable("Bed بيت") == "Bed بيت"
        assert text_width("Bed بيت", 10) == pytest.approx(35)
        assert text_width("Bed بيت", 10, bold=True) == pytest.approx(42)
        found = text_outline("Bed بيت")
    assert found is not None
    assert (found.width, found.steps) == (3.5, SQUARE)


def test_what_no_font_has_is_a_box_and_is_named() -> None:
    with outlining(squares):
        assert drawable(f"{NOWHERE} بيت") == f"{SUBSTITUTE} بيت"
        assert missing_characters(f"{NOWHERE} بيت") == ("CJK UNIFIED IDEOGRAPH-8A08",)
        assert missing_characters("بيت") == ()


def test_an_outliner_that_cannot_is_as_good_as_none() -> None:
    with outlining(lambda _text, _bold: None):
        assert outlined("بيت") is None
        assert drawable("بيت A") == "□□□ A"
    assert outlined("بيت") is None


def test_a_name_does_not_turn_what_stands_beside_it() -> None:
    assert harmless("R\u202e1\u202a2\u202c") == "R12"
    assert drawable("R\u202e1") == "R1"
    assert harmless("a\tb\r\nc\x00\u2028d") == "a b  c  d"
    assert harmless("half \ud83c") == f"half {SUBSTITUTE}"


@given(st.text())
def test_whatever_is_typed_can_be_drawn(text: str) -> None:
    for outliner in (None, squares):
        with outlining(outliner):
            shown = drawable(text)
            assert drawable(shown) == shown
            assert outliner is not None or advance_widths().keys() >= set(shown)
            kinds = {unicodedata.category(sign) for sign in shown}
            assert not kinds & {"Cc", "Cs", "Zl", "Zp"}
            assert not {"\u202d", "\u202e"} & set(shown)
            assert text_width(shown, 4) >= 0


def test_names_that_run_the_other_way_are_isolated_within_sentences() -> None:
    """Unicode Standard Annex 9, 2.4.2: explicit directional isolates."""
    bed = "\u2068بيت 2\u2069"
    assert tr("{bed}, {n} plants", bed="بيت 2", n=40) == f"{bed}, 40 plants"
    assert tr_n("{n} in {bed}", "{n} in {bed}", 3, bed="שבת") == "3 in \u2068שבת\u2069"
    assert tr("{bed}, {n} plants", bed="Øre 2", n=40) == "Øre 2, 40 plants"
    assert (isolated("بيت 2"), isolated("Øre 2")) == (bed, "Øre 2")


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("R\u202e1", "\u2068R1\u2069"),
        ("a\u2067b", "\u2068a\u2067b\u2069\u2069"),
        ("a\u2069b", "\u2068ab\u2069"),
        ("\u2068בת\u2069, 4", "\u2068\u2068בת\u2069, 4\u2069"),
    ],
)
def test_no_name_turns_the_sentence_around_it(name: str, shown: str) -> None:
    """Annex 9, 3.1.2 and BD9: an isolate ends at its own sign, whatever is open within."""
    assert tr("Bed {name} 1", name=name) == f"Bed {shown} 1"


def test_an_isolate_that_is_broken_is_whole_on_every_row() -> None:
    with outlining(squares):
        rows = wrapped("Bed \u2068بيت حوض شمال\u2069 and more", 10, 50)
    assert rows == ("Bed \u2068بيت\u2069", "\u2068حوض شمال\u2069", "and more")


def test_a_line_is_cut_to_its_room_by_the_widths_of_outlines() -> None:
    with outlining(squares):
        short = line(0, 0, "بيت حوض شمال جنوب", 10, room=50).text
        assert text_width(short, 10) <= 50
    assert short.endswith("…")


def test_shapes_come_apart_where_the_pen_is_lifted() -> None:
    assert list(subpaths((*SQUARE, *SQUARE))) == [SQUARE, SQUARE]
    assert list(subpaths(())) == []
