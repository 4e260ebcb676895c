"""What the program did, line by line, for the day something goes wrong.

A line holds a time, what was done and to which file, never what is in a project. Lines are written
by a thread of their own. Before ``start``, and in commands and tests, nothing is written.
"""

import atexit
import threading
import time
import traceback
from contextlib import suppress
from pathlib import Path
from queue import SimpleQueue
from typing import Final

NAME: Final = "raftwright.log"
LARGEST_BYTES: Final = 200_000
"""How large the file may grow before it becomes the older one, which is then replaced."""
_PATIENCE_S: Final = 2.0
_LONGEST: Final = 500


class Log:
    """One log file and the older one beside it. What cannot be written is lost without a word."""

    def __init__(self, path: Path, *, largest: int = LARGEST_BYTES) -> None:
        self.path = path
        self._largest = largest
        self._lines: SimpleQueue[str | None] = SimpleQueue()
        self._writer = threading.Thread(target=self._write_all, name="log", daemon=True)
        self._writer.start()

    def note(self, text: str) -> None:
        """Write a line, soon."""
        when = time.strftime("%Y-%m-%d %H:%M:%S")
        kept = text if len(text) <= _LONGEST else f"{text[:_LONGEST]}…"
        self._lines.put(f"{when} {kept.replace(chr(10), ' | ')}\n")

    def close(self) -> None:
        """Write what is still to be written."""
        self._lines.put(None)
        self._writer.join(_PATIENCE_S)

    def _write_all(self) -> None:
        while (line := self._lines.get()) is not None:
            with suppress(OSError):
                self._write(line.encode(errors="backslashreplace"))

    def _write(self, line: bytes) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        with suppress(FileNotFoundError):
            if self.path.stat().st_size + len(line) > self._largest:
                self.path.replace(older(self.path))
        with self.path.open("ab") as file:
            file.write(line)


_logs: list[Log] = []


def start(folder: Path) -> Log:
    """Write a log into a folder until the program ends."""
    log = Log(folder / NAME)
    _logs[:] = [log]
    atexit.register(log.close)
    return log


def note(text: str) -> None:
    """Write a line into the log that was started, if one was."""
    for log in _logs:
        log.note(text)


def note_error(kind: type[BaseException], error: BaseException) -> None:
    """Write what went wrong in the program and where; not the words, which may be the grower's."""
    frames = traceback.extract_tb(error.__traceback__)
    places = "\n".join(f"{Path(at.filename).name}:{at.lineno} {at.name}" for at in frames[-12:])
    note(f"mistake {kind.__name__}\n{places}")


def older(path: Path) -> Path:
    """Return where the older part of a log lies."""
    return path.with_name(f"{path.name}.1")


def text_of(folder: Path) -> str:
    """Read the log of a folder, the older part first; "" if there is none."""
    texts = []
    for path in (older(folder / NAME), folder / NAME):
        with suppress(OSError):
            texts.append(path.read_text("utf-8", errors="backslashreplace"))
    return "".join(texts)
