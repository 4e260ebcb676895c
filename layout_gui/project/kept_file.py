"""Small files of this person on this machine: what is kept beside all projects.

Such a file is written whole or not at all. What cannot be read of it is told in a sentence and put
aside before anything is written, so that nothing typed is ever lost.
"""

import json
import os
import shutil
import sys
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, ClassVar, Final, Generic, TypeVar

from layout_gui.project.faults import access_error
from layout_gui.project.writing import replace_file

_VERSION: Final = 1
_LARGEST: Final = 1_000_000
_MOST_ASIDE: Final = 1000

Thing = TypeVar("Thing")


def settings_folder(environment: Mapping[str, str] = os.environ) -> Path:
    """Return the folder for what this person keeps for this program; it need not be there yet."""
    match sys.platform:
        case "win32":
            base = environment.get("APPDATA") or Path.home() / "AppData" / "Roaming"
        case "darwin":
            base = Path.home() / "Library" / "Application Support"
        case _:
            base = environment.get("XDG_CONFIG_HOME") or Path.home() / ".config"
    return Path(base) / "Raftwright"


class KeptFile(ABC, Generic[Thing]):
    """Reads and changes such a file; each change begins with what stands in it at that moment."""

    kind: ClassVar[str]
    """What is kept, in the plural: the name of the file and of the list in it."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = path if path is not None else settings_folder() / f"{self.kind}.json"

    @abstractmethod
    def _build(self, row: Any) -> Thing:
        """Return the thing of a row; ValueError, TypeError, LookupError or ArithmeticError."""

    @abstractmethod
    def _text(self, thing: Thing) -> str:
        """Return a thing as JSON."""

    @abstractmethod
    def _same(self, one: Thing, other: Thing) -> bool:
        """Tell whether one takes the place of the other."""

    @abstractmethod
    def _order(self, thing: Thing) -> Any:
        """Return what the things of a file are sorted by."""

    @abstractmethod
    def _damaged(self, file: str) -> str:
        """Say that nothing of a file can be read."""

    @abstractmethod
    def _newer(self, file: str) -> str:
        """Say that a newer program wrote the file."""

    @abstractmethod
    def _unreadable(self, number: int, file: str) -> str:
        """Say that some things of a file cannot be read."""

    def _read(self) -> tuple[tuple[Thing, ...], str]:
        """Return what can be read, and why something cannot."""
        try:
            with self.path.open("rb") as stream:
                data = stream.read(_LARGEST + 1)
        except FileNotFoundError:
            return (), ""
        except OSError as error:
            return (), str(access_error(self.path, "read", error))
        try:
            content = json.loads(data[:_LARGEST], parse_float=Decimal, parse_constant=Decimal)
            rows, version = list(content[self.kind]), int(content["version"])
            is_ours = content["format"] == f"raftwright {self.kind}"
        except (ValueError, TypeError, KeyError, ArithmeticError, RecursionError):
            is_ours, rows, version = False, [], 0
        if not is_ours:
            return (), self._damaged(self.path.name)
        if version > _VERSION:
            return (), self._newer(self.path.name)
        things: tuple[Thing, ...] = ()
        bad = 0
        for row in rows:
            try:
                things = self._with(things, self._build(row))
            except (ValueError, TypeError, LookupError, ArithmeticError):
                bad += 1
        return things, self._unreadable(bad, self.path.name) if bad else ""

    def _with(self, things: Iterable[Thing], new: Thing) -> tuple[Thing, ...]:
        """Return the things with one more, in the place of the one that is the same."""
        return (*(one for one in things if not self._same(one, new)), new)

    def _change(self, change: Callable[[tuple[Thing, ...]], Iterable[Thing]]) -> None:
        known, trouble = self._read()
        self.path.parent.mkdir(parents=True, exist_ok=True)
        if trouble:
            self._put_aside()
        things = sorted(change(known), key=self._order)
        rows = ",\n".join(f"    {self._text(thing)}" for thing in things)
        head = f'"format": "raftwright {self.kind}",\n  "version": {_VERSION}'
        text = f'{{\n  {head},\n  "{self.kind}": [\n{rows}\n  ]\n}}\n'
        replace_file(self.path, text.encode())

    def _put_aside(self) -> None:
        """Copy the file under a name that nothing has."""
        for number in range(1, _MOST_ASIDE):
            aside = self.path.with_name(f"{self.path.stem}-unread-{number}.json")
            if not aside.exists():
                shutil.copyfile(self.path, aside)
                return
