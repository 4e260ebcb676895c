"""What was painted is kept: the same picture as painting it all anew, for less work."""

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QRectF
from PySide6.QtGui import QColor, QImage, QPainter, QTransform
from PySide6.QtWidgets import QStyleOptionGraphicsItem, QWidget

from geometry.plan import PlacedRaft, RaftDesign
from layout_gui.canvas.rafts import Rafts
from layout_gui.canvas.tones import Tones
from layout_gui.screen.theme import DARK, LIGHT
from tests.builders import make_holes, make_shape

WIDE, HIGH = 300, 200


@pytest.fixture(autouse=True)
def _application(qapp: QObject) -> None:
    """Fonts and pixmaps need a running application."""


def rafts(moved: float = 0) -> list[PlacedRaft]:
    """Three rafts of two designs, one of them turned; the first hole of the last is moved."""
    centres = [(float(x), float(y)) for x in range(60, 600, 120) for y in range(60, 400, 120)]
    names = [f"A{number}" for number in range(len(centres))]
    shape = make_shape(600, 400)
    one = RaftDesign("d", shape, make_holes(centres, diameter=50, names=names))
    centres[0] = (centres[0][0] + moved, centres[0][1])
    other = RaftDesign("e", shape, make_holes(centres, diameter=50, names=names))
    return [
        PlacedRaft("R1", one, 10, 10, False),
        PlacedRaft("R2", one, 620, 10, True),
        PlacedRaft("R3", other, 10, 420, False),
    ]


class Screen:
    """A view of rafts that notes how much of them is painted, and what is then on the screen."""

    def __init__(self, ratio: int) -> None:
        self.item = Rafts(Tones(LIGHT), 1)
        self.ratio = ratio
        self.left, self.bottom, self.scale = 20.0, 190.0, 0.1413
        self.widget = QWidget()
        self.widget.resize(WIDE, HIGH)
        self.painted: list[QRectF] = []
        really = self.item._paint_parts
        self.item._paint_parts = lambda painter, parts: (  # type: ignore[method-assign]
            self.painted.extend(map(QRectF, parts)),
            really(painter, parts),
        )[1]

    def paint(self, *, kept: bool = True) -> NDArray[np.int64]:
        """Paint all; without ``kept`` as if nothing had been painted before."""
        self.painted.clear()
        image = QImage(WIDE * self.ratio, HIGH * self.ratio, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(self.ratio)
        image.fill(QColor("steelblue"))
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        to_screen = QTransform(self.scale, 0, 0, -self.scale, self.left, self.bottom)
        painter.setWorldTransform(to_screen)
        option = QStyleOptionGraphicsItem()
        back, _ = to_screen.inverted()
        option.exposedRect = back.mapRect(QRectF(self.widget.rect()))  # type: ignore[misc]
        self.item.paint(painter, option, self.widget if kept else None)
        painter.end()
        pixels = np.frombuffer(image.constBits(), np.uint8).astype(np.int64)
        return pixels.reshape(HIGH * self.ratio, WIDE * self.ratio, 4)[:, :, :3]

    def pixels_painted(self) -> float:
        """How many pixels of the view were painted last, and not copied."""
        return sum(part.width() * part.height() for part in self.painted) * self.scale**2


@pytest.mark.parametrize("ratio", [1, 2])
def test_what_is_copied_is_what_would_be_painted(ratio: int) -> None:
    screen = Screen(ratio)
    screen.item.show_rafts(rafts(), 60)

    def look() -> float:
        seen = screen.paint()
        pixels = screen.pixels_painted()
        assert np.abs(seen - screen.paint(kept=False)).max() <= 3
        return pixels

    whole = WIDE * HIGH
    # The first look at a zoom goes straight to the screen; the second one fills the picture.
    assert look() == pytest.approx(whole, rel=0.01)
    assert look() == pytest.approx(whole, rel=0.01)
    assert look() == 0
    screen.item.show_rafts(rafts(moved=15), 60)
    assert 0 < look() < 600
    screen.left, screen.bottom = screen.left - 40, screen.bottom + 25
    assert 0 < look() < 40 * HIGH + 25 * WIDE + 600
    screen.left, screen.bottom = screen.left + 300, screen.bottom - 90
    look()
    screen.item.show_rafts(rafts(moved=30), 60)
    screen.left -= 270
    look()
    screen.item.show_tones(Tones(DARK))
    assert look() == pytest.approx(whole, rel=0.01)
    look()
    screen.item.show_rafts(rafts()[:2], 60)
    look()
    screen.scale = 0.2017
    assert look() == pytest.approx(whole, rel=0.01)
    assert look() == pytest.approx(whole, rel=0.01)
    assert look() == 0


def test_a_shift_by_parts_of_a_pixel_is_painted_anew() -> None:
    screen = Screen(1)
    screen.item.show_rafts(rafts(), 60)
    for _ in range(3):
        screen.paint()
    assert not screen.painted
    screen.left += 0.5
    seen = screen.paint()
    assert screen.painted
    assert (seen == screen.paint(kept=False)).all()
