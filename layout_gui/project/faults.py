"""What is wrong with a project file, one fault at a time."""

import errno
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from geometry.tongue import GROUP_SIGN, mark, tr

_MOST_SHOWN = 50


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: its place (a JSON pointer, or a line of the text), what is wrong, what to do."""

    place: str
    what: str
    cure: str = ""

    def sentence(self, file: str) -> str:
        """Say it in one sentence that starts with the file and the place."""
        where = ": ".join(part for part in (printable(file), printable(self.place)) if part)
        text = f"{where}: {printable(self.what)}"
        if self.cure:
            text += f"; {printable(self.cure)}"
        return text if text.endswith(("?", ".")) else f"{text}."


class ProjectFileError(ValueError):
    """A project file that cannot be read; as text, one sentence a line for each fault."""

    def __init__(self, file: str, faults: Iterable[Fault]) -> None:
        self.file = file
        self.faults = tuple(faults)
        super().__init__("\n".join(self.sentences))

    @property
    def sentences(self) -> tuple[str, ...]:
        """One sentence for each fault; beyond the first fifty only how many there are."""
        shown = [fault.sentence(self.file) for fault in self.faults[:_MOST_SHOWN]]
        if more := len(self.faults) - len(shown):
            shown.append(
                tr(
                    "{file}: {more} more faults are not listed.",
                    file=printable(self.file),
                    more=more,
                )
            )
        return tuple(shown)


class FileAccessError(OSError):
    """A file that the system does not let us read or write; the text is one sentence."""


_REASONS = {
    errno.ENOENT: (mark("there is no such file"), mark("check the name and the folder")),
    errno.ENOTDIR: (
        mark("part of its folder is not a folder"),
        mark("check the name and the folder"),
    ),
    errno.EISDIR: (mark("it is a folder"), mark("name a file")),
    errno.EACCES: (
        mark("it may not be used"),
        mark("check its permissions or choose another folder"),
    ),
    errno.EPERM: (
        mark("it may not be used"),
        mark("check its permissions or choose another folder"),
    ),
    errno.EROFS: (mark("the disk is read-only"), mark("choose another folder")),
    errno.ENOSPC: (mark("the disk is full"), mark("make room or choose another disk")),
    errno.EDQUOT: (
        mark("your share of the disk is full"),
        mark("make room or choose another disk"),
    ),
    errno.EFBIG: (mark("the file is too large for this disk"), mark("choose another disk")),
    errno.ENAMETOOLONG: (mark("its name is too long"), mark("choose a shorter name")),
    errno.ELOOP: (mark("its links lead round in a circle"), mark("choose another name")),
    errno.EEXIST: (mark("something else stands in its place"), mark("choose another name")),
    errno.EIO: (mark("the disk does not answer"), mark("check it or choose another disk")),
    errno.EBUSY: (mark("another program holds it"), mark("wait a moment or choose another name")),
}
_MAY_NOT = {errno.EACCES, errno.EPERM}
_NO_FOLDER = (mark("its folder is not there"), mark("choose another folder"))
_LOCKED_FOLDER = (mark("its folder may not be written to"), mark("choose another folder"))
_HELD_FILE = (
    mark("it is open in another program, or belongs to somebody else"),
    mark("close it there, or choose another folder"),
)


_CANNOT_BE = {
    "read": mark("{file}: cannot be read: {reason}; {cure}."),
    "saved": mark("{file}: cannot be saved: {reason}; {cure}."),
    "written": mark("{file}: cannot be written: {reason}; {cure}."),
}


def access_error(
    path: Path | str, doing: Literal["read", "saved", "written"], error: OSError
) -> FileAccessError:
    """Say in one sentence why a file could not be ``doing`` ("read", "saved")."""
    if doing != "read" and error.errno == errno.ENOENT:
        reason, cure = map(tr, _NO_FOLDER)
    elif doing != "read" and error.errno in _MAY_NOT and _is_locked(Path(path)):
        reason, cure = map(tr, _LOCKED_FOLDER)
    elif doing == "written" and error.errno in _MAY_NOT and Path(path).is_file():
        reason, cure = map(tr, _HELD_FILE)
    elif error.errno in _REASONS:
        reason, cure = map(tr, _REASONS[error.errno])
    else:
        reason, cure = error.strerror or tr("the system gives no reason"), tr("try again")
    return FileAccessError(
        tr(
            _CANNOT_BE[doing],
            file=printable(str(path)),
            reason=printable(reason[:1].lower() + reason[1:]),
            cure=cure,
        )
    )


def why_not(error: OSError) -> str:
    """Say in a few words why the system let nothing be written, without what and what to do."""
    known = _NO_FOLDER if error.errno == errno.ENOENT else _REASONS.get(error.errno or 0)
    return tr(known[0]) if known else error.strerror or str(error)


def _is_locked(path: Path) -> bool:
    """Tell whether it is the folder that keeps a file from being written, not the file itself."""
    try:
        is_file_at_fault = path.exists() and not os.access(path, os.W_OK)
        return not is_file_at_fault and not os.access(path.parent, os.W_OK)
    except OSError:
        return False


def printable(text: str, longest: int = 300) -> str:
    """Make text safe to print anywhere: what no terminal can show is written as an escape."""
    if len(text) > longest:
        text = text[: longest - 1] + "…"
    text = text.replace(GROUP_SIGN, " ")  # a terminal may show another space as a box
    if text.isprintable():
        return text
    return "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text
    )
