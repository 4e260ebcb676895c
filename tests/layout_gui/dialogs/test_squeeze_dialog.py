"""The squeeze dialog: a search that can be stopped, an offer that can be used or left."""

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from geometry.beds.outline import rectangle_loop
from geometry.drawing.styles import Style
from layout_gui.dialogs.squeeze_dialog import RaftPicture, SqueezeDialog
from layout_gui.screen.theme import LIGHT
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN

TWO = np.array([[100.0, 100.0], [300.0, 100.0]])


class Shown:
    def __init__(self, qtbot: QtBot) -> None:
        picture = RaftPicture(
            rectangle_loop(0, 0, 600, 300), 50, LIGHT, [rectangle_loop(400, 200, 500, 400)]
        )
        self.dialog = SqueezeDialog("R1", picture, 4.0)
        self.dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
        self.heard: list[str] = []
        self.dialog.stop_wanted.connect(lambda: self.heard.append("stop"))
        self.dialog.use_wanted.connect(lambda: self.heard.append("use"))
        self.dialog.rejected.connect(lambda: self.heard.append("closed"))
        qtbot.addWidget(self.dialog)
        self.dialog.show()

    @property
    def buttons(self) -> list[str]:
        dialog = self.dialog
        every = (dialog.stop_button, dialog.leave_button, dialog.use_button)
        return [each.text() for each in every if each.isVisible()]


@pytest.fixture
def shown(qtbot: QtBot) -> Shown:
    return Shown(qtbot)


def test_a_search_shows_its_time_and_its_best(shown: Shown) -> None:
    shown.dialog.show_start(36)
    assert shown.dialog.progress.text() == "getting ready"

    shown.dialog.show_search(36, 0, 3.0)
    assert shown.dialog.text.text() == "It holds 36 now."
    assert shown.dialog.progress.text() == "3 s left"
    assert shown.dialog.progress.value() == shown.dialog.progress.maximum() // 4

    shown.dialog.show_search(36, 38, 0.2)
    assert "Best so far: 38." in shown.dialog.text.text()
    assert shown.buttons == ["Stop and keep the best"]


def test_stopping_is_asked_for_once(shown: Shown) -> None:
    shown.dialog.show_search(36, 38, 2.0)
    shown.dialog.stop_button.click()
    shown.dialog.stop_button.click()

    assert shown.heard == ["stop"]
    assert shown.dialog.progress.text() == "rounding the places"


def test_an_offer_can_be_used(shown: Shown) -> None:
    shown.dialog.show_offer("2 more holes on raft R1", "38 instead of 36.", TWO)

    assert shown.buttons == ["Leave it as it is", "Use these holes"]
    assert not shown.dialog.progress.isVisible()
    assert shown.dialog.picture.accessibleDescription() == "2 holes"
    shown.dialog.use_button.click()
    assert shown.heard == ["use"]
    assert not shown.dialog.isVisible()


def test_an_offer_can_be_left(shown: Shown) -> None:
    shown.dialog.show_offer("2 more holes on raft R1", "38 instead of 36.", TWO)
    shown.dialog.leave_button.click()

    assert shown.heard == ["closed"]


def test_nothing_found_can_only_be_closed(shown: Shown) -> None:
    shown.dialog.show_nothing("There is no offer", "No room was found.")

    assert shown.buttons == ["Close"]
    assert shown.dialog.text.text() == "No room was found."


def test_the_picture_shows_the_holes(shown: Shown) -> None:
    picture = shown.dialog.picture
    picture.show_holes(TWO)
    image = picture.grab().toImage()
    scale = min((picture.width() - 4) / 600, (picture.height() - 4) / 300)

    def colour(x: float, y: float) -> str:
        at_x = picture.width() / 2 + (x - 300) * scale
        at_y = picture.height() / 2 - (y - 150) * scale
        return image.pixelColor(round(at_x), round(at_y)).name()

    assert colour(100, 100) == colour(300, 100) != colour(200, 100)
    assert colour(200, 100) == colour(300, 250)
    assert colour(450, 250) == QColor(LIGHT.inks[Style.OBSTACLE].fill or "").name()
