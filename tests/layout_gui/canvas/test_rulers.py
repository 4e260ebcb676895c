import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from geometry.units import Unit
from layout_gui.canvas.rulers import LABEL_PX, TICK_PX, Ruler, figure_text, steps_for
from layout_gui.canvas.tones import Tones
from layout_gui.screen.theme import LIGHT

UNITS = st.sampled_from(["mm", "cm", "in"])


@given(unit=UNITS, scale=st.floats(1e-4, 60))
def test_figures_and_ticks_never_crowd_and_agree(unit: Unit, scale: float) -> None:
    steps = steps_for(unit, scale)
    pixels = scale * steps.unit_mm
    assert steps.label * pixels >= LABEL_PX - 1e-6 or (unit == "in" and steps.label == 2400)
    assert steps.tick * pixels >= TICK_PX - 1e-6 or steps.tick == steps.label
    assert steps.label / steps.tick == pytest.approx(round(steps.label / steps.tick))


@given(unit=st.sampled_from(["mm", "cm"]), scale=st.floats(1e-3, 60))
def test_figures_are_not_sparse_either(unit: Unit, scale: float) -> None:
    steps = steps_for(unit, scale)
    assert steps.label * scale * steps.unit_mm <= 2.5 * LABEL_PX + 1e-6


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0, "mm", "0"),
        (1500, "mm", "1500"),
        (-200, "mm", "\N{MINUS SIGN}200"),
        (0.5, "cm", "0.5"),
        (7.5, "in", "7 1/2"),
        (0.0625, "in", "1/16"),
        (-0.75, "in", "\N{MINUS SIGN}3/4"),
        (12, "in", "12"),
    ],
)
def test_figures_read_as_on_a_tape(value: float, unit: Unit, text: str) -> None:
    assert figure_text(value, unit) == text


def test_only_the_strips_of_the_pointer_are_painted_again(qtbot: QtBot, qapp: QObject) -> None:
    ruler = Ruler("top", Tones(LIGHT), None)  # type: ignore[arg-type]
    qtbot.addWidget(ruler)
    ruler.resize(800, 24)
    ruler.set_view(100, 0.5)
    ruler.show()
    qtbot.waitExposed(ruler)
    before = ruler.grab().toImage()
    ruler.set_pointer(400)
    after = ruler.grab().toImage()
    differing = {
        x for x in range(800) if any(before.pixel(x, y) != after.pixel(x, y) for y in range(24))
    }
    assert differing
    assert min(differing) >= 393
    assert max(differing) <= 407
