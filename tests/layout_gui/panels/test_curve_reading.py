"""What the curve says at a place, without drawing it."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.compare.steps import Step
from geometry.model.planting import Pattern
from geometry.model.project import Choice
from geometry.units import Length
from layout_gui.panels.curve_reading import (
    Reading,
    Series,
    choice_of,
    line_near,
    on_the_tape,
    ordered,
    read,
    reading_sentence,
)
from tests.layout_gui.panels.desk import make_bench


def steps(*ends: tuple[str, int]) -> tuple[Step, ...]:
    return tuple(Step(Fraction(spacing), count) for spacing, count in ends)


SERIES: Series = {
    "best": steps(("150.2", 48), ("193.6", 36), ("250", 24)),
    "square": steps(("140", 48), ("193.6", 36), ("250", 20)),
}


def at(spacing: str, pattern: Pattern = "best") -> Reading:
    found = read(SERIES, pattern, Fraction(spacing))
    assert found is not None
    return found


def test_a_place_within_a_step_knows_both_ends() -> None:
    assert at("185") == Reading("best", Fraction(185), 36, Fraction("193.6"), Fraction("150.2"), 12)


def test_the_end_of_a_step_belongs_to_it() -> None:
    assert at("193.6").plants == 36
    assert at("193.61").plants == 24


def test_the_last_step_has_no_end_and_the_first_nothing_before_it() -> None:
    assert at("250").same_up_to is None
    assert at("100").more_at is None
    assert read(SERIES, "best", Fraction(251)) is None
    assert read(SERIES, "rings", Fraction(200)) is None


def test_the_nearest_line_is_meant_and_the_own_one_on_a_tie() -> None:
    assert line_near(SERIES, Fraction(220), 24, "best") == "best"
    assert line_near(SERIES, Fraction(220), 19, "best") == "square"
    assert line_near(SERIES, Fraction(185), 30, "best") == "best"
    assert line_near(SERIES, Fraction(185), 30, "square") == "square"
    assert line_near(SERIES, Fraction(999), 30, "square") is None
    assert ordered(SERIES) == ["square", "best"]


@pytest.mark.parametrize(
    ("spacing", "unit", "wanted"),
    [
        ("187.37", "mm", "187"),
        ("187.37", "in", "187.325"),  # 7 3/8 in
        ("193.55", "mm", "193"),  # 194 would lose a row
        ("150.3", "mm", "151"),  # 150 holds more
    ],
)
def test_a_place_is_moved_to_the_tape_within_its_step(spacing: str, unit: str, wanted: str) -> None:
    assert on_the_tape(at(spacing), unit).spacing == Fraction(wanted)  # type: ignore[arg-type]


def test_a_step_narrower_than_the_tape_s_keeps_its_end() -> None:
    narrow: Series = {"best": steps(("150.2", 48), ("150.7", 36), ("250", 24))}
    found = read(narrow, "best", Fraction("150.4"))
    assert found is not None
    assert on_the_tape(found, "mm").spacing == Fraction("150.7")


@given(
    ends=st.lists(st.fractions(100, 300, max_denominator=10), min_size=1, max_size=6, unique=True),
    share=st.fractions(0, 1, max_denominator=1000),
    unit=st.sampled_from(("mm", "in")),
)
def test_the_tape_never_changes_the_count(ends: list[Fraction], share: Fraction, unit: str) -> None:
    line = tuple(Step(spacing, 100 - number) for number, spacing in enumerate(sorted(ends)))
    place = line[0].spacing * Fraction(9, 10)
    place += share * (line[-1].spacing - place)
    series: Series = {"best": line}
    found = read(series, "best", place)
    assert found is not None

    moved = on_the_tape(found, unit)  # type: ignore[arg-type]

    again = read(series, "best", moved.spacing)
    assert again is None or again.plants == found.plants or found.same_up_to is None
    if found.same_up_to is not None:
        assert again is not None


def test_a_place_is_said_in_both_systems_with_its_ends() -> None:
    assert reading_sentence(at("185"), "mm", 36) == (
        "185 mm (≈ 7 5/16 in), best of all: 36 plants, as many as now."
        " The same up to 193.6 mm; at 150.2 mm 12 more."
    )
    assert reading_sentence(at("193.6", "square"), "mm", 40) == (
        "193.6 mm (≈ 7 5/8 in), square: 36 plants, 4 fewer than now."
        " No wider spacing holds as many; at 140 mm 12 more."
    )
    assert reading_sentence(at("100"), "mm", 1).endswith(
        "47 more than now. The same up to 150.2 mm."
    )
    inches = Reading("square", Fraction("190.5"), 36, None, None, 0)
    assert reading_sentence(inches, "in", 1).startswith("7 1/2 in (≈ 190 mm), square: 36 plants")


def test_a_choice_names_its_pattern_only_when_it_is_another() -> None:
    bed = make_bench()  # planted square

    own = choice_of(bed, at("185", "square"), "mm")
    other = choice_of(bed, at("185", "best"), "mm")

    assert own == Choice("spacing 185 mm", "Bench", spacing=Length.of(185))
    assert other == Choice("best of all, 185 mm", "Bench", pattern="best", spacing=Length.of(185))
