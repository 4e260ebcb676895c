"""New, open, save, revert: nothing is thrown away without asking."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final  # noqa: TID251  loaded after the window is shown

from PySide6.QtCore import QDateTime, QLocale, QObject, Signal

from geometry.tongue import mark, tr, tr_n
from geometry.units import Unit
from layout_gui import log
from layout_gui.dialogs.asker import SUFFIX, Asks
from layout_gui.dialogs.question import Verb
from layout_gui.document.document import Document
from layout_gui.document.file_lock import FileLock, Holder
from layout_gui.document.outside import Outside
from layout_gui.document.state import state_folder
from layout_gui.project.writing import previous_of
from layout_gui.windows.settings import Settings

if TYPE_CHECKING:
    from geometry.model.project import Project

SAMPLES: Final = Path(__file__).resolve().parents[2] / "sample_projects"
READY: Final = Path(__file__).resolve().parents[1] / "resources" / "beds"
_READY_WORDS: Final = (
    ("trough", mark("Timber trough")),
    ("round-tank", mark("Round tank")),
    ("half-container", mark("Half a bulk container")),
    ("round-ended-tank", mark("Round-ended tank")),
    ("raceway", mark("Raceway")),
)


def sample_files() -> tuple[Path, ...]:
    """Return the sample projects that came with the program."""
    return tuple(sorted(SAMPLES.glob(f"*{SUFFIX}")))


def ready_beds() -> tuple[tuple[str, Path], ...]:
    """Return the beds to begin with that came with the program: their words, their files."""
    return tuple((tr(words), READY / f"{name}{SUFFIX}") for name, words in _READY_WORDS)


class Files(QObject):
    """The file of the document, and the lock that keeps others from saving to it meanwhile.

    ``said`` carries a sentence about what was done; ``ways_on`` what to do after what the document
    could not do, as pairs of words and a function.
    """

    recent_changed = Signal()
    said = Signal(str)
    ways_on = Signal(object)

    def __init__(
        self,
        document: Document,
        asks: Asks,
        settings: Settings,
        parent: QObject | None = None,
        *,
        state: Path | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._asks = asks
        self._settings = settings
        self.state = state if state is not None else state_folder()
        self.outside = Outside(document, parent=self)
        self._lock: FileLock | None = None
        self._wanted = object()
        document.started.connect(self._on_started)

    @property
    def name(self) -> str:
        """What the document is called in titles and questions."""
        path = self._document.path
        file_name = path.name.removesuffix(SUFFIX) if path else ""
        return self._document.title or file_name or tr("New project")

    def new(self) -> None:
        """Begin with nothing."""
        from geometry.model.project import Project  # noqa: PLC0415  loaded when first used

        self.guarded(lambda: self._document.start(Project("")))

    def open(self) -> None:
        """Ask for a file and open it."""
        self._asks.file_to_open(self._settings.folder, self.open_path)

    def open_in(self, folder: Path) -> None:
        """Ask for a file in a folder and open it."""
        self._asks.file_to_open(folder, self.open_path)

    def open_path(self, path: Path) -> None:
        """Open a file, after asking about unsaved changes."""
        self.guarded(lambda: self._open(path.absolute()))

    def open_sample(self, path: Path) -> None:
        """Open a sample as a new project: saving asks for a place of its own."""
        self.guarded(lambda: self._open_copy(path))

    def open_ready(self, path: Path, unit: Unit) -> None:
        """Begin a new project with a ready bed, its lengths shown in a unit."""
        self.guarded(lambda: self._open_ready(path, unit))

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
            tr("Go back to the saved file?"),
            tr("Everything changed in “{name}” since it was saved will be lost.", name=self.name),
            tr("Go back"),
            lambda: self._open(path),
        )

    def bring_back(self) -> None:
        """Make the version that is kept beside the file the newest undo step, after asking."""
        path = self._document.path
        if path is None:
            return
        earlier = previous_of(Path(os.path.realpath(path)))
        try:
            moment = earlier.stat().st_mtime
        except OSError:
            words = tr("No earlier version is kept beside {file} yet", file=path.name)
            self.said.emit(words)
            return
        when = QLocale().toString(
            QDateTime.fromSecsSinceEpoch(round(moment)), QLocale.FormatType.ShortFormat
        )
        text = tr(
            "“{earlier}” lies beside the file: the version saved on {time}, from before the file "
            "was last opened and changed. It becomes the newest step here; Undo takes it back, and "
            "only Save changes the file.",
            earlier=earlier.name,
            time=when,
        )
        verbs = (
            Verb("bring", tr("Bring it back")),
            Verb("cancel", tr("Leave it"), is_default=True),
        )

        def on_answer(answer: str) -> None:
            if answer == "bring":
                self._document.bring_in(tr("Bring back the earlier version"), earlier)

        self._asks.choose(tr("Bring back the earlier version?"), text, verbs, on_answer)

    def forget_recent(self) -> None:
        """Clear the list of recent files."""
        self._settings.forget_recent()
        self.recent_changed.emit()

    def guarded(self, then: Callable[[], object]) -> None:
        """Do ``then`` once unsaved changes are saved or discarded; not at all after Cancel."""
        self._document.when_settled(lambda: self._guarded(then))

    def _guarded(self, then: Callable[[], object]) -> None:
        if not self._document.is_modified:
            then()
            return
        self._asks.unsaved(self.name, lambda answer: self._on_answer(answer, then))

    def save_then(self, then: Callable[[], object]) -> None:
        """Save, and do ``then`` only if the file was written."""
        path = self._document.path
        if path is None or self._document.is_read_only:
            self._save_as_then(then)
        else:
            self._write(path, then)

    def start_recovered(self, project: Project, path: Path | None) -> None:
        """Begin with recovered work as unsaved changes of its file.

        It becomes a new project if the file is open elsewhere.
        """
        lock = self._lock_for(path) if path is not None else None
        is_ours = lock is None or lock.holder is None
        self._document.start(project, path if is_ours else None, modified=True)
        if is_ours:
            self._hold(lock)
        elif path is not None:
            words = tr("{file} is open elsewhere, so this is a new project.", file=path.name)
            self.said.emit(words)

    def release(self) -> None:
        """Let others have the file: the window is closed."""
        self._hold(None)

    def _on_answer(self, answer: str, then: Callable[[], object]) -> None:
        if answer == "discard":
            then()
        elif answer == "save":
            self.save_then(then)

    def _save_as_then(self, then: Callable[[], object]) -> None:
        suggested = self._document.path or self._settings.folder / f"{_plain(self.name)}{SUFFIX}"
        self._asks.file_to_save(suggested, lambda path: self._on_place(path.absolute(), then))

    def _on_place(self, chosen: Path, then: Callable[[], object]) -> None:
        path = _with_suffix(chosen)
        if path == chosen or not path.exists():
            self._write(path, then)
            return
        # The file dialog asked about the name without its ending.
        self._asks.confirm(
            tr("Replace the file?"),
            tr("In {folder} there is already {file}.", folder=path.parent, file=path.name),
            tr("Replace"),
            lambda: self._write(path, then),
        )

    def _write(self, path: Path, then: Callable[[], object]) -> None:
        news = self.outside.look_now() if path == self._document.path else None
        if news is None:
            self._write_now(path, then)
            return

        def on_answer(answer: str) -> None:
            if answer == "over":
                self._write_now(path, then)
            elif answer == "elsewhere":
                self._save_as_then(then)

        verbs = (
            Verb("over", tr("Save over it")),
            Verb("cancel", tr("Stay")),
            Verb("elsewhere", tr("Save elsewhere…"), is_default=True),
        )
        text = tr(
            "“{file}” was changed by another program since it was opened or saved here. Saving "
            "over it loses what was changed there.",
            file=path.name,
        )
        self._asks.choose(tr("The file is another one now"), text, verbs, on_answer)

    def _write_now(self, path: Path, then: Callable[[], object]) -> None:
        document = self._document
        if document.is_read_only and path == document.path:
            words = tr("{file} is only looked at: choose another name.", file=path.name)
            document.failed.emit(words)
            self._offer_elsewhere(then)
            return
        lock = self._lock_for(path)
        if lock.holder is not None:
            words = tr(
                "{file} is open {where}: it cannot be saved to. Choose another name.",
                file=path.name,
                where=_where(lock.holder),
            )
            document.failed.emit(words)
            self._offer_elsewhere(then)
        else:
            is_copy = document.path is not None and path != document.path
            words = _copied_words(path, document.project) if is_copy else ""
            document.save_then(path, lambda ok: self._on_written(path, lock, then, words, ok=ok))

    def _on_written(
        self, path: Path, lock: FileLock, then: Callable[[], object], words: str, *, ok: bool
    ) -> None:
        if ok and self._document.path == path:
            self._hold(lock)
        elif lock is not self._lock:
            lock.release()
        if ok:
            self._remember(path)
            self.said.emit(words or tr("Saved to {file}.", file=path.name))
            then()
        else:
            again = (tr("Try again"), lambda: self._write(path, then))
            self._offer_elsewhere(then, again)

    def _offer_elsewhere(
        self, then: Callable[[], object], *more: tuple[str, Callable[[], object]]
    ) -> None:
        self.ways_on.emit(((tr("Save elsewhere…"), lambda: self._save_as_then(then)), *more))

    def _open(self, path: Path) -> None:
        lock = self._lock_for(path) if path.is_file() else None
        if lock is None or lock.holder is None:
            self._open_with(path, lock, read_only=not _may_be_saved(path))
            return

        def on_answer(answer: str) -> None:
            if answer == "copy":
                self._open_copy(path)
            elif answer == "look":
                self._open_with(path, None, read_only=True)
            elif answer == "take":
                log.note(f"lock taken over: {path}")
                lock.take_over()
                self._open_with(path, lock, read_only=not _may_be_saved(path))

        verbs = (
            *((Verb("take", tr("Open it all the same")),) if lock.holder.is_elsewhere else ()),
            Verb("look", tr("Only look at it")),
            Verb("cancel", tr("Leave it")),
            Verb("copy", tr("Open a copy"), is_default=True),
        )
        text = tr(
            "“{file}” is open {where}. Two who save to one file undo each other's work.",
            file=path.name,
            where=_where(lock.holder),
        )
        if lock.holder.is_elsewhere:
            more = tr(
                "If {machine} was switched off while it was open, it only looks so.",
                machine=lock.holder.machine,
            )
            text = f"{text} {more}"
        self._asks.choose(tr("The file is open elsewhere"), text, verbs, on_answer)

    def _open_with(self, path: Path, lock: FileLock | None, *, read_only: bool) -> None:
        def begin(project: Project) -> None:
            self._document.start(project, path, read_only=read_only)
            self._hold(lock)
            self._remember(path)
            if read_only:
                words = tr("{file} can only be looked at; saving asks for a place.", file=path.name)
                self.said.emit(words)

        # What is dropped with ``begin`` lets the lock go.
        self._read(path, begin)

    def _open_copy(self, path: Path) -> None:
        self._read(path, self._document.start)

    def _read(self, path: Path, begin: Callable[[Project], object]) -> None:
        """Read a file and begin with it, unless another one is wanted by then."""
        ticket = self._wanted = object()
        before = self._document.project

        def on_read(project: Project | None) -> None:
            if self._wanted is not ticket:
                return
            if project is None:
                self._offer_another()
            elif self._document.project is before:
                begin(project)
            else:  # the grower went on working while it was read
                self.guarded(lambda: begin(project))

        self._document.read_then(path, on_read)

    def _offer_another(self) -> None:
        self.ways_on.emit(((tr("Open another…"), self.open),))

    def _lock_for(self, path: Path) -> FileLock:
        """The lock of a file: the one we hold, or a new one, which somebody else may hold."""
        if self._lock is not None and self._lock.is_for(path):
            return self._lock
        # The program's own folder is no place for locks.
        is_beside = SAMPLES not in path.resolve().parents
        return FileLock(path, self.state, is_beside=is_beside)

    def _hold(self, lock: FileLock | None) -> None:
        if self._lock is not None and self._lock is not lock:
            self._lock.release()
        self._lock = lock

    def _on_started(self) -> None:
        path = self._document.path
        if self._lock is not None and (path is None or not self._lock.is_for(path)):
            self._hold(None)

    def _open_ready(self, path: Path, unit: Unit) -> None:
        self._read(path, lambda project: self._document.start(replace(project, units=unit)))

    def _remember(self, path: Path) -> None:
        self._settings.remember(path.resolve())
        self.recent_changed.emit()


def _copied_words(path: Path, project: Project) -> str:
    """Say what a copy takes along that is worth remembering; empty without notes in the log."""
    from geometry.model.as_built import remembered  # noqa: PLC0415  loaded when first used

    notes = remembered(project)
    if not notes:
        return ""
    return tr_n(
        "Saved to {file}. A note goes along: {note}",
        "Saved to {file}. {n} notes go along, the last one: {note}",
        len(notes),
        file=path.name,
        note=notes[-1].splitlines()[0],
    )


def _where(holder: Holder) -> str:
    if holder.is_me:
        return tr("in another window")
    if holder.user:
        return tr("by {user} on {machine}", user=holder.user, machine=holder.machine)
    return tr("on {machine}", machine=holder.machine)


def _may_be_saved(path: Path) -> bool:
    """Tell whether a file may be written; what is not there yet is not judged."""
    return not path.exists() or (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK))


def _with_suffix(path: Path) -> Path:
    is_named = path.name.endswith(SUFFIX) or path.suffix == ".json"
    return path if is_named else path.with_name(path.name + SUFFIX)


def _plain(name: str) -> str:
    kept = "".join(sign if sign.isalnum() or sign in "-_ " else "-" for sign in name)
    return kept.strip() or "project"
