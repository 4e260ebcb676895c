"""Numbers typed in another unit are asked about; usual beds never are."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest

from geometry.checks.finding import SetLength
from geometry.checks.unit_slip import check_sheet_units, check_units
from geometry.model.bed import Bed, Fit, Split
from geometry.model.outlines import Disc, Polygon, Rectangle, RoundEnded
from geometry.model.planting import Planting
from geometry.model.sheet import Cutting, Sheet
from geometry.units import Length

_MM = Length.of
INCH = Fraction(254, 10)


def _bench(**planting: float) -> Bed:
    values = {"spacing": 200, "hole_diameter": 50, "web": 25, "edge_margin": 60} | planting
    return Bed(
        "Bench",
        Rectangle(_MM(2360), _MM(580)),
        _MM(10),
        _MM(5),
        planting=Planting(**{key: _MM(value) for key, value in values.items()}),  # type: ignore[arg-type]  # lengths only
    )


def _usual_beds() -> Iterator[Bed]:
    """Beds of the job map (sections 3, 4 and 9), as their growers would type them."""
    inch = Length(INCH)
    yield _bench()
    yield Bed(
        "tank half",
        Rectangle(Length(45 * INCH), Length(37 * INCH), Length(4 * INCH)),
        Length(INCH / 2),
        planting=Planting(Length(8 * INCH), Length(7 * INCH / 4), edge_margin=Length(4 * INCH)),
    )
    yield Bed(
        "stock tank",
        RoundEnded(Length(Fraction(141, 2) * INCH), Length(Fraction(45, 2) * INCH)),
        Length(INCH / 2),
        Length(INCH / 4),
        rafts=Split(2, 1),
        planting=Planting(Length(6 * INCH), Length(5 * INCH / 2)),
    )
    yield Bed(
        "raceway",
        Rectangle(_MM("32 ft"), _MM("4 ft")),
        inch,
        Length(INCH / 2),
        rafts=Fit(_MM("4 ft"), _MM("2 ft")),
        planting=Planting(Length(8 * INCH), Length(INCH * 15 / 8), web=inch),
    )
    yield Bed(
        "baby leaf",
        Rectangle(_MM("70 m"), _MM("4 m")),
        _MM(20),
        planting=Planting(_MM(50), _MM(20)),
    )
    yield Bed("pool", Disc(_MM(1500)), _MM(25), planting=Planting(_MM(300), _MM(76.2)))


@pytest.mark.parametrize("bed", tuple(_usual_beds()), ids=lambda bed: bed.name)
def test_usual_beds_raise_no_question(bed: Bed) -> None:
    # Source: job map, check K5 (normal beds none).
    assert not list(check_units(bed))


@pytest.mark.parametrize(
    ("bed", "subject", "cure"),
    [
        (_bench(spacing=8), "planting.spacing", 203.2),
        (_bench(spacing=2540), "planting.spacing", 254.0),
        (_bench(spacing=20, web=0), "planting.hole_diameter", ("planting.spacing", 200.0)),
        (_bench(spacing=5080), "planting.spacing", 200.0),
        (_bench(hole_diameter=2), "planting.hole_diameter", 50.8),
        (_bench(hole_diameter=1270), "planting.hole_diameter", 50.0),
        (_bench(hole_diameter=304.8), "planting.hole_diameter", 12.0),
        (_bench(web=635), "planting.web", 25.0),
        (_bench(row_spacing=10), "planting.row_spacing", 254.0),
        (replace(_bench(), clearance=_MM(254)), "clearance", 10.0),
        (replace(_bench(), joint_gap=_MM(127)), "joint_gap", 5.0),
        (replace(_bench(), rafts=Fit(_MM(47.2), _MM(580))), "rafts.length", 1198.88),
    ],
)
def test_seeded_slips_are_asked_about_with_the_usual_reading(
    bed: Bed, subject: str, cure: float | tuple[str, float]
) -> None:
    # Source: job map, check K5 (seeded typos all caught).
    expected = SetLength(*cure) if isinstance(cure, tuple) else SetLength(subject, cure)

    (finding,) = check_units(bed)

    assert (finding.code, finding.severity) == ("unit-slip", "question")
    assert finding.subject == subject
    assert finding.cure == expected


@pytest.mark.parametrize(
    ("length", "width", "subjects"),
    [
        (93, 23, ["outline.length", "outline.width"]),  # inches read as mm
        (236, 58, ["outline.width"]),  # centimetres read as mm
        (2_360_000, 580, ["outline.length"]),  # millimetres read as metres
    ],
)
def test_beds_of_a_doll_or_a_giant_are_asked_about(
    length: float, width: float, subjects: list[str]
) -> None:
    bed = Bed("Bench", Rectangle(_MM(length), _MM(width)), _MM(1))

    assert [finding.subject for finding in check_units(bed)] == subjects


def test_limits_are_usual_themselves() -> None:
    on_the_limit = replace(_bench(), clearance=_MM(58), joint_gap=_MM(58))

    assert not list(check_units(on_the_limit))
    assert list(check_units(replace(on_the_limit, clearance=_MM(58.01))))


def test_a_number_that_no_unit_explains_is_asked_about_without_a_cure() -> None:
    (finding,) = check_units(replace(_bench(), clearance=_MM(5000)))

    assert finding.cure is None


def test_a_hole_larger_than_the_spacing_may_be_the_slip_itself() -> None:
    (finding,) = check_units(_bench(spacing=52, hole_diameter=190, web=0))

    assert finding.cure == SetLength("planting.spacing", 520.0)


def test_an_outline_that_cannot_be_drawn_is_left_to_its_own_check() -> None:
    flat = Polygon(((_MM(0), _MM(0)), (_MM(5), _MM(0)), (_MM(9), _MM(0))))

    assert not list(check_units(replace(_bench(), outline=flat)))


def test_sheets_and_blade_are_asked_about_too() -> None:
    usual = Sheet("board", _MM(1250), _MM(600), _MM(50))
    tiny = Sheet("slip", _MM(49), _MM(600), _MM(2), tolerance=_MM(40))

    found = check_sheet_units([usual, tiny], Cutting(_MM(76.2), _MM(5)))

    assert [(f.subject, f.amount_mm, f.limit_mm) for f in found] == [
        ("sheets.1.length", 49, 100),
        ("sheets.1.thickness", 2, 5),
        ("sheets.1.tolerance", 40, 30),
        ("cutting.kerf", 76.2, 10),
    ]
    assert not list(check_sheet_units([usual], Cutting(_MM(3))))
