"""Figures for the tape."""

from fractions import Fraction

import pytest

from geometry.drawing.figures import figure


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
