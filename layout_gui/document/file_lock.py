"""One window at a time works on a file: who has it open is written beside it."""

import getpass
import os
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PySide6.QtCore import QFileInfo, QLockFile, QSysInfo

_FOLDER: Final = "locks"


def never_stale(place: Path) -> QLockFile:
    """Return a lock that only a program which is gone loses, never one that is open for long."""
    lock = QLockFile(str(place))
    lock.setStaleLockTime(0)
    return lock


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a file open: the person as the system calls them ("" if unknown), and the machine."""

    user: str
    machine: str

    @property
    def is_me(self) -> bool:
        """Whether it is this person on this machine, so most likely in another window."""
        with suppress(OSError, KeyError, ImportError):
            return self.user == getpass.getuser() and self.machine == _this_machine()
        return False

    @property
    def is_elsewhere(self) -> bool:
        """Whether it is on another machine, so that nobody here can tell whether it still runs."""
        return self.machine not in {"", _this_machine()}


class FileLock:
    """The right to save to a project file; ``holder`` names who has it instead, None if it is ours.

    It lies beside the file, or in ``state`` where the folder may not be written to, or is not to be
    (``is_beside`` false).
    """

    def __init__(self, path: Path, state: Path, *, is_beside: bool = True) -> None:
        target = Path(os.path.realpath(path))
        self.path = target
        beside = target.with_name(f".{target.name[:200]}.lock")
        self.holder: Holder | None = None
        self._lock = never_stale(beside)
        if not is_beside or (not self._lock.tryLock(0) and not self._is_taken()):
            folder = state / _FOLDER
            with suppress(OSError):
                folder.mkdir(parents=True, exist_ok=True)
            import hashlib  # noqa: PLC0415  loaded when first used

            digest = hashlib.sha256(os.fsencode(target)).hexdigest()[:32]
            beside = folder / f"{digest}.lock"
            self._lock = never_stale(beside)
            self._lock.tryLock(0)
        self._place = beside
        if self._is_taken():
            self.holder = _holder(beside, self._lock)

    def _is_taken(self) -> bool:
        failed = QLockFile.LockError.LockFailedError
        return not self._lock.isLocked() and self._lock.error() is failed

    def is_for(self, path: Path) -> bool:
        """Tell whether this is the lock of a file, whatever name it goes by."""
        return Path(os.path.realpath(path)) == self.path

    def take_over(self) -> None:
        """Take the file from a holder of whom the grower knows that it is no more."""
        with suppress(OSError):
            self._place.unlink()
        self.holder = None if self._lock.tryLock(0) else self.holder

    def release(self) -> None:
        """Let others have the file."""
        self._lock.unlock()


def _holder(place: Path, lock: QLockFile) -> Holder:
    machine = ""
    with suppress(TypeError, IndexError):  # the lock may have gone in the meantime
        machine = str(lock.getLockInfo()[1])
    return Holder(QFileInfo(str(place)).owner(), machine)


def _this_machine() -> str:
    return QSysInfo.machineHostName()
