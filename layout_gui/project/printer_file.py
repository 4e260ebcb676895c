"""The printers that were measured, each with the papers it was measured with."""

import json
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, ClassVar

from geometry.drawing.paper import PAPERS, Paper, is_same_size, own_paper
from geometry.drawing.printer import Printer, check_name
from geometry.errors import GeometryError
from geometry.tongue import tr, tr_n
from layout_gui.project.faults import printable
from layout_gui.project.kept_file import KeptFile


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


class PrinterFile(KeptFile[Printer]):
    """The measured printers, each name once for each paper."""

    kind: ClassVar = "printers"

    def read(self) -> KnownPrinters:
        """Return what can be read, and why something cannot."""
        return KnownPrinters(*self._read())

    def keep(self, printer: Printer) -> None:
        """Add a printer, in the place of the one of the same name and paper.

        Raises:
            OSError: the system does not let us; the file is as it was.
        """
        self._change(lambda known: self._with(known, printer))

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

    def _build(self, row: Any) -> Printer:
        width, height = (float(side) for side in row["paper_mm"])
        paper = PAPERS.get(str(row["paper"]))
        if paper is None or not is_same_size(
            paper, replace(paper, width_mm=width, height_mm=height)
        ):
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

    def _text(self, thing: Printer) -> str:
        row = {
            "name": thing.name,
            "paper": next((key for key, paper in PAPERS.items() if paper == thing.paper), "own"),
            "paper_mm": [thing.paper.width_mm, thing.paper.height_mm],
            "across": thing.across,
            "along": thing.along,
            "border_mm": thing.border_mm,
            "day": thing.day,
            "note": thing.note,
        }
        return json.dumps(row, ensure_ascii=False, allow_nan=False)

    def _same(self, one: Printer, other: Printer) -> bool:
        return one.name == other.name and is_same_size(one.paper, other.paper)

    def _order(self, thing: Printer) -> tuple[str, str]:
        return thing.name, thing.paper.name

    def _damaged(self, file: str) -> str:
        return tr(
            "The measured printers cannot be read: {file} is damaged. It is put aside before "
            "another one is written.",
            file=file,
        )

    def _newer(self, file: str) -> str:
        return tr(
            "The measured printers were written by a newer Raftwright: {file} is left alone. "
            "It is put aside before another one is written.",
            file=file,
        )

    def _unreadable(self, number: int, file: str) -> str:
        return tr_n(
            "{n} measured printer in {file} cannot be read; the file is put aside before it "
            "changes.",
            "{n} measured printers in {file} cannot be read; the file is put aside before it "
            "changes.",
            number,
            file=file,
        )


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
