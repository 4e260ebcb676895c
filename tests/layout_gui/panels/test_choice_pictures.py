"""Pictures of choices are painted once, beside the window, from marks."""

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from geometry.drawing.choice_drawing import draw_choice
from geometry.drawing.styles import Style
from geometry.model.planting import Planting
from geometry.plan import make_plan
from layout_gui.panels.choice_pictures import ChoicePictures, Look, paint_choice
from layout_gui.screen.theme import DARK, LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project

pytestmark = OFFSCREEN
LOOK = Look(QSize(120, 60), 1.0, LIGHT)
PLAN = make_plan(make_project(make_bench(obstacles=()))).beds[0]


def planting() -> Planting:
    assert PLAN.bed.planting is not None
    return PLAN.bed.planting


def test_a_picture_is_as_large_as_asked_for_and_holds_foam_and_holes() -> None:
    image = paint_choice(draw_choice(PLAN), LOOK)

    assert image.size() == QSize(120, 60)
    foam, hole = (QColor(LIGHT.inks[style].fill or "") for style in (Style.RAFT, Style.HOLE))
    colours = [image.pixelColor(x, y) for x in range(120) for y in range(60)]
    assert foam in colours
    assert any(abs(each.lightness() - hole.lightness()) < 12 for each in colours)
    # The bed is twice as long as wide, so it fills the picture from side to side.
    assert image.pixelColor(3, 30).alpha()
    assert image.pixelColor(116, 30).alpha()


@pytest.mark.parametrize("ratio", [1.0, 2.0])
def test_sharp_screens_get_more_pixels(ratio: float) -> None:
    image = paint_choice(draw_choice(PLAN), Look(QSize(120, 60), ratio, LIGHT))

    assert image.size() == QSize(120, 60) * ratio
    assert image.deviceIndependentSize().toSize() == QSize(120, 60)


def test_nothing_to_draw_is_an_empty_picture() -> None:
    assert paint_choice(None, LOOK).pixelColor(60, 30).alpha() == 0


def test_a_drawing_is_painted_once_and_again_in_other_colours(qtbot: QtBot) -> None:
    pictures = ChoicePictures(LOOK)
    came: list[dict[Planting, QImage]] = []
    pictures.painted.connect(came.append)

    with qtbot.waitSignal(pictures.painted):
        pictures.add({planting(): PLAN})
    pictures.add({planting(): PLAN})
    assert not pictures.is_busy
    pictures.set_look(LOOK)
    assert not pictures.is_busy
    with qtbot.waitSignal(pictures.painted):
        pictures.set_look(Look(QSize(120, 60), 1.0, DARK))

    assert len(came) == 2
    assert came[0][planting()] != came[1][planting()]
