"""Typed lengths. The table is section 2.7 of our notes on units; the inch is 25.4 mm exactly
(international yard and pound agreement of 1959)."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import LengthError
from geometry.units import (
    LONGEST_MM,
    MM_PER,
    Length,
    Unit,
    both_units,
    exact_text,
    finite_decimal,
    format_area,
    format_density,
    format_length,
    parse_length,
)

UNITS: tuple[Unit, ...] = ("mm", "cm", "in")


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ('7 1/2"', "mm", "190.5"),
        ("7.5in", "mm", "190.5"),
        ("7½ in", "mm", "190.5"),
        ("19 cm", "mm", "190"),
        ("0,19 m", "mm", "190"),
        ("1' 6 1/2\"", "mm", "469.9"),
        ("1ft 6.5in", "mm", "469.9"),
        ('3/4"', "mm", "19.05"),
        ("2 3/8", "in", "60.325"),
        ("190.5", "mm", "190.5"),
        ("7 1/2\N{DOUBLE PRIME}", "mm", "190.5"),
        ("1\N{PRIME} 6½\N{DOUBLE PRIME}", "mm", "469.9"),
        ("1\N{RIGHT SINGLE QUOTATION MARK} 6\N{RIGHT DOUBLE QUOTATION MARK}", "mm", "457.2"),
        ("1'6''", "mm", "457.2"),
        ("1m 20cm", "mm", "1200"),
        ("1,200 mm", "mm", "1.2"),
        ("47-5/8", "in", "1209.675"),
        ("47 5/8 in", "cm", "1209.675"),
        ("47\N{EN DASH}5/8 in", "mm", "1209.675"),
        ("7\N{NO-BREAK SPACE}1\N{FRACTION SLASH}2 in", "mm", "190.5"),
        ("5/4 in", "mm", "31.75"),
        ("2.36 Meters", "mm", "2360"),
        ("3 in.", "mm", "76.2"),
        (".5 in", "mm", "12.7"),
        ("200.", "mm", "200"),
        ("19", "cm", "190"),
        ("0", "mm", "0"),
        ("-60", "mm", "-60"),
        ("\N{MINUS SIGN}1 m 20 cm", "mm", "-1200"),
        ("7 1/2 in + 0.3 mm", "in", "190.8"),
        ("7 1/2 in \N{MINUS SIGN} 0.3 mm", "in", "190.2"),
        ("1000 m", "mm", "1000000"),
        ("6 ft 3", "in", "1905"),
        ("1' 6 1/2", "mm", "469.9"),
    ],
)
def test_a_typed_length_is_read_exactly(text: str, unit: Unit, mm: str) -> None:
    assert parse_length(text, unit).exact == Fraction(mm)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1 200 mm", "two numbers in a row"),
        ("1\N{NARROW NO-BREAK SPACE}200 mm", "two numbers in a row"),
        ("1.200,5 mm", "one decimal mark"),
        ("1,200,000 mm", "one decimal mark"),
        ('7 1/0"', "0 below the line"),
        ("1/0 in", "0 below the line"),
        ("nan", "is no length"),
        ("inf mm", "is no length"),
        ("1e400", "“e” is no unit"),
        ("", "is missing"),
        ("   ", "is missing"),
        ("20 cm 1 m", "smaller from left to right"),
        ("6 in 1 ft", "smaller from left to right"),
        ("1 mm 1 mm", "smaller from left to right"),
        ("1 m 20", 'the last number has no unit; write one, such as "20 mm"'),
        ("1' 6 1/2 3", "two numbers in a row"),
        ("7.5 1/2 in", "two numbers in a row"),
        ("47 - 5/8 in", "two numbers in a row"),
        ("7 9/8 in", "must be below 1"),
        ("7 8/8 in", "must be below 1"),
        ("1/2/3 in", "one whole number over another"),
        ("5 furlongs", "“furlongs” is no unit"),
        ("+5 mm", "leave out the “+”"),
        ("--5 mm", "is no length"),
        ("1m-20cm", "put spaces around it"),
        ("mm", "is no length"),
        ("7,5,", "one decimal mark"),
        ("\N{ARABIC-INDIC DIGIT FIVE} mm", "is no length"),
        ("5 \N{GREEK SMALL LETTER MU}m", "is no length"),
        ("1000001", "more than 1000 m"),
        ("9" * 31, "more digits"),
        ("1" * 101, "too long"),
        ("5 mm\x00", "is no length"),
        ("7\n1/2 in", "is no length"),
    ],
)
def test_a_text_that_could_mean_two_things_is_refused_with_the_reason(
    text: str, reason: str
) -> None:
    with pytest.raises(LengthError) as refused:
        parse_length(text, "mm")
    assert reason in str(refused.value)
    assert "\x00" not in str(refused.value)


def test_a_number_without_a_unit_is_refused_where_no_unit_is_agreed() -> None:
    with pytest.raises(LengthError, match="has no unit"):
        parse_length("200", None)


@given(st.text(max_size=30))
def test_no_text_gives_anything_but_a_length_or_a_length_error(text: str) -> None:
    try:
        length = parse_length(text, "mm")
    except LengthError:
        return
    assert abs(length.exact) <= LONGEST_MM


@pytest.mark.parametrize(
    ("text", "unit", "typed"),
    [
        ("190.5", "mm", ""),
        ("100/3", "mm", "100/3 mm"),
        (" 19 ", "cm", "19 cm"),
        ("7½", "in", "7½ in"),
        (" 47 5/8 in ", "mm", "47 5/8 in"),
    ],
)
def test_what_was_typed_is_kept_with_its_unit(text: str, unit: Unit, typed: str) -> None:
    length = parse_length(text, unit)
    assert length.typed == typed
    assert not typed or parse_length(typed, None) == length


lengths = st.builds(
    Fraction, st.integers(-LONGEST_MM, LONGEST_MM), st.integers(1, 10_000)
) | st.builds(lambda n: Fraction(n, 64) * MM_PER["in"], st.integers(-1_000_000, 1_000_000))


@given(lengths, st.sampled_from(UNITS))
def test_the_exact_text_of_a_length_reads_back_as_the_same_length(
    exact: Fraction, unit: Unit
) -> None:
    length = Length(exact)
    text = exact_text(length, unit)
    assert parse_length(text, None) == length
    assert exact_text(parse_length(text, unit), unit) == text


@given(lengths, st.sampled_from(UNITS), st.integers(0, 6))
def test_what_is_shown_is_never_further_off_than_its_last_decimal(
    exact: Fraction, unit: Unit, decimals: int
) -> None:
    shown = parse_length(format_length(exact, unit, decimals=decimals), None)
    assert abs(shown.exact - exact) <= Fraction(1, 2 * 10**decimals)


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (190.5, "mm", "190.5 mm"),
        (190.0, "mm", "190 mm"),
        (212.13203435596427, "mm", "212.1 mm"),
        (-0.01, "mm", "0 mm"),
        (190.5, "cm", "19.05 cm"),
        (190.5, "in", "7 1/2 in"),
        (190.8, "in", "7 1/2 in + 0.3 mm"),
        (190.2, "in", "7 1/2 in - 0.3 mm"),
        (Fraction("1209.675"), "in", "47 5/8 in"),
        (0.3, "in", "0.3 mm"),
        (0.0, "in", "0 in"),
        (-19.05, "in", "-3/4 in"),
    ],
)
def test_lengths_are_shown_in_the_growers_unit(
    mm: float | Fraction, unit: Unit, shown: str
) -> None:
    assert format_length(mm, unit) == shown


@pytest.mark.parametrize(
    ("typed", "unit", "text"),
    [
        ("7.5 in", "in", "7.5 in"),
        ("19 cm", "mm", "19 cm"),
        ("7.5 in", "mm", "190.5 mm"),
        ("19.05 cm", "in", "7 1/2 in"),
        ("20 cm", "in", "200 mm"),
        ("100/3 mm", "in", "33 1/3 mm"),
        ("1' 6\"", "in", "1' 6\""),
    ],
)
def test_a_field_shows_what_was_typed_unless_the_units_changed(
    typed: str, unit: Unit, text: str
) -> None:
    assert exact_text(Length.of(typed), unit) == text


def test_both_systems_are_shown_side_by_side() -> None:
    assert both_units(Length.of("7.5 in")) == "190.5 mm = 7 1/2 in"
    assert both_units(Length.of(200)) == "200 mm ≈ 7 7/8 in"
    assert both_units(Length.of("190.8 mm")) == "190.8 mm ≈ 7 1/2 in + 0.3 mm"


def test_areas_and_densities_are_shown_in_the_growers_system() -> None:
    # 4 x 8 ft is 32 square feet; 0.09290304 m² each (NIST Handbook 44, appendix C).
    board = float(4 * 8 * MM_PER["ft"] ** 2)
    assert format_area(board, "in") == "32 ft²"
    assert format_area(board, "mm") == "2.973 m²"
    assert format_density(27 / 0.09290304, "in") == "27 per ft²"
    assert format_density(24.21875, "mm") == "24.2 per m²"


def test_lengths_are_made_from_numbers_and_text() -> None:
    tenth = Fraction(1, 10)
    assert Length.of(0.1).exact == tenth
    assert Length.of(Decimal("0.1")).exact == tenth
    assert Length.of(tenth).exact == tenth
    assert Length.of("0.1 mm").exact == tenth
    assert Length.rounded(12.34567).exact == Fraction("12.346")
    assert Length.of(5).mm == 5.0


def test_only_decimals_that_end_are_called_finite() -> None:
    assert finite_decimal(Fraction(1209675, 1000)) == "1209.675"
    assert finite_decimal(Fraction(1, 3)) is None
    assert finite_decimal(Fraction(-5)) == "-5"
