"""A finding is looked at, cured, left with a note, or opened again."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from geometry.checks.finding import Finding
from geometry.model.planting import Pin
from geometry.units import Length
from layout_gui.project import edits
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def asks() -> Answers:
    return Answers()


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path, asks: Answers) -> Iterator[MainWindow]:
    """A bench with one hole dragged over the edge margin."""
    made = make_window(tmp_path, asks=asks)
    made.drawer.set_open(is_open=False)
    pin = Pin("R1", Length.of(40), Length.of(300))
    made.document.start(edits.set_planting(make_project(), "Bench", pins=(pin,)))
    yield made
    discard(made)


def finding_of(window: MainWindow, code: str) -> Finding:
    return next(each for each in window.document.plan.findings if each.code == code)


def test_looking_goes_to_the_station_and_shows_the_place(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[tuple[str, tuple[float, float]]] = []
    monkeypatch.setattr(window.view, "show_place", lambda bed, place: shown.append((bed, place)))
    finding = finding_of(window, "edge")

    window.findings.place_wanted.emit(finding)

    assert window.road.buttons["Holes"].isChecked()
    assert shown == [("Bench", finding.place)]


def test_the_cure_clears_the_finding_and_can_be_undone(window: MainWindow) -> None:
    finding = finding_of(window, "edge")
    before = window.document.project

    window.findings.cure_wanted.emit(finding)

    assert finding.key not in {each.key for each in window.document.plan.findings}
    assert window.document.undo_stack.count() == 1
    window.document.undo_stack.undo()
    assert window.document.project is before


def test_a_finding_without_a_cure_says_so(window: MainWindow) -> None:
    window.findings.cure_wanted.emit(Finding("skew", "question", "Bench"))

    assert window.notice.isVisibleTo(window)
    assert not window.document.undo_stack.canUndo()


def test_leaving_asks_for_a_note_and_keeps_it(window: MainWindow, asks: Answers) -> None:
    finding = finding_of(window, "edge")

    window.findings.leave_wanted.emit(finding)
    assert "60 mm is wanted" in asks.asked[0]
    assert window.document.project.accepted == ()

    asks.words = "the rim is reinforced"
    window.findings.leave_wanted.emit(finding)
    assert window.document.project.accepted[0].note == "the rim is reinforced"
    assert finding.key in window.findings.reopeners
    window.findings.reopen_wanted.emit(finding.key)
    assert window.document.project.accepted == ()
