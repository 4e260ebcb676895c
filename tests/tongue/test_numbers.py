"""Lengths in every tongue: what people read has its decimal sign, and is read back exactly."""

from collections.abc import Iterator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QLocale
from pytestqt.qtbot import QtBot

from geometry.drawing.figures import diameter_text, figure
from geometry.model.wanted import Density, parse_wanted, wanted_text
from geometry.tongue import GROUP_SIGN, number, speaking
from geometry.units import (
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
from layout_gui.panels.fields import LengthField, LengthsField, NumberField
from layout_gui.tongues import LANGUAGES, tongue_of
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN
UNITS: tuple[Unit, ...] = ("mm", "cm", "in")
TONGUES = [tongue_of(language) for language in LANGUAGES]

lengths = st.one_of(
    st.integers(0, 10**9).map(lambda micrometres: Length(Fraction(micrometres, 1000))),
    st.integers(0, 10**5).map(lambda parts: Length(Fraction(parts, 64) * Fraction(254, 10))),
    st.fractions(0, 10**6, max_denominator=97).map(Length),
)


@pytest.fixture
def spanish() -> Iterator[None]:
    with speaking(tongue_of("es")):
        yield


@given(lengths, st.sampled_from(UNITS), st.sampled_from(TONGUES), st.sampled_from(TONGUES))
def test_a_length_shown_in_one_tongue_is_read_back_in_every_tongue(
    length: Length, unit: Unit, shown_in: object, read_in: object
) -> None:
    with speaking(shown_in):  # type: ignore[arg-type]
        text = exact_text(length, unit)
    with speaking(read_in):  # type: ignore[arg-type]
        assert parse_length(text, unit).exact == length.exact


@given(st.fractions(Fraction(1, 1000), 1000, max_denominator=1000), st.sampled_from(UNITS))
def test_a_density_shown_in_spanish_is_read_back(per_m2: Fraction, unit: Unit) -> None:
    with speaking(tongue_of("es")):
        read = parse_wanted(wanted_text(Density(per_m2), unit))

    assert isinstance(read, Density)
    assert abs(read.per_m2 - per_m2) < Fraction(1, 10**9)


@given(lengths, st.sampled_from(UNITS))
def test_tongues_differ_in_the_decimal_sign_alone(length: Length, unit: Unit) -> None:
    for show in (format_length, figure):
        english = show(length.exact, unit)
        with speaking(tongue_of("es")):
            assert show(length.exact, unit) == english.replace(".", ",")


def test_spanish_reads_commas(spanish: None) -> None:
    assert format_length(12.5, "mm") == "12,5 mm"
    assert format_length(190.5, "in") == "7 1/2 in"
    assert both_units(Length.of("7.5 in")) == "190,5 mm = 7 1/2 in"
    assert format_area(1_250_000, "mm") == "1,25 m²"
    assert format_density(17.5, "mm") == "17,5 por m²"
    assert diameter_text(50.8, "in") == "2 in (50,8 mm)"
    assert number(1234.5, 2) == "1234,50"
    assert number(1_000_000, 0) == f"1{GROUP_SIGN}000{GROUP_SIGN}000"


def test_what_files_are_made_of_keeps_its_point(spanish: None) -> None:
    assert finite_decimal(Fraction(25, 2)) == "12.5"
    assert parse_length("12,5 cm", "mm").typed == "12,5 cm"
    assert exact_text(Length(Fraction(25, 2), "12.5 mm"), "mm") == "12.5 mm"


def test_a_tongue_has_the_decimal_sign_of_its_locale() -> None:
    for language, tongue in zip(LANGUAGES, TONGUES, strict=True):
        assert tongue.decimal_sign == QLocale(language).decimalPoint()
    assert tongue_of("es", ".").decimal_sign == "."
    assert tongue_of("es", ".").text("Cautions") == "Precauciones"


@pytest.mark.parametrize("language", LANGUAGES)
def test_fields_read_back_what_they_show(qtbot: QtBot, language: str) -> None:
    values = [Length(Fraction(25, 2)), Length(Fraction(1, 3)), Length.of("47 5/8 in")]
    with speaking(tongue_of(language)):
        field, several, price = LengthField(), LengthsField(counts=(3,)), NumberField()
        for each in (field, several, price):
            qtbot.addWidget(each)
        for value in values:
            field.show_value(value)
            read = parse_length(field.text(), "mm")
            assert read.exact == value.exact
        several.show_value(tuple(values))
        assert several.read(several.text()) == tuple(values)
        price.show_value(Fraction(29, 2))
        assert price.text() == ("14,50" if language == "es" else "14.50")
        assert price.read(price.text()) == Fraction(29, 2)
