"""The painter's output read back: from painter paths, and from pixels."""

from math import cos, hypot, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from PySide6.QtCore import QObject
from PySide6.QtGui import QColor, QImage, QPainter

from geometry.drawing.marks import Circle, Mark, Text, stroke
from geometry.drawing.styles import Style
from geometry.drawing.text_width import CAP_HEIGHT, text_width
from geometry.model.curves import Arc, Line, Loop, Point
from layout_gui.screen.painter import loop_path, paint_marks, path_of, text_path, y_up
from layout_gui.screen.theme import LIGHT, PAPER


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Fonts need a running application."""


def ink_of(marks: list[Mark], scale: float, size: int = 200) -> NDArray[np.float64]:
    """How dark each pixel is, rows from the bottom up."""
    image = QImage(size, size, QImage.Format.Format_Grayscale8)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(y_up(0, size, scale))
    paint_marks(painter, marks, PAPER)
    painter.end()
    grey = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(size, -1)[:, :size]
    return 1 - grey[::-1].astype(np.float64) / 255


def round_ended(length: float, width: float) -> Loop:
    """A stadium: two straight sides, two half circles."""
    r = width / 2
    return Loop(
        (
            Line(Point(r, 0), Point(length - r, 0)),
            Arc(Point(length - r, r), r, -pi / 2, pi),
            Line(Point(length - r, width), Point(r, width)),
            Arc(Point(r, r), r, pi / 2, pi),
        )
    )


@given(
    angle=st.floats(-7, 7),
    sweep=st.floats(-6.2, 6.2).filter(lambda s: abs(s) > 0.01),
    radius=st.floats(1, 1e4),
)
@settings(max_examples=60, deadline=None)
def test_an_arc_runs_where_it_should(angle: float, sweep: float, radius: float) -> None:
    path = path_of([Arc(Point(30, -20), radius, angle, sweep)], closed=False)
    ends = (path.pointAtPercent(0), path.currentPosition())
    for point, at in zip(ends, (angle, angle + sweep), strict=True):
        assert (point.x(), point.y()) == pytest.approx(
            (30 + radius * cos(at), -20 + radius * sin(at)), abs=1e-9 * radius + 1e-9
        )
    for share in (0.1, 0.37, 0.5, 0.83):
        point = path.pointAtPercent(share)
        # An eighth of a circle as one cubic is off by 4.2e-6 of the radius (a known result).
        away = hypot(point.x() - 30, point.y() + 20)
        assert away == pytest.approx(radius, rel=5e-6)


def test_a_round_ended_outline_bulges_outwards() -> None:
    box = loop_path([round_ended(500, 200)]).boundingRect()
    assert (box.left(), box.top(), box.right(), box.bottom()) == pytest.approx(
        (0, 0, 500, 200), abs=1e-3
    )


def test_circles_stand_where_the_marks_say_with_y_up() -> None:
    ink = ink_of([Circle(Point(40, 130), 10, Style.HOLE)], scale=1)
    ys, xs = np.nonzero(ink)
    weight = ink[ys, xs]
    centre = (np.average(xs, weights=weight) + 0.5, np.average(ys, weights=weight) + 0.5)
    assert centre == pytest.approx((40, 130), abs=0.05)
    assert np.average(np.hypot(xs - 39.5, ys - 129.5), weights=weight) == pytest.approx(10, abs=0.2)


def test_a_hairline_never_vanishes() -> None:
    # 0.2 mm at a tenth of a pixel per mm is a fiftieth of a pixel.
    line = stroke(Point(0, 1005), Point(2000, 1005), Style.CENTRE)
    assert ink_of([line], scale=0.1)[100, 50] > 0.9


def test_a_wide_line_has_its_width_on_paper() -> None:
    line = stroke(Point(0, 1), Point(2, 1), Style.DATUM)
    column = ink_of([line], scale=100)[:, 100]
    assert column.sum() == pytest.approx(60, abs=1)


@pytest.mark.parametrize("text", ["A1", "1318.4 mm", "Ünïcode AVAT"])
@pytest.mark.parametrize(("anchor", "share"), [("left", 0.0), ("middle", 0.5), ("right", 1.0)])
def test_text_is_as_wide_as_the_table_says(text: str, anchor: str, share: float) -> None:
    width = text_width(text, 10)
    box = text_path(Text(Point(50, 70), text, 10, Style.LABEL, anchor)).boundingRect()  # type: ignore[arg-type]
    assert box.left() == pytest.approx(50 - share * width, abs=1.1)
    assert box.right() == pytest.approx(50 + (1 - share) * width, abs=1.1)


def test_text_reads_upright_and_turns_counter_clockwise() -> None:
    upright = text_path(Text(Point(50, 70), "H", 10, Style.LABEL)).boundingRect()
    assert (upright.top(), upright.bottom()) == pytest.approx((70, 70 + 10 * CAP_HEIGHT), abs=0.02)
    turned = text_path(Text(Point(50, 70), "H", 10, Style.LABEL, angle=90)).boundingRect()
    assert (turned.left(), turned.right()) == pytest.approx((50 - 10 * CAP_HEIGHT, 50), abs=0.02)
    assert turned.top() > 70


def test_a_script_that_the_font_lacks_is_still_drawn() -> None:
    assert not text_path(Text(Point(0, 0), "水", 10, Style.LABEL)).isEmpty()


def test_the_painter_is_handed_back_as_it_came() -> None:
    image = QImage(10, 10, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setTransform(y_up(0, 10, 2))
    before = (painter.pen(), painter.brush(), painter.transform())
    paint_marks(painter, [Circle(Point(1, 1), 1, Style.WATER)], LIGHT.inks)
    assert (painter.pen(), painter.brush(), painter.transform()) == before
    painter.end()
