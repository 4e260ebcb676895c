"""What the canvas paints lies where the marks of the drawing say: the same holes everywhere."""

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QTransform
from PySide6.QtWidgets import QStyleOptionGraphicsItem

from geometry.drawing.marks import Circle
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import Style
from geometry.drawing.transforms import marks_of
from geometry.plan import PlacedRaft, RaftDesign
from layout_gui.canvas.dots import paint_dots
from layout_gui.canvas.raft_item import NAME_LIFT_PX, DesignPicture, name_place, paint_raft
from layout_gui.canvas.rafts import Rafts
from layout_gui.canvas.tones import Tones
from layout_gui.screen.theme import LIGHT
from tests.builders import make_holes, make_shape

SIZE = 800


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Fonts and pixmaps need a running application."""


class Witness:
    """A painter that notes where round things are painted."""

    def __init__(self, painter: QPainter) -> None:
        self._painter = painter
        self.circles: list[tuple[float, float, float]] = []

    def drawEllipse(self, centre: QPointF, across: float, high: float) -> None:  # noqa: N802
        assert across == high
        self.circles.append((centre.x(), centre.y(), across))
        self._painter.drawEllipse(centre, across, high)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._painter, name)


def design() -> RaftDesign:
    random = np.random.default_rng(7)
    centres = [(float(x), float(y)) for x, y in random.uniform(30, 570, (60, 2))]
    names = [f"A{number}" for number in range(60)]
    return RaftDesign("d", make_shape(600, 600), make_holes(centres, diameter=47.6, names=names))


def circles_of_marks(raft: RaftDesign) -> NDArray[np.float64]:
    marks = marks_of(draw_raft(raft).groups)
    found = [(*mark.centre, mark.radius) for mark in marks if isinstance(mark, Circle)]
    return np.array(found)


def painted(raft: RaftDesign, scale: float, *, turned: bool) -> tuple[Witness, QTransform]:
    image = QImage(SIZE, SIZE, QImage.Format.Format_RGB32)
    image.fill(QColor("white"))
    painter = QPainter(image)
    sign = -1 if turned else 1
    corner = 600 * scale if turned else 0
    to_screen = QTransform(sign * scale, 0, 0, -sign * scale, 3.3 + corner, 790.7 - corner)
    painter.setTransform(to_screen)
    witness = Witness(painter)
    everything = QRectF(0, 0, 600, 600)
    paint_raft(witness, DesignPicture(raft, 60), Tones(LIGHT), everything)  # type: ignore[arg-type]
    painter.end()
    return witness, to_screen


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("scale", [0.3, 0.8, 1.2])
def test_holes_in_full_are_the_circles_of_the_marks(scale: float, turned: bool) -> None:
    raft = design()
    witness, to_screen = painted(raft, scale, turned=turned)
    back, _ = to_screen.inverted()
    mm = [(*back.map(QPointF(x, y)).toTuple(), radius / scale) for x, y, radius in witness.circles]
    assert np.array(mm) == pytest.approx(circles_of_marks(raft), abs=1e-9)


def scattered(*, plugged: bool = False) -> RaftDesign:
    """Holes that neither touch each other nor lie near the datum corner, where the name is."""
    random = np.random.default_rng(11)
    grid = [(x, y) for x in range(80, 600, 110) for y in range(80, 600, 110) if y > 280 or x > 340]
    centres = [(x + float(random.uniform(-19, 19)), y + 7 * random.random()) for x, y in grid]
    names = [f"A{number}" for number in range(len(grid))]
    holes = make_holes(centres, diameter=47.6, names=names)
    if plugged:
        holes = replace(holes, plugged=np.ones(len(grid), dtype=np.bool_))
    return RaftDesign("d", make_shape(600, 600), holes)


def seen_from_far(
    raft: RaftDesign, scale: float, *, turned: bool, ratio: float = 1
) -> tuple[NDArray[np.float64], QTransform]:
    """How far from the colour of foam each device pixel is, and where the raft's places lie."""
    side = round(SIZE * ratio)
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    foam = QColor(LIGHT.inks[Style.RAFT].fill or "")
    image.fill(foam)
    painter = QPainter(image)
    painter.setTransform(QTransform(scale, 0, 0, -scale, 33.3, 490.7))
    item = Rafts(Tones(LIGHT), 1)
    placed = PlacedRaft("R1", raft, 40, 30, turned)
    item.show_rafts([placed], 60)
    option = QStyleOptionGraphicsItem()
    option.exposedRect = item.boundingRect()  # type: ignore[misc]
    item.paint(painter, option)
    painter.end()
    red = np.frombuffer(image.constBits(), np.uint8).reshape(side, side, 4)[:, :, 2]
    sign = -1 if turned else 1
    corner = 600 if turned else 0
    x, y = 33.3 + (40 + corner) * scale, 490.7 - (30 + corner) * scale
    to_screen = QTransform(sign * scale, 0, 0, -sign * scale, x, y)
    return (foam.red() - red.astype(np.float64)).clip(min=0), to_screen


