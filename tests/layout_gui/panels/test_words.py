"""Numbers as the panels write them."""

from fractions import Fraction

import pytest

from geometry.model.outlines import (
    Disc,
    LShape,
    Measured,
    Outline,
    Polygon,
    Rectangle,
    RoundEnded,
    Tapered,
)
from geometry.model.planting import PATTERNS
from geometry.units import Length, Unit
from layout_gui.panels.outline_sizes import outline_sizes
from layout_gui.panels.words import (
    PATTERN_WORDS,
    TIMES,
    counted,
    exact_size_words,
    free_name,
    pattern_options,
    short_length,
    size_words,
)


def mm(value: float) -> Length:
    return Length.of(value)


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (190, "mm", "190 mm"),
        (190.4, "mm", "≈ 190 mm"),
        (190, "in", "≈ 7 1/2 in"),
        (190.5, "in", "7 1/2 in"),
        (190, "cm", "19 cm"),
    ],
)
def test_a_rounded_length_says_that_it_is(value: float, unit: Unit, words: str) -> None:
    assert short_length(value, unit) == words


def test_sizes_carry_their_unit_once_where_that_is_enough() -> None:
    assert size_words((Fraction(2360), Fraction(580)), "mm") == f"2360 {TIMES} 580 mm"
    assert exact_size_words((Fraction(2325, 4), Fraction(560)), "mm") == f"581.25 {TIMES} 560 mm"
    assert exact_size_words((Fraction("1117.6"), Fraction(900)), "in") == (
        f"44 in {TIMES} 35 7/16 in - 0.11 mm"
    )


@pytest.mark.parametrize(
    ("outline", "sizes"),
    [
        (Rectangle(mm(20), mm(10)), (20, 10)),
        (Measured((mm(58), mm(57)), (mm(90), mm(91))), (90, 57)),
        (Disc(mm(12)), (12,)),
        (RoundEnded(mm(20), mm(10)), (20, 10)),
        (LShape(mm(20), mm(10), mm(5), mm(5)), (20, 10)),
        (Tapered(mm(20), mm(8), mm(10)), (20, 10)),
        (Polygon(((mm(1), mm(2)), (mm(5), mm(2)), (mm(1), mm(9)))), (4, 7)),
    ],
)
def test_every_outline_has_one_or_two_measures(outline: Outline, sizes: tuple[int, ...]) -> None:
    assert outline_sizes(outline) == sizes


def test_counts_agree_with_their_nouns() -> None:
    assert counted(1, "sheet") == "1 sheet"
    assert counted(0, "sheet") == "0 sheets"
    assert counted(2, "batch", "batches") == "2 batches"
    assert counted(12345, "plant") == "12\u202f345 plants"


def test_every_pattern_has_words_and_stands_in_the_list() -> None:
    assert set(PATTERN_WORDS) == set(PATTERNS)
    assert pattern_options()[0] == ("best", "best of all")


def test_a_free_name_is_the_wanted_one_or_the_next_number() -> None:
    assert free_name("Bed", []) == "Bed"
    assert free_name("Bed", ["Bed"]) == "Bed 2"
    assert free_name("Bed 2", ["Bed", "Bed 2"]) == "Bed 3"
    assert free_name("7", ["7"]) == "7 2"
