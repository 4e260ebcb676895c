"""The comparison in the drawer is exported from the drawer and from the menu."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from geometry.model.bed import One
from geometry.model.outlines import Rectangle
from geometry.units import Length
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_bench, make_project
from tests.layout_gui.windows.open_window import Answers, discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def asks() -> Answers:
    return Answers()


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path, asks: Answers) -> Iterator[MainWindow]:
    made = make_window(tmp_path, asks=asks)
    small = make_bench(outline=Rectangle(Length.of(500), Length.of(400)), obstacles=(), rafts=One())
    made.document.start(make_project(small))
    yield made
    discard(made)


def compared(window: MainWindow, qtbot: QtBot) -> None:
    window.drawer.set_open(is_open=True)
    qtbot.waitUntil(lambda: window.whatif.comparison is not None, timeout=20_000)
    window.actions_.refresh()


@pytest.mark.parametrize(("action", "kind"), [("compare-page", "pdf"), ("compare-table", "csv")])
def test_the_file_is_asked_for_and_written(
    window: MainWindow, asks: Answers, qtbot: QtBot, tmp_path: Path, action: str, kind: str
) -> None:
    window.drawer.set_open(is_open=False)
    entry = window.actions_.by_id[action]
    asks.path = tmp_path / f"mine.{kind}"
    compared(window, qtbot)
    assert entry.isEnabled()

    entry.trigger()

    assert asks.asked == [f"export Bench compared.{kind}"]
    assert asks.path.stat().st_size > 100
    assert any(
        part.text() == f"mine.{kind} is written." for part in window.last_line.findChildren(QLabel)
    )


def test_what_cannot_be_written_is_said(
    window: MainWindow, asks: Answers, qtbot: QtBot, tmp_path: Path
) -> None:
    compared(window, qtbot)
    for path in (tmp_path / "gone" / "a.csv", tmp_path / "a.txt"):
        asks.path = path
        window.notice.hide()
        window.whatif.export_wanted.emit("csv")
        assert window.notice.isVisibleTo(window)
        assert not path.exists()
