"""What the canvas paints lies where the marks of the drawing say: the same holes everywhere."""

from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap, QPolygonF, QTransform

from geometry.drawing.marks import Circle
from geometry.drawing.raft import draw_raft
from geometry.drawing.styles import Style
from geometry.drawing.transforms import marks_of
from geometry.plan import PlacedRaft, RaftDesign
from layout_gui.canvas.raft_item import NAME_LIFT_PX, DesignPicture, name_place, paint_raft
from layout_gui.canvas.tones import PHASES, Tones
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
        self.pictures: list[tuple[float, float]] = []
        self.points: list[tuple[float, float]] = []

    def drawEllipse(self, centre: QPointF, across: float, high: float) -> None:  # noqa: N802
        assert across == high
        self.circles.append((centre.x(), centre.y(), across))
        self._painter.drawEllipse(centre, across, high)

    def drawPixmap(self, at: QPointF, picture: QPixmap) -> None:  # noqa: N802
        side = picture.width() // 2
        self.pictures.append((at.x() + side, at.y() + side))
        self._painter.drawPixmap(at, picture)

    def drawPoints(self, points: QPolygonF) -> None:  # noqa: N802
        self.points += [(p.x(), p.y()) for p in map(self._painter.worldTransform().map, points)]
        self._painter.drawPoints(points)

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
    placed = PlacedRaft("R1", raft, 0, 0, turned)
    everything = QRectF(0, 0, 600, 600)
    paint_raft(witness, placed, DesignPicture(raft, 60), Tones(LIGHT), everything)  # type: ignore[arg-type]
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


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("scale", [0.1, 0.2, 0.29])
def test_small_holes_are_off_by_less_than_a_phase_of_a_pixel(scale: float, turned: bool) -> None:
    raft = design()
    witness, to_screen = painted(raft, scale, turned=turned)
    meant = np.array([to_screen.map(x, y) for x, y, _ in circles_of_marks(raft).tolist()])
    off = meant - np.array(witness.pictures)
    assert len(witness.pictures) == 60
    assert (off >= -1e-9).all()
    assert (off < 1).all()
    # The picture chosen for each hole holds the rest of the way, to a quarter of a pixel.
    rest = off - np.floor(off * PHASES) / PHASES
    assert (rest < 1 / PHASES).all()


@pytest.mark.parametrize("scale", [0.04, 0.07])
def test_tiny_holes_are_points_at_the_centres_of_the_marks(scale: float) -> None:
    raft = design()
    witness, to_screen = painted(raft, scale, turned=True)
    meant = [to_screen.map(x, y) for x, y, _ in circles_of_marks(raft).tolist()]
    assert np.array(witness.points) == pytest.approx(np.array(meant), abs=1e-9)


def test_the_picture_of_a_small_hole_has_its_size_and_place() -> None:
    tones = Tones(LIGHT)
    for diameter in (4.0, 5.5, 9.0, 13.0):
        for phase, picture in enumerate(tones.dots(diameter, 1.0)):
            image = picture.toImage().convertToFormat(QImage.Format.Format_ARGB32)
            side = image.width()
            alpha = np.array(
                [[image.pixelColor(x, y).alphaF() for x in range(side)] for y in range(side)]
            )
            ys, xs = np.mgrid[0:side, 0:side] + 0.5
            middle = side // 2
            centre = ((alpha * xs).sum() / alpha.sum(), (alpha * ys).sum() / alpha.sum())
            right, down = phase % PHASES / PHASES, phase // PHASES / PHASES
            assert centre == pytest.approx((middle + right, middle + down), abs=0.13)
            line = 0 if diameter < 6 else 1
            across = 2 * np.sqrt(alpha.sum() / np.pi)
            assert across == pytest.approx(diameter + line, rel=0.06)


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