def middle_of(dark: NDArray[np.float64], x: float, y: float, reach: int) -> tuple[float, float]:
    left, top = int(x) - reach, int(y) - reach
    part = dark[top : top + 2 * reach + 1, left : left + 2 * reach + 1]
    down, right = np.mgrid[0 : 2 * reach + 1, 0 : 2 * reach + 1] + 0.5
    return left + (part * right).sum() / part.sum(), top + (part * down).sum() / part.sum()


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("ratio", [1.0, 2.0])
@pytest.mark.parametrize("scale", [0.05, 0.07, 0.1, 0.2, 0.29])
def test_small_holes_lie_at_the_centres_of_the_marks(
    scale: float, ratio: float, turned: bool
) -> None:
    raft = scattered()
    dark, to_screen = seen_from_far(raft, scale, turned=turned, ratio=ratio)
    marks = circles_of_marks(raft)
    assert len(marks) > 15
    for x, y, radius in marks.tolist():
        meant = np.array(to_screen.map(x, y)) * ratio
        reach = round(radius * scale * ratio + 1)
        found = middle_of(dark, *meant.tolist(), reach)
        # A quarter of a pixel by the phases, the rest by what the edges are rounded to.
        assert np.hypot(*(meant - found)) < 0.45


@pytest.mark.parametrize("diameter", [3.0, 4.0, 5.5, 9.0, 13.0])
def test_a_small_hole_has_its_size_wherever_it_lies_and_another_look_when_plugged(
    diameter: float,
) -> None:
    tones = Tones(LIGHT)
    areas = []
    for right, down in product((0.1, 0.3, 0.6, 0.9), repeat=2):
        picture = QImage(40, 40, QImage.Format.Format_ARGB32_Premultiplied)
        picture.fill(QColor(0, 0, 0, 0))
        painter = QPainter(picture)
        hole = np.array([[20 + right, 20 + down, diameter, 0.0]])
        paint_dots(painter, tones, QTransform(), hole)
        painter.end()
        alpha = np.frombuffer(picture.constBits(), np.uint8).reshape(40, 40, 4)[:, :, 3] / 255
        areas.append(alpha.sum())
    line = 1 if diameter >= 6 else 0
    meant = (0.9 * diameter) ** 2 if diameter < 4 else np.pi * (diameter + line) ** 2 / 4
    assert areas == pytest.approx([meant] * 16, rel=0.12)


def test_holes_on_each_other_are_all_seen() -> None:
    picture = QImage(60, 40, QImage.Format.Format_ARGB32_Premultiplied)
    picture.fill(QColor(0, 0, 0, 0))
    painter = QPainter(picture)
    holes = np.array([[20.0, 20, 10, 0], [26.0, 20, 10, 0], [31.5, 20, 8, 1], [31.5, 20, 8, 1]])
    paint_dots(painter, Tones(LIGHT), QTransform(), holes)
    painter.end()
    alpha = np.frombuffer(picture.constBits(), np.uint8).reshape(40, 60, 4)[:, :, 3]
    assert (alpha[20, 16:35] == 255).all()
    assert not alpha[:, :13].any()


def test_a_plugged_hole_is_hollow_from_far() -> None:
    full, _ = seen_from_far(scattered(), 0.2, turned=False)
    hollow, _ = seen_from_far(scattered(plugged=True), 0.2, turned=False)
    assert 0.2 < hollow.sum() / full.sum() < 0.8


def test_foam_seen_from_far_is_as_dark_as_its_holes_make_it() -> None:
    raft = design()
    share = DesignPicture(raft, 0).hole_share
    assert share == pytest.approx(60 * np.pi * (47.6 / 2) ** 2 / 600**2)
    mixed = Tones(LIGHT).foam_with_holes(share)
    foam = QColor(LIGHT.inks[Style.RAFT].fill or "")
    hole = QColor(LIGHT.inks[Style.HOLE].fill or "")
    for channel in ("redF", "greenF", "blueF"):
        parts = [getattr(colour, channel)() for colour in (mixed, foam, hole)]
        assert parts[0] == pytest.approx((1 - share) * parts[1] + share * parts[2], abs=0.005)


@pytest.mark.parametrize("first", [10.0, 30.0, 50.0])
def test_a_raft_s_name_keeps_clear_of_the_holes_where_it_can(first: float) -> None:
    centres = [(first + 90 * number, 25.0) for number in range(7)]
    names = [f"A{number}" for number in range(1, 8)]
    raft = RaftDesign("d", make_shape(600, 600), make_holes(centres, diameter=50, names=names))
    picture = DesignPicture(raft, 0)
    along = name_place(picture, 14, 4, 1)
    assert along + 14 <= 300
    for x, _ in centres:
        assert x + 25 <= 4 + along or x - 25 >= 4 + along + 14
    assert name_place(picture, 60, 4, 1) == NAME_LIFT_PX
