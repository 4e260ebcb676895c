"""Small parts of all panels."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from layout_gui.panels.fields import SwitchField
from layout_gui.panels.parts import ItemList, button, stack
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space])
def test_a_button_is_pressed_by_the_keys_that_people_use(qtbot: QtBot, key: Qt.Key) -> None:
    pressed: list[bool] = []
    made = button("Go", lambda: pressed.append(True))
    qtbot.addWidget(made)
    made.show()

    qtbot.keyClick(made, key)
    assert pressed == [True]
    qtbot.keyClick(made, Qt.Key.Key_A)
    assert pressed == [True]


def test_a_long_text_beside_a_box_to_tick_goes_on_in_another_line(qtbot: QtBot) -> None:
    column = stack(SwitchField())
    (switch,) = column.findChildren(SwitchField)
    qtbot.addWidget(column)
    switch.setText("Templates of the other face, to drill from below")
    column.resize(160, 200)
    column.show()

    assert column.minimumSizeHint().width() <= 160
    assert switch.width() == 160
    assert switch.height() > switch.sizeHint().height()


def test_the_buttons_of_a_narrow_list_stand_beneath_it_in_two_lines(qtbot: QtBot) -> None:
    words = ("Add", "Earlier", "Later", "Remove this one")
    made = ItemList("Stages", [(word, list) for word in words])
    column = stack(made)
    qtbot.addWidget(column)
    made.show_items(["tray", "bed"], 0)
    column.resize(made.sizeHint().width() * 3 // 4, 400)
    column.show()

    tops = {each.mapTo(made, each.rect().topLeft()).y() for each in made.buttons.values()}
    assert len(tops) == 2
    assert min(tops) > made.list.geometry().bottom()
    assert max(tops) < made.height()
