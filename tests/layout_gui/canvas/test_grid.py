from hypothesis import given
from hypothesis import strategies as st

from geometry.units import Unit
from layout_gui.canvas.grid import LEAST_PX, every, line_places
from layout_gui.canvas.snapping import Grid


@given(step=st.floats(1, 500), pixel=st.floats(0.02, 50), unit=st.sampled_from(["mm", "cm", "in"]))
def test_lines_never_crowd(step: float, pixel: float, unit: Unit) -> None:
    count = every(Grid(step), pixel, unit)
    assert count * step / pixel >= LEAST_PX or count == (1200 if unit == "in" else 1000)
    assert count == 1 or (count // 10 or 1) * step / pixel < LEAST_PX


def test_all_lines_between_two_places_and_none_beyond() -> None:
    grid = Grid(25, (5, 0))
    assert line_places(grid, 1, 0, 80, 5) == [0, 1, 2, 3]
    assert line_places(grid, 2, -50, 80, 5) == [-2, 0, 2]
    assert line_places(grid, 1, 30, 30, 5) == [1]
    assert line_places(grid, 1, 31, 54, 5) == []
