"""The printers that were measured: a small file of this person on this machine.

It is written whole or not at all. What cannot be read of it is told in a sentence and put aside
before anything is written, so that nothing typed is ever lost.
"""

import json
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from geometry.drawing.paper import PAPERS, Paper, is_same_size, own_paper
from geometry.drawing.printer import Printer, check_name
from geometry.errors import GeometryError
from geometry.tongue import tr, tr_n
from layout_gui.project.faults import access_error, printable
from layout_gui.project.writing import replace_file

NAME: Final = "printers.json"
_FORMAT: Final = "raftwright printers"
_VERSION: Final = 1
_LARGEST: Final = 1_000_000
_MOST_ASIDE: Final = 1000


@dataclass(frozen=True, slots=True)
class KnownPrinters:
    """The printers of a file, by name and paper; ``trouble`` says what of it cannot be read."""

    printers: tuple[Printer, ...] = ()
    trouble: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names, each once, in the order of the alphabet."""
        names = {printer.name for printer in self.printers}
        return tuple(sorted(names, key=lambda name: (name.casefold(), name)))


class NoPrinterError(ValueError):
    """A printer was asked for that nobody measured; the text is one sentence."""


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


class PrinterFile:
    """Reads and changes the file; each change begins with what stands in it at that moment."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = path if path is not None else settings_folder() / NAME

    def read(self) -> KnownPrinters:
        """Return what can be read, and why something cannot."""
        try:
            with self.path.open("rb") as stream:
                data = stream.read(_LARGEST + 1)
        except FileNotFoundError:
            return KnownPrinters()
        except OSError as error:
            return KnownPrinters(trouble=str(access_error(self.path, "read", error)))
        return _read(data, self.path.name)

    def keep(self, printer: Printer) -> None:
        """Add a printer, in the place of the one of the same name and paper.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda known: (*_without(known, printer), printer))

    def remove(self, name: str, paper: Paper | None = None) -> tuple[Printer, ...]:
        """Take out what is known of a printer with a paper, or with all of them; return it.

        Raises:
            NoPrinterError: there is none.
            OSError: the system does not let us; the file is as it was.
        """
        gone = self._find(name, paper)
        self._change(lambda known: tuple(one for one in known if one not in gone))
        return gone

    def rename(self, name: str, to: str) -> None:
        """Give a printer another name, with all its papers.

        Raises:
            NoPrinterError: there is none, or another has the new name already.
            GeometryError: the new name is none.
            OSError: the system does not let us; the file is as it was.
        """
        to = to.strip()
        check_name(to)
        found = self._find(name, None)
        if to == name:
            return
        if to in self.read().names:
            raise NoPrinterError(
                tr("There is a printer “{name}” already; choose another name.", name=printable(to))
            )
        self._change(
            lambda known: tuple(replace(one, name=to) if one in found else one for one in known)
        )

    def put_back(self, printers: Iterable[Printer]) -> None:
        """Make these the printers again, whatever was changed since.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda _known: printers)

    def _find(self, name: str, paper: Paper | None) -> tuple[Printer, ...]:
        known = self.read()
        found = tuple(
            one
            for one in known.printers
            if one.name == name and (paper is None or is_same_size(one.paper, paper))
        )
        if found:
            return found
        raise NoPrinterError(no_printer(name, known))

    def _change(self, change: Callable[[tuple[Printer, ...]], Iterable[Printer]]) -> None:
        known = self.read()
        self.path.parent.mkdir(parents=True, exist_ok=True)
        if known.trouble:
            self._put_aside()
        printers = sorted(change(known.printers), key=lambda one: (one.name, one.paper.name))
        replace_file(self.path, _text(printers).encode())

    def _put_aside(self) -> None:
        """Copy the file under a name that nothing has."""
        for number in range(1, _MOST_ASIDE):
            aside = self.path.with_name(f"{self.path.stem}-unread-{number}.json")
            if not aside.exists():
                shutil.copyfile(self.path, aside)
                return


def no_printer(name: str, known: KnownPrinters) -> str:
    """Say that nobody measured such a printer, and which there are."""
    if known.trouble and not known.printers:
        return known.trouble
    if not known.printers:
        return tr("There is no printer “{name}”: none has been measured yet.", name=printable(name))
    return tr(
        "There is no printer “{name}”; those measured are {names}.",
        name=printable(name),
        names=", ".join(known.names),
    )


def _without(known: Iterable[Printer], printer: Printer) -> tuple[Printer, ...]:
    return tuple(
        one
        for one in known
        if one.name != printer.name or not is_same_size(one.paper, printer.paper)
    )


def _text(printers: Iterable[Printer]) -> str:
    rows = [
        {
            "name": printer.name,
            "paper": next((key for key, paper in PAPERS.items() if paper == printer.paper), "own"),
            "paper_mm": [printer.paper.width_mm, printer.paper.height_mm],
            "across": printer.across,
            "along": printer.along,
            "border_mm": printer.border_mm,
            "day": printer.day,
            "note": printer.note,
        }
        for printer in printers
    ]
    content = {"format": _FORMAT, "version": _VERSION, "printers": rows}
    return json.dumps(content, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _read(data: bytes, name: str) -> KnownPrinters:
    try:
        content = json.loads(data[:_LARGEST])
        rows, version = list(content["printers"]), int(content["version"])
        is_ours = content["format"] == _FORMAT
    except (ValueError, TypeError, KeyError, RecursionError):
        is_ours, rows, version = False, [], 0
    if not is_ours:
        return KnownPrinters(
            trouble=tr(
                "The measured printers cannot be read: {file} is damaged. It is put aside before "
                "another one is written.",
                file=name,
            )
        )
    if version > _VERSION:
        return KnownPrinters(
            trouble=tr(
                "The measured printers were written by a newer Raftwright: {file} is left alone. "
                "It is put aside before another one is written.",
                file=name,
            )
        )
    printers: tuple[Printer, ...] = ()
    bad = 0
    for row in rows:
        try:
            printer = _printer(row)
            printers = (*_without(printers, printer), printer)
        except (ValueError, TypeError, KeyError, OverflowError):
            bad += 1
    trouble = tr_n(
        "{n} measured printer in {file} cannot be read; the file is put aside before it changes.",
        "{n} measured printers in {file} cannot be read; the file is put aside before it changes.",
        bad,
        file=name,
    )
    return KnownPrinters(printers, trouble if bad else "")


def _printer(row: Mapping[str, Any]) -> Printer:
    width, height = (float(side) for side in row["paper_mm"])
    paper = PAPERS.get(str(row["paper"]))
    if paper is None or not is_same_size(paper, replace(paper, width_mm=width, height_mm=height)):
        paper = own_paper(width, height)
    texts = row["name"], row["day"], row["note"]
    if not all(isinstance(text, str) for text in texts):
        raise GeometryError(tr("A name is needed here."))
    return Printer(
        row["name"],
        paper,
        float(row["across"]),
        float(row["along"]),
        float(row["border_mm"]),
        row["day"],
        row["note"],
    )
