"""Zones in the whole window: the actions, the fields and the canvas are one thing."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from layout_gui.panels.holes_panel import HolesPanel
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.drawer.set_open(is_open=False)
    made.document.start(make_project())
    yield made
    discard(made)


def test_another_crop_for_the_selected_raft_is_one_step_and_opens_its_fields(
    window: MainWindow,
) -> None:
    action = window.actions_.by_id["raft-crop"]
    window.refresh()
    window.actions_.refresh()
    assert not action.isEnabled()
    window.selection.set_rafts(["R2"])
    window.actions_.refresh()
    action.trigger()

    (zone,) = window.document.project.beds[0].zones
    assert zone.rafts == ("R2",)
    assert window.selection.zone == zone.name
    panel = window.fields.currentWidget()
    assert isinstance(panel, HolesPanel)
    assert panel.zones.items.list.count() == 1
    assert window.document.undo_stack.undoText() == "Another crop on R2"
    assert str(zone.rules.crop) in window.last_line.truth.full
    window.document.undo_stack.undo()
    assert window.document.project.beds[0].zones == ()
    assert panel.zones.form.isHidden()


def test_the_tool_to_draw_a_zone_is_armed_from_menu_and_fields(window: MainWindow) -> None:
    hints: list[str] = []
    window.view.hint_changed.connect(hints.append)
    window.actions_.refresh()
    window.actions_.by_id["draw-zone"].trigger()
    window.go_to("Holes")
    panel = window.fields.currentWidget()
    assert isinstance(panel, HolesPanel)
    panel.zones.draw_button.click()

    assert sum(hint.startswith("Drag from one corner of it to the other") for hint in hints) == 2
