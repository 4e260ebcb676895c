"""A measuring page before there is a bed: asked for, written beside the window, opened."""

from collections.abc import Callable
from pathlib import Path
from typing import cast

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.asker import Asks
from layout_gui.panels.start import StartPage
from layout_gui.windows.measuring import Measuring
from layout_gui.windows.settings import Settings
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


class Answers:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.suggested: list[str] = []

    def file_to_export(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        self.suggested.append(suggested.name)
        answer(self.folder / suggested.name)


def _make(folder: Path, opened: list[Path]) -> tuple[Measuring, Answers]:
    store = QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat)
    answers = Answers(folder)
    return Measuring(cast(Asks, answers), Settings(store), None, opened.append), answers


def test_the_page_is_written_and_opened(qtbot: QtBot, tmp_path: Path) -> None:
    opened: list[Path] = []
    measuring, answers = _make(tmp_path, opened)

    with qtbot.waitSignal(measuring.said) as said:
        measuring.ask("round ends", "in")

    assert answers.suggested == ["measuring-round-ends.pdf"]
    assert opened == [tmp_path / "measuring-round-ends.pdf"]
    assert said.args == ["measuring-round-ends.pdf is written."]
    assert len(PdfReader(opened[0]).pages) == 2


def test_what_cannot_be_written_is_told_in_a_sentence(qtbot: QtBot, tmp_path: Path) -> None:
    measuring, answers = _make(tmp_path, [])
    answers.folder = tmp_path / "gone"

    with qtbot.waitSignal(measuring.failed) as failed:
        measuring.ask("L", "mm")

    assert failed.args is not None
    assert "measuring-L.pdf" in str(failed.args[0])


@pytest.mark.qt_log_ignore("does not support")  # menus are not for this platform
def test_the_start_page_offers_every_shape(qtbot: QtBot) -> None:
    start = StartPage([])
    qtbot.addWidget(start)
    start.show()
    start.measuring.click()
    assert start.shapes is not None
    actions = start.shapes.actions()

    with qtbot.waitSignal(start.measuring_wanted) as wanted:
        actions[2].trigger()

    assert wanted.args == ["round"]
    assert len(actions) == 8
    start.shapes.close()
