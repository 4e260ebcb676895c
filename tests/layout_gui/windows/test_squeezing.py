"""Squeezing from the window, with real searches in real processes."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.bed import Bed, Split
from geometry.model.outlines import Rectangle
from geometry.model.planting import Planting
from geometry.model.project import Project
from geometry.units import Length
from layout_gui.dialogs.squeeze_dialog import SqueezeDialog
from layout_gui.panels.holes_panel import HolesPanel
from layout_gui.project import edits
from layout_gui.windows.main_window import MainWindow
from layout_gui.windows.squeezing import Squeezing
from tests.layout_gui.panels.desk import OFFSCREEN
from tests.layout_gui.processes import is_there
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN

PATIENCE_MS = 30_000


def make_project(**rules: Any) -> Project:
    """Two rafts with 6 holes in rows each; 7 fit, and 8 are proved not to (the square's m_8)."""
    planting = Planting(
        Length.of("53.5 mm"), Length.of(10), edge_margin=Length.of(20), joints="separate"
    )
    bed = Bed(
        "Bed",
        Rectangle(Length.of(280), Length.of(140)),
        rafts=Split(2, 1),
        planting=replace(planting, **rules),
    )
    return Project("Test", "mm", (bed,))


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.drawer.set_open(is_open=False)
    squeezing_of(made).seconds = 20.0
    made.document.start(make_project())
    yield made
    discard(made)


def squeezing_of(window: MainWindow) -> Squeezing:
    assert isinstance(window.squeezing, Squeezing)
    return window.squeezing


def asked(window: MainWindow) -> SqueezeDialog:
    dialog = squeezing_of(window).dialog
    assert dialog is not None
    return dialog


def until_end(qtbot: QtBot, window: MainWindow) -> SqueezeDialog:
    dialog = asked(window)
    qtbot.waitUntil(
        lambda: dialog.leave_button.isVisibleTo(dialog),
        timeout=PATIENCE_MS,
    )
    return dialog


def test_the_offer_is_one_step_that_undo_takes_back(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.project
    window.actions_.by_id["squeeze"].trigger()

    dialog = until_end(qtbot, window)
    assert dialog.title.text() == "1 more hole on raft R1"
    assert "The same holes go on all 2 rafts like it." in dialog.text.text()
    assert window.document.project is before
    dialog.use_button.click()

    assert squeezing_of(window).dialog is None
    assert window.document.plan.plants == 14
    assert window.document.undo_stack.count() == 1
    assert window.document.undo_stack.undoText() == "Squeeze in 2 holes"
    assert not [each for each in window.document.plan.findings if each.severity == "problem"]
    window.document.undo_stack.undo()
    assert window.document.project is before
    assert window.document.plan.plants == 12


def test_an_offer_that_is_left_changes_nothing(qtbot: QtBot, window: MainWindow) -> None:
    before = window.document.project
    window.squeeze()
    until_end(qtbot, window).leave_button.click()

    assert squeezing_of(window).dialog is None
    assert window.document.project is before
    assert window.document.undo_stack.count() == 0


def test_stopping_keeps_the_best_so_far(qtbot: QtBot, window: MainWindow) -> None:
    """Seven is the most here; where that is proved, the search may end before it is stopped."""
    squeezing_of(window).seconds = 600.0
    outline = Rectangle(Length.of(281), Length.of(140))
    window.document.start(edits.set_outline(make_project(), "Bed", outline))
    window.squeeze()
    dialog = asked(window)
    qtbot.waitUntil(
        lambda: "Best so far: 7" in dialog.text.text() or "1 more hole" in dialog.title.text(),
        timeout=PATIENCE_MS,
    )
    if "1 more hole" not in dialog.title.text():
        dialog.stop_button.click()

    assert "1 more hole" in until_end(qtbot, window).title.text()
    dialog.use_button.click()
    assert window.document.plan.plants == 14


def test_stopping_before_anything_was_found_offers_nothing(
    qtbot: QtBot, window: MainWindow
) -> None:
    squeezing_of(window).seconds = 600.0
    window.squeeze()
    dialog = asked(window)
    dialog.stop_button.click()

    assert until_end(qtbot, window).title.text() == "There is no offer"
    assert not dialog.use_button.isVisibleTo(dialog)


def test_closing_in_the_middle_of_a_search_leaves_no_process(
    qtbot: QtBot, window: MainWindow
) -> None:
    squeezing_of(window).seconds = 600.0
    window.squeeze()
    (working,) = squeezing_of(window)._child._working
    pid = getattr(working, "_process").pid  # noqa: B009  the protocol has no process
    assert is_there(pid)

    asked(window).reject()

    assert not is_there(pid)
    assert squeezing_of(window).dialog is None


def test_the_raft_that_is_selected_is_squeezed(qtbot: QtBot, window: MainWindow) -> None:
    window.selection.set_rafts({"R2"})
    window.squeeze()
    assert asked(window).title.text() == "Looking for more room on raft R2"
    asked(window).reject()

    window.selection.set_holes({("R2", "A1")})
    window.squeeze()
    assert asked(window).title.text() == "Looking for more room on raft R2"
    asked(window).reject()


def test_at_the_ceiling_it_says_so_without_a_search(window: MainWindow) -> None:
    window.document.start(make_project(spacing=Length.of("53.6 mm")))
    window.squeeze()

    assert "the most that any arrangement holds" in asked(window).text.text()
    assert not squeezing_of(window)._child.is_running
    asked(window).reject()


def test_what_cannot_be_squeezed_is_told(window: MainWindow) -> None:
    told: list[str] = []
    window.document.failed.connect(told.append)
    window.document.start(make_project(spacing=Length.of(1), hole_diameter=Length.of("0.5 mm")))
    window.squeeze()

    assert squeezing_of(window).dialog is None
    assert "smaller rafts" in told[0]


def test_while_holes_are_being_placed_it_asks_for_patience(window: MainWindow) -> None:
    told: list[str] = []
    window.document.failed.connect(told.append)
    window.document.preview(make_project(spacing=Length.of(60)))

    window.squeeze()

    assert told == ["The holes are still being placed; ask again in a moment."]
    assert squeezing_of(window).dialog is None


def test_the_panel_and_the_menu_offer_it_where_something_is_planted(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.go_to("Holes")
    panel = window.fields.panel("Holes")
    assert isinstance(panel, HolesPanel)
    assert window.actions_.by_id["squeeze"].isEnabled()
    panel.squeeze_button.click()
    asked(window).reject()

    window.document.apply("Bare", edits.set_bed(window.document.project, "Bed", planting=None))

    assert not panel.squeeze_button.isVisibleTo(panel)
    assert not window.actions_.by_id["squeeze"].isEnabled()
