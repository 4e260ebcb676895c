"""A bed out of square is seen to be, however little it is."""

from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication

from geometry.model.outlines import Measured, Outline
from geometry.units import Length
from layout_gui.canvas.scene import BedScene
from layout_gui.canvas.view import BedView
from layout_gui.document.selection import Selection
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_document, make_project
from tests.layout_gui.windows.open_window import discard

pytestmark = OFFSCREEN

SKEW = Measured(
    (Length.of(580), Length.of(582), Length.of(579)),
    (Length.of(2360), Length.of(2358)),
    (Length.of(2431), Length.of(2428)),
)
TRUE = Measured((Length.of(580), Length.of(580)), (Length.of(2360),))


@pytest.fixture
def view(qapp: QApplication) -> Iterator[BedView]:
    made = BedView(make_document(), Selection(), LIGHT)
    made.resize(900, 600)
    made.show()
    yield made
    discard(made)


def scene_of(view: BedView, outline: Outline) -> BedScene:
    view._document.start(make_project(make_bench(outline=outline, obstacles=())))
    scene = view.scene()
    assert isinstance(scene, BedScene)
    return scene


def colour_at(view: BedView, x: float, y: float) -> str:
    place = view.mapFromScene(QPointF(x, y))
    return view.viewport().grab().toImage().pixelColor(place).name()


def pixels_like(view: BedView, colour: str) -> int:
    """How many pixels are nearly of a colour: a thin line seldom fills a pixel wholly."""
    image = view.viewport().grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    seen = np.frombuffer(image.constBits(), np.uint8).reshape(-1, 4)[:, 2::-1].astype(int)
    wanted = QColor(colour)
    off = np.abs(seen - [wanted.red(), wanted.green(), wanted.blue()]).max(axis=1)
    return int((off < 32).sum())


def test_the_skew_is_drawn_so_large_that_it_can_be_seen(view: BedView) -> None:
    skew = scene_of(view, SKEW).skew

    assert skew.is_skew
    # The largest difference, 3 mm, is then between ten and twenty-six pixels.
    assert 10 <= skew.times * 3 * view.pixels_per_mm <= 26
    whole = skew.times
    for _ in range(12):
        view.zoom_in()
    assert 1 <= skew.times < whole


def test_it_is_painted_only_where_it_is_wanted(view: BedView) -> None:
    scene_of(view, SKEW)

    assert not pixels_like(view, LIGHT.warn)
    view.set_skew(is_shown=True)
    # Dashes along four sides of a bed that is some 700 by 180 pixels large, and the words.
    assert pixels_like(view, LIGHT.warn) > 300


def test_a_true_bed_has_nothing_to_show(view: BedView) -> None:
    assert not scene_of(view, TRUE).skew.is_skew
    assert not scene_of(view, make_bench().outline).skew.is_skew
    impossible = Measured((Length.of(580),), (Length.of(2360),), (Length.of(1), Length.of(9000)))
    assert not scene_of(view, impossible).skew.is_skew


def test_rafts_can_be_taken_out_of_sight(view: BedView) -> None:
    scene = scene_of(view, TRUE)
    foam = colour_at(view, 1000, 80)

    view.set_foam(is_shown=False)
    water = colour_at(view, 1000, 80)
    view._document.start(make_project(make_bench(obstacles=())))
    assert colour_at(view, 500, 12) == water
    view.set_foam(is_shown=True)

    assert water != foam
    assert scene.rafts.isVisible()
