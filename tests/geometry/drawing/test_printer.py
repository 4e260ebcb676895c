"""What is read off a printer page: factors, borders, refusals at the very bounds, doubts."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.paper import COMMON, FACTORS, PAPERS, PageSetup, own_paper
from geometry.drawing.printer import (
    MeasuredLine,
    Printer,
    doubts,
    find_printer,
    fit_hint,
    is_day,
    is_over_a_year,
    judged_printer,
    line_mm,
    measured_line,
    white_border,
)
from geometry.errors import GeometryError
from geometry.units import Length, parse_length

A4, LETTER = PAPERS["A4"], PAPERS["Letter"]
HALL = Printer("Hall printer", A4, 1.004, 0.998, 5, "2026-11-25")


def mm(text: str) -> Length:
    return parse_length(text, "mm")


def of(*texts: str) -> list[Length]:
    return [mm(text) for text in texts]


def judged(across: str, along: str, **more: bool) -> Printer:
    lines = [
        measured_line(A4, "across", mm(across)),
        measured_line(A4, "along", mm(along)),
    ]
    return judged_printer("Hall", *lines, A4, of("4", "6", "5", "4"), day="2026-11-25", **more)


def test_lines_are_as_long_as_the_paper_allows_in_whole_millimetres() -> None:
    assert (line_mm(A4, "across"), line_mm(A4, "along")) == (186, 273)
    assert (line_mm(LETTER, "across"), line_mm(LETTER, "along")) == (191, 255)
    assert (line_mm(COMMON, "across"), line_mm(COMMON, "along")) == (186, 255)
    assert line_mm(own_paper(609.6, 5000), "along") == 4976


def test_factors_are_nominal_by_measured_each_way() -> None:
    printer = judged("185.3", "273.5")

    assert printer.across == pytest.approx(186 / 185.3, abs=1e-6)
    assert printer.along == pytest.approx(273 / 273.5, abs=1e-6)
    assert printer.border_mm == 6
    assert printer.day == "2026-11-25"


def test_inches_are_read_exactly() -> None:
    line = measured_line(LETTER, "across", mm("7 1/2 in"))

    assert line.factor == Fraction(191) / Fraction("190.5")
    assert "190.50 mm" in line.words()


def test_what_a_rule_cannot_show_is_left_alone_unless_it_is_wanted() -> None:
    assert judged("186.3", "272.7").across == judged("185.7", "273").along == 1
    wanted = judged("186.3", "272.7", corrects_all=True)
    assert wanted.across == pytest.approx(186 / 186.3, abs=1e-6)
    assert judged("185.69", "273").across > 1
    line = measured_line(A4, "across", mm("185.8"))
    assert line.reading_percent == pytest.approx(0.3 / 186 * 100)
    assert "0.16 % of it: it counts as true" in line.words()
    assert "0.11 % larger" in line.words(corrects_all=True)


@pytest.mark.parametrize("factor", [Fraction(95, 100), Fraction(105, 100)])
def test_factors_are_refused_just_outside_their_bounds(factor: Fraction) -> None:
    at = Fraction(273) / factor
    off = Fraction(1, 10**9) * (1 if factor < 1 else -1)

    line = MeasuredLine("along", Fraction(273), at)
    assert float(line.factor) in FACTORS
    with pytest.raises(GeometryError, match="page scaling: set 100 %"):
        MeasuredLine("along", Fraction(273), at + off)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("0", "longer than nothing"),
        ("-3", "longer than nothing"),
        ("18.6", "unit"),
        ("186 in", "unit"),
        ("173.7", "93.4 %"),
        ("200", "107.5 %"),
    ],
)
def test_refusals_say_what_to_do(text: str, reason: str) -> None:
    with pytest.raises(GeometryError, match=reason):
        measured_line(A4, "across", mm(text))


@pytest.mark.parametrize(
    ("across", "along", "is_fit"),
    [
        # 96.0 and 97.3 %: an A4 page on A4 paper, "fit" and "fill" of a printing system, measured
        ("178.6", "262.1", True),
        ("181", "265.6", True),
        ("181", "268", False),
        ("185.3", "272", False),
        ("177.2", "260", False),
    ],
)
def test_a_page_that_was_fitted_is_told_from_a_wrong_printer(
    across: str, along: str, is_fit: bool
) -> None:
    hint = fit_hint(measured_line(A4, "across", mm(across)), measured_line(A4, "along", mm(along)))

    assert bool(hint) is is_fit
    assert not is_fit or "100 %" in hint


def test_the_border_is_the_largest_of_the_edges() -> None:
    assert white_border(of("2", "1/4 in", "4")) == 6.35
    assert white_border(of("12")) == 12
    for edges in ([], of("12.1"), of("-1")):
        with pytest.raises(GeometryError):
            white_border(edges)


@pytest.mark.parametrize(
    "change",
    [
        {"name": " "},
        {"name": "x" * 41},
        {"name": "two\nlines"},
        {"note": "two\nlines"},
        {"day": "25.11.2026"},
        {"day": "2026-02-30"},
        {"across": 1.051},
        {"along": 0.949},
        {"along": float("nan")},
        {"border_mm": 12.5},
    ],
)
def test_a_printer_that_cannot_be_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(GeometryError):
        replace(HALL, **change)


def test_a_printer_is_put_on_a_setup_with_its_own_border() -> None:
    setup = HALL.on(PageSetup(paper=A4))

    assert (setup.across, setup.along, setup.border_mm) == (1.004, 0.998, 5)
    assert HALL.on(setup, 8).border_mm == 8
    assert replace(HALL, border_mm=2).on(setup).border_mm == 3
    assert "Corrected for Hall printer, A4, measured 2026-11-25: 1.0040 across" in setup.words
    assert "other paper" not in setup.words + HALL.on(PageSetup(paper=COMMON)).words
    assert "That was other paper than this one." in HALL.on(PageSetup(paper=LETTER)).words
    assert "true as it is" in replace(HALL, across=1.0, along=1.0).on(setup).words


def test_a_printer_is_found_by_name_and_by_the_size_of_the_paper() -> None:
    letter = replace(HALL, paper=LETTER, day="2025-01-01")
    other = replace(HALL, name="Shed")
    known = (HALL, letter, other)

    assert find_printer(known, "Hall printer", LETTER) is letter
    assert find_printer(known, "Hall printer", own_paper(210, 297)) is HALL
    assert find_printer(known, "Hall printer", PAPERS["A3"]) is HALL
    assert find_printer((other, letter), "Hall printer", COMMON) is letter
    assert find_printer(known, "Barn", A4) is None


def test_doubts_about_paper_day_and_border() -> None:
    setup = HALL.on(PageSetup(paper=A4))

    assert doubts(HALL, setup, "2027-11-25") == ()
    assert "more than a year" in doubts(HALL, setup, "2027-11-26")[0]
    assert "not with Letter" in doubts(HALL, replace(setup, paper=LETTER), "2026-12-01")[0]
    assert doubts(HALL, replace(setup, paper=COMMON), "2026-12-01") == ()
    assert "leaves 5 mm white" in doubts(HALL, replace(setup, border_mm=4), "2026-12-01")[0]
    assert "Nobody noted" in doubts(replace(HALL, day=""), setup, "2026-12-01")[0]


def test_days_are_read_as_they_are_written() -> None:
    assert is_day("2024-02-29")
    assert not any(map(is_day, ("2024-2-9", "2024-13-01", "2024-00-10", "", "2024-04-31")))
    assert not is_over_a_year("2024-02-29", "2025-02-28")
    assert is_over_a_year("2024-02-29", "2025-03-01")


@given(
    st.fractions(Fraction(181), Fraction(191)),
    st.fractions(Fraction(266), Fraction(280)),
)
def test_what_is_sent_comes_out_true(across: Fraction, along: Fraction) -> None:
    """A printer that made these of its two lines makes true lines of corrected ones."""
    printer = judged_printer(
        "Hall",
        MeasuredLine("across", Fraction(186), across),
        MeasuredLine("along", Fraction(273), along),
        A4,
        of("4"),
        day="2026-11-25",
        corrects_all=True,
    )

    assert 186 * printer.across * float(across / 186) == pytest.approx(186, abs=1e-3)
    assert 273 * printer.along * float(along / 273) == pytest.approx(273, abs=1e-3)
