"""A whole window for a test, with an asker that answers by itself."""

from collections.abc import Callable, Sequence
from pathlib import Path

import shiboken6
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QWidget

from geometry.model.project import Project
from layout_gui.dialogs.question import Verb
from layout_gui.document.selection import Selection
from layout_gui.windows.main_window import MainWindow
from layout_gui.windows.settings import Settings
from tests.layout_gui.panels.desk import make_document


class Answers:
    """Keeps every question; answers with what the test has put in, or not at all."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self.unsaved_answer = "cancel"
        self.agrees = False
        self.path: Path | None = None
        self.words = ""
        self.choice = "cancel"

    def unsaved(self, name: str, answer: Callable[[str], object]) -> None:
        self.asked.append(f"unsaved {name}")
        answer(self.unsaved_answer)

    def choose(
        self, title: str, text: str, verbs: Sequence[Verb], answer: Callable[[str], object]
    ) -> None:
        self.asked.append(f"choose {title} {text} {[verb.key for verb in verbs]}")
        answer(self.choice)

    def confirm(self, title: str, text: str, verb: str, answer: Callable[[], object]) -> None:
        self.asked.append(f"confirm {title} {text} {verb}")
        if self.agrees:
            answer()

    def file_to_open(self, folder: Path, answer: Callable[[Path], object]) -> None:
        self._give_path(f"open {folder}", answer)

    def file_to_save(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        self._give_path(f"save {suggested.name}", answer)

    def file_to_export(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        self._give_path(f"export {suggested.name}", answer)

    def folder(self, start: Path, answer: Callable[[Path], object]) -> None:
        self._give_path(f"folder {start}", answer)

    def note(self, title: str, text: str, answer: Callable[[str], object]) -> None:
        self.asked.append(f"note {title} {text}")
        if self.words:
            answer(self.words)

    def _give_path(self, question: str, answer: Callable[[Path], object]) -> None:
        self.asked.append(question)
        if self.path is not None:
            answer(self.path)


def make_settings(folder: Path) -> Settings:
    return Settings(QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat))


def make_window(
    folder: Path,
    *,
    disk: dict[Path, Project] | None = None,
    asks: Answers | None = None,
    settings: Settings | None = None,
) -> MainWindow:
    """A window that keeps its settings in a folder and its projects in a dictionary."""
    document = make_document(files=disk)
    return MainWindow(document, Selection(), settings or make_settings(folder), asks or Answers())


def discard(widget: QWidget) -> None:
    """Delete a window at once: a test runner alone never gets round to it."""
    widget.hide()
    shiboken6.delete(widget)
