"""The recovery file of a running document, and what earlier runs have left behind."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from os import urandom
from pathlib import Path
from typing import TYPE_CHECKING, Final  # noqa: TID251  loaded after the window is shown

from PySide6.QtCore import QLockFile

from layout_gui.document.file_lock import never_stale
from layout_gui.project.recovery_file import ENDING, Head, read_head, read_work, write_recovery

if TYPE_CHECKING:
    from geometry.model.project import Project

FOLDER: Final = "recovery"
_LOCK: Final = ".lock"


def fresh_id() -> str:
    """Return a name for a document that no other has."""
    return urandom(16).hex()


@dataclass(slots=True, eq=False)
class Slot:
    """The recovery file of one document. Its lock says that the document's program is running.

    Methods may block on the disk: call them from one worker.
    """

    folder: Path
    id: str = field(default_factory=fresh_id)
    lock: QLockFile | None = None

    @property
    def file(self) -> Path:
        """Where the work is kept."""
        return self.folder / f"{self.id}{ENDING}"

    def write(self, head: Head, project: Project) -> None:
        """Keep a project safe. Raises OSError or ValueError when that cannot be."""
        if self.lock is None:
            self.folder.mkdir(parents=True, exist_ok=True)
            self.lock = _lock(self.folder, self.id)
            # Without a lock, another run could take the file for left over: it would only be read.
            self.lock.tryLock(0)
        write_recovery(self.file, head, project)

    def drop(self) -> None:
        """Take the file away: its work is saved, or given up by the grower."""
        with suppress(OSError):
            self.file.unlink()
        if self.lock is not None:
            self.lock.unlock()
            self.lock = None


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Work that a run which ended without closing has left; ``head`` says whose it is."""

    file: Path
    head: Head

    @property
    def path(self) -> Path | None:
        """The file the work belongs to; None when it was never saved."""
        return Path(self.head.path) if self.head.path else None

    def read(self) -> Project:
        """Read the work. Raises OSError or ValueError with a sentence."""
        return read_work(self.file)

    def claim(self) -> Slot | None:
        """Take the file over as that of a running document; None if another one has it already."""
        lock = _lock(self.file.parent, self.file.stem)
        return Slot(self.file.parent, self.file.stem, lock) if lock.tryLock(0) else None

    def throw_away(self) -> bool:
        """Delete the work for good; not while a running document has it. Tells whether it did."""
        slot = self.claim()
        if slot is not None:
            slot.drop()
        return slot is not None


def left_over(folder: Path) -> tuple[LeftOver, ...]:
    """Return what runs that are no more have left in a folder, the newest first."""
    found = [one for file in _recovery_files(folder) if (one := _left_over(file)) is not None]
    return tuple(sorted(found, key=lambda one: -one.head.time))


def what_differs(left: LeftOver) -> tuple[str, ...] | None:
    """Return what the work has otherwise than the saved file; None if there is nothing to compare.

    Raises OSError or ValueError with a sentence when the work itself cannot be read.
    """
    from layout_gui.project.file import load  # noqa: PLC0415  loaded when first used

    work = left.read()
    if left.path is None:
        return None
    try:
        saved = load(left.path)
    except (OSError, ValueError):
        return None
    from layout_gui.project.differences import differences  # noqa: PLC0415  when first used

    return differences(saved, work)


def _recovery_files(folder: Path) -> Iterable[Path]:
    try:
        return sorted(folder.glob(f"*{ENDING}"))
    except OSError:
        return ()


def _left_over(file: Path) -> LeftOver | None:
    lock = _lock(file.parent, file.stem)
    if not lock.tryLock(0):
        return None  # its program is running
    try:
        # What cannot be read is still shown: nobody else may say that it is worth nothing.
        unknown = Head(file.stem, file.name, "", file.stat().st_mtime, "")
        return LeftOver(file, read_head(file) or unknown)
    except OSError:
        return None
    finally:
        lock.unlock()


def _lock(folder: Path, name: str) -> QLockFile:
    return never_stale(folder / f"{name}{_LOCK}")
