"""Everything the window asks the grower, without ever waiting for the answer."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final, Protocol

from PySide6.QtWidgets import QFileDialog, QPlainTextEdit, QWidget

from geometry.tongue import tr
from layout_gui.dialogs.question import Question, Verb

SUFFIX: Final = ".raft.json"


def _filter() -> str:
    return tr("Raft projects (*{suffix});;All files (*)", suffix=SUFFIX)


class Asks(Protocol):
    """What can be asked. Each answer is called later, at most once; never after a cancel.

    ``unsaved`` always answers: "save", "discard" or "cancel".
    """

    def unsaved(self, name: str, answer: Callable[[str], object]) -> None:
        """Ask what to do with changes that were not saved."""

    def confirm(self, title: str, text: str, verb: str, answer: Callable[[], object]) -> None:
        """Ask before something that cannot be undone."""

    def choose(
        self, title: str, text: str, verbs: Sequence[Verb], answer: Callable[[str], object]
    ) -> None:
        """Ask which of several things to do; a dialog that is closed answers "cancel"."""

    def file_to_open(self, folder: Path, answer: Callable[[Path], object]) -> None:
        """Ask for a project file."""

    def file_to_save(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        """Ask where to save the project."""

    def file_to_export(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        """Ask where to write a file that is exported; its suffix says what it is."""

    def folder(self, start: Path, answer: Callable[[Path], object]) -> None:
        """Ask for a folder."""

    def note(self, title: str, text: str, answer: Callable[[str], object]) -> None:
        """Ask for the reason why a finding is left as it is."""


class Asker:
    """Asks with dialogs that belong to the window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def unsaved(self, name: str, answer: Callable[[str], object]) -> None:
        """Ask with the verbs Save, Close without saving and Stay."""
        verbs = (
            Verb("discard", tr("Close without saving")),
            Verb("cancel", tr("Stay")),
            Verb("save", tr("Save"), is_default=True),
        )
        text = tr(
            "“{name}” has changes that are not in its file yet. Closing without saving loses them.",
            name=name,
        )
        self.choose(tr("Save the changes?"), text, verbs, answer)

    def confirm(self, title: str, text: str, verb: str, answer: Callable[[], object]) -> None:
        """Ask with the verb itself on the button; Cancel is what Enter gives."""
        verbs = (Verb("yes", verb), Verb("cancel", tr("Cancel"), is_default=True))
        question = Question(title, text, verbs, self._window)
        question.answered.connect(lambda key: answer() if key == "yes" else None)
        question.open()

    def choose(
        self, title: str, text: str, verbs: Sequence[Verb], answer: Callable[[str], object]
    ) -> None:
        """Ask with a verb on each button."""
        question = Question(title, text, verbs, self._window)
        question.answered.connect(answer)
        question.open()

    def file_to_open(self, folder: Path, answer: Callable[[Path], object]) -> None:
        """Ask with the file dialog of the desktop."""
        dialog = QFileDialog(self._window, tr("Open a project"), str(folder), _filter())
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        self._ask_path(dialog, answer)

    def file_to_save(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        """Ask with the file dialog of the desktop, which warns before it replaces a file."""
        dialog = QFileDialog(self._window, tr("Save the project"), str(suggested.parent), _filter())
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(SUFFIX.removeprefix("."))
        dialog.selectFile(suggested.name)
        self._ask_path(dialog, answer)

    def file_to_export(self, suggested: Path, answer: Callable[[Path], object]) -> None:
        """Ask with the file dialog of the desktop, which warns before it replaces a file."""
        kind = suggested.suffix
        words = tr("Pages (*.pdf)") if kind == ".pdf" else tr("Tables (*.csv)")
        dialog = QFileDialog(self._window, tr("Export"), str(suggested.parent), words)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(kind.removeprefix("."))
        dialog.selectFile(suggested.name)
        self._ask_path(dialog, answer)

    def folder(self, start: Path, answer: Callable[[Path], object]) -> None:
        """Ask with the folder dialog of the desktop."""
        dialog = QFileDialog(self._window, tr("Choose a folder"), str(start))
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        self._ask_path(dialog, answer)

    def note(self, title: str, text: str, answer: Callable[[str], object]) -> None:
        """Ask for a few words; without words the finding is not left."""
        verbs: Sequence[Verb] = (
            Verb("cancel", tr("Cancel")),
            Verb("leave", tr("Leave it so"), is_default=True),
        )
        question = Question(title, text, verbs, self._window)
        edit = QPlainTextEdit()
        edit.setAccessibleName(tr("Your note"))
        edit.setPlaceholderText(tr("Why it may stay as it is"))
        edit.setTabChangesFocus(True)
        edit.setFixedHeight(84)
        question.add(edit)
        leave = question.buttons["leave"]
        leave.setEnabled(False)
        edit.textChanged.connect(lambda: leave.setEnabled(bool(edit.toPlainText().strip())))
        question.answered.connect(
            lambda key: answer(edit.toPlainText().strip()) if key == "leave" else None
        )
        question.open()
        edit.setFocus()

    @staticmethod
    def _ask_path(dialog: QFileDialog, answer: Callable[[Path], object]) -> None:
        dialog.fileSelected.connect(lambda text: answer(Path(text)))
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()
