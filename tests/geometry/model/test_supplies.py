"""Amounts of paint as people type them."""

from fractions import Fraction

import pytest

from geometry.errors import GeometryError
from geometry.model.supplies import (
    Coverage,
    Volume,
    coverage_text,
    parse_coverage,
    parse_volume,
    volume_text,
)
from geometry.units import Unit


@pytest.mark.parametrize(
    ("text", "unit", "litres"),
    [
        ("2.5 L", None, Fraction(5, 2)),
        ("2,5 l", None, Fraction(5, 2)),
        ("750 ml", None, Fraction(3, 4)),
        ("3 litres", None, 3),
        ("2", "mm", 2),
        ("1 gal", None, Fraction("3.785411784")),
        ("1", "in", Fraction("3.785411784")),
        ("4 qt", None, Fraction("3.785411784")),
    ],
)
def test_volumes_are_read_exactly(text: str, unit: Unit | None, litres: Fraction) -> None:
    assert parse_volume(text, unit) == Volume(litres)


@pytest.mark.parametrize(
    ("text", "unit", "m2"),
    [
        ("8 m2/L", None, 8),
        ("8", "cm", 8),
        ("9,5 m² per litre", None, Fraction("9.5")),
        ("350 ft2/gal", None, Fraction("350") * Fraction("0.09290304") / Fraction("3.785411784")),
        ("350", "in", Fraction("350") * Fraction("0.09290304") / Fraction("3.785411784")),
    ],
)
def test_coverage_is_read_exactly(text: str, unit: Unit | None, m2: Fraction) -> None:
    assert parse_coverage(text, unit) == Coverage(m2)


@pytest.mark.parametrize("text", ["", "much", "3 kg", "0 L", "-1 L", "1 000 L", "9999999 L", "5"])
def test_what_is_no_volume_is_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(GeometryError, match=r"\.$"):
        parse_volume(text, None)


@pytest.mark.parametrize("text", ["", "8", "8 m/L", "8 m2", "0 m2/L", "8 m2/kg", "8 m2/L/L"])
def test_what_is_no_coverage_is_refused_in_a_sentence(text: str) -> None:
    with pytest.raises(GeometryError, match=r"\.$"):
        parse_coverage(text, None)


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("text", ["8 m2/L", "350 ft2/gal", "9.5 m2/L"])
def test_what_is_shown_reads_back(text: str, unit: Unit) -> None:
    coverage = parse_coverage(text, None)
    plain = Coverage(coverage.m2_per_litre)

    assert parse_coverage(coverage_text(coverage, unit), None) == coverage
    assert parse_coverage(coverage_text(plain, unit), None) == plain
    assert parse_volume(volume_text(Volume(Fraction(5, 2)), unit), None) == Volume(Fraction(5, 2))
