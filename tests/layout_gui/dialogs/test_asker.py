"""Everything the window asks opens at once and answers later."""

from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtWidgets import QFileDialog, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.asker import Asker
from layout_gui.dialogs.question import Question
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


@pytest.fixture(autouse=True)
def _plain_dialogs(qapp: object) -> None:
    """The desktop's own file dialogs cannot be reached by a test."""
    QCoreApplication.setAttribute(Qt.ApplicationAttribute.AA_DontUseNativeDialogs)


@pytest.fixture
def window(qtbot: QtBot) -> QWidget:
    made = QWidget()
    qtbot.addWidget(made)
    made.show()
    return made


def question_of(window: QWidget) -> Question:
    (dialog,) = window.findChildren(Question)
    assert dialog.isVisible()
    assert dialog.isModal()
    return dialog


@pytest.mark.parametrize("key", ["save", "discard", "cancel"])
def test_unsaved_changes_are_asked_about_with_three_verbs(window: QWidget, key: str) -> None:
    answers: list[str] = []

    Asker(window).unsaved("Bench", answers.append)
    question = question_of(window)

    verbs = [button.text() for button in question.buttons.values()]
    assert verbs == ["Close without saving", "Stay", "Save"]
    assert answers == []
    question.buttons[key].click()
    assert answers == [key]


def test_only_the_verb_itself_confirms(window: QWidget) -> None:
    answers: list[bool] = []
    asker = Asker(window)

    asker.confirm("Replace files?", "There are some.", "Replace", lambda: answers.append(True))
    question = question_of(window)
    assert question.buttons["cancel"].isDefault()
    question.buttons["cancel"].click()
    assert answers == []


def test_a_finding_is_left_only_with_words(window: QWidget) -> None:
    notes: list[str] = []
    Asker(window).note("Too close", "They are 50 mm apart.", notes.append)
    question = question_of(window)
    leave = question.buttons["leave"]

    assert not leave.isEnabled()
    edit = question.findChild(QPlainTextEdit)
    assert edit is not None
    edit.setPlainText("  the rim is soft \n")
    leave.click()

    assert notes == ["the rim is soft"]


def test_files_and_folders_are_asked_for(window: QWidget, tmp_path: Path) -> None:
    asker, paths = Asker(window), list[Path]()
    (tmp_path / "bench.raft.json").write_text("{}", "utf-8")

    asker.file_to_open(tmp_path, paths.append)
    asker.file_to_save(tmp_path / "new.raft.json", paths.append)
    asker.folder(tmp_path, paths.append)
    asker.file_to_export(tmp_path / "choices.csv", paths.append)
    dialogs = window.findChildren(QFileDialog)
    assert [dialog.isVisible() for dialog in dialogs] == [True, True, True, True]
    assert dialogs[3].selectedFiles() == [str(tmp_path / "choices.csv")]
    assert dialogs[3].defaultSuffix() == "csv"
    assert dialogs[1].selectedFiles() == [str(tmp_path / "new.raft.json")]
    assert paths == []
    for dialog in dialogs:
        dialog.fileSelected.emit(str(tmp_path / "bench.raft.json"))
        dialog.done(0)

    assert paths == [tmp_path / "bench.raft.json"] * 4
