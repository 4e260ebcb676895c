"""Files are written whole or not at all: beside the old one first, then put in its place."""

import os
import shutil
import tempfile
from contextlib import suppress
from pathlib import Path
from typing import Final

from layout_gui.renaming import rename

PART: Final = ".part"
STALE_S: Final = 600


def previous_of(path: Path) -> Path:
    """Return the name under which the copy before is kept: the same with "~"."""
    return path.with_name(f"{path.name}~")


def replace_file(target: Path, data: bytes, *, like: Path | None = None) -> None:
    """Put a finished file in the place of another in one step, with the mode bits of ``like``.

    Without ``like`` only this person may read it.

    Raises:
        OSError: the system does not let us; whatever stood there still does.
    """
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name[:50]}.", suffix=PART)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _sweep(part, f".{target.name[:50]}.")
        if like is not None and like.exists():
            shutil.copymode(like, part)
        elif like is not None:
            part.chmod(0o666 & ~_umask())
        rename(part, target)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise
    _settle(target.parent)


def _sweep(part: Path, prefix: str) -> None:
    """Take away what saves that were killed have left behind."""
    with suppress(OSError):
        newest = part.stat().st_mtime
        for other in part.parent.iterdir():
            is_like = other.name.startswith(prefix) and other.name.endswith(PART)
            if is_like and other.stat().st_mtime < newest - STALE_S:
                other.unlink()


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def _settle(folder: Path) -> None:
    """Make the new name itself outlast a power cut, where the system knows how."""
    with suppress(OSError):  # Windows cannot open folders, some network disks cannot sync them
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
