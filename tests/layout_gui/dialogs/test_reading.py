"""Dialogs that only say something can be copied out of."""

from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPlainTextEdit, QPushButton
from pytestqt.qtbot import QtBot

from layout_gui.dialogs.machine import machine_report
from layout_gui.dialogs.question import Question
from layout_gui.dialogs.reading import (
    about_dialog,
    problem_dialog,
)
from tests.layout_gui.panels.desk import OFFSCREEN

pytestmark = OFFSCREEN


def copied(dialog: Question) -> str:
    next(b for b in dialog.findChildren(QPushButton) if b.text() == "Copy the report").click()
    return QGuiApplication.clipboard().text()


def test_about_lists_licences_and_copies_the_report(qtbot: QtBot) -> None:
    dialog = about_dialog(None)
    qtbot.addWidget(dialog)
    edit = dialog.findChild(QPlainTextEdit)

    assert edit is not None
    assert "LGPL" in edit.toPlainText()
    assert edit.isReadOnly()
    assert copied(dialog) == machine_report()


def test_a_problem_says_where_the_work_is_and_gives_the_report(qtbot: QtBot) -> None:
    dialog = problem_dialog("Traceback: it broke", Path("/state/copy.raft.json"), None)
    qtbot.addWidget(dialog)

    assert "/state/copy.raft.json" in dialog.text
    assert copied(dialog) == f"{machine_report()}\n\nTraceback: it broke"
    unharmed = problem_dialog("Traceback", None, None)
    qtbot.addWidget(unharmed)
    assert "nothing unsaved" in unharmed.text
