"""Name, author, revision and notes are written down as one step, or it is said why not."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit

from geometry.model.project import Details
from layout_gui.dialogs.details_dialog import DetailsDialog
from layout_gui.windows.main_window import MainWindow
from tests.layout_gui.panels.desk import OFFSCREEN, make_project
from tests.layout_gui.windows.open_window import discard, make_window

pytestmark = OFFSCREEN


@pytest.fixture
def window(qapp: QApplication, tmp_path: Path) -> Iterator[MainWindow]:
    made = make_window(tmp_path)
    made.whatif.set_open(is_open=False)
    yield made
    discard(made)


def write(window: MainWindow, words: str, text: str) -> DetailsDialog:
    dialog = window.findChildren(DetailsDialog)[-1]
    for field in (*dialog.findChildren(QLineEdit), *dialog.findChildren(QPlainTextEdit)):
        if field.accessibleName() == words:
            if isinstance(field, QLineEdit):
                field.setText(text)
            else:
                field.setPlainText(text)
            return dialog
    raise AssertionError(words)


def test_what_is_written_is_one_step(window: MainWindow) -> None:
    window.document.start(make_project())
    window.actions_.by_id["properties"].trigger()
    write(window, "Name", "North")
    write(window, "Drawn up by", "A. Grower")
    write(window, "Revision", " B ")
    dialog = write(window, "Notes", "Mind the pipe.\nDrill from the top.\n")

    dialog.buttons["write"].click()

    details = Details("A. Grower", "B", "Mind the pipe.\nDrill from the top.")
    assert window.document.project == replace(make_project(), name="North", details=details)
    assert window.document.undo_stack.undoText() == "Describe the project"
    window.document.undo_stack.undo()
    assert window.document.project == make_project()


def test_leaving_it_changes_nothing(window: MainWindow) -> None:
    window.document.start(make_project())
    window.actions_.by_id["properties"].trigger()
    dialog = write(window, "Name", "North")

    dialog.buttons["cancel"].click()

    assert window.document.project == make_project()
    assert not window.document.is_modified


def test_what_no_file_may_hold_is_said_and_the_dialog_stays(window: MainWindow) -> None:
    window.document.start(make_project())
    window.actions_.by_id["properties"].trigger()
    dialog = write(window, "Notes", "x" * 2001)

    dialog.buttons["write"].click()

    assert dialog.isVisible()
    assert "Notes" in dialog.wrong
    assert "2000" in dialog.wrong
    write(window, "Notes", "short")
    dialog.buttons["write"].click()
    assert window.document.project.details.notes == "short"


def test_what_is_known_is_shown(window: MainWindow) -> None:
    details = Details("A. Grower", "B", "Notes")
    window.document.start(replace(make_project(), details=details))
    window.actions_.by_id["properties"].trigger()

    dialog = window.findChildren(DetailsDialog)[-1]

    assert (dialog.name, dialog.details) == ("Bench test", details)


def test_the_date_is_typed_or_is_the_day_of_the_press_alone(window: MainWindow) -> None:
    window.document.start(make_project())
    window.actions_.by_id["properties"].trigger()
    dialog = write(window, "Date", "spring 2027")

    assert dialog.details.date == "spring 2027"
    dialog.today_button.click()
    assert dialog.details.date == QDate.currentDate().toString(Qt.DateFormat.ISODate)
    dialog.buttons["cancel"].click()
    assert window.document.project.details.date == ""
