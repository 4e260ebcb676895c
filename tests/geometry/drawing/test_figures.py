"""Figures for the tape."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.drawing.figures import figure, weight_text
from geometry.units import Unit

STEPS: dict[Unit, Fraction] = {
    "mm": Fraction(1, 10),
    "cm": Fraction(1, 10),
    "in": Fraction(254, 160),
}
MM: dict[Unit, Fraction] = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}


@given(
    st.fractions(0, 10_000, max_denominator=10_000),
    st.integers(0, 500),
    st.sampled_from(["mm", "cm", "in"]),
)
def test_each_figure_is_its_exact_value_rounded_once(
    pitch: Fraction, holes: int, unit: Unit
) -> None:
    """However many pitches are run up, the error stays within half a step: none is added up."""
    exact = pitch * holes
    shown = sum(map(Fraction, figure(exact, unit).split()), Fraction(0)) * MM[unit]

    assert abs(shown - exact) <= STEPS[unit] / 2
    assert (shown / STEPS[unit]).denominator == 1


def test_weights_are_in_kilograms_or_pounds() -> None:
    """One avoirdupois pound is 0.45359237 kg (international agreement of 1959)."""
    assert weight_text(0.45359237, "mm") == "0.5 kg"
    assert weight_text(0.45359237 * 3, "in") == "3.0 lb"


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (193.666, "mm", "193.7"),
        (581, "mm", "581"),
        (0.04, "mm", "0"),
        (0.05, "mm", "0.1"),
        (-0.06, "mm", "-0.1"),
        (581.2, "cm", "58.12"),
        (190, "cm", "19"),
        (Fraction("190.5"), "in", "7 1/2"),
        (Fraction(254, 10), "in", "1"),
        (25.4 / 16, "in", "1/16"),
        (25.4 / 33, "in", "0"),
        (1209.675, "in", "47 5/8"),
        (25.4 * 0.999, "in", "1"),
    ],
)
def test_a_figure_is_rounded_to_the_step_of_its_unit(mm: float, unit: str, shown: str) -> None:
    assert figure(mm, unit) == shown


def test_the_error_of_running_figures_never_grows() -> None:
    """Job map E2: each figure is within half a step of its exact place."""
    pitch = Fraction(1000, 7)
    for step in range(200):
        shown = Fraction(figure(step * pitch, "mm"))
        assert abs(shown - step * pitch) <= Fraction(1, 20)
