"""The foot of a point lies on the outline, as far away as the outline is."""

from math import hypot, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.beds.outline import outline_loop
from geometry.model.curves import Arc, Line, Point
from geometry.model.foot import foot_on, foot_on_curve
from geometry.model.measure import distance
from geometry.model.outlines import Disc, LShape, Outline, Rectangle, RoundEnded
from geometry.units import Length


def mm(value: float) -> Length:
    return Length.of(value)


OUTLINES: list[Outline] = [
    Rectangle(mm(600), mm(400)),
    Rectangle(mm(600), mm(400), mm(80)),
    Disc(mm(500)),
    RoundEnded(mm(600), mm(300)),
    LShape(mm(600), mm(400), mm(200), mm(150)),
]


@given(outline=st.sampled_from(OUTLINES), x=st.floats(-300, 900), y=st.floats(-300, 700))
def test_it_is_as_near_as_the_outline(outline: Outline, x: float, y: float) -> None:
    loop = outline_loop(outline)
    foot, curve = foot_on(loop, x, y)
    (away,) = distance(np.array([[x, y]]), loop)
    assert hypot(foot.x - x, foot.y - y) == pytest.approx(away, abs=1e-6)
    (off,) = distance(np.array([foot]), loop)
    assert off == pytest.approx(0, abs=1e-6)
    assert curve in loop.curves


def test_ends_of_lines_and_arcs_count() -> None:
    line = Line(Point(0, 0), Point(10, 0))
    assert foot_on_curve(line, 4, 3) == (4, 0)
    assert foot_on_curve(line, -5, 3) == (0, 0)
    quarter = Arc(Point(0, 0), 10, 0, pi / 2)
    assert foot_on_curve(quarter, 3, 4) == pytest.approx((6, 8))
    assert foot_on_curve(quarter, 12, -1) == pytest.approx((10, 0))
    assert foot_on_curve(quarter, 0, 0) == pytest.approx((10, 0))
    backwards = Arc(Point(0, 0), 10, pi / 2, -pi / 2)
    assert foot_on_curve(backwards, 3, 4) == pytest.approx((6, 8))
    assert foot_on_curve(backwards, -9, 1) == pytest.approx((0, 10))
