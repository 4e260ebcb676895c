"""New, open, save, revert: nothing is thrown away without asking."""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject, Signal

from geometry.model.project import Project
from layout_gui.dialogs.asker import SUFFIX, Asks
from layout_gui.document.document import Document
from layout_gui.windows.settings import Settings

SAMPLES: Final = Path(__file__).resolve().parents[2] / "sample_projects"


def sample_files() -> tuple[Path, ...]:
    """Return the sample projects that came with the program."""
    return tuple(sorted(SAMPLES.glob(f"*{SUFFIX}")))


class Files(QObject):
    """The file of the document. ``said`` carries a sentence about what was done."""

    recent_changed = Signal()
    said = Signal(str)

    def __init__(
        self, document: Document, asks: Asks, settings: Settings, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._asks = asks
        self._settings = settings

    @property
    def name(self) -> str:
        """What the document is called in titles and questions."""
        path = self._document.path
        file_name = path.name.removesuffix(SUFFIX) if path else ""
        return self._document.project.name or file_name or "New project"

    def new(self) -> None:
        """Begin with nothing."""
        self.guarded(lambda: self._document.start(Project("")))

    def open(self) -> None:
        """Ask for a file and open it."""
        self._asks.file_to_open(self._settings.folder, self.open_path)

    def open_path(self, path: Path) -> None:
        """Open a file, after asking about unsaved changes."""
        self.guarded(lambda: self._open(path))

    def open_sample(self, path: Path) -> None:
        """Open a sample as a new project: saving asks for a place of its own."""
        self.guarded(lambda: self._open_sample(path))

    def save(self) -> None:
        """Save to the document's file; ask for one first if there is none."""
        self.save_then(lambda: None)

    def save_as(self) -> None:
        """Ask for a file and save to it."""
        self._save_as_then(lambda: None)

    def revert(self) -> None:
        """Go back to the saved file; what was changed since is lost, so ask."""
        path = self._document.path
        if path is None:
            return
        self._asks.confirm(
            "Go back to the saved file?",
            f"Everything changed in “{self.name}” since it was saved will be lost.",
            "Go back",
            lambda: self._open(path),
        )

    def forget_recent(self) -> None:
        """Clear the list of recent files."""
        self._settings.forget_recent()
        self.recent_changed.emit()

    def guarded(self, then: Callable[[], object]) -> None:
        """Do ``then`` once unsaved changes are saved or discarded; not at all after Cancel."""
        if not self._document.is_modified:
            then()
            return
        self._asks.unsaved(self.name, lambda answer: self._on_answer(answer, then))

    def save_then(self, then: Callable[[], object]) -> None:
        """Save, and do ``then`` only if the file was written."""
        path = self._document.path
        if path is None:
            self._save_as_then(then)
        else:
            self._write(path, then)

    def _on_answer(self, answer: str, then: Callable[[], object]) -> None:
        if answer == "discard":
            then()
        elif answer == "save":
            self.save_then(then)

    def _save_as_then(self, then: Callable[[], object]) -> None:
        suggested = self._document.path or self._settings.folder / f"{_plain(self.name)}{SUFFIX}"
        self._asks.file_to_save(suggested, lambda path: self._write(_with_suffix(path), then))

    def _write(self, path: Path, then: Callable[[], object]) -> None:
        if self._document.save(path):
            self._remember(path)
            self.said.emit(f"Saved to {path.name}.")
            then()

    def _open(self, path: Path) -> None:
        if self._document.open(path):
            self._remember(path)

    def _open_sample(self, path: Path) -> None:
        if self._document.open(path):
            self._document.start(self._document.project)

    def _remember(self, path: Path) -> None:
        self._settings.remember(path.resolve())
        self.recent_changed.emit()


def _with_suffix(path: Path) -> Path:
    return path if path.suffix else path.with_name(path.name + SUFFIX)


def _plain(name: str) -> str:
    kept = "".join(sign if sign.isalnum() or sign in "-_ " else "-" for sign in name)
    return kept.strip() or "project"
