"""What is wrong with a project file, one fault at a time."""

import errno
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

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
            shown.append(f"{printable(self.file)}: {more} more faults are not listed.")
        return tuple(shown)


class FileAccessError(OSError):
    """A file that the system does not let us read or write; the text is one sentence."""


_REASONS = {
    errno.ENOENT: ("there is no such file", "check the name and the folder"),
    errno.ENOTDIR: ("part of its folder is not a folder", "check the name and the folder"),
    errno.EISDIR: ("it is a folder", "name a file"),
    errno.EACCES: ("it may not be used", "check its permissions or choose another folder"),
    errno.EPERM: ("it may not be used", "check its permissions or choose another folder"),
    errno.EROFS: ("the disk is read-only", "choose another folder"),
    errno.ENOSPC: ("the disk is full", "make room or choose another disk"),
    errno.EDQUOT: ("your share of the disk is full", "make room or choose another disk"),
    errno.EFBIG: ("the file is too large for this disk", "choose another disk"),
    errno.ENAMETOOLONG: ("its name is too long", "choose a shorter name"),
    errno.ELOOP: ("its links lead round in a circle", "choose another name"),
    errno.EEXIST: ("something else stands in its place", "choose another name"),
}


def access_error(path: Path | str, doing: str, error: OSError) -> FileAccessError:
    """Say in one sentence why a file could not be ``doing`` ("read", "saved")."""
    reason, cure = _REASONS.get(
        error.errno or 0, (error.strerror or "the system gives no reason", "try again")
    )
    return FileAccessError(
        f"{printable(str(path))}: cannot be {doing}: {printable(reason[:1].lower() + reason[1:])}; "
        f"{cure}."
    )


def printable(text: str, longest: int = 300) -> str:
    """Make text safe to print anywhere: what no terminal can show is written as an escape."""
    if len(text) > longest:
        text = text[: longest - 1] + "…"
    if text.isprintable():
        return text
    return "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text
    )
