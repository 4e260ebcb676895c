"""The composition root: names, colours, and a net under everything."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from geometry.model.project import Project
from layout_gui import app
from layout_gui.dialogs.question import Question
from layout_gui.project import edits
from layout_gui.project.recovery_file import read_work
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_settings, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.drawer.set_open(is_open=False)
    yield made
    discard(made)


def test_the_application_has_its_name_and_its_typeface(qapp: QApplication) -> None:
    assert app.make_application() is qapp

    assert qapp.applicationName() == qapp.organizationName() == "Raftwright"
    assert qapp.style().name() == "fusion"


def test_a_window_is_made_in_the_colours_that_were_remembered(
    qapp: QApplication, tmp_path: Path
) -> None:
    settings = make_settings(tmp_path)
    settings.theme = "dark"

    made = app.make_window(settings)

    assert made.theme_choice == "dark"
    assert made.document.project == Project("")
    discard(made)
    qapp.setStyleSheet("")


def fail(hook: app.ProblemHook) -> None:
    try:
        print(1 / int("0"))
    except ZeroDivisionError as error:
        hook(type(error), error, error.__traceback__)


def test_a_mistake_of_the_program_keeps_the_work_safe_and_is_told_once(
    qtbot: QtBot, window: MainWindow, capsys: pytest.CaptureFixture[str]
) -> None:
    window.document.start(make_project(), modified=True)
    changed = edits.rename_project(window.document.project, "Not lost")
    window.document.apply("Rename", changed)
    hook = app.ProblemHook(window)

    fail(hook)
    fail(hook)

    (dialog,) = window.findChildren(Question)
    assert dialog.isVisible()
    kept = window.keeping.autosave.file
    assert str(kept) in dialog.text
    assert read_work(kept) == changed
    assert "ZeroDivisionError: division by zero" in capsys.readouterr().err
    dialog.answer("close")
    fail(hook)
    assert [each.isVisible() for each in window.findChildren(Question)][-1]


def test_without_unsaved_work_nothing_is_kept(window: MainWindow) -> None:
    assert window.keeping.keep_now() is None
    assert not window.keeping.autosave.file.exists()
