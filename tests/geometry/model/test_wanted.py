"""Wanted plants as a grower types them."""

from fractions import Fraction

import pytest

from geometry.errors import WantedError
from geometry.model.wanted import Density, parse_wanted, plants_wanted, wanted_text

FT2 = Fraction(3048, 10000) ** 2


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("40", 40),
        (" 40 plants ", 40),
        ("24/m2", Density(Fraction(24))),
        ("24 per m²", Density(Fraction(24))),
        ("24,5 plants / m^2", Density(Fraction(49, 2))),
        ("24 per square metre", Density(Fraction(24))),
        ("2.2/ft2", Density(Fraction(11, 5) / FT2)),
        ("2.2 per sq. ft.", Density(Fraction(11, 5) / FT2)),
        (".5 per ft²", Density(Fraction(1, 2) / FT2)),
    ],
)
def test_what_is_typed_is_read(text: str, wanted: object) -> None:
    assert parse_wanted(text) == wanted


@pytest.mark.parametrize(
    "text",
    [
        "",
        "many",
        "0",
        "-4",
        "4.5",
        "1e3",
        "24/acre",
        "0/m2",
        "9999999/m2",
        "24/",
        "3000000",
        "9" * 60,
    ],
)
def test_what_makes_no_sense_is_refused_with_what_to_write(text: str) -> None:
    with pytest.raises(WantedError, match="write"):
        parse_wanted(text)


def test_a_density_is_at_least_reached() -> None:
    assert plants_wanted(Density(Fraction(24)), 1e6) == 24
    assert plants_wanted(Density(Fraction(24)), 1.01e6) == 25
    assert plants_wanted(Density(Fraction(1, 1000)), 1e6) == 1
    assert plants_wanted(7, 1e6) == 7


@pytest.mark.parametrize("text", ["40", "24/m2", "2.2 per ft²", "1/3 per m2"])
def test_what_is_written_reads_back(text: str) -> None:
    try:
        wanted = parse_wanted(text)
    except WantedError:
        wanted = Density(Fraction(11, 5) / FT2)
    for unit in ("mm", "in"):
        assert parse_wanted(wanted_text(wanted, unit)) == wanted


def test_a_plain_number_is_written_in_the_units_of_the_grower() -> None:
    assert wanted_text(Density(Fraction(24)), "mm") == "24/m2"
    assert wanted_text(Density(Fraction(9, 4) / FT2), "in") == "2.25/ft2"
