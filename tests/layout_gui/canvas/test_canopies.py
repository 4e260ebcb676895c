"""Leaves on the canvas: what lies within two circles is hatched."""

from math import acos, pi, sqrt

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainterPath
from pytestqt.qtbot import QtBot

from geometry.plan import make_plan
from layout_gui.canvas.canopies import lens
from layout_gui.canvas.scene import BedScene
from layout_gui.canvas.tones import Tones
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, make_project

pytestmark = OFFSCREEN


def area_of(path: QPainterPath) -> float:
    """The area by the shoelace formula over the flattened path."""
    (polygon,) = path.toSubpathPolygons()
    points = np.array([(point.x(), point.y()) for point in polygon])
    x, y = points.T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def lens_area(apart: float, r: float, s: float) -> float:
    """The area within two circles, by the formula of any table of plane figures (from memory)."""
    one = r * r * acos((apart**2 + r * r - s * s) / (2 * apart * r))
    other = s * s * acos((apart**2 + s * s - r * r) / (2 * apart * s))
    kite = sqrt((-apart + r + s) * (apart + r - s) * (apart - r + s) * (apart + r + s)) / 2
    return one + other - kite


@pytest.mark.parametrize(
    ("other", "r", "s"),
    [((150, 0), 100, 100), ((0, 120), 100, 80), ((-90, -90), 100, 60), ((60, -80), 90, 90)],
)
def test_the_lens_is_what_lies_within_both(other: tuple[float, float], r: float, s: float) -> None:
    here, there = np.array([10.0, 20.0]), np.array([10.0 + other[0], 20.0 + other[1]])

    path = lens(here, r, there, s)

    apart = float(np.hypot(*other))
    assert area_of(path) == pytest.approx(lens_area(apart, r, s), rel=0.01)
    towards = (there - here) / apart
    middle = here + towards * (r + apart - s) / 2
    assert path.contains(QPointF(*middle.tolist()))
    assert not path.contains(QPointF(*(here - towards * 0.9 * r).tolist()))


def test_a_circle_within_another_is_the_lens() -> None:
    path = lens(np.array([0.0, 0.0]), 100, np.array([10.0, 0.0]), 20)

    assert path.boundingRect().center() == QPointF(10, 0)
    assert area_of(path) == pytest.approx(pi * 400, rel=0.01)


def test_wider_leaves_darken_where_they_overlap(qtbot: QtBot) -> None:
    from PySide6.QtCore import QRectF  # noqa: PLC0415
    from PySide6.QtGui import QImage, QPainter  # noqa: PLC0415

    plan = make_plan(make_project()).beds[0]
    scene = BedScene(Tones(LIGHT))
    scene.show_bed(plan)

    def pictured(width: float) -> QImage:
        scene.set_pixel(1200 / 800)
        scene.set_canopy((width,))
        image = QImage(800, 400, QImage.Format.Format_ARGB32)
        painter = QPainter(image)
        scene.render(painter, QRectF(image.rect()), QRectF(0, 0, 1200, 600))
        painter.end()
        return image

    apart, crowded = pictured(190), pictured(230)
    first, second = plan.rafts[0].design.holes.xy[:2].tolist()
    x = ((first[0] + second[0]) / 2 + plan.rafts[0].x) * 800 / 1200
    y = ((first[1] + second[1]) / 2 + plan.rafts[0].y) * 400 / 600
    box = [(round(x) + dx, round(y) + dy) for dx in range(-3, 4) for dy in range(-3, 4)]
    light = sum(apart.pixelColor(*at).lightness() for at in box)
    dark = sum(crowded.pixelColor(*at).lightness() for at in box)
    assert dark < light - 20 * len(box) / 2
